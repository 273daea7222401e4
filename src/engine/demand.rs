//! How a crop's nitrogen need spreads over its life.

use super::climate::Climate;
use crate::calendar::Date;

/// Share of its uptake that an overwintered crop takes before it starts to grow again (proposed).
pub const UPTAKE_BEFORE_REGROWTH: f64 = 0.15;

/// The shape of a crop's uptake: the share taken by a fraction of its life, from 0 to 1.
#[derive(Clone, Debug, PartialEq)]
pub enum Curve {
    /// S-shaped: slow while the crop is small, fastest at the midpoint.
    Logistic {
        /// Fraction of life at which uptake is fastest.
        midpoint: f64,
        /// How sharply it rises there, per life; above zero.
        steepness: f64,
    },
    /// Straight lines between points (fraction of life, share taken), both rising; (0, 0) and
    /// (1, 1) are understood.
    Pieces(Vec<(f64, f64)>),
}

impl Curve {
    /// The curve of crops without one of their own (derived).
    pub const GENERIC: Self = Self::Logistic { midpoint: 0.55, steepness: 9.0 };

    /// Returns the share of the whole uptake taken after some of a life of `length`, in the same unit
    /// of time: 0 before the start, 1 from the end on. What holds for the whole life is worked out
    /// once, for the days that follow.
    pub fn over(&self, length: f64) -> impl Fn(f64) -> f64 {
        let level = |x: f64| match self {
            Self::Logistic { midpoint, steepness } => {
                1.0 / (1.0 + libm::exp(-steepness * (x - midpoint)))
            }
            Self::Pieces(points) => along(points, x),
        };
        let (first, last) = match self {
            Self::Logistic { .. } => (level(0.0), level(1.0)),
            Self::Pieces(_) => (0.0, 1.0),
        };
        move |elapsed: f64| {
            if elapsed >= length {
                return 1.0;
            }
            if elapsed <= 0.0 {
                return 0.0;
            }
            (level(elapsed / length) - first) / (last - first)
        }
    }
}

fn along(points: &[(f64, f64)], x: f64) -> f64 {
    let (mut before, mut after) = ((0.0, 0.0), (1.0, 1.0));
    for point in points {
        if point.0 <= x {
            before = *point;
        } else {
            after = *point;
            break;
        }
    }
    let width = after.0 - before.0;
    if width <= 0.0 {
        return after.1;
    }
    before.1 + (after.1 - before.1) * (x - before.0) / width
}

/// One planting's uptake through its life.
#[derive(Clone, Debug, PartialEq)]
pub struct Uptake<'a> {
    /// The shape.
    pub curve: &'a Curve,
    /// The day it is planted.
    pub planted: Date,
    /// The last day of its life: the (last) harvest.
    pub harvest: Date,
    /// For an overwintered crop, the day it starts to grow again.
    pub regrowth: Option<Date>,
}

impl Uptake<'_> {
    /// Returns the share of the whole uptake taken by the end of a day: 0 on the day of planting,
    /// 1 on the day of the (last) harvest. An overwintered crop counts in thermal days: 15 % from
    /// planting to regrowth, evenly, and its curve from there.
    pub fn by_day(&self, climate: &Climate) -> impl Fn(Date) -> f64 {
        let thermal = |from: Date, to: Date| climate.thermal_days(from, to);
        let length = match self.regrowth {
            Some(regrowth) => thermal(regrowth, self.harvest),
            None => f64::from(self.harvest - self.planted),
        };
        let curve = self.curve.over(length);
        let rest = self.regrowth.map(|regrowth| thermal(self.planted, regrowth));
        move |day: Date| {
            if day >= self.harvest {
                return 1.0;
            }
            let (Some(regrowth), Some(rest)) = (self.regrowth, rest) else {
                return curve(f64::from(day - self.planted));
            };
            if day > regrowth {
                let grown = curve(thermal(regrowth, day));
                return UPTAKE_BEFORE_REGROWTH + (1.0 - UPTAKE_BEFORE_REGROWTH) * grown;
            }
            let share = if rest > 0.0 {
                thermal(self.planted, day) / rest
            } else {
                f64::from(u8::from(day == regrowth))
            };
            UPTAKE_BEFORE_REGROWTH * share
        }
    }

    /// The share taken by the end of one day.
    pub fn taken_by(&self, climate: &Climate, day: Date) -> f64 {
        self.by_day(climate)(day)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> Date {
        Date::read(text).expect("a date")
    }

    fn rises(values: impl Iterator<Item = f64>) {
        let values: Vec<f64> = values.collect();
        assert!(values.windows(2).all(|pair| pair[0] <= pair[1]));
        assert!(values.iter().all(|value| (0.0..=1.0).contains(value)));
    }

    #[test]
    fn curves_run_from_nothing_to_all() {
        for curve in [Curve::GENERIC, Curve::Pieces(vec![(0.47, 7.0 / 74.0)])] {
            assert_eq!(curve.over(60.0)(0.0), 0.0);
            assert_eq!(curve.over(60.0)(60.0), 1.0);
            assert_eq!(curve.over(60.0)(90.0), 1.0);
            assert_eq!(curve.over(0.0)(0.0), 1.0);
            rises((0..=60).map(|day| curve.over(60.0)(f64::from(day))));
        }
    }

    #[test]
    fn a_life_counts_from_planting_to_harvest() {
        let climate = Climate::new(None, None, date("2026-07-01"), date("2027-12-31"));
        let curve = Curve::GENERIC;
        let (planted, harvest) = (date("2027-05-10"), date("2027-07-15"));
        let uptake = Uptake { curve: &curve, planted, harvest, regrowth: None };
        assert_eq!(uptake.taken_by(&climate, planted), 0.0);
        assert_eq!(uptake.taken_by(&climate, harvest), 1.0);
        let middle = uptake.taken_by(&climate, planted + 33);
        assert!((middle - curve.over(1.0)(0.5)).abs() < 1e-12);
    }

    #[test]
    fn an_overwintered_crop_takes_fifteen_percent_before_regrowth() {
        let climate = Climate::new(None, None, date("2026-07-01"), date("2027-12-31"));
        let curve = Curve::GENERIC;
        let (planted, harvest) = (date("2026-10-10"), date("2027-07-10"));
        let regrowth = climate.regrowth_between(planted, harvest);
        let uptake = Uptake { curve: &curve, planted, harvest, regrowth };
        assert_eq!(regrowth, Some(date("2027-03-15")));
        assert!((uptake.taken_by(&climate, date("2027-03-15")) - 0.15).abs() < 1e-12);
        assert_eq!(uptake.taken_by(&climate, planted), 0.0);
        assert_eq!(uptake.taken_by(&climate, harvest), 1.0);
        rises((0..=273).map(|day| uptake.taken_by(&climate, planted + day)));
        // From regrowth it counts in thermal days: half of them is half of the curve.
        let half = climate.thermal_days(date("2027-03-15"), harvest) / 2.0;
        let day = (0..200)
            .map(|ahead| date("2027-03-15") + ahead)
            .find(|day| climate.thermal_days(date("2027-03-15"), *day) >= half)
            .expect("a middle day");
        let expected = 0.15 + 0.85 * curve.over(1.0)(0.5);
        assert!((uptake.taken_by(&climate, day) - expected).abs() < 0.02);
    }
}
