//! What stands after a field's name: the kinds of value a season file has, each with its reading.

use std::marker::PhantomData;

use rust_decimal::Decimal;
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

/// A word out of a few, each with its meaning.
pub trait Word: Copy + 'static {
    /// The words; the first of each meaning is the one shown.
    const WORDS: &'static [(&'static str, Self)];
}

/// The word shown for a meaning.
pub fn word_of<W: Word + PartialEq>(meaning: W) -> &'static str {
    W::WORDS.iter().find(|(_, of)| *of == meaning).map_or("", |(word, _)| *word)
}

/// One of a few words.
pub struct OneOf<W>(pub W);

impl<W: Word> OneOf<W> {
    /// Finds the meaning of a word, in any spelling of it.
    pub fn find(word: &str) -> Option<W> {
        let same = |known: &str| {
            known == word
                || crate::catalogue::names::normal(known) == crate::catalogue::names::normal(word)
        };
        W::WORDS.iter().find(|(known, _)| same(known)).map(|(_, meaning)| *meaning)
    }
}

impl<W: Word> Value for OneOf<W> {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let known = || W::WORDS.iter().map(|(word, _)| *word);
        let Some(text) = item.get_ref().as_str() else {
            let example = format!("\"{}\"", known().next().unwrap_or_default());
            return Err(wrong(item, field, "a word in quotes", &example));
        };
        Self::find(text).map(Self).ok_or_else(|| {
            let near = crate::catalogue::names::nearest(text, known());
            shape::unknown_word(place_of(item), field, text, near.as_deref(), known())
        })
    }
    fn schema() -> Json {
        let words: Vec<&str> = W::WORDS.iter().map(|(word, _)| *word).collect();
        json!({ "enum": words })
    }
}

/// A list of words, each out of a few.
pub struct SomeOf<W>(pub Vec<W>);

impl<W: Word> Value for SomeOf<W> {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let Some(all) = item.get_ref().as_array() else {
            return OneOf::read(item, field).map(|OneOf(word)| Self(vec![word]));
        };
        let words: Result<Vec<W>, Fault> =
            all.iter().map(|one| OneOf::read(one, field).map(|OneOf(word)| word)).collect();
        words.map(Self)
    }
    fn schema() -> Json {
        json!({ "type": "array", "items": OneOf::<W>::schema() })
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
