//! What a bed itself tells in a check: which signs its weather, soil, record and calendar add to
//! those seen, and on which side of each limit.

use super::{Garden, SEASON};

/// The signs that speak for or against any cause, when old leaves turned evenly.
fn signs(season: &str, more: &[&str]) -> Vec<String> {
    let garden = Garden::new();
    std::fs::write(garden.path().join("season.toml"), season).expect("written");
    let seen = ["check", "north 1", "--sign", "oldest-first"];
    let answer = garden.json(&[&seen[..], more].concat());
    let mut keys = Vec::new();
    for cause in answer["causes"].as_array().expect("causes") {
        for side in ["for", "against"] {
            for one in cause[side].as_array().expect("a list") {
                keys.push(one["sign"].as_str().expect("a key").to_owned());
            }
        }
    }
    keys
}

fn tells(season: &str, more: &[&str], sign: &str) -> bool {
    signs(season, more).iter().any(|one| one == sign)
}

/// Below 50 F the soil frees little nitrogen. A climate that is only assumed is no evidence.
#[test]
fn cold_soil_is_told_where_the_climate_is_known() {
    let cold = SEASON
        .replace(r#"{ month = 1, mean = "26 F" }"#, r#"{ month = 1, mean = "5 F" }"#)
        .replace(r#"{ month = 7, mean = "71 F" }"#, r#"{ month = 7, mean = "52 F" }"#);
    assert!(tells(&cold, &["--on", "2027-05-14"], "soil-cold"));
    assert!(!tells(SEASON, &["--on", "2027-06-12"], "soil-cold"));
    let unknown: String = SEASON
        .lines()
        .filter(|line| !line.starts_with("coldest") && !line.starts_with("warmest"))
        .map(|line| line.replace("2027-05-10", "2027-03-10") + "\n")
        .collect();
    assert!(!tells(&unknown, &["--on", "2027-03-20"], "soil-cold"));
}

/// Sour is below pH 5.8, limy above 7.3; what is measured today goes before what the file holds.
#[test]
fn sour_and_limy_soil_are_told_from_their_limits_on() {
    let on = ["--on", "2027-06-12"];
    for (ph, acid, limy) in
        [("5.7", true, false), ("5.8", false, false), ("7.3", false, false), ("7.4", false, true)]
    {
        let measured = [&on[..], &["--soil-ph", ph]].concat();
        assert_eq!(tells(SEASON, &measured, "soil-acid"), acid, "{ph}");
        assert_eq!(tells(SEASON, &measured, "soil-limy"), limy, "{ph}");
        let written = SEASON.replace("ph = 6.6", &format!("ph = {ph}"));
        assert_eq!(tells(&written, &on, "soil-acid"), acid, "{ph}");
    }
    let sour = SEASON.replace("ph = 6.6", "ph = 5.0");
    assert!(!tells(&sour, &[&on[..], &["--soil-ph", "6.5"]].concat(), "soil-acid"));
}

/// More than 3 in on sand within ten days washes nitrate out; not under plastic, not on loam, and
/// not when it is eleven days ago or still to come.
#[test]
fn rain_of_the_last_ten_days_washes_sand_out() {
    let rain = |events: &str| {
        SEASON.replace(r#"[{ on = 2027-06-10, depth = "1.5 in" }]"#, &format!("[{events}]"))
    };
    let one = |day: &str, depth: &str| format!("{{ on = {day}, depth = \"{depth}\" }}");
    let on = ["--on", "2027-06-12"];
    for (events, washed) in [
        (one("2027-06-10", "3.1 in"), true),
        (one("2027-06-10", "3 in"), false),
        (one("2027-06-02", "3.1 in"), true),
        (one("2027-06-01", "3.1 in"), false),
        (one("2027-06-13", "3.1 in"), false),
        (one("2027-06-04", "1.6 in") + ", " + &one("2027-06-11", "1.6 in"), true),
    ] {
        assert_eq!(tells(&rain(&events), &on, "leaching-rain"), washed, "{events}");
    }
    let wet = rain(&one("2027-06-10", "3.1 in"));
    let loam = wet.replace("texture = \"sand\"", "texture = \"loam\"");
    assert!(!tells(&loam, &on, "leaching-rain"));
    let covered = wet.replacen("width = \"4 ft\"", "width = \"4 ft\"\nunder_plastic = true", 1);
    assert!(!tells(&covered, &on, "leaching-rain"));
}

/// A salt speaks for ten days, straw dug in for eight weeks, each from the day it was spread.
#[test]
fn what_was_spread_speaks_for_its_time() {
    let spread = |material: &str, amount: &str, placed: &str, day: &str| {
        let lines = format!(
            "[[bed.amend]]\nmaterial = \"{material}\"\namount = \"{amount}\"\nplaced = \"{placed}\"\non = {day}\n"
        );
        SEASON.replacen("[[bed.planting]]", &(lines + "[[bed.planting]]"), 1)
    };
    let on = ["--on", "2027-06-12"];
    for (material, placed, day, sign, told) in [
        ("urea", "mixed", "2027-06-02", "just-fed", true),
        ("urea", "mixed", "2027-06-01", "just-fed", false),
        ("urea", "mixed", "2027-06-13", "just-fed", false),
        ("pelleted poultry manure", "surface", "2027-06-12", "just-fed", true),
        ("feather meal", "mixed", "2027-06-10", "just-fed", false),
        ("straw", "mixed", "2027-04-20", "raw-straw", true),
        ("straw", "mixed", "2027-04-10", "raw-straw", false),
        ("straw", "surface", "2027-04-20", "raw-straw", false),
        ("straw", "surface", "2027-04-20", "hay-or-manure", true),
        ("yard compost", "mixed", "2027-04-20", "hay-or-manure", true),
        ("feather meal", "mixed", "2027-04-20", "hay-or-manure", false),
        ("coffee grounds", "mixed", "2027-04-20", "hay-or-manure", false),
    ] {
        let season = spread(material, "5 lb", placed, day);
        assert_eq!(tells(&season, &on, sign), told, "{material} {placed} {day}: {sign}");
    }
}

/// Old leaves drop in the last two weeks before the harvest of 30 July.
#[test]
fn the_last_two_weeks_are_near_the_harvest() {
    for (day, near) in [("2027-07-15", false), ("2027-07-16", true), ("2027-07-30", true)] {
        assert_eq!(tells(SEASON, &["--on", day], "near-harvest"), near, "{day}");
    }
}

/// New Jersey's words for its extractant: 41 ppm is high (optimum); far below it is low.
#[test]
fn phosphorus_speaks_by_its_class() {
    let on = ["--on", "2027-06-12"];
    for (p, low, high) in
        [("8 ppm", true, false), ("41 ppm", false, false), ("200 ppm", false, true)]
    {
        let season = SEASON.replace("p = \"41 ppm\"", &format!("p = \"{p}\""));
        assert_eq!(tells(&season, &on, "phosphate-low"), low, "{p}");
        assert_eq!(tells(&season, &on, "phosphate-high"), high, "{p}");
    }
}

/// A whole plant that is pale may lack nitrogen or sulfur; purple is phosphate or cold roots.
#[test]
fn the_opening_says_how_sure_it_is_and_what_cannot_be_told_apart() {
    let garden = Garden::new();
    for (seen, opening) in [
        (
            &["whole-plant"][..],
            "Not settled: it may be short of nitrogen, short of sulfur or drowned roots.",
        ),
        (
            &["specks"],
            "Not settled: short of iron or manganese comes first, but on little evidence.",
        ),
        (
            &["purple"],
            "Clearly short of phosphate, or roots too cold to take it, and not nitrogen.",
        ),
        (&["newest-first", "cupped-purple"], "Probably short of sulfur, and not nitrogen."),
    ] {
        let mut words = vec!["check", "north 1", "--on", "2027-06-12"];
        seen.iter().for_each(|sign| words.extend(["--sign", sign]));
        let told = garden.done(&words).split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(told.contains(opening), "{seen:?}: {told}");
    }
}
