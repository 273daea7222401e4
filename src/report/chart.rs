//! What a chart shows, in the units of the screen; how it is drawn is the renderer's business.

use rust_decimal::Decimal;

use super::text::Text;
use crate::calendar::Date;

/// How one series of a curve is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// As the ground beneath a line: what is there. One at most is drawn so in a terminal.
    Area,
    /// As a line above it: what must be reached.
    Line,
}

/// One series: a name and its values by date.
#[derive(Clone, Debug, PartialEq)]
pub struct Series {
    /// Its name in the legend.
    pub name: String,
    /// How it is drawn.
    pub look: Look,
    /// Values by date, in date order, as exact as they come. Two values on one day draw a step.
    pub points: Vec<(Date, Decimal)>,
}

/// A mark on a day: something is given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DoseMark {
    /// The day.
    pub date: Date,
    /// What is given, in a few words.
    pub label: String,
}

/// Several series over the dates of a season, with marks.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// What the chart shows.
    pub title: String,
    /// The same told in words, for those who cannot see it.
    pub description: String,
    /// The unit of every value.
    pub unit: String,
    /// The series.
    pub series: Vec<Series>,
    /// The marks, in date order.
    pub doses: Vec<DoseMark>,
}

/// One bar: parts laid end to end against a target.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// What it is about.
    pub label: String,
    /// What the parts should reach, rounded as it is to be read.
    pub target: Decimal,
    /// A value for each part, rounded as it is to be read, in the order of the names; one below
    /// zero takes no room.
    pub parts: Vec<Decimal>,
    /// The outcome in words, so that the bar is not the only one to tell it.
    pub verdict: Text,
}

/// A bar for each thing compared, all on one scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Bars {
    /// What the chart shows.
    pub title: String,
    /// The same told in words, for those who cannot see it.
    pub description: String,
    /// The unit of every value.
    pub unit: String,
    /// What the target is called: "need".
    pub target: String,
    /// What the parts are called: "soil and compost", "doses".
    pub parts: Vec<String>,
    /// What a gap before the target is called: "short".
    pub gap: String,
    /// What reaches past the target is called: "over".
    pub excess: String,
    /// The bars.
    pub bars: Vec<Bar>,
}

impl Bar {
    /// The sum of the parts, none counted below zero.
    pub fn reach(&self) -> Decimal {
        self.parts.iter().map(|part| (*part).max(Decimal::ZERO)).sum()
    }
}

impl Bars {
    /// The end of the scale: the largest of all targets and sums, and never zero.
    pub fn largest(&self) -> Decimal {
        let largest = self.bars.iter().map(|bar| bar.reach().max(bar.target)).max();
        largest.filter(|value| *value > Decimal::ZERO).unwrap_or(Decimal::ONE)
    }
}

impl Curve {
    /// A day as it is told beside the chart: with its year where that is not the last one's.
    pub fn told(&self, day: Date) -> String {
        let last = self.days().map_or(day, |(_, last)| last);
        day.within(last.year())
    }

    /// The first and last day on the chart, marks included.
    pub fn days(&self) -> Option<(Date, Date)> {
        let points =
            self.series.iter().flat_map(|series| series.points.iter().map(|(day, _)| *day));
        let days = || points.clone().chain(self.doses.iter().map(|dose| dose.date));
        Some((days().min()?, days().max()?))
    }

    /// The end of the value scale: the smallest round number that no value passes, never zero.
    pub fn top(&self) -> Decimal {
        let points = self.series.iter().flat_map(|series| series.points.iter());
        round_up(points.map(|(_, value)| *value).max().unwrap_or_default())
    }
}

impl Series {
    /// The value at the end of a day, straight between the days given; nothing outside them.
    pub fn at(&self, day: Date) -> Option<Decimal> {
        let after = self.points.iter().position(|(date, _)| *date > day);
        let before = self.points[..after.unwrap_or(self.points.len())].last()?;
        if before.0 == day {
            return Some(before.1);
        }
        let after = self.points.get(after?)?;
        let (whole, part) = (after.0 - before.0, day - before.0);
        Some(before.1 + (after.1 - before.1) * Decimal::from(part) / Decimal::from(whole))
    }
}

/// The name of a month on the axis between two days: a January says its year where years change.
pub(super) fn month_on_axis(day: Date, first: Date, last: Date) -> String {
    let month = day.month_name();
    if day.month() == 1 && first.year() != last.year() {
        format!("{month} {}", day.year())
    } else {
        month.to_owned()
    }
}

/// Returns the smallest of 1, 1.5, 2, 3, 4, 5, 6, 8 times a power of ten that is not below the
/// value; 1 where the value is not above zero.
fn round_up(value: Decimal) -> Decimal {
    const STEPS: [i64; 8] = [10, 15, 20, 30, 40, 50, 60, 80];
    if value <= Decimal::ZERO {
        return Decimal::ONE;
    }
    let ten = Decimal::TEN;
    let mut power = Decimal::ONE;
    while power * ten <= value && power < Decimal::from(1_000_000_000_000_i64) {
        power *= ten;
    }
    while power > value && power > Decimal::new(1, 9) {
        power /= ten;
    }
    let rounds = STEPS.iter().map(|step| Decimal::from(*step) / ten * power);
    rounds.into_iter().find(|round| *round >= value).unwrap_or(power * ten).normalize()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn d(text: &str) -> Decimal {
        text.parse().expect("a decimal")
    }

    #[test]
    fn scales_end_on_a_round_number() {
        for (value, top) in [
            ("0", "1"),
            ("-3", "1"),
            ("1", "1"),
            ("1.01", "1.5"),
            ("0.0123", "0.015"),
            ("7", "8"),
            ("81", "100"),
            ("1234", "1500"),
        ] {
            assert_eq!(round_up(d(value)), d(top), "{value}");
        }
    }

    #[test]
    fn a_series_is_straight_between_its_days_and_steps_on_one() {
        let day = Date::from_number;
        let points =
            vec![(day(10), d("0")), (day(14), d("4")), (day(14), d("6")), (day(16), d("7"))];
        let series = Series { name: String::new(), look: Look::Line, points };
        assert_eq!(series.at(day(9)), None);
        assert_eq!(series.at(day(11)), Some(d("1")));
        assert_eq!(series.at(day(14)), Some(d("6")));
        assert_eq!(series.at(day(15)), Some(d("6.5")));
        assert_eq!(series.at(day(17)), None);
    }
}
