//! The built-in lists as tables, JSON and rows.

mod crops;
mod others;

use serde_json::{Map, Value};

pub use crops::crops;
pub use others::{materials, signs, soil_tests, sources};

use super::csv;
use super::document::{Column, Document, Table};
use super::text::Text;

/// One list: named columns and rows of text. The first few columns are shown in a table; JSON and
/// rows for a spreadsheet hold them all.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listing {
    /// What it lists.
    pub title: &'static str,
    /// The columns.
    pub columns: Vec<&'static str>,
    /// How many of them a table shows.
    pub shown: usize,
    /// The rows.
    pub rows: Vec<Vec<String>>,
}

impl Listing {
    /// As a table.
    pub fn document(&self) -> Document {
        let mut document = Document::new(self.title);
        let columns = self.columns.iter().take(self.shown).map(|title| Column::left(*title));
        let mut table = Table::new(columns);
        for row in &self.rows {
            table.row(row.iter().take(self.shown).map(|cell| Text::from(cell.as_str())));
        }
        document.table(table);
        if self.shown < self.columns.len() {
            let more = self.columns[self.shown..].join(", ");
            document.paragraph(Text::new().dim(format!("With --format json or csv also: {more}.")));
        }
        document
    }

    /// For a program: a list of objects.
    ///
    /// # Errors
    /// None in practice: all keys are text.
    pub fn json(&self) -> Result<String, serde_json::Error> {
        let rows: Vec<Value> = self
            .rows
            .iter()
            .map(|row| {
                let pairs = self.columns.iter().zip(row).filter(|(_, cell)| !cell.is_empty());
                let object: Map<String, Value> = pairs
                    .map(|(key, cell)| (key.replace(' ', "_"), Value::String(cell.clone())))
                    .collect();
                Value::Object(object)
            })
            .collect();
        super::json::document(&rows)
    }

    /// As rows for a spreadsheet.
    pub fn sheet(&self) -> String {
        csv::sheet(&self.columns, &self.rows)
    }
}
