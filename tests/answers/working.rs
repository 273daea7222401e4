//! The working of a sum, line by line.

use super::Garden;

/// Half of the nitrogen counts: 66.67 lb at 4 % bring 2.67 lb of which 1.33 count; of phosphate and
/// potash all counts, and nothing else is said.
#[test]
fn what_counts_is_said_of_nitrogen_alone() {
    let worked = |nitrogen: &str, phosphate: &str, with: &str| {
        let needs = ["sum", "dose", "--need", nitrogen, "--need", phosphate];
        let told = Garden::empty()
            .answer(&[&needs[..], &["--from", "4-3-2 @ 50 %", "--from", with]].concat());
        told.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let told = worked("n 3 lb", "p2o5 2 lb", "12-0-0 @ 60 %");
    for line in [
        "nitrogen that counts brought by 4-3-2: 66.6667 lb × 2 %",
        "nitrogen still needed: 3 lb − 1.33333 lb",
        "phosphate brought by 4-3-2: 66.6667 lb × 3 %",
    ] {
        assert!(told.contains(line), "{line}: {told}");
    }
    // 150 lb for the nitrogen bring 4.5 lb of phosphate.
    let told = worked("n 3 lb", "p2o5 12 lb", "0-46-0");
    assert!(told.contains("phosphate brought by 4-3-2: 150 lb × 3 %"), "{told}");
    assert!(!told.contains("phosphate that counts") && !told.contains("potash that counts"));
}

/// The line of 17.5 lb a ton for each percent above 1.5 was drawn through cover crops of up to 4 %.
#[test]
fn a_line_carried_on_past_its_figures_is_said() {
    let note = |percent: &str| {
        let words = ["sum", "legume", "--biomass", "3000 lb/acre", "--nitrogen", percent];
        let told = Garden::empty().answer(&[&words[..], &["--over", "1 acre"]].concat());
        told.split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
            .contains("published line ends near 4 %")
    };
    assert_eq!([note("3.5 %"), note("4 %"), note("4.1 %")], [false, false, true]);
}

/// Salts are minded where inches of a material are spread, and not with pounds of a mineral one.
#[test]
fn salts_are_minded_with_compost_and_not_with_a_mineral() {
    let minded = |need: &str, material: &str| {
        let words = ["sum", "dose", "--need", need, "--from", material, "--over", "100 ft2"];
        Garden::empty().json(&words)["cautions"].to_string().contains("salts")
    };
    assert!(minded("n 1 lb", "mixed compost"));
    assert!(!minded("n 1 lb", "sodium nitrate"));
}

/// In pots a gallon of mix bears one gram of nitrogen at once, and no more.
#[test]
fn a_mix_is_strong_from_above_a_gram_to_the_gallon() {
    let strong = |dose: &str| {
        let words = ["sum", "mix", "--dose", dose, "--from", "10-0-0", "--into", "1 gal"];
        Garden::empty().json(&words)["cautions"].to_string().contains("mix is strong")
    };
    assert_eq!([strong("10 g"), strong("10.1 g")], [false, true]);
}
