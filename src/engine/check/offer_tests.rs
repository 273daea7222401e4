//! Materials for a rescue, against what a bulletin prints of several at once.

use super::*;
use crate::engine::check::Basis;
use crate::figure::disagreements;
use crate::quantity::{Area, round_to};

fn d(text: &str) -> Decimal {
    text.parse().expect("a decimal")
}

fn rescue(nitrogen: Mass) -> Rescue {
    let nitrogen = Figure::asked("nitrogen", nitrogen);
    Rescue { rate: None, most: &nitrogen + &nitrogen, nitrogen, basis: Basis::Least }
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
        own: true,
    }
}

#[test]
fn the_published_weights_for_thirty_feet_of_tomatoes_come_out() {
    // Kansas extension column, 2019, tomato, 30 ft of row: 2/3 lb of 16-0-0, 4 oz of urea, 0.5 lb
    // of 21-0-0, 1/3 lb of 30 % nitrogen; all bring about 0.105 lb nitrogen, here taken as exactly
    // that on rows 3 ft apart. The printed weights are rounded to ounces,
    // those here to 5 g.
    let area = Area::from_ft2(90.into());
    let nitrogen = Mass::from_lb(d("0.105"));
    let ground = Ground {
        area: Some(Figure::asked("area", area)),
        mix: None,
        plants: Some(Figure::asked("plants", Share::from_fraction(15.into()))),
        row_spacing: Some(Figure::asked("rows", Length::from_ft(3.into()))),
    };
    for (n, kind, oz) in [
        ("16", MaterialKind::Mineral, "10.667"),
        ("46", MaterialKind::Mineral, "4"),
        ("21", MaterialKind::Mineral, "8"),
        ("30", MaterialKind::Mineral, "5.333"),
    ] {
        let offers = offers(
            &rescue(nitrogen),
            &ground,
            &[candidate("one", kind, n, 0, n)],
            UnitSystem::Metric,
        );
        let weight = offers[0].weight.value().oz();
        let off = (weight - d(oz)).abs() / d(oz);
        assert!(off < d("0.1"), "{n} %: {weight} oz against {oz}");
        let ten_feet = offers[0].per_ten_feet.as_ref().expect("rows are known").value().oz();
        assert_eq!(round_to(ten_feet * d("3"), d("0.001")), round_to(weight, d("0.001")));
        let each = offers[0].per_plant.as_ref().expect("plants are counted").value().oz();
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
    let ground = Ground { area: None, mix: None, plants: None, row_spacing: None };
    let offers = offers(&rescue(Mass::from_lb(d("0.1"))), &ground, &all, UnitSystem::Us);
    let names: Vec<&str> = offers.iter().map(|offer| offer.name.as_str()).collect();
    assert_eq!(names, ["feather meal", "urea", "calcium nitrate"]);
    assert!(offers.iter().all(|offer| disagreements(&offer.weight.step()).is_empty()));
}

#[test]
fn in_containers_a_slow_meal_is_held_by_all_its_nitrogen() {
    use MaterialKind::AnimalMeal;
    let nitrogen = Figure::asked("nitrogen", Mass::from_g(120.into()));
    let rescue = Rescue { rate: None, most: nitrogen.clone(), nitrogen, basis: Basis::Container };
    let ground = Ground { area: None, mix: None, plants: None, row_spacing: None };
    let meal = candidate("blood meal", AnimalMeal, "12", 0, "6");
    let offers = offers(&rescue, &ground, &[meal], UnitSystem::Metric);
    // 120 g of nitrogen at 12 % is 1 kg; by what comes free in 21 days it would have been 2 kg.
    assert_eq!(offers[0].weight.value(), Mass::from_g(1000.into()));
}
