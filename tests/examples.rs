//! The seasons under `examples/`: all plan, in every format, and the demo holds what it promises.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::Arc;

use rust_decimal::Decimal;
use topdress::calendar::Date;
use topdress::catalogue::Catalogue;
use topdress::engine::{paths, plan};
use topdress::figure::disagreements;
use topdress::quantity::UnitSystem;
use topdress::season::{self, Season};

const ON: &str = "2027-04-01";

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples")
}

fn all() -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> = fs::read_dir(folder())
        .expect("the folder of examples")
        .map(|entry| entry.expect("an entry").path().join("season.toml"))
        .collect();
    found.sort();
    assert!(found.len() >= 3, "{found:?}");
    found
}

fn read(file: &Path) -> Season {
    let source = fs::read_to_string(file).expect("a season file");
    season::read(&source, Arc::new(Catalogue::new())).unwrap_or_else(|faults| {
        panic!("{}", topdress::fault::render(&faults, &source, &file.to_string_lossy(), false))
    })
}

fn planned(season: &Season) -> plan::Plan {
    plan::plan(season, UnitSystem::Us, Date::read(ON), &[])
}

fn run(words: &[&str], file: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_topdress"))
        .args(words)
        .args(["--on", ON, "--season"])
        .arg(file)
        .output()
        .expect("the program runs")
}

#[test]
fn every_example_gives_every_answer_without_a_word_on_standard_error() {
    let asked: [(&str, &[&str]); 3] = [
        ("plan", &["table", "markdown", "json", "csv", "html"]),
        ("work", &["table", "markdown", "json", "csv", "html"]),
        ("explain", &["table", "markdown", "json"]),
    ];
    for file in all() {
        for (command, formats) in asked {
            for format in formats {
                let output = run(&[command, "--format", format], &file);
                let told = String::from_utf8_lossy(&output.stderr);
                let printed = String::from_utf8(output.stdout).expect("an answer is text");
                assert!(output.status.success(), "{} {command} {format}: {told}", file.display());
                assert_eq!(told, "", "{} {command} {format}", file.display());
                assert!(printed.len() > 100, "{} {command} {format}: {printed}", file.display());
                let wide = printed.lines().find(|line| line.chars().count() > 80);
                assert!(*format != "table" || wide.is_none(), "{command}: {wide:?}");
                if *format == "json" {
                    let read: Result<serde_json::Value, _> = serde_json::from_str(&printed);
                    assert!(read.is_ok(), "{command}: {read:?}");
                }
            }
        }
    }
}

#[test]
fn every_bed_of_the_examples_can_be_shown() {
    for file in all() {
        for bed in &read(&file).beds {
            let output = run(&["bed", &bed.name.value], &file);
            assert!(output.status.success(), "{}: {}", file.display(), bed.name.value);
            let printed = String::from_utf8_lossy(&output.stdout).into_owned();
            assert!(printed.contains(&bed.name.value), "{printed}");
        }
    }
}

#[test]
fn every_derivation_of_the_examples_reckons_back() {
    for file in all() {
        let located = paths::all(&planned(&read(&file)));
        assert!(located.len() > 30, "{} figures of {}", located.len(), file.display());
        for one in located {
            let wrong: Vec<_> =
                disagreements(&one.step).iter().map(|step| step.label.clone()).collect();
            assert!(wrong.is_empty(), "{}: {}: {wrong:?}", file.display(), one.path);
        }
    }
}

/// The order in which beds stand, and a second run, change nothing.
/// What phosphate and potash come to is the same at a glance and in the bed's own table.
#[test]
fn a_surplus_is_the_same_at_a_glance_and_in_the_bed() {
    let season = folder().join("school-garden/season.toml");
    let plan = String::from_utf8(run(&["plan"], &season).stdout).expect("text");
    let overs = |line: &str| -> Vec<String> {
        let words: Vec<&str> = line.split_whitespace().collect();
        words.windows(2).filter(|two| two[0] == "over").map(|two| two[1].to_owned()).collect()
    };
    let glance =
        plan.lines().find(|line| line.starts_with("north 1 ")).expect("a line at a glance");
    let (_, bed) = plan.split_once("\nnorth 1: ").expect("the bed");
    let (_, year) = bed.split_once("the bed, this year").expect("its year");
    let balance = year.lines().find(|line| line.trim_start().starts_with("balance"));
    let balance = overs(balance.expect("a balance"));
    assert_eq!(balance.len(), 2, "compost passes both needs: {balance:?}");
    assert_eq!(overs(glance), balance);
}

#[test]
fn the_same_answer_every_time() {
    for file in all() {
        let once = run(&["plan", "--format", "json"], &file);
        let again = run(&["plan", "--format", "json"], &file);
        assert!(once.stdout == again.stdout, "{}", file.display());
    }
}

/// Doses lie within the life of what they feed, none is negative, and none is heavier than what
/// anybody would call a dressing: 1 lb per square foot.
#[test]
fn doses_of_the_examples_are_doses() {
    for file in all() {
        let season = read(&file);
        for bed in planned(&season).beds {
            for dose in &bed.doses {
                let weight = dose.weight.value().lb();
                assert!(weight > Decimal::ZERO, "{}: {:?}", bed.name, dose.date);
                if let Some(area) = &bed.area {
                    assert!(weight < area.value().ft2(), "{}: {weight} lb", bed.name);
                }
                let Some(index) = dose.planting else { continue };
                let planting = &season.beds[bed.index].plantings[index];
                let last = planting.last_harvest.unwrap_or(planting.harvest).value;
                assert!(dose.date < last, "{}: {:?} after harvest", bed.name, dose.date);
            }
        }
    }
}

/// What the school garden is there to show.
#[test]
fn the_school_garden_shows_every_kind_of_bed() {
    let file = folder().join("school-garden/season.toml");
    let source = fs::read_to_string(&file).expect("the school garden");
    let season = read(&file);
    assert!(season.beds.len() >= 10, "{} beds", season.beds.len());
    for word in [
        "broccoli",
        "lettuce",
        "sweet corn",
        "tomato",
        "leek",
        "garlic",
        "carrot",
        "snap bean",
        "winter squash",
        "[[crop]]",
        "hairy vetch",
        "kind = \"compost\"",
        "last_harvest",
        "residues = \"left\"",
        "texture = \"sand\"",
        "organic_matter = \"9 %\"",
        "need = {",
        "1.2 m",
        "mix = ",
        "nitrate = ",
        "water = ",
        "rain = ",
        "supplier = ",
        "on_hand",
    ] {
        assert!(source.contains(word), "the school garden lacks {word}");
    }
    let output = run(&["plan", "--format", "json"], &file);
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let beds = json["beds"].as_array().expect("beds");
    let mut bases: Vec<&str> = beds
        .iter()
        .flat_map(|bed| bed["plantings"].as_array().expect("plantings"))
        .map(|planting| planting["nitrogen"]["basis"].as_str().expect("a basis"))
        .collect();
    bases.sort_unstable();
    bases.dedup();
    assert_eq!(bases, ["feeder", "given", "recommendation", "supply"]);
}

/// The bed with far too much of everything gets no phosphate, and nothing for certain.
#[test]
fn the_bed_long_over_composted_is_left_alone() {
    let season = read(&folder().join("school-garden/season.toml"));
    let plan = planned(&season);
    assert_left_alone(&plan);
    // Once the crops stand, whatever day it is asked on.
    for day in ["2027-05-22", "2027-06-05", "2027-06-26"] {
        assert_left_alone(&plan::plan(&season, UnitSystem::Us, Date::read(day), &[]));
    }
}

fn assert_left_alone(plan: &plan::Plan) {
    let kitchen = plan.beds.iter().find(|bed| &*bed.slug == "kitchen").expect("the kitchen bed");
    assert!(kitchen.phosphate.planned.value().lb().is_zero());
    assert!(kitchen.doses.iter().all(|dose| !dose.certain()), "{:?}", kitchen.doses);
    assert!(kitchen.cautions.iter().any(|(key, _)| key.contains("organic-matter")));
}

/// Garlic set in October takes nothing before spring.
#[test]
fn garlic_gets_nothing_in_winter() {
    let season = read(&folder().join("school-garden/season.toml"));
    let plan = planned(&season);
    let bed = plan.beds.iter().find(|bed| &*bed.slug == "south-1").expect("the garlic");
    assert!(!bed.doses.is_empty());
    let spring = Date::new(2027, 3, 1).expect("a date");
    assert!(bed.doses.iter().all(|dose| dose.date >= spring), "{:?}", bed.doses[0].date);
}
