//! Sums told so that a beginner can follow them with a pencil, and practice problems.

mod factors;
pub mod lesson;
mod machine;
mod numbers;
mod sheet;
mod working;

pub use machine::json;
pub use sheet::{cite, document};
pub use working::{Line, lines};
