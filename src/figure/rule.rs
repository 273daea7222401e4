//! The rules that justify a step, each with what kind of knowledge it rests on.

use serde::Deserialize;

/// What a figure or a rule rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Status {
    /// Read in the publication named.
    Published,
    /// A fact of the trade that needs no publication.
    CommonPractice,
    /// Worked out from published figures.
    Derived,
    /// From memory, not seen in print.
    Memory,
    /// Proposed in this project.
    Proposed,
    /// True by definition.
    Definition,
}

impl Status {
    /// The words shown to people.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::CommonPractice => "common practice",
            Self::Derived => "derived from published figures",
            Self::Memory => "from memory",
            Self::Proposed => "proposed here",
            Self::Definition => "by definition",
        }
    }
}

/// One teachable rule: a key, a sentence, what it rests on and the id of its source.
#[derive(Debug)]
pub struct Rule {
    /// A short name, unique among the rules.
    pub key: &'static str,
    /// The rule in one sentence.
    pub says: &'static str,
    /// What it rests on.
    pub status: Status,
    /// The id of its source in `data/sources.toml`, or nothing for a definition or a proposal.
    pub source: Option<&'static str>,
}
