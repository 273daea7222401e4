//! The season at a glance: a line for each planting.

use rust_decimal::Decimal;

use super::{NOT_KNOWN, Reported, nothing};
use crate::engine::dose::Dose;
use crate::engine::plan::{BedPlan, MineralBudget, PlantingPlan};
use crate::quantity::{Kind, Mass, round_to};
use crate::report::document::{Column, Document, Table};
use crate::report::number::Scale;
use crate::report::text::Text;

pub(super) fn add(reported: &Reported<'_>, document: &mut Document) {
    let plan = reported.plan;
    let needs = plan.beds.iter().flat_map(|bed| {
        let nitrogen = bed.plantings.iter().map(|planting| planting.need.value().base());
        let minerals = [&bed.phosphate, &bed.potash].map(|budget| budget.surplus.value().base());
        nitrogen.chain(minerals)
    });
    let scale = reported.showing.scale(Kind::Mass, needs);
    let mut table = Table::new([
        Column::left("bed"),
        Column::left("crop"),
        Column::right("N need"),
        Column::right("credits"),
        Column::right("N short"),
        Column::right("P2O5"),
        Column::right("K2O"),
        Column::left("doses"),
    ])
    .caption(format!("The season at a glance, weights in {}", scale.symbol));
    for bed in &plan.beds {
        let mut first = true;
        for planting in &bed.plantings {
            table.row(row(bed, planting, first, &scale));
            first = false;
        }
    }
    document.table(table);
}

fn row(bed: &BedPlan, planting: &PlantingPlan, first: bool, scale: &Scale) -> Vec<Text> {
    let place = format!("{}/{}/nitrogen", bed.slug, planting.slug);
    let known = planting.need_known();
    let number = |mass: Mass, figure: &str| {
        let shown = match known || figure == "credits" {
            true => Text::new().value(scale.fixed(mass.base()).number),
            false => Text::from(NOT_KNOWN),
        };
        shown.linked(&format!("{place}/{figure}"))
    };
    let mineral = |budget: &MineralBudget| match first {
        true => balance(bed, budget, scale),
        false => Text::new(),
    };
    vec![
        Text::from(if first { bed.name.clone() } else { String::new() }),
        Text::from(planting.crop.name.clone()),
        number(planting.need.value(), "need"),
        number(credits(planting, scale), "credits"),
        number(planting.shortfall.value(), "shortfall"),
        mineral(&bed.phosphate),
        mineral(&bed.potash),
        Text::from(visits(bed, planting)),
    ]
}

/// Credits as they are shown: what is short is the rounded figure, and the line must add up, so the
/// slip of rounding falls on them.
fn credits(planting: &PlantingPlan, scale: &Scale) -> Mass {
    if nothing(planting.shortfall.value()) {
        return planting.credit.value();
    }
    let step = Decimal::new(1, scale.decimals);
    let shown = |mass: Mass| round_to(scale.value(mass.base()), step);
    let between = shown(planting.need.value()) - shown(planting.shortfall.value());
    Mass::from_unit(between, scale.unit)
}

/// "short 2.1" or "over 5.0", so that colour is not needed to tell them apart; "not known" where no
/// figure is known for what grows there.
fn balance(bed: &BedPlan, budget: &MineralBudget, scale: &Scale) -> Text {
    let link = |figure: &str| format!("{}/{}/{figure}", bed.slug, budget.nutrient.word());
    if !bed.mineral_known(budget.nutrient) {
        return Text::from(NOT_KNOWN).linked(&link("need"));
    }
    let short = budget.shortfall.value();
    if !nothing(short) {
        return Text::new()
            .plain("short ")
            .value(scale.fixed(short.base()).number)
            .linked(&link("shortfall"));
    }
    let over = budget.surplus.value();
    if nothing(over) {
        Text::from("even").linked(&link("need"))
    } else {
        Text::new().warning("over ").value(scale.fixed(over.base()).number).linked(&link("surplus"))
    }
}

fn visits(bed: &BedPlan, planting: &PlantingPlan) -> String {
    let serves = |dose: &&Dose| dose.counts.iter().any(|(at, _)| *at == planting.index);
    let certain = bed.doses.iter().filter(serves).filter(|dose| dose.certain()).count();
    let possible = bed.doses.iter().filter(serves).filter(|dose| !dose.certain()).count();
    match (certain, possible) {
        (0, 0) => "none".to_owned(),
        (certain, 0) => certain.to_string(),
        // The second number counts those that wait for a measurement.
        (certain, possible) => format!("{certain} to {}", certain + possible),
    }
}
