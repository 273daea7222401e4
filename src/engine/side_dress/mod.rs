//! The side-dress plan: on which days to visit the garden and how much to give each planting, so
//! that what is available never falls behind what is needed.
//!
//! Solved exactly, in this order: the fewest visits for the whole garden, the least nitrogen lying
//! unused (pound-days), the least weight of material, the latest days. Because caps add up, a set
//! of visits does exactly when, for every planting and day, the caps so far, released by then,
//! reach the need. Where not even all visits do, the need is cut to what they reach and the
//! shortage is told. No time limit: the same garden always has the same plan.

mod amounts;
mod backward;
mod bounds;
mod curves;
mod fading;
mod garden;
mod linear;
mod problem;
mod reach;
mod search;
mod slow;
#[cfg(test)]
mod tests;

pub use problem::{Doses, MOST_VISITS, Material, Planting, Problem, supply};
pub use reach::{Shortage, shortage, shortage_on};

use crate::calendar::Date;
use garden::Garden;

/// A solved plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The days on which doses are given.
    pub visits: Vec<Date>,
    /// For each planting of the problem, in its order, what it gets.
    pub plantings: Vec<Kept>,
    /// Pound-days lying unused over all plantings, each by its weight.
    pub unused: f64,
}

/// How one planting is kept supplied.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Kept {
    /// Its doses, by the visit's place in the problem.
    pub doses: Doses,
    /// What lay available and not needed, summed over its days, by its weight.
    pub unused: f64,
    /// What is available and not needed at its harvest, in its unit.
    pub left: f64,
    /// Where no plan can hold it.
    pub shortage: Option<Shortage>,
}

/// Returns the best plan of a garden. More than [`MOST_VISITS`] visits are cut to the first so many.
pub fn solve(problem: &Problem) -> Plan {
    let curves = garden::curves(problem);
    let garden = Garden::new(problem, &curves);
    let set = search::best(&garden).set;
    let shortages = garden.shortages.iter().cloned();
    let mut plantings: Vec<Kept> =
        shortages.map(|shortage| Kept { shortage, ..Kept::default() }).collect();
    for (bed, alike) in garden.beds().zip(&garden.plantings) {
        let Some(amounts) = amounts::least(&garden, bed, set, bed.first) else { continue };
        let all = |(at, dose): &(usize, f64)| {
            dose * bed.share(garden.visits[*at], bed.last - garden.days[*at])
        };
        let available: f64 = amounts.doses.iter().map(all).sum();
        let lying = (amounts.lying - bed.need.iter().sum::<f64>()).max(0.0);
        let given = |at: usize| bed.given_share(garden.visits[at]);
        let doses = amounts.doses.into_iter();
        let doses: Doses = doses.map(|(at, dose)| (garden.visits[at], dose / given(at))).collect();
        for planting in alike {
            let kept = &mut plantings[*planting];
            kept.unused = lying * problem.plantings[*planting].weight;
            kept.left = (available - bed.need_by(bed.last)).max(0.0);
            kept.doses = doses.clone();
        }
    }
    let visits = garden::positions(set).map(|at| problem.visits[garden.visits[at]]).collect();
    let unused = plantings.iter().map(|kept| kept.unused).sum();
    Plan { visits, plantings, unused }
}
