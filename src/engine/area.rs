//! How much ground a bed and a planting take.

use rust_decimal::Decimal;

use super::rules;
use crate::figure::{Figure, Origin, Place, Step};
use crate::quantity::{Amount, Area, Length, Share, Volume};
use crate::season::{Bed, Extent, Footprint, Planting, Said};

/// The area of a bed; nothing for containers whose soil surface is not said.
pub fn bed_area(bed: &Bed) -> Option<Figure<Area>> {
    match &bed.footprint {
        Footprint::Sides { length, width } => {
            let length = Figure::said("length", length.value, length.place);
            let width = Figure::said("width", width.value, width.place);
            Some((&length * &width).by("bed area", &rules::BED_AREA))
        }
        Footprint::Area(area) => Some(Figure::said("bed area", area.value, area.place)),
        Footprint::Containers { area, .. } => {
            area.map(|area| Figure::said("area of the pots", area.value, area.place))
        }
    }
}

/// The volume of mix in all containers of a bed; nothing for a bed that has none.
pub fn container_volume(bed: &Bed) -> Option<Figure<Volume>> {
    let Footprint::Containers { volume, count, .. } = &bed.footprint else { return None };
    let each = Figure::said("mix in each container", volume.value, volume.place);
    Some((&each * &count_figure("containers", *count)).called("mix in all containers"))
}

/// A count as a figure that multiplies.
pub fn count_figure(label: &'static str, count: Said<u32>) -> Figure<Share> {
    counted(label, count.value, count.place)
}

fn counted(label: &'static str, count: u32, place: Place) -> Figure<Share> {
    Figure::said(label, Share::from_fraction(Decimal::from(count)), place)
}

/// The area a planting takes of a bed of known area.
pub fn planting_area(bed: &Bed, bed_area: &Figure<Area>, planting: &Planting) -> Figure<Area> {
    match planting.extent {
        Extent::Whole => bed_area.clone().called("area planted"),
        Extent::Share(share) => {
            let part = Figure::said("share of the bed", share.value, share.place);
            (bed_area * &part).by("area planted", &rules::PLANTING_AREA)
        }
        Extent::Plants { plants, spacing } => {
            let in_row = Figure::said("distance in the row", spacing.value.0, spacing.place);
            let between = Figure::said("distance between rows", spacing.value.1, spacing.place);
            let each = (&in_row * &between).called("area of one plant");
            (&each * &count_figure("plants", plants)).by("area planted", &rules::PLANTING_AREA)
        }
        Extent::Rows { rows, row_length, row_spacing } => {
            let spacing =
                Figure::said("distance between rows", row_spacing.value, row_spacing.place);
            let length = Figure::said("row length", row_length.value, row_length.place);
            let all = (&spacing * &count_figure("rows", rows)).called("width of the rows");
            let width = match &bed.footprint {
                Footprint::Sides { width, .. } => {
                    let width = Figure::said("bed width", width.value, width.place);
                    Figure::least(&all, &[&width]).called("width taken")
                }
                _ => all,
            };
            (&width * &length).by("area planted", &rules::PLANTING_AREA)
        }
    }
}

/// Plants in a planting: as said, or as many as fit at the said spacing.
pub fn plants(planting: &Planting, area: &Figure<Area>) -> Option<Figure<Share>> {
    if let Extent::Plants { plants, .. } = planting.extent {
        return Some(count_figure("plants", plants));
    }
    if let Some(plants) = planting.plants {
        return Some(count_figure("plants", plants));
    }
    let spacing = planting.spacing?;
    let in_row = Figure::said("distance in the row", spacing.value.0, spacing.place);
    let between = Figure::said("distance between rows", spacing.value.1, spacing.place);
    let each = (&in_row * &between).called("area of one plant");
    let fit = area.ratio_to(&each)?;
    Some(fit.rounded_down(Share::WHOLE).called("plants that fit"))
}

/// Length of row in a planting: rows as said, else its area over the distance between rows.
pub fn row_length(planting: &Planting, area: &Figure<Area>) -> Option<Figure<Length>> {
    if let Extent::Rows { rows, row_length, .. } = planting.extent {
        let each = Figure::said("row length", row_length.value, row_length.place);
        return Some((&each * &count_figure("rows", rows)).called("length of row"));
    }
    let between = row_spacing(planting)?;
    area.over(&between).map(|length| length.called("length of row"))
}

/// The distance between rows, wherever it is said.
pub fn row_spacing(planting: &Planting) -> Option<Figure<Length>> {
    let said = match planting.extent {
        Extent::Rows { row_spacing, .. } => Some(row_spacing),
        Extent::Plants { spacing, .. } => Some(Said::new(spacing.value.1, spacing.place)),
        _ => planting
            .row_spacing
            .or_else(|| planting.spacing.map(|both| Said::new(both.value.1, both.place))),
    }?;
    Some(Figure::said("distance between rows", said.value, said.place))
}

/// A date the grower said, as a step.
pub fn date_said(label: &'static str, said: Said<crate::calendar::Date>) -> std::sync::Arc<Step> {
    Step::leaf(label, Amount::date(said.value), Origin::Said(said.place), None)
}
