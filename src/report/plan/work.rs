//! The dated list of doses of all beds.

use serde::Serialize;

use super::doses::{in_other_words, purpose};
use super::json::DoseLine;
use super::record::{AgainstAnswer, answers};
use super::{Reported, cautions, record};
use crate::calendar::Date;
use crate::engine::paths;
use crate::engine::plan::BedPlan;
use crate::report::document::{Block, Day, Document, Task, WorkList};
use crate::report::text::Text;

/// All doses with their beds, by day, then in the order of the beds.
pub(super) fn by_day<'a>(reported: &Reported<'a>) -> Vec<(Date, &'a BedPlan, usize)> {
    let mut all: Vec<(Date, &BedPlan, usize)> = Vec::new();
    for bed in &reported.plan.beds {
        all.extend(bed.doses.iter().enumerate().map(|(at, dose)| (dose.date, bed, at)));
    }
    all.sort_by_key(|(date, bed, at)| (*date, bed.index, *at));
    all
}

/// The work list.
pub fn work(reported: &Reported<'_>) -> Document {
    let mut document = Document::new("Work list");
    document.about = reported.about();
    add(reported, &mut document);
    record::add(reported, None, &mut document);
    cautions::add(reported, &mut document);
    document
}

/// Adds the days with their tasks.
pub(super) fn add(reported: &Reported<'_>, document: &mut Document) {
    let mut days: Vec<Day> = Vec::new();
    for (date, bed, at) in by_day(reported) {
        let task = task(reported, bed, at);
        match days.last_mut() {
            Some(day) if day.date == date => day.tasks.push(task),
            _ => days.push(Day { date, about: Text::new(), tasks: vec![task] }),
        }
    }
    if days.is_empty() {
        document.paragraph("Nothing to spread this season.");
    } else {
        document.push(Block::Work(WorkList { days }));
    }
}

fn task(reported: &Reported<'_>, bed: &BedPlan, at: usize) -> Task {
    let dose = &bed.doses[at];
    let weight = reported.showing.of(dose.weight.value());
    Task {
        text: Text::new()
            .emphasis(format!("{}: ", bed.name))
            .and(Text::from(weight).linked(&paths::dose_path(bed, at)))
            .plain(format!(" {}", purpose(bed, dose))),
        detail: Text::from(in_other_words(reported, bed, dose).join("; ")),
        done: false,
    }
}

#[derive(Serialize)]
struct WorkAnswer<'a> {
    document: &'static str,
    version: u32,
    garden: Option<&'a str>,
    year: i16,
    doses: Vec<DoseLine<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    record: Vec<AgainstAnswer<'a>>,
}

/// The work list for a program.
///
/// # Errors
/// None in practice: all keys are text.
pub fn work_json(reported: &Reported<'_>) -> Result<String, serde_json::Error> {
    let doses =
        by_day(reported).into_iter().map(|(_, bed, at)| DoseLine::of(reported, bed, at)).collect();
    crate::report::json::document(&WorkAnswer {
        document: "work",
        version: 1,
        garden: reported.season.garden.name.as_deref(),
        year: reported.season.garden.year.value,
        doses,
        record: answers(reported, None),
    })
}
