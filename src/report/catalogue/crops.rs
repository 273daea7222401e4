//! The crops.

use super::Listing;
use crate::catalogue::{Catalogue, Crop, FeederClass, LastUseful, Recommendation};
use crate::quantity::{Rate, Spread};
use crate::report::number::Showing;

/// Every crop with what it needs and on whose word.
pub fn crops(catalogue: &Catalogue, showing: Showing) -> Listing {
    let columns = vec![
        "crop",
        "feeder",
        "demand",
        "at yield",
        "bulletin rate",
        "most planned",
        "also called",
        "botanical name",
        "supply source",
        "bulletins",
        "starter",
        "side-dressings",
        "last useful",
        "critical nitrate",
        "residues leave",
        "ceiling source",
    ];
    let rows = catalogue.crops().map(|crop| row(&crop, showing)).collect();
    Listing { title: "Crops", columns, shown: 6, rows }
}

fn row(crop: &Crop, showing: Showing) -> Vec<String> {
    let rate = |rate: Rate| showing.field_rate(rate).to_string();
    let supply = crop.supply.as_ref();
    let bulletin = crop.recommendations.iter().filter(|row| !row.part).find_map(|row| row.nitrogen);
    let bulletins: Vec<String> =
        crop.recommendations.iter().map(|row| told(row, showing)).collect();
    let feeder = match crop.feeder.value {
        FeederClass::Heavy => "heavy",
        FeederClass::Medium => "medium",
        FeederClass::Light => "light",
    };
    let starter = showing.of(crop.starter.value).to_string();
    vec![
        crop.name.clone(),
        feeder.to_owned(),
        supply.map(|supply| rate(supply.nitrogen)).unwrap_or_default(),
        supply
            .filter(|supply| supply.reference_yield > Rate::ZERO)
            .map(|supply| rate(supply.reference_yield))
            .unwrap_or_default(),
        bulletin.map(|spread| span(spread, showing)).unwrap_or_default(),
        rate(crop.ceiling.value),
        crop.aliases.join(", "),
        crop.latin.clone().unwrap_or_default(),
        supply.map(|supply| supply.source.clone()).unwrap_or_default(),
        bulletins.join("; "),
        starter,
        dressings(crop),
        match crop.last_useful.value {
            LastUseful::DaysBeforeHarvest(days) => format!("{days} days before harvest"),
            LastUseful::TwoThirdsOfLife => "first two thirds of its life".to_owned(),
        },
        crop.nitrate_test
            .as_ref()
            .map(|test| format!("{} ({})", showing.of(test.critical), test.source))
            .unwrap_or_default(),
        supply.and_then(|supply| supply.residues).map(rate).unwrap_or_default(),
        crop.ceiling.source.clone(),
    ]
}

fn span(spread: Spread<Rate>, showing: Showing) -> String {
    let (low, high) = (showing.field_rate(spread.low), showing.field_rate(spread.high));
    if low == high { high.to_string() } else { format!("{} to {high}", low.number) }
}

fn told(row: &Recommendation, showing: Showing) -> String {
    let nitrogen = row.nitrogen.map(|spread| span(spread, showing)).unwrap_or_default();
    let part = if row.part { " (part of the season's rate)" } else { "" };
    let region = row.region.as_ref().map(|region| format!(", {region}")).unwrap_or_default();
    format!("{}{region}: {nitrogen}{part}", row.source)
}

fn dressings(crop: &Crop) -> String {
    let timing = &crop.side_dress;
    let days = timing.days.iter().map(|day| format!("day {day}"));
    let around = timing.from_harvest.iter().map(|day| format!("harvest {day:+}"));
    let every = timing.every.iter().map(|days| format!("every {days} days from regrowth"));
    let all: Vec<String> = days.chain(around).chain(every).collect();
    all.join(", ")
}
