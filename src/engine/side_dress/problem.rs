//! What the side-dress plan is solved from: bare numbers.

use std::sync::Arc;

use crate::calendar::Date;
use crate::engine::climate::Climate;
use crate::engine::release::Release;

/// Most visit days that one plan can choose among: two and a half years of weeks.
pub const MOST_VISITS: usize = 128;

/// A whole garden: the days on which it can be visited, what is spread, what it is spread for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Problem {
    /// Days on which doses can be given, rising, at most [`MOST_VISITS`].
    pub visits: Vec<Date>,
    /// The materials that doses are of.
    pub materials: Vec<Material>,
    /// The plantings to be kept supplied.
    pub plantings: Vec<Planting>,
}

/// How a dose of one material becomes available, by the visit it is given on.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Material {
    /// For each visit, the share (0 to 1, never falling) of a dose available by the end of the
    /// visit's day, of the day after, and so on; the last value holds from there on. Empty: nothing.
    pub released: Vec<Vec<f64>>,
}

/// One planting to be kept supplied. Doses, caps and needs are in one unit of nitrogen of the
/// planting's choosing (pounds, or pounds per acre).
#[derive(Clone, Debug, PartialEq)]
pub struct Planting {
    /// Which material it is dosed with: an index into [`Problem::materials`].
    pub material: usize,
    /// The day of the first entry of `need`.
    pub first: Date,
    /// What side-dressing must have made available by the end of each day, the lead included; the
    /// last entry is that of the (last) harvest. Where it falls, what was needed before still is.
    pub need: Arc<[f64]>,
    /// The largest dose on each visit; 0 where the planting may not be dosed that day.
    pub caps: Arc<[f64]>,
    /// Pounds in one unit of dose: what its days lying unused weigh against other plantings'.
    pub weight: f64,
    /// Weight of material in one unit of dose: least of it is spread where all else is equal.
    pub bulk: f64,
}

impl Material {
    /// Returns the material's availability in a climate up to the end of `last`, for each visit that is
    /// of use; nothing for the others.
    pub fn of_release(
        release: &Release,
        climate: &Climate,
        visits: &[Date],
        of_use: &[bool],
        last: Date,
    ) -> Self {
        if release.at_once() {
            return Self { released: vec![vec![release.mineral]; visits.len()] };
        }
        let useful = || visits.iter().zip(of_use).filter(|(_, of_use)| **of_use);
        let days: Vec<Date> = useful().map(|(visit, _)| *visit).collect();
        let mut curves = release.curves(climate, &days, last).into_iter();
        let curve = |of_use: &bool| {
            if *of_use { curves.next().unwrap_or_default() } else { Vec::new() }
        };
        Self { released: of_use.iter().map(curve).collect() }
    }

    /// Returns the share of a dose given on a visit that is available by the end of the day
    /// `age` days later.
    pub fn share(&self, visit: usize, age: i32) -> f64 {
        let Ok(age) = usize::try_from(age) else { return 0.0 };
        let curve = self.released.get(visit).map_or(&[][..], Vec::as_slice);
        curve.get(age).or(curve.last()).copied().unwrap_or(0.0)
    }

    /// Tells whether whatever becomes available of a dose does so on the day it is given.
    pub(super) fn at_once(&self) -> bool {
        self.released.iter().all(|curve| curve.iter().all(|share| *share == curve[0]))
    }
}

impl Planting {
    /// The last day of its life.
    pub fn last(&self) -> Date {
        self.first + i32::try_from(self.need.len()).unwrap_or(i32::MAX) - 1
    }
}

/// Doses of one planting: the visit's place in [`Problem::visits`], and how much; in visit order.
pub type Doses = Vec<(usize, f64)>;

/// Returns what the doses have made available by the end of each day of the planting's life.
pub fn supply(problem: &Problem, planting: &Planting, doses: &Doses) -> Vec<f64> {
    let material = &problem.materials[planting.material];
    (0i32..)
        .zip(planting.need.iter())
        .map(|(day, _)| {
            let age = |visit: usize| planting.first + day - problem.visits[visit];
            doses.iter().map(|(visit, dose)| dose * material.share(*visit, age(*visit))).sum()
        })
        .collect()
}
