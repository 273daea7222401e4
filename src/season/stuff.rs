//! Materials as the grower has them, and what was spread this season.

use std::sync::Arc;

use super::Said;
use crate::calendar::Date;
use crate::catalogue::{Basis, Material};
use crate::nutrient::Analysis;
use crate::quantity::{Density, Length, Mass, Rate, Share, Volume};

/// What the grower says of a material beyond (or against) the catalogue.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Overrides {
    /// The label or laboratory analysis.
    pub analysis: Option<Said<Analysis>>,
    /// Whether that analysis counts the water.
    pub basis: Option<Said<Basis>>,
    /// Water as a share of the wet weight.
    pub moisture: Option<Said<Share>>,
    /// First-season release of total nitrogen.
    pub release: Option<Said<Share>>,
    /// Ammonium nitrogen as a share of the weight, on the analysis's basis.
    pub ammonium: Option<Said<Share>>,
    /// Nitrate nitrogen as a share of the weight, on the analysis's basis.
    pub nitrate: Option<Said<Share>>,
    /// Laboratory carbon to nitrogen ratio.
    pub carbon_nitrogen: Option<Said<rust_decimal::Decimal>>,
    /// Weight per volume.
    pub density: Option<Said<Density>>,
}

/// A material as the grower has it: the catalogue's entry and what is said against it.
#[derive(Clone, Debug)]
pub struct Stuff {
    /// The catalogue's entry (or one made of the grower's own analysis).
    pub material: Arc<Material>,
    /// What is said against it.
    pub overrides: Overrides,
    /// Where it was named.
    pub place: crate::figure::Place,
}

/// How much was spread, in the way it was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A depth over the bed (also a volume per area).
    Depth(Length),
    /// A volume over the bed.
    Volume(Volume),
    /// A weight over the bed.
    Weight(Mass),
    /// A weight per area.
    Rate(Rate),
}

/// Where it lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Placed {
    /// Mixed into the soil.
    Mixed,
    /// Left on the surface.
    Surface,
}

/// How soon it was worked in (reference: retained ammonium).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WorkedIn {
    /// Injected.
    Injected,
    /// Within so many days, 1 to 5.
    Days(u8),
    /// Not at all.
    Never,
}

/// One `[[bed.amend]]` entry: what was or will be spread on the whole bed this season.
#[derive(Clone, Debug)]
pub struct Amendment {
    /// The material.
    pub stuff: Stuff,
    /// How much.
    pub amount: Said<Measure>,
    /// Where it lies; mixed where not said.
    pub placed: Option<Said<Placed>>,
    /// How soon it was worked in.
    pub worked_in: Option<Said<WorkedIn>>,
    /// When.
    pub on: Said<Date>,
}
