//! Nutrient budgets for garden beds: what each crop needs, what the ground already gives, what is
//! short, when to spread it and how much of the bag in the shed that is.
//!
//! Layers, each of which may use those above it and never those below:
//!
//! 0. [`quantity`], [`nutrient`], [`calendar`]: amounts with units, analyses, dates.
//! 1. [`figure`], [`fault`], [`hands`]: a value with its derivation; a fault with its place; work shared
//!    out among cores.
//! 2. [`catalogue`], [`season`], [`record`]: published figures; what was said; what was done.
//! 3. [`engine`]: the reckoning. No files, no clock, no printing.
//! 4. [`report`], [`teach`]: documents and their formats; practice problems.
//! 5. [`cli`]: arguments, files, terminal and exit code.

pub mod calendar;
pub mod catalogue;
pub mod cli;
pub mod engine;
pub mod fault;
pub mod figure;
pub mod hands;
pub mod nutrient;
pub mod quantity;
pub mod record;
pub mod report;
pub mod season;
pub mod teach;
