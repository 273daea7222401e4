//! Exact small tellings, and what every telling keeps to.

use super::*;
use crate::figure::{Figure, Place, Rule, Status};
use crate::quantity::{Area, Mass, Rate, Share, UnitSystem};
use crate::report::terminal::{self, Terminal};

static NEED: Rule = Rule {
    key: "need",
    says: "a rate over an area is a weight",
    status: Status::Definition,
    source: None,
};
static CREDIT: Rule =
    Rule { key: "credit", says: "credits come off", status: Status::Proposed, source: None };

fn d(text: &str) -> rust_decimal::Decimal {
    text.parse().expect("a decimal")
}

fn told(step: &Arc<Step>) -> String {
    let catalogue = Catalogue::new();
    let places = Places { file: "season.toml", text: "a\nb\nc\n", catalogue: &catalogue };
    let document = document("x", step, Showing::new(UnitSystem::Us), &places, None, &[]);
    terminal::render(&document, &Terminal::default())
}

#[test]
fn steps_rules_and_lines() {
    let rate = Figure::said("rate", Rate::from_lb_per_acre(d("150")), Place { start: 2, end: 3 });
    let area = Figure::fixed("area", Area::from_ft2(d("96")), &NEED);
    let need = (&rate * &area).by("need", &NEED);
    let credit = Figure::asked("soil", Mass::from_oz(d("1.5")));
    let whole = Figure::asked("share of the bed", Share::WHOLE);
    let credits = Figure::total([&(&credit * &whole)]).by("credits", &CREDIT);
    let short = (&need - &credits).by("shortfall", &CREDIT);
    let expected = "\
Where x comes from
══════════════════

1. shortfall = 3.79 oz = need (5.29 oz, step 2) − credits (1.5 oz [1]) [1]
2.   need = 5.3 oz = rate (3.44 lb/1000 ft2, line 2) × area (96 ft2 [2]) [2]

Rules and sources
─────────────────

Lines are those of season.toml.

1. Credits come off. [proposed here]
2. A rate over an area is a weight. [by definition]
";
    assert_eq!(told(&short.step()), expected);
}

#[test]
fn a_step_told_once_is_referred_to_and_another_name_is_folded_away() {
    let length = Figure::asked("side", crate::quantity::Length::from_ft(d("4")));
    let area = (&length * &length).by("area", &NEED);
    let ground = area.clone().by("ground", &CREDIT);
    let rate = Figure::asked("rate", Rate::from_lb_per_1000_ft2(d("2")));
    let need = (&rate * &ground).called("need");
    let other = (&rate * &area).called("other");
    let text = told(&Figure::total([&need, &other]).called("both").step());
    let steps: Vec<&str> = text.lines().skip(3).take(4).collect();
    let expected = [
        "1. both = 1.02 oz = need (0.51 oz, step 2) + other (0.51 oz, step 4)",
        "2.   need = 0.51 oz = rate (2 lb/1000 ft2) × ground (16 ft2, step 3)",
        "3.     ground = 16 ft2 = side (4 ft) × side (4 ft) [1] [2]",
        "4.   other = 0.51 oz = rate (2 lb/1000 ft2) × area (16 ft2, step 3)",
    ];
    assert_eq!(steps, expected);
}

#[test]
fn parts_are_shown_close_enough_to_be_reckoned_again() {
    let third = Figure::asked("third", Mass::from_oz(d("3.33333333")));
    let sum = Figure::total([&third, &third, &third]).called("sum");
    let text = told(&sum.step());
    // 3.33 three times would come to 9.99.
    assert!(text.contains("1. sum = 10 oz = third (3.33 oz)"), "{text}");
    let share = Figure::asked("share", Share::from_percent(d("1.2345")));
    let part = (&Figure::asked("heap", Mass::from_lb(d("1000"))) * &share).called("part");
    let text = told(&part.step());
    assert!(text.contains("1. part = 12.35 lb = heap (1000 lb) × share (1.235 %)"), "{text}");
}
