//! Rates of a handbook that are kept to compare with and never planned from.

use serde::Deserialize;

use crate::quantity::{Rate, Spread};

/// One rate of a handbook.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Comparison {
    /// The crop, as the handbook names it.
    pub crop: String,
    /// Which kind or season of it, where the handbook parts them.
    #[serde(default)]
    pub case: Option<String>,
    /// "nitrogen", "phosphate", "potash" or "magnesium" (as MgO).
    pub nutrient: String,
    /// The index of the soil, such as "SNS 0-1" or "P 2".
    pub index: String,
    /// The rate.
    pub rate: Spread<Rate>,
    /// What it holds for.
    #[serde(default)]
    pub note: Option<String>,
    /// Id of the source.
    pub source: String,
}
