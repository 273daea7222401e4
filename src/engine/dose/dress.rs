//! Side-dressings at the published weeks.

use rust_decimal::Decimal;

use super::before::QUICK_DAYS;
use super::cap;
use super::caps::Caps;
use super::enough::enough;
use super::feed::{Ready, order};
use super::timing::{self, last_useful};
use super::weigh::{weigh_down, weigh_under};
use super::{Dose, Purpose, brought};
use crate::calendar::Date;
use crate::engine::credit::released_share;
use crate::engine::life::Life;
use crate::engine::rules;
use crate::engine::setting::Setting;
use crate::figure::{Figure, Rule};
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{
    Area, Concentration, Mass, Positive, Share, Volume, share_from_float, to_float,
};
use crate::season::Planting;

/// A solved dose of less than this share of all that is side-dressed is not worth a visit
/// (proposed).
const LEAST_SHARE_OF_A_DOSE: f64 = 0.1;

/// A planting that is side-dressed.
#[derive(Clone, Debug)]
pub struct Dressed<'a> {
    /// The season's setting.
    pub setting: &'a Setting<'a>,
    /// Index within the bed.
    pub index: usize,
    /// The planting.
    pub planting: &'a Planting,
    /// Its life.
    pub life: &'a Life,
    /// Its area.
    pub area: &'a Figure<Area>,
    /// Nitrogen still planned.
    pub nitrogen: Figure<Mass>,
    /// The most that side-dressings may bring, where the ceiling is near.
    pub ceiling: Option<Figure<Mass>>,
    /// The days.
    pub days: Vec<Date>,
    /// The first day on which one may be added, where equal ones on those days would pass their cap.
    pub first: Date,
    /// The materials listed.
    pub materials: &'a [Ready],
    /// Whether phosphate and potash are still short on the bed.
    pub short: Npk<bool>,
    /// The soil nitrate below which they are given, where they wait for a measurement.
    pub measure: Option<Figure<Concentration>>,
    /// Mix in the containers, where it grows in containers.
    pub mix: Option<Figure<Volume>>,
}

/// What came of it.
#[derive(Clone, Debug)]
pub struct Dressings {
    /// The doses.
    pub doses: Vec<Dose>,
    /// Nitrogen that cannot be given safely.
    pub not_given: Figure<Mass>,
    /// What was left out, and why.
    pub notes: Vec<String>,
}

impl Dressings {
    /// No dose: all that was wanted stays open.
    pub fn nothing(wanted: &Figure<Mass>) -> Self {
        Self { doses: Vec::new(), not_given: wanted.clone(), notes: Vec::new() }
    }
}

/// The material a planting is side-dressed with: the first that carries nitrogen and brings nothing
/// that is not short, else the first that carries nitrogen.
pub fn material<'a>(list: &'a [Ready], short: &Npk<bool>) -> Option<&'a Ready> {
    order(list, Nutrient::Nitrogen, short).first().copied()
}

/// Splits the nitrogen still planned into equal doses; adds dressings where one passes its cap.
pub fn by_weeks(dressed: &Dressed<'_>) -> Dressings {
    let ready = material(dressed.materials, &dressed.short);
    let Some(ready) = ready.filter(|_| dressed.nitrogen.value() > Mass::ZERO) else {
        return Dressings::nothing(&dressed.nitrogen);
    };
    if dressed.days.is_empty() {
        return Dressings::nothing(&dressed.nitrogen);
    }
    let days = enough_days(dressed, ready);
    give(dressed, ready, &days)
}

/// The days of equal dressings: containers keep to theirs, elsewhere more are added while one passes
/// its cap; beside seedlings, which take little, only where the days after do not hold it all.
fn enough_days(dressed: &Dressed<'_>, ready: &Ready) -> Vec<Date> {
    if dressed.mix.is_some() {
        return dressed.days.clone();
    }
    let (wanted, last) = (dressed.nitrogen.value(), last_day(dressed));
    let most = |day| cap(dressed, ready, day).map_or(Mass::ZERO, |cap| cap.nitrogen.value());
    let within = |first: Date| enough(&dressed.days, wanted, &(first..=last), most);
    let grown = dressed.first.max(cap::grown(dressed.planting, dressed.life.planted));
    let days = within(grown);
    let holds = days.iter().map(|day| most(*day)).sum::<Mass>() >= wanted;
    if holds || grown == dressed.first { days } else { within(dressed.first) }
}

/// One of so many equal dressings; `rule` says how many there are.
fn equal_part(nitrogen: &Figure<Mass>, count: usize, rule: &'static Rule) -> Figure<Mass> {
    if count <= 1 {
        return nitrogen.clone().by("nitrogen for this dressing", &rules::SIDE_DRESSING);
    }
    let count = Share::from_fraction(Decimal::from(count));
    let count = Figure::fixed("dressings", count, rule);
    let part = nitrogen.over(&count).unwrap_or_else(|| nitrogen.clone());
    part.by("nitrogen for this dressing", &rules::SIDE_DRESSING)
}

/// The most one dressing may be.
#[derive(Clone, Debug)]
pub struct Cap {
    /// As a weight of material.
    pub weight: Figure<Mass>,
    /// As nitrogen of it that counts by harvest.
    pub nitrogen: Figure<Mass>,
}

/// The share of a material's nitrogen that counts by the (last) harvest, dressed on a day.
pub fn share_by_harvest(dressed: &Dressed<'_>, ready: &Ready, day: Date) -> Figure<Share> {
    released_share(
        dressed.setting,
        &ready.content,
        &ready.content.release.typical,
        day,
        day - 1,
        dressed.life.end,
    )
}

/// The cap of a dressing on a day; nothing where the material gives no nitrogen by harvest.
pub fn cap(dressed: &Dressed<'_>, ready: &Ready, day: Date) -> Option<Cap> {
    let content = &ready.content.shares.nitrogen;
    let counted = share_by_harvest(dressed, ready, day);
    let counts = (content * &counted).called("N that counts by harvest");
    let weight = if let Some(mix) = &dressed.mix {
        let gram_per_gallon = Positive::new(Volume::from_gal(Decimal::ONE))
            .map(|gallon| Mass::from_g(Decimal::ONE) / gallon)?;
        let most =
            Figure::fixed("most nitrogen in the mix", gram_per_gallon, &rules::CONTAINER_NEED);
        (&most * mix).called("most nitrogen at once").over(content)?
    } else {
        let typical = &ready.content.release.typical;
        let quick = released_share(
            dressed.setting,
            &ready.content,
            typical,
            day,
            day - 1,
            day + QUICK_DAYS,
        );
        let by = if quick.value() > Share::ZERO { &quick } else { &counted };
        let per_weight = (content * by).called("N available in two weeks");
        cap_nitrogen(dressed, day).over(&per_weight)?
    };
    let weight = weight.by("most at once", &rules::DOSE_CAP);
    let nitrogen = (&weight * &counts).called("nitrogen of the most at once");
    (counts.value() > Share::ZERO).then_some(Cap { weight, nitrogen })
}

fn cap_nitrogen(dressed: &Dressed<'_>, day: Date) -> Figure<Mass> {
    let rate = cap::figure(dressed.planting, dressed.life.planted, day);
    (&rate * dressed.area).by("most quick nitrogen at once", &rules::DOSE_CAP)
}

/// What a dressing is to bring: an equal part; where the caps of some days are less than that, the
/// others share what these leave.
fn each_part(dressed: &Dressed<'_>, ready: &Ready, days: &[Date]) -> Figure<Mass> {
    let added = days.iter().any(|day| !dressed.days.contains(day));
    let rule = if added { &rules::ADDED_DRESSINGS } else { &rules::SIDE_DRESSING };
    let mut each = equal_part(&dressed.nitrogen, days.len(), rule);
    if dressed.mix.is_some() {
        return each;
    }
    let caps = days.iter().filter_map(|day| Some(cap(dressed, ready, *day)?.nitrogen));
    let mut caps: Vec<Figure<Mass>> = caps.collect();
    caps.sort_by_key(Figure::value);
    for held in 1..caps.len() {
        if each.value() <= caps[held - 1].value() {
            break;
        }
        let at_cap = Figure::total(&caps[..held]).called("given by those held to their cap");
        let rest = (&dressed.nitrogen - &at_cap).by("left for the others", &rules::DOSE_CAP);
        each = equal_part(&rest, caps.len() - held, rule);
    }
    each
}

fn give(dressed: &Dressed<'_>, ready: &Ready, days: &[Date]) -> Dressings {
    let each = each_part(dressed, ready, days);
    let mut left_out: Vec<Date> = dressed.days.clone();
    left_out.retain(|day| !days.contains(day));
    let mut out =
        Dressings { doses: Vec::new(), not_given: dressed.nitrogen.clone(), notes: Vec::new() };
    for day in days {
        match dose_of(dressed, ready, *day, &each, &out.doses) {
            Some(dose) => out.doses.push(dose),
            None => left_out.push(*day),
        }
    }
    out.notes.extend(left_out.iter().map(|day| {
        format!(
            "the dressing of {} would be too little to weigh, or would not act in time, and is left out",
            day.short()
        )
    }));
    finish(dressed, &mut out);
    out
}

/// Tells what the doses leave of what was planned.
fn finish(dressed: &Dressed<'_>, out: &mut Dressings) {
    let given: Vec<&Figure<Mass>> =
        out.doses.iter().flat_map(|dose| dose.counts.iter().map(|(_, figure)| figure)).collect();
    let given = Figure::total(given).called("given by the dressings");
    let short = (&dressed.nitrogen - &given).at_least_zero();
    out.not_given = short.by("not given", &rules::SIDE_DRESSING);
}

/// One dressing of so much nitrogen on a day: weighed, under its cap, and less where the sum with the
/// dressings before it would pass the ceiling.
pub fn dose_of(
    dressed: &Dressed<'_>,
    ready: &Ready,
    day: Date,
    nitrogen: &Figure<Mass>,
    earlier: &[Dose],
) -> Option<Dose> {
    let cap = cap(dressed, ready, day)?;
    let counted = share_by_harvest(dressed, ready, day);
    let counts = (&ready.content.shares.nitrogen * &counted).called("N that counts by harvest");
    let wanted = nitrogen.over(&counts)?.by("weight wanted", &rules::DOSE_WEIGHT);
    let units = dressed.setting.units;
    let mut weight = weigh_under(&wanted, &cap.weight, units);
    let at_cap = wanted.value() >= cap.weight.value();
    if let Some(ceiling) = &dressed.ceiling {
        let before = earlier.iter().flat_map(|dose| dose.counts.iter().map(|(_, counts)| counts));
        let before = Figure::total(before).called("given by the dressings before");
        let room = (ceiling - &before).at_least_zero().called("room under the ceiling");
        if weight.value() * counts.value() > room.value() {
            let most = room.over(&counts)?.called("most under the ceiling");
            let least = Figure::least(&wanted, &[&cap.weight, &most]).called("weight allowed");
            weight = weigh_down(&least, units);
        }
    }
    if weight.is_zero() {
        return None;
    }
    let brings = brought(&weight, &ready.content.shares);
    let figure = (&weight * &counts).by("nitrogen that counts", &rules::RELEASE);
    Some(Dose {
        date: day,
        purpose: Purpose::SideDress,
        planting: Some(dressed.index),
        ready: ready.clone(),
        area: dressed.area.clone(),
        weight,
        brings,
        counts: vec![(dressed.index, figure)],
        measure: dressed.measure.clone(),
        at_cap,
    })
}

/// Doses of so much total nitrogen (kilograms) on each day, as solved for the whole garden. What
/// would be too little to be worth a dose joins the visit before, under its cap, else the next.
pub fn by_schedule(dressed: &Dressed<'_>, ready: &Ready, turns: &[(Date, f64)]) -> Dressings {
    let mut out =
        Dressings { doses: Vec::new(), not_given: dressed.nitrogen.clone(), notes: Vec::new() };
    let turns = worth_a_dose(dressed, ready, turns);
    let whole = to_float(dressed.nitrogen.value().kg());
    for (day, counts) in &turns {
        let share = if whole > 0.0 { counts / whole } else { 0.0 };
        let share = Share::from_fraction(share_from_float(share));
        let part = Figure::fixed("share of it for this visit, as solved", share, &rules::SOLVED);
        let nitrogen = (&dressed.nitrogen * &part).by("nitrogen for this dressing", &rules::SOLVED);
        out.doses.extend(dose_of(dressed, ready, *day, &nitrogen, &out.doses));
    }
    finish(dressed, &mut out);
    out
}

/// The solved doses as nitrogen that counts by harvest, the trifling ones joined to a neighbour.
fn worth_a_dose(dressed: &Dressed<'_>, ready: &Ready, turns: &[(Date, f64)]) -> Vec<(Date, f64)> {
    let counts = |day: Date| to_float(share_by_harvest(dressed, ready, day).value().fraction());
    let content = to_float(ready.content.shares.nitrogen.value().fraction());
    let least = to_float(super::least_dose(dressed.setting.units).kg());
    let tenth = to_float(dressed.nitrogen.value().kg()) * LEAST_SHARE_OF_A_DOSE;
    let caps = Caps::of(dressed, ready);
    let room = |day: Date| caps.weighed(day) * content * counts(day);
    let mut out: Vec<(Date, f64)> = Vec::new();
    let mut carried = 0.0;
    for (day, total) in turns {
        let amount = total * counts(*day) + carried;
        carried = 0.0;
        let weight = amount / (content * counts(*day)).max(f64::MIN_POSITIVE);
        if amount > tenth && weight > least {
            out.push((*day, amount));
            continue;
        }
        match out.last_mut() {
            Some((before, given)) if *given + amount <= room(*before) => *given += amount,
            _ => carried = amount,
        }
    }
    // Quick enough for an early need, a slow material would in the end give more than is planned:
    // the later doses give way.
    let mut left = to_float(dressed.nitrogen.value().kg());
    for (_, given) in &mut out {
        *given = given.min(left);
        left -= *given;
    }
    out.retain(|(_, given)| *given > 0.0);
    let carried = carried.min(left);
    if carried > 0.0 {
        match (out.last_mut(), turns.last()) {
            (Some((_, given)), _) => *given += carried,
            (None, Some((day, _))) => out.push((*day, carried)),
            (None, None) => {}
        }
    }
    out
}

/// The last day on which nitrogen is of use to a planting.
pub fn last_day(dressed: &Dressed<'_>) -> Date {
    last_useful(&dressed.planting.crop.value, dressed.life)
}

/// The days a planting is dressed on by the published weeks.
pub fn days(
    setting: &Setting<'_>,
    planting: &Planting,
    life: &Life,
    texture: crate::season::Texture,
    container: bool,
) -> Vec<Date> {
    let crop = &planting.crop.value;
    if container {
        timing::container_dressings(crop, life, setting.visit_day())
    } else {
        timing::side_dressings(crop, life, texture, setting.visit_day())
    }
}
