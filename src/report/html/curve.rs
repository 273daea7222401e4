//! A season's curves as a drawing that scales: lines told apart by their dashes, doses by shape
//! and number, and everything told in words besides.

use maud::{Markup, html};
use rust_decimal::Decimal;

use super::inline::raised;
use crate::calendar::Date;
use crate::quantity::round_to;
use crate::report::chart::{Curve, DoseMark, Look, Series, month_on_axis};

/// The drawing's own units: its size, and the room for labels around the field.
const WIDTH: i64 = 640;
const HEIGHT: i64 = 330;
const LEFT: i64 = 66;
const RIGHT: i64 = 24;
const TOP: i64 = 34;
const BOTTOM: i64 = 72;
/// Room for a letter in the name of a month, in the largest type that is used on a phone.
const LETTER: i64 = 15;

/// Sets a curve with its legend and the list of doses.
pub(super) fn figure(curve: &Curve, number: usize) -> Markup {
    let Some((first, last)) = curve.days() else { return html! {} };
    let field = Field { first, last, top: curve.top() };
    let (title, description) = (format!("chart-{number}-title"), format!("chart-{number}-text"));
    html! {
        figure.chart {
            figcaption { (curve.title) }
            ul.legend {
                @for (index, series) in curve.series.iter().enumerate() {
                    li { (swatch(series, index)) (series.name) }
                }
                @if !curve.doses.is_empty() { li { (dose_swatch()) "dose" } }
            }
            svg.curve viewBox={ "0 0 " (WIDTH) " " (HEIGHT) } role="img"
                aria-labelledby={ (title) " " (description) } {
                title id=(title) { (curve.title) }
                desc id=(description) { (curve.description) }
                (field.grid(&curve.unit))
                @for (index, series) in curve.series.iter().enumerate() {
                    (field.series(series, index))
                }
                (field.doses(&curve.doses))
                (field.months())
            }
            p.told { (curve.description) }
            @if !curve.doses.is_empty() {
                ol.doses {
                    @for dose in &curve.doses {
                        li {
                            time datetime=(dose.date) { (curve.told(dose.date)) } ": " (dose.label)
                        }
                    }
                }
            }
        }
    }
}

fn look(series: &Series, index: usize) -> String {
    match series.look {
        Look::Area => format!("area tint-{}", index % 4),
        Look::Line => format!("line tint-{}", index % 4),
    }
}

fn swatch(series: &Series, index: usize) -> Markup {
    html! {
        svg.swatch viewBox="0 0 34 16" aria-hidden="true" {
            g class=(look(series, index)) {
                @if series.look == Look::Area { path.fill d="M1 5H33V15H1Z" {} }
                path.stroke d="M1 5H33" {}
            }
        }
    }
}

fn dose_swatch() -> Markup {
    html! {
        svg.swatch viewBox="0 0 34 16" aria-hidden="true" { path.dose d="M17 2l8 12h-16z" {} }
    }
}

/// Where dates and values stand in the drawing.
struct Field {
    first: Date,
    last: Date,
    top: Decimal,
}

impl Field {
    const FLOOR: i64 = HEIGHT - BOTTOM;

    /// Across: tenths of a unit are finer than any screen shows.
    fn x(&self, day: Date) -> Decimal {
        let days = Decimal::from((self.last - self.first).max(1));
        let ahead = Decimal::from(day - self.first);
        tenth(Decimal::from(LEFT) + ahead * Decimal::from(WIDTH - LEFT - RIGHT) / days)
    }

    fn y(&self, value: Decimal) -> Decimal {
        let high = Decimal::from(Self::FLOOR - TOP) * value.max(Decimal::ZERO) / self.top;
        tenth(Decimal::from(Self::FLOOR) - high)
    }

    fn grid(&self, unit: &str) -> Markup {
        let half = self.top / Decimal::TWO;
        html! {
            @for value in [Decimal::ZERO, half, self.top] {
                @let y = self.y(value);
                path.grid d={ "M" (LEFT) " " (y) "H" (WIDTH - RIGHT) } {}
                text.value x=(LEFT - 8) y=(y + Decimal::from(5)) { (value.normalize()) }
            }
            text.unit x=(LEFT) y="18" { (raised(unit)) }
        }
    }

    fn series(&self, series: &Series, index: usize) -> Markup {
        let mut points = series.points.iter().map(|(day, value)| (self.x(*day), self.y(*value)));
        let Some((start, height)) = points.next() else { return html! {} };
        let mut path = format!("M{start} {height}");
        let mut end = start;
        for (x, y) in points {
            path.push_str(&format!("L{x} {y}"));
            end = x;
        }
        let floor = Self::FLOOR;
        html! {
            g class=(look(series, index)) {
                @if series.look == Look::Area {
                    path.fill d={ (path) "L" (end) " " (floor) "H" (start) "Z" } {}
                }
                path.stroke d=(path) {}
            }
        }
    }

    /// A mark for every dose, and its number in the list where the numbers before leave room.
    fn doses(&self, doses: &[DoseMark]) -> Markup {
        let floor = Self::FLOOR;
        let mut free = Decimal::ZERO;
        let mut marks = Vec::new();
        for (dose, number) in doses.iter().zip(1_usize..) {
            let (x, number) = (self.x(dose.date), number.to_string());
            let half = Decimal::from(LETTER) * Decimal::from(number.len()) / Decimal::TWO;
            let numbered = x - half >= free;
            if numbered {
                free = x + half;
            }
            marks.push((x, numbered.then_some(number)));
        }
        html! {
            @for (x, number) in marks {
                path.drop d={ "M" (x) " " (TOP) "V" (floor) } {}
                path.dose d={ "M" (x) " " (floor + 2) "l8 13h-16z" } {}
                @if let Some(number) = number {
                    text.number x=(x) y=(floor + 34) { (number) }
                }
            }
        }
    }

    /// The months: a tick on each first day, and the names that have room.
    fn months(&self) -> Markup {
        let floor = Self::FLOOR;
        let mut free = Decimal::ZERO;
        let mut marks = Vec::new();
        let mut day = self.first;
        while day <= self.last {
            if day.day() == 1 {
                let x = self.x(day);
                let name = month_on_axis(day, self.first, self.last);
                let room = Decimal::from(LETTER) * Decimal::from(name.len());
                let named = x >= free && x + room <= Decimal::from(WIDTH);
                if named {
                    free = x + room;
                }
                marks.push((x, named.then_some(name)));
            }
            day = day + 1;
        }
        let axis = format!("M{LEFT} {floor}H{}", WIDTH - RIGHT);
        html! {
            path.axis d=(axis) {}
            @for (x, name) in marks {
                path.axis d={ "M" (x) " " (floor) "v5" } {}
                @if let Some(name) = name {
                    path.axis d={ "M" (x) " " (HEIGHT - 28) "V" (HEIGHT - 10) } {}
                    text.month x=(x + Decimal::from(5)) y=(HEIGHT - 12) { (name) }
                }
            }
        }
    }
}

fn tenth(value: Decimal) -> Decimal {
    round_to(value, Decimal::new(1, 1)).normalize()
}
