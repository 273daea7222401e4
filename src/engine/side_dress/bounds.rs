//! What every plan must cost at least, from the gaps between its visits.
//!
//! Between two visits nothing is given, so what is needed by the eve of the second must have been
//! given by the first, and lies there in between. Summed over all plantings that is a price for
//! each gap, whatever the other visits are; the cheapest chain of gaps bounds all plans.

use super::fading::Fading;
use super::garden::{Garden, positions};
use super::reach::Bed;

/// Prices of gaps, and the fewest visits before each boundary.
pub(super) struct Bounds {
    /// By visit and boundary: the least pound-days lying on the days between, for all plantings;
    /// infinite where some planting could not be held.
    pub gaps: Vec<Vec<f64>>,
    /// The same for plantings dosed with slow materials: together, and each.
    pub slow_gaps: Vec<Vec<f64>>,
    pub slow: Vec<Prices>,
    /// The fewest visits before each boundary.
    pub fewest: Vec<usize>,
    /// By number of visits and boundary: the least pound-days lying on all days before it.
    pub before: Vec<Vec<f64>>,
}

/// One planting's price of the gaps that begin with a visit it may be dosed on or a later one.
pub(super) struct Prices {
    first: usize,
    width: usize,
    prices: Vec<f64>,
}

impl Prices {
    /// The price of the gap from a visit to a boundary; past the harvest all boundaries are one.
    pub fn gap(&self, visit: usize, end: usize) -> f64 {
        let Some(row) = visit.checked_sub(self.first).filter(|row| *row < self.width) else {
            return 0.0;
        };
        let column = (end - self.first).min(self.width);
        self.prices[row * (self.width + 1) + column]
    }
}

impl Bounds {
    pub fn new(garden: &Garden) -> Self {
        let ends = garden.boundaries();
        let fading = Fading::new(garden);
        let square = || vec![vec![0.0; ends]; ends];
        let (mut gaps, mut slow_gaps, mut slow) = (square(), square(), Vec::new());
        let mut starts = vec![true; ends];
        let mut counts = vec![vec![0; ends]; ends];
        for bed in garden.beds() {
            let held = held(garden, bed, &fading);
            for (start, held) in starts.iter_mut().zip(&held) {
                *start &= *held <= bed.slack;
            }
            count_visits(garden, bed, &held, &mut counts);
            let prices = prices(garden, bed, &fading, &held);
            for visit in 0..garden.days.len() {
                for end in visit + 1..ends {
                    let early = visit < prices.first && held[end] > bed.slack;
                    let price = if early { f64::INFINITY } else { prices.gap(visit, end) };
                    gaps[visit][end] += price;
                    if !bed.curves.at_once {
                        slow_gaps[visit][end] += price;
                    }
                }
            }
            if !bed.curves.at_once {
                slow.push(prices);
            }
        }
        let mut fewest = vec![0; ends];
        for end in 1..ends {
            let least = (0..end).map(|from| fewest[from] + counts[from][end]).max().unwrap_or(0);
            fewest[end] = least.max(fewest[end - 1]);
        }
        let before = chains(&gaps, &starts, &fewest);
        Self { gaps, slow_gaps, slow, fewest, before }
    }
}

/// The cheapest chains of gaps from the start to each boundary, by number of visits.
fn chains(gaps: &[Vec<f64>], starts: &[bool], fewest: &[usize]) -> Vec<Vec<f64>> {
    let ends = starts.len();
    let none = |start: &bool| if *start { 0.0 } else { f64::INFINITY };
    let mut before: Vec<Vec<f64>> = vec![starts.iter().map(none).collect()];
    for count in 1..ends {
        let shorter = &before[count - 1];
        let cheapest = |end: usize| {
            let chain = |visit: usize| shorter[visit] + gaps[visit][end];
            let enough = count >= fewest[end];
            (0..if enough { end } else { 0 }).map(chain).fold(f64::INFINITY, f64::min)
        };
        before.push((0..ends).map(cheapest).collect());
    }
    before
}

/// What the doses given before each boundary must at least have made available by its eve: the
/// need, and what later visits at their caps could not catch up with.
fn held(garden: &Garden, bed: &Bed, fading: &Fading) -> Vec<f64> {
    let ends = garden.boundaries();
    let mut held = vec![0.0; ends];
    for end in (0..ends).rev() {
        let eve = garden.eve(bed, end);
        held[end] = bed.need_by(eve);
        let Some(newest) = end.checked_sub(1) else { continue };
        for later in end + 1..ends {
            let later_eve = garden.eve(bed, later);
            let caught_up: f64 =
                (end..later).map(|visit| garden.capped(bed, visit, later_eve)).sum();
            let owed = held[later] - caught_up;
            if owed > held[end] {
                let share = if bed.curves.at_once {
                    1.0
                } else {
                    let days = usize::try_from(eve - garden.days[newest]).unwrap_or(0);
                    fading.shares(bed, newest, later_eve).get(days).copied().unwrap_or(0.0)
                };
                held[end] = held[end].max(owed * share);
            }
            // At once, the next boundary already looks beyond itself.
            if bed.curves.at_once || later_eve == bed.last {
                break;
            }
        }
    }
    held
}

/// A planting's price of every gap: what it must hold by the eve, on each day before it.
fn prices(garden: &Garden, bed: &Bed, fading: &Fading, held: &[f64]) -> Prices {
    let first = positions(bed.allowed).next().unwrap_or(0);
    let ends = (first..garden.days.len()).take_while(|end| garden.days[*end] <= bed.last);
    let width = ends.count();
    let mut prices = vec![0.0; width * (width + 1)];
    for visit in first..first + width {
        let from = garden.days[visit].max(bed.first);
        for end in visit + 1..=first + width {
            let eve = garden.eve(bed, end);
            let given: f64 = (first..=visit).map(|visit| garden.capped(bed, visit, eve)).sum();
            let lying = if given + bed.slack < held[end] {
                f64::INFINITY
            } else if bed.curves.at_once {
                f64::from(eve - from + 1) * held[end]
            } else {
                let skipped = usize::try_from(from - garden.days[visit]).unwrap_or(0);
                let shares = fading.shares(bed, visit, eve).get(skipped..).unwrap_or(&[]);
                let start = usize::try_from(from - bed.first).unwrap_or(0);
                let days = bed.need[start..].iter().zip(shares);
                days.map(|(need, share)| need.max(held[end] * share)).sum()
            };
            prices[(visit - first) * (width + 1) + end - first] = lying * bed.weight;
        }
    }
    Prices { first, width, prices }
}

/// Raises the fewest visits between two boundaries to what a planting wants there, were it given
/// its cap on every visit before them.
fn count_visits(garden: &Garden, bed: &Bed, held: &[f64], counts: &mut [Vec<usize>]) {
    for end in 1..garden.boundaries() {
        let eve = garden.eve(bed, end);
        let mut owed = held[end] - bed.slack;
        for (from, row) in counts.iter_mut().enumerate().take(end) {
            if owed <= 0.0 {
                break;
            }
            let given = (from..end).map(|visit| garden.capped(bed, visit, eve));
            row[end] = row[end].max(fewest_of(given, owed));
            owed -= garden.capped(bed, from, eve);
        }
        if eve == bed.last {
            break;
        }
    }
}

/// How many of the largest amounts it takes to reach what is owed.
pub(super) fn fewest_of(amounts: impl Iterator<Item = f64>, owed: f64) -> usize {
    let mut sorted: Vec<f64> = amounts.filter(|amount| *amount > 0.0).collect();
    sorted.sort_unstable_by(|one, other| other.total_cmp(one));
    let mut total = 0.0;
    let enough = sorted.iter().position(|amount| {
        total += amount;
        total >= owed
    });
    enough.map_or(sorted.len(), |place| place + 1)
}
