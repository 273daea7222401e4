//! Soil-test classes by laboratory, extractant and texture.

use std::collections::BTreeSet;

use serde::Deserialize;
use topdress::catalogue::{Catalogue, Cell, Class, Extractant, Limits, Tested};

use super::{cases, decimal};

fn extractant(text: &str) -> Extractant {
    #[derive(Deserialize)]
    struct One {
        extractant: Extractant,
    }
    let one: One = toml::from_str(&format!("extractant = \"{text}\""))
        .unwrap_or_else(|fault| panic!("{text}: {fault}"));
    one.extractant
}

/// The case file names the publication of each row.
#[test]
fn values_fall_into_the_classes_that_laboratories_print() {
    let catalogue = Catalogue::new();
    for case in cases("soil-tests/classes.csv") {
        let some = |field: &str| (!case[field].is_empty()).then(|| case[field].as_str());
        let test = Tested {
            nutrient: &case["nutrient"],
            extractant: Some(extractant(&case["extractant"])),
            lab: some("lab"),
            texture: some("texture"),
        };
        let limits = Limits::pick(catalogue.limits(), &test, |unit| unit == case["unit"]);
        let limits = limits.unwrap_or_else(|| panic!("{case:?}: no limits"));
        let limit = limits.class_of(decimal(&case["value"]));
        let found = limit.map(|limit| (limit.word.as_str(), limit.class.words()));
        assert_eq!(found, Some((case["word"].as_str(), case["class"].as_str())), "{case:?}");
    }
}

#[test]
fn limits_of_one_extractant_are_never_read_by_another() {
    let catalogue = Catalogue::new();
    let test =
        |nutrient, extractant| Tested { nutrient, extractant, lab: Some("iowa"), texture: None };
    let pick = |test: &Tested<'_>| {
        Limits::pick(catalogue.limits(), test, |_| true).map(|limits| limits.lab.clone())
    };
    assert_eq!(
        pick(&test("phosphorus", Some(Extractant::Mehlich3))).as_deref(),
        Some("new jersey")
    );
    assert_eq!(pick(&test("phosphorus", Some(Extractant::AmmoniumAcetate))), None);
    assert_eq!(pick(&test("phosphorus", None)).as_deref(), Some("iowa"));
    let nowhere = Tested { nutrient: "phosphorus", extractant: None, lab: None, texture: None };
    assert_eq!(pick(&nowhere), None);
}

#[test]
fn classes_rise_from_nothing_and_one_set_is_the_default() {
    let catalogue = Catalogue::new();
    let mut defaults = BTreeSet::new();
    for limits in catalogue.limits() {
        let name = format!("{} {:?} {}", limits.lab, limits.extractant, limits.nutrient);
        assert!(limits.classes.first().is_some_and(|limit| limit.from.0.is_zero()), "{name}");
        let rises = |pair: &[topdress::catalogue::Limit]| {
            pair[0].from.0 < pair[1].from.0 && pair[0].class <= pair[1].class
        };
        assert!(limits.classes.windows(2).all(rises), "{name}");
        assert!(["phosphorus", "potassium"].contains(&limits.nutrient.as_str()), "{name}");
        assert!(["ppm", "lb/acre", "mg/l", "mg/100 g"].contains(&limits.unit.as_str()), "{name}");
        if limits.default {
            let key = (limits.extractant, limits.nutrient.clone(), limits.unit.clone());
            assert!(defaults.insert(key), "{name} is a second default");
        }
    }
}

#[test]
fn words_are_read_as_the_laboratory_means_them() {
    let catalogue = Catalogue::new();
    let jersey = catalogue.limits().iter().find(|limits| limits.lab == "new jersey");
    let word = |word| jersey.and_then(|limits| limits.class_called(word)).map(|limit| limit.class);
    assert_eq!(word("High"), Some(Class::Target));
    assert_eq!(word("medium"), Some(Class::Low));
    assert_eq!(word("ample"), None);
    assert_eq!(Class::from_word("High"), Some(Class::High));
    assert_eq!(Class::from_word("optimum"), Some(Class::Target));
    assert_eq!(Cell::of(Class::Low, "medium"), Cell::Medium);
    assert_eq!(Cell::of(Class::Low, "low"), Cell::Low);
    assert_eq!(Cell::of(Class::VeryLow, "very low"), Cell::Low);
    assert_eq!(Cell::of(Class::Target, "high"), Cell::High);
    assert_eq!(Cell::of(Class::High, "high"), Cell::HalfHigh);
    assert_eq!(Cell::of(Class::VeryHigh, "very high"), Cell::VeryHigh);
}
