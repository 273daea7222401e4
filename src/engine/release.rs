//! How the nitrogen of a material becomes available: what is mineral at once, what is organic from
//! two pools, each running down at its own pace in thermal days.

use super::climate::Climate;
use crate::calendar::Date;
use crate::catalogue::{Feedstock, PoolClass};
use crate::quantity::{constant_from_float, to_float};

/// Thermal days of the catalogue's first-season shares: 120 days at 20 C, days at 25 C.
pub const FIRST_SEASON_DAYS: f64 = 120.0 * std::f64::consts::FRAC_1_SQRT_2;
/// Before planting, only what is released in this many days counts; earlier nitrate is taken as gone.
pub const DAYS_BEFORE_PLANTING: i32 = 30;

/// The part of a pool below which what is left of it has lost its digits.
const RUN_OUT: f64 = 1e-200;

/// The availability of one material's nitrogen, as shares of its total nitrogen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Release {
    /// Mineral nitrogen that counts, available at once.
    pub mineral: f64,
    /// The fast pool; below zero where the material ties nitrogen up.
    pub fast: f64,
    /// Its rate, per day at 25 C.
    pub fast_rate: f64,
    /// The slow pool.
    pub slow: f64,
    /// Its rate, per day at 25 C.
    pub slow_rate: f64,
}

impl PoolClass {
    /// Pools as shares of organic nitrogen, rates per day at 25 C: fast pool, its rate, slow pool, its rate: fitted to published incubations (meals: Hartz and
    /// Johnstone 2006; plant: Agehara and Warncke 2005; poultry: Gordillo and Cabrera 1997;
    /// manure: Cornell's 25 % of organic N for dry matter of 18 % or more; compost: Hadas and
    /// Portnoy 1994). The slow rates of manure and compost are proposed.
    const fn pools(self) -> (f64, f64, f64, f64) {
        match self {
            Self::Meal => (0.52, 0.40, 0.25, 0.014),
            Self::Plant => (0.30, 0.12, 0.42, 0.009),
            Self::Poultry => (0.34, 0.25, 0.31, 0.02),
            Self::Manure => (0.25, 0.05, 0.17, 0.0006),
            // Mixed feedstock at a carbon-to-nitrogen ratio of 12; all the rest is the slow pool.
            Self::Compost => (0.0912, 0.05, 0.9088, 0.00032),
        }
    }
}

impl Release {
    /// All at once: mineral fertilizer.
    pub const AT_ONCE: Self =
        Self { mineral: 1.0, fast: 0.0, fast_rate: 0.0, slow: 0.0, slow_rate: 0.0 };

    /// Returns the release of a class, with the shares of total nitrogen (0 to 1) that are mineral
    /// and count, and that are organic. The two fall short of 1 by what is lost as ammonia.
    pub fn of_class(class: PoolClass, mineral: f64, organic: f64) -> Self {
        let (fast, fast_rate, slow, slow_rate) = class.pools();
        Self { mineral, fast: organic * fast, fast_rate, slow: organic * slow, slow_rate }
    }

    /// Returns the release of a compost whose carbon-to-nitrogen ratio a laboratory measured:
    /// the fast pool by the formula, all the rest of the organic nitrogen in the slow pool.
    pub fn of_compost(feedstock: Feedstock, ratio: f64, mineral: f64, organic: f64) -> Self {
        let (_, fast_rate, _, slow_rate) = PoolClass::Compost.pools();
        let fast = compost_share(feedstock, ratio);
        let slow = organic * (1.0 - fast.max(0.0));
        Self { mineral, fast: organic * fast, fast_rate, slow, slow_rate }
    }

    /// Returns the release with both pools multiplied by one factor, so that the share of total
    /// nitrogen available after 120 days at 20 C is `typical`. A share below the mineral part gives
    /// a factor below zero: the material ties nitrogen up. Nothing organic: unchanged.
    pub fn scaled_to(self, typical: f64) -> Self {
        let organic = self.after(FIRST_SEASON_DAYS) - self.mineral;
        if organic.abs() < f64::EPSILON {
            return self;
        }
        let factor = (typical - self.mineral) / organic;
        Self { fast: self.fast * factor, slow: self.slow * factor, ..self }
    }

    /// Returns the release made of the numbers that an explanation shows of it, to fifteen digits.
    pub fn as_shown(self) -> Self {
        let shown = |value: f64| to_float(constant_from_float(value));
        Self {
            mineral: shown(self.mineral),
            fast: shown(self.fast),
            fast_rate: shown(self.fast_rate),
            slow: shown(self.slow),
            slow_rate: shown(self.slow_rate),
        }
    }

    /// Returns the share of total nitrogen available after some thermal days (days at 25 C).
    pub fn after(&self, thermal_days: f64) -> f64 {
        // Most of what is spread beside a crop has no pool to run down.
        let run_down = |pool: f64, rate: f64| match pool {
            0.0 => 0.0,
            pool => pool * -libm::expm1(-rate * thermal_days),
        };
        self.mineral + run_down(self.fast, self.fast_rate) + run_down(self.slow, self.slow_rate)
    }

    /// Tells whether all of it is available at once. Where ammonia was lost, not all is.
    pub fn at_once(&self) -> bool {
        self.fast == 0.0 && self.slow == 0.0 && self.mineral >= 1.0
    }

    /// Returns the share of total nitrogen available by the end of `day` from what was spread on
    /// `applied`: nothing before that day, the mineral part from that day on.
    pub fn by(&self, climate: &Climate, applied: Date, day: Date) -> f64 {
        self.running(climate, &Run::from(climate, applied), day)
    }

    /// The same for something whose standing still in winter has been looked up before.
    pub fn running(&self, climate: &Climate, run: &Run, day: Date) -> f64 {
        if day < run.applied { 0.0 } else { self.after(run.days(climate, day)) }
    }

    /// Returns, for each day on which it might be spread, the share available by the end of that day, of
    /// the day after, and so on up to `last`.
    pub fn curves(&self, climate: &Climate, spread: &[Date], last: Date) -> Vec<Vec<f64>> {
        let Some(first) = spread.iter().min().copied() else { return Vec::new() };
        let days = |from: Date| (from.number()..=last.number()).map(Date::from_number);
        // What is left of a pool on each day: a day's exponential serves for every day of spreading.
        let left = |rate: f64| -> Vec<f64> {
            days(first).map(|day| libm::exp(-rate * climate.thermal_days(first, day))).collect()
        };
        let (fast, slow) = (left(self.fast_rate), left(self.slow_rate));
        let curve = |spread: &Date| -> Vec<f64> {
            let run = Run::from(climate, *spread);
            let from = usize::try_from(*spread - first).unwrap_or(0);
            let (Some(fast), Some(slow)) = (fast.get(from..), slow.get(from..)) else {
                return Vec::new();
            };
            // By the end of a season a quick pool may be too far gone to divide by.
            let run_out = fast.first().is_none_or(|left| *left < RUN_OUT);
            if run.winter.is_some() || run_out {
                return days(*spread).map(|day| self.running(climate, &run, day)).collect();
            }
            let gone = |left: &[f64], day: usize| 1.0 - left[day] / left[0];
            (0..fast.len())
                .map(|day| self.mineral + self.fast * gone(fast, day) + self.slow * gone(slow, day))
                .collect()
        };
        spread.iter().map(curve).collect()
    }

    /// Returns the share that becomes available after the end of `from` and by the end of `to`.
    pub fn between(&self, climate: &Climate, applied: Date, from: Date, to: Date) -> f64 {
        self.by(climate, applied, to.max(from)) - self.by(climate, applied, from)
    }

    /// Returns the share that counts for a planting by the end of `day`: what is released from
    /// [`counted_from`] on.
    pub fn counted(
        &self,
        climate: &Climate,
        applied: Date,
        planted: Date,
        harvest: Date,
        day: Date,
    ) -> f64 {
        let start = counted_from(climate, applied, planted, harvest);
        self.between(climate, applied, start - 1, day)
    }
}

/// Returns the share of a compost's organic nitrogen that is available in the first season, from its
/// carbon-to-nitrogen ratio; below zero it ties nitrogen up (derived from published class means).
pub fn compost_share(feedstock: Feedstock, ratio: f64) -> f64 {
    let factor = match feedstock {
        Feedstock::Poultry => 1.0,
        Feedstock::Mixed => 0.6,
        Feedstock::Plant => 0.4,
    };
    if ratio < 20.0 {
        (factor * 0.019 * (20.0 - ratio)).min(0.30)
    } else if ratio <= 30.0 {
        0.0
    } else {
        (-0.005 * (ratio - 30.0)).max(-0.10)
    }
}

/// The soil time of something spread on one day, its winter looked up once.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Run {
    /// The day it was spread.
    pub applied: Date,
    winter: Option<(Date, Date)>,
}

impl Run {
    /// Begins on the day something is spread.
    pub fn from(climate: &Climate, applied: Date) -> Self {
        Self { applied, winter: winter_after(climate, applied) }
    }

    /// Returns the thermal days that count up to the end of `day`. What is spread from 1 August on,
    /// until winter's end, stands still from 1 October to 15 March.
    pub fn days(&self, climate: &Climate, day: Date) -> f64 {
        let whole = climate.thermal_days(self.applied, day);
        match self.winter {
            Some((first, last)) => {
                let from = self.applied.max(first - 1);
                whole - climate.thermal_days(from, day.min(last).max(from))
            }
            None => whole,
        }
    }
}

/// Returns the first day whose release counts for a planting: 30 days before planting; after
/// winter's end for what was spread in autumn and is used by a crop that stands over it, because
/// nitrate is not carried over winter.
pub fn counted_from(climate: &Climate, applied: Date, planted: Date, harvest: Date) -> Date {
    let start = planted - DAYS_BEFORE_PLANTING;
    match winter_after(climate, applied) {
        Some((_, last)) if last < harvest && applied <= last => start.max(last + 1),
        _ => start,
    }
}

/// Returns the first and last day of the winter in which something spread on this day stands
/// still: 1 October to 15 March, for what is spread from 1 August to that 15 March; half a year
/// later south of the equator. Nothing for what is spread between winter's end and 31 July.
pub fn winter_after(climate: &Climate, applied: Date) -> Option<(Date, Date)> {
    let (spread_month, first_month, last_month) =
        if climate.southern() { (2, 4, 9) } else { (8, 10, 3) };
    let (year, month) = applied.year_and_month();
    let year = year - i16::from(month < spread_month);
    let last_year = if climate.southern() { year } else { year + 1 };
    let last = Date::first_of(last_year, last_month) + 14;
    (applied <= last).then(|| (Date::first_of(year, first_month), last))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> Date {
        Date::read(text).expect("a date")
    }

    /// Soil at 15 C from April to October: half a thermal day each day.
    fn climate() -> Climate {
        Climate::new(None, None, date("2026-07-01"), date("2027-12-31"))
    }

    fn at(celsius: f64, days: f64) -> f64 {
        days * libm::exp2((celsius - 25.0) / 10.0)
    }

    #[test]
    fn the_pools_reproduce_their_printed_vectors() {
        // Percent of organic N, fitted to Hartz and Johnstone 2006 (56 days: 56 at 10 C, 66 at
        // 25 C measured) and Agehara and Warncke 2005 (84 days: 41 to 52 measured).
        let days = [14.0, 28.0, 56.0, 84.0, 120.0];
        for (class, celsius, percents) in [
            (PoolClass::Meal, 20.0, [54.2, 58.0, 62.6, 66.1, 69.4]),
            (PoolClass::Meal, 10.0, [46.5, 54.2, 58.0, 60.5, 63.2]),
            (PoolClass::Plant, 20.0, [24.4, 34.1, 42.3, 47.4, 52.4]),
        ] {
            let release = Release::of_class(class, 0.0, 1.0);
            for (day, percent) in days.into_iter().zip(percents) {
                let got = 100.0 * release.after(at(celsius, day));
                assert!((got - percent).abs() < 0.06, "{class:?} {celsius} C {day}: {got}");
            }
        }
        let meal = Release::of_class(PoolClass::Meal, 0.0, 1.0);
        assert!((100.0 * meal.after(at(25.0, 56.0)) - 65.6).abs() < 0.05);
        let plant = Release::of_class(PoolClass::Plant, 0.0, 1.0);
        assert!((100.0 * plant.after(at(12.9, 84.0)) - 41.3).abs() < 0.05);
        assert!((100.0 * plant.after(at(22.9, 84.0)) - 50.1).abs() < 0.05);
        let poultry = Release::of_class(PoolClass::Poultry, 0.0, 1.0);
        assert!((100.0 * poultry.after(at(18.0, 84.0)) - 54.0).abs() < 0.6);
    }

    /// Spread before, in and after the winter in which it stands still, in a summer that empties the
    /// quick pool many times over: the same as day by day.
    #[test]
    fn curves_are_what_is_reckoned_day_by_day() {
        let climate = climate();
        let spread: Vec<Date> =
            ["2026-07-05", "2026-09-12", "2027-02-06", "2027-03-20", "2027-08-14"]
                .map(date)
                .to_vec();
        let last = date("2027-11-30");
        for fast_rate in [0.05, 4.0] {
            let meal = Release { fast_rate, ..Release::of_class(PoolClass::Meal, 0.1, 0.9) };
            let curves = meal.curves(&climate, &spread, last);
            assert_eq!(curves.len(), spread.len());
            for (on, curve) in spread.iter().zip(&curves) {
                assert_eq!(curve.len(), usize::try_from(last - *on + 1).expect("days"));
                for (age, share) in (0..).zip(curve) {
                    let wanted = meal.by(&climate, *on, *on + age);
                    assert!((share - wanted).abs() < 1e-12, "{on} {age}: {share} {wanted}");
                }
            }
        }
    }

    #[test]
    fn composts_follow_their_ratio() {
        // Poultry 8: 22.8 (Lazicki 2020: 15 to 30). Cattle 12: 9.1. Yard 14: 4.6 (at most 5).
        assert!((compost_share(Feedstock::Poultry, 8.0) - 0.228).abs() < 1e-9);
        assert!((compost_share(Feedstock::Mixed, 12.0) - 0.0912).abs() < 1e-9);
        assert!((compost_share(Feedstock::Plant, 14.0) - 0.0456).abs() < 1e-9);
        assert_eq!(compost_share(Feedstock::Poultry, 2.0), 0.30);
        assert_eq!(compost_share(Feedstock::Plant, 25.0), 0.0);
        assert_eq!(compost_share(Feedstock::Plant, 80.0), -0.10);
        let woody = Release::of_compost(Feedstock::Plant, 40.0, 0.0, 1.0);
        assert!(woody.after(60.0) < 0.0);
        // What is not in the fast pool is in the slow one: in the end all of it has come free.
        let poultry = Release::of_compost(Feedstock::Poultry, 8.0, 0.1, 0.8);
        assert!((poultry.fast - 0.1824).abs() < 1e-12);
        assert!((poultry.slow - 0.6176).abs() < 1e-12);
        assert!((poultry.after(1.0e7) - 0.9).abs() < 1e-9);
    }

    #[test]
    fn one_factor_meets_the_first_season_share() {
        for (class, mineral, typical) in [
            (PoolClass::Meal, 0.02, 0.62),
            (PoolClass::Compost, 0.01, 0.05),
            (PoolClass::Plant, 0.0, -0.10),
            (PoolClass::Poultry, 0.15, 0.42),
        ] {
            let plain = Release::of_class(class, mineral, 1.0 - mineral);
            let scaled = plain.scaled_to(typical);
            assert!((scaled.after(at(20.0, 120.0)) - typical).abs() < 1e-12);
            let ratio = scaled.fast / scaled.slow;
            assert!((ratio - plain.fast / plain.slow).abs() < 1e-9);
        }
        assert_eq!(Release::AT_ONCE.scaled_to(1.0), Release::AT_ONCE);
        assert!(Release::AT_ONCE.at_once());
        assert!(!Release { mineral: 0.75, ..Release::AT_ONCE }.at_once());
    }

    #[test]
    fn spans_between_dates_add_up() {
        let release = Release::of_class(PoolClass::Plant, 0.1, 0.9);
        let (climate, applied) = (climate(), date("2027-05-01"));
        let days = [date("2027-04-30"), date("2027-06-01"), date("2027-08-01")];
        let parts: f64 =
            days.windows(2).map(|d| release.between(&climate, applied, d[0], d[1])).sum();
        assert!((parts - release.by(&climate, applied, days[2])).abs() < 1e-12);
        assert_eq!(release.by(&climate, applied, days[0]), 0.0);
        assert!((release.by(&climate, applied, applied) - 0.1).abs() < 1e-12);
        // 31 days of May at 15 C after the first are 15.5 thermal days.
        assert!((Run::from(&climate, applied).days(&climate, days[1]) - 15.5).abs() < 1e-9);
    }

    #[test]
    fn what_is_spread_in_autumn_stands_still_over_winter() {
        let climate = climate();
        let ran = |spread: Date, day| Run::from(&climate, spread).days(&climate, date(day));
        let autumn = date("2026-08-01");
        // August after the first and September run, October to mid-March stands still.
        let still = ran(autumn, "2026-09-30");
        assert!((still - 30.0).abs() < 1e-9);
        assert!((ran(autumn, "2027-03-15") - still).abs() < 1e-9);
        let march = climate.thermal_days(date("2027-03-15"), date("2027-03-31"));
        assert!((ran(autumn, "2027-03-31") - still - march).abs() < 1e-9);
        let summer = date("2026-07-31");
        let whole = climate.thermal_days(summer, date("2027-03-15"));
        assert!((ran(summer, "2027-03-15") - whole).abs() < 1e-9);
        assert_eq!(ran(date("2027-01-10"), "2027-03-15"), 0.0);
    }

    #[test]
    fn only_the_last_thirty_days_before_planting_count() {
        let (climate, release) = (climate(), Release::of_class(PoolClass::Meal, 0.1, 0.9));
        let (planted, harvest) = (date("2027-06-10"), date("2027-08-10"));
        let early = date("2027-04-10");
        let counted = release.counted(&climate, early, planted, harvest, harvest);
        let gone = release.by(&climate, early, date("2027-05-10"));
        assert!((counted - (release.by(&climate, early, harvest) - gone)).abs() < 1e-12);
        let late = date("2027-05-11");
        let all = release.counted(&climate, late, planted, harvest, harvest);
        assert!((all - release.by(&climate, late, harvest)).abs() < 1e-12);
    }

    #[test]
    fn autumn_nitrate_is_not_carried_over_winter() {
        let climate = climate();
        let (spread, planted, harvest) =
            (date("2026-10-01"), date("2026-10-10"), date("2027-07-10"));
        let soluble = Release::AT_ONCE;
        assert_eq!(soluble.counted(&climate, spread, planted, harvest, harvest), 0.0);
        let autumn_crop = date("2026-11-20");
        assert_eq!(soluble.counted(&climate, spread, planted, autumn_crop, autumn_crop), 1.0);
    }
}
