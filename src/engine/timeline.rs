//! Nitrogen by the day: what a planting has needed and what has become available, whose ends are the
//! budget by construction.

use super::climate::Climate;
use super::credit::{Credit, Shape};
use super::dose::Dose;
use super::life::{Life, curve_of};
use super::release::Run;
use crate::calendar::Date;
use crate::catalogue::Crop;
use crate::figure::Figure;
use crate::quantity::{Mass, to_float};

/// Days ahead of demand by which supply is wanted (proposed).
pub const LEAD_DAYS: i32 = 5;

/// One source of nitrogen, by the day.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// What a grower calls it.
    pub label: String,
    /// Kilograms of nitrogen available by the end of each day.
    pub by_day: Vec<f64>,
}

/// Demand and supply of one planting from the eve of planting to its last harvest.
#[derive(Clone, Debug, PartialEq)]
pub struct Timeline {
    /// The day of the first entry: planting.
    pub first: Date,
    /// Kilograms of nitrogen needed by the end of each day.
    pub demand: Vec<f64>,
    /// What feeds it already, each credit by the day.
    pub credits: Vec<Source>,
    /// What the doses give, by the day.
    pub doses: Vec<Source>,
}

/// How well supply keeps up with demand.
#[derive(Clone, Debug, PartialEq)]
pub struct Balance {
    /// Days on which less has become available than was needed.
    pub days_short: usize,
    /// The worst of them and how much was lacking, in kilograms.
    pub worst: Option<(Date, f64)>,
    /// Available but not yet needed, summed over the days (kilogram-days).
    pub unused: f64,
    /// Available but not needed at the last harvest, in kilograms.
    pub left: f64,
}

impl Timeline {
    /// Draws the curves of a planting: need, credits and certain doses.
    pub fn of(
        climate: &Climate,
        crop: &Crop,
        life: &Life,
        need: Mass,
        credits: &[Credit],
        doses: &[(&Dose, &Figure<Mass>)],
    ) -> Self {
        let demand = demand(climate, crop, life, need, 0);
        let credits = credits
            .iter()
            .map(|credit| Source {
                label: credit.label.clone(),
                by_day: shaped(climate, life, &credit.shape, credit.nitrogen.value()),
            })
            .collect();
        let doses = doses
            .iter()
            .map(|(dose, counts)| Source {
                label: format!("{} {}", dose.date.short(), dose.ready.name()),
                by_day: dosed(climate, life, dose, counts.value()),
            })
            .collect();
        Self { first: life.planted, demand, credits, doses }
    }

    /// All supply by the end of each day.
    pub fn supply(&self) -> Vec<f64> {
        let mut total = vec![0.0; self.demand.len()];
        for source in self.credits.iter().chain(&self.doses) {
            for (sum, value) in total.iter_mut().zip(&source.by_day) {
                *sum += value;
            }
        }
        total
    }

    /// Weighs supply against demand, day by day. A lack of less than a thousandth of the need is
    /// what rounding leaves, and counts as none.
    pub fn balance(&self) -> Balance {
        let grain = self.demand.last().copied().unwrap_or_default() / 1000.0;
        let mut balance = Balance { days_short: 0, worst: None, unused: 0.0, left: 0.0 };
        for (day, (supply, demand)) in (0..).zip(self.supply().iter().zip(&self.demand)) {
            let lack = demand - supply;
            if lack > grain {
                balance.days_short += 1;
                if balance.worst.is_none_or(|(_, worst)| lack > worst) {
                    balance.worst = Some((self.first + day, lack));
                }
            }
            balance.left = (supply - demand).max(0.0);
            balance.unused += balance.left;
        }
        balance
    }
}

/// Kilograms of nitrogen needed by the end of each day of a life, so many days ahead.
pub fn demand(climate: &Climate, crop: &Crop, life: &Life, need: Mass, ahead: i32) -> Vec<f64> {
    let curve = curve_of(&crop.curve.value);
    let need = to_float(need.kg());
    let uptake = life.uptake(&curve);
    let taken = uptake.by_day(climate);
    days(life).map(|day| need * taken(day + ahead)).collect()
}

fn days(life: &Life) -> impl Iterator<Item = Date> {
    let first = life.planted;
    (0..life.days()).map(move |day| first + day)
}

/// A credit by the day: its shape, scaled so that its end is the credit itself.
pub fn shaped(climate: &Climate, life: &Life, shape: &Shape, nitrogen: Mass) -> Vec<f64> {
    let total = to_float(nitrogen.kg());
    let shares = shares(climate, life, shape);
    let end = shares.last().copied().unwrap_or_default();
    if end.abs() < f64::EPSILON {
        return vec![total; shares.len()];
    }
    shares.into_iter().map(|share| total * share / end).collect()
}

/// How much of a shape has come in by the end of each day, in any unit.
fn shares(climate: &Climate, life: &Life, shape: &Shape) -> Vec<f64> {
    match shape {
        Shape::AtPlanting => days(life).map(|_| 1.0).collect(),
        Shape::SoilTime(after) => days(life).map(|day| climate.thermal_days(*after, day)).collect(),
        Shape::Evenly(after, to) => {
            let from = (*after).max(life.planted - 1 - super::release::DAYS_BEFORE_PLANTING);
            let whole = f64::from((*to - from).max(1));
            days(life).map(|day| (f64::from(day - from) / whole).clamp(0.0, 1.0)).collect()
        }
        Shape::Releasing(parts) => {
            let mut sum = vec![0.0; days(life).count()];
            for part in parts {
                let weight = to_float(part.nitrogen.kg());
                let run = Run::from(climate, part.on);
                let before = part.release.running(climate, &run, part.after);
                let counted = sum.iter_mut().zip(days(life)).filter(|(_, day)| *day > part.after);
                for (total, day) in counted {
                    *total += weight * (part.release.running(climate, &run, day) - before);
                }
            }
            sum
        }
    }
}

/// A dose by the day: as its material releases, scaled so that its end is what counts of it.
pub fn dosed(climate: &Climate, life: &Life, dose: &Dose, counts: Mass) -> Vec<f64> {
    let first =
        super::release::counted_from(climate, dose.date, life.planted, life.end).min(dose.date);
    let part = super::credit::Releasing {
        release: dose.ready.content.release.typical,
        on: dose.date,
        after: first.max(dose.date) - 1,
        nitrogen: counts,
        ammonium: 0.0,
    };
    let shares = shares(climate, life, &Shape::Releasing(vec![part]));
    let end = shares.last().copied().unwrap_or_default();
    let total = to_float(counts.kg());
    if end <= 0.0 {
        return vec![0.0; shares.len()];
    }
    shares.into_iter().map(|share| total * share / end).collect()
}

#[cfg(test)]
mod tests {
    use super::super::credit::Releasing;
    use super::super::release::Release;
    use super::*;
    use crate::catalogue::PoolClass;

    fn date(text: &str) -> Date {
        Date::read(text).expect("a date")
    }

    /// Soil at 15 C from April to October: half a thermal day each day.
    fn climate() -> Climate {
        Climate::new(None, None, date("2026-07-01"), date("2027-12-31"))
    }

    fn source(by_day: &[f64]) -> Source {
        Source { label: String::new(), by_day: by_day.to_vec() }
    }

    fn life() -> Life {
        Life {
            planted: date("2027-05-01"),
            harvest: date("2027-07-29"),
            end: date("2027-07-29"),
            regrowth: None,
            end_assumed: false,
        }
    }

    #[test]
    fn supply_is_all_credits_and_doses_of_a_day() {
        let timeline = Timeline {
            first: date("2027-05-01"),
            demand: vec![1.0, 2.0, 4.0],
            credits: vec![source(&[1.0, 1.5, 2.0]), source(&[0.5, 0.5, 0.5])],
            doses: vec![source(&[0.0, 0.0, 3.0])],
        };
        assert_eq!(timeline.supply(), [1.5, 2.0, 5.5]);
        let balance = timeline.balance();
        assert_eq!((balance.days_short, balance.worst), (0, None));
        assert_eq!((balance.unused, balance.left), (2.0, 1.5));
    }

    #[test]
    fn the_first_of_the_worst_days_is_named_and_a_thousandth_is_no_lack() {
        let timeline = Timeline {
            first: date("2027-05-01"),
            demand: vec![1.0, 3.0, 5.0, 7.0, 8.0, 10.0],
            credits: Vec::new(),
            // Short by 0.005, by 0.5, twice by 2 and by 1, then one too many.
            doses: vec![source(&[0.995, 2.5, 3.0, 5.0, 7.0, 11.0])],
        };
        let balance = timeline.balance();
        assert_eq!(balance.days_short, 4);
        assert_eq!(balance.worst, Some((date("2027-05-03"), 2.0)));
        assert_eq!((balance.unused, balance.left), (1.0, 1.0));
    }

    /// Ninety days of a life: a soil that is half a thermal day a day gives in a line, whatever the
    /// start it counts from.
    #[test]
    fn each_shape_ends_as_its_credit() {
        let (climate, life) = (climate(), life());
        let eve = life.planted - 1;
        let ten = Mass::from_kg(10.into());
        let shape = |shape: Shape| shaped(&climate, &life, &shape, ten);
        assert_eq!(shape(Shape::AtPlanting), vec![10.0; 90]);
        let soil = shape(Shape::SoilTime(eve));
        assert_eq!(soil.len(), 90);
        for (day, wanted) in [(0, 1.0 / 9.0), (44, 5.0), (89, 10.0)] {
            assert!((soil[day] - wanted).abs() < 1e-9, "{day}: {}", soil[day]);
        }
        let evenly = shape(Shape::Evenly(life.planted + 9, life.planted + 19));
        for (day, wanted) in [(9, 0.0), (14, 5.0), (19, 10.0), (89, 10.0)] {
            assert!((evenly[day] - wanted).abs() < 1e-9, "{day}: {}", evenly[day]);
        }
        // Of what came longer ago than the thirty days before planting nothing is counted: 31 of 60
        // days have come in by the day of planting.
        let long = shape(Shape::Evenly(life.planted - 80, life.planted + 29));
        for (day, wanted) in [(0, 31.0 / 6.0), (28, 59.0 / 6.0), (29, 10.0), (89, 10.0)] {
            assert!((long[day] - wanted).abs() < 1e-9, "{day}: {}", long[day]);
        }
    }

    /// What came free before it counts is left out of every day: with release in a line, which the
    /// first thousandths of a slow pool are, a third of the days bring a third.
    #[test]
    fn what_came_free_before_the_crop_is_left_out() {
        let (climate, life) = (climate(), life());
        let slow = Release { mineral: 0.0, fast: 0.0, slow: 1.0, ..Release::AT_ONCE };
        let part = |on: Date, release| Releasing {
            release,
            on,
            after: life.planted - 1,
            nitrogen: Mass::from_kg(10.into()),
            ammonium: 0.0,
        };
        let early = part(life.planted - 29, Release { slow_rate: 1e-6, ..slow });
        let by_day =
            shaped(&climate, &life, &Shape::Releasing(vec![early]), Mass::from_kg(9.into()));
        for (day, wanted) in [(0, 0.1), (29, 3.0), (89, 9.0)] {
            assert!((by_day[day] - wanted).abs() < 0.001, "{day}: {}", by_day[day]);
        }
        // A meal spread a month before gives a smaller part of what is left in its first week than
        // one spread the day before.
        let meal = Release::of_class(PoolClass::Meal, 0.0, 1.0);
        let first_week = |on: Date| {
            let shape = Shape::Releasing(vec![part(on, meal)]);
            shaped(&climate, &life, &shape, Mass::from_kg(9.into()))[6]
        };
        assert!(first_week(life.planted - 29) < 0.5 * first_week(life.planted - 1));
    }
}
