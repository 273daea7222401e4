//! The record, line by line.

use serde::Serialize;

use crate::nutrient::Analysis;
use crate::record::{Damage, Line, Log};
use crate::report::csv::sheet;
use crate::report::document::{Column, Document, Table};
use crate::report::json::document;
use crate::report::text::Text;

const TITLES: [&str; 12] = [
    "line", "date", "bed", "crop", "material", "amount", "analysis", "method", "lot", "person",
    "note", "state",
];

/// The lines as a table, and below it those that cannot be read. `lines` says which to show.
pub fn list(log: &Log, lines: &[&Line]) -> Document {
    let mut out = Document::new("What was spread");
    if lines.is_empty() {
        out.paragraph("Nothing is written down yet.");
    } else {
        let mut table = Table::new([
            Column::right("line"),
            Column::left("date"),
            Column::left("bed and crop"),
            Column::left("material"),
            Column::right("amount"),
            Column::left("remarks"),
        ]);
        for line in lines {
            table.row(shown(line).map(|cell| match line.cancelled_by {
                Some(_) => Text::new().dim(cell),
                None => Text::from(cell),
            }));
        }
        out.table(table);
    }
    damaged(log, &mut out);
    out
}

/// A line in few enough columns for a narrow terminal: what is seldom written stands together in
/// the last, so that neither a note nor a line taken back changes the table.
fn shown(line: &Line) -> [String; 6] {
    let said = &line.application;
    let both = |one: &str, gap: &str, other: &str| {
        let gap = if one.is_empty() || other.is_empty() { "" } else { gap };
        format!("{one}{gap}{other}")
    };
    let analysis = said.analysis.as_ref().map_or(String::new(), label);
    let mut remarks: Vec<String> = Vec::new();
    remarks.extend(line.cancelled_by.map(|by| format!("cancelled by line {by}")));
    let named = [("", &said.method), ("lot ", &said.lot), ("by ", &said.person), ("", &said.note)];
    remarks.extend(
        named
            .iter()
            .filter(|(_, text)| !text.is_empty())
            .map(|(name, text)| format!("{name}{text}")),
    );
    [
        line.number.to_string(),
        said.on.to_string(),
        both(&said.bed, ": ", &said.crop),
        both(&said.material, " ", &analysis),
        said.amount_text.clone(),
        remarks.join("; "),
    ]
}

fn damaged(log: &Log, out: &mut Document) {
    for one in &log.damaged {
        out.note(
            Text::new()
                .warning(format!("Line {} ", one.number))
                .plain(format!("{}: ", one.what))
                .code(one.text.clone())
                .plain(format!(". It is not counted; {}.", one.mend)),
        );
    }
}

/// The lines as rows for a spreadsheet.
pub fn list_sheet(lines: &[&Line]) -> String {
    sheet(&TITLES, lines.iter().map(|line| cells(line)))
}

fn cells(line: &Line) -> [String; 12] {
    let said = &line.application;
    let state = line.cancelled_by.map_or(String::new(), |by| format!("cancelled by line {by}"));
    [
        line.number.to_string(),
        said.on.to_string(),
        said.bed.clone(),
        said.crop.clone(),
        said.material.clone(),
        said.amount_text.clone(),
        said.analysis.as_ref().map_or(String::new(), label),
        said.method.clone(),
        said.lot.clone(),
        said.person.clone(),
        said.note.clone(),
        state,
    ]
}

/// An analysis as a label has it: "5-3-4".
pub(super) fn label(analysis: &Analysis) -> String {
    let percent = analysis.map(|share| share.percent().normalize());
    format!("{}-{}-{}", percent.nitrogen, percent.phosphate, percent.potash)
}

#[derive(Serialize)]
struct ListAnswer<'a> {
    document: &'static str,
    version: u32,
    lines: Vec<LineAnswer<'a>>,
    damaged: Vec<DamageAnswer<'a>>,
}

/// One line for a program.
#[derive(Serialize)]
pub(super) struct LineAnswer<'a> {
    line: u32,
    date: String,
    bed: &'a str,
    crop: &'a str,
    material: &'a str,
    amount: &'a str,
    analysis: Option<String>,
    method: &'a str,
    lot: &'a str,
    person: &'a str,
    note: &'a str,
    cancelled_by: Option<u32>,
}

#[derive(Serialize)]
struct DamageAnswer<'a> {
    line: u32,
    text: &'a str,
    what: &'a str,
    mend: &'a str,
}

impl<'a> DamageAnswer<'a> {
    fn of(one: &'a Damage) -> Self {
        Self { line: one.number, text: &one.text, what: &one.what, mend: &one.mend }
    }
}

impl<'a> LineAnswer<'a> {
    pub(super) fn of(line: &'a Line) -> Self {
        let said = &line.application;
        Self {
            line: line.number,
            date: said.on.to_string(),
            bed: &said.bed,
            crop: &said.crop,
            material: &said.material,
            amount: &said.amount_text,
            analysis: said.analysis.as_ref().map(label),
            method: &said.method,
            lot: &said.lot,
            person: &said.person,
            note: &said.note,
            cancelled_by: line.cancelled_by,
        }
    }
}

/// The lines and the damage for a program.
///
/// # Errors
/// Never in practice: every key is text.
pub fn list_json(log: &Log, lines: &[&Line]) -> Result<String, serde_json::Error> {
    document(&ListAnswer {
        document: "record",
        version: 1,
        lines: lines.iter().map(|line| LineAnswer::of(line)).collect(),
        damaged: log.damaged.iter().map(DamageAnswer::of).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::Heading;
    use crate::report::{markdown, terminal};

    fn log() -> Log {
        let text = format!(
            "{}\n2027-05-29,north 1,broccoli,feather meal,12 oz,12-0-0 N-P2O5-K2O,,L4,,,applied\n\
             2027-06-05,north 1,,urea,3 oz,,,,,,applied\n2027-06-05,north 1,,urea,3 oz,,,,,,cancelled\n\
             2027-06-06,north 1,,urea\n",
            Heading::default().text()
        );
        Log::read(text.as_bytes()).expect("a record")
    }

    #[test]
    fn the_list_names_lines_states_and_damage() {
        let log = log();
        let lines: Vec<&Line> = log.lines.iter().collect();
        let text = markdown::render(&list(&log, &lines));
        for words in ["feather meal", "12-0-0", "cancelled by line 4", "Line 5", "4 of 11 cells"] {
            assert!(text.contains(words), "{words} in {text}");
        }
        assert!(text.contains("lot L4"), "{text}");
    }

    #[test]
    fn a_line_taken_back_leaves_the_list_a_table() {
        let log = log();
        let lines: Vec<&Line> = log.lines.iter().collect();
        let mut before = log.lines.clone();
        before.iter_mut().for_each(|line| line.cancelled_by = None);
        let before: Vec<&Line> = before.iter().collect();
        let look = terminal::Terminal { width: 80, color: false, unicode: true, folds: false };
        for lines in [before, lines] {
            let text = terminal::render(&list(&Log::default(), &lines), &look);
            let head = text.lines().find(|line| line.contains("line")).expect("a header");
            for title in ["date", "bed and crop", "material", "amount", "remarks"] {
                assert!(head.contains(title), "{title} in {text}");
            }
        }
    }

    #[test]
    fn rows_and_values_hold_every_field() {
        let log = log();
        let lines: Vec<&Line> = log.lines.iter().collect();
        let rows = list_sheet(&lines);
        assert!(rows.starts_with("line,date,bed,crop,material,amount,analysis"), "{rows}");
        assert!(
            rows.contains("2,2027-05-29,north 1,broccoli,feather meal,12 oz,12-0-0,,L4"),
            "{rows}"
        );
        let json = list_json(&log, &lines).expect("text");
        assert!(
            json.contains("\"cancelled_by\": 4") && json.contains("\"analysis\": null"),
            "{json}"
        );
    }
}
