//! Published and worked cases of a season's reckoning: one text file each under `tests/cases/plan/`.
//!
//! A case names its source, holds a small season, and says of some paths what they must come to: an
//! exact value (to the precision written), a value within a tolerance, or a range. Where a source
//! prints a table, `rows` holds it as comma-separated lines under a line of column names; the season
//! and what is expected are then read once a row, with `{column}` replaced by its cell.
//! `FOLDER/first-dressing` and `last-dressing` stand for the days from planting to a side-dressing.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::sync::Arc;

use rust_decimal::Decimal;
use serde::Deserialize;
use topdress::calendar::Date;
use topdress::catalogue::Catalogue;
use topdress::engine::plan::{BedPlan, Plan};
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
    /// A table, each row of which is a case.
    #[serde(default)]
    rows: Option<String>,
    /// What must come out.
    expect: Vec<Expect>,
}

fn usual_day() -> String {
    "2027-01-02".to_owned()
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Expect {
    /// The path of the figure; of a bed, where a caution or a note is expected.
    path: String,
    /// Unit of the numbers below. A weight may be given per area of the bed or planting: "kg/ha".
    #[serde(default)]
    unit: String,
    /// The exact value, compared at the precision it is written with. An empty cell expects nothing.
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
    /// The key of a caution that the bed calls for.
    #[serde(default)]
    caution: Option<String>,
    /// Words that a note of the bed holds.
    #[serde(default)]
    note: Option<String>,
    /// That the path, caution or note must not exist.
    #[serde(default)]
    absent: bool,
}

fn decimal(text: &str) -> Decimal {
    text.trim().parse().unwrap_or_else(|_| panic!("`{text}` is not a number"))
}

/// A row of a case's table: each column's name with its cell.
type Row = BTreeMap<String, String>;

/// The rows of a case; one without any column where it has no table.
fn rows(case: &Case) -> Vec<Row> {
    let Some(table) = &case.rows else { return vec![Row::new()] };
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .quoting(false)
        .quoting(false)
        .from_reader(table.trim().as_bytes());
    reader.deserialize().map(|row| row.expect("a row of the table")).collect()
}

fn fill(text: &str, row: &Row, slugged: bool) -> String {
    row.iter().fold(text.to_owned(), |text, (column, cell)| {
        let cell = if slugged { season::slug(cell) } else { cell.clone() };
        text.replace(&format!("{{{column}}}"), &cell)
    })
}

impl Expect {
    fn filled(&self, row: &Row) -> Self {
        let fill_one = |text: &Option<String>| text.as_ref().map(|text| fill(text, row, false));
        Self {
            path: fill(&self.path, row, true),
            unit: fill(&self.unit, row, false),
            is: fill_one(&self.is),
            within: fill_one(&self.within),
            from: fill_one(&self.from),
            to: fill_one(&self.to),
            caution: fill_one(&self.caution),
            note: fill_one(&self.note),
            absent: self.absent,
        }
    }
}

/// Runs all rows of a case; returns how many there were and what went wrong.
fn run(file: &Path) -> (usize, Vec<String>) {
    let text = fs::read_to_string(file).expect("a readable case");
    let case: Case =
        toml::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    assert!(!case.source.is_empty(), "{}: a case names its source", file.display());
    let name = file.file_stem().and_then(|stem| stem.to_str()).unwrap_or_default().to_owned();
    let rows = rows(&case);
    (rows.len(), rows.iter().flat_map(|row| run_row(&case, &name, row)).collect())
}

fn run_row(case: &Case, name: &str, row: &Row) -> Vec<String> {
    let text = fill(&case.season, row, false);
    let cells: Vec<&str> = row.values().map(String::as_str).collect();
    let name = [&[name], cells.as_slice()].concat().join(" ");
    let season = match season::read(&text, Arc::new(Catalogue::new())) {
        Ok(season) => season,
        Err(faults) => {
            let told = topdress::fault::render(&faults, &text, &name, false);
            return vec![format!("{name}: {told}")];
        }
    };
    let on = Date::read(&fill(&case.on, row, false)).expect("a date");
    let planned = plan::plan(&season, UnitSystem::Us, Some(on), &[]);
    let all = paths::all(&planned);
    let mut wrong = Vec::new();
    for located in &all {
        for step in disagreements(&located.step) {
            wrong.push(format!("{name}: {} does not reckon back: {:?}", located.path, step.label));
        }
    }
    for expect in case.expect.iter().map(|expect| expect.filled(row)) {
        if let Some(told) = judge(&expect, &planned, &all) {
            let about = case.about.clone().unwrap_or_default();
            wrong.push(format!("{name} ({about}; {}): {told}", case.source));
        }
    }
    wrong
}

/// What is wrong with one expectation; nothing where it holds.
fn judge(expect: &Expect, planned: &Plan, all: &[paths::Located]) -> Option<String> {
    if expect.caution.is_some() || expect.note.is_some() {
        let bed = planned.beds.iter().find(|bed| *bed.slug == expect.path).expect("a bed");
        let there = told(bed, expect);
        let wanted = expect.caution.as_ref().or(expect.note.as_ref())?;
        return (there == expect.absent).then(|| {
            let (keys, notes) = (&bed.cautions, &bed.notes);
            format!("{wanted:?} among {keys:?} and {notes:?}: {there}")
        });
    }
    let value = match dressing(&expect.path, planned, all) {
        Some(days) => days.map(Decimal::from),
        None => all
            .iter()
            .find(|one| one.path == expect.path)
            .map(|found| in_unit(found.step.amount, &expect.unit, &expect.path, all)),
    };
    match value {
        Some(value) if expect.absent => Some(format!("{} exists: {value}", expect.path)),
        None if expect.absent => None,
        None if expect.is.as_deref() == Some("") => None,
        None => Some(format!("{} is not there", expect.path)),
        Some(value) => (!matches(expect, value))
            .then(|| format!("{} = {value} {}, not {}", expect.path, expect.unit, wish(expect))),
    }
}

fn wish(expect: &Expect) -> String {
    let [is, within, from, to] = [&expect.is, &expect.within, &expect.from, &expect.to]
        .map(|part| part.clone().unwrap_or_default());
    if is.is_empty() { format!("{from} to {to}") } else { format!("{is} +- {within}") }
}

fn told(bed: &BedPlan, expect: &Expect) -> bool {
    if let Some(wanted) = &expect.caution {
        return bed.cautions.iter().any(|(key, _)| key == wanted);
    }
    expect.note.as_ref().is_some_and(|words| bed.notes.iter().any(|note| note.contains(words)))
}

/// Days from planting to the first or last side-dressing, where the path asks for that.
fn dressing(path: &str, planned: &Plan, all: &[paths::Located]) -> Option<Option<i32>> {
    let (folder, which) = path.rsplit_once('/')?;
    if !matches!(which, "first-dressing" | "last-dressing") {
        return None;
    }
    let (bed, planting) = folder.split_once('/')?;
    let bed = planned.beds.iter().find(|one| *one.slug == *bed)?;
    let planting = bed.plantings.iter().find(|one| *one.slug == *planting)?;
    let start = format!("{folder}/nitrogen/dose/");
    let days = all.iter().filter_map(|one| Date::read(one.path.strip_prefix(&start)?));
    let days = days.map(|day| day - planting.life.planted);
    Some(if which == "first-dressing" { days.min() } else { days.max() })
}

fn matches(expect: &Expect, value: Decimal) -> bool {
    if let Some(is) = &expect.is {
        if is.is_empty() {
            return true;
        }
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
    let (mut count, mut wrong) = (0, Vec::new());
    for file in &files {
        let (rows, told) = run(file);
        assert!(rows > 0, "{}: a table has rows", file.display());
        count += rows;
        wrong.extend(told);
    }
    assert!(wrong.is_empty(), "{} in {count} cases:\n{}", wrong.len(), wrong.join("\n"));
    assert!(count >= 600, "cases are there to be run: {count}");
}
