//! What every sum is asked with.

use crate::catalogue::Catalogue;
use crate::quantity::UnitSystem;

/// What every sum is asked with: the lists, the units wanted, and all texts in the order written.
#[derive(Clone, Debug)]
pub struct Ask<'a> {
    /// The built-in lists.
    pub catalogue: &'a Catalogue,
    /// The units the answers are wanted in, where that was said.
    pub units: Option<UnitSystem>,
    /// Every text of the request in the order it was written: the first weight among them settles
    /// the unit of the answers.
    pub written: Vec<String>,
}

impl<'a> Ask<'a> {
    /// Asks with these texts, in no particular units.
    pub fn new(catalogue: &'a Catalogue, written: &[&str]) -> Self {
        let written = written.iter().map(|text| (*text).to_owned()).collect();
        Self { catalogue, units: None, written }
    }
}
