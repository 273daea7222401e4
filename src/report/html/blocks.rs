//! Blocks of a page.

use maud::{Markup, html};

use super::anchors::Anchors;
use super::{bars, curve, inline};
use crate::report::document::{
    Align, Block, Column, Day, Fold, Note, NoteKind, Table, Task, WorkList,
};
use crate::report::number::long_date;
use crate::report::text::Text;

/// Columns beyond which a table is read row by row on a phone.
const COLUMNS_ON_A_PHONE: usize = 3;

/// The depth beyond which steps stop moving to the right.
const DEEPEST: usize = 6;

/// Sets blocks in order; counts what needs a number of its own.
pub(super) struct Setter<'a> {
    anchors: &'a Anchors,
    part: usize,
    chart: usize,
    level: u8,
}

impl<'a> Setter<'a> {
    pub(super) const fn new(anchors: &'a Anchors) -> Self {
        Self { anchors, part: 0, chart: 0, level: 1 }
    }

    /// A part of the page: its heading and all up to the next.
    pub(super) fn part(&mut self, blocks: &[Block]) -> Markup {
        let Some((Block::Heading { level: 0..=2, text, .. }, rest)) = blocks.split_first() else {
            return self.blocks(blocks);
        };
        let name = self.anchors.part(self.part).to_owned();
        self.part += 1;
        self.level = 2;
        html! {
            section aria-labelledby=(name) {
                h2 id=(name) { (self.text(text)) }
                (self.blocks(rest))
            }
        }
    }

    fn text(&self, text: &Text) -> Markup {
        inline::text(text, self.anchors)
    }

    fn blocks(&mut self, blocks: &[Block]) -> Markup {
        html! { @for block in blocks { (self.block(block)) } }
    }

    fn block(&mut self, block: &Block) -> Markup {
        match block {
            Block::Heading { level, text, anchor } => {
                // A level is never skipped, so that headings are a tree to those who listen.
                self.level = (*level).clamp(2, 4).min(self.level + 1);
                let name = anchor.as_deref().and_then(|anchor| self.anchors.find(anchor));
                heading(self.level, name, &self.text(text))
            }
            Block::Paragraph(text) => html! { p { (self.text(text)) } },
            Block::Note(note) => self.note(note),
            Block::List { ordered, items } => {
                let items = html! { @for item in items { li { (self.text(item)) } } };
                html! { @if *ordered { ol { (items) } } @else { ul { (items) } } }
            }
            Block::Steps(steps) => html! {
                ol.steps {
                    @for step in steps {
                        @let name = step.anchor.as_deref().and_then(|name| self.anchors.find(name));
                        li id=[name] value=(step.number)
                            class=[(step.depth > 0).then(|| format!("depth-{}", step.depth.min(DEEPEST)))] {
                            (self.text(&step.text))
                        }
                    }
                }
            },
            Block::Pairs(pairs) => html! {
                dl {
                    @for (name, value) in pairs {
                        div { dt { (self.text(name)) } dd { (self.text(value)) } }
                    }
                }
            },
            Block::Table(table) => self.table(table),
            Block::Curve(curve) => {
                self.chart += 1;
                curve::figure(curve, self.chart)
            }
            Block::Bars(bars) => {
                self.chart += 1;
                bars::figure(bars, self.chart, self.anchors)
            }
            Block::Fold(fold) => self.fold(fold),
            Block::Work(work) => self.work(work),
        }
    }

    fn note(&self, note: &Note) -> Markup {
        let class = match note.kind {
            NoteKind::Note => "note",
            NoteKind::Caution => "note caution",
        };
        html! {
            div class=(class) role="note" {
                p { strong { (note.kind.word()) } ": " (self.text(&note.text)) }
                @if !note.items.is_empty() {
                    ul { @for item in &note.items { li { (self.text(item)) } } }
                }
                @if let Some(source) = &note.source {
                    p.source { "Source: " (self.text(source)) }
                }
            }
        }
    }

    fn fold(&mut self, fold: &Fold) -> Markup {
        let name = fold.anchor.as_deref().and_then(|anchor| self.anchors.find(anchor));
        let title = self.text(&fold.title);
        // Headings inside a fold would be lost in it: they do not change the level outside.
        let level = self.level;
        let inner = self.blocks(&fold.blocks);
        self.level = level;
        html! {
            details open[fold.open] {
                summary { (title) }
                // A link to a place inside a fold opens it, one to the fold itself does not.
                div id=[name] { (inner) }
            }
        }
    }

    fn table(&self, table: &Table) -> Markup {
        let stacks = table.columns.len() > COLUMNS_ON_A_PHONE;
        // A row that names nothing goes on with what the row above it named.
        let mut names: Vec<Option<&Text>> = Vec::new();
        for row in &table.rows {
            let above = names.last().copied().flatten();
            names.push(row.first().filter(|cell| !cell.is_empty()).or(above));
        }
        html! {
            table.stacks[stacks] {
                @if !table.caption.is_empty() { caption { (self.text(&table.caption)) } }
                thead {
                    tr { @for column in &table.columns { (self.header(column)) } }
                }
                tbody {
                    @for (row, name) in table.rows.iter().zip(&names) {
                        (self.row(table, row, *name, stacks))
                    }
                }
                @if let Some(total) = &table.total {
                    tfoot { (self.row(table, total, None, stacks)) }
                }
            }
        }
    }

    fn header(&self, column: &Column) -> Markup {
        let number = column.align == Align::Right;
        html! {
            // A header without words would be announced as nothing.
            @if column.title.is_empty() {
                td {}
            } @else {
                th scope="col" .number[number] { (self.text(&column.title)) }
            }
        }
    }

    fn row(&self, table: &Table, cells: &[Text], name: Option<&Text>, stacks: bool) -> Markup {
        let empty = Text::new();
        html! {
            tr {
                @for (index, column) in table.columns.iter().enumerate() {
                    @let cell = cells.get(index).unwrap_or(&empty);
                    @let label = stacks.then(|| column.title.words());
                    @if index == 0 && !cell.is_empty() {
                        th scope="row" { (self.text(cell)) }
                    } @else if let (0, Some(name)) = (index, name) {
                        // Seen only where rows stand one beneath the other, and heard everywhere.
                        th scope="row" { span.again { (self.text(name)) } }
                    } @else {
                        td .number[column.align == Align::Right] data-label=[label] {
                            // Beside its label on a phone, a cell is one thing.
                            @if stacks && !cell.is_empty() {
                                span { (self.text(cell)) }
                            } @else {
                                (self.text(cell))
                            }
                        }
                    }
                }
            }
        }
    }

    fn work(&self, work: &WorkList) -> Markup {
        html! { div.work { @for day in &work.days { (self.day(day)) } } }
    }

    fn day(&self, day: &Day) -> Markup {
        let title = html! {
            time datetime=(day.date) { (long_date(day.date)) }
            @if !day.about.is_empty() { " " span.dim { (self.text(&day.about)) } }
        };
        html! {
            div.day {
                (heading((self.level + 1).min(4), None, &title))
                ul { @for task in &day.tasks { li { (self.task(task)) } } }
            }
        }
    }

    fn task(&self, task: &Task) -> Markup {
        html! {
            label {
                input type="checkbox" checked[task.done];
                span {
                    (self.text(&task.text))
                    @if !task.detail.is_empty() { span.detail { (self.text(&task.detail)) } }
                }
            }
        }
    }
}

fn heading(level: u8, name: Option<&str>, text: &Markup) -> Markup {
    match level {
        0..=2 => html! { h2 id=[name] { (text) } },
        3 => html! { h3 id=[name] { (text) } },
        _ => html! { h4 id=[name] { (text) } },
    }
}
