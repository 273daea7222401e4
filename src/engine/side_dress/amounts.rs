//! The doses of one planting on a given set of visits: least nitrogen lying unused.

use super::garden::{Garden, positions};
use super::linear::{Column, Program};
use super::reach::Bed;

/// What weight counts for beside days lying: only to settle ties.
const TIE_DAYS: f64 = 1e-7;

/// Doses by position of visit, with what lies by the day.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Amounts {
    /// (Position, dose), in the unit of the bed's caps.
    pub doses: Vec<(usize, f64)>,
    /// What is available summed over the days from a given one on.
    pub lying: f64,
    /// Weight of material.
    pub bulk: f64,
}

/// Returns the doses on the visits of a set (by position) that leave least lying on the days from
/// `from` on, or nothing where the set does not do.
pub(super) fn least(garden: &Garden, bed: &Bed, set: u128, from: i32) -> Option<Amounts> {
    let chosen: Vec<usize> = positions(set & bed.allowed).collect();
    let from = from.max(bed.first);
    let lying = |position: &usize| {
        let day = garden.days[*position];
        if bed.curves.at_once {
            f64::from((bed.last + 1 - day.max(from)).max(0))
        } else {
            bed.curves.days(garden.visits[*position], from - day, bed.last - day)
        }
    };
    let costs: Vec<f64> = chosen.iter().map(lying).collect();
    let doses = if bed.curves.at_once {
        just_in_time(garden, bed, &chosen)?
    } else {
        programmed(garden, bed, &chosen, &costs)?
    };
    let sum: f64 = doses.iter().zip(&costs).map(|(dose, days)| dose * days).sum();
    Some(Amounts {
        lying: sum,
        bulk: doses.iter().sum::<f64>() * bed.bulk,
        doses: chosen.into_iter().zip(doses).filter(|(_, dose)| *dose > bed.slack).collect(),
    })
}

/// Working backward, every dose gives what is owed by the eve of the next, up to its cap, and
/// leaves the rest to the dose before it.
fn just_in_time(garden: &Garden, bed: &Bed, chosen: &[usize]) -> Option<Vec<f64>> {
    let mut doses = vec![0.0; chosen.len()];
    let mut owed = bed.need_by(bed.last);
    for (dose, position) in doses.iter_mut().zip(chosen).rev() {
        let left = bed.need_by(garden.days[*position] - 1).max(owed - bed.caps[*position]);
        *dose = (owed - left).max(0.0);
        owed = left;
    }
    (owed <= bed.slack).then_some(doses)
}

fn programmed(garden: &Garden, bed: &Bed, chosen: &[usize], costs: &[f64]) -> Option<Vec<f64>> {
    let column = |(position, cost): (&usize, &f64)| {
        let (visit, day) = (garden.visits[*position], garden.days[*position]);
        Column {
            cost: cost + TIE_DAYS,
            cap: bed.caps[*position],
            from: usize::try_from(day - bed.first).unwrap_or(0),
            shares: bed.curves.since(visit, usize::try_from(bed.first - day).unwrap_or(0)),
        }
    };
    let columns = chosen.iter().zip(costs).map(column).collect();
    Program { columns, need: &bed.need, slack: bed.slack }.least()
}
