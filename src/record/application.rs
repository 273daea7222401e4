//! One application: what was spread, when, where and by whom.

use crate::calendar::Date;
use crate::nutrient::Analysis;
use crate::season::{Measure, slug};

/// Whether a line writes an application down or takes one back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    /// It was spread.
    Applied,
    /// The same application, written before, was not.
    Cancelled,
}

impl Action {
    /// The word in the record.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Applied => "applied",
            Self::Cancelled => "cancelled",
        }
    }
}

/// One application. The fields are those an inspector of organic production asks for on an input
/// line: date, field, crop, material, amount, analysis, method, lot, person and a note.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Application {
    /// The day.
    pub on: Date,
    /// The bed, as named in the season file.
    pub bed: String,
    /// The crop standing there, empty where none was.
    pub crop: String,
    /// The material.
    pub material: String,
    /// How much, as written.
    pub amount_text: String,
    /// How much.
    pub amount: Measure,
    /// The label's analysis, where known.
    pub analysis: Option<Analysis>,
    /// How it was spread, such as "side-dressed"; may be empty.
    pub method: String,
    /// Lot or batch number; may be empty.
    pub lot: String,
    /// Who spread it; may be empty.
    pub person: String,
    /// Anything else; may be empty.
    pub note: String,
}

impl Application {
    /// Whether the two say the same thing as far as any reckoning goes: day, bed, material, amount
    /// and analysis. Lines that say the same are interchangeable, so a cancelling line may take
    /// back any one of them.
    pub fn same_as(&self, other: &Self) -> bool {
        self.on == other.on
            && self.amount == other.amount
            && self.analysis == other.analysis
            && slug(&self.bed) == slug(&other.bed)
            && slug(&self.material) == slug(&other.material)
    }
}
