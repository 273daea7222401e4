//! Which crops have had all that the season's plan gives them: nothing more is asked for them.
//!
//! Where all of the first plan was spread, what a crop is still short of is what that plan could not
//! give safely or in time, or what weighing left; a plan made later must not chase it.

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use super::{Plan, plan};
use crate::calendar::Date;
use crate::engine::against::{lines_given, lines_planned};
use crate::engine::dose::Dose;
use crate::quantity::UnitSystem;
use crate::record::{Applied, Fate, PlannedLine, RecordedLine, match_lines};
use crate::season::{Season, slug};

/// From this share of the planned weight on, in percent, a dose counts as given: what it lacks is
/// less than what is worth spreading (proposed).
const GIVEN_FROM_PERCENT: i64 = 97;

/// The plantings for which every dose of the bed up to their end was given, as indices of bed and
/// planting: every dose of the season's plan, or of the plan as it stood on the first day that
/// anything was written down.
pub(super) fn plantings(
    season: &Season,
    units: UnitSystem,
    applied: &[Applied],
) -> BTreeSet<(usize, usize)> {
    let Some(first) = applied.iter().map(|one| one.on).min() else { return BTreeSet::new() };
    let given: Vec<RecordedLine> =
        lines_given(season, applied).into_iter().map(|(line, _)| line).collect();
    let all = [None, Some(first)].map(|day| of_plan(&plan(season, units, day, &[]), &given));
    all.concat().into_iter().collect()
}

/// The plantings for which every dose of a plan up to their end was given.
fn of_plan(plan: &Plan, given: &[RecordedLine]) -> Vec<(usize, usize)> {
    let (planned, _) = lines_planned(plan);
    let fates = match_lines(&planned, given, Date::from_number(0)).planned;
    let open: BTreeSet<(&str, Date, &str)> = planned
        .iter()
        .zip(&fates)
        .filter(|(line, fate)| !enough(line, **fate, given))
        .map(|(line, _)| (line.bed.as_str(), line.on, line.material.as_str()))
        .collect();
    let touched: BTreeSet<&str> = given.iter().map(|line| line.bed.as_str()).collect();
    let mut all = Vec::new();
    for bed in plan.beds.iter().filter(|bed| touched.contains(&*bed.slug)) {
        let is_open =
            |dose: &Dose| open.contains(&(&*bed.slug, dose.date, &*slug(dose.ready.name())));
        for planting in &bed.plantings {
            let mut doses = bed.doses.iter().filter(|dose| dose.date <= planting.life.end);
            if !doses.any(is_open) {
                all.push((bed.index, planting.index));
            }
        }
    }
    all
}

fn enough(line: &PlannedLine, fate: Fate, given: &[RecordedLine]) -> bool {
    let Fate::Done(at) = fate else { return false };
    let least = line.weight.base() * Decimal::new(GIVEN_FROM_PERCENT, 2);
    given[at].weight.base() >= least
}
