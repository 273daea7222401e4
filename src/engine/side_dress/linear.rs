//! A linear program of a few doses: least cost, every day's need met, every dose under its cap.
//!
//! A dual simplex on the doses themselves. As many limits as there are doses hold with equality
//! and fix a point; their prices stay at or above zero. While some limit is broken it is let in,
//! and the one whose price would fall first goes out. Days enter only when they are broken, so a
//! season of rows costs little.

/// The program: for each dose its cost (at or above 0), cap, and share available by each day.
pub(super) struct Program<'a> {
    pub costs: Vec<f64>,
    pub caps: Vec<f64>,
    /// One column of daily shares for each dose, all as long as `need`.
    pub shares: Vec<Vec<f64>>,
    pub need: &'a [f64],
    pub slack: f64,
}

/// A limit that can hold with equality.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Limit {
    Floor(usize),
    Cap(usize),
    Day(usize),
}

/// After this many steps the first broken limit is taken instead of the worst, which cannot cycle.
const STEPS_BY_WORST: usize = 200;
/// Below this a pivot is taken as nothing.
const PIVOT: f64 = 1e-11;

impl Program<'_> {
    /// Returns the doses of least cost, or nothing where no doses under their caps meet the need.
    pub fn least(&self) -> Option<Vec<f64>> {
        let count = self.costs.len();
        let mut tight: Vec<Limit> = (0..count).map(Limit::Floor).collect();
        let mut prices = self.costs.clone();
        let mut inverse: Vec<Vec<f64>> = (0..count).map(|dose| unit(count, dose)).collect();
        let mut levels = vec![0.0; count];
        for step in 0.. {
            let doses: Vec<f64> = inverse.iter().map(|row| dot(row, &levels)).collect();
            let Some(broken) = self.broken(&doses, step >= STEPS_BY_WORST) else {
                return Some(doses.into_iter().map(|dose| dose.max(0.0)).collect());
            };
            let normal = self.normal(broken);
            let pull: Vec<f64> = (0..count)
                .map(|tight| (0..count).map(|dose| normal[dose] * inverse[dose][tight]).sum())
                .collect();
            let out = (0..count)
                .filter(|index| pull[*index] > PIVOT)
                .map(|index| ((prices[index].max(0.0) / pull[index], tight[index]), index))
                .min_by(|one, other| one.0.0.total_cmp(&other.0.0).then(one.0.1.cmp(&other.0.1)))?;
            let ((price, _), out) = out;
            for row in &mut inverse {
                let pivot = row[out] / pull[out];
                for (index, value) in row.iter_mut().enumerate() {
                    *value = if index == out { pivot } else { *value - pull[index] * pivot };
                }
            }
            for index in 0..count {
                prices[index] -= price * pull[index];
            }
            prices[out] = price;
            tight[out] = broken;
            levels[out] = self.level(broken);
        }
        None
    }

    /// The limit broken by most, or the first one.
    fn broken(&self, doses: &[f64], first: bool) -> Option<Limit> {
        let mut worst = (self.slack, None);
        let mut seen = |limit: Limit, short: f64| {
            if short > worst.0 && !(first && worst.1.is_some()) {
                worst = (short, Some(limit));
            }
        };
        for (index, dose) in doses.iter().enumerate() {
            seen(Limit::Floor(index), -dose);
            seen(Limit::Cap(index), dose - self.caps[index]);
        }
        for (day, need) in self.need.iter().enumerate() {
            let supply: f64 = doses.iter().zip(&self.shares).map(|(dose, by)| dose * by[day]).sum();
            seen(Limit::Day(day), need - supply);
        }
        worst.1
    }

    fn normal(&self, limit: Limit) -> Vec<f64> {
        match limit {
            Limit::Floor(dose) => unit(self.costs.len(), dose),
            Limit::Cap(dose) => unit(self.costs.len(), dose).iter().map(|one| -one).collect(),
            Limit::Day(day) => self.shares.iter().map(|by| by[day]).collect(),
        }
    }

    fn level(&self, limit: Limit) -> f64 {
        match limit {
            Limit::Floor(_) => 0.0,
            Limit::Cap(dose) => -self.caps[dose],
            Limit::Day(day) => self.need[day],
        }
    }
}

fn unit(count: usize, place: usize) -> Vec<f64> {
    (0..count).map(|index| f64::from(u8::from(index == place))).collect()
}

fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}
