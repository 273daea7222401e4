//! Words out of a few, each with its meaning.

use serde_json::{Value as Json, json};

use super::value::{Item, Value, place_of, wrong};
use crate::catalogue::names::{nearest, same};
use crate::fault::{Fault, shape};

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
        let same = |known: &str| known == word || same(known, word);
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
            let near = nearest(text, known());
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
