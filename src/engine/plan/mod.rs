//! The plan of a season: for each bed need, credits, shortfall and doses, each with its derivation.

mod assumptions;
mod bed;
mod cautions;
mod container;
mod minerals;
mod planting;

use std::rc::Rc;

pub use assumptions::Assumption;
pub use minerals::MineralBudget;
pub use planting::PlantingPlan;

use super::dose::Dose;
use super::setting::Setting;
use super::soil::Soil;
use crate::calendar::Date;
use crate::figure::Figure;
use crate::nutrient::Nutrient;
use crate::quantity::{Area, UnitSystem, Volume};
use crate::season::Season;

/// The plan of a whole garden.
#[derive(Clone, Debug)]
pub struct Plan {
    /// Its beds, in the order of the season file.
    pub beds: Vec<BedPlan>,
}

/// The plan of one bed.
#[derive(Clone, Debug)]
pub struct BedPlan {
    /// Index within the season.
    pub index: usize,
    /// Name as written.
    pub name: String,
    /// Name in paths.
    pub slug: Rc<str>,
    /// Its area; nothing for containers whose surface is not said.
    pub area: Option<Figure<Area>>,
    /// Mix in its containers, where it has them.
    pub mix: Option<Figure<Volume>>,
    /// Its soil.
    pub soil: Soil,
    /// Its plantings, in order of planting.
    pub plantings: Vec<PlantingPlan>,
    /// Phosphate of the year.
    pub phosphate: MineralBudget,
    /// Potash of the year.
    pub potash: MineralBudget,
    /// All doses, in order of date.
    pub doses: Vec<Dose>,
    /// What was assumed.
    pub assumptions: Vec<Assumption>,
    /// Cautions, by key of the catalogue, with what called for them.
    pub cautions: Vec<(&'static str, String)>,
    /// What was left out of the doses, and why.
    pub notes: Vec<String>,
}

impl BedPlan {
    /// The budget of phosphate or potash.
    pub fn mineral(&self, nutrient: Nutrient) -> &MineralBudget {
        if nutrient == Nutrient::Potash { &self.potash } else { &self.phosphate }
    }
}

/// Plans a season. Weights are rounded to the scales of the unit system; `today` is the day the
/// plan is made on.
pub fn plan(season: &Season, units: UnitSystem, today: Option<Date>) -> Plan {
    let setting = Setting::new(season, units, today);
    let beds = season.beds.iter().enumerate();
    Plan { beds: beds.map(|(index, bed)| bed::plan(&setting, index, bed)).collect() }
}
