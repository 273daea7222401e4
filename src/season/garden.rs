//! The garden as a whole: climate, soil, what is in the shed and how it is fed.

use super::{Said, Stuff};
use crate::calendar::Weekday;
use crate::quantity::{Mass, Money, Temperature, UnitSystem, Volume};

/// Soil texture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Texture {
    /// Sand, loamy sand.
    Sand,
    /// Loam, silt loam.
    Loam,
    /// Clay, clay loam.
    Clay,
}

impl Texture {
    /// The word growers write.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sand => "sand",
            Self::Loam => "loam",
            Self::Clay => "clay",
        }
    }
}

/// Which basis of nitrogen need comes first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum BasisChoice {
    /// Supply rows before recommendations.
    #[default]
    Supply,
    /// Recommendations before supply rows.
    Recommendation,
}

/// A month and its mean air temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MonthMean {
    /// Month, 1 to 12.
    pub month: u8,
    /// Mean air temperature.
    pub mean: Said<Temperature>,
}

/// The `[garden]` table.
#[derive(Clone, Debug)]
pub struct Garden {
    /// The garden's name.
    pub name: Option<String>,
    /// The season's year.
    pub year: Said<i16>,
    /// How answers are shown.
    pub units: UnitSystem,
    /// Which basis comes first.
    pub basis: BasisChoice,
    /// Soil texture of beds that do not say.
    pub texture: Option<Said<Texture>>,
    /// The coldest month.
    pub coldest: Option<MonthMean>,
    /// The warmest month.
    pub warmest: Option<MonthMean>,
    /// The day of the week on which beds are visited.
    pub visit_day: Option<Said<Weekday>>,
    /// Whether only materials marked for organic growing are chosen.
    pub organic: bool,
    /// The region whose bulletin rows apply, in lower case.
    pub region: Option<Said<String>>,
}

/// How side-dressings are timed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SplitTiming {
    /// Visits and amounts solved for the whole garden.
    #[default]
    Solved,
    /// Equal doses at the published weeks.
    Weeks,
}

/// What one purpose is fed with.
#[derive(Clone, Debug)]
pub enum Feed {
    /// These, in order of preference.
    Named(Vec<Stuff>),
    /// The program chooses from the shed.
    Best,
}

/// The `[feeding]` table, or a bed's own.
#[derive(Clone, Debug, Default)]
pub struct Feeding {
    /// Spread before planting. Nothing where not said.
    pub before_planting: Option<Said<Feed>>,
    /// Side-dressed. Nothing where not said.
    pub side_dress: Option<Said<Feed>>,
    /// How side-dressings are timed. Nothing where not said.
    pub timing: Option<Said<SplitTiming>>,
    /// Potting mix or sieved soil that side-dressings are stirred into.
    pub mix: Option<Said<Volume>>,
}

/// A pack on offer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pack {
    /// Its weight.
    pub weight: Said<Mass>,
    /// Its price, where known.
    pub price: Option<Said<Money>>,
}

/// Packs of one material from one supplier.
#[derive(Clone, Debug)]
pub struct Offer {
    /// Who sells it, where said.
    pub supplier: Option<String>,
    /// The packs.
    pub packs: Vec<Pack>,
}

/// One `[[shed]]` entry.
#[derive(Clone, Debug)]
pub struct ShedItem {
    /// The material, with its own label where said.
    pub stuff: Stuff,
    /// What is on hand.
    pub on_hand: Option<Said<Mass>>,
    /// What is on offer.
    pub offer: Option<Offer>,
}

/// One `[[supplier]]` entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Supplier {
    /// Name.
    pub name: Said<String>,
    /// Charge for one delivery, however much is bought.
    pub delivery: Option<Said<Money>>,
    /// Least value of an order.
    pub minimum_order: Option<Said<Money>>,
}
