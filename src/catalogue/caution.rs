//! Cautions: what to mind before a figure is acted on.

use serde::Deserialize;

use crate::figure::Status;

/// A caution. Local rules, the label and licensed advice always come first.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Caution {
    /// Its key, as materials and rules name it.
    pub key: String,
    /// What to mind, in one or two sentences.
    pub sentence: String,
    /// What it rests on.
    pub status: Status,
    /// Id of its source.
    pub source: String,
    /// Ids of further sources that say the same or part of it.
    #[serde(default)]
    pub also: Vec<String>,
}
