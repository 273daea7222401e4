//! The fewest visits, then the least pound-days: branch and bound from the last visit back.
//!
//! What is still to come depends only on the boundary reached, on how many visits are left, and on
//! those chosen visits that plantings still open there may be dosed on. So of two ways to the same
//! such place only the cheaper is followed, and a place once found closed stays closed.

use std::collections::BTreeMap;

use super::backward::Backward;
use super::bounds::Bounds;
use super::garden::{Garden, below};
use super::reach::Bed;
use super::slow::{Slow, Step};

/// Two sums of pound-days, or of weights, are the same when they differ by less than this share.
const SAME: f64 = 1e-9;

/// The best set of visits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Found {
    /// Visits by position.
    pub set: u128,
    /// Available nitrogen summed over the days, weighted.
    pub pound_days: f64,
    /// Weight of material, of the beds where it depends on the visits.
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
        backward: Backward::new(garden, &bounds.fewest),
        slow: Slow::new(garden, &bounds),
        open: open(garden),
        been: BTreeMap::new(),
        found: None,
    };
    for visits in bounds.fewest[ends - 1]..ends {
        search.descend(&Node::end(garden), visits);
        if search.found.is_some() {
            break;
        }
    }
    // All visits together always do, because the need was cut to what they reach.
    let all = (0..garden.days.len()).fold(0, |set, position| set | 1 << position);
    search.found.unwrap_or(Found { set: all, pound_days: 0.0, bulk: 0.0 })
}

/// By boundary, the visits that beds still open before it may be dosed on.
fn open(garden: &Garden) -> Vec<u128> {
    let open_before = |end: usize| {
        let beds = garden.beds().filter(|bed| bed.allowed & below(end) != 0);
        beds.fold(0, |open, bed| open | bed.allowed)
    };
    (0..garden.boundaries()).map(open_before).collect()
}

struct Search<'a> {
    garden: &'a Garden<'a>,
    bounds: &'a Bounds,
    backward: Backward,
    slow: Slow<'a>,
    /// By boundary: the visits allowed to beds that may still be dosed before it.
    open: Vec<u128>,
    /// Places searched, with the pound-days they were reached with, of beds no longer open and of
    /// those dosed at once; less than nothing where the place is closed whatever it is reached with.
    been: BTreeMap<(usize, usize, u128), f64>,
    found: Option<Found>,
}

/// Visits chosen from the end back to a boundary.
struct Node {
    boundary: usize,
    set: u128,
    /// What each bed dosed at once must have been given before the boundary.
    owed: Vec<f64>,
    /// The pound-days of all those beds from the boundary on.
    at_once: f64,
    /// The least pound-days of each slow bed from the boundary on.
    slow: Vec<f64>,
}

impl Node {
    fn end(garden: &Garden) -> Self {
        Self {
            boundary: garden.days.len(),
            set: 0,
            owed: garden.at_once.iter().map(|bed| bed.need_by(bed.last)).collect(),
            at_once: 0.0,
            slow: vec![0.0; garden.slow.len()],
        }
    }
}

impl Search<'_> {
    /// Tries every way to choose this many visits before the node's boundary.
    fn descend(&mut self, node: &Node, visits: usize) {
        if visits == 0 {
            if self.backward.all_given(&node.owed) {
                self.weigh(node);
            }
            return;
        }
        let end = node.boundary;
        let place = (end, visits, node.set & self.open[end]);
        let spent = node.at_once + self.spent(node);
        let known = self.been.get(&place).copied();
        if known.is_some_and(|known| known < 0.0 || spent > known * (1.0 + SAME)) {
            return;
        }
        self.branch(node, visits - 1);
        self.been.insert(place, if self.found.is_none() { -1.0 } else { spent });
    }

    /// The pound-days of slow beds that may not be dosed before the node's boundary.
    fn spent(&self, node: &Node) -> f64 {
        let closed = |bed: &Bed| bed.allowed & below(node.boundary) == 0;
        let beds = self.garden.slow.iter().zip(&node.slow);
        beds.filter(|(bed, _)| closed(bed)).map(|(_, lying)| lying).sum()
    }

    /// Tries every next visit, the most promising first.
    fn branch(&mut self, node: &Node, before: usize) {
        let end = node.boundary;
        let lying = self.backward.lying(self.garden, end, &node.owed);
        let known = node.at_once + node.slow.iter().sum::<f64>();
        let mut choices: Vec<(f64, usize)> = (before..end)
            .filter(|visit| self.bounds.gaps[*visit][end].is_finite())
            .map(|visit| {
                let gap = lying[visit] + self.bounds.slow_gaps[visit][end];
                (known + gap + self.bounds.before[before][visit], visit)
            })
            .filter(|(bound, _)| bound.is_finite())
            .collect();
        // Of equal bounds the later day first: it is the one preferred.
        choices.sort_by(|one, other| one.0.total_cmp(&other.0).then(other.1.cmp(&one.1)));
        for (bound, visit) in choices {
            let spare = self.most() - bound;
            if spare < 0.0 {
                return;
            }
            let Some(owed) = self.backward.owed(visit, &node.owed, before) else { continue };
            let set = node.set | 1 << visit;
            let step = Step { visit, end, set, before };
            let Some(slow) = self.slow.step(&node.slow, step, spare) else { continue };
            let at_once = node.at_once + lying[visit];
            self.descend(&Node { boundary: visit, set, owed, at_once, slow }, before);
        }
    }

    /// The most pound-days that a set may have and still be as good as the best so far.
    fn most(&self) -> f64 {
        self.found.map_or(f64::INFINITY, |found| found.pound_days * (1.0 + SAME))
    }

    /// Keeps a whole set of visits where it is better.
    fn weigh(&mut self, node: &Node) {
        if let Some((slow, bulk)) = self.slow.all(node.set) {
            let found = Found { set: node.set, pound_days: node.at_once + slow, bulk };
            if self.found.is_none_or(|best| found.better_than(&best)) {
                self.found = Some(found);
            }
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
