//! The reckoning: pure arithmetic on what was said and what is published. No files, no clock, no
//! printing.

pub mod climate;
pub mod demand;
pub mod release;
pub mod side_dress;
