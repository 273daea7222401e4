//! Values that may be measured in more than one way: amounts spread, yields, soil figures.

use rust_decimal::Decimal;
use serde_json::{Value as Json, json};
use toml::de::DeValue;

use super::super::{Measure, Reading, SoilUnit, WorkedIn, Yield};
use super::fields::amount::{Amount, PerArea};
use super::value::{Item, Value, misread, place_of, wrong};
use crate::catalogue::names::normal;
use crate::fault::{Fault, shape};
use crate::quantity::{
    self, Bounded, Length, Mass, Misread, PlantRate, Rate, RowRate, UnitKind, Volume,
};

/// The text of a field, or the fault that a bare number or another kind of value is.
fn text_of<'v>(
    item: &'v Item<'_>,
    field: &str,
    noun: &str,
    example: &str,
) -> Result<&'v str, Fault> {
    match item.get_ref() {
        DeValue::String(text) => Ok(text),
        DeValue::Integer(number) => {
            Err(shape::bare_number(place_of(item), field, number.as_str(), noun, example))
        }
        DeValue::Float(number) => {
            Err(shape::bare_number(place_of(item), field, number.as_str(), noun, example))
        }
        _ => Err(wrong(item, field, noun, &format!("\"{example}\""))),
    }
}

/// Reads a text as one of two kinds of quantity.
fn either<A: Bounded, B: Bounded, T>(
    text: &str,
    noun: &'static str,
    one: impl Fn(A) -> T,
    other: impl Fn(B) -> T,
) -> Result<T, Misread> {
    let reading = quantity::read_any(text, A::UNIT_KIND, noun, A::EXAMPLE)?;
    if reading.kind == B::UNIT_KIND {
        return quantity::read::<B>(text).map(|(value, _)| other(value));
    }
    if reading.kind == A::UNIT_KIND {
        return quantity::read::<A>(text).map(|(value, _)| one(value));
    }
    let text = crate::fault::clip(text);
    Err(Misread::WrongKind { text, noun, example: A::EXAMPLE })
}

fn above_zero(item: &Item<'_>, field: &str, base: Decimal) -> Result<(), Fault> {
    if base.is_zero() {
        let written = item.get_ref().as_str().unwrap_or_default();
        return Err(shape::not_above_zero(place_of(item), field, written));
    }
    Ok(())
}

impl Value for Amount {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        const NOUN: &str = "a weight or a volume";
        let text = text_of(item, field, NOUN, "150 lb")?;
        let measure = either(text, NOUN, Measure::Weight, Measure::Volume);
        let measure = measure.map_err(|why| misread(item, field, &why))?;
        above_zero(
            item,
            field,
            match measure {
                Measure::Weight(weight) => Mass::base(weight),
                Measure::Volume(volume) => Volume::base(volume),
                Measure::Depth(depth) => Length::base(depth),
                Measure::Rate(rate) => Rate::base(rate),
            },
        )?;
        Ok(Self(measure))
    }
    fn schema() -> Json {
        json!({ "type": "string", "examples": ["6 ft3", "150 lb"] })
    }
}

impl Value for PerArea {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        const NOUN: &str = "a weight per area or a volume per area";
        let text = text_of(item, field, NOUN, "3 yd3/1000 ft2")?;
        let measure = either(text, NOUN, Measure::Rate, Measure::Depth);
        let measure = measure.map_err(|why| misread(item, field, &why))?;
        above_zero(
            item,
            field,
            match measure {
                Measure::Depth(depth) => Length::base(depth),
                Measure::Rate(rate) => Rate::base(rate),
                Measure::Weight(weight) => Mass::base(weight),
                Measure::Volume(volume) => Volume::base(volume),
            },
        )?;
        Ok(Self(measure))
    }
    fn schema() -> Json {
        json!({ "type": "string", "examples": ["3 yd3/1000 ft2", "20 t/ha"] })
    }
}

impl Value for Yield {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        const NOUN: &str = "a weight per area, per length of row or per plant";
        const EXAMPLE: &str = "150 lb per 100 ft2";
        let text = text_of(item, field, NOUN, EXAMPLE)?;
        if normal(text) == "table" {
            return Ok(Self::Table);
        }
        let read = || {
            let reading = quantity::read_any(text, UnitKind::RATE, NOUN, EXAMPLE)?;
            if reading.kind == UnitKind::PER_ROW {
                return quantity::read::<RowRate>(text).map(|(value, _)| Self::PerRow(value));
            }
            if reading.kind == UnitKind::PER_PLANT {
                return quantity::read::<PlantRate>(text).map(|(value, _)| Self::PerPlant(value));
            }
            if reading.kind == UnitKind::RATE {
                return quantity::read::<Rate>(text).map(|(value, _)| Self::PerArea(value));
            }
            let text = crate::fault::clip(text);
            Err(Misread::WrongKind { text, noun: NOUN, example: EXAMPLE })
        };
        let goal = read().map_err(|why| misread(item, field, &why))?;
        above_zero(
            item,
            field,
            match goal {
                Self::Table => Decimal::ONE,
                Self::PerArea(rate) => rate.base(),
                Self::PerRow(rate) => rate.base(),
                Self::PerPlant(rate) => rate.base(),
            },
        )?;
        Ok(goal)
    }
    fn schema() -> Json {
        json!({ "type": "string", "examples": ["150 lb per 100 ft2", "8 lb/10 ft", "2 lb/plant", "table"] })
    }
}

impl Value for WorkedIn {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        const KNOWN: [&str; 3] = ["1 day", "injected", "not"];
        let Some(text) = item.get_ref().as_str() else {
            return Err(wrong(item, field, "how soon, in words", "\"1 day\""));
        };
        let words = normal(text);
        match words.as_str() {
            "injected" => return Ok(Self::Injected),
            "not" | "never" | "not at all" | "no" => return Ok(Self::Never),
            "same day" | "at once" | "the same day" => return Ok(Self::Days(1)),
            _ => {}
        }
        let count = words.strip_prefix("within ").unwrap_or(&words);
        let number = count.strip_suffix("days").or_else(|| count.strip_suffix("day"));
        match number.map(|number| number.trim().parse::<u32>()) {
            Some(Ok(days @ 1..=5)) => Ok(Self::Days(days as u8)),
            Some(Ok(_)) => Err(shape::out_of_range(
                place_of(item),
                field,
                text,
                "\"1 day\" to \"5 days\", \"injected\" or \"not\"",
                "measurements of what manure loses to the air go to five days; later it counts as \
                 not worked in",
            )),
            _ => Err(shape::unknown_word(place_of(item), field, text, None, KNOWN)),
        }
    }
    fn schema() -> Json {
        json!({ "type": "string", "examples": ["1 day", "injected", "not"] })
    }
}

impl Value for Reading {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        const NOUN: &str = "a soil figure";
        const EXAMPLE: &str = "41 ppm";
        let text = text_of(item, field, NOUN, EXAMPLE)?.trim();
        let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')));
        let (number, unit) = text.split_at(end.unwrap_or(text.len()));
        let fail = |why: Misread| Err(misread(item, field, &why));
        let short = crate::fault::clip(text);
        if number.is_empty() {
            return fail(Misread::NoNumber { text: short, example: EXAMPLE });
        }
        let unit = match unit.trim().to_lowercase().replace(' ', "").as_str() {
            "" => return fail(Misread::NoUnit { text: short, noun: NOUN, example: EXAMPLE }),
            "ppm" | "mg/kg" => SoilUnit::Ppm,
            "lb/acre" | "lb/ac" | "lbs/acre" | "lbs/ac" | "lb/a" | "lbs/a" => {
                SoilUnit::PoundsPerAcre
            }
            "mg/l" => SoilUnit::MilligramsPerLitre,
            "mg/100g" => SoilUnit::MilligramsPer100Grams,
            _ => {
                return Err(shape::unknown_word(
                    place_of(item),
                    field,
                    unit.trim(),
                    None,
                    ["41 ppm", "82 lb/acre", "30 mg/l", "6 mg/100 g"],
                ));
            }
        };
        // The number is read as parts per million only for its rules: digits, commas, point.
        let (value, _) = match quantity::read::<quantity::Concentration>(&format!("{number} ppm")) {
            Ok(read) => read,
            Err(why) => return fail(why),
        };
        let value = value.ppm();
        if value > Decimal::from(10_000) {
            let reason =
                "no soil of a garden holds more than 1 % of either in a form that plants reach";
            return Err(shape::out_of_range(place_of(item), field, text, "0 to 10,000", reason));
        }
        Ok(Self { value, unit })
    }
    fn schema() -> Json {
        json!({ "type": "string", "examples": ["41 ppm", "82 lb/acre", "30 mg/l", "6 mg/100 g"] })
    }
}
