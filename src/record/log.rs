//! A whole record: its lines, what was taken back, and what is damaged.

use super::amount::read_amount;
use super::application::{Action, Application};
use super::cells;
use super::heading::{ANALYSIS_WORDS, Column, Heading, Refusal};
use crate::calendar::Date;
use crate::nutrient::read_analysis;

/// How many lines a cell with line breaks in it may run over.
const MOST_LINES_OF_A_CELL: usize = 20;
/// How much of a damaged line is shown.
const CLIP: usize = 100;

/// One application in the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// The line of the file, from 1; the heading is usually line 1.
    pub number: u32,
    /// What it says.
    pub application: Application,
    /// The line that takes it back, where one does.
    pub cancelled_by: Option<u32>,
}

/// A line that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Damage {
    /// The line of the file, from 1.
    pub number: u32,
    /// What stands there, clipped.
    pub text: String,
    /// What is wrong.
    pub what: String,
    /// How to put it right.
    pub mend: String,
}

/// A record as read: every line that can be read, and every one that cannot.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Log {
    /// The shape of the file; that of a new record where the file is empty.
    pub heading: Heading,
    /// The applications, in the order of the file.
    pub lines: Vec<Line>,
    /// The lines that cannot be read.
    pub damaged: Vec<Damage>,
}

impl Log {
    /// Reads a record. Line breaks of every kind, a byte order mark and blank lines are taken as
    /// they come; a line that cannot be read is set aside with its place and the rest is read.
    ///
    /// # Errors
    /// Where the file as a whole is no record, or one of another version.
    pub fn read(bytes: &[u8]) -> Result<Self, Refusal> {
        if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
            return Err(Refusal::Encoding);
        }
        let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
        let rows: Vec<(u32, &[u8])> = (1..).zip(bytes.split(|byte| *byte == b'\n')).collect();
        let mut log = Self::default();
        let blank = |row: &&(u32, &[u8])| {
            row.1.iter().all(|byte| byte.is_ascii_whitespace() || b",;".contains(byte))
        };
        let Some(first) = rows.iter().position(|row| !blank(&row)) else { return Ok(log) };
        let title = String::from_utf8_lossy(rows[first].1);
        log.heading = Heading::read(title.trim(), title.ends_with('\r'))?;
        let mut cancels = Vec::new();
        let mut at = first + 1;
        while let Some(row) = rows.get(at) {
            at += 1;
            if blank(&row) {
                continue;
            }
            match log.read_row(&rows[at - 1..]) {
                Ok((Action::Applied, application, used)) => {
                    log.lines.push(Line { number: row.0, application, cancelled_by: None });
                    at += used - 1;
                }
                Ok((Action::Cancelled, application, used)) => {
                    cancels.push((row.0, application));
                    at += used - 1;
                }
                Err((what, mend)) => log.damaged.push(damage(row, what, mend)),
            }
        }
        for (number, application) in cancels {
            log.cancel(number, &application, &rows);
        }
        Ok(log)
    }

    /// The applications that stand: those not taken back.
    pub fn standing(&self) -> impl Iterator<Item = &Line> {
        self.lines.iter().filter(|line| line.cancelled_by.is_none())
    }

    /// Takes back the nearest line before the cancelling one, or after it where a spreadsheet has
    /// sorted the table, that says the same.
    fn cancel(&mut self, number: u32, application: &Application, rows: &[(u32, &[u8])]) {
        let same =
            |line: &&mut Line| line.cancelled_by.is_none() && line.application.same_as(application);
        let nearest =
            self.lines.iter_mut().filter(same).min_by_key(|line| line.number.abs_diff(number));
        if let Some(line) = nearest {
            line.cancelled_by = Some(number);
            return;
        }
        if let Some(row) = rows.iter().find(|row| row.0 == number) {
            self.damaged.push(damage(
                row,
                "cancels an application that is not in the record".to_owned(),
                "delete the line, or put back the one it cancels".to_owned(),
            ));
        }
    }

    /// Reads the first row, which may run over several where a cell holds line breaks. Tells how
    /// many it took.
    fn read_row(&self, rows: &[(u32, &[u8])]) -> Result<(Action, Application, usize), Fault> {
        let first = text(rows[0].1)?;
        let whole = cells::split(first, self.heading.delimiter);
        if let Some(cells) = whole {
            return self.read_cells(&cells).map(|(action, application)| (action, application, 1));
        }
        self.read_over_lines(first, rows).ok_or_else(|| {
            fault("has a quote that is not closed", "close it, or write the line again")
        })
    }

    /// A cell with line breaks in it, as spreadsheets write them. A line that itself begins an
    /// entry is never swallowed: an open quote must not eat the lines after it.
    fn read_over_lines(
        &self,
        first: &str,
        rows: &[(u32, &[u8])],
    ) -> Option<(Action, Application, usize)> {
        if !cells::runs_on(first) {
            return None;
        }
        let mut joined = first.to_owned();
        for (index, row) in rows.iter().enumerate().take(MOST_LINES_OF_A_CELL).skip(1) {
            let next = text(row.1).ok()?;
            let alone = cells::split(next, self.heading.delimiter);
            if alone.is_some_and(|cells| self.read_cells(&cells).is_ok()) {
                return None;
            }
            joined = joined + " " + next;
            if !cells::runs_on(&joined) {
                let cells = cells::split(&joined, self.heading.delimiter)?;
                let (action, application) = self.read_cells(&cells).ok()?;
                return Some((action, application, index + 1));
            }
        }
        None
    }

    fn read_cells(&self, cells: &[String]) -> Result<(Action, Application), Fault> {
        let wanted = self.heading.columns.len();
        if cells.len() < wanted {
            let what = format!("has {} of {wanted} cells", cells.len());
            return Err(fault(what, "it was cut short: delete it, or write it again"));
        }
        if cells[wanted..].iter().any(|cell| !cell.is_empty()) {
            let what = format!("has {} cells where the heading has {wanted}", cells.len());
            return Err(fault(what, "put quotes around a cell that holds the delimiter"));
        }
        let cell = |column: Column| {
            let at = self.heading.columns.iter().position(|one| *one == Some(column));
            at.and_then(|at| cells.get(at)).cloned().unwrap_or_default()
        };
        let action = match cell(Column::Entry).to_lowercase().as_str() {
            "applied" => Action::Applied,
            "cancelled" => Action::Cancelled,
            other => {
                let what = format!("says `{other}` under entry");
                return Err(fault(what, "write `applied` or `cancelled`"));
            }
        };
        let date = cell(Column::Date);
        let on = Date::read(&date).ok_or_else(|| {
            let what = format!("has `{date}` for a date");
            fault(what, "write year, month and day like `2027-05-29`, as text")
        })?;
        let amount_text = cell(Column::Amount);
        let amount = read_amount(&amount_text).map_err(|bad| (bad.to_string(), bad.mend()))?;
        let label = cell(Column::Analysis).replace(ANALYSIS_WORDS, "");
        let analysis = if label.trim().is_empty() {
            None
        } else {
            Some(read_analysis(&label).map_err(|bad| (bad.to_string(), bad.mend()))?)
        };
        for column in [Column::Bed, Column::Material] {
            if cell(column).is_empty() {
                let what = format!("names no {}", column.word());
                return Err(fault(what, format!("write the {}", column.word())));
            }
        }
        let application = Application {
            on,
            bed: cell(Column::Bed),
            crop: cell(Column::Crop),
            material: cell(Column::Material),
            amount_text,
            amount,
            analysis,
            method: cell(Column::Method),
            lot: cell(Column::Lot),
            person: cell(Column::Person),
            note: cell(Column::Note),
        };
        Ok((action, application))
    }
}

type Fault = (String, String);

fn fault(what: impl Into<String>, mend: impl Into<String>) -> Fault {
    (what.into(), mend.into())
}

fn text(bytes: &[u8]) -> Result<&str, Fault> {
    let text = std::str::from_utf8(bytes)
        .map_err(|_| fault("is not UTF-8 text", "save the file as CSV UTF-8"))?;
    Ok(text.trim_end_matches('\r'))
}

fn damage((number, bytes): &(u32, &[u8]), what: String, mend: String) -> Damage {
    let shown = String::from_utf8_lossy(bytes);
    let text = shown.trim_end().chars().take(CLIP).filter(|c| !c.is_control()).collect();
    Damage { number: *number, text, what, mend }
}

#[cfg(test)]
#[path = "log_tests.rs"]
mod tests;
