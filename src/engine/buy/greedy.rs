//! A list that meets what can be met, without a search: what is taken where the solver cannot
//! answer.

use super::block::Aim;
use super::case::{PackAt, Way, times};
use super::exact::Draft;
use super::model::Setting;
use crate::quantity::{Mass, Money, Positive, Share};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

/// The most packs of one size on a list.
const MOST_PACKS: u64 = 1_000_000_000;

/// A kilogram dearer than this is as good as not to be had.
const DEAREST: Decimal = Decimal::from_parts(0, 1, 0, false, 0);

/// Meets each demand in turn in its cheapest ways, and buys the packs with the cheapest kilogram.
pub(super) fn first_draft(setting: &Setting) -> Draft {
    let (case, block) = (setting.case, setting.block);
    let mut stock = case.stock.clone();
    let mut limits = case.limits.clone();
    let cheapest: Vec<Option<usize>> =
        (0..case.materials.len()).map(|material| cheapest_pack(setting, material)).collect();
    let mut needed = vec![Mass::ZERO; case.materials.len()];
    let mut shares = Vec::new();
    for wanting in &block.demands {
        let ways = &case.demands[wanting.demand].ways;
        let mut order: Vec<usize> = (0..wanting.ways.len()).collect();
        let price = |way: &Way| -> Decimal {
            let each = |(material, weight): &(usize, Mass)| {
                let pack = cheapest[*material].map(|at| case.packs[block.packs[at]]);
                pack.map_or(Decimal::ZERO, |pack| kilogram_price(&pack, setting) * weight.kg())
            };
            way.parts.iter().map(each).sum()
        };
        order.sort_by_key(|at| {
            let way = &ways[wanting.ways[*at]];
            (way.unwanted, price(way))
        });
        let mut rest = Share::WHOLE;
        let mut met = vec![Share::ZERO; wanting.ways.len()];
        for at in order {
            let way = &ways[wanting.ways[at]];
            let mut share = rest;
            for (material, weight) in &way.parts {
                if cheapest[*material].is_none() {
                    share = share.at_most(part(stock[*material], *weight));
                }
            }
            for (limit, draw) in &way.draws {
                share = share.at_most(part(limits[*limit], *draw));
            }
            for (material, weight) in &way.parts {
                needed[*material] += *weight * share;
                if cheapest[*material].is_none() {
                    stock[*material] = stock[*material] - *weight * share;
                }
            }
            for (limit, draw) in &way.draws {
                limits[*limit] = limits[*limit] - *draw * share;
            }
            met[at] = share;
            rest = rest - share;
        }
        shares.push(met);
    }
    let mut counts = vec![0; block.packs.len()];
    for material in &block.materials {
        let short = needed[*material] - case.stock[*material];
        if let Some(at) = cheapest[*material]
            && short > Mass::ZERO
        {
            let pack = case.packs[block.packs[at]];
            let least = case.offers[pack.offer].minimum.unwrap_or(Mass::ZERO);
            counts[at] = packs(short.at_least(least).kg(), pack.weight.get().kg());
        }
    }
    reach_least_orders(setting, &mut counts);
    Draft { shares, counts }
}

/// Buys more of what is bought already until each supplier gets a least order.
fn reach_least_orders(setting: &Setting, counts: &mut [u64]) {
    let (case, block) = (setting.case, setting.block);
    for (supplier, asked) in case.suppliers.iter().enumerate().filter(|(at, _)| setting.asks(*at)) {
        let priced = |at: usize| {
            let pack = case.packs[block.packs[at]];
            pack.price.filter(|price| pack.supplier == supplier && *price > Money::ZERO)
        };
        let spent: Money =
            (0..counts.len()).filter_map(|at| Some(priced(at)? * times(counts[at]))).sum();
        let short = asked.minimum.unwrap_or(Money::ZERO) - spent;
        let bought = (0..counts.len()).filter(|at| counts[*at] > 0);
        if short > Money::ZERO
            && let Some((at, price)) = bought.filter_map(|at| Some((at, priced(at)?))).next()
        {
            counts[at] += packs(short.units(), price.units());
        }
    }
}

/// The pack of a material whose kilogram is cheapest, by its place in the block.
fn cheapest_pack(setting: &Setting, material: usize) -> Option<usize> {
    let (case, block) = (setting.case, setting.block);
    (0..block.packs.len())
        .filter(|at| case.packs[block.packs[*at]].material == material)
        .min_by_key(|at| {
            let pack = case.packs[block.packs[*at]];
            (kilogram_price(&pack, setting), pack.weight)
        })
}

/// Price of a kilogram; all alike where the block is chosen by weight.
fn kilogram_price(pack: &PackAt, setting: &Setting) -> Decimal {
    match (setting.block.aim, pack.price) {
        (Aim::Cost, Some(price)) => {
            let each = price.units().checked_div(pack.weight.get().kg());
            each.unwrap_or(DEAREST).min(DEAREST)
        }
        _ => Decimal::ONE,
    }
}

/// The share of a demand that so much allows.
fn part(left: Mass, whole: Mass) -> Share {
    Positive::new(whole).map_or(Share::WHOLE, |whole| left.at_least(Mass::ZERO) / whole)
}

/// How many of `each` reach `whole`.
fn packs(whole: Decimal, each: Decimal) -> u64 {
    let count = whole.checked_div(each).and_then(|count| count.ceil().to_u64());
    count.unwrap_or(MOST_PACKS).min(MOST_PACKS)
}
