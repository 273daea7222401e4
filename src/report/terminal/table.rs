//! Tables in columns, or one row beneath the other where the width is too small for columns.

use super::line::Line;
use super::wrap::{longest_word, natural, wrap};
use super::{Terminal, strong};
use crate::report::document::{Align, Table};
use crate::report::text::{Text, Tone};

/// Spaces between columns.
const GUTTER: usize = 2;
/// Columns that a column of words keeps, if it has so many.
const READABLE: usize = 12;

impl Terminal {
    pub(super) fn table(&self, table: &Table, width: usize) -> Vec<Line> {
        let mut lines = wrap(&strong(&table.caption), width);
        if table.columns.is_empty() {
            return lines;
        }
        match widths(table, width) {
            Some(widths) => self.columns(table, &widths, &mut lines),
            None => stacked(table, width, &mut lines),
        }
        lines
    }

    fn columns(&self, table: &Table, widths: &[usize], lines: &mut Vec<Line>) {
        let rule = |mark: &str| {
            let pieces: Vec<String> = widths.iter().map(|width| mark.repeat(*width)).collect();
            Line::of(Tone::Dim, pieces.join(&" ".repeat(GUTTER)))
        };
        let titles: Vec<Text> = table.columns.iter().map(|column| column.title.clone()).collect();
        if titles.iter().any(|title| !title.is_empty()) {
            // A short header stands on the line above the rule.
            let mut header = row(table, &titles, widths, true);
            lines.extend(header.drain(..).map(|line| line.toned(Tone::Emphasis)));
            lines.push(rule(self.mark("─", "-")));
        }
        for cells in &table.rows {
            lines.extend(row(table, cells, widths, false));
        }
        if let Some(total) = &table.total {
            lines.push(rule(self.mark("─", "-")));
            let total = row(table, total, widths, false);
            lines.extend(total.into_iter().map(|line| line.toned(Tone::Emphasis)));
        }
    }
}

static EMPTY: Text = Text { spans: Vec::new() };

fn cell(cells: &[Text], index: usize) -> &Text {
    cells.get(index).unwrap_or(&EMPTY)
}

/// The lines of one row; cells stand at the top of it, those of a header at its foot.
fn row(table: &Table, cells: &[Text], widths: &[usize], at_foot: bool) -> Vec<Line> {
    let set: Vec<Vec<Line>> =
        widths.iter().enumerate().map(|(index, width)| wrap(cell(cells, index), *width)).collect();
    let height = set.iter().map(Vec::len).max().unwrap_or_default().max(1);
    (0..height)
        .map(|step| {
            let mut line = Line::default();
            let mut left = 0;
            for ((column, width), lines) in table.columns.iter().zip(widths).zip(&set) {
                let above = if at_foot { height - lines.len() } else { 0 };
                if let Some(piece) = step.checked_sub(above).and_then(|step| lines.get(step)) {
                    let shift = match column.align {
                        Align::Left => 0,
                        Align::Right => width - piece.width().min(*width),
                    };
                    line.pad(left + shift);
                    line.append(piece);
                }
                left += width + GUTTER;
            }
            line
        })
        .collect()
}

/// The widths of the columns, or nothing where the table does not fit.
fn widths(table: &Table, width: usize) -> Option<Vec<usize>> {
    let rows = || table.rows.iter().chain(&table.total);
    let mut widths = Vec::new();
    let mut least = Vec::new();
    for (index, column) in table.columns.iter().enumerate() {
        let cells = || rows().map(|cells| cell(cells, index));
        let whole = cells().map(natural).max().unwrap_or_default();
        let word = cells().map(longest_word).max().unwrap_or_default();
        let full = whole.max(natural(&column.title)).max(1);
        let small = match column.align {
            Align::Right => whole,
            Align::Left => word.max(full.min(READABLE)),
        };
        least.push(small.max(longest_word(&column.title)).max(1));
        widths.push(full);
    }
    let gutters = GUTTER * (widths.len() - 1);
    if least.iter().sum::<usize>() + gutters > width {
        return None;
    }
    let mut spare = (widths.iter().sum::<usize>() + gutters).saturating_sub(width);
    while spare > 0 {
        // The widest column that can still give way gives one, the leftmost of two equal ones.
        let give = (0..widths.len())
            .filter(|index| widths[*index] > least[*index])
            .max_by_key(|index| (widths[*index], usize::MAX - index))?;
        widths[give] -= 1;
        spare -= 1;
    }
    Some(widths)
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
