//! The fewest visits, then the least pound-days: branch and bound from the last visit back.

use std::collections::BTreeMap;

use super::amounts::{Amounts, least};
use super::backward::Backward;
use super::bounds::Bounds;
use super::garden::Garden;

/// Two sums of pound-days, or of weights, are the same when they differ by less than this share.
const SAME: f64 = 1e-9;

/// The best set of visits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Found {
    /// Visits by position.
    pub set: u128,
    /// Available nitrogen summed over the days, weighted.
    pub pound_days: f64,
    /// Weight of material.
    pub bulk: f64,
}

/// Returns the best set of visits of a garden: the fewest, of those the least pound-days, then the
/// least weight, then the latest days.
pub(super) fn best(garden: &Garden) -> Found {
    let bounds = Bounds::new(garden);
    let ends = garden.boundaries();
    let mut search = Search {
        garden,
        bounds: &bounds,
        backward: Backward::new(garden),
        remembered: vec![BTreeMap::new(); garden.beds.len() - garden.at_once],
        found: None,
    };
    for visits in bounds.fewest[ends - 1]..ends {
        search.descend(&Node::end(garden), visits);
        if search.found.is_some() {
            break;
        }
    }
    // All visits together always do, because the need was cut to what they reach.
    search.found.unwrap_or(Found { set: every(garden), pound_days: 0.0, bulk: 0.0 })
}

fn every(garden: &Garden) -> u128 {
    (0..garden.days.len()).fold(0, |set, position| set | 1 << position)
}

struct Search<'a> {
    garden: &'a Garden<'a>,
    bounds: &'a Bounds,
    backward: Backward,
    /// Pound-days and weight of each slow bed by the visits of a set that it may use.
    remembered: Vec<BTreeMap<u128, Option<(f64, f64)>>>,
    found: Option<Found>,
}

/// Visits chosen from the end back to a boundary.
struct Node {
    boundary: usize,
    set: u128,
    /// What each bed dosed at once must have been given before the boundary.
    owed: Vec<f64>,
    /// Pound-days from the boundary on: exact for beds dosed at once, a bound for the others.
    at_once: f64,
    slow: f64,
}

impl Node {
    fn end(garden: &Garden) -> Self {
        let beds = &garden.beds[..garden.at_once];
        let owed = beds.iter().map(|bed| bed.need_by(bed.last)).collect();
        Self { boundary: garden.days.len(), set: 0, owed, at_once: 0.0, slow: 0.0 }
    }
}

impl Search<'_> {
    /// Tries every way to choose this many visits before the node's boundary.
    fn descend(&mut self, node: &Node, visits: usize) {
        let Some(before) = visits.checked_sub(1) else {
            if self.backward.all_given(&node.owed) {
                self.weigh(node);
            }
            return;
        };
        let lying = self.backward.lying(self.garden, node.boundary, &node.owed);
        let mut choices: Vec<(f64, usize)> = (before..node.boundary)
            .map(|visit| {
                let gap = self.bounds.gaps[visit][node.boundary];
                let slow = node.slow + self.bounds.slow_gaps[visit][node.boundary];
                let bound = node.at_once + lying[visit] + slow + self.bounds.before[before][visit];
                (if gap.is_finite() { bound } else { gap }, visit)
            })
            .filter(|(bound, _)| bound.is_finite())
            .collect();
        // Of equal bounds the later day first: it is the one preferred.
        choices.sort_by(|one, other| one.0.total_cmp(&other.0).then(other.1.cmp(&one.1)));
        for (bound, visit) in choices {
            if self.found.is_some_and(|found| bound > found.pound_days * (1.0 + SAME)) {
                return;
            }
            if let Some(owed) = self.backward.owed(visit, &node.owed, before) {
                let child = Node {
                    boundary: visit,
                    set: node.set | 1 << visit,
                    owed,
                    at_once: node.at_once + lying[visit],
                    slow: node.slow + self.bounds.slow_gaps[visit][node.boundary],
                };
                self.descend(&child, before);
            }
        }
    }

    /// Solves the slow beds on a whole set of visits and keeps it where it is better.
    fn weigh(&mut self, node: &Node) {
        let most = self.found.map_or(f64::INFINITY, |found| found.pound_days * (1.0 + SAME));
        let (mut pound_days, mut bulk) = (node.at_once, 0.0);
        let slow = &self.garden.beds[self.garden.at_once..];
        for (bed, remembered) in slow.iter().zip(&mut self.remembered) {
            let usable = self.garden.usable(bed, node.set);
            let solved = remembered.entry(usable).or_insert_with(|| {
                let both = |amounts: Amounts| (amounts.pound_days, amounts.bulk);
                least(self.garden, bed, usable).map(both)
            });
            let Some((days, weight)) = solved else { return };
            pound_days += *days;
            bulk += *weight;
            if pound_days > most {
                return;
            }
        }
        let found = Found { set: node.set, pound_days, bulk };
        if self.found.is_none_or(|best| found.better_than(&best)) {
            self.found = Some(found);
        }
    }
}

impl Found {
    fn better_than(&self, other: &Self) -> bool {
        let differ = |one: f64, other: f64| (one - other).abs() > SAME * one.abs().max(other.abs());
        if differ(self.pound_days, other.pound_days) {
            self.pound_days < other.pound_days
        } else if differ(self.bulk, other.bulk) {
            self.bulk < other.bulk
        } else {
            // The first visit in which they differ is the later one.
            let different = self.set ^ other.set;
            different != 0 && other.set >> different.trailing_zeros() & 1 == 1
        }
    }
}
