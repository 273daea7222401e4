//! What the grower said: the season file, read and checked, names resolved against the catalogue.

mod bed;
mod garden;
mod planting;
mod read;
mod soil;
mod stuff;

pub use bed::{Bed, Footprint, History, Irrigation, PastApplication, Rain};
pub use garden::{
    BasisChoice, Feed, Feeding, Garden, MonthMean, Offer, Pack, ShedItem, SplitTiming, Supplier,
    Texture,
};
pub use planting::{AlreadyCredited, Extent, Given, How, Planting, Yield};
pub use read::{labelled, read, schema};
pub use soil::{Reading, SoilTest, SoilUnit, WordedClass};
pub use stuff::{Amendment, Measure, Overrides, Placed, Stuff, WorkedIn};

use std::sync::Arc;

use crate::catalogue::Catalogue;
use crate::figure::Place;

/// A value with the place where the grower wrote it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Said<T> {
    /// The value.
    pub value: T,
    /// Where it stands in the season file.
    pub place: Place,
}

impl<T> Said<T> {
    /// Puts a value and its place together.
    pub const fn new(value: T, place: Place) -> Self {
        Self { value, place }
    }
}

/// One season of one garden, as said. Every name in it is known, every quantity in range and every
/// date in order; beds stand in the order of the file.
#[derive(Debug)]
pub struct Season {
    /// The garden as a whole.
    pub garden: Garden,
    /// Which materials to plan with, unless a bed says otherwise.
    pub feeding: Feeding,
    /// Materials on hand and on offer.
    pub shed: Vec<ShedItem>,
    /// Suppliers that charge for delivery or have a least order.
    pub suppliers: Vec<Supplier>,
    /// The beds.
    pub beds: Vec<Bed>,
    /// The catalogue with the grower's own entries merged in.
    pub catalogue: Arc<Catalogue>,
}

/// Writes a name the way paths do: lower case, with `-` for spaces and underscores.
pub fn slug(name: &str) -> String {
    // Most names need no table of letters to be lowered.
    if name.is_ascii() {
        return dashed(name.trim().chars().map(|c| c.to_ascii_lowercase()), name.len());
    }
    dashed(name.trim().chars().flat_map(char::to_lowercase), name.len())
}

/// Puts dashes for what a path has no room for.
fn dashed(lowered: impl Iterator<Item = char>, length: usize) -> String {
    let mut out = String::with_capacity(length);
    for c in lowered {
        let dash = c.is_whitespace() || matches!(c, '_' | '-' | '/' | ',' | '(' | ')' | '.');
        match (dash, out.ends_with('-') || out.is_empty()) {
            (false, _) => out.push(c),
            (true, false) => out.push('-'),
            (true, true) => {}
        }
    }
    out.truncate(out.trim_end_matches('-').len());
    out
}

#[cfg(test)]
mod tests {
    use super::slug;

    #[test]
    fn names_become_paths() {
        assert_eq!(slug("North 1"), "north-1");
        assert_eq!(slug("  yard_trimmings  compost "), "yard-trimmings-compost");
        assert_eq!(slug("carrot (fresh, topped)"), "carrot-fresh-topped");
    }
}
