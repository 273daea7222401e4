//! Options that most commands share.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::output::{Color, Output};
use super::season::SeasonFile;
use super::{Failure, Format};
use crate::calendar::Date;
use crate::engine::setting::window;
use crate::quantity::UnitSystem;
use crate::report::document::Document;
use crate::report::number::Showing;
use crate::report::{html, markdown, terminal};

/// Units on the command line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum UnitsChoice {
    /// Pounds, feet, gallons.
    Us,
    /// Kilograms, metres, litres.
    Metric,
}

impl From<UnitsChoice> for UnitSystem {
    fn from(choice: UnitsChoice) -> Self {
        match choice {
            UnitsChoice::Us => Self::Us,
            UnitsChoice::Metric => Self::Metric,
        }
    }
}

/// Where an answer goes and how it looks.
#[derive(Args, Clone, Debug)]
pub struct Look {
    /// The format of the answer.
    #[arg(long, value_enum, default_value = "table")]
    pub format: Format,
    /// Write the answer to this file instead of the screen; it is replaced whole or not at all.
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Whether the answer is coloured.
    #[arg(long, value_enum, default_value = "auto")]
    pub color: Color,
}

impl Look {
    /// Where the answer goes.
    pub fn target(&self) -> Output {
        Output { file: self.output.clone(), color: self.color }
    }

    /// Writes a document as a table, Markdown or a page.
    ///
    /// # Errors
    /// Where the answer cannot be written.
    pub fn write_document(&self, document: &Document) -> Result<(), Failure> {
        let target = self.target();
        let text = match self.format {
            Format::Markdown => markdown::render(document),
            Format::Html => html::render(document),
            _ => {
                let terminal = terminal::Terminal {
                    width: target.width(),
                    color: target.coloured(),
                    unicode: true,
                    folds: false,
                };
                terminal::render(document, &terminal)
            }
        };
        target.write(&text)
    }
}

/// Which season, as of when, in which units.
#[derive(Args, Clone, Debug)]
pub struct About {
    /// The season file.
    #[command(flatten)]
    pub season: SeasonFile,
    /// The day the answer is for, like 2027-05-29; today where not given.
    #[arg(long, value_name = "DATE", value_parser = read_date)]
    pub on: Option<Date>,
    /// Units of the answer; those of the season file where not given.
    #[arg(long, value_enum)]
    pub units: Option<UnitsChoice>,
}

impl About {
    /// The day the answer is for.
    pub fn today(&self) -> Date {
        self.on.unwrap_or_else(today)
    }

    /// The day an answer about a season is for; nothing for one that is over, which is answered
    /// as a whole.
    ///
    /// # Errors
    /// Where a day was asked for that does not lie in the season.
    pub fn day_of(&self, year: i16) -> Result<Option<Date>, Failure> {
        let (first, last) = window(year);
        match self.on {
            Some(day) if day < first || day > last => Err(Failure::wrong(
                format!("{day} does not lie in the season of {year}"),
                format!("give a day from {first} to {last}"),
            )),
            Some(day) => Ok(Some(day)),
            None => Ok(Some(today()).filter(|day| *day <= last)),
        }
    }

    /// How amounts are shown.
    pub fn showing(&self, garden: UnitSystem) -> Showing {
        Showing::new(self.units.map_or(garden, UnitSystem::from))
    }
}

/// Reads a date on the command line.
fn read_date(text: &str) -> Result<Date, String> {
    Date::read(text).ok_or_else(|| format!("`{text}` is not a date; write it like 2027-05-29"))
}

/// The day by the clock of this machine.
pub fn today() -> Date {
    let now = jiff::ZonedDateTime::now().date();
    let part = |value: i8| value.unsigned_abs();
    Date::new(now.year(), part(now.month()), part(now.day())).unwrap_or(Date::from_number(0))
}
