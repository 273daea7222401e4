//! A planting: a crop on part of a bed for part of a season.

use std::sync::Arc;

use super::{Irrigation, Said};
use crate::calendar::Date;
use crate::catalogue::Crop;
use crate::figure::Place;
use crate::quantity::{Length, PlantRate, Rate, RowRate, Share, Spread};

/// How much of the bed it takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Extent {
    /// All of it.
    Whole,
    /// A share.
    Share(Said<Share>),
    /// Plants at a spacing.
    Plants {
        /// How many.
        plants: Said<u32>,
        /// Distance in the row and between rows.
        spacing: Said<(Length, Length)>,
    },
    /// Rows.
    Rows {
        /// How many.
        rows: Said<u32>,
        /// Length of each.
        row_length: Said<Length>,
        /// Distance between rows.
        row_spacing: Said<Length>,
    },
}

/// How it was started.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// Set out as a young plant.
    Transplant,
    /// Sown in place.
    Seed,
}

/// The yield hoped for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Yield {
    /// The supply row's own reference yield.
    Table,
    /// Weight per area.
    PerArea(Rate),
    /// Weight per length of row.
    PerRow(RowRate),
    /// Weight per plant.
    PerPlant(PlantRate),
}

/// Rates the laboratory or adviser gave.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Given {
    /// Nitrogen.
    pub nitrogen: Option<Said<Spread<Rate>>>,
    /// Phosphate (P2O5).
    pub phosphate: Option<Said<Spread<Rate>>>,
    /// Potash (K2O).
    pub potash: Option<Said<Spread<Rate>>>,
}

/// A credit that a given rate has already taken off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum AlreadyCredited {
    /// Amendments of this season.
    Amendments,
    /// Irrigation.
    Water,
}

/// A planting.
#[derive(Clone, Debug)]
pub struct Planting {
    /// The crop.
    pub crop: Said<Arc<Crop>>,
    /// Its name as paths write it, made unique within the bed (`lettuce`, `lettuce-2`).
    pub slug: Arc<str>,
    /// How much of the bed it takes.
    pub extent: Extent,
    /// Plants, where said apart from the extent (for doses per plant).
    pub plants: Option<Said<u32>>,
    /// Spacing in the row and between rows, where said (for doses per row and for yields).
    pub spacing: Option<Said<(Length, Length)>>,
    /// Distance between rows, where said.
    pub row_spacing: Option<Said<Length>>,
    /// First day in the bed.
    pub planted: Said<Date>,
    /// First (or only) harvest day.
    pub harvest: Said<Date>,
    /// Last harvest day of a crop picked over, where said.
    pub last_harvest: Option<Said<Date>>,
    /// First day of spring growth of an overwintered crop, where said.
    pub regrowth: Option<Said<Date>>,
    /// Year of the stand of a perennial, where said.
    pub year_of_stand: Option<Said<u32>>,
    /// How it was started.
    pub how: Option<Said<How>>,
    /// The yield hoped for.
    pub yield_goal: Option<Said<Yield>>,
    /// Whether its residues are left on the bed.
    pub residues_left: bool,
    /// Irrigation with nitrate in it (a bed's own water is copied to each of its plantings).
    pub water: Vec<Irrigation>,
    /// Rates given by a laboratory or adviser.
    pub given: Given,
    /// What those rates have already taken off.
    pub already_credited: Vec<AlreadyCredited>,
    /// Where its table begins.
    pub place: Place,
}

impl Planting {
    /// The supply row that holds for it: for a perennial that of the year of its stand.
    pub fn supply(&self) -> Option<&crate::catalogue::Supply> {
        self.crop.value.supply_in(self.stand_year())
    }

    /// What a perennial must find after its harvest, where the table has a row for that.
    pub fn supply_after_harvest(&self) -> Option<&crate::catalogue::Supply> {
        self.crop.value.after_harvest_in(self.stand_year())
    }

    fn stand_year(&self) -> Option<u8> {
        self.year_of_stand.map(|year| u8::try_from(year.value).unwrap_or(u8::MAX))
    }
}
