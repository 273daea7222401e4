//! Soil-test limits by extractant and laboratory.

use serde::Deserialize;

use super::crop::Number;

/// Five classes of a nutrient in the soil.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Class {
    /// Very low.
    VeryLow,
    /// Low.
    Low,
    /// At target.
    Target,
    /// Above target.
    High,
    /// Far above target.
    VeryHigh,
}

impl Class {
    /// The words shown to people.
    pub const fn words(self) -> &'static str {
        match self {
            Self::VeryLow => "very low",
            Self::Low => "low",
            Self::Target => "target",
            Self::High => "high",
            Self::VeryHigh => "very high",
        }
    }
}

/// The chemical a laboratory shakes the soil with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Extractant {
    /// Mehlich-1.
    #[serde(rename = "mehlich-1")]
    Mehlich1,
    /// Mehlich-3.
    #[serde(rename = "mehlich-3")]
    Mehlich3,
    /// Bray P1.
    #[serde(rename = "bray-1")]
    Bray1,
    /// Olsen (sodium bicarbonate).
    Olsen,
    /// Ammonium acetate.
    AmmoniumAcetate,
    /// Ammonium nitrate.
    AmmoniumNitrate,
    /// Modified Morgan.
    ModifiedMorgan,
    /// Calcium acetate lactate.
    CalciumAcetateLactate,
}

/// One laboratory's limits for one nutrient by one extractant.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limits {
    /// Laboratory, state or country, in lower case, such as "new jersey".
    pub lab: String,
    /// Extractant.
    pub extractant: Extractant,
    /// "phosphorus" or "potassium": soil tests count the element.
    pub nutrient: String,
    /// Unit of the limits: "ppm", "lb/acre", "mg/l" or "mg/100 g".
    pub unit: String,
    /// Texture it is for, where the source parts them.
    #[serde(default)]
    pub texture: Option<String>,
    /// The limits, lowest class first.
    pub classes: Vec<Limit>,
    /// Whether it is used where the grower names the extractant but no laboratory.
    #[serde(default)]
    pub default: bool,
    /// Id of the source.
    pub source: String,
}

/// One class: its lower limit, the laboratory's own word and the class it maps to.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    /// Lowest value of the class, in the unit of the limits.
    pub from: Number,
    /// The laboratory's own word.
    pub word: String,
    /// The class here.
    pub class: Class,
}
