//! Published facts on how crops take up nitrogen, each a text file under `tests/cases/demand/`,
//! against the curves of the catalogue.

use std::fs;
use std::path::Path;

use serde::Deserialize;
use topdress::catalogue::Catalogue;
use topdress::engine::demand::Curve;
use topdress::engine::life::curve_of;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    /// Where the facts were published.
    source: String,
    /// What they say, and what was assumed to turn them into shares.
    about: String,
    /// The crop whose curve is looked at.
    crop: String,
    /// Days from planting to the (last) harvest.
    days: u16,
    fact: Vec<Fact>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Fact {
    says: String,
    /// Days after planting between which uptake is looked at.
    from_day: u16,
    to_day: u16,
    /// The least and most it may be of the whole uptake.
    #[serde(default)]
    takes: Option<(String, String)>,
    /// The least and most it may be of what the best day takes, by the day.
    #[serde(default)]
    of_the_best_day: Option<(String, String)>,
    /// Why the curve is known not to keep to it.
    #[serde(default)]
    does_not_hold: Option<String>,
}

fn number(text: &str) -> f64 {
    text.parse().unwrap_or_else(|_| panic!("`{text}` is not a number"))
}

fn taken(curve: &Curve, from: u16, to: u16, days: u16) -> f64 {
    let by = |day: u16| curve.over(f64::from(days))(f64::from(day));
    by(to) - by(from)
}

/// Whether the curve keeps to the fact, and what it gives instead.
fn keeps(fact: &Fact, curve: &Curve, days: u16) -> (bool, f64) {
    let share = taken(curve, fact.from_day, fact.to_day, days);
    let (range, value) = match (&fact.takes, &fact.of_the_best_day) {
        (Some(range), None) => (range, share),
        (None, Some(range)) => {
            let best = (1..=days).map(|day| taken(curve, day - 1, day, days)).fold(0.0, f64::max);
            (range, share / f64::from(fact.to_day - fact.from_day) / best)
        }
        _ => panic!("a fact says what it `takes` or what that is `of_the_best_day`"),
    };
    ((number(&range.0)..=number(&range.1)).contains(&value), value)
}

#[test]
fn the_curves_keep_to_what_was_measured() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/demand");
    let catalogue = Catalogue::new();
    let mut wrong = Vec::new();
    let mut files = 0;
    for entry in fs::read_dir(folder).expect("the folder of cases") {
        let file = entry.expect("an entry").path();
        let text = fs::read_to_string(&file).expect("a readable case");
        let case: Case =
            toml::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
        assert!(!case.source.is_empty() && !case.about.is_empty(), "{}", file.display());
        let crop = catalogue.crop(&case.crop);
        let crop = crop.unwrap_or_else(|| panic!("{}: no crop {}", file.display(), case.crop));
        let curve = curve_of(&crop.curve.value);
        for fact in &case.fact {
            let (kept, value) = keeps(fact, &curve, case.days);
            // What is known not to hold is told too once it does.
            if kept == fact.does_not_hold.is_some() {
                wrong.push(format!(
                    "{} ({}): {} comes to {value:.3}",
                    case.crop, case.source, fact.says
                ));
            }
        }
        files += 1;
    }
    assert!(files >= 16, "cases are there to be run");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
