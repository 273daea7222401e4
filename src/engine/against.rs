//! What was recorded against the season's first plan: late, early, doubled, skipped.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use super::area::{bed_area, planting_area};
use super::credit::recorded;
use super::plan::{Plan, plan};
use super::rules;
use crate::calendar::Date;
use crate::figure::Figure;
use crate::quantity::{Area, Mass, UnitSystem};
use crate::record::{Applied, Fate, PlannedLine, RecordedLine, Standing, Timing, match_lines};
use crate::season::{Season, slug};

/// How a line of the record stands to the first plan, or a line of that plan to the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Given within three days of its day.
    OnTime,
    /// Given so many days before.
    Early(i32),
    /// Given so many days after.
    Late(i32),
    /// Planned, its day past, and not recorded.
    Skipped,
    /// Recorded, and not planned.
    Added,
    /// Recorded once more, beside the one that took the planned dose's place.
    Again,
}

/// A day and a weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Given {
    /// The day.
    pub on: Date,
    /// The weight.
    pub weight: Mass,
}

/// One line of the comparison.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Against {
    /// The bed, an index into the season's.
    pub bed: usize,
    /// The material.
    pub material: String,
    /// What was planned, where anything was.
    pub planned: Option<Given>,
    /// What was recorded, where anything was.
    pub given: Option<Given>,
    /// How they stand to one another.
    pub verdict: Verdict,
    /// Whether one and a half times the planned weight was given, or more.
    pub doubled: bool,
}

impl Against {
    /// The day it is about.
    fn day(&self) -> Option<Date> {
        self.given.or(self.planned).map(|one| one.on)
    }
}

/// Compares the record with the plan as it was before anything was spread, as seen on a day. Nothing
/// where nothing is recorded: a grower who keeps no record has skipped nothing.
pub fn against(
    season: &Season,
    units: UnitSystem,
    applied: &[Applied],
    today: Date,
) -> Vec<Against> {
    if applied.is_empty() {
        return Vec::new();
    }
    let (planned, uncertain) = lines_planned(&plan(season, units, None, &[]));
    let given = lines_given(season, applied);
    let lines: Vec<RecordedLine> = given.iter().map(|(line, _)| line.clone()).collect();
    let matched = match_lines(&planned, &lines, today);
    let at = |line: &PlannedLine| Given { on: line.on, weight: line.weight };
    let mut out: Vec<Against> = Vec::new();
    for (standing, (line, material)) in matched.recorded.iter().zip(&given) {
        let (plan, verdict, doubled) = match *standing {
            Standing::Replaces { planned: index, timing, doubled, .. } => {
                let verdict = match timing {
                    Timing::OnTime => Verdict::OnTime,
                    Timing::Early(days) => Verdict::Early(days),
                    Timing::Late(days) => Verdict::Late(days),
                };
                (Some(at(&planned[index])), verdict, doubled)
            }
            Standing::Adds { again: Some(index) } => {
                (Some(at(&planned[index])), Verdict::Again, true)
            }
            Standing::Adds { again: None } => (None, Verdict::Added, false),
        };
        out.push(Against {
            bed: bed_of(season, &line.bed),
            material: material.clone(),
            planned: plan,
            given: Some(Given { on: line.on, weight: line.weight }),
            verdict,
            doubled,
        });
    }
    for ((fate, line), uncertain) in matched.planned.iter().zip(&planned).zip(&uncertain) {
        // A dressing that waits for a measurement may rightly have been left out.
        if *fate == Fate::Skipped && !uncertain {
            out.push(Against {
                bed: bed_of(season, &line.bed),
                material: line.material.replace('-', " "),
                planned: Some(at(line)),
                given: None,
                verdict: Verdict::Skipped,
                doubled: false,
            });
        }
    }
    out.sort_by_key(|one| (one.day(), one.bed, one.material.clone()));
    out
}

fn bed_of(season: &Season, name: &str) -> usize {
    season.beds.iter().position(|bed| *bed.slug == *name).unwrap_or(0)
}

/// The doses of a plan, those of one day, bed and material together; and which of them wait for a
/// measurement.
pub(super) fn lines_planned(plan: &Plan) -> (Vec<PlannedLine>, Vec<bool>) {
    let mut lines: Vec<PlannedLine> = Vec::new();
    let mut uncertain: Vec<bool> = Vec::new();
    let mut known: BTreeMap<(usize, Date, String), usize> = BTreeMap::new();
    for bed in &plan.beds {
        for dose in &bed.doses {
            let line = PlannedLine {
                bed: bed.slug.to_string(),
                material: slug(dose.ready.name()),
                on: dose.date,
                weight: dose.weight.value(),
            };
            match known.entry((bed.index, line.on, line.material.clone())) {
                Entry::Occupied(at) => {
                    lines[*at.get()].weight += line.weight;
                    uncertain[*at.get()] &= !dose.certain();
                }
                Entry::Vacant(at) => {
                    at.insert(lines.len());
                    lines.push(line);
                    uncertain.push(!dose.certain());
                }
            }
        }
    }
    (lines, uncertain)
}

/// The lines of the record whose weight can be told, those of one day, bed and material together;
/// with the material's name.
pub(super) fn lines_given(season: &Season, applied: &[Applied]) -> Vec<(RecordedLine, String)> {
    let mut lines: Vec<(RecordedLine, String)> = Vec::new();
    for one in applied {
        let bed = &season.beds[one.bed];
        let unknown = || Figure::fixed("area", Area::ZERO, &rules::BED_AREA);
        let ground = bed_area(bed).unwrap_or_else(unknown);
        let areas: Vec<Figure<Area>> =
            bed.plantings.iter().map(|planting| planting_area(bed, &ground, planting)).collect();
        let Some(weight) = recorded(one, &ground, &areas, season.garden.year.value).weight else {
            continue;
        };
        let name = one.stuff.material.name.clone();
        let line = RecordedLine {
            bed: bed.slug.to_string(),
            material: slug(&name),
            on: one.on,
            weight: weight.value(),
            line: one.line,
        };
        let same = |(other, _): &&mut (RecordedLine, String)| {
            (&other.bed, &other.material, other.on) == (&line.bed, &line.material, line.on)
        };
        match lines.iter_mut().find(same) {
            Some((other, _)) => other.weight += line.weight,
            None => lines.push((line, name)),
        }
    }
    lines
}
