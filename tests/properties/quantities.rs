//! What is printed reads as what it was.

use std::fmt::Debug;

use proptest::prelude::*;
use rust_decimal::Decimal;
use topdress::quantity::{
    Area, Bounded, Density, Length, Mass, PlantRate, Rate, RowRate, SIGNIFICANT_DIGITS, Share,
    UnitSystem, Volume, read, read_said, settle, significant,
};
use topdress::report::number::Showing;

use super::draws;

/// Units of each kind as people write them.
const WEIGHTS: &[&str] = &["lb", "oz", "kg", "g", "t", "ton", "cwt"];
const LENGTHS: &[&str] = &["ft", "in", "yd", "m", "cm", "mm"];
const AREAS: &[&str] = &["ft2", "acre", "m2", "ha", "sq yd"];
const VOLUMES: &[&str] = &["gal", "cup", "ft3", "yd3", "L", "tbsp", "fl oz", "acre-inch"];
const RATES: &[&str] = &["lb/acre", "lb/1000 ft2", "kg/ha", "g/m2", "oz per sq ft", "t/ha"];
const ROW_RATES: &[&str] = &["lb/100 ft", "kg/m", "oz/10 ft of row", "g/30 cm"];
const PLANT_RATES: &[&str] = &["lb/plant", "g/plant"];
const DENSITIES: &[&str] = &["lb/yd3", "g/cm3", "lb/gal", "kg/m3", "oz/cup"];
const SHARES: &[&str] = &["%", "lb/ton", "g/kg"];

fn number() -> impl Strategy<Value = Decimal> {
    (0_i64..10_000_000, 0_u32..6).prop_map(|(digits, places)| Decimal::new(digits, places))
}

/// Written in any unit, printed in it, and read again.
fn comes_back<Q: Bounded + Debug>(number: Decimal, unit: &str) -> Result<(), TestCaseError> {
    let text = format!("{number} {unit}");
    let Ok(said) = read_said::<Q>(&text) else { return Ok(()) };
    let shown = significant(said.unit.of_base(said.value.base()), SIGNIFICANT_DIGITS);
    prop_assert_eq!(shown, number.normalize(), "{}", text);
    let printed = format!("{shown} {}", said.unit);
    let again =
        read::<Q>(&printed).map_err(|bad| TestCaseError::fail(format!("{printed}: {bad}")))?;
    prop_assert_eq!(settle(again.0.base()), settle(said.value.base()), "{}", printed);
    shown_stays(said.value)
}

/// What a page shows reads as an amount that is shown as the same one: 27 ft3 perhaps as 1 yd3.
fn shown_stays<Q: Bounded + Debug>(value: Q) -> Result<(), TestCaseError> {
    for system in [UnitSystem::Us, UnitSystem::Metric] {
        let back = |value: Q| {
            let text = Showing::new(system).of(value).to_string();
            let back = read::<Q>(&text).map(|(value, _)| value);
            back.map_err(|bad| TestCaseError::fail(format!("{value:?} as `{text}`: {bad}")))
        };
        let shown = back(value)?;
        prop_assert_eq!(settle(back(shown)?.base()), settle(shown.base()));
    }
    Ok(())
}

proptest! {
    #![proptest_config(draws(400))]

    #[test]
    fn printed_amounts_read_as_what_they_were(number in number(), pick in 0_usize..1_000) {
        let of = |units: &'static [&'static str]| units[pick % units.len()];
        comes_back::<Mass>(number, of(WEIGHTS))?;
        comes_back::<Length>(number, of(LENGTHS))?;
        comes_back::<Area>(number, of(AREAS))?;
        comes_back::<Volume>(number, of(VOLUMES))?;
        comes_back::<Rate>(number, of(RATES))?;
        comes_back::<RowRate>(number, of(ROW_RATES))?;
        comes_back::<PlantRate>(number, of(PLANT_RATES))?;
        comes_back::<Density>(number, of(DENSITIES))?;
        comes_back::<Share>(number, of(SHARES))?;
    }
}
