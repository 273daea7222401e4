//! Doses for crops found short, against what bulletins print.

use super::*;
use crate::figure::disagreements;
use crate::quantity::{round_to, settle};

fn d(text: &str) -> Decimal {
    text.parse().expect("a decimal")
}

fn per_acre(lb: i64) -> Figure<Rate> {
    Figure::asked("rate", Rate::from_lb_per_acre(lb.into()))
}

fn ppm(value: i64) -> Figure<Concentration> {
    Figure::asked("nitrate", Concentration::from_ppm(value.into()))
}

fn need(nitrate: Option<i64>, budget: Option<i64>) -> RescueNeed {
    RescueNeed {
        critical: ppm(25),
        nitrate: nitrate.map(ppm),
        budget: budget.map(per_acre),
        washed_out: false,
        published: None,
        cap: per_acre(50),
        too_late: false,
    }
}

fn lb(rescue: &Rescue) -> Decimal {
    settle(rescue.nitrogen.value().lb_per_acre())
}

#[test]
fn the_dose_lifts_nitrate_to_the_critical_level_within_its_bounds() {
    // Texas A&M, Vegetable Production and Marketing News, October 2006: about 4 lb per acre for
    // each ppm below the threshold.
    for (found, dose_lb) in [(24, 20), (20, 20), (19, 24), (15, 40), (13, 48), (12, 50), (0, 50)] {
        let rescue = dose(&need(Some(found), None));
        assert_eq!((lb(&rescue), rescue.basis), (dose_lb.into(), Basis::Nitrate), "{found} ppm");
        assert!(disagreements(rescue.nitrogen.step()).is_empty());
    }
}

#[test]
fn a_test_outranks_the_budget_and_the_budget_sizes_the_rest() {
    assert_eq!(need(Some(25), Some(60)).short(), Some(false));
    assert_eq!(need(Some(12), Some(-60)).short(), Some(true));
    assert_eq!(need(None, Some(-1)).short(), Some(false));
    assert_eq!(need(None, None).short(), None);
    let washed = RescueNeed { washed_out: true, ..need(None, Some(-60)) };
    assert_eq!(washed.short(), Some(true));
    assert_eq!((lb(&dose(&washed)), dose(&washed).basis), (20.into(), Basis::Least));
    let short = dose(&need(None, Some(33)));
    assert_eq!((lb(&short), short.basis), (33.into(), Basis::Budget));
}

#[test]
fn the_cap_of_onion_and_seedlings_wins_over_everything() {
    // Michigan State University, nutrient management after adverse weather: onion never above 25.
    let onion = RescueNeed { cap: per_acre(25), ..need(Some(2), None) };
    assert_eq!(lb(&dose(&onion)), 25.into());
    let high = Some((per_acre(40), per_acre(80)));
    let corn = RescueNeed { published: high.clone(), ..need(Some(24), None) };
    assert_eq!(lb(&dose(&corn)), 40.into());
    let seedling = RescueNeed { published: high, cap: per_acre(25), ..need(Some(24), None) };
    assert_eq!(lb(&dose(&seedling)), 25.into());
}

fn candidate(name: &str, kind: MaterialKind, n: &str, nitrate: i64, freed: &str) -> Candidate {
    let share = |text: &str| Figure::asked("share", Share::from_percent(d(text)));
    Candidate {
        name: name.to_owned(),
        kind,
        nitrogen: share(n),
        nitrate: Share::from_percent(nitrate.into()),
        freed: share(freed),
        density: None,
    }
}

#[test]
fn the_published_weights_for_thirty_feet_of_tomatoes_come_out() {
    // Kansas extension column, 2019, tomato, 30 ft of row: 2/3 lb of 16-0-0, 4 oz of urea, 0.5 lb
    // of 21-0-0, 1/3 lb of 30 % nitrogen; all bring about 0.105 lb nitrogen, here taken as exactly
    // that on rows 3 ft apart. The printed weights are rounded to ounces.
    let area = Area::from_ft2(90.into());
    let nitrogen = Mass::from_lb(d("0.105"));
    let rate = Figure::asked("rate", nitrogen / Positive::new(area).expect("an area"));
    let ground = Plants {
        area: Figure::asked("area", area),
        plants: Some(15),
        row_spacing: Some(Length::from_ft(3.into())),
    };
    for (n, kind, oz) in [
        ("16", MaterialKind::Mineral, "10.667"),
        ("46", MaterialKind::Mineral, "4"),
        ("21", MaterialKind::Mineral, "8"),
        ("30", MaterialKind::Mineral, "5.333"),
    ] {
        let offers = offers(&rate, &ground, &[candidate("one", kind, n, 0, n)]);
        let weight = offers[0].weight.value().oz();
        let off = (weight - d(oz)).abs() / d(oz);
        assert!(off < d("0.1"), "{n} %: {weight} oz against {oz}");
        let ten_feet = offers[0].per_ten_feet.expect("rows are known").oz();
        assert_eq!(round_to(ten_feet * d("3"), d("0.001")), round_to(weight, d("0.001")));
        let each = offers[0].per_plant.expect("plants are counted").oz();
        assert_eq!(round_to(each * d("15"), d("0.001")), round_to(weight, d("0.001")));
    }
}

#[test]
fn compost_is_never_a_rescue_and_speeds_are_told_apart() {
    use MaterialKind::{AnimalMeal, Compost, Manure, Mineral, PlantMeal, PoultryManure};
    for (one, speed) in [
        (candidate("compost", Compost, "1", 0, "1"), Err(NotARescue::FeedsTheSoil)),
        (candidate("rich compost", Compost, "9", 90, "9"), Err(NotARescue::FeedsTheSoil)),
        (candidate("manure", Manure, "2", 0, "1"), Err(NotARescue::FeedsTheSoil)),
        (candidate("pellets", PoultryManure, "4", 0, "2"), Err(NotARescue::FeedsTheSoil)),
        (candidate("alfalfa meal", PlantMeal, "2.5", 0, "1"), Err(NotARescue::TooPoor)),
        (candidate("blood meal", AnimalMeal, "12", 0, "6.2"), Ok(Speed::Slow)),
        (candidate("cold meal", AnimalMeal, "12", 0, "3"), Err(NotARescue::TooSlowNow)),
        (candidate("urea", Mineral, "46", 0, "46"), Ok(Speed::Steady)),
        (candidate("calcium nitrate", Mineral, "15.5", 93, "15.5"), Ok(Speed::Quick)),
        (candidate("potassium sulfate", Mineral, "0", 0, "0"), Err(NotARescue::NoNitrogen)),
    ] {
        assert_eq!(one.speed(), speed, "{}", one.name);
    }
}

#[test]
fn one_offer_for_each_speed_the_chosen_first() {
    use MaterialKind::{AnimalMeal, Compost, Mineral};
    let all = [
        candidate("compost", Compost, "1", 0, "0.1"),
        candidate("feather meal", AnimalMeal, "12", 0, "6"),
        candidate("urea", Mineral, "46", 0, "46"),
        candidate("ammonium sulfate", Mineral, "21", 0, "21"),
        candidate("calcium nitrate", Mineral, "15.5", 93, "15.5"),
    ];
    let ground = Plants {
        area: Figure::asked("area", Area::from_ft2(100.into())),
        plants: None,
        row_spacing: None,
    };
    let offers = offers(&per_acre(40), &ground, &all);
    let names: Vec<&str> = offers.iter().map(|offer| offer.name.as_str()).collect();
    assert_eq!(names, ["feather meal", "urea", "calcium nitrate"]);
    assert!(offers.iter().all(|offer| disagreements(offer.weight.step()).is_empty()));
}
