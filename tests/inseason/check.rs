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
