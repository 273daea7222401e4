//! Tables in columns, or one row beneath the other where the width is too small for columns.
//!
//! The columns are set by `comfy-table` from words alone; what each word means is laid over them
//! afterwards, so that colour can never change a width.

use comfy_table::{
    Cell, CellAlignment, ColumnConstraint, ContentArrangement, ContentLineStyle, LineStyle,
    TableStyle, Width,
};

use super::line::Line;
use super::wrap::{joined_words, longest_word, measured, natural, tones, wrap};
use super::{Terminal, strong};
use crate::report::document::{Align, Table};
use crate::report::text::{Text, Tone};

/// Spaces between columns.
const GUTTER: usize = 2;
/// Columns that a column of words keeps, if it has so many.
const READABLE: usize = 10;
/// What stands between the cells and between the rows of a table that is being set. No text holds
/// them, since control characters are shown as a replacement mark.
const CELL: char = '\u{1f}';
const ROW: char = '\u{1e}';
/// Only the marks above are drawn.
const STYLE: TableStyle = TableStyle::new()
    .header_lines(ContentLineStyle::none().junction(CELL))
    .header_separator(LineStyle::none().fill(ROW).junction(CELL))
    .row_separator(LineStyle::none().fill(ROW).junction(CELL))
    .content_lines(ContentLineStyle::none().junction(CELL));

impl Terminal {
    pub(super) fn table(&self, table: &Table, width: usize) -> Vec<Line> {
        let mut lines = wrap(&strong(&table.caption), width);
        if table.columns.is_empty() {
            return lines;
        }
        match Room::of(table, width) {
            Some(room) => self.columns(table, &room, width, &mut lines),
            None => stacked(table, width, &mut lines),
        }
        lines
    }

    fn columns(&self, table: &Table, room: &Room, width: usize, lines: &mut Vec<Line>) {
        let titles: Vec<Text> = table.columns.iter().map(|column| column.title.clone()).collect();
        let all: Vec<&[Text]> = std::iter::once(titles.as_slice())
            .chain(table.rows.iter().chain(&table.total).map(Vec::as_slice))
            .collect();
        let set = set(table, &all, room, width);
        let mut rows = set.split(|line| line.starts_with(ROW));
        // The marks between the rows are as wide as the columns.
        let rule = set.iter().find(|line| line.starts_with(ROW)).map(|line| {
            let pieces: Vec<String> = line
                .split(CELL)
                .enumerate()
                .map(|(at, piece)| {
                    let gap = if at + 1 < room.least.len() { 1 } else { 0 };
                    self.mark("─", "-").repeat(piece.chars().count() - gap)
                })
                .collect();
            Line::of(Tone::Dim, pieces.join(&" ".repeat(GUTTER)))
        });
        let last = all.len() - 1;
        for (at, cells) in all.iter().enumerate() {
            let mut toned = toned(cells, rows.next().unwrap_or_default(), self.color);
            if at == 0 && titles.iter().all(Text::is_empty) {
                continue;
            }
            if at == 0 {
                // A short header stands on the line above the rule.
                toned = at_foot(toned);
            }
            let mut row: Vec<Line> = toned.iter().map(|cells| joined(cells)).collect();
            if at == 0 || (at == last && table.total.is_some()) {
                row = row.into_iter().map(|line| line.toned(Tone::Emphasis)).collect();
            }
            if at == last && table.total.is_some() {
                lines.extend(rule.clone());
            }
            lines.extend(row);
            if at == 0 {
                lines.extend(rule.clone());
            }
        }
    }
}

static EMPTY: Text = Text { spans: Vec::new() };

fn cell(cells: &[Text], index: usize) -> &Text {
    cells.get(index).unwrap_or(&EMPTY)
}

/// The lines of all rows, their cells and rows parted by marks.
fn set(table: &Table, all: &[&[Text]], room: &Room, width: usize) -> Vec<String> {
    let mut setter = comfy_table::Table::new();
    setter
        .load_style(STYLE)
        .set_content_arrangement(match room.whole {
            true => ContentArrangement::Disabled,
            false => ContentArrangement::Dynamic,
        })
        .set_width(u16::try_from(width).unwrap_or(u16::MAX));
    for (at, cells) in all.iter().enumerate() {
        let row =
            (0..table.columns.len()).map(|index| Cell::new_owned(joined_words(cell(cells, index))));
        let row: Vec<Cell> = row.collect();
        if at == 0 {
            setter.set_header(row);
        } else {
            setter.add_row(row);
        }
    }
    let last = table.columns.len() - 1;
    for (index, (column, least)) in setter.column_iter_mut().zip(&room.least).enumerate() {
        // One space here and the mark make the gutter.
        let gap = u16::from(index < last);
        column.set_padding((0, gap));
        column.set_constraint(ColumnConstraint::LowerBoundary(Width::Fixed(least + gap)));
        column.set_cell_alignment(match table.columns[index].align {
            Align::Left => CellAlignment::Left,
            Align::Right => CellAlignment::Right,
        });
    }
    setter.lines().collect()
}

/// The cells of each line of a row, with what each of their signs means where that is shown.
fn toned(cells: &[Text], lines: &[String], shown: bool) -> Vec<Vec<Line>> {
    let columns = lines.first().map_or(0, |line| line.split(CELL).count());
    let plain = |text: &Text| !shown || text.spans.iter().all(|span| span.tone == Tone::Plain);
    let mut signs: Vec<_> = (0..columns)
        .map(|index| cell(cells, index))
        .map(|text| {
            let plain = plain(text);
            (plain, if plain { Vec::new() } else { tones(text) }.into_iter())
        })
        .collect();
    let tone = |line: &String| {
        let cells = line.split(CELL).zip(&mut signs).map(|(piece, (plain, tones))| {
            let mut set = Line::default();
            if *plain {
                set.push(Tone::Plain, piece);
                return set;
            }
            // Signs of one meaning are taken together.
            let (mut begin, mut before) = (0, Tone::Plain);
            for (at, sign) in piece.char_indices() {
                let tone = if sign == ' ' { None } else { tones.next() }.unwrap_or_default();
                if tone != before {
                    set.push(before, &piece[begin..at]);
                    (begin, before) = (at, tone);
                }
            }
            set.push(before, &piece[begin..]);
            set
        });
        cells.collect()
    };
    lines.iter().map(tone).collect()
}

/// The same cells with the empty lines above them instead of beneath.
fn at_foot(lines: Vec<Vec<Line>>) -> Vec<Vec<Line>> {
    let mut set = lines.clone();
    for index in 0..lines.first().map_or(0, Vec::len) {
        let inked = lines.iter().take_while(|cells| !cells[index].is_blank()).count();
        let above = lines.len() - inked;
        for (at, cells) in set.iter_mut().enumerate() {
            let from = if at < above { inked + at } else { at - above };
            cells[index] = lines[from][index].clone();
        }
    }
    set
}

/// One line of the cells of a row.
fn joined(cells: &[Line]) -> Line {
    let mut line = Line::default();
    for (index, cell) in cells.iter().enumerate() {
        if index > 0 {
            line.push(Tone::Plain, " ");
        }
        line.append(cell);
    }
    line
}

/// How a table fits into a width.
struct Room {
    /// The columns that each column needs at least.
    least: Vec<u16>,
    /// Whether every cell stands on one line.
    whole: bool,
}

impl Room {
    /// Nothing where the table does not fit.
    fn of(table: &Table, width: usize) -> Option<Self> {
        let (mut least, mut whole_table) = (Vec::new(), 0);
        for (index, column) in table.columns.iter().enumerate() {
            let cells = || table.rows.iter().chain(&table.total).map(|cells| cell(cells, index));
            let (whole, word) = cells()
                .map(measured)
                .fold((0, 0), |most, one| (most.0.max(one.0), most.1.max(one.1)));
            let (title, title_word) = measured(&column.title);
            let full = whole.max(title);
            let small = match column.align {
                Align::Right => whole,
                Align::Left => word.max(full.min(READABLE)),
            };
            least.push(small.max(title_word).max(1));
            whole_table += full.max(1);
        }
        let gutters = GUTTER * (least.len() - 1);
        let fits = least.iter().sum::<usize>() + gutters <= width;
        let least = least.into_iter().map(|one| u16::try_from(one).unwrap_or(u16::MAX)).collect();
        fits.then_some(Self { least, whole: whole_table + gutters <= width })
    }
}

/// Each row as a heading and its cells beneath.
fn stacked(table: &Table, width: usize, lines: &mut Vec<Line>) {
    let all = table.rows.iter().chain(&table.total);
    for (index, cells) in all.enumerate() {
        if index > 0 {
            lines.push(Line::default());
        }
        lines.extend(wrap(&strong(cell(cells, 0)), width));
        let named: Vec<(Text, Text)> = (1..table.columns.len())
            .map(|index| (table.columns[index].title.clone(), cell(cells, index).clone()))
            .filter(|(_, value)| !value.is_empty())
            .collect();
        lines.extend(pairs(&named, width - 2).into_iter().map(|line| line.indented(2)));
    }
}

/// Names with their values beside them, or beneath where there is no room beside.
pub(super) fn pairs(pairs: &[(Text, Text)], width: usize) -> Vec<Line> {
    let names = pairs.iter().map(|(name, _)| natural(name)).max().unwrap_or_default();
    let values = pairs.iter().map(|(_, value)| longest_word(value)).max().unwrap_or_default();
    let left = names.min(width / 2) + GUTTER;
    let beside = left + values <= width;
    let mut lines = Vec::new();
    for (name, value) in pairs {
        if !beside {
            lines.extend(wrap(name, width));
            lines.extend(wrap(value, width - 2).iter().map(|line| line.indented(2)));
            continue;
        }
        let (names, values) = (wrap(name, left - GUTTER), wrap(value, width - left));
        for step in 0..names.len().max(values.len()) {
            let mut line = names.get(step).cloned().unwrap_or_default();
            if let Some(value) = values.get(step) {
                line.pad(left);
                line.append(value);
            }
            lines.push(line);
        }
    }
    lines
}
