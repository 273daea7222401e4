//! Doses: weights of a material on a date.

pub mod before;
pub mod cap;
pub mod caps;
pub mod dress;
mod enough;
mod feed;
pub mod recipes;
pub mod timing;
mod weigh;

pub use feed::{Feeds, Ready, usual_for};
pub use weigh::{least_dose, weigh, weigh_down, weigh_under, weighing_step};

use crate::calendar::Date;
use crate::figure::Figure;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{Area, Concentration, Mass, Share, UnitSystem};

/// What a dose is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Purpose {
    /// Spread before planting.
    BeforePlanting,
    /// Spread beside the growing crop.
    SideDress,
}

/// A weight of a material on a date.
#[derive(Clone, Debug)]
pub struct Dose {
    /// When.
    pub date: Date,
    /// What for.
    pub purpose: Purpose,
    /// The planting it is for, as an index within the bed; nothing for a dose on the whole bed.
    pub planting: Option<usize>,
    /// The material.
    pub ready: Ready,
    /// The ground it is spread on.
    pub area: Figure<Area>,
    /// Its weight, as weighed.
    pub weight: Figure<Mass>,
    /// What it holds in all.
    pub brings: Npk<Figure<Mass>>,
    /// Nitrogen of it that counts for each planting it serves, by index within the bed.
    pub counts: Vec<(usize, Figure<Mass>)>,
    /// The soil nitrate below which it is given, where it waits for a measurement.
    pub measure: Option<Figure<Concentration>>,
    /// Whether it is as large as one dose may be.
    pub at_cap: bool,
}

impl Dose {
    /// All nitrogen of it that counts.
    pub fn counted(&self) -> Mass {
        self.counts.iter().map(|(_, figure)| figure.value()).sum()
    }

    /// Whether it is given whatever a measurement says.
    pub fn certain(&self) -> bool {
        self.measure.is_none()
    }
}

/// What a weight of a material holds.
pub fn brought(weight: &Figure<Mass>, shares: &Npk<Figure<Share>>) -> Npk<Figure<Mass>> {
    Npk::from_fn(|nutrient: Nutrient| {
        (weight * &shares[nutrient]).called(format_args!("{} it holds", nutrient.formula()))
    })
}

/// The most of a nutrient that the scale leaves over, or adds, in any of these doses.
pub fn weighing_slip(doses: &[Dose], nutrient: Nutrient, units: UnitSystem) -> Mass {
    let slip = |dose: &Dose| {
        weighing_step(dose.weight.value(), units) * dose.ready.content.shares[nutrient].value()
    };
    doses.iter().map(slip).max().unwrap_or(Mass::ZERO)
}
