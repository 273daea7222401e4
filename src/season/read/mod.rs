//! Reading a season file: syntax, then the shape of every table, then what it means. Each table
//! whose shape is sound is looked at for its meaning, so that all faults that do not depend on one
//! another are told together.

mod amend;
mod bed;
mod fields;
mod fit;
mod garden;
mod history;
mod life;
mod measure;
mod number;
mod own;
mod planting;
mod reword;
mod schema;
mod shed;
mod soil;
mod stuff;
mod syntax;
mod table;
mod value;
mod word;
mod words;

pub use schema::schema;
pub use stuff::labelled;

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::sync::Arc;

use toml::de::{DeTable, DeValue};

use super::{Bed, Feeding, Season, ShedItem, Supplier};
use crate::catalogue::Catalogue;
use crate::fault::{Fault, in_order, names, shape};
use crate::figure::Place;
use crate::hands::of_each;
use fields::file;
use stuff::Known;
use table::{Findings, Table};

/// Reads a season from the text of its file.
///
/// # Errors
/// Every fault found, in the order of their places. Places are byte offsets into `source`.
pub fn read(source: &str, catalogue: Arc<Catalogue>) -> Result<Season, Vec<Fault>> {
    let mut into = Findings::default();
    if says_nothing(source) {
        return Err(vec![crate::fault::syntax::empty_file()]);
    }
    let (tree, errors) = DeTable::parse_recoverable(source);
    let season = if errors.is_empty() {
        let season = whole(tree.get_ref(), catalogue, &mut into);
        free(tree.into_inner());
        season
    } else {
        let text = syntax::clean(source, errors, &mut into);
        text.and_then(|text| {
            let (tree, _) = DeTable::parse_recoverable(&text);
            whole(tree.get_ref(), catalogue, &mut into)
        })
    };
    match season {
        Some(season) if into.faults.is_empty() => Ok(season),
        _ => Err(in_order(into.faults)),
    }
}

/// Frees the tree of a file, by many hands: that of a large garden holds half a million pieces.
fn free(tree: DeTable<'_>) {
    for (_, value) in tree {
        if let DeValue::Array(all) = value.into_inner() {
            of_each(all.into_iter().collect(), |_, one| drop(one));
        }
    }
}

/// Whether a file holds nothing but blanks and remarks.
fn says_nothing(source: &str) -> bool {
    let text = source.trim_start_matches('\u{feff}');
    text.lines().all(|line| line.trim().is_empty() || line.trim_start().starts_with('#'))
}

fn whole(tree: &DeTable<'_>, catalogue: Arc<Catalogue>, into: &mut Findings) -> Option<Season> {
    let mut root = Table::open::<file::Here>(tree, Place::default(), into);
    let garden = match root.table(&file::GARDEN, into) {
        Some(table) => Some(garden::read(table, into)),
        None => {
            if !root.has(&file::GARDEN) {
                root.lacks(shape::missing_part("[garden]", "year = 2027"), into);
            }
            None
        }
    };
    let window = garden.as_ref().and_then(|garden| garden.window);
    let mut catalogue = catalogue;
    if Arc::get_mut(&mut catalogue).is_none() {
        // Someone else holds it: own entries go into one of this season's own.
        catalogue = Arc::new(Catalogue::new());
    }
    if let Some(catalogue) = Arc::get_mut(&mut catalogue) {
        own::read(&mut root, catalogue, into);
    }
    if let Some(garden) = garden.as_ref().and_then(|read| read.garden.as_ref()) {
        garden::region_known(garden, &catalogue, into);
    }
    let mut known = Known::new(&catalogue, into.broken.clone());
    let (suppliers, suppliers_sound) = suppliers(&mut root, into);
    let entries = root.headed(&file::SHED, into);
    let stocked = !entries.is_empty();
    let shed: Vec<ShedItem> = entries
        .into_iter()
        .filter_map(|table| shed::item(table, &suppliers, suppliers_sound, &mut known, into))
        .collect();
    let feeding = root.table(&file::FEEDING, into);
    let feeding = feeding
        .map_or(Some(Feeding::default()), |table| shed::feeding(table, &known, stocked, into));
    let rain = garden.as_ref().map_or(&[][..], |garden| &garden.rain);
    let around = bed::Around { catalogue: &catalogue, known: &known, window, rain, stocked };
    let tables = root.headed(&file::BED, into);
    if tables.is_empty() && !root.has(&file::BED) {
        let example = "name = \"north 1\"\nlength = \"24 ft\"\nwidth = \"4 ft\"";
        root.lacks(shape::missing_part("[[bed]]", example), into);
    }
    let had = tables.len();
    let beds = beds(tables, &around, into);
    debug_assert!(beds.len() == had || !into.faults.is_empty(), "a bed is lost in silence");
    Some(Season { garden: garden?.garden?, feeding: feeding?, shed, suppliers, beds, catalogue })
}

/// Reads all beds, by many hands, and sees that no two have the same name.
fn beds(tables: Vec<Table<'_, '_>>, around: &bed::Around<'_>, into: &mut Findings) -> Vec<Bed> {
    let shared = &*into;
    let read = of_each(tables, |_, table| {
        let mut found = shared.beside();
        (bed::read(table, around, &mut found), found.faults)
    });
    let mut taken: BTreeMap<Arc<str>, Place> = BTreeMap::new();
    let mut beds = Vec::with_capacity(read.len());
    for (bed::Read { name, slug, bed }, faults) in read {
        into.faults.extend(faults);
        let first = slug.zip(name).and_then(|(slug, name)| match taken.entry(slug) {
            Entry::Occupied(first) => Some((name, *first.get())),
            Entry::Vacant(free) => {
                free.insert(name.place);
                None
            }
        });
        match first {
            Some((name, first)) => {
                into.push(names::said_twice(name.place, "beds", name.value, first));
            }
            None => beds.extend(bed),
        }
    }
    beds
}

fn suppliers(root: &mut Table<'_, '_>, into: &mut Findings) -> (Vec<Supplier>, bool) {
    let tables = root.headed(&file::SUPPLIER, into);
    let had = tables.len();
    let mut all: Vec<Supplier> = Vec::with_capacity(had);
    for table in tables {
        let Some(supplier) = shed::supplier(table, into) else { continue };
        let same =
            |one: &&Supplier| super::slug(&one.name.value) == super::slug(&supplier.name.value);
        if let Some(first) = all.iter().find(same) {
            let (name, first) = (&supplier.name, first.name.place);
            into.push(names::said_twice(name.place, "suppliers", &name.value, first));
        }
        all.push(supplier);
    }
    let sound = all.len() == had;
    (all, sound)
}

#[cfg(test)]
mod tests;
