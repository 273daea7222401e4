//! The record beside the season's first plan: what came late, early, doubled or not at all.

use serde::Serialize;

use super::Reported;
use super::json::unit_of;
use crate::engine::against::{Against, Given, Verdict};
use crate::quantity::Mass;
use crate::report::document::{Column, Document, Table};
use crate::report::json::number;
use crate::report::text::Text;

/// Adds the comparison, for all beds or for one; nothing where nothing is recorded.
pub(super) fn add(reported: &Reported<'_>, bed: Option<usize>, document: &mut Document) {
    let lines: Vec<&Against> = of(reported, bed).collect();
    if lines.is_empty() {
        return;
    }
    document.heading(2, "What was spread, beside the first plan");
    let show = reported.showing;
    let cell = |given: Option<Given>| match given {
        Some(given) => Text::new()
            .plain(format!("{}: ", given.on.within(reported.year())))
            .shown(&show.of(given.weight)),
        None => Text::from("–"),
    };
    let mut columns = vec![
        Column::left("bed"),
        Column::left("material"),
        Column::left("planned"),
        Column::left("given"),
        Column::left("that is"),
    ];
    if bed.is_some() {
        columns.remove(0);
    }
    let mut table = Table::new(columns);
    for line in &lines {
        let words = words(line);
        let words = match line.verdict {
            Verdict::OnTime | Verdict::Added if !line.doubled => Text::from(words),
            _ => Text::new().warning(words),
        };
        let mut row = vec![
            Text::from(reported.season.beds[line.bed].name.value.clone()),
            Text::from(line.material.clone()),
            cell(line.planned),
            cell(line.given),
            words,
        ];
        if bed.is_some() {
            row.remove(0);
        }
        table.row(row);
    }
    document.table(table);
}

fn of<'a>(reported: &Reported<'a>, bed: Option<usize>) -> impl Iterator<Item = &'a Against> {
    let against = reported.against;
    against.iter().filter(move |line| bed.is_none_or(|bed| line.bed == bed))
}

fn words(line: &Against) -> String {
    let days = |days: i32| if days == 1 { "1 day".to_owned() } else { format!("{days} days") };
    let words = match line.verdict {
        Verdict::OnTime => "as planned".to_owned(),
        Verdict::Early(early) => format!("{} early", days(early)),
        Verdict::Late(late) => format!("{} late", days(late)),
        Verdict::Skipped => "skipped: not recorded".to_owned(),
        Verdict::Added => "not in the plan".to_owned(),
        Verdict::Again => "given a second time".to_owned(),
    };
    match (line.doubled, line.verdict) {
        (false, _) | (_, Verdict::Again) => words,
        (true, _) => format!("{words}, doubled"),
    }
}

/// One line of the comparison for a program.
#[derive(Serialize)]
pub(super) struct AgainstAnswer<'a> {
    bed: &'a str,
    material: &'a str,
    verdict: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    days: Option<i32>,
    doubled: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    planned: Option<GivenAnswer>,
    #[serde(skip_serializing_if = "Option::is_none")]
    given: Option<GivenAnswer>,
}

#[derive(Serialize)]
struct GivenAnswer {
    date: String,
    weight: String,
    unit: &'static str,
}

/// The comparison for a program.
pub(super) fn answers<'a>(reported: &Reported<'a>, bed: Option<usize>) -> Vec<AgainstAnswer<'a>> {
    let unit = unit_of::<Mass>(reported.showing.system);
    let given = |given: Given| GivenAnswer {
        date: given.on.to_string(),
        weight: number(unit.of_base(given.weight.base())),
        unit: unit.symbol,
    };
    of(reported, bed)
        .map(|line| {
            let (verdict, days) = match line.verdict {
                Verdict::OnTime => ("on time", None),
                Verdict::Early(days) => ("early", Some(days)),
                Verdict::Late(days) => ("late", Some(days)),
                Verdict::Skipped => ("skipped", None),
                Verdict::Added => ("added", None),
                Verdict::Again => ("again", None),
            };
            AgainstAnswer {
                bed: &reported.season.beds[line.bed].name.value,
                material: &line.material,
                verdict,
                days,
                doubled: line.doubled,
                planned: line.planned.map(given),
                given: line.given.map(given),
            }
        })
        .collect()
}
