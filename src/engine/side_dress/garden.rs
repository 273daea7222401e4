//! The whole garden made ready for solving: the visits of use to anyone, and the plantings.

use super::problem::Problem;
use super::reach::Bed;

/// Visits of use and plantings with a need. Visits are counted by position among those of use;
/// boundary j is the eve of visit j, the last boundary is the end of the season.
pub(super) struct Garden<'a> {
    /// The visit at each position, by its place in the problem.
    pub visits: Vec<usize>,
    /// The day of the visit at each position.
    pub days: Vec<i32>,
    /// Plantings with a need that can be met, those available at once first.
    pub beds: Vec<Bed<'a>>,
    /// Which planting of the problem each bed is.
    pub plantings: Vec<usize>,
    /// How many beds are dosed with what is available at once.
    pub at_once: usize,
}

impl<'a> Garden<'a> {
    pub fn new(problem: &'a Problem) -> Self {
        let mut beds: Vec<(usize, Bed)> = problem
            .plantings
            .iter()
            .map(|planting| Bed::new(problem, planting))
            .enumerate()
            .filter(|(_, bed)| bed.need.last().is_some_and(|need| *need > bed.slack))
            .collect();
        beds.sort_by_key(|(_, bed)| !bed.at_once);
        let useful = beds.iter().fold(0, |useful, (_, bed)| useful | bed.allowed);
        let visits: Vec<usize> =
            (0..problem.visits.len()).filter(|visit| useful >> visit & 1 == 1).collect();
        let days = visits.iter().map(|visit| problem.visits[*visit].number()).collect();
        let at_once = beds.iter().filter(|(_, bed)| bed.at_once).count();
        let (plantings, beds) = beds.into_iter().unzip();
        Self { visits, days, beds, plantings, at_once }
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

    /// The cap of a planting on the visit at a position.
    pub fn cap(&self, bed: &Bed, position: usize) -> f64 {
        bed.caps[self.visits[position]]
    }

    /// What the cap on the visit at a position has made available by the end of a day.
    pub fn capped(&self, bed: &Bed, position: usize, day: i32) -> f64 {
        let cap = self.cap(bed, position);
        if cap == 0.0 {
            0.0
        } else {
            cap * bed.share(self.visits[position], day - self.days[position])
        }
    }

    /// The visits of a set (by position) that a planting may be dosed on.
    pub fn usable(&self, bed: &Bed, set: u128) -> u128 {
        (0..self.visits.len())
            .filter(|position| bed.may(self.visits[*position]))
            .fold(0, |usable, position| usable | (set & (1 << position)))
    }
}
