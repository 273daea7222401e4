//! Typed amounts, held exactly in decimals.
//!
//! Each type stores one coherent base unit (kilogram, metre, square metre, cubic metre and their
//! quotients), so a product of base values is the base value of the product. Every constructor and
//! reader names its unit. Two amounts of different kinds do not add:
//!
//! ```compile_fail
//! use topdress::quantity::{Area, Mass};
//! let nonsense = Mass::from_kg(1.into()) + Area::from_m2(1.into());
//! ```
//!
//! and a product has the kind that physics gives it:
//!
//! ```
//! use topdress::quantity::{Area, Mass, Rate};
//! let need: Mass = Rate::from_kg_per_ha(100.into()) * Area::from_m2(10.into());
//! assert_eq!(need.g(), 100.into());
//! ```

mod amount;
mod kinds;
mod misread;
mod number;
mod parse;
mod quotient;
mod range;
mod serial;
mod system;
mod unit;
mod written;

pub use amount::{Amount, Kind, Quantity};
pub use kinds::{
    Area, Concentration, Density, Length, Mass, Money, PlantRate, Positive, Rate, RowRate, Share,
    Temperature, Volume,
};
pub use misread::Misread;
pub use number::{
    SIGNIFICANT_DIGITS, constant_from_float, floor_to, over, round_to, settle, share_from_float,
    significant, times, to_float,
};
pub use parse::{Reading, read, read_any, read_length_pair, read_range};
pub use range::Bounded;
pub use serial::Spread;
pub use system::UnitSystem;
pub use unit::{Unit, UnitKind, find_unit, units};
pub use written::{Said, Written, first_weight_unit, read_any_said, read_said};
