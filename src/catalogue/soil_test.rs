//! Soil-test limits by extractant and laboratory.

use rust_decimal::Decimal;
use serde::Deserialize;

use super::crop::Number;
use super::names::{normal, same as same_name};

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

    /// Reads a word that needs no laboratory to be understood. `high` is above target here; a
    /// laboratory whose high is its optimum says so in its own limits.
    pub fn from_word(word: &str) -> Option<Self> {
        Some(match super::names::normal(word).as_str() {
            "very low" => Self::VeryLow,
            "low" | "medium" | "moderate" | "below optimum" | "deficient" => Self::Low,
            "target" | "optimum" | "optimal" | "adequate" | "sufficient" => Self::Target,
            "high" | "above optimum" => Self::High,
            "very high" | "excessive" => Self::VeryHigh,
            _ => return None,
        })
    }
}

/// Which cell of a bulletin's row of rates a class reads (rule on published rows).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cell {
    /// The low cell.
    Low,
    /// The medium cell.
    Medium,
    /// The high cell, which is the source's optimum.
    High,
    /// Half the high cell.
    HalfHigh,
    /// The very high cell.
    VeryHigh,
}

impl Cell {
    /// Returns the cell that a class reads, as the laboratory worded it: its medium is low here,
    /// since crops still respond, but has a cell of its own.
    pub fn of(class: Class, word: &str) -> Self {
        match class {
            Class::Low if word.contains("medium") || word.contains("moderate") => Self::Medium,
            Class::VeryLow | Class::Low => Self::Low,
            Class::Target => Self::High,
            Class::High => Self::HalfHigh,
            Class::VeryHigh => Self::VeryHigh,
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

impl Extractant {
    /// Its name, as a season file takes it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Mehlich1 => "mehlich-1",
            Self::Mehlich3 => "mehlich-3",
            Self::Bray1 => "bray-1",
            Self::Olsen => "olsen",
            Self::AmmoniumAcetate => "ammonium-acetate",
            Self::AmmoniumNitrate => "ammonium-nitrate",
            Self::ModifiedMorgan => "modified-morgan",
            Self::CalciumAcetateLactate => "calcium-acetate-lactate",
        }
    }
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
    /// Whether the limits count the oxide (P2O5, K2O) and not the element.
    #[serde(default)]
    pub oxide: bool,
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

impl Limits {
    /// Returns the class of a value in the unit of the limits: the highest one whose lower limit is
    /// reached.
    pub fn class_of(&self, value: Decimal) -> Option<&Limit> {
        self.classes.iter().rfind(|limit| limit.from.0 <= value).or(self.classes.first())
    }

    /// Finds the class that the laboratory calls by a word.
    pub fn class_called(&self, word: &str) -> Option<&Limit> {
        let wanted = normal(word);
        self.classes.iter().find(|limit| normal(&limit.word) == wanted)
    }

    /// Picks the limits to read a test by: those of the laboratory named, else the default ones of
    /// the extractant. Among these, limits for the texture come before limits for any, and only
    /// units count that the reading can be told in (`readable`).
    ///
    /// A laboratory that tells phosphorus by Bray or Olsen tells potassium by another extractant.
    /// So potassium, where the extractant has no limits of its own, is read by any of the
    /// laboratory's, else by those of ammonium acetate.
    pub fn pick<'a>(
        all: &'a [Self],
        test: &Tested<'_>,
        readable: impl Fn(&str) -> bool,
    ) -> Option<&'a Self> {
        let of_nutrient = |limits: &&Self| limits.nutrient == test.nutrient;
        let best = |fits: &dyn Fn(&Self) -> bool| {
            let mut fitting: Vec<&Self> =
                all.iter().filter(of_nutrient).filter(|limits| fits(limits)).collect();
            let strange = |limits: &Self| match (&limits.texture, test.texture) {
                (Some(theirs), Some(ours)) => theirs != ours,
                (Some(_), None) => !limits.default,
                (None, _) => false,
            };
            fitting.retain(|limits| !strange(limits));
            fitting.sort_by_key(|limits| (limits.texture.is_none(), !limits.default));
            fitting.into_iter().find(|limits| readable(&limits.unit))
        };
        let same = |limits: &Self| test.extractant == Some(limits.extractant);
        let theirs = |limits: &Self| test.lab.is_some_and(|lab| same_name(&limits.lab, lab));
        let usual = |limits: &Self| limits.default || limits.texture.is_some();
        let potassium = test.nutrient == "potassium";
        best(&|limits| theirs(limits) && (same(limits) || test.extractant.is_none()))
            .or_else(|| best(&|limits| potassium && theirs(limits)))
            .or_else(|| best(&|limits| same(limits) && usual(limits)))
            .or_else(|| {
                let acetate = |limits: &Self| limits.extractant == Extractant::AmmoniumAcetate;
                best(&|limits| {
                    potassium && test.extractant.is_some() && acetate(limits) && usual(limits)
                })
            })
    }
}

/// What is known of how a value was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tested<'a> {
    /// "phosphorus" or "potassium".
    pub nutrient: &'a str,
    /// Extractant, where said.
    pub extractant: Option<Extractant>,
    /// Laboratory, where said.
    pub lab: Option<&'a str>,
    /// Texture of the soil, where known.
    pub texture: Option<&'a str>,
}
