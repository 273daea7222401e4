//! The rules and sources behind some steps, each named once.

use super::{Places, cite};
use crate::figure::{Origin, Rule};
use crate::report::document::StepLine;
use crate::report::text::Text;

/// The rules and sources referred to so far, in the order of their numbers.
#[derive(Debug, Default)]
pub(super) struct Legend {
    entries: Vec<(String, Text)>,
    /// Whether a line of the season file was named.
    pub(super) lines: bool,
}

impl Legend {
    /// The anchor of an entry.
    pub(super) fn anchor(number: usize) -> String {
        format!("rule/{number}")
    }

    /// Whether an anchor is that of an entry.
    pub(super) fn is_anchor(anchor: &str) -> bool {
        anchor.strip_prefix("rule/").is_some_and(|tail| tail.bytes().all(|b| b.is_ascii_digit()))
    }

    /// The number of a rule.
    pub(super) fn rule(&mut self, rule: &Rule, places: &Places<'_>) -> usize {
        self.number(rule.key, || {
            let source = match rule.source.and_then(|id| places.catalogue.source(id)) {
                Some(source) => cite(&source),
                None => format!("[{}]", rule.status.words()),
            };
            Text::from(super::capital(rule.says)).dim(format!(" {source}"))
        })
    }

    /// The number of a list's entry, where the origin is one.
    pub(super) fn listed(&mut self, origin: &Origin, places: &Places<'_>) -> Option<usize> {
        let Origin::Listed { list, entry, source } = origin else { return None };
        Some(self.number(&format!("{list}/{entry}/{source}"), || {
            Text::from(format!("The list of {list}, {entry}. ")).dim(places.cite(source))
        }))
    }

    fn number(&mut self, key: &str, said: impl FnOnce() -> Text) -> usize {
        if let Some(at) = self.entries.iter().position(|(one, _)| one == key) {
            return at + 1;
        }
        self.entries.push((key.to_owned(), said()));
        self.entries.len()
    }

    /// All entries, one line each.
    pub(super) fn told(&self) -> Vec<StepLine> {
        let line = |(at, (_, text)): (usize, &(String, Text))| StepLine {
            depth: 0,
            number: at + 1,
            text: text.clone(),
            anchor: Some(Self::anchor(at + 1)),
        };
        self.entries.iter().enumerate().map(line).collect()
    }
}
