//! The heading of a record: which columns it has, in which order, and which version wrote it.

use std::fmt;

use super::application::{Action, Application};
use super::cells;
use crate::nutrient::Analysis;

/// The version of the record that this program writes and reads.
pub const VERSION: u32 = 1;

/// A column of the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Column {
    /// The day.
    Date,
    /// The bed.
    Bed,
    /// The crop.
    Crop,
    /// The material.
    Material,
    /// The amount with its unit.
    Amount,
    /// The analysis.
    Analysis,
    /// How it was spread.
    Method,
    /// Lot or batch.
    Lot,
    /// Who spread it.
    Person,
    /// A note.
    Note,
    /// Applied or cancelled; its title carries the version. Last, so that a line cut short by a
    /// crash never looks whole.
    Entry,
}

impl Column {
    /// All, in the order a new record has them.
    pub const ALL: [Self; 11] = [
        Self::Date,
        Self::Bed,
        Self::Crop,
        Self::Material,
        Self::Amount,
        Self::Analysis,
        Self::Method,
        Self::Lot,
        Self::Person,
        Self::Note,
        Self::Entry,
    ];

    /// Its title, without the version.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Date => "date",
            Self::Bed => "bed",
            Self::Crop => "crop",
            Self::Material => "material",
            Self::Amount => "amount",
            Self::Analysis => "analysis",
            Self::Method => "method",
            Self::Lot => "lot",
            Self::Person => "person",
            Self::Note => "note",
            Self::Entry => "entry",
        }
    }

    /// Whether no line means anything without it.
    const fn needed(self) -> bool {
        matches!(self, Self::Date | Self::Bed | Self::Material | Self::Amount | Self::Entry)
    }
}

/// Why a file is not a record that can be read at all.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// It was written by another version of the record.
    OtherVersion {
        /// The version it names.
        found: String,
    },
    /// Its first line is not the heading.
    NoHeading {
        /// What stands there, clipped.
        found: String,
    },
    /// The heading lacks a column that every line needs, or has one twice.
    Columns {
        /// What is wrong with them.
        what: String,
    },
    /// It is not text in the encoding every spreadsheet can write.
    Encoding,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OtherVersion { found } => {
                write!(f, "the record is of version {found}, and this program reads {VERSION}")
            }
            Self::NoHeading { found } => {
                write!(f, "the record does not begin with its heading but with `{found}`")
            }
            Self::Columns { what } => write!(f, "the heading of the record {what}"),
            Self::Encoding => write!(f, "the record is saved as UTF-16, not UTF-8"),
        }
    }
}

impl std::error::Error for Refusal {}

impl Refusal {
    /// How to put it right.
    pub fn mend(&self) -> String {
        match self {
            Self::OtherVersion { .. } => {
                "use the version of the program that wrote it, or start a record beside another \
                 season file; nothing was changed"
                    .to_owned()
            }
            Self::NoHeading { .. } | Self::Columns { .. } => {
                format!("put this line first: `{}`", Heading::default().text())
            }
            Self::Encoding => {
                "save it from the spreadsheet as CSV UTF-8; nothing was changed".to_owned()
            }
        }
    }
}

/// The heading of a record: its columns in order, what parts them and how lines end. Lines are
/// added in the same shape, whatever a spreadsheet has made of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heading {
    /// What stands in each column; nothing for a column of the grower's own.
    pub columns: Vec<Option<Column>>,
    /// Comma, semicolon or tab.
    pub delimiter: char,
    /// Whether lines end in carriage return and line feed.
    pub carriage_return: bool,
}

impl Default for Heading {
    fn default() -> Self {
        let columns = Column::ALL.into_iter().map(Some).collect();
        Self { columns, delimiter: ',', carriage_return: false }
    }
}

impl Heading {
    /// Reads the heading line, without its line end.
    ///
    /// # Errors
    /// Where it is no heading, lacks a needed column or names another version.
    pub fn read(line: &str, carriage_return: bool) -> Result<Self, Refusal> {
        let no_heading = || Refusal::NoHeading { found: line.chars().take(40).collect::<String>() };
        let delimiter = [',', ';', '\t']
            .into_iter()
            .max_by_key(|delimiter| line.matches(*delimiter).count())
            .unwrap_or(',');
        let titles = cells::split(line, delimiter).ok_or_else(no_heading)?;
        let mut version = None;
        let mut columns = Vec::with_capacity(titles.len());
        for title in &titles {
            let title = title.to_lowercase();
            let (word, number) = title
                .split_once("(version")
                .map_or((title.as_str(), None), |(word, rest)| (word, rest.strip_suffix(')')));
            version = version.or(number.map(|number| number.trim().to_owned()));
            columns.push(Column::ALL.into_iter().find(|column| column.word() == word.trim()));
        }
        if columns.iter().flatten().count() < 3 {
            return Err(no_heading());
        }
        match version {
            Some(found) if found != VERSION.to_string() => {
                return Err(Refusal::OtherVersion { found });
            }
            None => {
                let what = format!("does not say `entry (version {VERSION})`");
                return Err(Refusal::Columns { what });
            }
            Some(_) => {}
        }
        for column in Column::ALL {
            let count = columns.iter().filter(|one| **one == Some(column)).count();
            let word = column.word();
            if count == 0 && column.needed() {
                return Err(Refusal::Columns { what: format!("has no `{word}`") });
            }
            if count > 1 {
                return Err(Refusal::Columns { what: format!("has `{word}` twice") });
            }
        }
        Ok(Self { columns, delimiter, carriage_return })
    }

    /// The heading line, without its line end.
    pub fn text(&self) -> String {
        let entry = format!("{} (version {VERSION})", Column::Entry.word());
        let titles = self.columns.iter().map(|column| match column {
            Some(Column::Entry) => entry.as_str(),
            Some(column) => column.word(),
            None => "",
        });
        cells::join(titles, self.delimiter)
    }

    /// How lines end.
    pub const fn line_end(&self) -> &'static str {
        if self.carriage_return { "\r\n" } else { "\n" }
    }

    /// One line for an application, with its line end, in the shape of this record.
    pub fn line(&self, action: Action, application: &Application) -> String {
        let date = application.on.to_string();
        let analysis = application.analysis.as_ref().map_or(String::new(), show_analysis);
        let row = self.columns.iter().map(|column| match column {
            Some(Column::Date) => date.as_str(),
            Some(Column::Bed) => &application.bed,
            Some(Column::Crop) => &application.crop,
            Some(Column::Material) => &application.material,
            Some(Column::Amount) => &application.amount_text,
            Some(Column::Analysis) => &analysis,
            Some(Column::Method) => &application.method,
            Some(Column::Lot) => &application.lot,
            Some(Column::Person) => &application.person,
            Some(Column::Note) => &application.note,
            Some(Column::Entry) => action.word(),
            None => "",
        });
        cells::join(row, self.delimiter) + self.line_end()
    }
}

/// What follows an analysis in the record. Without it a spreadsheet takes 10-10-10 for a day in
/// October 2010 and saves it as one.
pub(super) const ANALYSIS_WORDS: &str = "N-P2O5-K2O";

fn show_analysis(analysis: &Analysis) -> String {
    let percent = analysis.map(|share| share.percent().normalize());
    format!("{}-{}-{} {ANALYSIS_WORDS}", percent.nitrogen, percent.phosphate, percent.potash)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_heading_reads_back_in_every_delimiter() {
        for delimiter in [',', ';', '\t'] {
            let heading = Heading { delimiter, carriage_return: true, ..Heading::default() };
            assert_eq!(Heading::read(&heading.text(), true), Ok(heading));
        }
    }

    #[test]
    fn columns_may_be_moved_and_added() {
        let heading = Heading::read("Entry (version 1);weather;Date;Bed;Material;Amount", false)
            .expect("a heading");
        assert_eq!(heading.columns[1], None);
        assert_eq!(heading.delimiter, ';');
    }

    #[test]
    fn other_versions_and_other_files_are_refused() {
        let refusal = |line: &str| Heading::read(line, false).expect_err(line);
        let other = "date,bed,material,amount,entry (version 2)";
        assert_eq!(refusal(other), Refusal::OtherVersion { found: "2".to_owned() });
        assert!(matches!(refusal("name,price"), Refusal::NoHeading { .. }));
        assert!(matches!(refusal("2027-05-29,north 1,x,1 lb"), Refusal::NoHeading { .. }));
        assert!(matches!(refusal("date,bed,material,entry (version 1)"), Refusal::Columns { .. }));
        let twice = "date,date,bed,material,amount,entry (version 1)";
        assert!(matches!(refusal(twice), Refusal::Columns { .. }));
        assert!(matches!(refusal("date,bed,material,amount,entry"), Refusal::Columns { .. }));
    }
}
