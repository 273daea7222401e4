//! What a plan says of needs that are not known, and of dressings that wait for a measurement.

use std::sync::Arc;

use super::{Reported, plan, work};
use crate::calendar::Date;
use crate::catalogue::Catalogue;
use crate::engine::plan as reckoned;
use crate::quantity::UnitSystem;
use crate::report::document::Document;
use crate::report::markdown;
use crate::report::number::Showing;
use crate::season;

fn said(text: &str, report: fn(&Reported<'_>) -> Document) -> String {
    let season = season::read(text, Arc::new(Catalogue::new())).expect("a good season");
    let today = Date::new(2027, 3, 1);
    let plan = reckoned::plan(&season, UnitSystem::Us, today, &[]);
    let showing = Showing { system: UnitSystem::Us };
    let reported = Reported { season: &season, plan: &plan, showing, today, against: &[] };
    markdown::render(&report(&reported))
}

fn bed(name: &str, lines: &str, crops: &[&str]) -> String {
    let share = 100 / crops.len();
    let plantings: String = crops
        .iter()
        .map(|crop| {
            format!(
                "[[bed.planting]]\ncrop = \"{crop}\"\nplanted = 2027-05-08\ndays = 85\n\
                 share = \"{share} %\"\n"
            )
        })
        .collect();
    format!("[[bed]]\nname = \"{name}\"\n{lines}\n{plantings}")
}

const GARDEN: &str = "[garden]\nyear = 2027\n";

/// The cells of the first row that begins so.
fn row<'a>(page: &'a str, start: &str) -> Vec<&'a str> {
    let line = page.lines().find(|line| line.starts_with(start));
    let line = line.unwrap_or_else(|| panic!("no row {start:?} in\n{page}"));
    line.split('|').map(str::trim).collect()
}

#[test]
fn a_need_that_is_not_known_is_not_even() {
    for crop in ["pepper", "chard", "okra"] {
        let page = said(&format!("{GARDEN}{}", bed("a", "area = \"96 ft2\"", &[crop])), plan);
        assert_eq!(row(&page, "| a |")[6..8], ["not known", "not known"], "{crop}: {page}");
        assert!(!page.contains("| even"), "{crop}: {page}");
    }
    // What one crop of the bed is known to need is planned, and shown.
    let two = bed("a", "area = \"96 ft2\"", &["okra", "cabbage"]);
    let page = said(&format!("{GARDEN}{two}"), plan);
    assert!(row(&page, "| a |")[6].starts_with("short"), "{page}");
    // A test that is high enough is a known need of nothing.
    let rich = "area = \"96 ft2\"\nsoil = { p_class = \"very high\", k_class = \"very high\" }";
    let page = said(&format!("{GARDEN}{}", bed("a", rich, &["cabbage"])), plan);
    assert_eq!(row(&page, "| a |")[6..8], ["even", "even"], "{page}");
}

#[test]
fn neither_is_that_of_a_crop_in_pots_whose_yield_is_not_known() {
    let pots = "container = true\nvolume = \"10 gal\"\ncount = 3";
    let page = said(&format!("{GARDEN}{}", bed("a", pots, &["pepper"])), plan);
    let cells = row(&page, "| a |");
    assert_eq!([cells[3], cells[5], cells[6], cells[7]], ["not known"; 4], "{page}");
}

#[test]
fn what_waits_for_a_measurement_says_what_to_do_on_either_side_of_it() {
    let rich = "area = \"96 ft2\"\nsoil = { organic_matter = \"5 %\" }";
    let text = format!("{GARDEN}{}", bed("a", rich, &["cabbage"]));
    for report in [plan, work] {
        let page = said(&text, report);
        let words = "measure first: only if soil nitrate is below 24 ppm, else none";
        assert!(page.contains(words), "{page}");
    }
}
