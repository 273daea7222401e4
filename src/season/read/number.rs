//! Plain numbers: counts, years, acidity, ratios.

use rust_decimal::Decimal;
use serde_json::{Value as Json, json};
use toml::de::DeValue;

use super::value::{Item, Value, kind_of, place_of, wrong};
use crate::fault::{Fault, shape};

/// A whole number within limits, both counted in.
pub struct Whole<const LOW: i64, const HIGH: i64>(pub i64);

impl<const LOW: i64, const HIGH: i64> Value for Whole<LOW, HIGH> {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let DeValue::Integer(number) = item.get_ref() else {
            let found = match item.get_ref() {
                DeValue::Float(_) => "a number with decimals",
                other => kind_of(other),
            };
            let (wanted, example) = ("a whole number", example_between(LOW, HIGH));
            return Err(shape::wrong_type(place_of(item), field, found, wanted, example));
        };
        let value = i64::from_str_radix(number.as_str(), number.radix()).ok();
        value.filter(|value| (LOW..=HIGH).contains(value)).map(Self).ok_or_else(|| {
            let high = if HIGH == 1_000_000 { "1,000,000".to_owned() } else { HIGH.to_string() };
            let range = format!("{LOW} to {high}");
            shape::out_of_range(place_of(item), field, number.as_str(), &range, reason_of(field))
        })
    }
    fn schema() -> Json {
        json!({ "type": "integer", "minimum": LOW, "maximum": HIGH })
    }
}

const fn example_between(low: i64, high: i64) -> &'static str {
    match (low, high) {
        (1900, _) => "2027",
        (_, ..=12) => "7",
        _ => "12",
    }
}

/// Why whole numbers of a field end where they do.
fn reason_of(field: &str) -> &'static str {
    match field {
        "year" => "figures here are of our own time",
        "month" => "a year has twelve months",
        "days" => "a season runs over eighteen months, 549 days",
        "year_of_stand" => "no bed crop stands longer than a hundred years",
        _ => "more than a million in one bed is a slip of the pen, and fewer than one is none",
    }
}

/// A plain number with decimals, as a number or a text.
pub fn read_number(
    item: &Item<'_>,
    field: &str,
    example: &str,
) -> Result<(Decimal, String), Fault> {
    let text = match item.get_ref() {
        DeValue::String(text) => text.trim(),
        DeValue::Integer(number) => number.as_str(),
        DeValue::Float(number) => number.as_str(),
        _ => return Err(wrong(item, field, "a plain number", example)),
    };
    let plain =
        text.len() <= 18 && text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '-'));
    match plain.then(|| text.parse().ok()).flatten() {
        Some(number) => Ok((number, text.to_owned())),
        None => Err(shape::wrong_type(
            place_of(item),
            field,
            &format!("`{}`", crate::fault::clip(text)),
            "a plain number without a unit",
            example,
        )),
    }
}

/// Acidity.
pub struct Acidity(pub Decimal);

impl Value for Acidity {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let (number, text) = read_number(item, field, "6.6")?;
        if number < Decimal::TWO || number > Decimal::from(12) {
            let reason = "pH 7 is neutral; no soil that grows food is below 2 or above 12";
            return Err(shape::out_of_range(place_of(item), field, &text, "2 to 12", reason));
        }
        Ok(Self(number))
    }
    fn schema() -> Json {
        json!({ "type": ["number", "string"], "minimum": 2, "maximum": 12 })
    }
}

/// A ratio of two weights.
pub struct Ratio(pub Decimal);

impl Value for Ratio {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let (number, text) = read_number(item, field, "15")?;
        if number < Decimal::ONE || number > Decimal::from(1000) {
            let reason =
                "pure protein has about 3 parts of carbon to one of nitrogen, sawdust about 500";
            return Err(shape::out_of_range(place_of(item), field, &text, "1 to 1000", reason));
        }
        Ok(Self(number))
    }
    fn schema() -> Json {
        json!({ "type": ["number", "string"], "minimum": 1, "maximum": 1000 })
    }
}
