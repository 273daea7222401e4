//! Joins demands that want the same in proportion, such as a dressing of the same day in many beds.
//!
//! Where some way of meeting them can be bought without end, what is best for one of them is best
//! for all: giving each the average of their shares takes as much of everything. So the search sees
//! one demand in their stead. Demands that may go short are left alone, since there the small ones
//! are met first.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::case::{Ask, Way};
use crate::quantity::{Mass, Positive, settle};

/// What a way takes, in the first weight of its demand.
type Proportions = Vec<(Vec<(usize, Decimal)>, Vec<(usize, Decimal)>, Decimal)>;

/// Joins demands that are proportional and can be met without end; `buyable` says which materials
/// can.
pub(super) fn merge(asks: Vec<Ask>, buyable: &[bool]) -> Vec<Ask> {
    let mut merged: Vec<Ask> = Vec::new();
    let mut known = BTreeMap::<Proportions, usize>::new();
    for ask in asks {
        let endless = |way: &Way| {
            way.draws.is_empty() && way.parts.iter().all(|(material, _)| buyable[*material])
        };
        let proportions = ask.ways.iter().any(endless).then(|| proportions(&ask.ways)).flatten();
        let Some(proportions) = proportions else {
            merged.push(ask);
            continue;
        };
        match known.get(&proportions) {
            Some(at) => join(&mut merged[*at], ask),
            None => {
                known.insert(proportions, merged.len());
                merged.push(ask);
            }
        }
    }
    merged
}

/// What each way takes; none where the first takes nothing.
fn proportions(ways: &[Way]) -> Option<Proportions> {
    let first = ways.first()?.parts.first()?.1;
    let first = Positive::new(first)?;
    let ratio = |mass: Mass| settle((mass / first).fraction());
    let ratios = |all: &[(usize, Mass)]| all.iter().map(|(at, mass)| (*at, ratio(*mass))).collect();
    let way = |way: &Way| (ratios(&way.parts), ratios(&way.draws), ratio(way.unwanted));
    Some(ways.iter().map(way).collect())
}

/// Adds a demand to a proportional one.
fn join(whole: &mut Ask, ask: Ask) {
    for (sum, way) in whole.ways.iter_mut().zip(ask.ways) {
        sum.parts.iter_mut().zip(way.parts).for_each(|(sum, part)| sum.1 += part.1);
        sum.draws.iter_mut().zip(way.draws).for_each(|(sum, draw)| sum.1 += draw.1);
        sum.unwanted += way.unwanted;
    }
    whole.members.extend(ask.members);
}
