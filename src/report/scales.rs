//! The table of units and places for each kind of quantity, in both systems.
//!
//! Steps follow what a grower can measure: a kitchen scale below a few ounces or grams, a spring
//! scale above, a bucket or a barrow for heaps.

use rust_decimal::Decimal;

use super::number::Scale;
use crate::quantity::{Kind, Unit, UnitSystem, units};

/// From which base value on a scale is used: so many of a unit.
struct Step {
    from: u32,
    of: &'static Unit,
    scale: Scale,
}

/// A step that begins at so many of its own unit.
const fn from(from: u32, unit: &'static Unit, decimals: u32) -> Step {
    Step { from, of: unit, scale: Scale::new(unit, decimals) }
}

/// A step that writes its unit in another way.
const fn named(unit: &'static Unit, symbol: &'static str, decimals: u32) -> Step {
    Step { from: 0, of: unit, scale: Scale { unit, symbol, decimals } }
}

/// The steps of a kind, smallest first; the first begins at zero.
const fn steps(system: UnitSystem, kind: Kind) -> &'static [Step] {
    use units::*;
    match (system, kind) {
        (UnitSystem::Us, Kind::Mass) => {
            const { &[from(0, &OUNCE, 2), from(4, &OUNCE, 1), from(2, &POUND, 2), from(1000, &POUND, 0)] }
        }
        (UnitSystem::Metric, Kind::Mass) => {
            const {
                &[
                    from(0, &GRAM, 1),
                    from(100, &GRAM, 0),
                    from(1, &KILOGRAM, 2),
                    from(500, &KILOGRAM, 0),
                ]
            }
        }
        (UnitSystem::Us, Kind::Area) => {
            const { &[from(0, &SQUARE_FOOT, 1), from(100, &SQUARE_FOOT, 0), from(1, &ACRE, 2)] }
        }
        (UnitSystem::Metric, Kind::Area) => {
            const { &[from(0, &SQUARE_METRE, 1), from(1000, &SQUARE_METRE, 0), from(1, &HECTARE, 2)] }
        }
        (UnitSystem::Us, Kind::Length) => {
            const { &[from(0, &INCH, 1), Step { from: 36, of: &INCH, scale: Scale::new(&FOOT, 1) }] }
        }
        (UnitSystem::Metric, Kind::Length) => {
            const { &[from(0, &CENTIMETRE, 1), from(1, &METRE, 2)] }
        }
        (UnitSystem::Us, Kind::Volume) => {
            const {
                &[
                    from(0, &TEASPOON, 1),
                    from(1, &TABLESPOON, 1),
                    Step { from: 4, of: &TABLESPOON, scale: Scale::new(&CUP, 2) },
                    from(1, &GALLON, 2),
                    from(1, &CUBIC_FOOT, 1),
                    from(1, &CUBIC_YARD, 2),
                ]
            }
        }
        (UnitSystem::Metric, Kind::Volume) => {
            const { &[from(0, &MILLILITRE, 0), from(1, &LITRE, 1), from(1, &CUBIC_METRE, 2)] }
        }
        (UnitSystem::Us, Kind::Rate) => const { &[from(0, &POUND_PER_1000_SQUARE_FEET, 2)] },
        (UnitSystem::Metric, Kind::Rate) => const { &[from(0, &GRAM_PER_SQUARE_METRE, 1)] },
        (UnitSystem::Us, Kind::RowRate) => const { &[from(0, &POUND_PER_100_FEET_OF_ROW, 2)] },
        (UnitSystem::Metric, Kind::RowRate) => const { &[named(&GRAM, "g/m", 1)] },
        (UnitSystem::Us, Kind::PlantRate) => const { &[named(&OUNCE, "oz/plant", 2)] },
        (UnitSystem::Metric, Kind::PlantRate) => const { &[named(&GRAM, "g/plant", 1)] },
        (UnitSystem::Us, Kind::Density) => const { &[from(0, &POUND_PER_CUBIC_YARD, 0)] },
        (UnitSystem::Metric, Kind::Density) => const { &[from(0, &KILOGRAM_PER_CUBIC_METRE, 0)] },
        (UnitSystem::Us, Kind::Temperature) => const { &[named(&FAHRENHEIT, "°F", 0)] },
        (UnitSystem::Metric, Kind::Temperature) => const { &[named(&CELSIUS, "°C", 1)] },
        (_, Kind::Share) => const { &[from(0, &PERCENT, 1)] },
        (_, Kind::Concentration) => const { &[from(0, &PART_PER_MILLION, 1)] },
        (_, Kind::Money) => const { &[from(0, &CURRENCY, 2)] },
        (_, Kind::Count) => const { &[from(0, &FRACTION, 2)] },
        (_, Kind::Date) => const { &[from(0, &FRACTION, 0)] },
    }
}

/// The scale for base values of a kind that are no larger than this.
pub fn scale(system: UnitSystem, kind: Kind, largest: Decimal) -> Scale {
    let steps = steps(system, kind);
    let reached = |step: &&Step| step.of.to_base(Decimal::from(step.from)) <= largest;
    steps.iter().rfind(reached).unwrap_or(&steps[0]).scale
}

/// The scale of a rate over a field.
pub fn field_rate(system: UnitSystem) -> Scale {
    match system {
        UnitSystem::Us => Scale::new(&units::POUND_PER_ACRE, 0),
        UnitSystem::Metric => Scale::new(&units::KILOGRAM_PER_HECTARE, 0),
    }
}

/// The scale of a unit that the reader chose.
pub fn of_unit(unit: &'static Unit) -> Scale {
    let decimals = match unit.symbol {
        "g" | "g/m2" | "ppm" | "%" | "L" | "ft2" | "m2" | "in" | "cm" | "tsp" | "tbsp" => 1,
        "mg" | "mL" | "mm" | "lb/acre" | "kg/ha" | "lb/yd3" | "kg/m3" => 0,
        _ => 2,
    };
    let symbol = match unit.symbol {
        "F" => "°F",
        "C" => "°C",
        symbol => symbol,
    };
    Scale { unit, symbol, decimals }
}
