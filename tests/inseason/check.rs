//! `check`: a dose for a hungry crop, none for what only looks like one.

use serde_json::Value;

use super::{Garden, SEASON};

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
    // Green shows a week after feeding.
    assert_eq!(answer["look_again"], "2027-06-20");
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
    // A test of the soil outranks what is only reckoned.
    let tested = [&check[..], &["--soil-nitrate", "14 ppm"]].concat();
    let tested = signs(&garden.json(&tested));
    assert_eq!(tested, ["hay-or-manure", "just-fed", "nitrate-short", "oldest-first"]);
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

/// Common practice: a hungry, yellowing crop gets a material in which nitrogen dominates, whatever
/// else stands in the shed.
#[test]
fn what_a_hungry_crop_is_offered_is_mostly_nitrogen() {
    let garden = Garden::new();
    let shed = ["blended fertilizer 10-10-10", "bone meal", "blood meal", "fish meal", "urea"];
    let shed: String = shed
        .iter()
        .map(|name| format!("[[shed]]\nmaterial = \"{name}\"\non_hand = \"50 lb\"\n"))
        .collect();
    let season = SEASON.replacen("[[bed]]", &format!("{shed}[[bed]]"), 1);
    std::fs::write(garden.path().join("season.toml"), season).expect("written");
    let hungry = ["check", "north 1", "--sign", "oldest-first", "--sign", "uniform"];
    let answer = garden.json(&[&hungry[..], &DAY, &["--soil-nitrate", "8 ppm"]].concat());
    let catalogue = topdress::catalogue::Catalogue::new();
    let offered = answer["dose"]["materials"].as_array().expect("materials");
    assert!(offered.len() >= 2, "{offered:?}");
    for one in offered {
        let name = one["material"].as_str().expect("a name");
        let material = catalogue.material(name).unwrap_or_else(|| panic!("{name}"));
        assert!(material.nitrogen > material.phosphate + material.potash, "{name}");
    }
}

#[test]
fn the_points_shown_add_up_and_drowned_roots_are_not_fed() {
    let garden = Garden::new();
    let answer = garden.json(&[&["check", "north 1", "--sign", "saturated"][..], &DAY].concat());
    assert_eq!(answer["likely"], "waterlogged");
    for cause in answer["causes"].as_array().expect("causes") {
        let listed = |side: &str| -> i64 {
            let all = cause[side].as_array().expect("a list").iter();
            all.map(|one| one["points"].as_i64().expect("points")).sum()
        };
        let begun = cause["to_begin_with"].as_i64().expect("points");
        let total = begun + listed("for") + listed("against");
        assert_eq!(Some(total), cause["points"].as_i64(), "{cause}");
        let for_it = cause["for"].as_array().expect("a list").iter();
        let saturated = for_it.clone().any(|one| one["sign"] == "saturated");
        assert!(cause["cause"] != "nitrogen" || !saturated, "{cause}");
    }
    let text = garden.done(&[&["check", "north 1", "--sign", "saturated"][..], &DAY].concat());
    assert!(text.contains("to begin with"), "{text}");
}

#[test]
fn where_nothing_was_told_nothing_is_ranked() {
    let garden = Garden::new();
    let bare = [&["check", "north 1"][..], &DAY].concat();
    let answer = garden.json(&bare);
    assert!(answer["likely"].is_null(), "{answer}");
    assert_eq!(answer["causes"].as_array().map(Vec::len), Some(0));
    assert!(answer["look_at"].as_array().is_some_and(|looks| looks.len() > 5), "{answer}");
    let text = garden.done(&bare);
    assert!(text.contains("Nothing was told of the plants"), "{text}");
    for words in ["short of nitrogen", "points", "1."] {
        let before = text.split("Before feeding").next().expect("a part");
        assert!(!before.contains(words), "{words} in {text}");
    }
}

/// As the season file may call it, so may the command line.
#[test]
fn a_crop_goes_by_any_of_its_names() {
    let garden = Garden::new();
    for name in ["tomato", "Cherry tomato", "slicing-tomato"] {
        let text = garden.done(&[&["check", "south", "--crop", name][..], &DAY].concat());
        assert!(text.contains("tomato"), "{text}");
        let spread = ["record", "south", "feather meal", "1 oz", "--crop", name];
        garden.done(&[&spread[..], &DAY].concat());
    }
    assert_eq!(garden.record().matches(",tomato,").count(), 3, "{}", garden.record());
}

#[test]
fn containers_are_not_dug_and_a_perennial_stands_after_its_harvest() {
    let garden = Garden::new();
    let more = "[[bed]]\nname = \"tubs\"\ncontainer = true\nvolume = \"10 gal\"\ncount = 4\n\
                [[bed.planting]]\ncrop = \"tomato\"\nplants = 4\nplanted = 2027-05-20\nharvest = 2027-08-01\n\
                [[bed]]\nname = \"gus\"\narea = \"100 ft2\"\n[[bed.planting]]\ncrop = \"asparagus\"\n\
                planted = 2027-03-20\nharvest = 2027-06-15\nyear_of_stand = 4\n";
    std::fs::write(garden.path().join("season.toml"), SEASON.to_owned() + more).expect("written");
    for signs in [&[][..], &["--sign", "saturated"], &["--sign", "soil-dry"]] {
        let text = garden.done(&[&["check", "tubs"], signs, &DAY].concat());
        for words in ["12 in", "dig to", "strip of the bed", "feed one strip", "ground"] {
            assert!(!text.contains(words), "{words} in {text}");
        }
    }
    let fed = ["check", "gus", "--sign", "oldest-first", "--sign", "uniform"];
    let text = garden.done(&[&fed[..], &["--on", "2027-07-20"]].concat());
    assert!(text.contains("asparagus"), "{text}");
    let held = |on: &str| {
        let answer = garden.json(&[&fed[..], &["--on", on]].concat());
        let holds = answer["holds"].as_array().expect("holds").clone();
        holds.iter().any(|hold| hold["hold"] == "too-late")
    };
    assert!(!held("2027-07-20") && held("2027-10-01"));
}
