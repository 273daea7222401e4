//! A source of the grower's own.

use super::super::fields::source;
use super::super::garden::plain;
use super::super::table::{Findings, Table};
use crate::catalogue::Source;
use crate::figure::{Place, Status};

/// Reads one `[[source]]` and where its id stands.
pub fn read(mut table: Table<'_, '_>, into: &mut Findings) -> Option<(Source, Place)> {
    let t = &mut table;
    let id = t.require_text(&source::ID, into);
    let title = t.require_text(&source::TITLE, into);
    let status = t.take(&source::STATUS, into).map(plain);
    let mut text = |field| t.text(field, into).map(|said| said.value.to_owned());
    let (body, number) = (text(&source::BODY), text(&source::NUMBER));
    let (place_in_it, read) = (text(&source::TABLE), text(&source::READ));
    let year = t.take(&source::YEAR, into);
    let (id, title) = (id?, title?);
    let printed = body.is_some() && year.is_some();
    let otherwise = if printed { Status::Published } else { Status::Memory };
    t.sound.then(|| {
        let source = Source {
            id: id.value.to_owned(),
            status: status.map_or(otherwise, |said| said.value),
            title: title.value.to_owned(),
            body,
            number,
            year: year.and_then(|said| u16::try_from(said.value.0).ok()),
            table: place_in_it,
            read,
            from: Vec::new(),
        };
        (source, id.place)
    })
}
