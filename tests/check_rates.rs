//! Levels of soil nitrate and rescue rates, against what is printed, for crops of the catalogue in
//! a season of their own.

use std::sync::Arc;

use rust_decimal::Decimal;
use topdress::calendar::Date;
use topdress::catalogue::{Catalogue, Signs};
use topdress::engine::check::{Bedside, Hold, answer, budget_today};
use topdress::engine::plan::plan;
use topdress::engine::setting::Setting;
use topdress::figure::{Figure, disagreements};
use topdress::quantity::{Concentration, Rate, UnitSystem, settle};
use topdress::season::Season;

use crate::catalogue::{cases, decimal};

fn season(crop: &str, manured: bool) -> Season {
    let manure =
        "[[bed.amend]]\nmaterial = \"dairy manure\"\namount = \"100 lb\"\non = 2027-03-01\n";
    let text = format!(
        "[garden]\nyear = 2027\ntexture = \"loam\"\ncoldest = {{ month = 1, mean = \"26 F\" }}\n\
         warmest = {{ month = 7, mean = \"71 F\" }}\n[feeding]\nside_dress = [\"ammonium sulfate\"]\n\
         [[bed]]\nname = \"a\"\narea = \"400 ft2\"\nsoil = {{ organic_matter = \"3 %\", sampled = 2027-03-01 }}\n\
         {}[[bed.planting]]\ncrop = \"{crop}\"\nplanted = 2027-05-10\nharvest = 2027-09-10\nhow = \"transplant\"\n",
        if manured { manure } else { "" }
    );
    match topdress::season::read(&text, Arc::new(Catalogue::new())) {
        Ok(season) => season,
        Err(faults) => panic!("{crop}: {faults:?}"),
    }
}

/// What came of a check: the rate in lb/acre where one was given, and why none was.
struct Outcome {
    rate: Option<Decimal>,
    holds: Vec<Hold>,
    offered: Vec<String>,
}

fn check(season: &Season, ppm: Option<Decimal>, budget: Option<i64>) -> Outcome {
    let today = Date::read("2027-06-19").expect("a date");
    let setting = Setting::new(season, UnitSystem::Us, Some(today));
    let planned = plan(season, UnitSystem::Us, Some(today), &[]);
    let bedside = Bedside {
        setting: &setting,
        plan: &planned.beds[0],
        planting: &planned.beds[0].plantings[0],
        applied: &[],
        today,
        nitrate: ppm.map(Concentration::from_ppm),
        acidity: None,
        budget: budget.map(|lb| Figure::asked("short", Rate::from_lb_per_acre(lb.into()))),
    };
    let signs = Signs::built_in();
    let seen = ["oldest-first", "uniform", "stunted", "healthy-roots"];
    let seen = seen.iter().map(|key| signs.sign(key).expect("a sign")).collect();
    let answer = answer(bedside.ask(&signs, seen, false)).expect("no conflict");
    let rescue = answer.dose.as_ref().map(|dose| &dose.rescue);
    if let Some(rescue) = rescue {
        assert!(disagreements(&rescue.nitrogen.step()).is_empty());
    }
    let rate = rescue.and_then(|rescue| rescue.rate.as_ref());
    let offers = answer.dose.iter().flat_map(|dose| &dose.offers);
    Outcome {
        rate: rate.map(|rate| settle(rate.value().lb_per_acre())),
        offered: offers.map(|offer| offer.name.clone()).collect(),
        holds: answer.holds,
    }
}

#[test]
fn nitrate_at_the_printed_level_is_enough_and_below_it_is_not() {
    for case in cases("rescue/enough-nitrate.csv") {
        let season = season(&case["crop"], case["manured"] == "yes");
        let enough = decimal(&case["enough"]);
        let at = check(&season, Some(enough), Some(40));
        assert!(at.rate.is_none(), "{}", case["crop"]);
        assert!(at.holds.contains(&Hold::NitrateEnough), "{}: {:?}", case["crop"], at.holds);
        let below = check(&season, Some(enough - Decimal::ONE), Some(-40));
        assert_eq!(below.holds, [], "{}", case["crop"]);
        assert!(below.rate.is_some(), "{}", case["crop"]);
    }
}

/// University of Delaware, Weekly Crop Update: nitrogen for crops whose tissue tests low, lb/acre.
#[test]
fn rescue_rates_are_those_printed() {
    let mut count = 0;
    for case in cases("rescue/published.csv") {
        let season = season(&case["crop"], false);
        let (low, high) = (decimal(&case["low"]), decimal(&case["high"]));
        let within = |outcome: &Outcome| {
            let rate =
                outcome.rate.unwrap_or_else(|| panic!("{}: {:?}", case["crop"], outcome.holds));
            assert!(
                low <= rate && rate <= high,
                "{}: {rate}, printed {low} to {high}",
                case["crop"]
            );
        };
        for ppm in [0, 4, 9, 12, 15, 18, 19] {
            within(&check(&season, Some(ppm.into()), None));
        }
        for short in [1, 15, 33, 50, 90] {
            within(&check(&season, None, Some(short)));
        }
        count += 1;
    }
    assert!(count >= 16);
}

#[test]
fn every_crop_with_a_printed_rate_is_kept_within_it() {
    for crop in Catalogue::new().crops().filter(|crop| !crop.overwintered && !crop.perennial) {
        let Some(rescue) = &crop.rescue else { continue };
        let outcome = check(&season(&crop.name, false), Some(3.into()), None);
        let Some(rate) = outcome.rate else {
            assert!(!outcome.holds.is_empty(), "{}", crop.name);
            continue;
        };
        let rate = Rate::from_lb_per_acre(rate);
        assert!(rate >= rescue.nitrogen.low && rate <= rescue.nitrogen.high, "{}", crop.name);
    }
}

/// Nitrogen requirements of lettuce through presidedress soil nitrate testing (abstract):
/// kg/ha = 4 x (20 - ppm).
#[test]
fn lettuce_follows_its_printed_equation() {
    let season = season("lettuce", false);
    for (ppm, kg_per_ha) in [(8, 48), (10, 40), (12, 32)] {
        let rate = check(&season, Some(ppm.into()), None).rate.expect("short");
        let printed = Rate::from_kg_per_ha(kg_per_ha.into()).lb_per_acre();
        assert!((rate - printed).abs() < Decimal::new(1, 6), "{ppm} ppm: {rate}, {printed}");
    }
}

#[test]
fn three_speeds_are_offered_and_the_chosen_material_first() {
    let outcome = check(&season("tomato", false), Some(10.into()), None);
    assert_eq!(outcome.offered, ["ammonium sulfate", "calcium nitrate", "blood meal"]);
}

/// The ends of the budget are those of the season: nothing is needed on the eve, and at the last
/// harvest need less credits is the shortfall or the surplus.
#[test]
fn the_budget_of_a_day_ends_as_the_seasons_budget() {
    for crop in ["broccoli", "tomato", "sweet corn", "carrot", "lettuce"] {
        let season = season(crop, true);
        let today = Date::read("2027-06-19").expect("a date");
        let setting = Setting::new(&season, UnitSystem::Us, Some(today));
        let planned = plan(&season, UnitSystem::Us, Some(today), &[]);
        let planting = &planned.beds[0].plantings[0];
        let area = planting.area.as_ref().expect("open ground").value();
        let end = budget_today(&setting, planting, planting.life.end).expect("open ground");
        let left = planting.need.value() - planting.credit.value();
        let off = (end.value() * area - left).kg().abs();
        assert!(off < Decimal::new(1, 6), "{crop}: off by {off} kg");
        let eve = budget_today(&setting, planting, planting.life.planted).expect("open ground");
        assert!(eve.value() < Rate::from_kg_per_ha(5.into()), "{crop}");
        assert!(disagreements(&end.step()).is_empty());
    }
}
