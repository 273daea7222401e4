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

fn told(step: &Rc<Step>) -> String {
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
    assert_eq!(told(short.step()), expected);
}
