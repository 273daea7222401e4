//! Next year's season file: this year's with a new year, its plantings left out, and what they leave
//! behind written in.
//!
//! What is carried is written as it stands in this year's file, quantity for quantity. Remarks are
//! not carried; the old file keeps them.

mod bed;
mod stand;
mod tree;

use toml::de::{DeTable, DeValue};

use crate::record::Applied;
use crate::season::Season;
use tree::Tree;

/// What next year's file is written from.
#[derive(Clone, Copy, Debug)]
pub struct Carried<'a> {
    /// The season.
    pub season: &'a Season,
    /// The text it was read from.
    pub source: &'a str,
    /// What was recorded in it.
    pub applied: &'a [Applied],
}

/// Why nothing can be carried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotToml;

/// The tables of a season file in the order they are written.
const ORDER: [&str; 8] =
    ["garden", "feeding", "source", "material", "crop", "supplier", "shed", "bed"];

/// Writes next year's season file.
///
/// # Errors
/// Where the text is not the TOML that the season was read from.
pub fn carry(carried: &Carried<'_>) -> Result<String, NotToml> {
    // A byte order mark is no part of what is carried.
    let source = carried.source.strip_prefix('\u{feff}').unwrap_or(carried.source);
    let parsed = DeTable::parse(source).map_err(|_| NotToml)?;
    let tree = Tree { source, table: parsed.get_ref() };
    let year = carried.season.garden.year.value;
    let mut out = format!(
        "# Season {next}, carried over from {year}. Beds, soil tests, compost and manure are\n\
         # kept, and so is what stands for years; write in what else will grow, and weigh again what is left in the shed.\n",
        next = year + 1,
    );
    for name in ORDER {
        let Some(value) = tree.get(name) else { continue };
        match value {
            DeValue::Table(table) => {
                out += &format!("\n[{name}]\n");
                let inner = Tree { source, table };
                for (key, text) in inner.entries() {
                    match (name, key.as_str()) {
                        ("garden", "year") => out += &format!("year = {}\n", year + 1),
                        // This year's rain says nothing of the next.
                        ("garden", "rain") => {}
                        _ => out += &format!("{key} = {text}\n"),
                    }
                }
            }
            DeValue::Array(all) => {
                for (at, one) in all.iter().enumerate() {
                    let DeValue::Table(table) = one.get_ref() else { continue };
                    let inner = Tree { source, table };
                    out += &format!("\n[[{name}]]\n");
                    if name == "bed" {
                        out += &bed::write(carried, at, &inner);
                    } else {
                        for (key, text) in inner.entries() {
                            out += &format!("{key} = {text}\n");
                        }
                    }
                }
            }
            _ => {}
        }
    }
    Ok(out)
}
