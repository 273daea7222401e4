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
                for (total, day) in sum.iter_mut().zip(days(life)) {
                    let by = part.release.running(climate, &run, day.max(part.after));
                    *total += weight * (by - before);
                }
            }
            sum
        }
    }
}

/// A dose by the day: as its material releases, scaled so that its end is what counts of it.
fn dosed(climate: &Climate, life: &Life, dose: &Dose, counts: Mass) -> Vec<f64> {
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
