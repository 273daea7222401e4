//! The solver against trying everything, on small random gardens.

use std::collections::BTreeMap;
use std::ops::Range;

use microlp::{ComparisonOp, OptimizationDirection};

use super::reach::Bed;
use super::*;

/// A small repeatable stream of numbers from 0 up to 1.
struct Stream(u64);

impl Stream {
    fn next(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 40) as f64 / f64::from(1 << 24)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }

    fn upto(&mut self, count: usize) -> usize {
        (self.next() * count as f64) as usize
    }
}

fn start() -> Date {
    Date::new(2027, 4, 3).expect("a date")
}

/// A garden of a few visits and plantings, with needs and caps such that some cannot be met.
fn small(seed: u64) -> Problem {
    made(seed, 3..9, 1..5)
}

fn made(seed: u64, visits: Range<usize>, plantings: Range<usize>) -> Problem {
    let mut stream = Stream(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x55AA);
    let count = visits.start + stream.upto(visits.len());
    let visits: Vec<Date> = (0..count).map(|visit| start() + 7 * visit as i32).collect();
    let mut materials = vec![Material { released: vec![vec![1.0]; count] }];
    for _ in 0..2 {
        let rate = stream.between(0.01, 0.2);
        let mineral = if stream.next() < 0.5 { 0.0 } else { stream.between(0.0, 0.3) };
        // Warmer as the season goes on, so that what is given later comes faster.
        let curve = |visit: usize| -> Vec<f64> {
            let pace = rate * (1.0 + 0.1 * visit as f64);
            (0..120)
                .map(|age| mineral + (0.8 - mineral) * (1.0 - libm::exp(-pace * f64::from(age))))
                .collect()
        };
        materials.push(Material { released: (0..count).map(curve).collect() });
    }
    let count = plantings.start + stream.upto(plantings.len());
    let plantings = (0..count).map(|_| planting(&mut stream, &visits)).collect();
    Problem { visits, materials, plantings }
}

fn planting(stream: &mut Stream, visits: &[Date]) -> Planting {
    let first = start() + (stream.next() * 7.0 * visits.len() as f64 / 2.0) as i32 - 5;
    let life = 25 + stream.upto(30);
    let (whole, delay) = (stream.between(20.0, 120.0), stream.between(0.0, 0.5));
    let need = (0..life)
        .map(|day| whole * ((day as f64 / life as f64 - delay) / (1.0 - delay)).max(0.0))
        .collect();
    let (cap, last) = (stream.between(20.0, 80.0), first + (life as i32) * 3 / 4);
    let caps = visits
        .iter()
        .map(|day| match *day {
            day if day < first || day > last => 0.0,
            day if day < first + 14 => cap / 2.0,
            _ => cap,
        })
        .collect();
    let material = stream.upto(3);
    Planting { material, first, need, caps, weight: stream.between(0.5, 2.0), bulk: 1.0 }
}

/// The least pound-days of one planting on a set of visits, by another solver.
fn by_program(garden: &Garden, bed: &Bed, set: u128) -> Option<f64> {
    let mut program = microlp::Problem::new(OptimizationDirection::Minimize);
    let mut columns = Vec::new();
    for position in garden::positions(set & bed.allowed) {
        let (visit, given) = (garden.visits[position], garden.days[position]);
        let days: f64 = (bed.first..=bed.last).map(|day| bed.share(visit, day - given)).sum();
        let column = program.add_var(days, (0.0, bed.caps[position]));
        columns.push((column, visit, given));
    }
    for day in bed.first..=bed.last {
        let share = |(column, visit, given): &(microlp::Variable, usize, i32)| {
            (*column, bed.share(*visit, day - given))
        };
        let row: Vec<_> = columns.iter().map(share).collect();
        program.add_constraint(&row[..], ComparisonOp::Ge, bed.need_by(day) - bed.slack);
    }
    let solution = program.solve().ok()?.into_solution().ok()?;
    Some(solution.objective() * bed.weight)
}

/// The fewest visits and least pound-days of a garden, by trying every set of visits.
fn by_trying(garden: &Garden) -> (u32, f64) {
    let mut tried: Vec<BTreeMap<u128, Option<f64>>> =
        garden.beds().map(|_| BTreeMap::new()).collect();
    let mut best: Option<(u32, f64)> = None;
    for set in 0..1u128 << garden.days.len() {
        let visits = set.count_ones();
        if best.is_some_and(|(fewest, _)| visits > fewest) {
            continue;
        }
        let beds = garden.beds().zip(&mut tried);
        let solve = |(bed, tried): (&Bed, &mut BTreeMap<u128, Option<f64>>)| {
            let usable = set & bed.allowed;
            *tried.entry(usable).or_insert_with(|| by_program(garden, bed, usable))
        };
        if let Some(days) = beds.map(solve).sum::<Option<f64>>() {
            let better = |(fewest, least)| visits < fewest || days < least;
            if best.is_none_or(better) {
                best = Some((visits, days));
            }
        }
    }
    best.expect("all visits together do")
}

fn is_best(seed: u64, problem: &Problem) {
    let curves = garden::curves(problem);
    let garden = Garden::new(problem, &curves);
    let found = search::best(&garden);
    let (visits, pound_days) = by_trying(&garden);
    assert_eq!(found.set.count_ones(), visits, "seed {seed}");
    let gap = (found.pound_days - pound_days).abs();
    assert!(gap <= 1e-6 * (1.0 + pound_days), "seed {seed}: {} {pound_days}", found.pound_days);
}

#[test]
fn the_plan_is_the_best_of_all_there_are() {
    for seed in 0..150 {
        is_best(seed, &small(seed));
    }
}

#[test]
fn the_plan_of_a_longer_season_is_the_best_too() {
    for seed in 0..40 {
        is_best(seed, &made(seed, 10..13, 3..8));
    }
}

#[test]
fn a_solved_plan_holds_every_crop_that_can_be_held() {
    for seed in 0..150 {
        let problem = small(seed);
        let plan = solve(&problem);
        for (planting, kept) in problem.plantings.iter().zip(&plan.plantings) {
            let supply = supply(&problem, planting, &kept.doses);
            let short =
                planting.need.iter().zip(&supply).filter(|(need, got)| *got + 1e-6 < **need);
            let expected = kept.shortage.as_ref().map_or(0, |shortage| shortage.days);
            assert_eq!(short.count(), expected, "seed {seed}");
            for (visit, dose) in &kept.doses {
                assert!(*dose <= planting.caps[*visit] * (1.0 + 1e-9), "seed {seed}");
                assert!(plan.visits.contains(&problem.visits[*visit]), "seed {seed}");
            }
            let lying: f64 = planting.need.iter().zip(&supply).map(|(need, got)| got - need).sum();
            if kept.shortage.is_none() {
                let gap = (lying * planting.weight - kept.unused).abs();
                assert!(gap < 1e-5 * (1.0 + kept.unused), "seed {seed}: {lying} {}", kept.unused);
            }
        }
    }
}

#[test]
fn nothing_to_do_is_no_visit() {
    let plan = solve(&Problem::default());
    assert_eq!((plan.visits.len(), plan.unused), (0, 0.0));
    let mut problem = small(1);
    for planting in &mut problem.plantings {
        planting.need = planting.need.iter().map(|_| 0.0).collect();
    }
    assert_eq!(solve(&problem).visits, []);
}

#[test]
fn equal_plans_take_the_later_days() {
    // Needed from day 20 on only: any visit before would do, the last before it is best.
    let visits: Vec<Date> = (0..6).map(|week| start() + 7 * week).collect();
    let need = (0..40).map(|day| if day < 20 { 0.0 } else { 10.0 }).collect();
    let caps = vec![30.0; 6].into();
    let planting = Planting { material: 0, first: start(), need, caps, weight: 0.0, bulk: 0.0 };
    let materials = vec![Material { released: vec![vec![1.0]; 6] }];
    let plan = solve(&Problem { visits, materials, plantings: vec![planting] });
    assert_eq!(plan.visits, [start() + 14]);
}

#[test]
fn a_trifle_is_no_shortage() {
    // One visit with a cap of 30, from day 7 on, for a need of 10 that grows to 33 on the last days.
    let need = (0..20).map(|day| if day < 15 { 10.0 } else { 33.0 }).collect();
    let visits = vec![start() + 7];
    let planting = Planting {
        material: 0,
        first: start(),
        need,
        caps: vec![30.0].into(),
        weight: 1.0,
        bulk: 1.0,
    };
    let materials = vec![Material { released: vec![vec![1.0]] }];
    let problem = Problem { visits, materials, plantings: vec![planting] };
    let short = |trifle| shortage(&problem, &problem.plantings[0], trifle);
    let whole = short(0.0).expect("short before the visit and at the end");
    assert_eq!((whole.from, whole.days, whole.worst), (start(), 12, 10.0));
    assert_eq!((whole.worst_on, whole.at_end), (start(), 3.0));
    let first = short(5.0).expect("short before the visit");
    assert_eq!((first.from, first.days, first.worst), (start(), 7, 10.0));
    assert_eq!(short(10.0), None);
}

/// A garden with every planting three times, of weights of their own, is that of one planting each with
/// the weights added up.
#[test]
fn plantings_that_are_alike_get_the_same() {
    for seed in 0..60 {
        let single = small(seed);
        let weighing = |planting: &Planting, weight: f64| Planting {
            weight: planting.weight * weight,
            ..planting.clone()
        };
        let thrice = |weight| single.plantings.iter().map(move |one| weighing(one, weight));
        let plantings = thrice(1.0).chain(thrice(0.5)).chain(thrice(2.5)).collect();
        let together = Problem { plantings, ..single.clone() };
        let whole = Problem { plantings: thrice(4.0).collect(), ..single.clone() };
        let (plan, other) = (solve(&together), solve(&whole));
        assert_eq!(plan.visits, other.visits, "seed {seed}");
        for (at, kept) in plan.plantings.iter().enumerate() {
            let one = &other.plantings[at % single.plantings.len()];
            assert_eq!((&kept.doses, kept.left), (&one.doses, one.left), "seed {seed}");
            assert_eq!(kept.shortage, one.shortage, "seed {seed}");
        }
        assert!((plan.unused - other.unused).abs() <= 1e-9 * (1.0 + plan.unused), "seed {seed}");
    }
}
