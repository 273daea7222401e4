//! What of a need is too little to be worth a dose, or a word.

use rust_decimal::Decimal;

use crate::quantity::{Mass, Share};

/// The share of a need that is a trifle: 3 %, the rule of doses before planting.
pub const SHARE: Decimal = Decimal::from_parts(3, 0, 0, false, 2);

/// The trifle of a need.
pub fn of(need: Mass) -> Mass {
    need * Share::from_fraction(SHARE)
}

/// The trifle of a need in floating point, for curves.
pub fn of_float(need: f64) -> f64 {
    need * crate::quantity::to_float(SHARE)
}
