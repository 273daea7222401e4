//! The most nitrogen that is planned as fertilizer.

use rust_decimal::Decimal;

use super::need::Basis;
use super::rules;
use super::soil::Soil;
use crate::figure::Figure;
use crate::quantity::{Area, Mass, Rate};
use crate::season::{Garden, Planting, Texture};

/// Most nitrogen planned for a legume, in pounds per acre.
const LEGUME_POUNDS_PER_ACRE: i64 = 40;

/// The ceiling of a planting before other additions are taken off; nothing where there is none
/// (containers).
pub fn gross(
    garden: &Garden,
    soil: &Soil,
    planting: &Planting,
    basis: Basis,
    need: &Figure<Mass>,
    area: &Figure<Area>,
) -> Option<Figure<Mass>> {
    match basis {
        Basis::Container => return None,
        Basis::Given => return Some(need.clone()),
        _ => {}
    }
    let crop = &planting.crop.value;
    let rate = Figure::listed(
        "highest season rate read",
        crop.ceiling.value,
        "crops",
        &crop.name,
        &crop.ceiling.source,
    );
    let regional =
        regional(garden, soil.texture, planting).filter(|one| one.value() > rate.value());
    let rate = match &regional {
        Some(regional) => {
            Figure::greatest(&rate, &[regional]).called("highest season rate read here")
        }
        None => rate,
    };
    let ceiling = (&rate * area).by("ceiling", &rules::CEILING);
    if !crop.legume {
        return Some(ceiling);
    }
    let pounds = if crop.none_on_rich_soil && soil.organic_matter_from(3) {
        0
    } else {
        LEGUME_POUNDS_PER_ACRE
    };
    let cap = Figure::fixed(
        "most for a legume",
        Rate::from_lb_per_acre(Decimal::from(pounds)),
        &rules::LEGUME_CAP,
    );
    let cap = (&cap * area).called("most for this planting");
    Some(Figure::least(&ceiling, &[&cap]).by("ceiling", &rules::LEGUME_CAP))
}

/// The highest season rate among rows that name this garden's region or texture.
fn regional(garden: &Garden, texture: Texture, planting: &Planting) -> Option<Figure<Rate>> {
    let crop = &planting.crop.value;
    let region = garden.region.as_ref().map(|region| region.value.as_str());
    let here = crop.recommendations.iter().filter(|row| {
        let narrow = row.region.is_some() || row.texture.is_some();
        narrow
            && !row.part
            && row.region.as_deref().is_none_or(|one| Some(one) == region)
            && row.texture.as_deref().is_none_or(|one| one == texture.word())
    });
    let highest =
        here.filter_map(|row| Some((row.nitrogen?.high, row))).max_by_key(|(high, _)| *high)?;
    let (high, row) = highest;
    Some(Figure::listed("season rate here", high, "crops", &crop.name, &row.source))
}

/// What is left of the ceiling once other additions are taken off; never below zero.
pub fn left(gross: &Figure<Mass>, additions: &[&Figure<Mass>]) -> Figure<Mass> {
    let given: Vec<&Figure<Mass>> =
        additions.iter().copied().filter(|one| !one.is_zero()).collect();
    if given.is_empty() {
        return gross.clone();
    }
    let others = Figure::total(given).called("given by other additions");
    (gross - &others).at_least_zero().by("ceiling less other additions", &rules::CEILING)
}
