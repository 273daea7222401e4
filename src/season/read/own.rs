//! The grower's own crops, materials and sources.

/// Id of the source that stands for what the season file itself says.
pub const OWN_SOURCE: &str = "season-file";
