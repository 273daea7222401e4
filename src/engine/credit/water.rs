//! Nitrate in irrigation water.

use rust_decimal::Decimal;

use super::{Credit, CreditKind, Plot, Shape};
use crate::engine::rules;
use crate::figure::Figure;
use crate::quantity::{Density, Mass};

pub(super) fn credit(plot: &Plot<'_>) -> Option<Credit> {
    let parts: Vec<Figure<Mass>> = plot
        .planting
        .water
        .iter()
        .map(|water| {
            let nitrate = Figure::said(
                "nitrate nitrogen in the water",
                water.nitrate.value,
                water.nitrate.place,
            );
            let depth = Figure::said("depth of water", water.depth.value, water.depth.place);
            let weight = Density::from_kg_per_m3(Decimal::from(1000));
            let weight = Figure::fixed("weight of water", weight, &rules::IRRIGATION);
            let rate = (&nitrate * &(&weight * &depth).called("water per area"))
                .called("nitrogen per area");
            (&rate * &plot.area).called("nitrogen in the water")
        })
        .collect();
    if parts.is_empty() {
        return None;
    }
    let all = if parts.len() == 1 { parts[0].clone() } else { Figure::total(&parts) };
    let used = if all.value() > plot.need.value() {
        Figure::least(&all, &[plot.need]).by("irrigation", &rules::IRRIGATION)
    } else {
        all.by("irrigation", &rules::IRRIGATION)
    };
    Some(Credit::new(
        CreditKind::Water,
        "irrigation",
        used,
        Shape::Evenly(plot.life_from(), plot.life.end),
    ))
}
