//! The built-in lists against what they promise and against the publications they stand for.

mod crops;
mod materials;
mod soil_tests;
mod sources;

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use topdress::catalogue::names::normal;

/// Reads a case file: comma-separated, `#` starts a comment line.
pub fn cases(path: &str) -> Vec<BTreeMap<String, String>> {
    let full = format!("{}/tests/cases/{path}", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_path(&full)
        .unwrap_or_else(|fault| panic!("{full}: {fault}"));
    let cases: Vec<_> = reader
        .deserialize()
        .map(|row| row.unwrap_or_else(|fault| panic!("{full}: {fault}")))
        .collect();
    assert!(!cases.is_empty(), "{full} holds no case");
    cases
}

/// A decimal from a text.
pub fn decimal(text: &str) -> Decimal {
    text.parse().unwrap_or_else(|_| panic!("`{text}` is not a number"))
}

/// Fails where two entries answer to one name.
pub fn no_name_twice<'a>(entries: impl Iterator<Item = (&'a str, &'a [String])>) {
    let mut seen: BTreeMap<String, &str> = BTreeMap::new();
    for (name, aliases) in entries {
        for one in std::iter::once(name).chain(aliases.iter().map(String::as_str)) {
            if let Some(other) = seen.insert(normal(one), name) {
                panic!("`{one}` names both {other} and {name}");
            }
        }
    }
}
