//! Every sensible way to feed a bed before planting, where the materials are to be chosen.

use rust_decimal::Decimal;

use super::before::{Event, Spread, spread_with};
use super::feed::Ready;
use super::weighing_slip;
use crate::engine::trifle;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{Mass, Money, Positive, Quantity};
use crate::season::Season;

/// Materials looked at for each nutrient: more in a small garden.
const MOST_CARRIERS: usize = 6;
/// The same where there are more beds than the next figure.
const MOST_CARRIERS_IN_A_LARGE_GARDEN: usize = 3;
/// Beds from which a garden is large.
const LARGE_GARDEN: usize = 300;

/// A list of materials, as indices into those to choose from, and what comes of it.
#[derive(Clone, Debug)]
pub struct Recipe {
    /// The materials, in the order they are reached for.
    pub materials: Vec<usize>,
    /// The doses.
    pub spread: Spread,
    /// What of the starter nitrogen stays short, as a share.
    pub lacking: Decimal,
    /// Phosphate and potash that stay short. Less than is worth a dose, or than a scale can tell, is
    /// nothing.
    pub left: Npk<Mass>,
}

/// Tries one material for each nutrient that is short, in every combination; and one more beside
/// them where they leave something short. Only what `suits` is looked at.
pub fn recipes(event: &Event<'_>, all: &[Ready], suits: &dyn Fn(&Ready) -> bool) -> Vec<Recipe> {
    let wanted = spread_with(event, &[]).room;
    let order = [Nutrient::Phosphate, Nutrient::Potash, Nutrient::Nitrogen];
    let carriers = order.map(|nutrient| match wanted[nutrient].short.value() > Mass::ZERO {
        true => carriers(event, all, suits, nutrient),
        false => Vec::new(),
    });
    let either = |found: &Vec<usize>| -> Vec<Option<usize>> {
        if found.is_empty() { vec![None] } else { found.iter().copied().map(Some).collect() }
    };
    let mut lists: Vec<Vec<usize>> = Vec::new();
    for phosphate in either(&carriers[0]) {
        for potash in either(&carriers[1]) {
            for nitrogen in either(&carriers[2]) {
                let mut list: Vec<usize> = Vec::new();
                for one in [phosphate, potash, nitrogen].into_iter().flatten() {
                    if !list.contains(&one) {
                        list.push(one);
                    }
                }
                if !lists.contains(&list) {
                    lists.push(list);
                }
            }
        }
    }
    let mut found: Vec<Recipe> = Vec::new();
    for list in lists {
        let first = recipe(event, all, list);
        for (nutrient, carriers) in order.iter().zip(&carriers) {
            if left(event, &first.spread, *nutrient).is_zero() {
                continue;
            }
            for one in carriers.iter().filter(|one| !first.materials.contains(one)) {
                let more = first.materials.iter().copied().chain([*one]).collect();
                found.push(recipe(event, all, more));
            }
        }
        found.push(first);
    }
    found
}

fn recipe(event: &Event<'_>, all: &[Ready], materials: Vec<usize>) -> Recipe {
    let picked: Vec<Ready> = materials.iter().map(|at| all[*at].clone()).collect();
    let spread = spread_with(event, &picked);
    let starter = left(event, &spread, Nutrient::Nitrogen);
    let lacking = Positive::new(event.needs.nitrogen)
        .map_or(Decimal::ZERO, |need| (starter / need).fraction());
    let left = Npk::from_fn(|nutrient| left(event, &spread, nutrient));
    Recipe { materials, lacking, left, spread }
}

/// What stays short; less than is worth a dose, or than a scale can tell, is nothing.
fn left(event: &Event<'_>, spread: &Spread, nutrient: Nutrient) -> Mass {
    let left = spread.room[nutrient].short.value();
    let weighed = weighing_slip(&spread.doses, nutrient, event.setting.units);
    let least = trifle::of(event.needs[nutrient]);
    if left <= least || left <= weighed { Mass::ZERO } else { left }
}

/// Whether every material of the shed is looked at: no nutrient has more carriers than that.
pub fn all_looked_at(season: &Season) -> bool {
    let all: Vec<Ready> = season.shed.iter().map(|item| Ready::of(&item.stuff)).collect();
    Nutrient::ALL.into_iter().all(|nutrient| {
        let mut names: Vec<&str> =
            all.iter().filter(|ready| ready.carries(nutrient)).map(Ready::name).collect();
        names.sort_unstable();
        names.dedup();
        names.len() <= most_carriers(season)
    })
}

fn most_carriers(season: &Season) -> usize {
    let large = season.beds.len() > LARGE_GARDEN;
    if large { MOST_CARRIERS_IN_A_LARGE_GARDEN } else { MOST_CARRIERS }
}

/// The materials that carry a nutrient; of many those that are cheapest by what they hold and those
/// of which a pack costs least.
fn carriers(
    event: &Event<'_>,
    all: &[Ready],
    suits: &dyn Fn(&Ready) -> bool,
    nutrient: Nutrient,
) -> Vec<usize> {
    let season = event.setting.season;
    let most = most_carriers(season);
    let serves = |ready: &Ready| match nutrient {
        Nutrient::Nitrogen => ready.is_for_nitrogen(),
        _ => ready.carries(nutrient),
    };
    let mut found: Vec<usize> =
        (0..all.len()).filter(|at| serves(&all[*at]) && suits(&all[*at])).collect();
    if found.len() > most {
        found.sort_by_key(|at| (dearness(season, &all[*at], nutrient), *at));
        let mut rest = found.split_off(most / 2);
        rest.sort_by_key(|at| (least_outlay(season, &all[*at]), *at));
        rest.truncate(most - found.len());
        found.extend(rest);
        found.sort_unstable();
    }
    found
}

/// What the cheapest pack of a material costs; the most where no price is known.
fn least_outlay(season: &Season, ready: &Ready) -> Money {
    let items = season.shed.iter().filter(|item| item.stuff.material.name == ready.name());
    let packs = items.filter_map(|item| item.offer.as_ref()).flat_map(|offer| &offer.packs);
    let prices = packs.filter_map(|pack| Some(pack.price?.value));
    prices.min().unwrap_or(Money::from_units(Decimal::MAX))
}

/// What a kilogram of a nutrient costs in the cheapest pack of a material; nothing for what is on
/// hand; the most where no price is known.
fn dearness(season: &Season, ready: &Ready, nutrient: Nutrient) -> Money {
    let items = || season.shed.iter().filter(|item| item.stuff.material.name == ready.name());
    if items().any(|item| item.on_hand.is_some_and(|held| held.value > Mass::ZERO)) {
        return Money::ZERO;
    }
    let share = ready.content.shares[nutrient].value();
    let per_kg = |pack: &crate::season::Pack| {
        let carried = pack.weight.value * share;
        pack.price?.value.units().checked_div(carried.kg()).map(Money::from_units)
    };
    let packs = items().filter_map(|item| item.offer.as_ref()).flat_map(|offer| &offer.packs);
    packs.filter_map(per_kg).min().unwrap_or(Money::from_units(Decimal::MAX))
}
