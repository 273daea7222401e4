//! What holds of every garden: gardens are drawn, and planned in two ways that must agree, or in one
//! way that must keep a rule. The draws are the same on every run; `TOPDRESS_CASES=20` draws twenty
//! times as many.

mod done;
mod draw;
mod garden;
mod more;
mod quantities;
mod same;
mod sums;
mod text;
mod units;

use std::collections::BTreeMap;
use std::sync::Arc;

use proptest::prelude::TestCaseError;
use proptest::prop_assert_eq;
use proptest::test_runner::{Config, RngSeed};
use rust_decimal::Decimal;
use topdress::calendar::Date;
use topdress::catalogue::Catalogue;
use topdress::engine::paths;
use topdress::engine::plan::{Plan, plan};
use topdress::fault::render;
use topdress::figure::disagreements;
use topdress::quantity::{UnitSystem, settle};
use topdress::season::{Season, read};

use garden::Garden;
use text::{Hand, text};

/// So many draws, the same on every run.
fn draws(cases: u32) -> Config {
    let times = std::env::var("TOPDRESS_CASES").ok().and_then(|times| times.parse().ok());
    Config {
        cases: cases * times.unwrap_or(1),
        rng_seed: RngSeed::Fixed(20_270_529),
        failure_persistence: None,
        max_shrink_iters: 2_000,
        ..Config::default()
    }
}

/// The season of a file, which must have no fault.
fn season(text: &str) -> Season {
    read(text, Arc::new(Catalogue::new()))
        .unwrap_or_else(|faults| panic!("{}\n{text}", render(&faults, text, "drawn", false)))
}

fn day(text: &str) -> Date {
    Date::read(text).expect("a date")
}

/// The plan made on New Year's Day, with doses weighed in pounds.
fn planned(season: &Season) -> Plan {
    plan(season, UnitSystem::Us, Some(day("2027-01-01")), &[])
}

/// The plan of a garden as it is written down.
fn plan_of(garden: &Garden, hand: Hand) -> Plan {
    planned(&season(&text(garden, hand)))
}

/// Every figure of a plan by its path, to twelve digits.
fn figures(plan: &Plan) -> BTreeMap<String, Decimal> {
    let all = paths::all(plan).into_iter();
    all.map(|one| (one.path, settle(one.step.amount.base))).collect()
}

/// The figures that differ, each with what it is in one and in the other.
fn differences(one: &BTreeMap<String, Decimal>, other: &BTreeMap<String, Decimal>) -> Vec<String> {
    let paths = one.keys().chain(other.keys().filter(|path| !one.contains_key(*path)));
    paths
        .filter(|path| one.get(*path) != other.get(*path))
        .map(|path| format!("{path}: {:?} and {:?}", one.get(path), other.get(path)))
        .collect()
}

/// Whether every figure of a plan reckons back from its own derivation.
fn reckons_back(plan: &Plan) -> Result<(), TestCaseError> {
    for located in paths::all(plan) {
        let wrong: Vec<String> = disagreements(&located.step)
            .iter()
            .map(|step| format!("{:?} of {}", step.label, located.path))
            .collect();
        prop_assert_eq!(wrong, Vec::<String>::new());
    }
    Ok(())
}
