//! Whether the plantings of a bed fit it on every day.
//!
//! A planting takes ground from the day it is planted up to, not with, the day of its (last)
//! harvest, so that ground cleared in the morning may be planted again in the afternoon.

use rust_decimal::Decimal;

use super::super::{Extent, Footprint, Planting};
use super::planting::Sides;
use super::table::Findings;
use crate::calendar::Date;
use crate::fault::sums;
use crate::figure::Place;
use crate::quantity::{settle, significant};

/// Length and width of a bed that has them.
pub const fn sides(footprint: Footprint) -> Option<Sides> {
    match footprint {
        Footprint::Sides { length, width } => Some((length, width)),
        Footprint::Area(_) | Footprint::Containers { .. } => None,
    }
}

/// The part of the bed a planting takes (1 is all of it), and where that is said.
fn part(planting: &Planting, footprint: Footprint) -> (Decimal, Place) {
    let area = match footprint {
        Footprint::Sides { length, width } => Some(length.value * width.value),
        Footprint::Area(area) => Some(area.value),
        Footprint::Containers { area, .. } => area.map(|area| area.value),
    };
    let of_area = |square_metres: Decimal| {
        area.filter(|area| !area.base().is_zero())
            .map_or(Decimal::ONE, |area| square_metres / area.base())
    };
    match planting.extent {
        Extent::Whole => (Decimal::ONE, planting.crop.place),
        Extent::Share(share) => (share.value.fraction(), share.place),
        // Plants stand in their pots however close they are.
        Extent::Plants { plants, .. } if matches!(footprint, Footprint::Containers { .. }) => {
            (Decimal::ZERO, plants.place)
        }
        Extent::Plants { plants, spacing } => {
            let each = spacing.value.0.base() * spacing.value.1.base();
            (of_area(each * Decimal::from(plants.value)), plants.place)
        }
        Extent::Rows { rows, row_length, row_spacing } => {
            let across = row_spacing.value.base() * Decimal::from(rows.value);
            let across = match sides(footprint) {
                Some((_, width)) => across.min(width.value.base()),
                None => across,
            };
            (of_area(across * row_length.value.base()), rows.place)
        }
    }
}

fn end(planting: &Planting) -> Date {
    planting.last_harvest.map_or(planting.harvest.value, |last| last.value)
}

/// Adds a fault for each planting on whose first day the bed is over-full.
pub fn check(bed: &str, footprint: Footprint, plantings: &[Planting], into: &mut Findings) {
    for (at, new) in plantings.iter().enumerate() {
        let (own, place) = part(new, footprint);
        if settle(own) > Decimal::ONE {
            let percent = significant(own * Decimal::ONE_HUNDRED, 4).to_string();
            let (crop, day) = (&new.crop.value.name, new.planted.value);
            into.push(sums::more_than_the_bed(place, bed, crop, &percent, day, &[]));
            continue;
        }
        let day = new.planted.value;
        let standing: Vec<&Planting> = plantings[..at]
            .iter()
            .filter(|old| end(old) > day && settle(part(old, footprint).0) <= Decimal::ONE)
            .collect();
        let taken: Decimal = standing.iter().map(|old| part(old, footprint).0).sum();
        if settle(taken + own) > Decimal::ONE {
            let percent = significant((taken + own) * Decimal::ONE_HUNDRED, 4).to_string();
            let others: Vec<(Place, &str)> = standing
                .iter()
                .map(|old| (part(old, footprint).1, old.crop.value.name.as_str()))
                .collect();
            let crop = &new.crop.value.name;
            into.push(sums::more_than_the_bed(place, bed, crop, &percent, day, &others));
        }
    }
}
