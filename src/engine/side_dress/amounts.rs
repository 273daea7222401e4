//! The doses of one planting on a given set of visits: least nitrogen lying unused.

use super::garden::Garden;
use super::linear::Program;
use super::reach::Bed;

/// What a day's worth of weight counts for beside days lying: only to settle ties.
const TIE_DAYS: f64 = 1e-7;

/// Doses by position of visit, with what lies by the day.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Amounts {
    /// (Position, dose), in the unit of the bed's caps; none of them nothing.
    pub doses: Vec<(usize, f64)>,
    /// Available amount summed over the days of the planting's life, times its weight.
    pub pound_days: f64,
    /// Weight of material.
    pub bulk: f64,
}

/// Returns the doses on the visits of a set (by position), or nothing where it does not do.
pub(super) fn least(garden: &Garden, bed: &Bed, set: u128) -> Option<Amounts> {
    let positions: Vec<usize> = (0..garden.days.len())
        .filter(|position| set >> position & 1 == 1 && bed.may(garden.visits[*position]))
        .collect();
    let doses = if bed.at_once {
        just_in_time(garden, bed, &positions)?
    } else {
        programmed(garden, bed, &positions)?
    };
    let doses: Vec<(usize, f64)> =
        positions.into_iter().zip(doses).filter(|(_, dose)| *dose > bed.slack).collect();
    let lying = |(position, dose): &(usize, f64)| {
        dose * bed.unit_days(garden.visits[*position], garden.days[*position])
    };
    Some(Amounts {
        pound_days: doses.iter().map(lying).sum::<f64>() * bed.weight,
        bulk: doses.iter().map(|(_, dose)| dose * bed.bulk).sum(),
        doses,
    })
}

/// Working backward, every dose gives what is owed by the eve of the next, up to its cap, and
/// leaves the rest to the dose before it.
fn just_in_time(garden: &Garden, bed: &Bed, positions: &[usize]) -> Option<Vec<f64>> {
    let mut doses = vec![0.0; positions.len()];
    let mut owed = bed.need_by(bed.last);
    for (index, position) in positions.iter().enumerate().rev() {
        let before = bed.need_by(garden.days[*position] - 1);
        let left = before.max(owed - garden.cap(bed, *position));
        doses[index] = (owed - left).max(0.0);
        owed = left;
    }
    (owed <= bed.slack).then_some(doses)
}

fn programmed(garden: &Garden, bed: &Bed, positions: &[usize]) -> Option<Vec<f64>> {
    let column = |position: &usize| -> Vec<f64> {
        let (visit, given) = (garden.visits[*position], garden.days[*position]);
        (bed.first..=bed.last).map(|day| bed.share(visit, day - given)).collect()
    };
    let shares: Vec<Vec<f64>> = positions.iter().map(column).collect();
    let costs = shares.iter().map(|shares| shares.iter().sum::<f64>() + TIE_DAYS).collect();
    let caps = positions.iter().map(|position| garden.cap(bed, *position)).collect();
    Program { costs, caps, shares, need: &bed.need, slack: bed.slack }.least()
}
