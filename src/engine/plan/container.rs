//! What a crop in containers needs.

use rust_decimal::Decimal;

use crate::engine::area::count_figure;
use crate::engine::rules;
use crate::engine::yields::each_plant;
use crate::figure::Figure;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{Mass, Share};
use crate::season::{Bed, Extent, Footprint, Planting};

/// Share of a plant's nitrogen that is harvested, where none is known.
const HARVESTED_PERCENT: i64 = 70;
/// Share of what is given that a plant in a container takes up.
const UPTAKE_PERCENT: i64 = 70;

/// Needs of a planting in containers: nitrogen, phosphate and potash.
pub fn needs(bed: &Bed, planting: &Planting) -> Npk<Figure<Mass>> {
    let nothing = |label| Figure::fixed(label, Mass::ZERO, &rules::CONTAINER_NEED);
    let Some(harvest) = harvest(bed, planting) else {
        return Npk {
            nitrogen: nothing("need"),
            phosphate: nothing("need"),
            potash: nothing("need"),
        };
    };
    Npk::from_fn(|nutrient| {
        let Some(carried) = carried(planting, nutrient, &harvest) else { return nothing("need") };
        if nutrient != Nutrient::Nitrogen {
            return carried.by("need", &rules::CONTAINER_NEED);
        }
        let crop = &planting.crop.value;
        let percent = |value: i64| Share::from_percent(Decimal::from(value));
        let harvested = match &crop.harvest_share {
            Some(share) => {
                Figure::listed("share harvested", share.value, "crops", &crop.name, &share.source)
            }
            None => {
                Figure::fixed("share harvested", percent(HARVESTED_PERCENT), &rules::CONTAINER_NEED)
            }
        };
        let uptake =
            Figure::fixed("share taken up", percent(UPTAKE_PERCENT), &rules::CONTAINER_NEED);
        let plant = carried.over(&harvested).map(|plant| plant.called("in the whole plants"));
        let need = plant.and_then(|plant| plant.over(&uptake));
        need.map_or_else(|| nothing("need"), |need| need.by("need", &rules::CONTAINER_NEED))
    })
}

/// The harvest of all containers: plants times the yield of each. One plant a container where the
/// grower does not say.
fn harvest(bed: &Bed, planting: &Planting) -> Option<Figure<Mass>> {
    let each = each_plant(planting)?;
    let plants = match (planting.extent, planting.plants, &bed.footprint) {
        (Extent::Plants { plants, .. }, ..) | (_, Some(plants), _) => {
            count_figure("plants", plants)
        }
        (_, None, Footprint::Containers { count, .. }) => {
            count_figure("one plant in each container", *count)
        }
        _ => return None,
    };
    Some((&each * &plants).by("harvest", &rules::CONTAINER_NEED))
}

fn carried(
    planting: &Planting,
    nutrient: Nutrient,
    harvest: &Figure<Mass>,
) -> Option<Figure<Mass>> {
    let crop = &planting.crop.value;
    let content = crate::engine::minerals::content_of(crop, nutrient)?;
    Some((harvest * &content).called("carried by the harvest"))
}
