//! Beds dosed with what is available at once, worked backward all together.

use super::garden::Garden;

/// Their needs and caps by boundary, side by side.
pub(super) struct Backward {
    first: Vec<i32>,
    last: Vec<i32>,
    weight: Vec<f64>,
    slack: Vec<f64>,
    /// By boundary: the need by its eve.
    need: Vec<Vec<f64>>,
    /// By visit: the cap.
    cap: Vec<Vec<f64>>,
    /// The fewest visits before the first that a bed may be dosed on.
    start: Vec<usize>,
    /// By visit: the largest cap on any visit before it, and how many there are.
    largest: Vec<Vec<(f64, usize)>>,
}

impl Backward {
    pub fn new(garden: &Garden, fewest: &[usize]) -> Self {
        let beds = &garden.at_once;
        let mut largest = vec![vec![(0.0f64, 0); beds.len()]];
        let mut cap = Vec::new();
        for position in 0..garden.days.len() {
            let caps: Vec<f64> = beds.iter().map(|bed| bed.caps[position]).collect();
            let raised = |(before, cap): (&(f64, usize), &f64)| {
                (before.0.max(*cap), before.1 + usize::from(*cap > 0.0))
            };
            largest.push(largest[position].iter().zip(&caps).map(raised).collect());
            cap.push(caps);
        }
        let need = (0..garden.boundaries())
            .map(|end| beds.iter().map(|bed| bed.need_by(garden.eve(bed, end))).collect())
            .collect();
        Self {
            first: beds.iter().map(|bed| bed.first).collect(),
            last: beds.iter().map(|bed| bed.last).collect(),
            weight: beds.iter().map(|bed| bed.weight).collect(),
            slack: beds.iter().map(|bed| bed.slack).collect(),
            start: beds.iter().map(|bed| fewest[bed.allowed.trailing_zeros() as usize]).collect(),
            need,
            cap,
            largest,
        }
    }

    /// Whether nothing is owed to any visit before.
    pub fn all_given(&self, owed: &[f64]) -> bool {
        owed.iter().zip(&self.slack).all(|(owed, slack)| owed <= slack)
    }

    /// The pound-days lying from each visit up to a boundary, were it the last before it.
    pub fn lying(&self, garden: &Garden, boundary: usize, owed: &[f64]) -> Vec<f64> {
        let mut lying = vec![0.0; boundary];
        let end = garden.day_of(boundary);
        for (bed, owed) in owed.iter().enumerate().filter(|(_, owed)| **owed > 0.0) {
            let end = end.min(self.last[bed] + 1);
            let pounds = owed * self.weight[bed];
            for (lying, day) in lying.iter_mut().zip(&garden.days) {
                *lying += f64::from((end - self.first[bed].max(*day)).max(0)) * pounds;
            }
        }
        lying
    }

    /// What is owed before a visit when it gives all it can of what is owed after it; nothing
    /// where so many visits before it cannot give that much to some bed.
    pub fn owed(&self, visit: usize, owed: &[f64], visits_before: usize) -> Option<Vec<f64>> {
        let left: Vec<f64> = owed
            .iter()
            .zip(self.need[visit].iter().zip(&self.cap[visit]))
            .map(|(owed, (need, cap))| need.max(owed - cap))
            .collect();
        let reached = |bed: usize| {
            let (cap, count) = self.largest[visit][bed];
            let visits = visits_before.saturating_sub(self.start[bed]).min(count);
            // A garden has too few visits for the count to lose digits.
            left[bed] <= self.slack[bed] + cap * visits as f64
        };
        let holds = (0..left.len()).all(reached);
        holds.then_some(left)
    }
}
