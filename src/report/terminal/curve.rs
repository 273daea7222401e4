//! A season's curves drawn with characters: ground in blocks, lines in dots, doses on the axis.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use super::line::Line;
use super::wrap::wrap;
use super::{Terminal, hung, strong};
use crate::calendar::Date;
use crate::quantity::round_to;
use crate::report::chart::{Curve, Look, Series, month_on_axis};
use crate::report::text::{Text, Tone};

/// Rows of the chart, the axis not counted.
const HEIGHT: usize = 10;
/// Parts of a row that a block can fill.
const EIGHTHS: usize = 8;
const BLOCKS: [char; EIGHTHS] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
const DOTS: [char; 4] = ['●', '○', '◆', '◇'];
const ASCII_DOTS: [char; 4] = ['*', 'o', '+', 'x'];

impl Terminal {
    pub(super) fn curve(&self, curve: &Curve, width: usize) -> Vec<Line> {
        let mut lines = wrap(&strong(&curve.title.as_str().into()), width);
        let Some((first, last)) = curve.days() else { return lines };
        let top = curve.top();
        let marks: Vec<String> = [HEIGHT, HEIGHT / 2, 0]
            .map(|row| {
                let mark = top * Decimal::from(row) / Decimal::from(HEIGHT);
                mark.normalize().to_string()
            })
            .into();
        let left = marks.iter().map(String::len).max().unwrap_or_default() + 1;
        let across = width.saturating_sub(left + 1).max(2);
        let axis = Axis { first, last, across };
        let grid = self.grid(curve, &axis, top);
        for (index, cells) in grid.iter().enumerate() {
            let label = if index == 0 {
                &marks[0]
            } else if index == HEIGHT / 2 {
                &marks[1]
            } else {
                ""
            };
            let mut line = Line::of(Tone::Dim, format!("{label:>0$}", left - 1));
            line.push(Tone::Dim, self.mark(" │", " |"));
            for (tone, sign) in cells {
                line.push(*tone, &sign.to_string());
            }
            lines.push(line);
        }
        let mut floor = Line::of(Tone::Dim, format!("{:>1$}", marks[2], left - 1));
        floor.push(Tone::Dim, self.mark(" └", " +"));
        floor.push(Tone::Dim, &self.mark("─", "-").repeat(across));
        lines.push(floor);
        self.under_axis(curve, &axis, left + 1, width, &mut lines);
        lines
    }

    /// What stands in each row and column of the chart, from the top down.
    fn grid(&self, curve: &Curve, axis: &Axis, top: Decimal) -> Vec<Vec<(Tone, char)>> {
        let mut grid = vec![vec![(Tone::Plain, ' '); axis.across]; HEIGHT];
        let ground = curve.series.iter().filter(|series| series.look == Look::Area).take(1);
        for series in ground {
            for column in 0..axis.across {
                let filled = axis.level(series, column, top, HEIGHT * EIGHTHS).unwrap_or(0);
                for (row, cells) in grid.iter_mut().rev().enumerate() {
                    let part = filled.saturating_sub(row * EIGHTHS).min(EIGHTHS);
                    let sign = match part {
                        0 => continue,
                        part if self.unicode => BLOCKS[part - 1],
                        part if part * 2 > EIGHTHS => ':',
                        _ => '.',
                    };
                    cells[column] = (Tone::Dim, sign);
                }
            }
        }
        for (index, series) in lines_of(curve).enumerate() {
            let dots = self.mark(DOTS, ASCII_DOTS);
            let mut before: Option<usize> = None;
            for column in 0..axis.across {
                let Some(level) = axis.level(series, column, top, HEIGHT * EIGHTHS) else {
                    before = None;
                    continue;
                };
                let row = (level.saturating_sub(1) / EIGHTHS).min(HEIGHT - 1);
                // A steep rise is joined from the row after the one before.
                let from = before.map_or(row, |before| (before + 1).min(row));
                let joined = grid.iter_mut().rev().take(row + 1).skip(from);
                joined.for_each(|cells| cells[column] = (Tone::Value, dots[index % dots.len()]));
                before = Some(row);
            }
        }
        grid
    }

    /// Months, dose marks, the legend and what is given when.
    fn under_axis(
        &self,
        curve: &Curve,
        axis: &Axis,
        left: usize,
        width: usize,
        lines: &mut Vec<Line>,
    ) {
        let mut labels = Labels::new(axis.across);
        let mut day = axis.first;
        while day <= axis.last {
            // The name of a first month that soon ends would stand in the way of the next.
            let ends = (1..=31).find(|ahead| (day + *ahead).day() == 1).map(|ahead| day + ahead);
            let room = ends.is_none_or(|next| axis.column(next) >= axis.column(day) + 4);
            if (day == axis.first && room) || day.day() == 1 {
                labels.put(axis.column(day), &month_on_axis(day, axis.first, axis.last), false);
            }
            day = day + 1;
        }
        let doses: Vec<String> = (1..=curve.doses.len())
            .map(|count| format!("{}{count}", self.mark("▲", "^")))
            .collect();
        let mut given = Labels::new(axis.across);
        for (dose, mark) in curve.doses.iter().zip(&doses) {
            given.put(axis.column(dose.date), mark, true);
        }
        if !curve.doses.is_empty() {
            lines.push(Line::of(Tone::Emphasis, given.text()).indented(left));
        }
        lines.push(Line::of(Tone::Dim, labels.text()).indented(left));
        lines.extend(wrap(&self.legend(curve), width));
        for (dose, mark) in curve.doses.iter().zip(&doses) {
            let said =
                Text::new().dim(format!("{}: ", curve.told(dose.date))).plain(dose.label.as_str());
            let mark = format!("{mark} ");
            lines.extend(hung(&mark, wrap(&said, width.saturating_sub(mark.chars().count()))));
        }
    }

    fn legend(&self, curve: &Curve) -> Text {
        let dots = self.mark(DOTS, ASCII_DOTS);
        let mut names: Vec<(char, &str)> = Vec::new();
        for series in curve.series.iter().filter(|series| series.look == Look::Area).take(1) {
            names.push((self.mark('█', ':'), &series.name));
        }
        for (index, series) in lines_of(curve).enumerate() {
            names.push((dots[index % dots.len()], &series.name));
        }
        legend(&names, &curve.unit)
    }
}

/// What each sign stands for, one kept together with its name.
pub(super) fn legend(names: &[(char, &str)], unit: &str) -> Text {
    let one = |(sign, name): &(char, &str)| format!("{sign} {name}").replace(' ', "\u{a0}");
    let all: Vec<String> = names.iter().map(one).collect();
    Text::new().plain(all.join(", ")).dim(format!(" ({unit})"))
}

/// The series drawn as lines: all but the first area.
fn lines_of(curve: &Curve) -> impl Iterator<Item = &Series> {
    let ground = curve.series.iter().position(|series| series.look == Look::Area);
    let all = curve.series.iter().enumerate();
    all.filter(move |(index, _)| Some(*index) != ground).map(|(_, series)| series)
}

/// Dates along the columns.
struct Axis {
    first: Date,
    last: Date,
    across: usize,
}

impl Axis {
    fn days(&self) -> usize {
        (self.last - self.first).unsigned_abs() as usize
    }

    fn column(&self, day: Date) -> usize {
        let ahead = (day - self.first).max(0).unsigned_abs() as usize;
        (ahead * (self.across - 1) + self.days() / 2) / self.days().max(1)
    }

    fn day(&self, column: usize) -> Date {
        let steps = self.across - 1;
        let ahead = (column * self.days() + steps / 2) / steps;
        self.first + i32::try_from(ahead).unwrap_or(0)
    }

    /// How high a series stands in a column, in so many steps from the floor to the top.
    fn level(&self, series: &Series, column: usize, top: Decimal, steps: usize) -> Option<usize> {
        let value = series.at(self.day(column))?.max(Decimal::ZERO);
        round_to(value * Decimal::from(steps) / top, Decimal::ONE).to_usize()
    }
}

/// Words set along one line without touching one another.
struct Labels {
    cells: Vec<char>,
    free: usize,
}

impl Labels {
    fn new(across: usize) -> Self {
        Self { cells: vec![' '; across], free: 0 }
    }

    /// Sets a word at a column, or a little later where one stands there already; a word that
    /// would leave the line is moved back if it must be shown, else left out.
    fn put(&mut self, column: usize, word: &str, must: bool) {
        let signs: Vec<char> = word.chars().collect();
        let mut start = column;
        if must {
            start = start.max(self.free).min(self.cells.len().saturating_sub(signs.len()));
        }
        if start < self.free || start + signs.len() > self.cells.len() {
            return;
        }
        self.cells[start..start + signs.len()].copy_from_slice(&signs);
        self.free = start + signs.len() + usize::from(!must);
    }

    fn text(&self) -> String {
        self.cells.iter().collect()
    }
}
