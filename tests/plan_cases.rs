//! Published and worked cases of a season's reckoning: one text file each under `tests/cases/plan/`.
//!
//! A case names its source, holds a small season, and says of some paths what they must come to: an
//! exact value (to the precision written), a value within a tolerance, or a range.

use std::fs;
use std::path::Path;
use std::rc::Rc;

use rust_decimal::Decimal;
use serde::Deserialize;
use topdress::calendar::Date;
use topdress::catalogue::Catalogue;
use topdress::engine::{paths, plan};
use topdress::figure::disagreements;
use topdress::quantity::{Kind, UnitSystem, find_unit};
use topdress::season;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    /// Where the figures were published, or what they were worked out from.
    source: String,
    /// What the case shows, in a few words.
    #[serde(default)]
    about: Option<String>,
    /// The season file.
    season: String,
    /// The day of the plan.
    #[serde(default = "usual_day")]
    on: String,
    /// What must come out.
    expect: Vec<Expect>,
}

fn usual_day() -> String {
    "2027-01-02".to_owned()
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Expect {
    /// The path of the figure.
    path: String,
    /// Unit of the numbers below. A weight may be given per area of the bed or planting: "kg/ha".
    unit: String,
    /// The exact value, compared at the precision it is written with.
    #[serde(default)]
    is: Option<String>,
    /// How far from it the figure may lie, where the source rounds.
    #[serde(default)]
    within: Option<String>,
    /// The least it may be.
    #[serde(default)]
    from: Option<String>,
    /// The most it may be.
    #[serde(default)]
    to: Option<String>,
    /// That the path must not exist.
    #[serde(default)]
    absent: bool,
}

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap_or_else(|_| panic!("`{text}` is not a number"))
}

fn run(file: &Path) -> Vec<String> {
    let text = fs::read_to_string(file).expect("a readable case");
    let case: Case =
        toml::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    assert!(!case.source.is_empty(), "{}: a case names its source", file.display());
    let name = file.file_stem().and_then(|stem| stem.to_str()).unwrap_or_default().to_owned();
    let season = match season::read(&case.season, Rc::new(Catalogue::new())) {
        Ok(season) => season,
        Err(faults) => {
            let told = topdress::fault::render(&faults, &case.season, &name, false);
            return vec![format!("{name}: {told}")];
        }
    };
    let on = Date::read(&case.on).expect("a date");
    let planned = plan::plan(&season, UnitSystem::Us, Some(on), &[]);
    let all = paths::all(&planned);
    let mut wrong = Vec::new();
    for located in &all {
        for step in disagreements(&located.step) {
            wrong.push(format!("{name}: {} does not reckon back: {:?}", located.path, step.label));
        }
    }
    for expect in &case.expect {
        let found = all.iter().find(|one| one.path == expect.path);
        let Some(found) = found.filter(|_| !expect.absent) else {
            if expect.absent == found.is_some() {
                wrong.push(format!(
                    "{name}: {} {}",
                    expect.path,
                    if expect.absent { "exists" } else { "is not there" }
                ));
            }
            continue;
        };
        let value = in_unit(found.step.amount, &expect.unit, &expect.path, &all);
        let ok = matches(expect, value);
        if !ok {
            let about = case.about.clone().unwrap_or_default();
            wrong.push(format!(
                "{name} ({about}; {}): {} = {value} {}",
                case.source, expect.path, expect.unit
            ));
        }
    }
    wrong
}

fn matches(expect: &Expect, value: Decimal) -> bool {
    if let Some(is) = &expect.is {
        let wanted = decimal(is);
        let within = expect.within.as_deref().map(decimal);
        return match within {
            Some(within) => (value - wanted).abs() <= within,
            None => {
                value.round_dp_with_strategy(
                    wanted.scale(),
                    rust_decimal::RoundingStrategy::MidpointAwayFromZero,
                ) == wanted
            }
        };
    }
    let low = expect.from.as_deref().map(decimal).is_none_or(|low| value >= low);
    let high = expect.to.as_deref().map(decimal).is_none_or(|high| value <= high);
    assert!(expect.from.is_some() || expect.to.is_some(), "an expectation says what it expects");
    low && high
}

/// The value in a unit; a weight asked for per area is divided by the planting's or the bed's area.
fn in_unit(
    amount: topdress::quantity::Amount,
    unit: &str,
    path: &str,
    all: &[paths::Located],
) -> Decimal {
    if unit == "date" || unit.is_empty() {
        return amount.base;
    }
    let unit = find_unit(unit, None).unwrap_or_else(|| panic!("`{unit}` is not a unit"));
    let rate = unit.kind == topdress::quantity::UnitKind::RATE;
    if amount.kind == Kind::Mass && rate {
        let mut parts = path.split('/');
        let bed = parts.next().unwrap_or_default();
        let planting = format!("{bed}/{}/area", parts.next().unwrap_or_default());
        let bed = format!("{bed}/area");
        let area = all
            .iter()
            .find(|one| one.path == planting)
            .or_else(|| all.iter().find(|one| one.path == bed));
        let area = area.expect("an area").step.amount.base;
        return unit.of_base(amount.base / area);
    }
    unit.of_base(amount.base)
}

#[test]
fn every_case_comes_out() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/plan");
    let mut files: Vec<_> = fs::read_dir(&folder)
        .expect("the folder of cases")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .collect();
    files.sort();
    assert!(files.len() >= 9, "cases are there to be run");
    let wrong: Vec<String> = files.iter().flat_map(|file| run(file)).collect();
    assert!(wrong.is_empty(), "{} of {} cases:\n{}", wrong.len(), files.len(), wrong.join("\n"));
}
