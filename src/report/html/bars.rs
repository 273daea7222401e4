//! A bar for each thing compared: parts told apart by their hatching, the target by a stroke, and
//! every value in words beneath.

use maud::{Markup, PreEscaped, html};
use rust_decimal::Decimal;

use super::anchors::Anchors;
use super::inline;
use crate::quantity::round_to;
use crate::report::chart::{Bar, Bars};

/// How many parts have a hatching of their own.
const HATCHINGS: usize = 4;
/// The strokes of each filling, in a square of so many units.
const STROKES: [(&str, u8, &str); 6] = [
    ("part-0", 8, ""),
    ("part-1", 6, "<path d=\"M1.5 0V6\"/>"),
    ("part-2", 6, "<path d=\"M0 1.5H6\"/>"),
    ("part-3", 6, "<path d=\"M3 2.2V3.8\"/>"),
    ("gap", 8, "<path d=\"M-1 9L9 -1\"/>"),
    ("excess", 8, "<path d=\"M0 8L8 0M0 0L8 8\"/>"),
];

/// Sets the bars on one scale, with their legend.
pub(super) fn figure(bars: &Bars, number: usize, anchors: &Anchors) -> Markup {
    let drawing = Drawing { number, bars };
    html! {
        figure.chart {
            figcaption { (bars.title) }
            (drawing.hatchings())
            ul.legend {
                @for (index, name) in bars.parts.iter().enumerate() {
                    li { (drawing.swatch(&part(index))) (name) }
                }
                li { (drawing.swatch("gap")) (bars.gap) }
                li { (drawing.swatch("excess")) (bars.excess) }
                li {
                    svg.swatch viewBox="0 0 34 16" aria-hidden="true" {
                        path.target d="M17 0V16" {}
                    }
                    (bars.target)
                }
            }
            p.told { (bars.description) }
            ul.bars {
                @for bar in &bars.bars {
                    li {
                        span.name { (bar.label) }
                        span.verdict { (inline::text(&bar.verdict, anchors)) }
                        (drawing.bar(bar))
                        span.values { (drawing.words(bar)) }
                    }
                }
            }
        }
    }
}

fn part(index: usize) -> String {
    format!("part-{}", index % HATCHINGS)
}

struct Drawing<'a> {
    number: usize,
    bars: &'a Bars,
}

impl Drawing<'_> {
    fn fill(&self, name: &str) -> String {
        format!("url(#chart-{}-{name})", self.number)
    }

    fn hatchings(&self) -> Markup {
        html! {
            svg.hatchings width="0" height="0" aria-hidden="true" {
                defs {
                    @for (name, size, strokes) in STROKES {
                        pattern id={ "chart-" (self.number) "-" (name) } class=(name)
                            width=(size) height=(size) patternUnits="userSpaceOnUse" {
                            rect width=(size) height=(size) {}
                            (PreEscaped(strokes))
                        }
                    }
                }
            }
        }
    }

    fn swatch(&self, name: &str) -> Markup {
        html! {
            svg.swatch viewBox="0 0 34 16" aria-hidden="true" {
                rect.block x="1" y="1" width="32" height="14" fill=(self.fill(name)) {}
            }
        }
    }

    fn bar(&self, bar: &Bar) -> Markup {
        let mut pieces: Vec<(Decimal, Decimal, String)> = Vec::new();
        let mut reach = Decimal::ZERO;
        for (index, value) in bar.parts.iter().enumerate() {
            let end = (reach + (*value).max(Decimal::ZERO)).min(bar.target.max(reach));
            if end > reach && reach < bar.target {
                pieces.push((reach, end, part(index)));
            }
            reach += (*value).max(Decimal::ZERO);
        }
        if reach > bar.target {
            pieces.push((bar.target, reach, "excess".to_owned()));
        } else if reach < bar.target {
            pieces.push((reach, bar.target, "gap".to_owned()));
        }
        let target = self.percent(bar.target);
        html! {
            svg.bar role="img" {
                title { (bar.label) ": " (self.words(bar)) }
                @for (from, to, name) in &pieces {
                    rect.block x={ (self.percent(*from)) "%" } y="5" height="16"
                        width={ (self.percent(*to - *from)) "%" } fill=(self.fill(name)) {}
                }
                line.target x1={ (target) "%" } x2={ (target) "%" } y1="0" y2="26" {}
            }
        }
    }

    /// The share of the scale, which ends a little before the right edge.
    fn percent(&self, value: Decimal) -> Decimal {
        let share = value * Decimal::from(99) / self.bars.largest();
        round_to(share, Decimal::new(1, 2)).normalize()
    }

    fn words(&self, bar: &Bar) -> String {
        let mut words = format!("{} {}", self.bars.target, bar.target);
        for (name, value) in self.bars.parts.iter().zip(&bar.parts) {
            words.push_str(&format!(", {name} {value}"));
        }
        format!("{words} {}", self.bars.unit)
    }
}
