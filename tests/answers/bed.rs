//! A bed's nitrogen by the day, as `bed` prints it.

use serde_json::Value;
use topdress::calendar::Date;

use super::{Garden, SEASON};

const ASKED: [&str; 4] = ["bed", "long", "--on", "2027-04-01"];

fn figures(values: &Value) -> Vec<f64> {
    let number = |value: &Value| value.as_str().expect("text").parse().expect("a number");
    values.as_array().expect("a list").iter().map(number).collect()
}

fn figure(value: &Value) -> f64 {
    value.as_str().expect("text").parse().expect("a number")
}

fn near(found: f64, wanted: f64) -> bool {
    (found - wanted).abs() <= 0.00001 * wanted.abs().max(1.0)
}

/// All that has become available by the end of each day.
fn available(curves: &Value) -> Vec<f64> {
    let mut sum = vec![0.0; figures(&curves["needed"]).len()];
    for source in ["credits", "doses"] {
        for one in curves[source].as_array().expect("sources") {
            for (total, value) in sum.iter_mut().zip(figures(&one["by_day"])) {
                *total += value;
            }
        }
    }
    sum
}

/// Fails where what is told of a plan's curves is not what they show. A lack counts from a
/// thousandth of the need.
fn balance_is_that_of_the_curves(curves: &Value) {
    let (needed, available) = (figures(&curves["needed"]), available(curves));
    let end = *needed.last().expect("a last day");
    let lacks: Vec<f64> = needed.iter().zip(&available).map(|(need, had)| need - had).collect();
    let short = lacks.iter().filter(|lack| **lack > end / 1000.0).count();
    let worst = lacks.iter().copied().filter(|lack| *lack > end / 1000.0).fold(0.0, f64::max);
    let unused: f64 = lacks.iter().map(|lack| (-lack).max(0.0)).sum();
    let told = &curves["balance"];
    assert_eq!(told["days_short"], short, "{told}");
    assert!(near(figure(&told["worst"]), worst), "{worst}: {told}");
    assert!(near(figure(&told["unused_weight_days"]), unused), "{unused}: {told}");
    let left = (-lacks.last().expect("a last day")).max(0.0);
    assert!(near(figure(&told["left_at_end"]), left), "{left}: {told}");
    if let Some(day) = told.get("worst_on") {
        let first = Date::read(curves["first"].as_str().expect("a day")).expect("a date");
        let day = Date::read(day.as_str().expect("a day")).expect("a date") - first;
        assert!(near(lacks[usize::try_from(day).expect("a day of its life")], worst), "{told}");
    }
}

/// 6.75 lb at 15 % two days before planting, the same on 5 June, 6.5 lb on 19 June; a salt is there
/// on its day.
#[test]
fn a_salt_makes_steps_and_the_need_ends_as_the_budget() {
    let garden = Garden::new(SEASON);
    let curves = &garden.json(&ASKED)["beds"][0]["curves"][0];
    let (needed, available) = (figures(&curves["needed"]), available(curves));
    // 10 May to 10 August, both days.
    assert_eq!((needed.len(), available.len()), (93, 93));
    assert!(needed[0] < 0.01 && near(needed[92], 3.0), "{needed:?}");
    assert!(needed.is_sorted());
    for (day, wanted) in [(0, 1.0125), (25, 1.0125), (26, 2.025), (39, 2.025), (40, 3.0), (92, 3.0)]
    {
        assert!((available[day] - wanted).abs() < 0.0001, "{day}: {}", available[day]);
    }
    balance_is_that_of_the_curves(curves);
}

/// With nothing to spread before planting, the crop waits for its first dressing on 5 June.
#[test]
fn days_without_enough_are_counted_and_the_worst_is_named() {
    let season = SEASON.replace("before_planting = [\"blue salt\"]\n", "");
    let garden = Garden::new(&season);
    let curves = &garden.json(&ASKED)["beds"][0]["curves"][0];
    balance_is_that_of_the_curves(curves);
    let told = garden.answer(&ASKED);
    let days = curves["balance"]["days_short"].as_u64().expect("days");
    assert!(days > 5, "{days}");
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    let behind = format!("behind the need on {days} days, most on Fri 4 Jun, by");
    assert!(told.contains(&behind), "{told}");
    // The season file names what to feed with.
    assert!(told.contains("visits on Saturdays") && !told.contains("fed with usual"), "{told}");
    let said = season.replace("year = 2027", "year = 2027\nvisit_day = \"saturday\"");
    assert!(!Garden::new(&said).answer(&ASKED).contains("visits on Saturdays"));
}

#[test]
fn the_sheet_holds_the_curves_day_by_day() {
    let garden = Garden::new(SEASON);
    let curves = &garden.json(&ASKED)["beds"][0]["curves"][0];
    let rows = garden.rows(&ASKED);
    let of = |name: &str| -> Vec<f64> {
        rows.iter()
            .filter(|row| row["id"] == "long/cabbage/nitrogen/curves")
            .filter(|row| row["figure"].starts_with(&format!("{name} by ")))
            .map(|row| {
                assert_eq!(row["unit"], "lb");
                row["value"].parse().expect("a number")
            })
            .collect()
    };
    assert_eq!(of("needed"), figures(&curves["needed"]));
    let (sheet, sum) = (of("available"), available(curves));
    assert_eq!(sheet.len(), sum.len());
    assert!(sheet.iter().zip(&sum).all(|(one, other)| near(*one, *other)));
    let last = rows.last().expect("rows");
    assert_eq!(last["figure"], "available by 2027-08-10");
}

/// Slow materials, compost, manure and what earlier crops left: every bed of the largest example.
#[test]
fn balances_of_the_school_garden_are_those_of_its_curves() {
    let season = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/school-garden/season.toml");
    let garden = Garden::empty();
    let plan = garden.json(&["plan", "--season", season, "--on", "2027-04-01"]);
    let mut compared = 0;
    for bed in plan["beds"].as_array().expect("beds") {
        let name = bed["name"].as_str().expect("a name");
        let bed = garden.json(&["bed", name, "--season", season, "--on", "2027-04-01"]);
        let bed = &bed["beds"][0];
        for curves in bed["curves"].as_array().expect("curves") {
            balance_is_that_of_the_curves(curves);
            let id = curves["id"].as_str().expect("an id");
            let planting = bed["plantings"]
                .as_array()
                .expect("plantings")
                .iter()
                .find(|one| id == format!("{}/nitrogen/curves", one["id"].as_str().expect("an id")))
                .unwrap_or_else(|| panic!("no planting for {id}"));
            let nitrogen = &planting["nitrogen"];
            let needed = figures(&curves["needed"]);
            let last = needed.last().copied().unwrap_or_default();
            assert!(near(last, figure(&nitrogen["need"]["value"])), "{id}: {last}");
            // The ends are the budget: credits, and the doses that are certain.
            let ends: f64 = curves["credits"]
                .as_array()
                .expect("credits")
                .iter()
                .map(|one| figures(&one["by_day"]).last().copied().unwrap_or_default())
                .sum();
            let credit = figure(&nitrogen["credit"]["value"]);
            assert!((ends - credit).abs() < 0.0001, "{id}: {ends} and {credit}");
            compared += 1;
        }
    }
    assert!(compared >= 10, "{compared}");
}

/// What is short at least is the need less all that credits may give, and at most the need less the
/// least of them; never below nothing.
#[test]
fn the_range_of_a_shortfall_is_that_of_its_credits() {
    let season = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/school-garden/season.toml");
    let rows = Garden::empty().rows(&["plan", "--season", season, "--on", "2027-04-01"]);
    let number = |text: &str| text.parse::<f64>().expect("a number");
    let mut compared = 0;
    for short in rows.iter().filter(|row| row["id"].ends_with("/nitrogen/shortfall")) {
        let planting = short["id"].trim_end_matches("shortfall");
        let need = rows.iter().find(|row| row["id"] == format!("{planting}need")).expect("a need");
        let credits =
            rows.iter().filter(|row| row["id"].starts_with(&format!("{planting}credits/")));
        let (mut low, mut high) = (0.0, 0.0);
        for credit in credits {
            assert_eq!(credit["unit"], short["unit"]);
            let end = |end: &str| if end.is_empty() { &credit["value"] } else { end }.to_owned();
            low += number(&end(&credit["low"]));
            high += number(&end(&credit["high"]));
        }
        let need = number(&need["value"]);
        let value = |what: &str| {
            let row = rows.iter().find(|row| row["id"] == format!("{planting}{what}"));
            number(&row.expect("a row")["value"])
        };
        let over = value("credits") - need;
        assert!((value("surplus") - over.max(0.0)).abs() < 0.0001, "{}: {over}", short["id"]);
        for (end, wanted) in [("low", need - high), ("high", need - low)] {
            if short[end].is_empty() {
                continue;
            }
            let found = number(&short[end]);
            assert!((found - wanted.max(0.0)).abs() < 0.0001, "{} {end}: {wanted}", short["id"]);
            compared += 1;
        }
    }
    assert!(compared > 10, "{compared}");
}

/// The bed is visited on Saturdays and planted on Monday 10 May: what is late for the Saturday before
/// is spread at once.
#[test]
fn a_dose_before_planting_waits_for_the_visit_or_is_given_today() {
    let garden = Garden::new(SEASON);
    for (today, day) in [
        ("2027-05-03", "2027-05-08"),
        ("2027-05-08", "2027-05-08"),
        ("2027-05-09", "2027-05-09"),
        ("2027-05-10", "2027-05-10"),
    ] {
        let paths = garden.json(&["explain", "--on", today]).to_string();
        assert!(paths.contains(&format!("long/dose/{day}/blue-salt")), "{today}: {paths}");
    }
}
