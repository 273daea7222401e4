//! A table of a season file, its values written again as they stand in the text.

use toml::de::{DeTable, DeValue};

/// A table with the text it was read from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tree<'t, 's> {
    /// The text.
    pub source: &'s str,
    /// The table.
    pub table: &'t DeTable<'s>,
}

impl<'t, 's> Tree<'t, 's> {
    /// The value of a key.
    pub fn get(&self, key: &str) -> Option<&'t DeValue<'s>> {
        self.table.iter().find(|(name, _)| name.get_ref() == key).map(|(_, value)| value.get_ref())
    }

    /// The value of a key as it is written.
    pub fn text(&self, key: &str) -> Option<String> {
        let (_, value) = self.table.iter().find(|(name, _)| name.get_ref() == key)?;
        Some(written(self.source, value.get_ref(), value.span()))
    }

    /// Every key, quoted where it must be, and its value as it is written; in the order of the text.
    pub fn entries(&self) -> Vec<(String, String)> {
        let mut all: Vec<_> = self.table.iter().collect();
        all.sort_by_key(|(name, _)| name.span().start);
        all.into_iter()
            .map(|(name, value)| {
                (key(name.get_ref()), written(self.source, value.get_ref(), value.span()))
            })
            .collect()
    }
}

/// A value as it is written; tables and lists, which may be spread over the text, on one line.
fn written(source: &str, value: &DeValue<'_>, span: std::ops::Range<usize>) -> String {
    match value {
        DeValue::Table(table) => {
            let parts: Vec<String> = Tree { source, table }
                .entries()
                .into_iter()
                .map(|(key, text)| format!("{key} = {text}"))
                .collect();
            if parts.is_empty() { "{}".to_owned() } else { format!("{{ {} }}", parts.join(", ")) }
        }
        DeValue::Array(all) => {
            let parts: Vec<String> =
                all.iter().map(|one| written(source, one.get_ref(), one.span())).collect();
            format!("[{}]", parts.join(", "))
        }
        _ => source.get(span).unwrap_or_default().to_owned(),
    }
}

/// A key, bare where TOML allows it.
fn key(name: &str) -> String {
    let bare = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
    if !name.is_empty() && name.chars().all(bare) { name.to_owned() } else { quoted(name) }
}

/// A text in quotes.
pub(super) fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}
