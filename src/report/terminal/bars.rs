//! Bars drawn with characters: parts in different fillings, the target as a stroke.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use super::curve::legend;
use super::line::Line;
use super::wrap::{natural, wrap};
use super::{Terminal, strong};
use crate::quantity::round_to;
use crate::report::chart::{Bar, Bars};
use crate::report::text::{Text, Tone};

/// Fillings of the parts, in the order of the parts.
const FILLS: [char; 4] = ['█', '▒', '▓', '░'];
const ASCII_FILLS: [char; 4] = ['#', '=', '%', ':'];
/// The fewest columns in which bars can be told apart.
const LEAST: usize = 16;

impl Terminal {
    pub(super) fn bars(&self, bars: &Bars, width: usize) -> Vec<Line> {
        let mut lines = wrap(&strong(&bars.title.as_str().into()), width);
        let label = |bar: &Bar| natural(&bar.label.as_str().into());
        let left = bars.bars.iter().map(label).max().unwrap_or_default().min(width / 4) + 2;
        let said = bars.bars.iter().map(|bar| natural(&bar.verdict)).max().unwrap_or_default();
        // The outcome stands beside the bar where there is room, else beneath it.
        let beside = width.saturating_sub(left + said + 2) >= LEAST;
        let across = width - left - if beside { said + 2 } else { 0 };
        for bar in &bars.bars {
            let name: Text = bar.label.as_str().into();
            for (index, mut line) in wrap(&name, left - 2).into_iter().enumerate() {
                if index == 0 {
                    line.pad(left);
                    line.append(&self.bar(bars, bar, across));
                    if beside {
                        line.pad(left + across + 2);
                        wrap(&bar.verdict, said).iter().for_each(|said| line.append(said));
                    }
                }
                lines.push(line);
            }
            if !beside {
                let said = wrap(&bar.verdict, width - left);
                lines.extend(said.iter().map(|line| line.indented(left)));
            }
        }
        lines.extend(wrap(&self.bars_legend(bars), width));
        lines
    }

    fn bar(&self, bars: &Bars, bar: &Bar, across: usize) -> Line {
        let largest = bars.largest();
        // One column is kept for the target's stroke at the very end.
        let cells = Decimal::from(across.saturating_sub(1));
        let column = |value: Decimal| {
            let place = round_to(value.max(Decimal::ZERO) * cells / largest, Decimal::ONE);
            place.to_usize().unwrap_or(0)
        };
        let target = column(bar.target);
        let mut line = Line::default();
        let mut reach = Decimal::ZERO;
        let mut signs: Vec<(Tone, char)> = Vec::new();
        for (index, part) in bar.parts.iter().enumerate() {
            reach += (*part).max(Decimal::ZERO);
            let fill = self.mark(FILLS, ASCII_FILLS)[index % FILLS.len()];
            signs.resize(column(reach).max(signs.len()), (Tone::Plain, fill));
        }
        for sign in signs.iter_mut().skip(target) {
            *sign = (Tone::Warning, self.mark('»', '>'));
        }
        signs.resize(signs.len().max(target), (Tone::Dim, self.mark('╌', '.')));
        signs.insert(target, (Tone::Value, self.mark('┃', '|')));
        for (tone, sign) in signs {
            line.push(tone, &sign.to_string());
        }
        line
    }

    fn bars_legend(&self, bars: &Bars) -> Text {
        let fills = self.mark(FILLS, ASCII_FILLS);
        let mut names: Vec<(char, &str)> = Vec::new();
        for (index, name) in bars.parts.iter().enumerate() {
            names.push((fills[index % fills.len()], name));
        }
        names.push((self.mark('╌', '.'), &bars.gap));
        names.push((self.mark('»', '>'), &bars.excess));
        names.push((self.mark('┃', '|'), &bars.target));
        legend(&names, &bars.unit)
    }
}
