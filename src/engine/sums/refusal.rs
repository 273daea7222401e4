//! Why a sum cannot be done: one sentence, what was understood, an example that works.

use std::fmt;

/// Why a sum cannot be done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// What is wrong, in one sentence without a full stop.
    pub what: String,
    /// What was understood of the request, such as "nitrogen 3 lb/1000 ft2; from 24-25-4".
    pub understood: String,
    /// How to mend it, where that is not plain from the sentence.
    pub mend: String,
    /// A command that works.
    pub example: String,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "error: {}", self.what)?;
        if !self.understood.is_empty() {
            writeln!(f, "  = understood: {}", self.understood)?;
        }
        if !self.mend.is_empty() {
            writeln!(f, "  = help: {}", self.mend)?;
        }
        writeln!(f, "  = this works: topdress {}", self.example)
    }
}

impl std::error::Error for Refusal {}
