//! A material's availability made ready for solving.

use std::borrow::Cow;

use super::problem::Material;
use crate::calendar::Date;

/// By visit and days since: what is available of a dose, and the sum of that over the days so far.
#[derive(Clone, Debug)]
pub(super) struct Curves<'a> {
    /// Whether whatever becomes available of a dose does so on the day it is given.
    pub at_once: bool,
    material: &'a Material,
    /// Out to the last day of any planting; of no use where all is available at once.
    shares: Vec<Cow<'a, [f64]>>,
    sums: Vec<Vec<f64>>,
}

impl<'a> Curves<'a> {
    /// Draws the curves of every visit out to the end of a day.
    pub fn new(material: &'a Material, visits: &[Date], last: Date) -> Self {
        let at_once = material.at_once();
        if at_once {
            return Self { at_once, material, shares: Vec::new(), sums: Vec::new() };
        }
        let draw = |(visit, day): (usize, &Date)| -> Cow<'a, [f64]> {
            let known = material.released.get(visit).map_or(&[][..], Vec::as_slice);
            let days = usize::try_from(last - *day + 1).unwrap_or(0);
            if known.is_empty() || days <= known.len() {
                return Cow::Borrowed(known);
            }
            (0..=last - *day).map(|age| material.share(visit, age)).collect()
        };
        let shares: Vec<_> = visits.iter().enumerate().map(draw).collect();
        let sum = |shares: &Cow<'_, [f64]>| {
            let add = |total: &mut f64, share: &f64| {
                *total += share;
                Some(*total)
            };
            shares.iter().scan(0.0, add).collect()
        };
        let sums = shares.iter().map(sum).collect();
        Self { at_once, material, shares, sums }
    }

    /// What is available of a dose so many days after its visit; nothing before it.
    pub fn available(&self, visit: usize, age: i32) -> f64 {
        self.material.share(visit, age)
    }

    /// The sum of what is available over the days with an age from `from` to `to`.
    pub fn days(&self, visit: usize, from: i32, to: i32) -> f64 {
        at(&self.sums[visit], to) - at(&self.sums[visit], from.max(0) - 1)
    }

    /// What is available of a dose from so many days after its visit on.
    pub fn since(&self, visit: usize, age: usize) -> &[f64] {
        self.shares[visit].get(age..).unwrap_or(&[])
    }
}

fn at(values: &[f64], age: i32) -> f64 {
    usize::try_from(age).ok().and_then(|age| values.get(age)).copied().unwrap_or(0.0)
}
