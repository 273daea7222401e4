//! The grower's own crops, materials and sources, added to the catalogue in front of its own.

mod crop;
mod listed;
mod material;
mod source;

pub use listed::{Figures, Row, Rows};

use toml::de::{DeTable, DeValue};

use super::fields::file;
use super::table::{Findings, Table};
use super::value::{Item, place_of};
use crate::catalogue::names::{nearest, normal};
use crate::catalogue::{Catalogue, Source};
use crate::fault::names;
use crate::figure::{Place, Status};

/// Id of the source that stands for what the season file itself says.
pub const OWN_SOURCE: &str = "season-file";

/// Reads all own entries into the catalogue.
pub fn read(root: &mut Table<'_, '_>, catalogue: &mut Catalogue, into: &mut Findings) {
    catalogue.add_source(Source {
        id: OWN_SOURCE.to_owned(),
        status: Status::Memory,
        title: "As the season file says".to_owned(),
        body: None,
        number: None,
        year: None,
        table: None,
        read: None,
        from: Vec::new(),
    });
    let mut taken = Vec::new();
    for table in root.headed(&file::SOURCE, into) {
        if let Some((source, place)) = source::read(table, into)
            && once(&mut taken, "sources", &source.id, place, into)
        {
            catalogue.add_source(source);
        }
    }
    taken.clear();
    for table in root.headed(&file::MATERIAL, into) {
        if let Some((material, place)) = material::read(table, catalogue, into)
            && once(&mut taken, "materials", &material.name, place, into)
        {
            catalogue.add_material(material);
        }
    }
    taken.clear();
    for table in root.headed(&file::CROP, into) {
        if let Some((crop, place)) = crop::read(table, catalogue, into)
            && once(&mut taken, "crops", &crop.name, place, into)
        {
            catalogue.add_crop(crop);
        }
    }
    for field in [file::CROP.name, file::MATERIAL.name] {
        if let Some(item) = root.named(field) {
            sources_known(item, catalogue, into);
        }
    }
}

/// Whether a name is new among the grower's own; tells where it is not.
fn once(
    taken: &mut Vec<(String, Place)>,
    what: &str,
    name: &str,
    place: Place,
    into: &mut Findings,
) -> bool {
    let same = normal(name);
    if let Some((_, first)) = taken.iter().find(|(known, _)| *known == same) {
        into.push(names::said_twice(place, what, name, *first));
        return false;
    }
    taken.push((same, place));
    true
}

/// Every `source = "…"` within own entries must be the id of a source.
fn sources_known(item: &Item<'_>, catalogue: &Catalogue, into: &mut Findings) {
    match item.get_ref() {
        DeValue::Array(all) => all.iter().for_each(|one| sources_known(one, catalogue, into)),
        DeValue::Table(map) => in_table(map, catalogue, into),
        _ => {}
    }
}

fn in_table(map: &DeTable<'_>, catalogue: &Catalogue, into: &mut Findings) {
    for (key, value) in map {
        match (key.get_ref().as_ref(), value.get_ref()) {
            ("source", DeValue::String(id)) if catalogue.source(id).is_none() => {
                let ids: Vec<String> =
                    catalogue.sources().map(|source| source.id.clone()).collect();
                let near = nearest(id, ids.iter().map(String::as_str));
                into.push(names::unknown_source(place_of(value), id, near.as_deref()));
            }
            _ => sources_known(value, catalogue, into),
        }
    }
}
