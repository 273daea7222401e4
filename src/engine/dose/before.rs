//! What is spread before planting: phosphate, then potash, then the starter nitrogen.

use super::feed::{Ready, order};
use super::weigh::{least_dose, weigh_down, weigh_under};
use super::{Dose, Purpose, brought, weighing_slip};
use crate::calendar::Date;
use crate::engine::content::phosphate_available;
use crate::engine::credit::released_share;
use crate::engine::life::Life;
use crate::engine::release;
use crate::engine::rules;
use crate::engine::setting::Setting;
use crate::engine::trifle;
use crate::figure::Figure;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{Area, Mass, Rate, Share};

/// Most nitrogen given before planting that is available within 14 days, in pounds per acre.
const QUICK_POUNDS_PER_ACRE: i64 = 90;
/// Most that a nutrient may pass its need, in pounds per acre.
const OVER_POUNDS_PER_ACRE: i64 = 10;
/// Most total nitrogen of manure in a year, in kilograms per hectare.
const MANURE_KG_PER_HA: i64 = 170;
/// Days within which nitrogen counts as quick.
pub(in crate::engine) const QUICK_DAYS: i32 = 14;

/// One planting that is fed before planting.
#[derive(Clone, Debug)]
pub struct Fed<'a> {
    /// Index within the bed.
    pub index: usize,
    /// Its life.
    pub life: &'a Life,
    /// Its area.
    pub area: &'a Figure<Area>,
    /// Nitrogen wanted at planting.
    pub starter: &'a Figure<Mass>,
    /// The most nitrogen it may get in all; nothing where there is no such limit.
    pub ceiling: Option<Mass>,
}

/// One day on which a bed is fed before planting.
#[derive(Debug)]
pub struct Event<'a> {
    /// The season's setting.
    pub setting: &'a Setting<'a>,
    /// The day.
    pub date: Date,
    /// The ground that is fed.
    pub area: Figure<Area>,
    /// The plantings that are about to be planted.
    pub plantings: Vec<Fed<'a>>,
    /// Phosphate of this ground.
    pub phosphate: Room,
    /// Potash of this ground.
    pub potash: Room,
    /// The whole needs that doses are for: one of less than 3 % of its need is dropped.
    pub needs: Npk<Mass>,
    /// Whether the soil is low or very low in phosphorus.
    pub low_in_phosphorus: bool,
    /// Total nitrogen of manure spread on the bed this season so far.
    pub manure_nitrogen: Mass,
    /// The materials listed, in order.
    pub materials: &'a [Ready],
}

/// How far a nutrient of the ground is from its need.
#[derive(Clone, Debug)]
pub struct Room {
    /// What is to be filled up now.
    pub short: Figure<Mass>,
    /// What the ground still misses, whoever fills it up; below zero where the need is passed.
    pub missing: Figure<Mass>,
}

impl Room {
    /// Counts what a dose brings.
    fn take(&mut self, brought: &Figure<Mass>, nutrient: Nutrient) {
        let word = nutrient.word();
        self.missing =
            (&self.missing - brought).called(format_args!("{word} the ground still misses"));
        if !self.short.is_zero() {
            self.short =
                (&self.short - brought).at_least_zero().called(format_args!("{word} still short"));
        }
    }
}

/// What came of one day.
#[derive(Clone, Debug)]
pub struct Spread {
    /// The doses.
    pub doses: Vec<Dose>,
    /// Starter nitrogen, phosphate and potash afterwards.
    pub room: Npk<Room>,
    /// What was left out, and why, one sentence each.
    pub notes: Vec<String>,
}

/// Feeds a bed on one day before planting with the materials listed.
pub fn spread(event: &Event<'_>) -> Spread {
    spread_with(event, event.materials)
}

/// Feeds a bed on one day before planting with these materials instead of those listed.
pub fn spread_with(event: &Event<'_>, materials: &[Ready]) -> Spread {
    let starter = starter(event);
    let mut state = Spread {
        doses: Vec::new(),
        room: Npk {
            nitrogen: Room { short: starter.clone(), missing: starter },
            phosphate: event.phosphate.clone(),
            potash: event.potash.clone(),
        },
        notes: Vec::new(),
    };
    for nutrient in [Nutrient::Phosphate, Nutrient::Potash, Nutrient::Nitrogen] {
        fill(event, materials, nutrient, &mut state);
    }
    state
}

/// The starter of the ground: over several plantings the smallest per area among them.
fn starter(event: &Event<'_>) -> Figure<Mass> {
    let rates = event.plantings.iter().filter_map(|fed| {
        let rate = fed.starter.over(fed.area)?;
        Some(rate.called("starter per area"))
    });
    let rates: Vec<Figure<Rate>> = rates.collect();
    let Some((first, rest)) = rates.split_first() else {
        return Figure::fixed("starter", Mass::ZERO, &rules::STARTER_SHARE);
    };
    if rest.is_empty() && event.plantings[0].area.value() == event.area.value() {
        return event.plantings[0].starter.clone();
    }
    let rest: Vec<&Figure<Rate>> = rest.iter().collect();
    let least = Figure::least(first, &rest).called("smallest starter per area");
    (&least * &event.area).by("starter", &rules::BEFORE_PLANTING)
}

fn fill(event: &Event<'_>, materials: &[Ready], nutrient: Nutrient, state: &mut Spread) {
    let mut tried: Vec<String> = Vec::new();
    let mut held_back = false;
    while state.room[nutrient].short.value() > Mass::ZERO {
        let short = Npk::from_fn(|one| state.room[one].short.value() > Mass::ZERO);
        let mut candidates: Vec<&Ready> = order(materials, nutrient, &short);
        candidates.retain(|ready| {
            let name = ready.name();
            !tried.iter().any(|one| one == name)
                && !state.doses.iter().any(|dose| dose.ready.name() == name)
        });
        if held_back {
            candidates.sort_by_key(|ready| ready.carries(Nutrient::Nitrogen));
        }
        let Some(ready) = candidates.first().copied() else { break };
        tried.push(ready.name().to_owned());
        held_back |= !dose(event, nutrient, ready, state);
    }
    let left = &state.room[nutrient].short;
    let worth_telling = left.value() > trifle::of(event.needs[nutrient])
        && left.value() > weighing_slip(&state.doses, nutrient, event.setting.units);
    if worth_telling && nutrient != Nutrient::Nitrogen && !tried.is_empty() {
        state.notes.push(format!(
            "{} stays short: more of what is listed would bring too much of something else",
            nutrient.word()
        ));
    }
}

/// Doses one material for a nutrient; tells whether it met all that was short.
fn dose(event: &Event<'_>, nutrient: Nutrient, ready: &Ready, state: &mut Spread) -> bool {
    let counted = effective(event, ready, nutrient);
    let Some(wanted) = state.room[nutrient].short.over(&counted) else { return false };
    let wanted = wanted.by("weight wanted", &rules::DOSE_WEIGHT);
    let limits = limits(event, nutrient, ready, state);
    let least = limits.iter().min_by_key(|(_, limit)| limit.value());
    let limit = least.map(|(_, limit)| limit);
    let allowed = match limit {
        Some(limit) if limit.value() < wanted.value() => {
            let all: Vec<&Figure<Mass>> = limits.iter().map(|(_, limit)| limit).collect();
            Figure::least(&wanted, &all).by("weight allowed", &rules::BEFORE_PLANTING)
        }
        _ => wanted.clone(),
    };
    let units = event.setting.units;
    let mut weight = match limit {
        Some(limit) => weigh_under(&allowed, limit, units),
        None => super::weigh(&allowed, units),
    };
    if passes_ceiling(event, ready, weight.value(), &state.doses) {
        weight = weigh_down(&allowed, units);
    }
    let met = limit.is_none_or(|limit| limit.value() >= wanted.value());
    let brings_counted = weight.value() * counted.value();
    let too_small = weight.value() < least_dose(event.setting.units)
        || brings_counted < trifle::of(event.needs[nutrient]);
    if too_small {
        if met {
            state.notes.push(format!(
                "{} for {} would be too little to weigh and is left out",
                ready.name(),
                nutrient.word()
            ));
        } else if nutrient == Nutrient::Nitrogen
            && let Some((of, _)) = least
        {
            state.notes.push(format!(
                "{} before planting is left out: it would bring too much {of}",
                ready.name()
            ));
        }
        return false;
    }
    let dose = make(event, ready, weight, met);
    for one in Nutrient::ALL {
        let counted = effective(event, ready, one);
        if counted.is_zero() {
            continue;
        }
        let brought =
            (&dose.weight * &counted).called(format_args!("{} that counts", one.formula()));
        state.room[one].take(&brought, one);
    }
    state.doses.push(dose);
    met
}

/// Whether a weight, with the doses before it, brings a planting more than it may get in all.
fn passes_ceiling(event: &Event<'_>, ready: &Ready, weight: Mass, earlier: &[Dose]) -> bool {
    event.plantings.iter().any(|fed| {
        let Some(ceiling) = fed.ceiling else { return false };
        let part = fed.area.ratio_to(&event.area).map_or(Share::WHOLE, |part| part.value());
        let share = ready.content.shares.nitrogen.value() * part;
        let counts = weight * share * release_in_life(event, ready, fed).value();
        let counted = earlier.iter().flat_map(|dose| &dose.counts).filter(|one| one.0 == fed.index);
        counted.map(|(_, figure)| figure.value()).sum::<Mass>() + counts > ceiling
    })
}

/// The share of a material that counts towards a need: phosphate by its availability, nitrogen by
/// its release in the life of the crops about to be planted (the largest among them).
fn effective(event: &Event<'_>, ready: &Ready, nutrient: Nutrient) -> Figure<Share> {
    let share = &ready.content.shares[nutrient];
    match nutrient {
        Nutrient::Potash => share.clone(),
        Nutrient::Phosphate => match phosphate_available(&ready.stuff, event.low_in_phosphorus) {
            Some(available) => {
                (share * &available).by("P2O5 that counts", &rules::AVAILABLE_PHOSPHATE)
            }
            None => share.clone(),
        },
        Nutrient::Nitrogen => {
            let most = event
                .plantings
                .iter()
                .map(|fed| release_in_life(event, ready, fed))
                .max_by_key(Figure::value);
            match most {
                Some(released) => (share * &released).by("N that counts", &rules::RELEASE),
                None => Figure::fixed("N that counts", Share::ZERO, &rules::RELEASE),
            }
        }
    }
}

fn release_in_life(event: &Event<'_>, ready: &Ready, fed: &Fed<'_>) -> Figure<Share> {
    let climate = &event.setting.climate;
    let first = release::counted_from(climate, event.date, fed.life.planted, fed.life.end) - 1;
    released_share(
        event.setting,
        &ready.content,
        &ready.content.release.typical,
        event.date,
        first,
        fed.life.end,
    )
}

/// The largest weights that each limit allows, with what there would be too much of.
fn limits(
    event: &Event<'_>,
    nutrient: Nutrient,
    ready: &Ready,
    state: &Spread,
) -> Vec<(&'static str, Figure<Mass>)> {
    let mut limits = Vec::new();
    let mut add = |of: &'static str, limit: Option<Figure<Mass>>| {
        limits.extend(limit.map(|limit| (of, limit.called(format_args!("limit by {of}")))));
    };
    let rate = |label: &'static str, rate: Rate| {
        (&Figure::fixed(label, rate, &rules::BEFORE_PLANTING) * &event.area).called(label)
    };
    let over = rate("most over the need", Rate::from_lb_per_acre(OVER_POUNDS_PER_ACRE.into()));
    for other in [Nutrient::Phosphate, Nutrient::Potash] {
        if other == nutrient || !ready.carries(other) {
            continue;
        }
        let room = (&state.room[other].missing + &over)
            .at_least_zero()
            .called(format_args!("room for {}", other.word()));
        let limit = room.over(&effective(event, ready, other));
        add(other.word(), limit);
    }
    if !ready.carries(Nutrient::Nitrogen) {
        return limits;
    }
    if nutrient != Nutrient::Nitrogen {
        let limit = state.room.nitrogen.short.over(&effective(event, ready, Nutrient::Nitrogen));
        add("starter nitrogen", limit);
    }
    let climate_end = event.date + QUICK_DAYS;
    let typical = &ready.content.release.typical;
    let quick = released_share(
        event.setting,
        &ready.content,
        typical,
        event.date,
        event.date - 1,
        climate_end,
    );
    let quick = (&ready.content.shares.nitrogen * &quick).called("N available in two weeks");
    let given: Mass = state.doses.iter().map(|dose| quick_nitrogen(event, dose)).sum();
    let most = rate("most quick nitrogen", Rate::from_lb_per_acre(QUICK_POUNDS_PER_ACRE.into()));
    let room = (&most - &Figure::fixed("quick nitrogen given", given, &rules::BEFORE_PLANTING))
        .at_least_zero();
    add("quick nitrogen", room.over(&quick));
    if ready.stuff.material.kind.is_manure() {
        let most =
            rate("most manure nitrogen in a year", Rate::from_kg_per_ha(MANURE_KG_PER_HA.into()));
        let spread: Mass = event.manure_nitrogen
            + state
                .doses
                .iter()
                .filter(|dose| dose.ready.stuff.material.kind.is_manure())
                .map(|dose| dose.brings.nitrogen.value())
                .sum::<Mass>();
        let room = (&most
            - &Figure::fixed("manure nitrogen spread", spread, &rules::BEFORE_PLANTING))
            .at_least_zero();
        add("manure nitrogen", room.over(&ready.content.shares.nitrogen));
    }
    limits
}

fn quick_nitrogen(event: &Event<'_>, dose: &Dose) -> Mass {
    let typical = &dose.ready.content.release.typical;
    let share = released_share(
        event.setting,
        &dose.ready.content,
        typical,
        dose.date,
        dose.date - 1,
        dose.date + QUICK_DAYS,
    );
    dose.brings.nitrogen.value() * share.value()
}

fn make(event: &Event<'_>, ready: &Ready, weight: Figure<Mass>, met: bool) -> Dose {
    let brings = brought(&weight, &ready.content.shares);
    let counts = event
        .plantings
        .iter()
        .filter(|_| ready.carries(Nutrient::Nitrogen))
        .map(|fed| {
            let share = release_in_life(event, ready, fed);
            let whole = brings.nitrogen.clone();
            let here = match fed.area.ratio_to(&event.area) {
                Some(part) if fed.area.value() != event.area.value() => {
                    (&whole * &part.called("share of the ground")).called("N on its ground")
                }
                _ => whole,
            };
            (fed.index, (&here * &share).by("nitrogen that counts", &rules::RELEASE))
        })
        .collect();
    Dose {
        date: event.date,
        purpose: Purpose::BeforePlanting,
        planting: None,
        ready: ready.clone(),
        area: event.area.clone(),
        weight,
        brings,
        counts,
        measure: None,
        at_cap: !met,
    }
}
