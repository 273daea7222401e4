//! The built-in figures: crops, materials, soil-test limits, sources. Each list is TOML in `data/`,
//! built into the binary and parsed only when it is asked for.

mod caution;
mod comparison;
mod crop;
mod entries;
mod lists;
mod material;
pub mod names;
mod signs;
mod soil_test;
mod source;
mod stand;

pub use caution::Caution;
pub use comparison::Comparison;
pub use crop::{
    Chart, Crop, Curve, DayRange, FeederClass, LastUseful, Levels, NitrateStep, NitrateTest,
    Number, Recommendation, Removal, Rescue, Sourced, Supply, Timing, YieldStep,
};
pub use lists::Catalogue;
pub use material::{Basis, Feedstock, Material, MaterialKind, PoolClass, Release};
pub use signs::{Cause, Fact, Look, OnlyOf, Question, Sign, Signs};
pub use soil_test::{Cell, Class, Extractant, Limit, Limits, Tested};
pub use source::Source;
pub use stand::Stand;
