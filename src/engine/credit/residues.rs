//! Residues of the crop before, left on the bed.

use rust_decimal::Decimal;

use super::{Before, Credit, CreditKind, Plot, Shape};
use crate::engine::rules;
use crate::figure::Figure;
use crate::quantity::{Mass, Share};

/// Days over which residues give their nitrogen.
const ROTTING_DAYS: i32 = 35;

pub(super) fn credits(plot: &Plot<'_>) -> Vec<Credit> {
    plot.before.iter().filter_map(|before| credit(plot, before)).collect()
}

fn credit(plot: &Plot<'_>, before: &Before<'_>) -> Option<Credit> {
    if !before.planting.residues_left || before.life.end.year() != plot.life.planted.year() {
        return None;
    }
    if plot.reset().is_some_and(|day| day > before.life.end) {
        return None;
    }
    let crop = &before.planting.crop.value;
    let supply = before.planting.supply()?;
    let listed = Figure::listed(
        "left by its residues",
        supply.residues?,
        "crops",
        &crop.name,
        &supply.source,
    );
    let area = Figure::fixed("ground taken over", before.taken_over, &rules::PLANTING_AREA);
    let all = (&listed * &area).by("residues", &rules::RESIDUES);
    let nitrogen = match plot.life.planted - before.life.end {
        ..14 => {
            let half = Share::from_fraction(Decimal::new(5, 1));
            (&all * &Figure::fixed("planted within two weeks", half, &rules::RESIDUES))
                .by("residues", &rules::RESIDUES)
        }
        14..=70 => all,
        _ => return None,
    };
    let value = nitrogen.value();
    let third = Mass::from_base(value.base() / Decimal::from(3));
    // They rot over about five weeks, as a killed cover crop does.
    let rotting = Shape::Evenly(plot.life_from(), plot.life.planted + ROTTING_DAYS);
    let label = format!("{} residues", crop.name);
    Some(Credit::new(CreditKind::Residues, label, nitrogen.between(third, value), rotting))
}
