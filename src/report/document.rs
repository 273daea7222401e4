//! What is shown: a list of blocks that any renderer can set.

use super::chart::{Bars, Curve};
use super::text::Text;
use crate::calendar::Date;

/// One answer, ready to be set in any format.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Document {
    /// What it is, in a few words: the window title of a page, the first line elsewhere.
    pub title: String,
    /// One sentence beneath the title: whose garden, which year, as of when.
    pub about: Text,
    /// The blocks in reading order.
    pub blocks: Vec<Block>,
}

/// One piece of a document.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading: level 2 for a part, 3 and 4 for parts of parts (the title is level 1).
    Heading {
        /// 2 to 4; others are taken to the nearest of these.
        level: u8,
        /// The words.
        text: Text,
        /// The name by which a link finds it.
        anchor: Option<String>,
    },
    /// A paragraph.
    Paragraph(Text),
    /// A note or a caution.
    Note(Note),
    /// Items side by side in importance, or in order.
    List {
        /// Whether the items are numbered.
        ordered: bool,
        /// The items.
        items: Vec<Text>,
    },
    /// Numbered steps, each as deep as the step that uses it is above it.
    Steps(Vec<StepLine>),
    /// Names with their values.
    Pairs(Vec<(Text, Text)>),
    /// Rows and columns.
    Table(Table),
    /// Curves over the season.
    Curve(Curve),
    /// A bar for each thing compared.
    Bars(Bars),
    /// Working that a reader may open.
    Fold(Fold),
    /// Dated work with boxes to tick.
    Work(WorkList),
}

impl Block {
    /// Whether what follows belongs so closely to it that no line stands between: a small heading.
    pub const fn leads_on(&self) -> bool {
        matches!(self, Self::Heading { level: 3.., .. })
    }
}

/// One numbered step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepLine {
    /// How deep it stands: 0 for the first.
    pub depth: usize,
    /// Its number, from 1.
    pub number: usize,
    /// What it says.
    pub text: Text,
    /// The name by which a link finds it.
    pub anchor: Option<String>,
}

/// How grave a note is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum NoteKind {
    /// Worth knowing.
    Note,
    /// May hurt someone, a crop or the water if overlooked.
    Caution,
}

impl NoteKind {
    /// The word that opens the note.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "Note",
            Self::Caution => "Caution",
        }
    }
}

/// A note or a caution, with where it comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// How grave it is.
    pub kind: NoteKind,
    /// What it says.
    pub text: Text,
    /// What it is said of, where that is more than one thing.
    pub items: Vec<Text>,
    /// Who says so.
    pub source: Option<Text>,
}

/// Where the cells of a column stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Align {
    /// Words.
    #[default]
    Left,
    /// Numbers; their cells are never broken over lines.
    Right,
}

/// A column: its header and where its cells stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// The header.
    pub title: Text,
    /// Where the cells stand.
    pub align: Align,
}

impl Column {
    /// A column of words.
    pub fn left(title: impl Into<Text>) -> Self {
        Self { title: title.into(), align: Align::Left }
    }

    /// A column of numbers.
    pub fn right(title: impl Into<Text>) -> Self {
        Self { title: title.into(), align: Align::Right }
    }
}

/// Rows and columns. The first column names its row.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Table {
    /// What the table holds; empty for none.
    pub caption: Text,
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows; cells that are missing are empty, and those beyond the columns are not shown.
    pub rows: Vec<Vec<Text>>,
    /// The last row, set off from the others.
    pub total: Option<Vec<Text>>,
}

impl Table {
    /// Makes a table with these columns and no rows.
    pub fn new(columns: impl IntoIterator<Item = Column>) -> Self {
        Self { columns: columns.into_iter().collect(), ..Self::default() }
    }

    /// Says what the table holds.
    #[must_use]
    pub fn caption(mut self, caption: impl Into<Text>) -> Self {
        self.caption = caption.into();
        self
    }

    /// Adds a row.
    pub fn row(&mut self, cells: impl IntoIterator<Item = Text>) {
        self.rows.push(cells.into_iter().collect());
    }
}

/// Working that a reader may open: a title and what lies beneath it.
#[derive(Clone, Debug, PartialEq)]
pub struct Fold {
    /// What stands outside.
    pub title: Text,
    /// The name by which a link finds it: the path of the figure that it explains.
    pub anchor: Option<String>,
    /// Whether it is open from the start. A terminal shows only open folds, unless told otherwise.
    pub open: bool,
    /// What lies beneath.
    pub blocks: Vec<Block>,
}

/// Dated work with boxes to tick.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WorkList {
    /// The days in order.
    pub days: Vec<Day>,
}

/// The work of one day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Day {
    /// When.
    pub date: Date,
    /// A word beside the date, such as what kind of visit it is; empty for none.
    pub about: Text,
    /// What to do.
    pub tasks: Vec<Task>,
}

/// One thing to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Task {
    /// What to do, in one line.
    pub text: Text,
    /// How, in smaller words; empty for none.
    pub detail: Text,
    /// Whether it is done already.
    pub done: bool,
}

impl Document {
    /// Makes an empty document.
    pub fn new(title: impl Into<String>) -> Self {
        Self { title: title.into(), ..Self::default() }
    }

    /// Adds a block.
    pub fn push(&mut self, block: Block) {
        self.blocks.push(block);
    }

    /// Adds a heading of level 2, 3 or 4.
    pub fn heading(&mut self, level: u8, text: impl Into<Text>) {
        self.push(Block::Heading { level, text: text.into(), anchor: None });
    }

    /// Adds a paragraph.
    pub fn paragraph(&mut self, text: impl Into<Text>) {
        self.push(Block::Paragraph(text.into()));
    }

    /// Adds a caution with its source.
    pub fn caution(&mut self, text: impl Into<Text>, source: impl Into<Text>) {
        self.caution_of(text, Vec::new(), source);
    }

    /// Adds a caution that is said of several things, with its source.
    pub fn caution_of(&mut self, text: impl Into<Text>, items: Vec<Text>, source: impl Into<Text>) {
        let (kind, source) = (NoteKind::Caution, Some(source.into()));
        self.push(Block::Note(Note { kind, text: text.into(), items, source }));
    }

    /// Adds a note without a source.
    pub fn note(&mut self, text: impl Into<Text>) {
        let (kind, text) = (NoteKind::Note, text.into());
        let note = Note { kind, text, items: Vec::new(), source: None };
        self.push(Block::Note(note));
    }

    /// Adds a table.
    pub fn table(&mut self, table: Table) {
        self.push(Block::Table(table));
    }
}
