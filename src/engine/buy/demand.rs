//! What the beds ask for.

use crate::quantity::Mass;

/// Whether a dose will be given or may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Certainty {
    /// It will be given.
    Certain,
    /// It is given only if a measurement asks for it.
    Possible,
}

/// Some of one material.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Part {
    /// Key of the material.
    pub material: String,
    /// Weight, zero or more.
    pub weight: Mass,
}

/// How much of a limit one way of meeting a demand takes up.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Draw {
    /// Key of the limit.
    pub limit: String,
    /// What is taken up where the demand is met in this way alone.
    pub amount: Mass,
}

/// One way to meet a demand in full; several may share it in any proportion.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Alternative {
    /// What is spread; commonly one material.
    pub parts: Vec<Part>,
    /// Phosphate that this brings onto soil at or above its target. It is borne only where no
    /// other way is open, whatever the cost.
    pub unwanted: Mass,
    /// What this takes up of limits that are never passed.
    pub draws: Vec<Draw>,
}

impl Alternative {
    /// Meets the demand with so much of one material, harmlessly.
    pub fn of(material: impl Into<String>, weight: Mass) -> Self {
        Self {
            parts: vec![Part { material: material.into(), weight }],
            unwanted: Mass::ZERO,
            draws: Vec::new(),
        }
    }
}

/// One dose or one purpose of a bed. A material that the grower named has one alternative.
///
/// Alternatives of materials neither on hand nor on offer are never chosen; where nothing else
/// meets the demand they are what the answer says would.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Demand {
    /// Path of the line it serves, such as `north-1/broccoli/dose/2027-05-29`.
    pub path: String,
    /// Whether it will be given or may be.
    pub certainty: Certainty,
    /// The ways to meet it.
    pub alternatives: Vec<Alternative>,
}

/// A bound over several demands, such as the nitrogen from manure in one bed and year.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Limit {
    /// The key that draws name.
    pub key: String,
    /// The most that may be taken up. A draw on a limit not listed is unbounded.
    pub most: Mass,
}
