//! A planting made ready for solving: the need that can be met at all, and what cannot.

use super::problem::{MOST_VISITS, Material, Planting, Problem};
use crate::calendar::Date;

/// How far a sum of doses may stay below a need by rounding: this share of the whole need.
pub(super) const SLACK: f64 = 1e-9;

/// Where even every visit at its cap leaves the crop short.
#[derive(Clone, Debug, PartialEq)]
pub struct Shortage {
    /// The first day it is short.
    pub from: Date,
    /// On how many days.
    pub days: usize,
    /// The most it is short by, in the planting's unit.
    pub worst: f64,
    /// The first day it is short by that much.
    pub worst_on: Date,
    /// What it is short by at harvest.
    pub at_end: f64,
}

/// One planting with the visits that are of use to it.
pub(super) struct Bed<'a> {
    /// What it is dosed with, and its place in the problem.
    pub material: &'a Material,
    pub kind: usize,
    /// Whether a dose is available at once: solved by working backward instead of by a program.
    pub at_once: bool,
    pub first: i32,
    pub last: i32,
    /// The need day by day, never falling, no more than all visits at their caps can reach.
    pub need: Vec<f64>,
    /// Caps by visit; where doses are available at once, of what becomes available.
    pub caps: Vec<f64>,
    /// Visits it may be dosed on.
    pub allowed: u128,
    pub weight: f64,
    pub bulk: f64,
    pub slack: f64,
}

/// Tells from when and by how much a planting is short with every visit at its cap.
pub fn shortage(problem: &Problem, planting: &Planting) -> Option<Shortage> {
    let reach = Bed::new(problem, planting).reach(&problem.visits);
    let need = never_falling(&planting.need);
    let slack = SLACK * need.last()?.max(f64::MIN_POSITIVE);
    let short: Vec<(i32, f64)> = (0..)
        .zip(need.iter().zip(&reach).map(|(need, reach)| need - reach))
        .filter(|(_, gap)| *gap > slack)
        .collect();
    let (first, _) = *short.first()?;
    let worst =
        short.iter().fold(short[0], |worst, day| if day.1 > worst.1 { *day } else { worst });
    Some(Shortage {
        from: planting.first + first,
        days: short.len(),
        worst: worst.1,
        worst_on: planting.first + worst.0,
        at_end: (need.last()? - reach.last()?).max(0.0),
    })
}

impl<'a> Bed<'a> {
    pub fn new(problem: &'a Problem, planting: &Planting) -> Self {
        let kind = planting.material;
        let material = &problem.materials[kind];
        let (first, last) = (planting.first.number(), planting.last().number());
        let at_once = material.at_once();
        let mut caps = vec![0.0; problem.visits.len()];
        let mut allowed = 0;
        for (visit, (day, cap)) in
            problem.visits.iter().zip(&planting.caps).enumerate().take(MOST_VISITS)
        {
            let share = material.share(visit, last - day.number());
            if *cap > 0.0 && day.number() <= last && share > 0.0 {
                caps[visit] = if at_once { cap * share } else { *cap };
                allowed |= 1 << visit;
            }
        }
        let need = never_falling(&planting.need);
        let slack = SLACK * need.last().copied().unwrap_or(0.0);
        let (weight, bulk) = (planting.weight, planting.bulk);
        let mut bed =
            Self { material, kind, at_once, first, last, need, caps, allowed, weight, bulk, slack };
        let reach = bed.reach(&problem.visits);
        for (need, reach) in bed.need.iter_mut().zip(reach) {
            *need = need.min(reach);
        }
        bed
    }

    /// What becomes available of one unit of cap given on a visit, by the end of a day.
    pub fn share(&self, visit: usize, age: i32) -> f64 {
        if self.at_once { f64::from(u8::from(age >= 0)) } else { self.material.share(visit, age) }
    }

    /// What a dose is divided by to have it in the planting's own unit again.
    pub fn given_share(&self, visit: usize) -> f64 {
        if self.at_once { self.material.share(visit, 0) } else { 1.0 }
    }

    /// The need by the end of a day: nothing before its life, all after.
    pub fn need_by(&self, day: i32) -> f64 {
        match usize::try_from(day - self.first) {
            Ok(index) => self.need.get(index).or(self.need.last()).copied().unwrap_or(0.0),
            Err(_) => 0.0,
        }
    }

    /// The sum over the days of its life of what one unit given on a visit has made available.
    pub fn unit_days(&self, visit: usize, given: i32) -> f64 {
        (given.max(self.first)..=self.last).map(|day| self.share(visit, day - given)).sum()
    }

    /// What every allowed visit at its cap has made available by the end of each day.
    fn reach(&self, visits: &[Date]) -> Vec<f64> {
        let mut reach = vec![0.0; self.need.len()];
        for (visit, day) in visits.iter().enumerate().filter(|(visit, _)| self.may(*visit)) {
            let start = usize::try_from(day.number() - self.first).unwrap_or(0);
            let ages = (self.first - day.number()).max(0)..;
            for (age, total) in ages.zip(reach.iter_mut().skip(start)) {
                *total += self.caps[visit] * self.share(visit, age);
            }
        }
        reach
    }

    /// Whether it may be dosed on a visit.
    pub fn may(&self, visit: usize) -> bool {
        visit < MOST_VISITS && self.allowed >> visit & 1 == 1
    }
}

fn never_falling(need: &[f64]) -> Vec<f64> {
    let mut most = 0.0f64;
    need.iter()
        .map(|value| {
            most = most.max(*value);
            most
        })
        .collect()
}
