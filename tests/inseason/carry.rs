//! `carry`: next year's season file.

use super::{Garden, SEASON};

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

#[test]
fn what_stands_for_years_is_carried_a_year_older() {
    let garden = Garden::new();
    let bed = |name: &str, crop: &str, more: &str| {
        format!(
            "[[bed]]\nname = \"{name}\"\narea = \"100 ft2\"\n[[bed.planting]]\ncrop = \"{crop}\"\n\
             planted = 2027-03-20\nharvest = 2027-06-15\n{more}"
        )
    };
    let text = "[garden]\nyear = 2027\n".to_owned()
        + &bed("gus", "asparagus", "year_of_stand = 3\nresidues = \"removed\"\n")
        + &bed("jam", "strawberry", "year_of_stand = 1\n")
        + &bed("pie", "rhubarb", "")
        + &bed("greens", "lettuce", "");
    std::fs::write(garden.path().join("season.toml"), text).expect("written");
    garden.done(&["carry", "-o", "next.toml"]);
    let next = std::fs::read_to_string(garden.path().join("next.toml")).expect("read");
    for words in
        ["crop = \"asparagus\"", "year_of_stand = 4", "year_of_stand = 2", "crop = \"rhubarb\""]
    {
        assert!(next.contains(words), "{words} in {next}");
    }
    assert_eq!(next.matches("harvest = 2028-06-15").count(), 3, "{next}");
    assert!(!next.contains("crop = \"lettuce\""), "{next}");
    let plan = garden.json(&["plan", "--season", "next.toml", "--on", "2028-03-01"]);
    assert_eq!(plan["year"], 2028);
}
