//! A bed's doses: when, what, how much, and how that comes out for a plant, a row or a cup.

use rust_decimal::Decimal;

use super::Reported;
use crate::engine::content;
use crate::engine::dose::{Dose, Purpose};
use crate::engine::paths;
use crate::engine::plan::BedPlan;
use crate::quantity::{Length, Mass, Positive, UnitSystem, round_to};
use crate::report::document::{Column, Document, Table};
use crate::report::text::Text;
use crate::season::Season;

pub(super) fn add(reported: &Reported<'_>, bed: &BedPlan, document: &mut Document) {
    if bed.doses.is_empty() {
        document.paragraph("No doses.");
        return;
    }
    let mut table = Table::new([
        Column::left("day"),
        Column::left("what"),
        Column::right("weight"),
        Column::left("that is"),
    ]);
    for (at, dose) in bed.doses.iter().enumerate() {
        let weight = Text::new().shown(&reported.showing.of(dose.weight.value()));
        table.row([
            // A day is not broken over lines.
            Text::from(dose.date.within(reported.year()).replace(' ', "\u{a0}")),
            Text::from(purpose(bed, dose)),
            weight.linked(&paths::dose_path(bed, at)),
            Text::from(in_other_words(reported, bed, dose).join("; ")),
        ]);
    }
    document.table(table);
}

/// Whether what is due before planting comes after it: nothing is planted on or after its day.
fn is_late(bed: &BedPlan, dose: &Dose) -> bool {
    bed.plantings.iter().all(|planting| planting.life.planted < dose.date)
}

/// "pelleted poultry manure, before planting" or "feather meal beside broccoli".
pub(super) fn purpose(bed: &BedPlan, dose: &Dose) -> String {
    let material = dose.ready.name();
    match dose.purpose {
        Purpose::BeforePlanting if is_late(bed, dose) => {
            format!("{material}, late, beside the plants")
        }
        Purpose::BeforePlanting => format!("{material}, before planting"),
        Purpose::SideDress => {
            let crop = bed.plantings.iter().find(|planting| Some(planting.index) == dose.planting);
            match crop {
                Some(planting) => format!("{material} beside {}", planting.crop.name),
                None => material.to_owned(),
            }
        }
    }
}

/// The dose per plant, per length of row, in cups and through the mix; and what it waits for.
pub(super) fn in_other_words(reported: &Reported<'_>, bed: &BedPlan, dose: &Dose) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    if let Some(critical) = &dose.measure {
        let ppm = reported.showing.of(critical.value());
        parts.push(format!("measure first: only if soil nitrate is below {ppm}, else none"));
    }
    parts.extend(per_plant(reported, bed, dose));
    parts.extend(per_row(reported, bed, dose));
    parts.extend(cups(reported, dose));
    parts.extend(through_mix(reported, bed, dose));
    parts
}

fn planting_of<'a>(bed: &'a BedPlan, dose: &Dose) -> Option<&'a crate::engine::plan::PlantingPlan> {
    bed.plantings.iter().find(|planting| Some(planting.index) == dose.planting)
}

fn per_plant(reported: &Reported<'_>, bed: &BedPlan, dose: &Dose) -> Option<String> {
    let plants = Positive::new(planting_of(bed, dose)?.plants.as_ref()?.value())?;
    let each = dose.weight.value() / plants;
    // Less than a pinch cannot be told apart by hand: the row is fed, not the plant.
    if each < Mass::from_g(Decimal::from(2)) {
        return None;
    }
    Some(format!("{} a plant", reported.showing.of(each)))
}

fn per_row(reported: &Reported<'_>, bed: &BedPlan, dose: &Dose) -> Option<String> {
    let length = Positive::new(planting_of(bed, dose)?.row_length.as_ref()?.value())?;
    let (unit, words) = match reported.showing.system {
        UnitSystem::Us => (Length::from_ft(Decimal::TEN), "10 ft"),
        UnitSystem::Metric => (Length::from_m(Decimal::from(3)), "3 m"),
    };
    let each = dose.weight.value() * (unit / length);
    Some(format!("{} per {words} of row", reported.showing.of(each)))
}

/// "about 2 cups", to a quarter cup: weighing is better.
fn cups(reported: &Reported<'_>, dose: &Dose) -> Option<String> {
    if reported.showing.system == UnitSystem::Metric {
        return None;
    }
    let density = Positive::new(content::density(&dose.ready.stuff)?.value())?;
    let cups = (dose.weight.value() / density).cup();
    let rounded = round_to(cups, Decimal::new(25, 2)).normalize();
    let few = rounded >= Decimal::new(25, 2) && rounded <= Decimal::from(32);
    few.then(|| format!("about {rounded} {}", if rounded > Decimal::ONE { "cups" } else { "cup" }))
}

fn through_mix(reported: &Reported<'_>, bed: &BedPlan, dose: &Dose) -> Option<String> {
    if dose.purpose != Purpose::SideDress {
        return None;
    }
    let season: &Season = reported.season;
    let said = season.beds[bed.index].feeding.mix.or(season.feeding.mix)?;
    let volume = Positive::new(said.value)?;
    let per_volume = dose.weight.value() / volume;
    let (unit, word) = match reported.showing.system {
        UnitSystem::Us => (crate::quantity::Volume::from_gal(Decimal::ONE), "gallon"),
        UnitSystem::Metric => (crate::quantity::Volume::from_litre(Decimal::ONE), "litre"),
    };
    let each: Mass = per_volume * unit;
    Some(format!(
        "stirred into {}: {} a {word}",
        reported.showing.of(said.value),
        reported.showing.of(each)
    ))
}
