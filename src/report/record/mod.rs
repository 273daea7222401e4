//! The record as it is listed, and what a new line means for its bed.

mod echo;
mod list;
mod remark;

pub use echo::{Echo, echo, echo_json, echo_sheet};
pub use list::{list, list_json, list_sheet};
pub use remark::{far_above, twice};
