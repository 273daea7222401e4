//! What was recorded against what was planned: an application replaces the nearest
//! planned line of the same bed and material within three weeks, else it adds.

use rust_decimal::Decimal;

use crate::calendar::Date;
use crate::quantity::{Mass, settle};

/// How far apart a planned and a recorded line may lie and still be the same one: 21 days
/// (proposed).
pub const WINDOW_DAYS: i32 = 21;
/// Up to so many days off is on time: a visit moved within the week (proposed).
const ON_TIME_DAYS: i32 = 3;
/// From this many times the planned weight on, a dose counts as doubled (proposed: halfway
/// between the dose and twice the dose).
const DOUBLED_FROM_TENTHS: i64 = 15;

/// A line of the plan, as far as matching looks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlannedLine {
    /// The bed, as paths write it.
    pub bed: String,
    /// The material, as paths write it.
    pub material: String,
    /// The day.
    pub on: Date,
    /// The weight.
    pub weight: Mass,
}

/// A line of the record, as far as matching looks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecordedLine {
    /// The bed, as paths write it.
    pub bed: String,
    /// The material, as paths write it.
    pub material: String,
    /// The day.
    pub on: Date,
    /// The weight.
    pub weight: Mass,
    /// Its line in the record.
    pub line: u32,
}

/// When a recorded line came, against its planned day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Timing {
    /// So many days before.
    Early(i32),
    /// Within three days.
    OnTime,
    /// So many days after.
    Late(i32),
}

/// What a recorded line is to the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It takes the place of a planned line.
    Replaces {
        /// Which, an index into the planned lines.
        planned: usize,
        /// When it came.
        timing: Timing,
        /// Its weight less the planned one; below zero where less was given.
        difference: Mass,
        /// Whether it is one and a half times the planned weight, or more.
        doubled: bool,
    },
    /// It is one more.
    Adds {
        /// The planned line that another recorded one has taken already, where there is one within
        /// three weeks: the dose was given twice.
        again: Option<usize>,
    },
}

/// What became of a planned line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// A recorded line took its place: an index into the recorded lines.
    Done(usize),
    /// Its day is past and nothing was recorded.
    Skipped,
    /// Its day is yet to come, or is today.
    Due,
}

/// The answer: one standing for each recorded line and one fate for each planned one, in the order
/// they were given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Matched {
    /// For each recorded line.
    pub recorded: Vec<Standing>,
    /// For each planned line.
    pub planned: Vec<Fate>,
}

/// Matches what was recorded with what was planned, as seen on the day `today`.
///
/// The nearest pairs are joined first, so that neither order of lines matters; among pairs equally
/// near, the earlier planned day and then the earlier line come first.
pub fn match_lines(planned: &[PlannedLine], recorded: &[RecordedLine], today: Date) -> Matched {
    let mut pairs: Vec<(i32, Date, u32, usize, usize)> = Vec::new();
    for (p, plan) in planned.iter().enumerate() {
        for (r, done) in recorded.iter().enumerate() {
            if meets(plan, done) {
                pairs.push(((done.on - plan.on).abs(), plan.on, done.line, p, r));
            }
        }
    }
    pairs.sort_unstable();
    let mut of_plan: Vec<Option<usize>> = vec![None; planned.len()];
    let mut of_record: Vec<Option<usize>> = vec![None; recorded.len()];
    for (_, _, _, p, r) in pairs {
        if of_plan[p].is_none() && of_record[r].is_none() {
            of_plan[p] = Some(r);
            of_record[r] = Some(p);
        }
    }
    let standing = |(r, done): (usize, &RecordedLine)| match of_record[r] {
        Some(p) => replaces(p, &planned[p], done),
        None => {
            let again = (0..planned.len())
                .filter(|p| of_plan[*p].is_some() && meets(&planned[*p], done))
                .min_by_key(|p| (done.on - planned[*p].on).abs());
            Standing::Adds { again }
        }
    };
    let fate = |(p, plan): (usize, &PlannedLine)| match of_plan[p] {
        Some(r) => Fate::Done(r),
        None if plan.on < today => Fate::Skipped,
        None => Fate::Due,
    };
    Matched {
        recorded: recorded.iter().enumerate().map(standing).collect(),
        planned: planned.iter().enumerate().map(fate).collect(),
    }
}

fn meets(plan: &PlannedLine, done: &RecordedLine) -> bool {
    plan.bed == done.bed
        && plan.material == done.material
        && (done.on - plan.on).abs() <= WINDOW_DAYS
}

fn replaces(planned: usize, plan: &PlannedLine, done: &RecordedLine) -> Standing {
    let days = done.on - plan.on;
    let timing = match days {
        days if days < -ON_TIME_DAYS => Timing::Early(-days),
        days if days > ON_TIME_DAYS => Timing::Late(days),
        _ => Timing::OnTime,
    };
    let (given, wanted) = (settle(done.weight.base()), settle(plan.weight.base()));
    let doubled = given * Decimal::TEN >= wanted * Decimal::from(DOUBLED_FROM_TENTHS);
    Standing::Replaces { planned, timing, difference: done.weight - plan.weight, doubled }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> Date {
        Date::read(text).expect("a date")
    }

    fn plan(bed: &str, material: &str, on: &str, oz: i64) -> PlannedLine {
        let weight = Mass::from_oz(oz.into());
        PlannedLine { bed: bed.to_owned(), material: material.to_owned(), on: date(on), weight }
    }

    fn done(line: u32, bed: &str, material: &str, on: &str, oz: i64) -> RecordedLine {
        let weight = Mass::from_oz(oz.into());
        let (bed, material) = (bed.to_owned(), material.to_owned());
        RecordedLine { bed, material, on: date(on), weight, line }
    }

    fn replaces(planned: usize, timing: Timing, oz: i64, doubled: bool) -> Standing {
        Standing::Replaces { planned, timing, difference: Mass::from_oz(oz.into()), doubled }
    }

    #[test]
    fn late_early_skipped_and_doubled_doses_are_told_apart() {
        let planned = [
            plan("north-1", "feather-meal", "2027-05-29", 8),
            plan("north-1", "feather-meal", "2027-06-12", 8),
            plan("north-2", "feather-meal", "2027-05-29", 8),
            plan("north-2", "urea", "2027-06-12", 8),
            plan("north-2", "urea", "2027-07-24", 8),
        ];
        let recorded = [
            done(2, "north-1", "feather-meal", "2027-06-04", 8),
            done(3, "north-1", "feather-meal", "2027-06-07", 16),
            done(4, "north-2", "urea", "2027-06-11", 7),
        ];
        let matched = match_lines(&planned, &recorded, date("2027-06-13"));
        assert_eq!(
            matched.recorded,
            [
                replaces(0, Timing::Late(6), 0, false),
                replaces(1, Timing::Early(5), 8, true),
                replaces(3, Timing::OnTime, -1, false),
            ]
        );
        use Fate::{Done, Due, Skipped};
        assert_eq!(matched.planned, [Done(0), Done(1), Skipped, Done(2), Due]);
    }

    #[test]
    fn a_second_dose_adds_and_says_what_it_doubles() {
        let planned = [plan("a", "urea", "2027-05-29", 8)];
        let recorded =
            [done(2, "a", "urea", "2027-06-01", 8), done(3, "a", "urea", "2027-05-29", 8)];
        let matched = match_lines(&planned, &recorded, date("2027-06-02"));
        assert_eq!(matched.recorded[0], Standing::Adds { again: Some(0) });
        assert_eq!(matched.recorded[1], replaces(0, Timing::OnTime, 0, false));
    }

    #[test]
    fn three_weeks_is_the_reach_and_other_beds_and_materials_only_add() {
        let planned = [plan("a", "urea", "2027-05-29", 8)];
        for (line, stands) in [
            (done(2, "a", "urea", "2027-06-19", 8), replaces(0, Timing::Late(21), 0, false)),
            (done(2, "a", "urea", "2027-05-08", 8), replaces(0, Timing::Early(21), 0, false)),
            (done(2, "a", "urea", "2027-06-20", 8), Standing::Adds { again: None }),
            (done(2, "b", "urea", "2027-05-29", 8), Standing::Adds { again: None }),
            (done(2, "a", "blood-meal", "2027-05-29", 8), Standing::Adds { again: None }),
        ] {
            let matched = match_lines(&planned, std::slice::from_ref(&line), date("2027-07-01"));
            assert_eq!(matched.recorded, [stands], "{line:?}");
        }
    }
}
