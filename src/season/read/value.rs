//! What stands after a field's name: the kinds of value a season file has, each with its reading.

use std::marker::PhantomData;

use serde_json::{Value as Json, json};
use toml::Spanned;
use toml::de::DeValue;

use crate::calendar::Date;
use crate::fault::{Fault, dates, shape};
use crate::figure::Place;
use crate::nutrient::{Analysis, read_analysis};
use crate::quantity::{self, Bounded, Length, Misread, Money, Quantity, Spread};

/// A value as parsed, with its place in the file.
pub type Item<'s> = Spanned<DeValue<'s>>;

/// A kind of value: how it is read, and its shape for editors.
pub trait Value: Sized {
    /// Reads it; `field` is named in the fault.
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault>;
    /// Its JSON Schema.
    fn schema() -> Json;
}

/// Where a value stands.
pub fn place_of<T>(item: &Spanned<T>) -> Place {
    let span = item.span();
    let at = |byte: usize| u32::try_from(byte).unwrap_or(u32::MAX);
    Place { start: at(span.start), end: at(span.end) }
}

/// What a value is, in a grower's words.
pub fn kind_of(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text in quotes",
        DeValue::Integer(_) | DeValue::Float(_) => "a bare number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

/// Makes the fault of a value of the wrong kind.
pub fn wrong(item: &Item<'_>, field: &str, wanted: &str, example: &str) -> Fault {
    shape::wrong_type(place_of(item), field, kind_of(item.get_ref()), wanted, example)
}

/// A text for an amount: a bare number is told that it needs a unit.
fn amount_text<'v>(
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

fn text_schema(example: &str) -> Json {
    json!({ "type": "string", "examples": [example] })
}

/// Makes a fault of a text that is not the amount wanted.
pub fn misread(item: &Item<'_>, field: &str, why: &Misread) -> Fault {
    shape::misread(place_of(item), field, why)
}

/// An amount, which may be nothing.
pub struct Any<Q>(pub Q);

impl<Q: Bounded> Value for Any<Q> {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let text = amount_text(item, field, Q::NOUN, Q::EXAMPLE)?;
        quantity::read(text).map(|(value, _)| Self(value)).map_err(|why| misread(item, field, &why))
    }
    fn schema() -> Json {
        text_schema(Q::EXAMPLE)
    }
}

/// An amount above nothing.
pub struct Above<Q>(pub Q);

impl<Q: Bounded> Value for Above<Q> {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let Any(value) = Any::<Q>::read(item, field)?;
        if value.is_zero() {
            let written = item.get_ref().as_str().unwrap_or_default();
            return Err(shape::not_above_zero(place_of(item), field, written));
        }
        Ok(Self(value))
    }
    fn schema() -> Json {
        text_schema(Q::EXAMPLE)
    }
}

/// An amount or a range of amounts.
pub struct Range<Q>(pub Spread<Q>);

impl<Q: Bounded> Value for Range<Q> {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let text = amount_text(item, field, Q::NOUN, Q::EXAMPLE)?;
        quantity::read_range(text)
            .map(|(low, high)| Self(Spread { low, high }))
            .map_err(|why| misread(item, field, &why))
    }
    fn schema() -> Json {
        text_schema(Q::EXAMPLE)
    }
}

/// A price: a text or a bare number.
pub struct Price(pub Money);

impl Value for Price {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let text = match item.get_ref() {
            DeValue::String(text) => text,
            DeValue::Integer(number) => number.as_str(),
            DeValue::Float(number) => number.as_str(),
            _ => return Err(wrong(item, field, Money::NOUN, "\"13.50\"")),
        };
        quantity::read(text).map(|(value, _)| Self(value)).map_err(|why| misread(item, field, &why))
    }
    fn schema() -> Json {
        json!({ "type": ["string", "number"], "examples": ["13.50"] })
    }
}

/// Distance in the row and between rows.
pub struct Spacing(pub (Length, Length));

impl Value for Spacing {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        const EXAMPLE: &str = "12 in x 18 in";
        let text = amount_text(item, field, "a distance", EXAMPLE)?;
        let pair = quantity::read_length_pair(text).map_err(|why| misread(item, field, &why))?;
        if pair.0.is_zero() || pair.1.is_zero() {
            return Err(shape::not_above_zero(place_of(item), field, text));
        }
        Ok(Self(pair))
    }
    fn schema() -> Json {
        text_schema("12 in x 18 in")
    }
}

/// True or false.
pub struct Flag(pub bool);

impl Value for Flag {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        match item.get_ref() {
            DeValue::Boolean(value) => Ok(Self(*value)),
            _ => Err(wrong(item, field, "`true` or `false`", "true")),
        }
    }
    fn schema() -> Json {
        json!({ "type": "boolean" })
    }
}

impl Value for Date {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let place = place_of(item);
        match item.get_ref() {
            DeValue::Datetime(said) => {
                let date =
                    said.date.ok_or_else(|| dates::not_a_date(place, field, &said.to_string()))?;
                if said.time.is_some() {
                    return Err(dates::time_of_day(place, field, &date.to_string()));
                }
                let year = i16::try_from(date.year).ok();
                year.and_then(|year| Self::new(year, date.month, date.day))
                    .ok_or_else(|| dates::not_a_date(place, field, &said.to_string()))
            }
            DeValue::String(text) => {
                Self::read(text).ok_or_else(|| dates::not_a_date(place, field, text))
            }
            DeValue::Integer(number) => Err(dates::not_a_date(place, field, number.as_str())),
            DeValue::Float(number) => Err(dates::not_a_date(place, field, number.as_str())),
            _ => Err(wrong(item, field, "a date", "2027-05-10")),
        }
    }
    fn schema() -> Json {
        json!({ "type": "string", "format": "date" })
    }
}

impl Value for Analysis {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let DeValue::String(text) = item.get_ref() else {
            return Err(wrong(item, field, "an analysis in quotes", "\"10-10-10\""));
        };
        read_analysis(text).map_err(|why| shape::bad_analysis(place_of(item), &why))
    }
    fn schema() -> Json {
        json!({ "type": "string", "examples": ["10-10-10", "16-4-8 elemental"] })
    }
}

/// Texts in a list, or a single one.
pub struct Texts(pub Vec<String>);

impl Value for Texts {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let all = match item.get_ref() {
            DeValue::Array(all) => all,
            _ => std::slice::from_ref(item),
        };
        let texts: Result<Vec<String>, Fault> = all
            .iter()
            .map(|one| match one.get_ref().as_str() {
                Some(text) if !text.trim().is_empty() => Ok(text.trim().to_owned()),
                Some(_) => Err(shape::empty_text(place_of(one), field, "[\"one\", \"two\"]")),
                None => Err(wrong(one, field, "texts in quotes", "[\"one\", \"two\"]")),
            })
            .collect();
        texts.map(Self)
    }
    fn schema() -> Json {
        let text = json!({ "type": "string", "minLength": 1 });
        json!({ "anyOf": [text, { "type": "array", "items": text }] })
    }
}

/// A text that is read where its meaning is known: a name. Read with `Table::text`.
pub struct Text;

/// A table under a field. Read with `Table::table`.
pub struct One<S>(PhantomData<S>);

/// Tables each under its own `[[heading]]`. Read with `Table::tables`.
pub struct Headed<S>(PhantomData<S>);

/// Inline tables in a list, or a single one. Read with `Table::tables`.
pub struct Listed<S>(PhantomData<S>);

/// A name, a list of names, or the word "best". Read by `feeding`.
pub struct Names;
