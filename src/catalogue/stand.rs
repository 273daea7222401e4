//! Perennials: what a stand must find in single years, and after its harvest.

use serde::Deserialize;

use super::crop::{Crop, Supply};

/// A supply row for one age of a stand.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stand {
    /// First year of the stand it is for, 1 being the planting year; it holds until the next row.
    pub from_year: u8,
    /// Whether it is the dressing after harvest, found on top of the one in spring.
    #[serde(default)]
    pub after_harvest: bool,
    /// The row. Its reference yield may be nothing, where nothing is harvested yet.
    pub supply: Supply,
}

impl Crop {
    /// Returns the supply row for a year of the stand (1 being the planting year): for perennials
    /// the row of that age where one is listed, for all others the crop's one row.
    pub fn supply_in(&self, year_of_stand: Option<u8>) -> Option<&Supply> {
        year_of_stand.and_then(|year| self.stand_row(year, false)).or(self.supply.as_ref())
    }

    /// Returns what a perennial must find after its harvest, where the table has a row for that.
    /// Where the year of the stand is not said, a full-grown one is taken.
    pub fn after_harvest_in(&self, year_of_stand: Option<u8>) -> Option<&Supply> {
        self.stand_row(year_of_stand.unwrap_or(u8::MAX), true)
    }

    fn stand_row(&self, year: u8, after_harvest: bool) -> Option<&Supply> {
        let fits = |row: &&Stand| row.after_harvest == after_harvest && row.from_year <= year;
        self.stand.iter().filter(fits).max_by_key(|row| row.from_year).map(|row| &row.supply)
    }
}
