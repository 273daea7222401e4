//! A text as an amount of every kind, as a label, as a date.

use std::fmt::Debug;

use topdress::calendar::Date;
use topdress::nutrient::read_analysis;
use topdress::quantity::{
    Area, Bounded, Concentration, Density, Length, Mass, Misread, Money, PlantRate, Rate, RowRate,
    SIGNIFICANT_DIGITS, Share, Temperature, UnitKind, Volume, first_weight_unit, over, read,
    read_any, read_length_pair, read_range, read_said, settle, significant,
};
use topdress::record::read_amount;

/// Reads the text as the kind of amount it is, and as those that are read in a way of their own. What
/// is read lies within its limits, and reads the same again from its printed form; what is refused says
/// why.
pub fn quantity(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    match read_any(text, UnitKind::VOLUME, "an amount", "3 lb").map(|reading| reading.kind) {
        Ok(UnitKind::AREA) => every_way::<Area>(text),
        Ok(UnitKind::LENGTH) => every_way::<Length>(text),
        Ok(UnitKind::VOLUME) => every_way::<Volume>(text),
        Ok(UnitKind::RATE) => every_way::<Rate>(text),
        Ok(UnitKind::PER_ROW) => every_way::<RowRate>(text),
        Ok(UnitKind::PER_PLANT) => every_way::<PlantRate>(text),
        Ok(UnitKind::DENSITY) => every_way::<Density>(text),
        Ok(UnitKind::Share) => every_way::<Share>(text),
        Ok(UnitKind::Concentration) => every_way::<Concentration>(text),
        Ok(_) => every_way::<Mass>(text),
        Err(bad) => refused(&bad),
    }
    every_way::<Temperature>(text);
    every_way::<Money>(text);
    if let Err(bad) = read_length_pair(text) {
        refused(&bad);
    }
    if let Err(bad) = read_amount(text) {
        assert!(!bad.to_string().is_empty() && !bad.mend().is_empty(), "{text:?}");
    }
    if let Err(bad) = read_analysis(text) {
        assert!(!bad.to_string().is_empty() && !bad.mend().is_empty(), "{text:?}");
    }
    first_weight_unit(text);
    if let Some(date) = Date::read(text) {
        assert_eq!(Date::read(&date.to_string()), Some(date), "{text:?}");
    }
}

fn refused(bad: &Misread) {
    assert!(!bad.to_string().is_empty() && !bad.mend().is_empty());
}

fn every_way<Q: Bounded + Debug>(text: &str) {
    let (least, most) = Q::limits();
    match read_range::<Q>(text) {
        Ok((low, high)) => {
            assert!(least <= low.base() && low <= high && high.base() <= most, "{text:?}");
        }
        Err(bad) => refused(&bad),
    }
    let value = match read::<Q>(text) {
        Ok((value, _)) => value,
        Err(bad) => return refused(&bad),
    };
    assert!(least <= value.base() && value.base() <= most, "{text:?}");
    let said = read_said::<Q>(text).unwrap_or_else(|bad| panic!("{text:?}: {bad}"));
    assert_eq!(said.value.base(), value.base(), "{text:?}");
    // Degrees are not multiples of one another, so a unit alone does not turn them round.
    if Q::UNIT_KIND == UnitKind::Temperature {
        return;
    }
    let shown = significant(said.unit.of_base(value.base()), SIGNIFICANT_DIGITS);
    let printed = format!("{shown} {}", said.unit);
    match read::<Q>(&printed) {
        Ok((again, _)) => {
            let slip = (again.base() - value.base()).abs();
            let least_seen = settle(over(value.base(), 100_000_000_000_i64.into()));
            assert!(slip <= least_seen, "{text:?} printed as {printed:?} is {again:?}");
        }
        // Something very small has more zeros than any scale can tell.
        Err(Misread::TooManyDigits { .. }) => {}
        // Rounded up past the very limit.
        Err(Misread::OutOfRange { .. }) if settle(value.base()) == most => {}
        Err(bad) => panic!("{text:?} printed as {printed:?}: {bad}"),
    }
}
