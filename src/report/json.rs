//! Values for programs: decimals as strings of twelve significant digits, never floats.

use rust_decimal::Decimal;
use serde::Serialize;

use super::number::Scale;
use crate::quantity::settle;

/// An amount for a program to read: exact digits and the unit they count.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Measured {
    /// Plain digits, twelve significant ones at most.
    pub value: String,
    /// The unit as the season file takes it; empty for plain numbers and money.
    pub unit: String,
}

impl Measured {
    /// Gives a base value in the unit of a scale, unrounded but for the twelfth digit.
    pub fn new(scale: &Scale, base: Decimal) -> Self {
        let unit = match scale.symbol.strip_prefix('°') {
            Some(bare) => bare,
            None => scale.symbol,
        };
        Self { value: number(scale.value(base)), unit: unit.to_owned() }
    }
}

/// Writes a decimal in plain digits, twelve significant ones at most, halves away from zero.
pub fn number(value: Decimal) -> String {
    let settled = settle(value);
    if settled.is_zero() { "0".to_owned() } else { settled.to_string() }
}

/// Writes an answer indented, with a line feed at its end.
///
/// # Errors
/// Where a map in it has keys that are not text.
pub fn document(answer: &impl Serialize) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(answer).map(|text| text + "\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Mass, Temperature, UnitSystem};
    use crate::report::number::Showing;

    #[test]
    fn values_keep_twelve_digits_and_are_text() {
        let third = Decimal::ONE / Decimal::from(3);
        assert_eq!(number(third), "0.333333333333");
        assert_eq!(number(Decimal::new(1_500, 3)), "1.5");
        assert_eq!(number(Decimal::new(0, 5)), "0");
        assert_eq!(number(-Decimal::from(2_000_000_000_000_i64)), "-2000000000000");
        assert_eq!(number(Decimal::new(1, 12)), "0.000000000001");
    }

    #[test]
    fn amounts_carry_their_unit() {
        let show = Showing::new(UnitSystem::Us);
        let mass = Mass::from_lb(Decimal::new(12_125, 3));
        let measured = Measured::new(&show.scale_of([mass]), mass.base());
        let expected = "{\n  \"value\": \"12.125\",\n  \"unit\": \"lb\"\n}\n";
        assert_eq!(document(&measured).expect("text"), expected);
        let warm = Temperature::from_celsius(Decimal::from(20));
        let measured = Measured::new(&show.scale_of([warm]), warm.base());
        assert_eq!((measured.value.as_str(), measured.unit.as_str()), ("68", "F"));
    }
}
