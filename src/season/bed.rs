//! A bed: its size, soil, past and present.

use std::sync::Arc;

use super::{Amendment, Feeding, Measure, Planting, Said, SoilTest, Stuff, Texture};
use crate::calendar::Date;
use crate::catalogue::Crop;
use crate::figure::Place;
use crate::quantity::{Area, Concentration, Length, Rate, Share, Volume};

/// How large a bed is, in the way it was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Footprint {
    /// Length and width.
    Sides {
        /// Length.
        length: Said<Length>,
        /// Width.
        width: Said<Length>,
    },
    /// An area.
    Area(Said<Area>),
    /// Pots: the volume of mix in each, and how many.
    Containers {
        /// Volume of mix in each.
        volume: Said<Volume>,
        /// How many, 1 where not said.
        count: Said<u32>,
        /// Area of soil surface in all, where said.
        area: Option<Said<Area>>,
    },
}

/// Compost or manure of an earlier year.
#[derive(Clone, Debug)]
pub struct PastApplication {
    /// The material.
    pub stuff: Stuff,
    /// The year it was spread.
    pub year: Said<i16>,
    /// How much; nothing where only the fact is known.
    pub amount: Option<Said<Measure>>,
}

/// One entry of a bed's history.
#[derive(Clone, Debug)]
pub enum History {
    /// Compost.
    Compost(PastApplication),
    /// Manure.
    Manure(PastApplication),
    /// A cover crop killed before this season's planting.
    CoverCrop {
        /// Which.
        crop: Said<Arc<Crop>>,
        /// Dry matter per area.
        biomass: Option<Said<Rate>>,
        /// Nitrogen in the dry matter, where measured.
        nitrogen: Option<Said<Share>>,
        /// When it was killed.
        killed: Said<Date>,
    },
}

/// Irrigation water that carries nitrate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Irrigation {
    /// Nitrate nitrogen (NO3-N) in the water.
    pub nitrate: Said<Concentration>,
    /// Depth of water over the season.
    pub depth: Said<Length>,
}

/// A rain event of up to three days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rain {
    /// Its last day.
    pub on: Said<Date>,
    /// Its depth.
    pub depth: Said<Length>,
}

/// A bed.
#[derive(Clone, Debug)]
pub struct Bed {
    /// Its name as written.
    pub name: Said<String>,
    /// Its name as paths write it; no two beds share one.
    pub slug: Arc<str>,
    /// How large it is.
    pub footprint: Footprint,
    /// Texture of its own.
    pub texture: Option<Said<Texture>>,
    /// Soil test.
    pub soil: Option<SoilTest>,
    /// Earlier years and cover crops.
    pub history: Vec<History>,
    /// What is spread on it this season.
    pub amendments: Vec<Amendment>,
    /// What grows on it, in order of planting.
    pub plantings: Vec<Planting>,
    /// Feeding of its own.
    pub feeding: Feeding,
    /// Heavy rain (garden-wide events are copied to each bed).
    pub rain: Vec<Rain>,
    /// Whether plastic keeps rain off.
    pub under_plastic: bool,
    /// Where its table begins.
    pub place: Place,
}
