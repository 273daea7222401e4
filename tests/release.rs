//! The release curves against what incubations and field trials measured. Each row of
//! `tests/cases/release/published.csv` names its source and says how near the curve must come and why;
//! `tests/cases/release/errors.txt` keeps what came out.

use std::fmt::Write as _;
use std::sync::Arc;

use topdress::catalogue::Catalogue;
use topdress::catalogue::PoolClass;
use topdress::engine::climate::daily_rate;
use topdress::engine::content::{Content, Handling};
use topdress::engine::release::Release;
use topdress::season::{Overrides, Stuff};

use super::catalogue::cases;
use super::kept::keep;

fn curve(catalogue: &Arc<Catalogue>, name: &str) -> Release {
    let class = match name {
        "MEAL" => PoolClass::Meal,
        "PLANT" => PoolClass::Plant,
        "POULTRY" => PoolClass::Poultry,
        "MANURE" => PoolClass::Manure,
        material => {
            let material = catalogue.material(material).unwrap_or_else(|| panic!("{name}"));
            let stuff =
                Stuff { material, overrides: Overrides::default(), place: Default::default() };
            return Content::of(&stuff, Handling::default()).release.typical;
        }
    };
    Release::of_class(class, 0.0, 1.0)
}

fn number(text: &str) -> Option<f64> {
    (!text.is_empty()).then(|| text.parse().unwrap_or_else(|_| panic!("`{text}` is no number")))
}

#[test]
fn curves_come_as_near_as_the_sources_come_to_one_another() {
    let catalogue = Arc::new(Catalogue::new());
    let (mut table, mut wrong) = (String::new(), Vec::new());
    let (mut near, mut apart): (Vec<f64>, Vec<f64>) = (Vec::new(), Vec::new());
    let rows = cases("release/published.csv");
    for row in &rows {
        let days: f64 = row["days"].parse().expect("days");
        let release = curve(&catalogue, &row["reckoned"]);
        let at: Vec<f64> = row["celsius"]
            .split(' ')
            .map(|celsius| 100.0 * release.after(days * daily_rate(celsius.parse().expect("C"))))
            .collect();
        // The catalogue's materials hold no mineral nitrogen apart, so both bases read the same.
        let reckoned = at.iter().sum::<f64>() / at.len() as f64;
        let (value, low, high) = (number(&row["value"]), number(&row["low"]), number(&row["high"]));
        let error = match (value, low, high) {
            (Some(value), ..) => reckoned - value,
            (None, Some(low), Some(high)) => reckoned - reckoned.clamp(low, high),
            _ => panic!("{row:?}: nothing is printed"),
        };
        let off: f64 = row["off"].parse().expect("off");
        let known_apart = row["apart"] == "yes";
        if known_apart { &mut apart } else { &mut near }.push(error.abs());
        if !known_apart && error.abs() > off {
            wrong.push(format!("{}: {reckoned:.1}, off by {error:.1}, not {off}", row["what"]));
        }
        // A row that is marked as contradicted and yet is met is marked wrongly.
        if known_apart && error.abs() <= 5.0 {
            wrong.push(format!("{}: {reckoned:.1} is not apart", row["what"]));
        }
        let printed = match (value, low, high) {
            (Some(value), ..) => format!("{value}"),
            (_, Some(low), Some(high)) => format!("{low} to {high}"),
            _ => String::new(),
        };
        let mark = if known_apart { "apart" } else { "" };
        writeln!(
            table,
            "{:<44}{:>4} d {:>12} {:>12} {:>8.1} {:>+7.1}  {mark}",
            row["what"], row["days"], row["celsius"], printed, reckoned, error
        )
        .expect("text");
    }
    let worst = |errors: &[f64]| errors.iter().copied().fold(0.0, f64::max);
    let mean = |errors: &[f64]| errors.iter().sum::<f64>() / errors.len() as f64;
    let head = format!(
        "Release of nitrogen, percent: published and reckoned\n\n\
         {} rows that agree: mean error {:.1} points, worst {:.1}\n\
         {} rows that contradict other sources: mean error {:.1} points, worst {:.1}\n\n\
         {:<44}{:>6} {:>12} {:>12} {:>8} {:>7}\n",
        near.len(),
        mean(&near),
        worst(&near),
        apart.len(),
        mean(&apart),
        worst(&apart),
        "what",
        "days",
        "C",
        "published",
        "reckoned",
        "error"
    );
    assert!(wrong.is_empty(), "{}\n{head}{table}", wrong.join("\n"));
    assert!(mean(&near) <= 5.0 && apart.len() <= 3, "{head}");
    keep("release/errors.txt", &format!("{head}{table}"));
}
