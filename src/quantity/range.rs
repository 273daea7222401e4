//! The one allowed range of each quantity, with the words a grower is told when it is passed.

use rust_decimal::Decimal;

use super::amount::Quantity;
use super::kinds::{
    Area, Concentration, Density, Length, Mass, Money, PlantRate, Rate, RowRate, Share,
    Temperature, Volume,
};
use super::unit::UnitKind;

/// A quantity that may be read from text: what it measures, its range and an example.
pub trait Bounded: Quantity {
    /// What a text for it must measure.
    const UNIT_KIND: UnitKind;
    /// What a grower calls it, with its article.
    const NOUN: &'static str;
    /// A text that works.
    const EXAMPLE: &'static str;
    /// Least and most allowed, in the base unit.
    fn limits() -> (Decimal, Decimal);
    /// The limits in words.
    const RANGE: &'static str;
}

macro_rules! bounded {
    ($($name:ident: $kind:expr, $noun:literal, $example:literal, $low:literal .. $high:literal, $range:literal;)*) => {$(
        impl Bounded for $name {
            const UNIT_KIND: UnitKind = $kind;
            const NOUN: &'static str = $noun;
            const EXAMPLE: &'static str = $example;
            const RANGE: &'static str = $range;
            fn limits() -> (Decimal, Decimal) { (Decimal::from($low as i64), Decimal::from($high as i64)) }
        }
    )*};
}

bounded! {
    Mass: UnitKind::MASS, "a weight", "3 lb", 0..100_000_000, "0 to 100,000 t";
    Area: UnitKind::AREA, "an area", "96 ft2", 0..1_000_000_000, "0 to 100,000 ha";
    Length: UnitKind::LENGTH, "a length", "24 ft", 0..100_000, "0 to 100 km";
    Volume: UnitKind::VOLUME, "a volume", "5 gal", 0..10_000_000, "0 to 10,000,000 m3";
    Rate: UnitKind::RATE, "a weight per area", "3 lb/1000 ft2", 0..1_000, "0 to 10,000 t/ha";
    RowRate: UnitKind::PER_ROW, "a weight per length of row", "8 lb/10 ft", 0..10_000, "0 to 10 t/m";
    PlantRate: UnitKind::PER_PLANT, "a weight per plant", "1.75 lb/plant", 0..10_000, "0 to 10 t a plant";
    Density: UnitKind::DENSITY, "a weight per volume", "1000 lb/yd3", 0..25_000, "0 to 25 g/cm3, since nothing spread on beds is denser than metal";
    Share: UnitKind::Share, "a share", "60 %", 0..1, "0 to 100 %, since a part cannot be more than the whole";
    Concentration: UnitKind::Concentration, "parts per million", "18 ppm", 0..1, "0 to 1,000,000 ppm";
    Temperature: UnitKind::Temperature, "a temperature", "68 F", -90..60, "-90 C to 60 C (-130 F to 140 F), the coldest and hottest air measured on earth";
    Money: UnitKind::Money, "a price", "13.50", 0..1_000_000_000, "0 to 1,000,000,000";
}
