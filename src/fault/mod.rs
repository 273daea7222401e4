//! A fault in what was written: its place, what is wrong in a grower's words and how to mend it.
//!
//! Code that finds a fault calls one constructor, named for the fact, from [`syntax`], [`shape`],
//! [`names`], [`dates`] or [`sums`]; the wording lives there alone. [`render`] turns faults into
//! text.

pub mod dates;
pub mod names;
mod render;
pub mod shape;
pub mod sums;
pub mod syntax;

pub use render::render;

use crate::figure::Place;

/// Most faults shown at once; how many more there are is said below them.
pub const MOST_SHOWN: usize = 100;

/// One fault.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fault {
    /// Where it stands.
    pub place: Place,
    /// What is wrong, as one clause in lower case.
    pub title: Box<str>,
    /// What stands under the caret, in a few words; may be empty.
    pub label: Box<str>,
    /// How to mend it.
    pub help: Box<str>,
    /// The limit that was hit and its reason.
    pub note: Option<Box<str>>,
    /// Another place that belongs to it, and what stands there.
    pub second: Option<Box<(Place, String)>>,
}

impl Fault {
    /// Makes a fault from its place, what is wrong, and how to mend it.
    pub fn new(place: Place, title: impl Into<Box<str>>, help: impl Into<Box<str>>) -> Self {
        Self {
            place,
            title: title.into(),
            label: Box::default(),
            help: help.into(),
            note: None,
            second: None,
        }
    }

    /// Says what stands under the caret.
    #[must_use]
    pub fn label(mut self, label: impl Into<Box<str>>) -> Self {
        self.label = label.into();
        self
    }

    /// Adds the limit that was hit and its reason.
    #[must_use]
    pub fn note(mut self, note: impl Into<Box<str>>) -> Self {
        self.note = Some(note.into());
        self
    }

    /// Points at another place that belongs to it.
    #[must_use]
    pub fn and(mut self, place: Place, what: impl Into<String>) -> Self {
        self.second = Some(Box::new((place, what.into())));
        self
    }
}

/// Puts faults in the order of their places, and drops what is said twice.
pub fn in_order(mut faults: Vec<Fault>) -> Vec<Fault> {
    faults.sort();
    faults.dedup();
    faults
}

/// Puts words in a row: "`a`, `b` or `c`".
pub fn any_of<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let mut all: Vec<String> = words.into_iter().map(|word| format!("`{word}`")).collect();
    match all.pop() {
        None => String::new(),
        Some(last) if all.is_empty() => last,
        Some(last) => format!("{} or {last}", all.join(", ")),
    }
}

/// Keeps a quoted text short enough to read, and on one line.
pub fn clip(text: &str) -> String {
    const MOST: usize = 40;
    let mut out: String =
        text.chars().take(MOST).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().nth(MOST).is_some() {
        out.push('…');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stand_in_a_row() {
        assert_eq!(any_of(["a"]), "`a`");
        assert_eq!(any_of(["a", "b", "c"]), "`a`, `b` or `c`");
    }
}
