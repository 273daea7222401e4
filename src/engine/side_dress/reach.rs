//! A planting made ready for solving: the need that can be met at all, and what cannot.

use super::curves::Curves;
use super::problem::{MOST_VISITS, Planting, Problem};
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
#[derive(Clone, Debug)]
pub(super) struct Bed<'a> {
    pub curves: &'a Curves<'a>,
    /// Which material it is dosed with.
    pub kind: usize,
    pub first: i32,
    pub last: i32,
    /// The need day by day, never falling, no more than all visits at their caps can reach.
    pub need: Vec<f64>,
    /// Caps by visit; where doses are available at once, of what becomes available.
    pub caps: Vec<f64>,
    /// Visits it may be dosed on; once in a garden, by their position there.
    pub allowed: u128,
    pub weight: f64,
    pub bulk: f64,
    pub slack: f64,
    /// Where even all visits cannot hold it.
    pub shortage: Option<Shortage>,
}

/// Tells from when and by how much a planting is short with every visit at its cap. Days on which
/// it is short by no more than `trifle`, in the planting's unit, are passed over.
pub fn shortage(problem: &Problem, planting: &Planting, trifle: f64) -> Option<Shortage> {
    let visits = problem.visits.iter().zip(planting.caps.iter()).take(MOST_VISITS).enumerate();
    shortage_on(problem, planting, visits.map(|(visit, (_, cap))| (visit, *cap)), trifle)
}

/// The same with these visits only, by their place in the problem, each at its cap.
pub fn shortage_on(
    problem: &Problem,
    planting: &Planting,
    visits: impl Iterator<Item = (usize, f64)>,
    trifle: f64,
) -> Option<Shortage> {
    let material = &problem.materials[planting.material];
    let mut reach = vec![0.0; planting.need.len()];
    for (visit, cap) in visits.filter(|(_, cap)| *cap > 0.0) {
        let age = planting.first - problem.visits[visit];
        let from = usize::try_from(-age).unwrap_or(0);
        for (age, total) in (age.max(0)..).zip(reach.iter_mut().skip(from)) {
            *total += cap * material.share(visit, age);
        }
    }
    short(planting, &reach, trifle)
}

impl<'a> Bed<'a> {
    pub fn new(problem: &Problem, planting: &Planting, curves: &'a Curves<'a>) -> Self {
        let (first, last) = (planting.first.number(), planting.last().number());
        let mut caps = vec![0.0; problem.visits.len()];
        let mut allowed = 0;
        let visits = problem.visits.iter().zip(planting.caps.iter()).take(MOST_VISITS);
        for (visit, (day, cap)) in visits.enumerate() {
            let share = curves.available(visit, last - day.number());
            if *cap > 0.0 && share > 0.0 {
                caps[visit] = if curves.at_once { cap * share } else { *cap };
                allowed |= 1 << visit;
            }
        }
        let need = planting.need.to_vec();
        let (kind, weight, bulk) = (planting.material, planting.weight, planting.bulk);
        let mut bed = Self {
            curves,
            kind,
            first,
            last,
            need,
            caps,
            allowed,
            weight,
            bulk,
            slack: 0.0,
            shortage: None,
        };
        let mut most = 0.0f64;
        let reach = bed.reach(&problem.visits);
        bed.shortage = short(planting, &reach, 0.0);
        for (need, reach) in bed.need.iter_mut().zip(reach) {
            most = most.max(need.min(reach));
            *need = most;
        }
        bed.slack = SLACK * most;
        bed
    }

    /// What is available of one unit of cap, so many days after the visit it is given on.
    pub fn share(&self, visit: usize, age: i32) -> f64 {
        if self.curves.at_once {
            f64::from(u8::from(age >= 0))
        } else {
            self.curves.available(visit, age)
        }
    }

    /// What a dose is divided by to have it in the planting's own unit again.
    pub fn given_share(&self, visit: usize) -> f64 {
        if self.curves.at_once { self.curves.available(visit, 0) } else { 1.0 }
    }

    /// The need by the end of a day: nothing before its life, all after.
    pub fn need_by(&self, day: i32) -> f64 {
        match usize::try_from(day - self.first) {
            Ok(index) => self.need.get(index).or(self.need.last()).copied().unwrap_or(0.0),
            Err(_) => 0.0,
        }
    }

    /// What every allowed visit at its cap has made available by the end of each day.
    fn reach(&self, visits: &[Date]) -> Vec<f64> {
        let mut reach = vec![0.0; self.need.len()];
        for (visit, day) in visits.iter().enumerate().filter(|(visit, _)| self.caps[*visit] > 0.0) {
            let start = usize::try_from(day.number() - self.first).unwrap_or(0);
            let ages = (self.first - day.number()).max(0)..;
            for (age, total) in ages.zip(reach.iter_mut().skip(start)) {
                *total += self.caps[visit] * self.share(visit, age);
            }
        }
        reach
    }
}

fn short(planting: &Planting, reach: &[f64], trifle: f64) -> Option<Shortage> {
    let need = &planting.need;
    let slack = trifle.max(SLACK * need.iter().copied().fold(f64::MIN_POSITIVE, f64::max));
    let gaps = need.iter().zip(reach).map(|(need, reach)| need - reach);
    let mut short = (0..).zip(gaps).filter(|(_, gap)| *gap > slack);
    let (from, gap) = short.next()?;
    let mut shortage = Shortage {
        from: planting.first + from,
        days: 1,
        worst: gap,
        worst_on: planting.first + from,
        at_end: (need.last()? - reach.last()?).max(0.0),
    };
    for (day, gap) in short {
        shortage.days += 1;
        if gap > shortage.worst {
            (shortage.worst, shortage.worst_on) = (gap, planting.first + day);
        }
    }
    Some(shortage)
}
