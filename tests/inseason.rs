//! `check`, `record` and `carry` through the program itself: what is answered, what is refused, and
//! that nothing is written where something is refused.

use std::path::Path;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

const SEASON: &str = r#"
[garden]
name = "Alder Rise school garden"
year = 2027
texture = "sand"
coldest = { month = 1, mean = "26 F" }
warmest = { month = 7, mean = "71 F" }
rain = [{ on = 2027-06-10, depth = "1.5 in" }]
[feeding]
side_dress = ["feather meal"]
[[shed]]
material = "yard compost"
on_hand = "100 lb"
[[bed]]
name = "north 1"
length = "24 ft"
width = "4 ft"
soil = { test = "mehlich-3", p = "41 ppm", k = "150 ppm", organic_matter = "3 %", ph = 6.6, sampled = 2027-03-20 }
[[bed.planting]]
crop = "broccoli"
planted = 2027-05-10
plants = 60
spacing = "15 in x 15 in"
how = "transplant"
harvest = 2027-07-30
[[bed]]
name = "south"
area = "200 ft2"
[[bed.planting]]
crop = "tomato"
share = "50 %"
planted = 2027-05-20
harvest = 2027-08-01
[[bed.planting]]
crop = "lettuce"
share = "50 %"
planted = 2027-05-20
harvest = 2027-07-10
"#;

struct Garden {
    folder: tempfile::TempDir,
}

impl Garden {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("season.toml"), SEASON).expect("written");
        Self { folder }
    }

    fn path(&self) -> &Path {
        self.folder.path()
    }

    fn run(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_topdress"))
            .args(arguments)
            .current_dir(self.path())
            .stdin(Stdio::null())
            .env("NO_COLOR", "1")
            .output()
            .expect("it runs")
    }

    fn done(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", said(&output.stderr));
        said(&output.stdout)
    }

    fn refused(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {}", said(&output.stdout));
        assert_eq!(said(&output.stdout), "", "{arguments:?}");
        said(&output.stderr)
    }

    fn json(&self, arguments: &[&str]) -> Value {
        let all = [arguments, &["--format", "json"]].concat();
        serde_json::from_str(&self.done(&all)).expect("JSON")
    }

    fn record(&self) -> String {
        std::fs::read_to_string(self.path().join("applications.csv")).unwrap_or_default()
    }
}

fn said(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

const DAY: [&str; 2] = ["--on", "2027-06-12"];

#[test]
fn a_hungry_crop_gets_a_dose_and_a_look_alike_does_not() {
    let garden = Garden::new();
    let hungry = ["check", "north 1", "--sign", "oldest-first", "--sign", "uniform"];
    let tested = [&hungry[..], &DAY, &["--soil-nitrate", "8 ppm"]].concat();
    let answer = garden.json(&tested);
    assert_eq!((answer["likely"].as_str(), answer["holds"][0].as_str()), (Some("nitrogen"), None));
    // 17 ppm lacking is 68 lb/acre; the printed rescue of cole crops is 30 to 40.
    assert_eq!(answer["dose"]["rate"]["value"], "40");
    assert_eq!(answer["dose"]["materials"][0]["material"], "feather meal");
    assert_eq!(answer["dose"]["refused"][0]["why"], "feeds-the-soil");
    let text = garden.done(&tested);
    for words in ["short of nitrogen", "expect green", "What not to do", "Look again", "no compost"]
    {
        assert!(text.contains(words), "{words} in {text}");
    }
    let other = ["check", "north 1", "--sign", "oldest-first", "--sign", "between-veins"];
    let other = [&other[..], &DAY].concat();
    let answer = garden.json(&other);
    assert_eq!(answer["likely"], "magnesium");
    assert!(answer["dose"].is_null());
    assert_eq!(answer["holds"][0]["hold"], "other-cause");
    let anyway = garden.json(&[&other[..], &["--anyway"]].concat());
    assert!(anyway["dose"]["materials"].is_array());
    assert!(garden.done(&other).contains("--anyway"));
}

#[test]
fn no_dose_on_saturated_soil_even_when_asked() {
    let garden = Garden::new();
    for sign in ["saturated", "galled-roots", "rotten-roots"] {
        let arguments = ["check", "north-1", "--sign", sign, "--anyway", "--soil-nitrate", "3 ppm"];
        let answer = garden.json(&[&arguments[..], &DAY].concat());
        assert!(answer["dose"].is_null(), "{sign}");
        assert_eq!(answer["holds"][0]["stands"], true, "{sign}");
    }
}

#[test]
fn the_record_the_rain_and_the_budget_are_evidence() {
    let garden = Garden::new();
    let check = [&["check", "north 1", "--sign", "oldest-first"][..], &DAY].concat();
    let signs = |answer: &Value| -> Vec<String> {
        let all = answer["causes"].as_array().expect("causes").iter();
        let lists = all.flat_map(|cause| {
            ["for", "against"].map(|side| cause[side].as_array().expect("a list").clone())
        });
        let mut keys: Vec<String> =
            lists.flatten().map(|one| one["sign"].as_str().expect("a key").to_owned()).collect();
        keys.sort();
        keys.dedup();
        keys
    };
    let before = signs(&garden.json(&check));
    assert_eq!(before, ["oldest-first"]);
    garden.done(&["record", "north 1", "dairy manure", "60 lb", "--on", "2027-05-05"]);
    garden.done(&["record", "north 1", "urea", "2 lb", "--on", "2027-06-08"]);
    let after = signs(&garden.json(&check));
    assert_eq!(after, ["budget-met", "hay-or-manure", "just-fed", "oldest-first"]);
    let wet = SEASON.replace("1.5 in", "3.5 in");
    std::fs::write(garden.path().join("season.toml"), wet).expect("written");
    assert!(signs(&garden.json(&check)).contains(&"leaching-rain".to_owned()));
}

#[test]
fn what_cannot_be_checked_is_refused_with_a_way_out() {
    let garden = Garden::new();
    for (arguments, words) in [
        (&["check", "nroth 1"][..], "did you mean `north 1`?"),
        (&["check", "north 1", "--sign", "oldest-frist"], "did you mean `oldest-first`?"),
        (&["check", "north 1", "--sign", "purple haze"], "topdress catalogue signs"),
        (&["check", "north 1", "--sign", "nitrate-low"], "--soil-nitrate"),
        (&["check", "north 1", "--sign", "v-midrib"], "no sign of broccoli"),
        (&["check", "north 1", "--sign", "oldest-first", "--sign", "newest-first"], "cannot both"),
        (&["check", "south"], "--crop tomato"),
        (&["check", "south", "--crop", "leek"], "no leek stands"),
        (&["check", "north 1", "--soil-nitrate", "18"], "ppm"),
        (&["check", "north 1", "--soil-nitrate", "9000 ppm"], "0 to 1,000 ppm"),
        (&["check", "north 1", "--soil-ph", "62"], "between 3 and 10"),
        (&["check", "north 1", "--format", "csv"], "table, markdown, json, html"),
    ] {
        let told = garden.refused(&[arguments, &DAY].concat());
        assert!(told.contains(words), "{arguments:?}: {told}");
    }
    let told = garden.refused(&["check", "north 1", "--on", "2027-09-01"]);
    assert!(told.contains("nothing stands in north 1"), "{told}");
    garden.done(&[&["check", "south", "--crop", "lettuce"][..], &DAY].concat());
}

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

const OLD: &str = r#"
feeding.side_dress = ["feather meal"]   # dotted on purpose
[garden]
year = 2027
units = "us"
rain = [{ on = 2027-06-10, depth = "1.5 in" }]
[[material]]
name = "barn blend"
kind = "compost"
like = "mixed compost"
analysis = "1-1-1"
[[shed]]
material = "feather meal"
on_hand = "4 lb"
packs = [
  { weight = "50 lb", price = "62.00" },
]
[[bed]]
name = 'north "1"'
area = "100 sq ft"
history = [
  { kind = "compost", year = 2024, depth = "1 in" },
  { kind = "compost", year = 2025, depth = "1 in" },
  { kind = "cover crop", crop = "hairy vetch", biomass = "2500 lb/acre", killed = 2027-04-25 },
]
[bed.soil]
test = "mehlich-3"
p = "41 ppm"
k = "150 ppm"
ph = 6.6
nitrate = "18 ppm"
depth = "12 in"
sampled = 2025-03-20
nitrate_sampled = 2027-04-01
[[bed.amend]]
material = "Barn Blend"
depth = "0.5 in"
on = 2027-04-28
[[bed.amend]]
material = "mixed compost"
amount = "6 ft3"
on = 2027-10-15
[[bed.amend]]
material = "urea"
amount = "1 lb"
on = 2027-05-28
[[bed.planting]]
crop = "broccoli"
planted = 2027-05-10
harvest = 2027-07-15
yield = "20 lb per 100 ft2"
"#;

#[test]
fn next_years_file_is_read_and_holds_what_goes_on_feeding() {
    let garden = Garden::new();
    std::fs::write(garden.path().join("season.toml"), OLD).expect("written");
    garden.done(&["record", "north \"1\"", "dairy manure", "30 lb", "--on", "2027-05-01"]);
    garden.done(&["record", "north \"1\"", "mixed compost", "9 lb", "--on", "2027-09-01"]);
    garden.done(&["carry", "--output", "season-2028.toml"]);
    let text = std::fs::read_to_string(garden.path().join("season-2028.toml")).expect("read");
    for words in [
        "year = 2028",
        "name = 'north \"1\"'",
        "area = \"100 sq ft\"",
        "on_hand = \"4 lb\"",
        "{ kind = \"compost\", year = 2025, depth = \"1 in\" }",
        "{ kind = \"compost\", year = 2027, material = \"Barn Blend\", depth = \"0.5 in\" }",
        "{ kind = \"manure\", year = 2027, material = \"dairy manure\", amount = \"30 lb\" }",
        "# 2027: broccoli, 2027-05-10 to 2027-07-15",
        "time for another",
        "nitrogen is not carried over",
        "side_dress = [\"feather meal\"]",
        "on = 2027-10-15",
    ] {
        assert!(text.contains(words), "{words} in {text}");
    }
    // Forgotten, used up, or counted by the next season from the record itself.
    for words in ["2024", "vetch", "nitrate =", "rain", "urea", "[[bed.planting]]", "9 lb"] {
        assert!(!text.contains(words), "{words} in {text}");
    }
    let next = ["--season", "season-2028.toml", "--on", "2028-04-01"];
    let plan = garden.json(&[&["plan"][..], &next].concat());
    assert_eq!(plan["year"], 2028);
    // And a year on, once more.
    let again = garden.done(&["carry", "--season", "season-2028.toml"]);
    assert!(again.contains("year = 2029") && again.contains("year = 2027, material"), "{again}");
    assert!(!again.contains("year = 2025, depth"), "{again}");
}

/// The balance is what was spread less what the harvest carries away; a bed that gets nothing loses
/// what the harvest takes.
#[test]
fn the_balance_of_the_year_is_told() {
    let garden = Garden::new();
    let bare = OLD.replace(
        "material = \"Barn Blend\"\ndepth = \"0.5 in\"",
        "material = \"urea\"\namount = \"1 oz\"",
    );
    let bare = bare.replace(
        "material = \"mixed compost\"\namount = \"6 ft3\"\n",
        "material = \"urea\"\namount = \"1 oz\"\n",
    );
    std::fs::write(garden.path().join("season.toml"), bare).expect("written");
    let text = garden.done(&["carry"]);
    // German Fertiliser Ordinance, Annex 7 Table 2: broccoli holds 1.49 kg phosphate in a tonne;
    // 20 lb x 0.00149 = 0.0298 lb = 0.48 oz.
    assert!(text.contains("phosphate spread 0 oz, carried away about 0.48 oz"), "{text}");
    assert!(text.contains("0.48 oz less than left the bed"), "{text}");
    garden.done(&[
        "record",
        "north \"1\"",
        "triple superphosphate",
        "1 oz",
        "--analysis",
        "0-46-0",
        "--on",
        "2027-05-01",
    ]);
    let text = garden.done(&["carry"]);
    // 0.46 oz less 0.4768 oz.
    assert!(text.contains("phosphate spread 0.46 oz"), "{text}");
    assert!(text.contains("0.017 oz less than left the bed"), "{text}");
}

#[test]
fn nitrate_is_carried_only_where_a_test_after_the_last_crop_says_so() {
    let garden = Garden::new();
    let late = OLD.replace("nitrate_sampled = 2027-04-01", "nitrate_sampled = 2027-10-01");
    std::fs::write(garden.path().join("season.toml"), late).expect("written");
    let text = garden.done(&["carry"]);
    assert!(text.contains("nitrate = \"18 ppm\""), "{text}");
    assert!(text.contains("the nitrate test was taken after the last crop"), "{text}");
}

#[test]
fn carry_never_writes_over_this_years_file_and_knows_one_format() {
    let garden = Garden::new();
    let told = garden.refused(&["carry", "--output", "./season.toml"]);
    assert!(told.contains("this year's season file"), "{told}");
    assert!(garden.refused(&["carry", "--format", "json"]).contains("toml"));
    let kept = std::fs::read_to_string(garden.path().join("season.toml")).expect("read");
    assert_eq!(kept, SEASON);
    let next = garden.done(&["carry"]);
    assert!(next.contains("[[bed]]") && next.contains("name = \"south\""), "{next}");
}
