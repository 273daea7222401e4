//! The two systems of units answers are shown in.

/// United States customary or metric.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum UnitSystem {
    /// Pounds, feet, acres, gallons.
    #[default]
    Us,
    /// Kilograms, metres, hectares, litres.
    Metric,
}
