//! The built-in lists as they are printed.

use std::collections::BTreeSet;
use std::path::Path;

use super::Garden;
use crate::catalogue::{cases, decimal};

const LISTS: [(&str, &str, &str); 4] = [
    ("crops", "crop", "crop"),
    ("materials", "material", "material"),
    ("soil-tests", "limits", "laboratory"),
    ("sources", "source", "id"),
];

/// How many entries a file of `data/` holds.
fn entries(list: &str, table: &str) -> usize {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("data/{list}.toml"));
    let data = std::fs::read_to_string(path).expect("a list");
    data.lines().filter(|line| *line == format!("[[{table}]]")).count()
}

#[test]
fn each_list_is_whole_and_the_same_in_every_format() {
    let garden = Garden::empty();
    for (list, table, column) in LISTS {
        let rows = garden.rows(&["catalogue", list]);
        let objects = garden.json(&["catalogue", list]);
        let objects = objects.as_array().expect("a list");
        let least = entries(list, table);
        assert!(least > 0 && rows.len() >= least, "{list}: {} of {least}", rows.len());
        assert_eq!(rows.len(), objects.len(), "{list}");
        let printed = garden.answer(&["catalogue", list]);
        for (row, object) in rows.iter().zip(objects) {
            for (name, cell) in row.iter().filter(|(_, cell)| !cell.is_empty()) {
                assert_eq!(object[name.replace(' ', "_")], *cell, "{list}: {name}");
            }
            // A long name is broken between words.
            let start = row[column].split(' ').next().unwrap_or_default();
            assert!(printed.contains(start), "{list}: {start}");
        }
    }
}

/// The ordinance's Annex 4 prints kg/ha; so does the list.
#[test]
fn demands_are_printed_as_the_ordinance_prints_them() {
    let printed = Garden::empty().rows(&["catalogue", "crops", "--units", "metric"]);
    let mut compared = 0;
    for case in cases("ordinance/demand.csv").iter().filter(|case| case["stand"].is_empty()) {
        let row = printed
            .iter()
            .find(|row| row["crop"] == case["crop"])
            .unwrap_or_else(|| panic!("no {}", case["crop"]));
        let figure = row["demand"].strip_suffix(" kg/ha").unwrap_or_else(|| panic!("{row:?}"));
        assert_eq!(decimal(&figure.replace(',', "")), decimal(&case["nitrogen"]), "{row:?}");
        compared += 1;
    }
    assert!(compared > 40, "{compared}");
}

#[test]
fn every_source_that_a_material_names_is_listed() {
    let garden = Garden::empty();
    let known: BTreeSet<String> =
        garden.rows(&["catalogue", "sources"]).into_iter().map(|row| row["id"].clone()).collect();
    let named = |text: &str| -> Vec<String> {
        text.split("; ").filter_map(|part| Some(part.split_once(": ")?.1.to_owned())).collect()
    };
    let mut seen = 0;
    for row in garden.rows(&["catalogue", "materials"]) {
        for id in named(&row["sources"]) {
            assert!(known.contains(&id), "{id}: {row:?}");
            seen += 1;
        }
    }
    assert!(seen > 60, "{seen}");
}

/// Every sign the list prints is one that `check` takes.
#[test]
fn signs_are_those_that_check_takes() {
    let garden = Garden::new(super::SEASON);
    let signs = garden.rows(&["catalogue", "signs"]);
    assert!(signs.len() > 10, "{signs:?}");
    let mut words = vec!["check", "long", "--on", "2027-06-20", "--no-input"];
    for row in &signs {
        words.extend(["--sign", &row["sign"]]);
    }
    let output = garden.run(&words);
    let told = super::text(&output.stderr);
    assert!(!told.contains("no sign"), "{told}");
    let refused = garden.refused(&["check", "long", "--on", "2027-06-20", "--sign", "ploughed"]);
    assert!(refused.contains("ploughed"), "{refused}");
}

#[test]
fn the_schema_is_json_and_no_other_format() {
    let garden = Garden::empty();
    let schema: serde_json::Value =
        serde_json::from_str(&garden.answer(&["catalogue", "schema"])).expect("JSON");
    assert!(schema["properties"]["bed"].is_object(), "{schema}");
    let refused = garden.refused(&["catalogue", "schema", "--format", "csv"]);
    assert!(refused.contains("catalogue schema"), "{refused}");
    assert!(refused.contains("table") && refused.contains("json"), "{refused}");
}

#[test]
fn a_list_can_be_written_to_a_file() {
    let garden = Garden::empty();
    let words = ["catalogue", "sources", "--format", "csv"];
    let printed = garden.answer(&words);
    let file = garden.path().join("sources.csv");
    let to = file.to_str().expect("a name");
    assert_eq!(garden.answer(&[&words[..], &["--output", to]].concat()), "");
    assert_eq!(std::fs::read_to_string(&file).expect("written"), printed);
}
