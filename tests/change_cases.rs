//! Seasons in `tests/cases/changes/` where no side-dress plan can hold a crop: which of the changes
//! that are tried would do. Each case holds one bed with one planting. What is said to do is looked at
//! again with the curves that charts are drawn from, which no solver has touched; a quicker material is
//! also written into the season and planned anew.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::sync::Arc;

use serde::Deserialize;
use topdress::calendar::Date;
use topdress::catalogue::{Catalogue, Crop};
use topdress::engine::plan::{self, Change, ChangeKind, PlantingPlan};
use topdress::engine::setting::{Setting, Trials};
use topdress::engine::timeline::{LEAD_DAYS, Timeline, demand};
use topdress::quantity::{UnitSystem, to_float};
use topdress::report;
use topdress::season::{self, Season};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    source: String,
    about: String,
    on: String,
    season: String,
    /// Words that the plan holds.
    #[serde(default)]
    says: String,
    /// Every change that is tried, in order; none where no crop is short.
    #[serde(default)]
    expect: Vec<Expect>,
}

#[derive(Debug, Deserialize, PartialEq)]
#[serde(deny_unknown_fields)]
struct Expect {
    change: String,
    does: bool,
}

fn read(text: &str) -> Season {
    season::read(text, Arc::new(Catalogue::new())).unwrap_or_else(|faults| {
        panic!("{}", topdress::fault::render(&faults, text, "case", false))
    })
}

fn name(kind: &ChangeKind) -> &'static str {
    match kind {
        ChangeKind::Quicker { .. } => "quicker material",
        ChangeKind::Earlier(_) => "earlier date",
        ChangeKind::OneMore(_) => "one more split",
    }
}

/// The most that what is planned falls behind demand five days ahead, from `today` on, as a share of
/// the need: by the curves alone.
fn behind(setting: &Setting<'_>, planting: &PlantingPlan, change: &Change, today: Date) -> f64 {
    let (crop, life, climate) = (&planting.crop, &planting.life, &setting.climate);
    let doses: Vec<_> = change
        .doses
        .iter()
        .flat_map(|dose| dose.counts.iter().map(move |(_, counts)| (dose, counts)))
        .collect();
    let need = planting.need.value();
    let supply = Timeline::of(climate, crop, life, need, &planting.credits, &doses).supply();
    let most = to_float(need.kg()) - to_float(planting.not_planned.value().kg());
    let wanted = demand(climate, crop, life, need, LEAD_DAYS);
    let days = (0..).zip(wanted.iter().zip(&supply));
    let open = days.filter(|(day, _)| life.planted + *day >= today);
    let worst = open.map(|(_, (wanted, there))| wanted.min(most) - there).fold(0.0, f64::max);
    worst / to_float(need.kg())
}

fn run(name_of: &str, case: &Case) {
    assert!(!case.source.is_empty() && !case.about.is_empty(), "{name_of}");
    let season = read(&case.season);
    let on = Date::read(&case.on).expect("a date");
    let planned = plan::plan_advised(&season, UnitSystem::Us, Some(on), &[], Trials::Planned);
    let planting = &planned.beds[0].plantings[0];
    let tried: Vec<Expect> = planting
        .changes
        .iter()
        .map(|one| Expect { change: name(&one.kind).to_owned(), does: one.left.is_none() })
        .collect();
    assert_eq!(tried, case.expect, "{name_of}: {}", case.about);
    assert_eq!(planting.shortage.is_some(), !case.expect.is_empty(), "{name_of}");
    let setting = Setting::new(&season, UnitSystem::Us, Some(on));
    for change in &planting.changes {
        let behind = behind(&setting, planting, change, on);
        // Up to 3 % is no news; rounding to what a scale can tell may add as much.
        assert_eq!(behind < 0.06, change.left.is_none(), "{name_of}: {:?} {behind}", change.kind);
        if let ChangeKind::Quicker { material, .. } = &change.kind {
            let start = case.season.find("side_dress = [\"").expect("a material") + 15;
            let end = start + case.season[start..].find('"').expect("its end");
            let text = [&case.season[..start], material, &case.season[end..]].concat();
            let again = plan::plan(&read(&text), UnitSystem::Us, Some(on), &[]);
            let left = again.beds[0].plantings[0].shortage.clone();
            assert_eq!(left, change.left, "{name_of}: with {material} written down");
        }
    }
    let showing = report::number::Showing { system: UnitSystem::Us };
    let reported = report::plan::Reported {
        season: &season,
        plan: &planned,
        showing,
        today: Some(on),
        against: &[],
    };
    let page = report::markdown::render(&report::plan::plan(&reported));
    let words = page.replace("\n> ", " ");
    assert!(words.contains(&case.says), "{name_of}: no {:?} in\n{words}", case.says);
    assert_eq!(words.contains("With one thing changed"), !case.expect.is_empty(), "{name_of}");
}

#[test]
fn every_change_that_is_said_to_do_does() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/changes");
    let files = fs::read_dir(&folder).expect("the folder of cases");
    let cases: BTreeMap<String, Case> = files
        .map(|entry| entry.expect("an entry").path())
        .map(|file| {
            let text = fs::read_to_string(&file).expect("a readable case");
            let case =
                toml::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
            (file.display().to_string(), case)
        })
        .collect();
    assert!(cases.len() >= 7, "cases are there to be run");
    for (name, case) in &cases {
        run(name, case);
    }
    let only = |change: &str| {
        let alone = |case: &&Case| {
            let does: Vec<&Expect> = case.expect.iter().filter(|one| one.does).collect();
            matches!(does.as_slice(), [one] if one.change == change)
        };
        cases.values().filter(alone).count()
    };
    for change in ["quicker material", "earlier date", "one more split"] {
        assert!(only(change) > 0, "{change} is somewhere the one that does");
    }
}

/// A bed of poor soil under each crop of the catalogue, wanting more than it can be given in time; those
/// that stand over winter are planted the autumn before.
fn hungry(crop: &Crop, side: &str, visit: &str) -> String {
    let planted = if crop.overwintered { "2026-10-10" } else { "2027-05-08" };
    let harvest = if crop.overwintered { "2027-07-10" } else { "2027-07-20" };
    format!(
        "[garden]\nyear = 2027\nvisit_day = \"{visit}\"\n[feeding]\nbefore_planting = [\"10-10-10\"]\n\
         side_dress = [\"{side}\"]\n[[bed]]\nname = \"a\"\narea = \"100 ft2\"\n\
         soil = {{ organic_matter = \"1.5 %\", p_class = \"low\", k_class = \"low\" }}\n\
         [[bed.planting]]\ncrop = \"{}\"\nplanted = {planted}\nharvest = {harvest}\n\
         need = {{ n = \"250 lb/acre\" }}\n",
        crop.name
    )
}

/// What a change is weighed to leave is what the plan solved with it leaves.
#[test]
fn what_is_weighed_is_what_a_solved_plan_leaves() {
    let catalogue = Catalogue::new();
    let mut compared = BTreeMap::new();
    for crop in catalogue.crops().filter(|crop| !crop.perennial) {
        for (side, visit) in [("urea", "saturday"), ("feather meal", "monday")] {
            let season = read(&hungry(&crop, side, visit));
            for on in
                ["2026-09-20", "2026-12-30", "2027-06-02"].map(|on| Date::read(on).expect("a date"))
            {
                let tried = |trials| {
                    let plan = plan::plan_advised(&season, UnitSystem::Us, Some(on), &[], trials);
                    plan.beds[0].plantings[0].changes.clone()
                };
                let (weighed, solved) = (tried(Trials::Weighed), tried(Trials::Planned));
                assert_eq!(weighed.len(), solved.len(), "{} {side} {on}", crop.name);
                for (one, other) in weighed.iter().zip(&solved) {
                    let told =
                        format!("{} {side} {on} {:?}: {one:?} {other:?}", crop.name, one.kind);
                    assert_eq!(one.kind, other.kind, "{told}");
                    assert!(one.doses.is_empty(), "{told}");
                    match (&one.left, &other.left) {
                        (None, None) => {}
                        (Some(a), Some(b)) => {
                            assert_eq!((a.from, a.days), (b.from, b.days), "{told}");
                            assert!((a.worst - b.worst).abs() < 1e-9, "{told}");
                        }
                        _ => panic!("{told}"),
                    }
                    *compared.entry(name(&one.kind)).or_insert(0) += 1;
                }
            }
        }
    }
    let counts: Vec<i32> = compared.into_values().collect();
    assert!(counts.len() == 3 && counts.iter().all(|count| *count >= 30), "{counts:?}");
}
