//! Amounts that are written exactly in either system of units.

use rust_decimal::Decimal;

/// A system that lengths, areas and weights of a text are written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Written {
    /// Feet, pounds, gallons.
    Us,
    /// Metres, kilograms, litres.
    Metric,
}

/// What a number counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    Inch,
    Foot,
    SquareFoot,
    Pound,
    Gallon,
    CubicFoot,
    PoundsPer1000SquareFeet,
    PoundsPer100SquareFeet,
    PoundsPerAcre,
    PoundsPerPlant,
    PoundsPerCubicYard,
    YardsPer1000SquareFeet,
    /// Above the freezing point of water, in ninths of it that are whole in both scales.
    NineFahrenheit,
}

/// A number in hundredths of a US unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Amount {
    pub hundredths: i64,
    pub unit: Unit,
}

impl Unit {
    /// The text after the number in US units; the exact factor and the text in metric ones.
    const fn names(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Self::Inch => ("in", "2.54", "cm"),
            Self::Foot => ("ft", "0.3048", "m"),
            Self::SquareFoot => ("ft2", "0.09290304", "m2"),
            Self::Pound => ("lb", "0.45359237", "kg"),
            Self::Gallon => ("gal", "3.785411784", "L"),
            Self::CubicFoot => ("ft3", "28.316846592", "L"),
            Self::PoundsPer1000SquareFeet => ("lb/1000 ft2", "0.45359237", "kg/92.90304 m2"),
            Self::PoundsPer100SquareFeet => ("lb/100 ft2", "0.45359237", "kg/9.290304 m2"),
            Self::PoundsPerAcre => ("lb/acre", "0.45359237", "kg/4046.8564224 m2"),
            Self::PoundsPerPlant => ("lb/plant", "0.45359237", "kg/plant"),
            Self::PoundsPerCubicYard => ("lb/yd3", "453.59237", "g/0.764554857984 m3"),
            Self::YardsPer1000SquareFeet => ("yd3/1000 ft2", "0.764554857984", "m3/92.90304 m2"),
            Self::NineFahrenheit => ("F", "5", "C"),
        }
    }

    /// So many hundredths of it.
    pub const fn hundredths(self, hundredths: i64) -> Amount {
        Amount { hundredths, unit: self }
    }

    /// So many of it.
    pub const fn of(self, whole: i64) -> Amount {
        self.hundredths(whole * 100)
    }
}

impl Amount {
    /// The amount as a quoted text of a season file.
    pub fn text(self, written: Written) -> String {
        let number = Decimal::new(self.hundredths, 2);
        let (us, factor, metric) = self.unit.names();
        let factor: Decimal = factor.parse().expect("a factor");
        match written {
            Written::Us if self.unit == Unit::NineFahrenheit => {
                let fahrenheit = number * Decimal::from(9) + Decimal::from(32);
                format!("\"{} {us}\"", fahrenheit.normalize())
            }
            Written::Us => format!("\"{} {us}\"", number.normalize()),
            Written::Metric => format!("\"{} {metric}\"", (number * factor).normalize()),
        }
    }

    /// Twice as much.
    pub const fn doubled(self) -> Self {
        Self { hundredths: self.hundredths * 2, unit: self.unit }
    }
}
