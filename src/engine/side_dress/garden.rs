//! The whole garden made ready for solving: the visits of use to anyone, and the plantings.

use std::collections::BTreeMap;

use super::curves::Curves;
use super::problem::Problem;
use super::reach::{Bed, Shortage};
use crate::hands::each;

/// Visits of use and plantings with a need. Visits are counted by position among those of use;
/// boundary j is the eve of visit j, the last boundary is the end of the season.
pub(super) struct Garden<'a> {
    /// The visit at each position, by its place in the problem.
    pub visits: Vec<usize>,
    /// The day of the visit at each position.
    pub days: Vec<i32>,
    /// Plantings whose need can be met at least in part and whose doses are available at once.
    pub at_once: Vec<Bed<'a>>,
    /// Such plantings whose doses come slowly.
    pub slow: Vec<Bed<'a>>,
    /// Which plantings of the problem each bed stands for, those at once first.
    pub plantings: Vec<Vec<usize>>,
    /// By planting of the problem: where not even all visits can hold it.
    pub shortages: Vec<Option<Shortage>>,
}

/// Draws the curves of all materials, as far as any planting lives that is dosed with them.
pub(super) fn curves(problem: &Problem) -> Vec<Curves<'_>> {
    let draw = |(kind, material)| {
        let dosed = problem.plantings.iter().filter(|planting| planting.material == kind);
        let last = dosed.map(|planting| planting.last()).max();
        let last = last.unwrap_or(crate::calendar::Date::from_number(0));
        Curves::new(material, &problem.visits, last)
    };
    problem.materials.iter().enumerate().map(draw).collect()
}

impl<'a> Garden<'a> {
    pub fn new(problem: &Problem, curves: &'a [Curves<'a>]) -> Self {
        let bed = |at: usize| {
            let planting = &problem.plantings[at];
            (at, Bed::new(problem, planting, &curves[planting.material]))
        };
        let mut beds: Vec<(usize, Bed)> = each(problem.plantings.len(), bed);
        let shortages = beds.iter_mut().map(|(_, bed)| bed.shortage.take()).collect();
        beds.retain(|(_, bed)| bed.need.last().is_some_and(|need| *need > bed.slack));
        beds.sort_by_key(|(_, bed)| !bed.curves.at_once);
        let mut beds = merged(beds);
        let useful = beds.iter().fold(0, |useful, (_, bed)| useful | bed.allowed);
        let visits: Vec<usize> =
            (0..problem.visits.len()).filter(|visit| useful >> visit & 1 == 1).collect();
        for (_, bed) in &mut beds {
            bed.caps = visits.iter().map(|visit| bed.caps[*visit]).collect();
            bed.allowed = (0..visits.len())
                .filter(|position| bed.caps[*position] > 0.0)
                .fold(0, |allowed, position| allowed | 1 << position);
        }
        let days = visits.iter().map(|visit| problem.visits[*visit].number()).collect();
        let (plantings, mut at_once): (Vec<_>, Vec<Bed>) = beds.into_iter().unzip();
        let slow = at_once.split_off(at_once.partition_point(|bed| bed.curves.at_once));
        Self { visits, days, at_once, slow, plantings, shortages }
    }

    /// All beds, those at once first.
    pub fn beds(&self) -> impl Iterator<Item = &Bed<'a>> {
        self.at_once.iter().chain(&self.slow)
    }

    /// How many boundaries there are: one more than visits.
    pub fn boundaries(&self) -> usize {
        self.days.len() + 1
    }

    /// The day of a boundary's visit; past everything at the end of the season.
    pub fn day_of(&self, boundary: usize) -> i32 {
        self.days.get(boundary).copied().unwrap_or(i32::MAX)
    }

    /// The last day before a boundary, or the planting's harvest where that is sooner.
    pub fn eve(&self, bed: &Bed, boundary: usize) -> i32 {
        (self.day_of(boundary) - 1).min(bed.last)
    }

    /// What the cap on the visit at a position has made available by the end of a day.
    pub fn capped(&self, bed: &Bed, position: usize, day: i32) -> f64 {
        match bed.caps[position] {
            0.0 => 0.0,
            cap => cap * bed.share(self.visits[position], day - self.days[position]),
        }
    }
}

/// Plantings that want the same on the same days, made one of their weight together: what serves one
/// serves them all. A garden of many beds has many that are alike.
fn merged(beds: Vec<(usize, Bed<'_>)>) -> Vec<(Vec<usize>, Bed<'_>)> {
    let mut known: BTreeMap<(usize, i32, Vec<u64>), usize> = BTreeMap::new();
    let mut merged: Vec<(Vec<usize>, Bed)> = Vec::new();
    for (planting, bed) in beds {
        let amounts = bed.need.iter().chain(&bed.caps).map(|amount| amount.to_bits()).collect();
        let at = *known.entry((bed.kind, bed.first, amounts)).or_insert(merged.len());
        match merged.get_mut(at) {
            Some((plantings, one)) => {
                plantings.push(planting);
                one.weight += bed.weight;
                one.bulk += bed.bulk;
            }
            None => merged.push((vec![planting], bed)),
        }
    }
    merged
}

/// The positions in a set of visits, first to last.
pub(super) fn positions(set: u128) -> impl DoubleEndedIterator<Item = usize> {
    let end = u128::BITS - set.leading_zeros();
    (0..end as usize).filter(move |position| set >> position & 1 == 1)
}

/// All positions below one.
pub(super) fn below(position: usize) -> u128 {
    if position >= u128::BITS as usize { !0 } else { (1 << position) - 1 }
}
