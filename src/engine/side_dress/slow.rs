//! Beds dosed with slow materials: what they cost at least once some visits are chosen.

use std::collections::BTreeMap;

use super::amounts::least;
use super::bounds::{Bounds, fewest_of};
use super::garden::{Garden, below, positions};
use super::reach::Bed;

/// What one bed comes to, with visits chosen from the end back to a boundary and all before it free.
#[derive(Clone, Copy, Debug)]
struct Tail {
    /// The fewest visits before the boundary.
    before: usize,
    /// The least pound-days lying from the boundary on, and the weight of material; once asked for.
    least: Option<(f64, f64)>,
}

/// All slow beds, with what was reckoned for them before.
pub(super) struct Slow<'a> {
    garden: &'a Garden<'a>,
    bounds: &'a Bounds,
    /// By bed: visits chosen or free, and the boundary; nothing where they do not do.
    tails: Vec<BTreeMap<(u128, usize), Option<Tail>>>,
}

/// A step from one boundary back to a visit, which becomes the next boundary.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step {
    /// The visit.
    pub visit: usize,
    /// The boundary it is chosen from.
    pub end: usize,
    /// All visits chosen, this one included.
    pub set: u128,
    /// How many more there will be before it.
    pub before: usize,
}

impl<'a> Slow<'a> {
    pub fn new(garden: &'a Garden, bounds: &'a Bounds) -> Self {
        Self { garden, bounds, tails: vec![BTreeMap::new(); garden.slow.len()] }
    }

    /// Returns the least pound-days of each bed from a visit on, from those known at the boundary
    /// it is chosen from; nothing where a bed cannot be held, or where together they come to more
    /// than `spare` above the known ones and the price of the gap.
    pub fn step(&mut self, known: &[f64], step: Step, mut spare: f64) -> Option<Vec<f64>> {
        let garden = self.garden;
        let mut lying = known.to_vec();
        for (index, (bed, known)) in garden.slow.iter().zip(&mut lying).enumerate() {
            // Nothing new to a bed with no visits left, or whose life ends before this one.
            let free = bed.allowed & below(step.end);
            if free == 0 || bed.last < garden.days[step.visit] {
                continue;
            }
            *known += self.bounds.slow[index].gap(step.visit, step.end);
            let free = if step.before == 0 { 0 } else { bed.allowed & below(step.visit) };
            let tail = self.tail(index, step.set & bed.allowed, free, step.visit)?;
            if tail.before > step.before {
                return None;
            }
            // Before any plan is found only what is settled is solved.
            if spare.is_finite() || free == 0 {
                let least = self.least(index, step.set & bed.allowed, free, step.visit)?.0;
                if least > *known {
                    spare -= least - *known;
                    *known = least;
                }
                if spare < 0.0 {
                    return None;
                }
            }
        }
        Some(lying)
    }

    /// Returns the pound-days and weight of all beds on a whole set of visits.
    pub fn all(&mut self, set: u128) -> Option<(f64, f64)> {
        let mut all = (0.0, 0.0);
        for (index, bed) in self.garden.slow.iter().enumerate() {
            self.tail(index, set & bed.allowed, 0, 0)?;
            let (lying, bulk) = self.least(index, set & bed.allowed, 0, 0)?;
            all = (all.0 + lying, all.1 + bulk);
        }
        Some(all)
    }

    fn tail(&mut self, index: usize, chosen: u128, free: u128, boundary: usize) -> Option<Tail> {
        let (garden, bounds) = (self.garden, self.bounds);
        *self.tails[index].entry(key(chosen, free, boundary)).or_insert_with(|| {
            let bed = &garden.slow[index];
            let before = fewest_before(garden, bed, chosen, free);
            // Visits before it may be dosed at all come on top.
            let start = bounds.fewest[bed.allowed.trailing_zeros() as usize];
            let before = if before == 0 { 0 } else { before + start };
            does(garden, bed, chosen | free).then_some(Tail { before, least: None })
        })
    }

    fn least(
        &mut self,
        index: usize,
        chosen: u128,
        free: u128,
        boundary: usize,
    ) -> Option<(f64, f64)> {
        let tail = self.tails[index].get_mut(&key(chosen, free, boundary))?.as_mut()?;
        if tail.least.is_none() {
            let bed = &self.garden.slow[index];
            let from = if free == 0 { bed.first } else { self.garden.days[boundary] };
            let amounts = least(self.garden, bed, chosen | free, from)?;
            tail.least = Some((amounts.lying * bed.weight, amounts.bulk));
        }
        tail.least
    }
}

/// With nothing free before it, the boundary makes no difference.
fn key(chosen: u128, free: u128, boundary: usize) -> (u128, usize) {
    (chosen | free, if free == 0 { 0 } else { boundary })
}

/// Whether all visits of a set at their caps meet the need.
fn does(garden: &Garden, bed: &Bed, set: u128) -> bool {
    let mut supply = vec![bed.slack; bed.need.len()];
    for position in positions(set & bed.allowed) {
        let age = bed.first - garden.days[position];
        let shares = bed.curves.since(garden.visits[position], usize::try_from(age).unwrap_or(0));
        let days = supply.get_mut(usize::try_from(-age).unwrap_or(0)..).unwrap_or_default();
        let cap = bed.caps[position];
        days.iter_mut().zip(shares).for_each(|(supply, share)| *supply += cap * share);
    }
    supply.iter().zip(&bed.need).all(|(supply, need)| supply >= need)
}

/// The fewest of the free visits that it takes where those chosen cannot keep up alone.
fn fewest_before(garden: &Garden, bed: &Bed, chosen: u128, free: u128) -> usize {
    if free == 0 {
        return 0;
    }
    let ends = positions(chosen).chain([garden.days.len()]);
    let fewest = |end: usize| {
        let eve = garden.eve(bed, end);
        let given: f64 = positions(chosen)
            .take_while(|visit| *visit < end)
            .map(|visit| garden.capped(bed, visit, eve))
            .sum();
        let owed = bed.need_by(eve) - given - bed.slack;
        if owed <= 0.0 {
            return 0;
        }
        fewest_of(positions(free).map(|visit| garden.capped(bed, visit, eve)), owed)
    };
    ends.map(fewest).max().unwrap_or(0)
}
