//! Where figures come from.

use serde::Deserialize;

use crate::figure::Status;

/// A source of figures.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Its id, as figures name it.
    pub id: String,
    /// What it is.
    pub status: Status,
    /// Title of the publication, or what the figure is, in words of our own.
    pub title: String,
    /// Who published it.
    #[serde(default)]
    pub body: Option<String>,
    /// Number, volume or legal reference.
    #[serde(default)]
    pub number: Option<String>,
    /// Year.
    #[serde(default)]
    pub year: Option<u16>,
    /// Table, annex, page or section.
    #[serde(default)]
    pub table: Option<String>,
    /// How much of it was read, where not all.
    #[serde(default)]
    pub read: Option<String>,
    /// For a derived figure: the ids it was derived from.
    #[serde(default)]
    pub from: Vec<String>,
}
