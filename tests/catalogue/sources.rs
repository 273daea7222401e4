//! Every figure has a source that exists, and every source has a use.

use std::collections::BTreeSet;

use topdress::catalogue::Catalogue;
use topdress::catalogue::names::normal;
use topdress::engine::{check, rules};
use topdress::figure::Status;

const LISTS: [&str; 7] =
    ["crops", "materials", "soil-tests", "cautions", "comparison", "signs", "sources"];

fn text_of(list: &str) -> String {
    let path = format!("{}/data/{list}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|fault| panic!("{path}: {fault}"))
}

/// Collects every id named by a `source`, a `sources` table, a `from` or an `also` list.
fn named(value: &toml::Value, into: &mut BTreeSet<String>) {
    match value {
        toml::Value::Table(table) => {
            for (key, value) in table {
                match (key.as_str(), value) {
                    ("source", toml::Value::String(id)) => {
                        into.insert(id.clone());
                    }
                    ("sources", toml::Value::Table(ids)) => {
                        into.extend(ids.values().filter_map(|id| id.as_str().map(str::to_owned)));
                    }
                    ("from" | "also", toml::Value::Array(ids)) => {
                        into.extend(ids.iter().filter_map(|id| id.as_str().map(str::to_owned)));
                    }
                    _ => named(value, into),
                }
            }
        }
        toml::Value::Array(all) => all.iter().for_each(|one| named(one, into)),
        _ => {}
    }
}

fn all_named() -> BTreeSet<String> {
    let mut ids = BTreeSet::new();
    for list in LISTS {
        let table: toml::Table =
            text_of(list).parse().unwrap_or_else(|fault| panic!("{list}: {fault}"));
        named(&toml::Value::Table(table), &mut ids);
    }
    ids
}

#[test]
fn every_source_named_is_listed() {
    let catalogue = Catalogue::new();
    for id in all_named() {
        assert!(catalogue.source(&id).is_some_and(|source| source.id == id), "no source `{id}`");
    }
    for rule in rules::ALL.iter().chain(check::rules::ALL) {
        if let Some(id) = rule.source {
            assert!(catalogue.source(id).is_some(), "rule {} names no source `{id}`", rule.key);
        }
    }
}

#[test]
fn every_source_has_a_use() {
    let catalogue = Catalogue::new();
    let mut used: BTreeSet<String> = all_named().iter().map(|id| normal(id)).collect();
    used.extend(
        rules::ALL.iter().chain(check::rules::ALL).filter_map(|rule| rule.source.map(normal)),
    );
    used.extend(RULE_SOURCES.iter().map(|id| normal(id)));
    let idle: Vec<String> = catalogue
        .sources()
        .filter(|source| !used.contains(&normal(&source.id)))
        .map(|source| source.id.clone())
        .collect();
    assert!(idle.is_empty(), "sources without a use: {idle:?}");
}

#[test]
fn a_derived_source_says_from_what_and_a_published_one_what_was_read() {
    for source in Catalogue::new().sources() {
        match source.status {
            Status::Derived => assert!(!source.from.is_empty(), "{} says not from what", source.id),
            Status::Published => {
                assert!(source.read.is_some(), "{} says not what was read", source.id)
            }
            _ => {}
        }
        assert!(!source.title.is_empty(), "{} has no title", source.id);
    }
}

#[test]
fn each_list_read_entry_by_entry_is_the_whole_list() {
    let catalogue = Catalogue::new();
    for (list, table, count) in [
        ("crops", "crop", catalogue.crops().count()),
        ("materials", "material", catalogue.materials().count()),
        ("soil-tests", "limits", catalogue.limits().len()),
        ("cautions", "caution", catalogue.cautions().count()),
        ("comparison", "comparison", catalogue.comparison().len()),
        ("sources", "source", catalogue.sources().count()),
    ] {
        let whole: toml::Table =
            text_of(list).parse().unwrap_or_else(|fault| panic!("{list}: {fault}"));
        let entries = whole[table].as_array().map_or(0, Vec::len);
        assert_eq!(entries, count, "{list}");
        assert_eq!(whole.len(), 1, "{list} holds another table");
        assert!(count > 0, "{list} is empty");
    }
}

/// What a careful adviser says before anything is spread, each with a source.
#[test]
fn every_usual_caution_is_there() {
    let catalogue = Catalogue::new();
    for key in [
        "cap-reached",
        "ceiling-reached",
        "given-above-bulletins",
        "close-heads",
        "phosphate-enough",
        "compost-limit",
        "salts",
        "raw-manure",
        "animal-meal",
        "manure-nitrogen",
        "late-nitrogen-greens",
        "urea-surface",
        "dust",
        "oxidizer",
        "water-nearby",
        "herbicide",
        "ph-low",
        "ph-high",
        "organic-matter-3",
        "organic-matter-4",
        "biosolids",
        "organic-rules",
        "local-rules",
    ] {
        let caution = catalogue.caution(key).unwrap_or_else(|| panic!("no caution `{key}`"));
        assert!(caution.sentence.ends_with('.'), "{key}");
    }
    for caution in catalogue.cautions() {
        let source = catalogue.source(&caution.source);
        let status = source.map(|source| source.status);
        assert_eq!(status, Some(caution.status), "{} and its source differ", caution.key);
    }
}

/// Sources of rules that the engine reckons by without a figure of its own in a list.
const RULE_SOURCES: &[&str] = &[
    "nitrate-review-2002",
    "rule-ammonia",
    "rule-assumed",
    "rule-basis",
    "rule-before-planting-window",
    "rule-compost-cn",
    "pnw636-line",
    "rule-credit-ranges",
    "rule-curve",
    "rule-earlier-compost",
    "rule-irrigation",
    "rule-lead",
    "rule-leaching",
    "rule-manure-limit",
    "rule-nitrate-reset",
    "rule-no-climate",
    "rule-organic-matter",
    "rule-overwinter",
    "rule-potash-availability",
    "rule-price",
    "rule-recommendation",
    "rule-record",
    "rule-rescue",
    "rule-residues",
    "rule-sand-split",
    "rule-season",
    "rule-soil-temperature",
    "rule-standstill",
    "rule-visits",
    "season-file",
    "uconn-psnt",
];
