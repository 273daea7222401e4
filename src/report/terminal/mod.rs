//! A document for a terminal: plain columns that never pass the width, readable without colour.

mod bars;
mod curve;
mod line;
mod table;
mod wrap;

use anstyle::{AnsiColor, Style};

use self::line::Line;
use self::wrap::wrap;
use super::document::{Block, Document, Fold, Note, NoteKind, StepLine, WorkList};
use super::number::long_date;
use super::text::{Text, Tone};
use crate::hands::each;

/// The narrowest width that is kept to; a narrower terminal gets lines of this length.
pub const NARROWEST: usize = 24;

/// Columns that the deepest step is moved to the right.
const DEEPEST: usize = 16;

/// How a terminal is written to. Whether to use colour is decided by whoever knows the terminal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Terminal {
    /// Columns that no line passes; taken as at least [`NARROWEST`].
    pub width: usize,
    /// Whether to write escape codes for colour and weight.
    pub color: bool,
    /// Whether lines and blocks beyond ASCII can be shown.
    pub unicode: bool,
    /// Whether to show the contents of folds that are closed from the start.
    pub folds: bool,
}

impl Default for Terminal {
    fn default() -> Self {
        Self { width: 80, color: false, unicode: true, folds: false }
    }
}

/// Sets a document for a terminal. Every line ends with a line feed, none with a space.
pub fn render(document: &Document, terminal: &Terminal) -> String {
    let terminal = Terminal { width: terminal.width.max(NARROWEST), ..*terminal };
    let mut lines = terminal.heading(1, &Text::from(document.title.as_str()), terminal.width);
    if !document.about.is_empty() {
        lines.extend(wrap(&document.about, terminal.width));
    }
    let head = terminal.written(&lines);
    // The blocks of a large garden are many: each is set by itself, and by many hands.
    let blocks = each(document.blocks.len(), |at| {
        terminal.written(&terminal.block(&document.blocks[at], terminal.width))
    });
    let mut text =
        String::with_capacity(head.len() + blocks.iter().map(|one| one.len() + 1).sum::<usize>());
    text.push_str(&head);
    for (parted, set) in parted(&document.blocks, blocks, String::is_empty, head.is_empty()) {
        if parted {
            text.push('\n');
        }
        text.push_str(&set);
    }
    text
}

/// The blocks as set, without those that show nothing, each with whether an empty line parts it from what
/// stands before; `first` tells whether nothing does.
fn parted<T>(
    blocks: &[Block],
    sets: impl IntoIterator<Item = T>,
    nothing: fn(&T) -> bool,
    first: bool,
) -> impl Iterator<Item = (bool, T)> {
    let mut tight = first;
    let shown = blocks.iter().zip(sets).filter(move |(_, set)| !nothing(set));
    shown.map(move |(block, set)| (!std::mem::replace(&mut tight, block.leads_on()), set))
}

/// The weight and colour of each meaning. Only the sixteen colours that a reader can choose.
const fn style(tone: Tone) -> Style {
    let plain = Style::new();
    match tone {
        Tone::Plain => plain,
        Tone::Unit | Tone::Dim => plain.dimmed(),
        Tone::Value | Tone::Emphasis => plain.bold(),
        Tone::Warning => AnsiColor::Red.on_default().bold(),
        Tone::Code => AnsiColor::Blue.on_default(),
    }
}

impl Terminal {
    /// Picks the mark that this terminal can show.
    fn mark<T>(&self, unicode: T, ascii: T) -> T {
        if self.unicode { unicode } else { ascii }
    }

    fn written(&self, lines: &[Line]) -> String {
        let mut text = String::new();
        for line in lines {
            line.write(&mut text, self.color, self.unicode);
            text.push('\n');
        }
        text
    }

    fn blocks(&self, blocks: &[Block], width: usize) -> Vec<Line> {
        let mut lines: Vec<Line> = Vec::new();
        let sets = blocks.iter().map(|block| self.block(block, width));
        for (parted, set) in parted(blocks, sets, Vec::is_empty, true) {
            if parted {
                lines.push(Line::default());
            }
            lines.extend(set);
        }
        lines
    }

    fn block(&self, block: &Block, width: usize) -> Vec<Line> {
        match block {
            Block::Heading { level, text, .. } => self.heading(*level, text, width),
            Block::Paragraph(text) => wrap(text, width),
            Block::Note(note) => self.note(note, width),
            Block::List { ordered, items } => self.list(*ordered, items, width),
            Block::Steps(steps) => self.steps(steps, width),
            Block::Pairs(pairs) => table::pairs(pairs, width),
            Block::Table(table) => self.table(table, width),
            Block::Curve(curve) => self.curve(curve, width),
            Block::Bars(bars) => self.bars(bars, width),
            Block::Fold(fold) => self.fold(fold, width),
            Block::Work(work) => self.work(work, width),
        }
    }

    fn heading(&self, level: u8, text: &Text, width: usize) -> Vec<Line> {
        let mut lines = wrap(&strong(text), width);
        let under = match level {
            0 | 1 => self.mark("═", "="),
            2 => self.mark("─", "-"),
            _ => return lines,
        };
        let longest = lines.iter().map(Line::width).max().unwrap_or_default();
        if longest > 0 {
            lines.push(Line::of(Tone::Dim, under.repeat(longest)));
        }
        lines
    }

    fn note(&self, note: &Note, width: usize) -> Vec<Line> {
        let tone = match note.kind {
            NoteKind::Note => Tone::Emphasis,
            NoteKind::Caution => Tone::Warning,
        };
        let said = Text::new().span(tone, note.kind.word()).plain(": ").and(note.text.clone());
        let mut lines = wrap(&said, width - 2);
        lines.extend(self.list(false, &note.items, width - 2));
        if let Some(source) = &note.source {
            let said = wrap(&Text::from("Source: ").and(source.clone()), width - 2);
            lines.extend(said.into_iter().map(|line| line.toned(Tone::Dim)));
        }
        let bar = match note.kind {
            NoteKind::Note => self.mark("│ ", "| "),
            NoteKind::Caution => self.mark("┃ ", "! "),
        };
        lines.into_iter().map(|line| line.after(tone_of_bar(note.kind), bar)).collect()
    }

    fn list(&self, ordered: bool, items: &[Text], width: usize) -> Vec<Line> {
        let mut lines = Vec::new();
        for (index, item) in items.iter().enumerate() {
            let bullet = if ordered {
                format!("{}. ", index + 1)
            } else {
                self.mark("• ", "- ").to_owned()
            };
            lines.extend(hung(&bullet, wrap(item, width - bullet.chars().count())));
        }
        lines
    }

    fn steps(&self, steps: &[StepLine], width: usize) -> Vec<Line> {
        // Numbers stand in one column, however many there are.
        let most = steps.iter().map(|step| step.number).max().unwrap_or_default();
        let digits = most.to_string().len();
        let mut lines = Vec::new();
        for step in steps {
            // Deep working runs out of room: it stops moving to the right.
            let indent = (2 * step.depth).min(DEEPEST).min(width.saturating_sub(NARROWEST));
            let mark = format!("{:>digits$}. {}", step.number, " ".repeat(indent));
            let left = mark.len();
            let room = width.saturating_sub(left).max(NARROWEST / 2);
            lines.extend(hung(&mark, wrap(&step.text, room)));
        }
        lines
    }

    fn fold(&self, fold: &Fold, width: usize) -> Vec<Line> {
        if !fold.open && !self.folds {
            return Vec::new();
        }
        let mut lines = wrap(&strong(&fold.title), width);
        // Deep working runs out of room: it stops moving to the right.
        let indent = if width >= NARROWEST + 8 { 2 } else { 0 };
        let inner = self.blocks(&fold.blocks, width - indent);
        lines.extend(inner.into_iter().map(|line| line.indented(indent)));
        lines
    }

    fn work(&self, work: &WorkList, width: usize) -> Vec<Line> {
        let mut lines = Vec::new();
        for day in &work.days {
            if !lines.is_empty() {
                lines.push(Line::default());
            }
            let mut title = Text::new().emphasis(long_date(day.date));
            if !day.about.is_empty() {
                title = title.plain("  ").and(day.about.clone());
            }
            lines.extend(wrap(&title, width));
            for task in &day.tasks {
                let mut said = wrap(&task.text, width - 6);
                said.extend(wrap(&task.detail, width - 6));
                lines.extend(hung(if task.done { "  [x] " } else { "  [ ] " }, said));
            }
        }
        lines
    }
}

/// Makes ordinary words stand out and leaves the others their meaning.
fn strong(text: &Text) -> Text {
    let mut text = text.clone();
    for span in &mut text.spans {
        if span.tone == Tone::Plain {
            span.tone = Tone::Emphasis;
        }
    }
    text
}

const fn tone_of_bar(kind: NoteKind) -> Tone {
    match kind {
        NoteKind::Note => Tone::Dim,
        NoteKind::Caution => Tone::Warning,
    }
}

/// Puts a mark before the first line and moves the others in line with it.
fn hung(mark: &str, lines: Vec<Line>) -> Vec<Line> {
    let indent = mark.chars().count();
    let mut lines = lines.into_iter();
    let first = lines.next().map(|line| line.after(Tone::Plain, mark));
    first.into_iter().chain(lines.map(|line| line.indented(indent))).collect()
}

#[cfg(test)]
mod tests;
