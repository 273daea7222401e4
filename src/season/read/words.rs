//! The words that fields know, each with its meaning.

use super::super::{AlreadyCredited, BasisChoice, How, Placed, SplitTiming, Texture};
use super::word::Word;
use crate::calendar::Weekday;
use crate::catalogue::{Basis, Class, Extractant, MaterialKind};
use crate::figure::Status;
use crate::quantity::UnitSystem;

macro_rules! words {
    ($($kind:ty { $($word:literal = $meaning:expr),* $(,)? })*) => {$(
        impl Word for $kind {
            const WORDS: &'static [(&'static str, Self)] = &[$(($word, $meaning)),*];
        }
    )*};
}

impl Word for MaterialKind {
    const WORDS: &'static [(&'static str, Self)] = &Self::WORDS;
}

/// What a line of history tells of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PastKind {
    /// Compost.
    Compost,
    /// Manure.
    Manure,
    /// A cover crop.
    CoverCrop,
}

/// What happens to a crop's residues.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Residues {
    /// They stay.
    Left,
    /// They are taken off.
    Removed,
}

words! {
    UnitSystem { "us" = Self::Us, "metric" = Self::Metric }
    BasisChoice { "supply" = Self::Supply, "recommendation" = Self::Recommendation }
    Texture {
        "sand" = Self::Sand, "loam" = Self::Loam, "clay" = Self::Clay,
        "loamy sand" = Self::Sand, "sandy loam" = Self::Loam, "silt loam" = Self::Loam,
        "clay loam" = Self::Clay, "silty clay" = Self::Clay,
    }
    Weekday {
        "monday" = Self::Monday, "tuesday" = Self::Tuesday, "wednesday" = Self::Wednesday,
        "thursday" = Self::Thursday, "friday" = Self::Friday, "saturday" = Self::Saturday,
        "sunday" = Self::Sunday,
    }
    SplitTiming { "solved" = Self::Solved, "weeks" = Self::Weeks }
    Basis { "dry" = Self::Dry, "as-is" = Self::AsIs, "wet" = Self::AsIs }
    Placed { "mixed" = Self::Mixed, "surface" = Self::Surface }
    How { "transplant" = Self::Transplant, "seed" = Self::Seed }
    Residues { "left" = Self::Left, "removed" = Self::Removed }
    PastKind {
        "compost" = Self::Compost, "manure" = Self::Manure, "cover crop" = Self::CoverCrop,
    }
    Status {
        "published" = Self::Published, "common-practice" = Self::CommonPractice,
        "derived" = Self::Derived, "memory" = Self::Memory, "proposed" = Self::Proposed,
    }
    AlreadyCredited { "amendments" = Self::Amendments, "water" = Self::Water }
    Extractant {
        "mehlich-1" = Self::Mehlich1, "mehlich-3" = Self::Mehlich3, "bray-1" = Self::Bray1,
        "olsen" = Self::Olsen, "ammonium acetate" = Self::AmmoniumAcetate,
        "ammonium nitrate" = Self::AmmoniumNitrate, "modified morgan" = Self::ModifiedMorgan,
        "calcium acetate lactate" = Self::CalciumAcetateLactate, "cal" = Self::CalciumAcetateLactate,
    }
    Class {
        "very low" = Self::VeryLow, "low" = Self::Low, "target" = Self::Target,
        "high" = Self::High, "very high" = Self::VeryHigh, "optimum" = Self::Target,
        "above target" = Self::High,
    }
}
