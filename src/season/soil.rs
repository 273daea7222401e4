//! A soil test, as the laboratory printed it.

use rust_decimal::Decimal;

use super::Said;
use crate::calendar::Date;
use crate::catalogue::{Class, Extractant};
use crate::quantity::{Concentration, Length, Share};

/// The unit a laboratory prints phosphorus and potassium in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SoilUnit {
    /// Parts per million (mg/kg).
    Ppm,
    /// Pounds per acre.
    PoundsPerAcre,
    /// Milligrams per litre.
    MilligramsPerLitre,
    /// Milligrams per 100 grams.
    MilligramsPer100Grams,
}

/// A value with the unit it was printed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reading {
    /// The number as printed.
    pub value: Decimal,
    /// The unit as printed.
    pub unit: SoilUnit,
}

impl Reading {
    /// Returns the value in the unit of a table of limits, where it can be told in that.
    ///
    /// Pounds per acre count a furrow slice of 2,000,000 lb, so 1 ppm is 2 lb per acre, as
    /// laboratories print it; milligrams per litre and per kilogram are each kept to their own
    /// tables.
    pub fn in_unit(self, unit: &str) -> Option<Decimal> {
        let two = Decimal::from(2);
        match (self.unit, unit) {
            (SoilUnit::Ppm, "ppm")
            | (SoilUnit::PoundsPerAcre, "lb/acre")
            | (SoilUnit::MilligramsPerLitre, "mg/l")
            | (SoilUnit::MilligramsPer100Grams, "mg/100 g") => Some(self.value),
            (SoilUnit::Ppm, "lb/acre") => Some(self.value * two),
            (SoilUnit::PoundsPerAcre, "ppm") => Some(self.value / two),
            (SoilUnit::Ppm, "mg/100 g") => Some(self.value / Decimal::TEN),
            (SoilUnit::MilligramsPer100Grams, "ppm") => Some(self.value * Decimal::TEN),
            _ => None,
        }
    }
}

/// A class as the laboratory worded it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WordedClass {
    /// The class here.
    pub class: Class,
    /// The laboratory's own word, in lower case.
    pub word: String,
}

/// A soil test.
#[derive(Clone, Debug, Default)]
pub struct SoilTest {
    /// Extractant.
    pub test: Option<Said<Extractant>>,
    /// Laboratory, in lower case.
    pub lab: Option<Said<String>>,
    /// Phosphorus.
    pub p: Option<Said<Reading>>,
    /// Potassium.
    pub k: Option<Said<Reading>>,
    /// The class of phosphorus, from the laboratory's own word.
    pub p_class: Option<Said<WordedClass>>,
    /// The class of potassium, from the laboratory's own word.
    pub k_class: Option<Said<WordedClass>>,
    /// Organic matter.
    pub organic_matter: Option<Said<Share>>,
    /// Acidity (pH).
    pub ph: Option<Said<Decimal>>,
    /// Nitrate nitrogen (NO3-N).
    pub nitrate: Option<Said<Concentration>>,
    /// Depth of the nitrate sample.
    pub depth: Option<Said<Length>>,
    /// When it was sampled.
    pub sampled: Option<Said<Date>>,
    /// When the nitrate was sampled, where apart.
    pub nitrate_sampled: Option<Said<Date>>,
}
