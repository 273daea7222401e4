//! A linear program of a few doses: least cost, every day's need met, every dose under its cap.
//!
//! A dual simplex on the doses themselves. As many limits as there are doses hold with equality
//! and fix a point; their prices stay at or above zero. While some limit is broken it is let in,
//! and the one whose price would fall first goes out. Days enter only when they are broken, so a
//! season of rows costs little.

/// One dose of the program.
pub(super) struct Column<'a> {
    /// Cost of one unit, at or above 0.
    pub cost: f64,
    /// Most of it.
    pub cap: f64,
    /// The first day, as an index into the need, that it supplies.
    pub from: usize,
    /// What one unit has made available, day by day from there.
    pub shares: &'a [f64],
}

/// The program: doses, and the need day by day.
pub(super) struct Program<'a> {
    pub columns: Vec<Column<'a>>,
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
        let count = self.columns.len();
        let mut tight: Vec<Limit> = (0..count).map(Limit::Floor).collect();
        let mut prices: Vec<f64> = self.columns.iter().map(|column| column.cost).collect();
        let mut levels = vec![0.0; count];
        // Row by dose, column by tight limit.
        let mut inverse = vec![0.0; count * count];
        (0..count).for_each(|dose| inverse[dose * count + dose] = 1.0);
        let (mut doses, mut normal, mut pull) =
            (vec![0.0; count], vec![0.0; count], vec![0.0; count]);
        let mut supply = vec![0.0; self.need.len()];
        for step in 0.. {
            for (dose, row) in doses.iter_mut().zip(inverse.chunks_exact(count)) {
                *dose = row.iter().zip(&levels).map(|(value, level)| value * level).sum();
            }
            let Some(broken) = self.broken(&doses, &mut supply, step >= STEPS_BY_WORST) else {
                doses.iter_mut().for_each(|dose| *dose = dose.max(0.0));
                return Some(doses);
            };
            self.normal(broken, &mut normal);
            pull.fill(0.0);
            for (normal, row) in normal.iter().zip(inverse.chunks_exact(count)) {
                if *normal != 0.0 {
                    pull.iter_mut().zip(row).for_each(|(pull, value)| *pull += normal * value);
                }
            }
            let price_at = |index: usize| prices[index].max(0.0) / pull[index];
            let out = (0..count).filter(|index| pull[*index] > PIVOT).min_by(|one, other| {
                price_at(*one).total_cmp(&price_at(*other)).then(tight[*one].cmp(&tight[*other]))
            })?;
            let price = price_at(out);
            for row in inverse.chunks_exact_mut(count) {
                let pivot = row[out] / pull[out];
                row.iter_mut().zip(&pull).for_each(|(value, pull)| *value -= pull * pivot);
                row[out] = pivot;
            }
            prices.iter_mut().zip(&pull).for_each(|(value, pull)| *value -= price * pull);
            prices[out] = price;
            tight[out] = broken;
            levels[out] = self.level(broken);
        }
        None
    }

    /// The limit broken by most, or the first one.
    fn broken(&self, doses: &[f64], supply: &mut [f64], first: bool) -> Option<Limit> {
        let mut worst = (self.slack, None);
        let mut seen = |limit: Limit, short: f64| {
            if short > worst.0 && !(first && worst.1.is_some()) {
                worst = (short, Some(limit));
            }
        };
        supply.fill(0.0);
        for (index, (dose, column)) in doses.iter().zip(&self.columns).enumerate() {
            seen(Limit::Floor(index), -dose);
            seen(Limit::Cap(index), dose - column.cap);
            if *dose != 0.0 {
                let days = supply.get_mut(column.from..).unwrap_or_default();
                days.iter_mut()
                    .zip(column.shares)
                    .for_each(|(supply, share)| *supply += dose * share);
            }
        }
        // Most of the work of a solution is done here: what falls short by most is found first, and
        // then the day.
        let short = |(need, supply): (&f64, &f64)| need - supply;
        let most = self.need.iter().zip(&*supply).map(short).fold(f64::MIN, f64::max);
        if most > worst.0 && !(first && worst.1.is_some()) {
            let least = if first { self.slack } else { most };
            let is_first = |gap: f64| if first { gap > least } else { gap >= least };
            let day = self.need.iter().zip(&*supply).map(short).position(is_first);
            return day.map(Limit::Day);
        }
        worst.1
    }

    fn normal(&self, limit: Limit, normal: &mut [f64]) {
        normal.fill(0.0);
        match limit {
            Limit::Floor(dose) => normal[dose] = 1.0,
            Limit::Cap(dose) => normal[dose] = -1.0,
            Limit::Day(day) => {
                for (normal, column) in normal.iter_mut().zip(&self.columns) {
                    let age = day.checked_sub(column.from);
                    *normal = age.and_then(|age| column.shares.get(age)).copied().unwrap_or(0.0);
                }
            }
        }
    }

    fn level(&self, limit: Limit) -> f64 {
        match limit {
            Limit::Floor(_) => 0.0,
            Limit::Cap(dose) => -self.columns[dose].cap,
            Limit::Day(day) => self.need[day],
        }
    }
}
