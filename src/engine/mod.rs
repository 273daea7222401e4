//! The reckoning: pure arithmetic on what was said and what is published. No files, no clock, no
//! printing.

pub mod against;
pub mod area;
pub mod buy;
pub mod carry;
pub mod ceiling;
pub mod check;
pub mod climate;
pub mod content;
pub mod credit;
pub mod critical;
pub mod demand;
pub mod dose;
pub mod excess;
pub mod ground;
pub mod life;
pub mod minerals;
pub mod need;
pub mod paths;
pub mod plan;
pub mod release;
pub mod rules;
pub mod setting;
pub mod shopping;
pub mod side_dress;
pub mod soil;
pub mod sums;
pub mod timeline;
pub mod trifle;
pub mod yields;
