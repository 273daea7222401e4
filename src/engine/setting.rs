//! What every sum of a season shares: what was said, the climate and the day it is reckoned on.

use std::collections::BTreeSet;
use std::sync::{Arc, OnceLock};

use rust_decimal::Decimal;

use super::climate::Climate;
use super::dose::Feeds;
use super::rules;
use crate::calendar::{Date, Weekday};
use crate::figure::{Figure, Origin, Step};
use crate::quantity::{Amount, Kind, Quantity, Share, Temperature, UnitSystem, share_from_float};
use crate::season::{Bed, MonthMean, Season};

/// The season, its climate and how weights are shown.
#[derive(Debug)]
pub struct Setting<'a> {
    /// What was said.
    pub season: &'a Season,
    /// Soil temperature and thermal time.
    pub climate: Climate,
    /// Units that doses are weighed in.
    pub units: UnitSystem,
    /// The day the plan is made on; nothing before it is planned anew.
    pub today: Option<Date>,
    /// Whether equal doses at the published weeks are planned too, to be set beside a solved plan.
    pub compare: bool,
    /// What is tried where no plan can hold a crop.
    pub trials: Trials,
    /// The plantings that have had all the plan gives them, as indices of bed and planting.
    pub carried_out: BTreeSet<(usize, usize)>,
    climate_steps: Vec<Arc<Step>>,
    /// What beds without a feeding of their own are fed with, once one has asked.
    feeds: OnceLock<Arc<Feeds>>,
}

/// What is tried where no plan can hold a crop.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Trials {
    /// Nothing.
    #[default]
    None,
    /// Which change would do, and how short each leaves the crop.
    Weighed,
    /// That, and the doses of the plan with each change.
    Planned,
}

/// First and last day of a season's window: 1 July of the year before to 31 December.
pub fn window(year: i16) -> (Date, Date) {
    let last = Date::new(year, 12, 31).unwrap_or(Date::from_number(0));
    (Date::new(year - 1, 7, 1).unwrap_or(last), last)
}

impl<'a> Setting<'a> {
    /// Puts the setting together.
    pub fn new(season: &'a Season, units: UnitSystem, today: Option<Date>) -> Self {
        let garden = &season.garden;
        let (first, last) = window(garden.year.value);
        let pair = |mean: &MonthMean| (mean.month, mean.mean.value);
        let climate = Climate::new(
            garden.warmest.as_ref().map(pair),
            garden.coldest.as_ref().map(pair),
            first,
            last,
        );
        let climate_steps = climate_steps(season);
        Self {
            season,
            climate,
            units,
            today,
            compare: false,
            trials: Trials::None,
            carried_out: BTreeSet::new(),
            climate_steps,
            feeds: OnceLock::new(),
        }
    }

    /// What a bed is fed with.
    pub fn feeds(&self, bed: &Bed) -> Arc<Feeds> {
        let read = || Arc::new(Feeds::of(self.season, bed));
        if Feeds::own(bed) { read() } else { Arc::clone(self.feeds.get_or_init(read)) }
    }

    /// The season's year.
    pub fn year(&self) -> i16 {
        self.season.garden.year.value
    }

    /// First day of the season's year.
    pub fn new_year(&self) -> Date {
        window(self.year()).1 - 364 - i32::from(leap(self.year()))
    }

    /// Last day of the season's year.
    pub fn year_end(&self) -> Date {
        window(self.year()).1
    }

    /// The day of the week on which beds are visited; Saturday where not said.
    pub fn visit_day(&self) -> Weekday {
        self.season.garden.visit_day.map_or(Weekday::Saturday, |day| day.value)
    }

    /// Thermal days after `from` up to and with `to`.
    pub fn thermal_days(&self, from: Date, to: Date) -> Decimal {
        share_from_float(self.climate.thermal_days(from, to))
    }

    /// The same, as a step of a derivation.
    pub fn thermal_step(&self, from: Date, to: Date) -> Arc<Step> {
        let days = self.thermal_days(from, to);
        let mut operands = self.climate_steps.clone();
        operands.push(date_step("after", from));
        operands.push(date_step("up to", to));
        let step = Step {
            label: Some("soil time".into()),
            rule: Some(&rules::THERMAL_TIME),
            amount: Amount { kind: Kind::Count, base: days },
            range: None,
            why: crate::figure::Why::Computed { operands, again: thermal_again },
        };
        Arc::new(step)
    }

    /// The share of the year's thermal days that falls after `from` up to and with `to`, counting
    /// only days of the season's year.
    pub fn year_share(&self, from: Date, to: Date) -> Figure<Share> {
        let before_year = self.new_year() - 1;
        let (part, whole) = ((from.max(before_year), to), (before_year, self.year_end()));
        let days = |(from, to)| self.thermal_days(from, to);
        Figure::computed(
            "share of the year's soil time",
            &rules::THERMAL_TIME,
            share_of_time(days(part), days(whole)),
            || vec![self.thermal_step(part.0, part.1), self.thermal_step(whole.0, whole.1)],
            |of| share_of_time(of[0].base, of[1].base).amount(),
        )
    }
}

fn share_of_time(part: Decimal, whole: Decimal) -> Share {
    let share = if whole.is_zero() { Decimal::ZERO } else { (part / whole).round_dp(9) };
    Share::from_fraction(share)
}

fn leap(year: i16) -> bool {
    Date::new(year, 2, 29).is_some()
}

/// A date as a step.
pub fn date_step(label: &'static str, date: Date) -> Arc<Step> {
    Step::leaf(label, Amount::date(date), Origin::Calendar, None)
}

/// The operands that a climate is rebuilt from: year, then month and mean of the warmest and the
/// coldest month, or the year alone where no climate is given.
fn climate_steps(season: &Season) -> Vec<Arc<Step>> {
    let garden = &season.garden;
    let year = Step::leaf(
        "year",
        Amount::count(i32::from(garden.year.value)),
        Origin::Said(garden.year.place),
        None,
    );
    let Some((warmest, coldest)) = garden.warmest.as_ref().zip(garden.coldest.as_ref()) else {
        let assumed = Step::leaf(
            "soil temperature assumed, April to October",
            Temperature::from_celsius(15.into()).amount(),
            Origin::Fixed,
            Some(&rules::TYPICAL_CLIMATE),
        );
        return vec![year, assumed];
    };
    let month = |label: &'static str, mean: &MonthMean| {
        Step::leaf(label, Amount::count(i32::from(mean.month)), Origin::Said(mean.mean.place), None)
    };
    let mean = |label: &'static str, mean: &MonthMean| {
        Step::leaf(label, mean.mean.value.amount(), Origin::Said(mean.mean.place), None)
    };
    vec![
        year,
        month("warmest month", warmest),
        mean("its mean air temperature", warmest),
        month("coldest month", coldest),
        mean("its mean air temperature", coldest),
    ]
}

/// Reckons thermal days again from what the climate was built of.
fn thermal_again(of: &[Amount]) -> Amount {
    let number =
        |amount: &Amount| rust_decimal::prelude::ToPrimitive::to_i32(&amount.base).unwrap_or(0);
    let year = i16::try_from(number(&of[0])).unwrap_or(0);
    let (first, last) = window(year);
    let month = |at: usize| {
        let month = u8::try_from(number(&of[at])).unwrap_or(0);
        (month, Temperature::from_base(of[at + 1].base))
    };
    let climate = if of.len() > 4 {
        Climate::new(Some(month(1)), Some(month(3)), first, last)
    } else {
        Climate::new(None, None, first, last)
    };
    let date = |amount: &Amount| Date::from_number(number(amount));
    let days = climate.thermal_days(date(&of[of.len() - 2]), date(&of[of.len() - 1]));
    Amount { kind: Kind::Count, base: share_from_float(days) }
}
