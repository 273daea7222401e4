//! `record`: what was spread, written down, counted, and told beside the plan.

use serde_json::Value;

use super::{Garden, said};

#[test]
fn what_was_spread_is_written_down_listed_and_taken_back() {
    let garden = Garden::new();
    let answer = garden.json(&[
        "record",
        "north 1",
        "Feather Meal",
        "12  oz",
        "--on",
        "2027-06-12",
        "--note",
        "before rain",
        "--lot",
        "L-4",
        "--person",
        "A. Grower",
        "--method",
        "side-dressed",
    ]);
    // Feather meal is 12-0-0: 12 oz hold 1.44 oz, 0.09 lb.
    assert_eq!(answer["brings"]["nitrogen"]["value"], "0.09");
    assert_eq!(answer["application"]["crop"], "broccoli");
    let short = |answer: &Value| -> f64 {
        answer["bed"][0]["short"]["value"].as_str().expect("text").parse().expect("a number")
    };
    let urea = garden.json(&["record", "north-1", "urea", "3 oz", "--on", "2027-06-14"]);
    assert!(short(&urea) < short(&answer), "{urea}");
    let list = garden.json(&["record", "--list"]);
    assert_eq!(list["lines"][0]["person"], "A. Grower");
    assert_eq!(list["lines"].as_array().map(Vec::len), Some(2));
    let csv = garden.done(&["record", "--list", "--format", "csv"]);
    assert_eq!(csv.lines().count(), 3, "{csv}");
    let undone = garden.json(&["record", "--undo", "--on", "2027-06-14"]);
    assert_eq!((undone["state"].as_str(), short(&undone)), (Some("cancelled"), short(&answer)));
    let list = garden.json(&["record", "--list"]);
    assert_eq!(list["lines"][1]["cancelled_by"], 4);
    assert_eq!(garden.record().lines().count(), 4, "{}", garden.record());
}

#[test]
fn every_plan_counts_what_is_recorded() {
    let garden = Garden::new();
    let weights = |garden: &Garden| -> f64 {
        let plan = garden.json(&["plan", "--on", "2027-06-12"]);
        let doses = plan["beds"][0]["doses"].as_array().expect("doses").iter();
        doses
            .map(|dose| {
                dose["weight"]["value"].as_str().expect("text").parse::<f64>().expect("a number")
            })
            .sum()
    };
    let before = weights(&garden);
    garden.done(&["record", "north 1", "feather meal", "4 lb", "--on", "2027-05-15"]);
    assert!(weights(&garden) < before);
    garden.done(&["record", "--undo", "2"]);
    assert!((weights(&garden) - before).abs() < 1e-9);
}

/// Daikon is dressed 35 days after planting; 100 lb/acre takes a dressing more, which would else fall
/// 14 days before, on the day on which something was spread.
#[test]
fn no_dressing_is_added_on_a_day_that_had_one() {
    let garden = Garden::new();
    let season = "[garden]\nyear = 2027\n[feeding]\nside_dress = [\"urea\"]\ntiming = \"weeks\"\n\
                  [[bed]]\nname = \"a\"\narea = \"100 ft2\"\n[[bed.planting]]\ncrop = \"daikon\"\n\
                  planted = 2027-05-15\nharvest = 2027-07-13\nneed = { n = \"100 lb/acre\" }\n";
    std::fs::write(garden.path().join("season.toml"), season).expect("written");
    let days = || -> Vec<String> {
        let plan = garden.json(&["plan", "--on", "2027-06-05"]);
        let doses = plan["beds"][0]["doses"].as_array().expect("doses").iter();
        doses.map(|dose| dose["date"].as_str().expect("a date").to_owned()).collect()
    };
    assert_eq!(days(), ["2027-06-05", "2027-06-19"]);
    garden.done(&["record", "a", "urea", "0.5 oz", "--on", "2027-06-05"]);
    assert_eq!(days(), ["2027-06-12", "2027-06-19"]);
}

#[test]
fn late_early_doubled_skipped_and_added_doses_are_told() {
    let garden = Garden::new();
    let season = "[garden]\nyear = 2027\n[feeding]\nside_dress = [\"ammonium sulfate\"]\ntiming = \"weeks\"\n";
    let bed = |name: &str| {
        format!(
            "[[bed]]\nname = \"{name}\"\narea = \"100 ft2\"\n[[bed.planting]]\ncrop = \"broccoli\"\n\
             planted = 2027-05-08\nhow = \"transplant\"\nharvest = 2027-07-31\n"
        )
    };
    let text = season.to_owned() + &["a", "b", "c"].map(bed).concat();
    std::fs::write(garden.path().join("season.toml"), text).expect("written");
    let first = garden.json(&["plan", "--on", "2027-05-01"]);
    assert!(first["record"].is_null(), "nothing is recorded, so nothing is late");
    let date = |text: &str| topdress::calendar::Date::read(text).expect("a date");
    // Broccoli is side-dressed 21 and 35 days after planting; both days are Saturdays.
    let (day, next) = (date("2027-05-29"), date("2027-06-12"));
    let doses = first["beds"][0]["doses"].as_array().expect("doses");
    let weights: Vec<f64> = [day, next]
        .iter()
        .map(|day| {
            let on_day = |dose: &&Value| dose["date"] == day.to_string();
            let weight = &doses.iter().find(on_day).expect("a dose")["weight"]["value"];
            weight.as_str().expect("text").parse().expect("a number")
        })
        .collect();
    let weight = weights[0];
    assert!((weight - weights[1]).abs() < 1e-9, "equal doses");
    let spread = |bed: &str, times: f64, on: topdress::calendar::Date| {
        let amount = format!("{} lb", weight * times);
        garden.done(&["record", bed, "ammonium sulfate", &amount, "--on", &on.to_string()]);
    };
    spread("a", 1.0, day + 6);
    spread("a", 2.0, next - 4);
    spread("b", 1.0, day + 1);
    garden.done(&["record", "b", "urea", "1 oz", "--on", "2027-06-01"]);
    let plan = garden.json(&["plan", "--on", "2027-06-13"]);
    let said: Vec<(String, String, i64, bool)> = plan["record"]
        .as_array()
        .expect("the record")
        .iter()
        .filter(|one| {
            one["material"] != "triple superphosphate" && one["material"] != "potassium sulfate"
        })
        .filter(|one| one["planned"]["date"].as_str().is_none_or(|date| date >= "2027-05-29"))
        .map(|one| {
            let text = |key: &str| one[key].as_str().expect("text").to_owned();
            let doubled = one["doubled"].as_bool().expect("a flag");
            (text("bed"), text("verdict"), one["days"].as_i64().unwrap_or(0), doubled)
        })
        .collect();
    let line = |bed: &str, verdict: &str, days, doubled| {
        (bed.to_owned(), verdict.to_owned(), days, doubled)
    };
    let expected = [
        line("c", "skipped", 0, false),
        line("b", "on time", 0, false),
        line("b", "added", 0, false),
        line("a", "late", 6, false),
        line("a", "early", 4, true),
        line("b", "skipped", 0, false),
        line("c", "skipped", 0, false),
    ];
    assert_eq!(said, expected);
    let text = garden.done(&["work", "--on", "2027-06-13"]);
    for words in ["beside the first plan", "6 days late", "doubled", "skipped", "not in the plan"] {
        assert!(text.contains(words), "{words} in {text}");
    }
    let bed = garden.json(&["bed", "c", "--on", "2027-06-13"]);
    assert!(bed["record"].as_array().expect("the record").iter().all(|one| one["bed"] == "c"));
}

#[test]
fn what_cannot_be_recorded_is_refused_and_nothing_is_written() {
    let garden = Garden::new();
    let day = ["--on", "2027-06-12"];
    for (arguments, words) in [
        (&["record", "nroth 1", "urea", "3 oz"][..], "did you mean `north 1`?"),
        (&["record", "north 1", "uera", "3 oz"], "did you mean `urea`?"),
        (&["record", "north 1", "moon dust", "3 oz"], "--analysis"),
        (&["record", "north 1", "urea", "3 ft2"], "weight, volume, depth"),
        (&["record", "north 1", "urea", "3"], "unit"),
        (&["record", "north 1", "urea", "0 oz"], "nothing at all"),
        (&["record", "north 1", "urea", "-3 oz"], "`-3 oz` is less than nothing"),
        (&["record", "north 1", "urea", "--nte", "3 oz"], "--note"),
        (&["record", "nope", "urea", "3 oz"], "the beds are north 1, south"),
        (&["record", "north 1", "urea", "2 m"], "heap"),
        (&["record", "north 1", "urea", "3 oz", "--crop", "leek"], "no planting of leek"),
        (
            &["record", "north 1", "urea", "3 oz", "--analysis", "90-20-0"],
            "more than the whole bag",
        ),
        (&["record", "north 1", "urea"], "AMOUNT"),
        (&["record", "--undo"], "nothing to take back"),
        (&["record", "--list", "--format", "html"], "table, json, csv"),
    ] {
        let told = garden.refused(&[arguments, &day].concat());
        assert!(told.contains(words), "{arguments:?}: {told}");
    }
    let told = garden.refused(&["record", "north 1", "urea", "3 oz", "--on", "2028-06-12"]);
    assert!(told.contains("2026-07-01 to 2027-12-31"), "{told}");
    let record = garden.record();
    assert!(record.lines().count() <= 1, "{record}");
}

#[test]
fn a_damaged_record_is_told_with_its_place_and_the_rest_counts() {
    let garden = Garden::new();
    garden.done(&["record", "north 1", "urea", "3 oz", "--on", "2027-06-08"]);
    garden.done(&["record", "north 1", "urea", "2 oz", "--on", "2027-06-09"]);
    let file = garden.path().join("applications.csv");
    let damaged = garden.record().replace("2027-06-08", "6/8/2027");
    std::fs::write(&file, damaged.replace('\n', "\r\n") + "2027-06-10,north 1,broc")
        .expect("written");
    let output = garden.run(&["plan", "--on", "2027-06-12"]);
    assert_eq!(output.status.code(), Some(0));
    let told = said(&output.stderr);
    assert!(told.contains("line 2") && told.contains("line 4 has 3 of 11 cells"), "{told}");
    assert!(said(&output.stdout).contains("urea of Wed 9 Jun"));
    garden.done(&["record", "north 1", "urea", "1 oz", "--on", "2027-06-11"]);
    let list = garden.json(&["record", "--list"]);
    assert_eq!(list["lines"].as_array().map(Vec::len), Some(2));
    assert_eq!(list["damaged"].as_array().map(Vec::len), Some(2));
    std::fs::write(&file, garden.record().replace("(version 1)", "(version 2)")).expect("written");
    for command in [&["plan"][..], &["record", "--list"], &["record", "north 1", "urea", "1 oz"]] {
        let told = garden.refused(&[command, &["--on", "2027-06-12"]].concat());
        assert!(told.contains("version 2"), "{told}");
    }
}

#[test]
fn a_record_that_cannot_be_written_ends_with_one() {
    let garden = Garden::new();
    std::fs::create_dir(garden.path().join("applications.csv")).expect("a folder in its place");
    let output = garden.run(&["record", "north 1", "urea", "3 oz", "--on", "2027-06-08"]);
    assert_eq!(output.status.code(), Some(1), "{}", said(&output.stderr));
    assert!(said(&output.stderr).contains("applications.csv"));
    let output = garden.run(&["record", "--list", "--season", "no/such/season.toml"]);
    assert_eq!(output.status.code(), Some(0), "an empty record is no fault");
}

/// What stands on standard error after a line is written down.
fn remarked(garden: &Garden, arguments: &[&str]) -> String {
    let output = garden.run(&[&["record"], arguments, &["--on", "2027-06-12"]].concat());
    assert_eq!(output.status.code(), Some(0), "{}", said(&output.stderr));
    said(&output.stderr)
}

#[test]
fn a_dose_far_above_any_rate_and_one_written_twice_are_remarked() {
    let garden = Garden::new();
    assert_eq!(remarked(&garden, &["north 1", "urea", "3 oz"]), "");
    let told = remarked(&garden, &["north 1", "urea", "3 oz"]);
    for words in ["line 2 says the same", "`topdress record --undo 3`"] {
        assert!(told.contains(words), "{words} in {told}");
    }
    garden.done(&["record", "--undo", "3"]);
    // 500 lb hold 230 lb of nitrogen; on 96 ft2 that is 104,000 lb an acre.
    let told = remarked(&garden, &["north 1", "urea", "500 lb"]);
    for words in ["230 lb of nitrogen", "lb/acre", "300 lb/acre", "`topdress record --undo 5`"] {
        assert!(told.contains(words), "{words} in {told}");
    }
    // Ordinary ground, ordinary doses: nothing is said of compost an inch deep either.
    assert_eq!(remarked(&garden, &["south", "mixed compost", "1 in"]), "");
    assert_eq!(remarked(&garden, &["south", "triple superphosphate", "1 lb"]), "");
}

#[test]
fn containers_take_weights_alone() {
    let garden = Garden::new();
    let pots = "[[bed]]\nname = \"tubs\"\ncontainer = true\nvolume = \"10 gal\"\ncount = 4\n\
                [[bed.planting]]\ncrop = \"tomato\"\nplants = 4\nplanted = 2027-05-20\nharvest = 2027-08-01\n";
    let season = std::fs::read_to_string(garden.path().join("season.toml")).expect("read");
    std::fs::write(garden.path().join("season.toml"), season + pots).expect("written");
    let rate = ["record", "tubs", "urea", "3 lb/1000 ft2", "--on", "2027-06-12"];
    let told = garden.refused(&rate);
    assert!(told.contains("no area") && told.contains("write the weight"), "{told}");
    assert_eq!(remarked(&garden, &["tubs", "urea", "1 oz"]), "");
    assert!(remarked(&garden, &["tubs", "urea", "1 lb"]).contains("1 g a gallon"));
}

/// What is done a day before its visit stands for that visit, by either timing.
#[test]
fn a_visit_right_after_a_recorded_dressing_is_left_out() {
    for timing in ["weeks", "solved"] {
        let garden = Garden::new();
        let season = format!(
            "[garden]\nyear = 2027\n[feeding]\nside_dress = [\"urea\"]\ntiming = \"{timing}\"\n\
             [[bed]]\nname = \"a\"\narea = \"100 ft2\"\n[[bed.planting]]\ncrop = \"daikon\"\n\
             planted = 2027-05-15\nharvest = 2027-07-13\nneed = {{ n = \"150 lb/acre\" }}\n"
        );
        std::fs::write(garden.path().join("season.toml"), season).expect("written");
        let first = |on: &str| -> String {
            let plan = garden.json(&["plan", "--on", on]);
            let doses = plan["beds"][0]["doses"].as_array().expect("doses");
            doses[0]["date"].as_str().expect("a date").to_owned()
        };
        garden.done(&["record", "a", "urea", "3.75 oz", "--on", "2027-06-04"]);
        assert_eq!(first("2027-06-05"), "2027-06-12", "{timing}");
        garden.done(&["record", "a", "--undo"]);
        garden.done(&["record", "a", "urea", "3.75 oz", "--on", "2027-06-02"]);
        assert_eq!(first("2027-06-03"), "2027-06-05", "{timing}");
    }
}
