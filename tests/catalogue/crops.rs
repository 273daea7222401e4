//! Crops against the ordinance's tables, the sets of removal figures and their own promises.

use rust_decimal::Decimal;
use topdress::catalogue::{
    Catalogue, Crop, Curve, NitrateStep, Number, Removal, Supply, YieldStep,
};
use topdress::quantity::{Length, Rate, Share, settle};

use super::{cases, decimal, no_name_twice};

fn crop(catalogue: &Catalogue, name: &str) -> std::sync::Arc<Crop> {
    catalogue.crop(name).unwrap_or_else(|| panic!("no crop `{name}`"))
}

#[test]
fn no_two_crops_answer_to_one_name() {
    let crops: Vec<_> = Catalogue::new().crops().collect();
    no_name_twice(crops.iter().map(|crop| (crop.name.as_str(), crop.aliases.as_slice())));
}

/// The case file copies the ordinance's Annex 4, Tables 2 to 5, row by row.
#[test]
fn demand_is_the_ordinances_row_by_row() {
    let catalogue = Catalogue::new();
    for case in cases("ordinance/demand.csv") {
        let name = &case["crop"];
        let crop = crop(&catalogue, name);
        let row: &Supply = match case["stand"].as_str() {
            "" => crop.supply.as_ref(),
            "after harvest" => crop.after_harvest_in(None),
            year => crop.supply_in(year.parse().ok()),
        }
        .unwrap_or_else(|| panic!("{name} {}: no row", case["stand"]));
        let kg_per_ha = |field: &str| Rate::from_kg_per_ha(decimal(&case[field]));
        assert_eq!(row.nitrogen, kg_per_ha("nitrogen"), "{name}");
        assert_eq!(
            row.reference_yield,
            kg_per_ha("yield") * Share::from_fraction(1000.into()),
            "{name}"
        );
        assert_eq!(row.depth, Length::from_cm(decimal(&case["depth"])), "{name}");
        let residues = (!case["residues"].is_empty()).then(|| kg_per_ha("residues"));
        assert_eq!(row.residues, residues, "{name}");
        assert_eq!(row.per_step, kg_per_ha("per_step"), "{name}");
        let step = match row.step {
            YieldStep::Share(share) => format!("{} %", share.percent().normalize()),
            YieldStep::Yield(step) => {
                format!("{} t/ha", (step.kg_per_ha() / Decimal::from(1000)).normalize())
            }
        };
        assert_eq!(step, case["step"], "{name}");
        assert_eq!(row.measure_week, case["week"].parse().ok(), "{name}");
    }
}

/// The case file copies the bulletins' rates; its `source` is where each was read.
#[test]
fn rates_are_what_the_bulletins_print() {
    let catalogue = Catalogue::new();
    for case in cases("recommendation/rates.csv") {
        let crop = crop(&catalogue, &case["crop"]);
        let organic_matter = case["where"].strip_prefix("om ");
        let row = crop.recommendations.iter().find(|row| {
            let from = row.organic_matter_from.map_or(Decimal::ZERO, Share::percent);
            row.source == case["source"]
                && match organic_matter {
                    Some(percent) => from == decimal(percent),
                    None => row.region.as_deref().unwrap_or_default() == case["where"],
                }
        });
        let row = row.unwrap_or_else(|| panic!("{case:?}: no such row"));
        let rate = |text: &str| match case["unit"].as_str() {
            "lb/acre" => Rate::from_lb_per_acre(decimal(text)),
            "kg/ha" => Rate::from_kg_per_ha(decimal(text)),
            unit => panic!("{unit}"),
        };
        let nitrogen = row.nitrogen.map(|spread| (spread.low, spread.high));
        let printed = (!case["low"].is_empty()).then(|| (rate(&case["low"]), rate(&case["high"])));
        assert_eq!(nitrogen, printed, "{case:?}");
        for (field, levels) in [("phosphate", &row.phosphate), ("potash", &row.potash)] {
            let cells = [levels.low, levels.medium, levels.high, levels.very_high];
            let printed = case[field].split('/').map(|text| (!text.is_empty()).then(|| rate(text)));
            assert_eq!(cells.to_vec(), printed.collect::<Vec<_>>(), "{case:?} {field}");
        }
    }
}

/// The case file names the set and its publication.
#[test]
fn removal_is_what_the_sets_print() {
    let catalogue = Catalogue::new();
    for case in cases("removal/sets.csv") {
        let crop = crop(&catalogue, &case["crop"]);
        let removal = crop.removals.iter().find(|removal| removal.set == case["set"]);
        let removal: &Removal =
            removal.unwrap_or_else(|| panic!("{} has no set {}", case["crop"], case["set"]));
        for (field, value) in [
            ("nitrogen", removal.nitrogen),
            ("phosphate", removal.phosphate),
            ("potash", removal.potash),
        ] {
            if case[field].is_empty() {
                continue;
            }
            let printed = decimal(&case[field]);
            // kg/t is a thousandth, lb/ton a two-thousandth; a yield of so many ton that many times less.
            let expected = match case["unit"].as_str() {
                "kg/t" => printed / Decimal::from(1000),
                "lb/ton" => printed / Decimal::from(2000),
                "lb/20 ton" => printed / Decimal::from(40_000),
                unit => panic!("{unit}"),
            };
            let value = value.map(Share::fraction).map(settle);
            assert_eq!(value, Some(settle(expected)), "{} {} {field}", case["crop"], case["set"]);
        }
    }
}

/// The ceiling is the highest season rate read, rows for one region or texture left out; 200 lb/acre
/// where there is none. Sweet potato's guide prints a ceiling of its own, and cover crops get nothing.
#[test]
fn ceilings_are_the_highest_season_rates() {
    for crop in Catalogue::new().crops() {
        if ["sweet potato"].contains(&crop.name.as_str()) || crop.cover_nitrogen.is_some() {
            continue;
        }
        let general = crop.recommendations.iter().filter(|row| {
            !row.part && row.region.is_none() && row.texture.is_none() && row.nitrogen.is_some()
        });
        let highest = general
            .filter_map(|row| Some((row.nitrogen?.high, row.source.as_str())))
            .max_by_key(|(rate, _)| *rate)
            .unwrap_or((Rate::from_lb_per_acre(200.into()), "rule-ceiling"));
        assert_eq!(crop.ceiling.value, highest.0, "{}", crop.name);
        assert_eq!(crop.ceiling.source, highest.1, "{}", crop.name);
    }
}

#[test]
fn every_crop_can_be_planned() {
    for crop in Catalogue::new().crops() {
        let name = &crop.name;
        let timed = !crop.side_dress.days.is_empty()
            || !crop.side_dress.from_harvest.is_empty()
            || crop.side_dress.every.is_some();
        let all_at_once = crop.starter.value.percent() == Decimal::ONE_HUNDRED;
        assert!(timed || all_at_once, "{name} has nitrogen left and no day for it");
        assert!(!crop.legume || all_at_once, "{name}: legumes get all of it at sowing");
        let early = crop.heading && crop.side_dress.days.iter().any(|day| *day < 21);
        assert!(!early, "{name} makes a head and is fed before day 21");
        assert!(!crop.picked_over || !crop.overwintered, "{name}");
        if let Some(days) = &crop.days {
            assert!(days.value.low <= days.value.high, "{name}");
        }
        match &crop.curve.value {
            Curve::Logistic { midpoint, steepness } => {
                assert!(midpoint.0 > Decimal::ZERO && midpoint.0 < Decimal::ONE, "{name}");
                assert!(steepness.0 > Decimal::ZERO, "{name}");
            }
            Curve::Points(points) => {
                assert_eq!(
                    (points[0].0.0, points[0].1.0),
                    (Decimal::ZERO, Decimal::ZERO),
                    "{name}"
                );
                let last = points[points.len() - 1];
                assert_eq!((last.0.0, last.1.0), (Decimal::ONE, Decimal::ONE), "{name}");
                let rises = |pair: &[(Number, Number)]| {
                    pair[0].0.0 < pair[1].0.0 && pair[0].1.0 <= pair[1].1.0
                };
                assert!(points.windows(2).all(rises), "{name}");
            }
        }
        for table in crop.nitrate_test.iter().flat_map(|test| [&test.steps, &test.steps_manured]) {
            let falls = |pair: &[NitrateStep]| {
                pair[0].up_to < pair[1].up_to && pair[0].nitrogen > pair[1].nitrogen
            };
            assert!(table.windows(2).all(falls), "{name}");
        }
    }
}

/// Rule-given numbers that other parts lean on.
#[test]
fn plain_names_mean_the_usual_kinds() {
    let catalogue = Catalogue::new();
    for (plain, kind) in [
        ("leaf lettuce", "lettuce"),
        ("fresh-market cabbage", "cabbage"),
        ("topped carrot", "carrot"),
        ("dry bulb onion", "onion"),
        ("bush bean", "bean"),
        ("squash", "winter squash"),
        ("courgette", "zucchini"),
        ("Beetroot", "beet"),
        ("sweetcorn", "sweet corn"),
        ("aubergine", "eggplant"),
    ] {
        assert_eq!(crop(&catalogue, plain).name, kind);
    }
    let percent = |name: &str| crop(&catalogue, name).starter.value.percent();
    // 70 lb of 110 to 120 (Midwest guide 2022, p. 221); a half (Utah); nothing before regrowth.
    assert_eq!(
        (percent("leek"), percent("tomato"), percent("garlic")),
        (61.into(), 50.into(), 0.into())
    );
    assert_eq!(settle(percent("broccoli") * Decimal::from(3)), Decimal::ONE_HUNDRED);
}
