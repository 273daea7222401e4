//! What every plan must cost at least, from the gaps between its visits.
//!
//! Between two visits nothing is given, so what is needed by the eve of the second must have been
//! given by the first, and lies there in between. Summed over all plantings that is a price for
//! each gap, whatever the other visits are; the cheapest chain of gaps bounds all plans.

use super::fading::Fading;
use super::garden::Garden;
use super::reach::Bed;

/// Prices of gaps, and the fewest visits before each boundary.
pub(super) struct Bounds {
    /// By visit and boundary: the least pound-days lying on the days between, for all plantings;
    /// infinite where some planting could not be held.
    pub gaps: Vec<Vec<f64>>,
    /// The same for plantings dosed with slow materials only.
    pub slow_gaps: Vec<Vec<f64>>,
    /// The fewest visits before each boundary.
    pub fewest: Vec<usize>,
    /// By number of visits and boundary: the least pound-days lying on all days before it.
    pub before: Vec<Vec<f64>>,
}

impl Bounds {
    pub fn new(garden: &Garden) -> Self {
        let ends = garden.boundaries();
        let fading = Fading::new(garden);
        let square = || vec![vec![0.0; ends]; ends];
        let mut gaps = [square(), square()];
        let mut starts = vec![true; ends];
        let mut counts = vec![vec![0; ends]; ends];
        for bed in &garden.beds {
            let held = held(garden, bed, &fading);
            for (start, held) in starts.iter_mut().zip(&held) {
                *start &= *held <= bed.slack;
            }
            price_gaps(garden, bed, &fading, &held, &mut gaps[usize::from(!bed.at_once)]);
            count_visits(garden, bed, &held, &mut counts);
        }
        let [mut gaps, slow_gaps] = gaps;
        for (row, slow) in gaps.iter_mut().zip(&slow_gaps) {
            for (gap, slow) in row.iter_mut().zip(slow) {
                *gap += slow;
            }
        }
        let mut fewest = vec![0; ends];
        for end in 1..ends {
            let least = (0..end).map(|from| fewest[from] + counts[from][end]).max().unwrap_or(0);
            fewest[end] = least.max(fewest[end - 1]);
        }
        let before = chains(&gaps, &starts, &fewest);
        Self { gaps, slow_gaps, fewest, before }
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
                let share = fading.share(garden, bed, newest, eve, later_eve);
                held[end] = held[end].max(owed * share);
            }
            // At once, the next boundary already looks beyond itself.
            if bed.at_once || later_eve == bed.last {
                break;
            }
        }
    }
    held
}

/// Adds a planting's price of every gap: what it must hold by the eve, on each day before it.
fn price_gaps(garden: &Garden, bed: &Bed, fading: &Fading, held: &[f64], gaps: &mut [Vec<f64>]) {
    for visit in (0..garden.days.len()).take_while(|visit| garden.days[*visit] <= bed.last) {
        let from = garden.days[visit].max(bed.first);
        let mut price = 0.0;
        for end in visit + 1..garden.boundaries() {
            let eve = garden.eve(bed, end);
            if eve < bed.first {
                continue;
            }
            // Past the harvest every boundary is the same.
            if garden.eve(bed, end - 1) < eve || end == visit + 1 {
                let given: f64 = (0..=visit).map(|visit| garden.capped(bed, visit, eve)).sum();
                price = if given + bed.slack < held[end] {
                    f64::INFINITY
                } else if bed.at_once {
                    f64::from(eve - from + 1) * held[end] * bed.weight
                } else {
                    let lying = |day: i32| {
                        let share = fading.share(garden, bed, visit, day, eve);
                        bed.need_by(day).max(held[end] * share)
                    };
                    (from..=eve).map(lying).sum::<f64>() * bed.weight
                };
            }
            gaps[visit][end] += price;
        }
    }
}

/// Raises the fewest visits between two boundaries to what a planting wants there, were it given
/// its cap on every visit before them.
fn count_visits(garden: &Garden, bed: &Bed, held: &[f64], counts: &mut [Vec<usize>]) {
    for end in 1..garden.boundaries() {
        let eve = garden.eve(bed, end);
        if eve < bed.first {
            continue;
        }
        let given: Vec<f64> = (0..end).map(|visit| garden.capped(bed, visit, eve)).collect();
        let mut owed = held[end];
        let mut least = vec![0; end];
        // Owed from the first `from` visits down to none.
        for from in 0..end {
            least[from] = fewest_of(&given[from..], owed - bed.slack);
            owed -= given[from];
        }
        for (row, least) in counts.iter_mut().zip(least) {
            row[end] = row[end].max(least);
        }
        if eve == bed.last {
            break;
        }
    }
}

/// How many of the largest amounts it takes to reach what is owed.
fn fewest_of(amounts: &[f64], owed: f64) -> usize {
    if owed <= 0.0 {
        return 0;
    }
    let mut sorted = amounts.to_vec();
    sorted.sort_by(|one, other| other.total_cmp(one));
    let mut total = 0.0;
    let enough = sorted.iter().position(|amount| {
        total += amount;
        total >= owed
    });
    enough.map_or(sorted.len(), |place| place + 1)
}
