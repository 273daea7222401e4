//! The formats answers come in, and which command has which.

use clap::ValueEnum;
use clap::builder::{PossibleValuesParser, TypedValueParser};

use super::Failure;

/// A format of answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For the terminal.
    Table,
    /// Markdown.
    Markdown,
    /// JSON, documented and versioned.
    Json,
    /// Comma-separated values.
    Csv,
    /// One self-contained page.
    Html,
    /// Calendar (iCalendar).
    Ics,
}

impl Format {
    /// Its name on the command line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Table => "table",
            Self::Markdown => "markdown",
            Self::Json => "json",
            Self::Csv => "csv",
            Self::Html => "html",
            Self::Ics => "ics",
        }
    }

    /// Reads the formats a command has, so that its help names them and no others.
    pub(super) fn only(allowed: &'static [Self]) -> impl TypedValueParser<Value = Self> {
        let values = allowed.iter().filter_map(ValueEnum::to_possible_value);
        PossibleValuesParser::new(values)
            .try_map(|word| <Self as ValueEnum>::from_str(&word, false))
    }

    /// Checks that a command has this format.
    ///
    /// # Errors
    /// Names the formats the command has.
    pub fn among(self, command: &str, allowed: &[Self]) -> Result<Self, Failure> {
        if allowed.contains(&self) {
            return Ok(self);
        }
        let words: Vec<&str> = allowed.iter().map(|format| format.word()).collect();
        Err(Failure::wrong(
            format!("`{command}` has no {} format", self.word()),
            format!("choose one of: {}", words.join(", ")),
        ))
    }
}
