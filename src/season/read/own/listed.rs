//! Values in the catalogue's own shape. The catalogue names a source for every figure; the grower
//! need not, and what has none is the season file's own.

use std::borrow::Cow;

use serde::de::DeserializeOwned;
use serde_json::{Value as Json, json};
use toml::Spanned;
use toml::de::{DeTable, DeValue, ValueDeserializer};

use super::super::value::{Item, Value, place_of, wrong};
use super::OWN_SOURCE;
use crate::catalogue::Sourced;
use crate::catalogue::names::nearest;
use crate::fault::{Fault, shape};
use crate::figure::Place;

/// One row of figures, such as a supply row.
pub struct Row<T>(pub T);

/// Several rows, or a single one.
pub struct Rows<T>(pub Vec<T>);

/// One figure, alone or as `{ value = …, source = … }`.
pub struct Figures<T>(pub Sourced<T>);

impl<T: DeserializeOwned> Value for Row<T> {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        if !item.get_ref().is_table() {
            return Err(wrong(item, field, "a row of figures in braces", "{ … }"));
        }
        decode(sourced(item, field), field).map(Self)
    }
    fn schema() -> Json {
        json!({ "type": "object" })
    }
}

impl<T: DeserializeOwned> Value for Rows<T> {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let Some(all) = item.get_ref().as_array() else {
            return Row::read(item, field).map(|Row(row)| Self(vec![row]));
        };
        let rows: Result<Vec<T>, Fault> =
            all.iter().map(|one| Row::read(one, field).map(|Row(row)| row)).collect();
        rows.map(Self)
    }
    fn schema() -> Json {
        json!({ "anyOf": [{ "type": "object" }, { "type": "array", "items": { "type": "object" } }] })
    }
}

impl<T: DeserializeOwned> Value for Figures<T> {
    fn read(item: &Item<'_>, field: &str) -> Result<Self, Fault> {
        let whole = match item.get_ref() {
            DeValue::Table(map) if map.contains_key("value") => sourced(item, field),
            _ => {
                let mut map = DeTable::new();
                map.insert(key("value"), item.clone());
                sourced(&Spanned::new(item.span(), DeValue::Table(map)), field)
            }
        };
        decode(whole, field).map(Self)
    }
    fn schema() -> Json {
        json!({})
    }
}

fn key(name: &'static str) -> Spanned<Cow<'static, str>> {
    Spanned::new(0..0, Cow::Borrowed(name))
}

/// The same table with the season file as its source where it names none; removals, of which the
/// catalogue has several sets, are a set of their own.
fn sourced<'s>(item: &Item<'s>, field: &str) -> Item<'s> {
    let mut item = item.clone();
    let span = item.span();
    if let DeValue::Table(map) = item.get_mut() {
        let mut own = |name: &'static str, text: &'static str| {
            if !map.contains_key(name) {
                let text = DeValue::String(Cow::Borrowed(text));
                map.insert(key(name), Spanned::new(span.clone(), text));
            }
        };
        own("source", OWN_SOURCE);
        if field == "removal" {
            own("set", "own");
        }
    }
    item
}

/// Reads a value as the catalogue reads its own, and turns what is wrong into a grower's words.
fn decode<T: DeserializeOwned>(item: Item<'_>, field: &str) -> Result<T, Fault> {
    let whole = place_of(&item);
    T::deserialize(ValueDeserializer::from(item)).map_err(|error| {
        let place = error.span().map_or(whole, |span| {
            let at = |byte: usize| u32::try_from(byte).unwrap_or(u32::MAX);
            Place { start: at(span.start), end: at(span.end) }
        });
        reword(place, field, error.message())
    })
}

fn reword(place: Place, field: &str, message: &str) -> Fault {
    let mut quoted = message.split('`').skip(1).step_by(2);
    let first = quoted.next().unwrap_or_default();
    let known: Vec<&str> = quoted.collect();
    let near = || nearest(first, known.iter().copied());
    if message.starts_with("unknown field") {
        return shape::unknown_field(place, first, field, near().as_deref(), &known);
    }
    if message.starts_with("unknown variant") {
        return shape::unknown_word(place, field, first, near().as_deref(), known);
    }
    if message.starts_with("missing field") {
        return shape::missing_field(place, field, first, "the figures need it", "…");
    }
    if message.starts_with("invalid") {
        return shape::wrong_figures(place, field);
    }
    // What the quantities say of themselves: what is wrong, and after it how to mend it.
    let (what, mend) =
        message.split_once("; ").unwrap_or((message, "see `topdress catalogue crops`"));
    Fault::new(place, format!("`{field}`: {what}"), mend)
}
