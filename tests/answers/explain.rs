//! Where a figure comes from, as it is told to a reader and to a program.

use serde_json::Value;

use super::{Garden, SEASON};

const NEED: &str = "long/cabbage/nitrogen/need";

fn told<'a>(answer: &'a Value, field: &str) -> Vec<&'a str> {
    let steps = answer["steps"].as_array().expect("steps");
    steps.iter().map(|step| step[field].as_str().unwrap_or_default()).collect()
}

/// The line of the season file that starts so.
fn line(start: &str) -> String {
    let at = SEASON.lines().position(|line| line.starts_with(start)).expect("a line");
    format!("season.toml, line {}", at + 1)
}

#[test]
fn a_need_is_told_down_to_the_lines_it_stands_on() {
    let garden = Garden::new(SEASON);
    let answer = garden.json(&["explain", NEED, "--on", "2027-04-01"]);
    assert_eq!(answer["id"], NEED);
    assert_eq!(told(&answer, "name")[0], "need");
    assert_eq!(told(&answer, "value")[0], "3 lb");
    assert_eq!(told(&answer, "sum")[0], "rate (3 lb/1000 ft2) x area planted (1000 ft2)");
    let sums = told(&answer, "sum");
    for place in [line("need = "), line("area = ")] {
        assert!(sums.contains(&place.as_str()), "{place}: {sums:?}");
    }
    let numbers: Vec<u64> = answer["steps"]
        .as_array()
        .expect("steps")
        .iter()
        .filter_map(|step| step["number"].as_u64())
        .collect();
    assert_eq!(numbers, (1..=sums.len() as u64).collect::<Vec<_>>());
    assert!(told(&answer, "rule")[0].contains("area is a weight"), "{answer}");
}

#[test]
fn a_depth_cuts_the_telling_short() {
    let garden = Garden::new(SEASON);
    let deepest = |depth: &str| {
        let answer = garden.json(&["explain", "long/cabbage/nitrogen/planned", "--depth", depth]);
        let steps = answer["steps"].as_array().expect("steps").clone();
        steps.iter().filter_map(|step| step["depth"].as_u64()).max()
    };
    assert_eq!(deepest("0"), Some(0));
    assert_eq!(deepest("1"), Some(1));
    assert_eq!(deepest("2"), Some(2));
}

/// A limit that holds nothing back is not told; where it does, the weight is what it allows.
#[test]
fn a_weight_names_a_limit_only_where_one_holds_it_back() {
    let names = |season: &str| {
        let asked = ["explain", "long/dose/2027-05-08/blue-salt", "--on", "2027-04-01"];
        let answer = Garden::new(season).json(&asked);
        told(&answer, "name").iter().map(|name| (*name).to_owned()).collect::<Vec<_>>()
    };
    let free = names(SEASON);
    assert!(free.iter().any(|name| name == "weight wanted"), "{free:?}");
    assert!(!free.iter().any(|name| name == "weight allowed"), "{free:?}");
    // A third of 400 lb/acre is more than the 90 lb/acre that may be there at once.
    let held = names(&SEASON.replace("3 lb/1000 ft2", "400 lb/acre"));
    assert!(held.iter().any(|name| name == "weight allowed"), "{held:?}");
}

/// What is used twice is told once and pointed to after that.
#[test]
fn a_step_used_again_points_to_the_first_telling() {
    let examples = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/school-garden/season.toml");
    let garden = Garden::empty();
    let asked = ["explain", "--season", examples, "--on", "2027-04-01"];
    let paths = garden.json(&asked);
    let paths: Vec<&str> =
        paths.as_array().expect("paths").iter().filter_map(Value::as_str).collect();
    assert!(paths.len() > 100, "{}", paths.len());
    let planned = paths.iter().find(|path| path.ends_with("/nitrogen/planned")).expect("a path");
    let answer = garden.json(&[&asked[..1], &[*planned], &asked[1..]].concat());
    let steps = answer["steps"].as_array().expect("steps");
    let again: Vec<&Value> = steps.iter().filter(|step| step.get("same_as").is_some()).collect();
    assert!(!again.is_empty(), "{planned}");
    for step in again {
        let first = step["same_as"].as_u64().expect("a number");
        let at = usize::try_from(first).expect("small") - 1;
        assert_eq!(steps[at]["name"], step["name"]);
        assert_eq!(steps[at]["value"], step["value"]);
        assert_eq!(step["sum"], format!("see step {first}"));
    }
    assert!(told(&answer, "source").iter().any(|source| source.contains("[published]")));
    assert!(told(&answer, "sum").iter().any(|sum| sum.contains("crops list, ")));
}

#[test]
fn every_path_listed_is_a_path_that_is_told() {
    let garden = Garden::new(SEASON);
    let paths = garden.json(&["explain", "--on", "2027-04-01"]);
    let listed = garden.answer(&["explain", "--on", "2027-04-01"]);
    for path in paths.as_array().expect("paths").iter().filter_map(Value::as_str) {
        assert!(listed.contains(path), "{path}");
        let answer = garden.json(&["explain", path, "--on", "2027-04-01"]);
        assert_eq!(answer["id"], path);
        if path == "buy/blue-salt" {
            // Doses of 20 lb in all, of which 4 are on hand.
            assert_eq!((&answer["needed"], &answer["on_hand"]), (&"20".into(), &"4".into()));
            continue;
        }
        let value = told(&answer, "value")[0].to_owned();
        let printed = garden.answer(&["explain", path, "--on", "2027-04-01"]);
        let opening = printed.split("\n\n").nth(1).unwrap_or_default().replace('\n', " ");
        let opening = opening.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(opening.contains(&value), "{path}: {value}: {opening}");
    }
}

#[test]
fn a_path_that_is_not_there_is_told_with_one_that_is() {
    let garden = Garden::new(SEASON);
    for (asked, offered) in [
        ("long/cabbage/nitrogen/ned", "did you mean `long/cabbage/nitrogen/need`?"),
        ("long/cabbage", "go one step further, such as `long/cabbage/area`"),
        ("quite/another/thing/altogether", "without a path lists what can be asked"),
    ] {
        let refused = garden.refused(&["explain", asked, "--on", "2027-04-01"]);
        assert!(refused.contains(&format!("there is no figure `{asked}`")), "{refused}");
        assert!(refused.contains(offered), "{asked}: {refused}");
    }
}
