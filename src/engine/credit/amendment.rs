//! What is spread on the bed this season.

use rust_decimal::Decimal;

use super::{Credit, CreditKind, Plot, Releasing, Shape};
use crate::calendar::Date;
use crate::engine::content::{Content, Handling, weight};
use crate::engine::release::{self, Release};
use crate::engine::rules;
use crate::engine::setting::{Setting, date_step};
use crate::figure::{Figure, Origin, Place, Step};
use crate::nutrient::Nutrient;
use crate::quantity::{
    Amount, Area, Kind, Mass, Quantity, Rate, Share, constant_from_float, share_from_float,
    to_float,
};
use crate::record::Applied;
use crate::season::{Amendment, Bed, Placed, Said, Stuff, slug};

/// One thing spread on a bed this season, weighed and read once.
#[derive(Clone, Debug)]
pub struct BedAmendment {
    /// Name in paths, unique within the bed.
    pub slug: String,
    /// What a grower calls it.
    pub label: String,
    /// When.
    pub on: Date,
    /// Where it lies.
    pub placed: Option<Placed>,
    /// Its weight on the whole bed; nothing where a volume has no density.
    pub weight: Option<Figure<Mass>>,
    /// What it holds.
    pub content: Content,
    /// Phosphate and potash on the whole bed are reckoned from these.
    pub stuff: Stuff,
    /// The one planting it was given to, by index within the bed; nothing for the whole bed.
    pub planting: Option<usize>,
    /// Whether it was written down as done; else it is said in the season file.
    pub recorded: bool,
}

/// Weighs and reads what was written down as spread, on the whole bed or beside one planting, in the
/// season of a year.
pub fn recorded(
    applied: &Applied,
    bed: &Figure<Area>,
    plantings: &[Figure<Area>],
    year: i16,
) -> BedAmendment {
    let ground = applied.planting.and_then(|at| plantings.get(at)).unwrap_or(bed);
    let said = Said::new(applied.amount, Place::default());
    let handling = Handling { placed: applied.placed, worked_in: None };
    let weight = weight(&applied.stuff, said, ground)
        .map(|weight| Figure::recorded("weight spread", weight.value(), applied.line));
    let label = format!("{} of {}", applied.stuff.material.name, applied.on.within(year));
    BedAmendment {
        slug: format!("{}-{}", slug(&applied.stuff.material.name), applied.on),
        label,
        on: applied.on,
        placed: applied.placed,
        weight,
        content: Content::of(&applied.stuff, handling),
        stuff: applied.stuff.clone(),
        planting: applied.planting,
        recorded: true,
    }
}

/// Weighs and reads all that is spread on a bed this season.
pub fn bed_amendments(bed: &Bed, area: &Figure<Area>) -> Vec<BedAmendment> {
    let mut out: Vec<BedAmendment> = Vec::new();
    for amendment in &bed.amendments {
        let read = read(amendment, area);
        let same = out.iter().filter(|one| one.label == read.label).count();
        let slug = if same > 0 { format!("{}-{}", read.slug, same + 1) } else { read.slug.clone() };
        out.push(BedAmendment { slug, ..read });
    }
    out
}

fn read(amendment: &Amendment, area: &Figure<Area>) -> BedAmendment {
    let handling = Handling {
        placed: amendment.placed.map(|placed| placed.value),
        worked_in: amendment.worked_in.map(|worked_in| worked_in.value),
    };
    let label = amendment.stuff.material.name.clone();
    BedAmendment {
        slug: slug(&label),
        label,
        on: amendment.on.value,
        placed: handling.placed,
        weight: weight(&amendment.stuff, amendment.amount, area),
        content: Content::of(&amendment.stuff, handling),
        stuff: amendment.stuff.clone(),
        planting: None,
        recorded: false,
    }
}

/// The share of a material's nitrogen that is spread as ammonium.
pub(super) fn ammonium(stuff: &Stuff) -> f64 {
    to_float(stuff.material.ammonium_share.map_or(Decimal::ZERO, Share::fraction))
}

/// Nitrogen in a weight of material.
pub fn nitrogen_content(weight: &Figure<Mass>, content: &Content) -> Figure<Mass> {
    (weight * &content.shares.nitrogen).by("nitrogen in it", &rules::CONTENT)
}

/// The share of a material's nitrogen that comes free after one day up to and with another, where
/// it was spread on `on`.
pub fn released_share(
    setting: &Setting<'_>,
    content: &Content,
    release: &Release,
    on: Date,
    after: Date,
    to: Date,
) -> Figure<Share> {
    if release.at_once() {
        let share = if after < on && on <= to { Share::WHOLE } else { Share::ZERO };
        return Figure::fixed("counts at once", share, &rules::RELEASE);
    }
    // Release stands still in winter, so the days that run are not plain calendar days.
    let run = release::Run::from(&setting.climate, on);
    let ran = |day: Date| {
        if day < on {
            Decimal::NEGATIVE_ONE
        } else {
            share_from_float(run.days(&setting.climate, day))
        }
    };
    let (before, by_then) = (ran(after), ran(to));
    let share = share_released(before, by_then, release);
    let time = |label: &'static str, day: Date, days: Decimal| {
        if day < on {
            return Step::leaf(label, Amount::count(-1), Origin::Calendar, None);
        }
        let amount = Amount { kind: Kind::Count, base: days };
        let whole = setting.thermal_step(on, day);
        if whole.amount == amount {
            whole
        } else {
            Step::leaf(label, amount, Origin::Calendar, Some(&rules::THERMAL_TIME))
        }
    };
    let operands = || {
        let mut operands = vec![
            date_step("spread on", on),
            time("soil time before it counts", after, before),
            time("soil time by then", to, by_then),
        ];
        let made_of = [
            ("mineral share", release.mineral),
            ("quick pool", release.fast),
            ("its rate a day", release.fast_rate),
            ("slow pool", release.slow),
            ("its rate a day", release.slow_rate),
        ];
        operands.extend(made_of.map(|(label, number)| {
            let amount = Amount { kind: Kind::Count, base: constant_from_float(number) };
            Step::leaf(label, amount, Origin::Fixed, Some(&rules::RELEASE))
        }));
        // The share that the pools were scaled to is shown with them: it is where they come from.
        operands.extend(content.first_season.as_ref().map(Figure::step));
        operands
    };
    Figure::computed("share that comes free", &rules::RELEASE, share, operands, |of| {
        let [mineral, fast, fast_rate, slow, slow_rate] =
            std::array::from_fn(|at| to_float(of[3 + at].base));
        let release = Release { mineral, fast, fast_rate, slow, slow_rate };
        share_released(of[1].base, of[2].base, &release).amount()
    })
}

/// The share that comes free between two counts of thermal days; below zero stands for before it was
/// spread.
fn share_released(before: Decimal, by_then: Decimal, release: &Release) -> Share {
    let by = |days: Decimal| if days < Decimal::ZERO { 0.0 } else { release.after(to_float(days)) };
    Share::from_fraction(share_from_float(by(by_then) - by(before)))
}

/// The credits of all amendments; only those spread after a day, where one is given.
pub(super) fn credits(plot: &Plot<'_>, only_after: Option<Date>) -> Vec<Credit> {
    let counted = plot.amendments.iter().filter(|one| {
        (one.recorded || only_after.is_none_or(|day| one.on > day))
            && one.planting.is_none_or(|at| at == plot.index)
    });
    counted.filter_map(|amendment| credit(plot, amendment)).collect()
}

fn credit(plot: &Plot<'_>, amendment: &BedAmendment) -> Option<Credit> {
    if amendment.on > plot.life.end || !amendment.content.carries(Nutrient::Nitrogen) {
        return None;
    }
    let all = nitrogen_content(amendment.weight.as_ref()?, &amendment.content);
    let range = amendment.content.release;
    let mut releasing: Vec<Releasing> = Vec::new();
    let parts: Vec<(Figure<Mass>, Mass, Mass)> = plot
        .portions()
        .into_iter()
        .map(|(ground, freed)| {
            let here = ground_share(plot, amendment, ground);
            let nitrogen = (&all * &here).called("nitrogen on its ground");
            let share = |release: &Release| {
                counted_share(plot, &amendment.content, release, amendment.on, freed)
            };
            let end = |release: &Release| nitrogen.value() * share(release).value();
            let (low, high) = (end(&range.low), end(&range.high));
            releasing.push(Releasing {
                release: range.typical,
                on: amendment.on,
                after: counts_after(plot, amendment.on, freed),
                nitrogen: nitrogen.value(),
                ammonium: ammonium(&amendment.stuff),
            });
            (
                (&nitrogen * &share(&range.typical)).called("comes free for it"),
                low.at_most(high),
                high.at_least(low),
            )
        })
        .collect();
    let (low, high) =
        parts.iter().fold((Mass::ZERO, Mass::ZERO), |(a, b), (_, low, high)| (a + *low, b + *high));
    let total = match parts.as_slice() {
        [] => return None,
        [(one, ..)] => one.clone(),
        several => Figure::total(several.iter().map(|(one, ..)| one)),
    };
    let nitrogen = total.by(amendment.label.clone(), &rules::RELEASE);
    if nitrogen.is_zero() && high <= Mass::ZERO && low >= Mass::ZERO {
        return None;
    }
    let nitrogen = bounded_debt(plot, amendment, nitrogen, low, high);
    Some(Credit {
        slug: amendment.slug.clone(),
        recorded: amendment.recorded.then_some(amendment.on),
        ..Credit::new(
            CreditKind::Amendment,
            amendment.label.clone(),
            nitrogen,
            Shape::Releasing(releasing),
        )
    })
}

fn ground_share(plot: &Plot<'_>, amendment: &BedAmendment, ground: Area) -> Figure<Share> {
    if amendment.planting.is_some() {
        let part = Figure::fixed("its ground", ground, &rules::PLANTING_AREA);
        let whole = part.ratio_to(&plot.area);
        return whole
            .map_or_else(|| plot.part_of_bed(), |share| share.called("share of its ground"));
    }
    if ground == plot.area.value() {
        return plot.part_of_bed();
    }
    let ground = Figure::fixed("ground", ground, &rules::PLANTING_AREA);
    ground
        .ratio_to(plot.bed_area)
        .map_or_else(|| plot.part_of_bed(), |share| share.called("share of the bed"))
}

/// The share that counts for a planting: from 30 days before planting, not before its ground was
/// free, and not before a nitrate test.
fn counted_share(
    plot: &Plot<'_>,
    content: &Content,
    release: &Release,
    on: Date,
    freed: Option<Date>,
) -> Figure<Share> {
    let after = counts_after(plot, on, freed);
    released_share(plot.setting, content, release, on, after, plot.life.end)
}

/// The last day whose release does not count.
fn counts_after(plot: &Plot<'_>, on: Date, freed: Option<Date>) -> Date {
    let life = &plot.life;
    let first = release::counted_from(&plot.setting.climate, on, life.planted, life.end) - 1;
    [freed, plot.reset()].into_iter().flatten().fold(first, Date::max)
}

/// What ties nitrogen up costs nothing on the surface, and at most 50 kg per hectare mixed in.
fn bounded_debt(
    plot: &Plot<'_>,
    amendment: &BedAmendment,
    nitrogen: Figure<Mass>,
    low: Mass,
    high: Mass,
) -> Figure<Mass> {
    if low >= Mass::ZERO {
        return nitrogen.between(low, high);
    }
    let least = if amendment.placed == Some(Placed::Surface) {
        Mass::ZERO
    } else {
        Mass::ZERO - Rate::from_kg_per_ha(Decimal::from(50)) * plot.area.value()
    };
    let (low, high) = (low.at_least(least), high.at_least(least));
    if nitrogen.value() >= least {
        return nitrogen.between(low, high);
    }
    let floor = Figure::fixed("most tied up", least, &rules::TIE_UP);
    Figure::greatest(&nitrogen, &[&floor])
        .by(amendment.label.clone(), &rules::TIE_UP)
        .between(low, high)
}
