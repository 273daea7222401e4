//! The shopping list of a garden whose list can be found in the head.

use serde_json::json;

use super::{Garden, SEASON};

const ASKED: [&str; 3] = ["buy", "--on", "2027-04-01"];

/// 16 lb are wanted: one pack of 25 lb at 24.00 costs less than four of 5 lb at 26.00.
#[test]
fn a_list_for_a_program_holds_packs_totals_and_what_is_left() {
    let answer = Garden::new(SEASON).json(&ASKED);
    assert_eq!(answer["document"], "buy");
    assert_eq!(answer["unit"], "lb");
    let certain = &answer["certain"];
    let bought = json!([{
        "id": "buy/blue-salt", "material": "blue salt", "supplier": "village store",
        "pack": "25", "count": 1, "cost": "24"
    }]);
    assert_eq!(certain["lines"], bought);
    assert_eq!(certain["deliveries"], json!([{"supplier": "village store", "charge": "3"}]));
    assert_eq!(certain["total"], "27");
    let sums = json!([{
        "material": "blue salt", "needed": "20", "on_hand": "4", "bought": "25", "left_over": "9"
    }]);
    assert_eq!(certain["materials"], sums);
    assert_eq!(certain["proven_least"], true);
    assert_eq!(certain["could_save"], json!(null));
    assert_eq!(certain["missing"], json!([]));
    assert_eq!(answer["possible"]["total"], "0");
}

/// 6.50 for 0.75 lb of nitrogen, 24.00 for 3.75 lb; other nutrients are not in it.
#[test]
fn a_pound_of_nitrogen_is_dearer_in_the_small_pack() {
    let garden = Garden::new(SEASON);
    let costs = &garden.json(&ASKED)["nutrient_costs"];
    let each: Vec<(&str, &str)> = costs
        .as_array()
        .expect("costs")
        .iter()
        .map(|cost| {
            assert_eq!(cost.get("phosphate"), None);
            assert_eq!(cost.get("potash"), None);
            (cost["pack"].as_str().expect("text"), cost["nitrogen"].as_str().expect("text"))
        })
        .collect();
    assert_eq!(each, [("5", "8.66666666667"), ("25", "6.4")]);
}

#[test]
fn kilograms_are_the_same_packs() {
    let answer = Garden::new(SEASON).json(&[&ASKED[..], &["--units", "metric"]].concat());
    assert_eq!(answer["unit"], "kg");
    // A pound is 0.45359237 kg.
    assert_eq!(answer["certain"]["lines"][0]["pack"], "11.33980925");
    assert_eq!(answer["certain"]["materials"][0]["on_hand"], "1.81436948");
    assert_eq!(answer["certain"]["total"], "27");
    let small = answer["nutrient_costs"][0]["nitrogen"].as_str().expect("text");
    // 6.50 / (5 x 0.45359237 x 0.15)
    assert!(small.starts_with("19.10672"), "{small}");
}

#[test]
fn a_sheet_has_a_row_for_each_line() {
    let rows = Garden::new(SEASON).rows(&ASKED);
    assert_eq!(rows.len(), 1);
    for (column, cell) in [
        ("list", "certain"),
        ("material", "blue salt"),
        ("supplier", "village store"),
        ("count", "1"),
        ("pack", "25"),
        ("unit", "lb"),
        ("cost", "24"),
        ("what", "1 pack of 25 lb"),
    ] {
        assert_eq!(rows[0][column], cell, "{column}");
    }
}

#[test]
fn every_format_names_the_pack_and_the_total() {
    let garden = Garden::new(SEASON);
    for format in ["table", "markdown", "html"] {
        let told = garden.answer(&[&ASKED[..], &["--format", format]].concat());
        for words in ["blue salt", "village store", "25 lb", "24.00", "27.00", "9.00"] {
            assert!(told.contains(words), "{format}: {words}: {told}");
        }
    }
    let refused = garden.refused(&[&ASKED[..], &["--format", "ics"]].concat());
    assert!(refused.contains("table, markdown, json, csv, html"), "{refused}");
}

/// A single offer has no next best. From a stall without delivery, four small packs come to 26.00; the
/// next best is then the store's pack with its delivery.
#[test]
fn the_next_best_list_is_the_one_without_what_was_bought() {
    let second = SEASON.replace(
        r#"packs = [{ weight = "5 lb", price = "6.50" }, { weight = "25 lb", price = "24.00" }]"#,
        "packs = [{ weight = \"25 lb\", price = \"24.00\" }]",
    );
    let other = "
[[supplier]]
name = \"market stall\"
[[shed]]
material = \"blue salt\"
analysis = \"15-0-0\"
packs = [{ weight = \"5 lb\", price = \"6.50\" }]
supplier = \"market stall\"
";
    let alone = Garden::new(&second).json(&ASKED);
    assert_eq!(alone["certain"].get("next_best"), None);
    let both = Garden::new(&(second + other)).json(&ASKED);
    assert_eq!(both["certain"]["lines"][0]["supplier"], "market stall");
    assert_eq!(both["certain"]["total"], "26");
    let next = json!({"without": "blue salt", "total": "27", "by": "cost"});
    assert_eq!(both["certain"]["next_best"], next);
}

#[test]
fn what_no_one_offers_is_told_in_every_format() {
    let bare = SEASON.replace(
        "packs = [{ weight = \"5 lb\", price = \"6.50\" }, { weight = \"25 lb\", price = \"24.00\" }]\n",
        "",
    );
    let garden = Garden::new(&bare);
    let certain = &garden.json(&ASKED)["certain"];
    assert_eq!(certain["lines"], json!([]));
    let missing = json!([{
        "id": "buy/blue-salt", "material": "blue salt", "weight": "16", "beds": ["long"]
    }]);
    assert_eq!(certain["missing"], missing);
    // A third of 20 lb is weighed as 6.75 lb; the last dose gets what then is left. 16 lb lack.
    let weights = [("05-08/blue-salt", 6.75), ("06-05", 6.75), ("06-19", 6.5)];
    let lacking: f64 = certain["unmet"]
        .as_array()
        .expect("unmet doses")
        .iter()
        .map(|one| {
            let id = one["id"].as_str().expect("text");
            let dose = weights.iter().find(|(end, _)| id.ends_with(end)).expect(id);
            one["share"].as_str().expect("text").parse::<f64>().expect("a share") * dose.1
        })
        .sum();
    assert!((lacking - 16.0).abs() < 0.001, "{lacking}: {certain}");
    let rows = garden.rows(&ASKED);
    assert_eq!(rows.len(), 1);
    assert_eq!(rows[0]["pack"], "16");
    assert_eq!((rows[0]["count"].as_str(), rows[0]["cost"].as_str()), ("", ""));
    assert!(rows[0]["what"].ends_with("not on offer"), "{rows:?}");
    assert!(garden.answer(&ASKED).contains("16"));
}
