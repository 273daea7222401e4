//! A bed: its size, its soil, what was and will be spread on it, what grows on it.

use std::sync::Arc;

use super::super::{Amendment, Bed, Feeding, Footprint, History, Irrigation, Planting, Rain, Said};
use super::fields::{bed, water};
use super::garden::{Window, one_rain, plain};
use super::stuff::Known;
use super::table::{Field, Findings, Table};
use super::value::Listed;
use super::{amend, fit, history, planting, shed, soil};
use crate::catalogue::Catalogue;
use crate::fault::{names, shape};

/// What a bed is read with.
pub struct Around<'a> {
    /// The catalogue, with the grower's own entries.
    pub catalogue: &'a Catalogue,
    /// What names of materials mean.
    pub known: &'a Known<'a>,
    /// The season's days.
    pub window: Option<Window>,
    /// Rain on all beds.
    pub rain: &'a [Rain],
    /// Whether the shed has anything to choose from.
    pub stocked: bool,
}

/// A bed that has been read, and the name that paths use: no two beds may have the same.
pub struct Read<'t> {
    /// Its name.
    pub name: Option<Said<&'t str>>,
    /// The name that paths use.
    pub slug: Option<Arc<str>>,
    /// The bed, where nothing is wrong with it.
    pub bed: Option<Bed>,
}

/// Reads a bed.
pub fn read<'t>(mut table: Table<'t, '_>, around: &Around<'_>, into: &mut Findings) -> Read<'t> {
    let name = table.require_text(&bed::NAME, into);
    let slug = name.and_then(|name| slug_of(&mut table, name, into));
    let bed = read_named(table, name, slug.clone(), around, into);
    Read { name, slug, bed }
}

fn read_named(
    mut table: Table<'_, '_>,
    name: Option<Said<&str>>,
    slug: Option<Arc<str>>,
    around: &Around<'_>,
    into: &mut Findings,
) -> Option<Bed> {
    let t = &mut table;
    let called = name.map_or_else(|| "a bed".to_owned(), |name| format!("bed `{}`", name.value));
    let footprint = footprint(t, &called, into);
    let texture = t.take(&bed::TEXTURE, into).map(plain);
    let had_soil = t.has(&bed::SOIL);
    let soil = t.table(&bed::SOIL, into);
    let soil = soil.and_then(|table| soil::read(table, around.window, around.catalogue, into));
    t.sound &= soil.is_some() || !had_soil;
    let mut sound = true;
    let lines = t.listed(&bed::HISTORY, into);
    let history: Vec<History> = all(lines, &mut sound, |line| history::read(line, around, into));
    let lines = t.headed(&bed::AMEND, into);
    let amendments: Vec<Amendment> = all(lines, &mut sound, |line| amend::read(line, around, into));
    let water = irrigations(t, &bed::WATER, into);
    let sides = footprint.and_then(fit::sides);
    let lines = t.headed(&bed::PLANTING, into);
    let mut plantings: Vec<Planting> =
        all(lines, &mut sound, |line| planting::read(line, &called, sides, &water, around, into));
    let feeding = t.table(&bed::FEEDING, into);
    let feeding = feeding.map_or(Some(Feeding::default()), |table| {
        shed::feeding(table, around.known, around.stocked, into)
    });
    sound &= feeding.is_some();
    let lines = t.listed(&bed::RAIN, into);
    let own_rain: Vec<Rain> = all(lines, &mut sound, |line| one_rain(line, around.window, into));
    let under_plastic = t.take(&bed::UNDER_PLASTIC, into).is_some_and(|said| said.value.0);
    plantings.sort_by_key(|planting| planting.planted.value);
    planting::name_all(&mut plantings);
    if let Some(footprint) = footprint {
        fit::check(&called, footprint, &plantings, into);
    }
    let whole = Bed {
        name: name.map(|name| Said::new(name.value.to_owned(), name.place))?,
        slug: slug?,
        footprint: footprint?,
        texture,
        soil,
        history,
        amendments,
        plantings,
        feeding: feeding?,
        rain: around.rain.iter().cloned().chain(own_rain).collect(),
        under_plastic,
        place: t.place,
    };
    (t.sound && sound).then_some(whole)
}

/// Reads each table of a list; one that has a fault is left out and makes the bed unsound.
fn all<'t, 's, T>(
    tables: Vec<Table<'t, 's>>,
    sound: &mut bool,
    read: impl FnMut(Table<'t, 's>) -> Option<T>,
) -> Vec<T> {
    let had = tables.len();
    let read: Vec<T> = tables.into_iter().filter_map(read).collect();
    *sound &= read.len() == had;
    read
}

/// Makes the name that paths use.
fn slug_of(table: &mut Table<'_, '_>, name: Said<&str>, into: &mut Findings) -> Option<Arc<str>> {
    let slug = super::super::slug(name.value);
    if !slug.chars().any(char::is_alphanumeric) {
        table.fault(names::nameless(name.place, name.value), into);
        return None;
    }
    Some(slug.into())
}

/// Reads how large a bed is.
fn footprint(table: &mut Table<'_, '_>, called: &str, into: &mut Findings) -> Option<Footprint> {
    let length = table.take(&bed::LENGTH, into).map(|said| Said::new(said.value.0, said.place));
    let width = table.take(&bed::WIDTH, into).map(|said| Said::new(said.value.0, said.place));
    let area = table.take(&bed::AREA, into).map(|said| Said::new(said.value.0, said.place));
    let volume = table.take(&bed::VOLUME, into).map(|said| Said::new(said.value.0, said.place));
    let container = table.take(&bed::CONTAINER, into).is_some_and(|said| said.value.0);
    let count = table.take(&bed::COUNT, into);
    let count =
        count.map(|said| Said::new(u32::try_from(said.value.0).unwrap_or(u32::MAX), said.place));
    let (has_length, has_width) = (table.has(&bed::LENGTH), table.has(&bed::WIDTH));
    if container {
        if has_length || has_width {
            let (one, at) = if has_length {
                ("length", table.key(&bed::LENGTH))
            } else {
                ("width", table.key(&bed::WIDTH))
            };
            let way = "pots are measured by `volume` and `count`; a raised bed by its sides, \
                       without `container`";
            let other = table.key(&bed::CONTAINER);
            table.fault(shape::not_together(at, one, "container", other, way), into);
        }
        table.must_have(&bed::VOLUME, into)?;
        let count = count.unwrap_or(Said::new(1, table.place));
        return Some(Footprint::Containers { volume: volume?, count, area });
    }
    for (there, field, at) in [
        (table.has(&bed::VOLUME), "volume", table.key(&bed::VOLUME)),
        (table.has(&bed::COUNT), "count", table.key(&bed::COUNT)),
    ] {
        if there && !table.has(&bed::CONTAINER) {
            let why = "only pots and tubs have it";
            table.lacks(shape::needs_other(at, field, "container", why, "true"), into);
        }
    }
    if table.has(&bed::AREA) && (has_length || has_width) {
        let (one, at) = if has_length {
            ("length", table.key(&bed::LENGTH))
        } else {
            ("width", table.key(&bed::WIDTH))
        };
        let why = "`length` and `width`, or `area` alone";
        let other = table.key(&bed::AREA);
        table.fault(shape::either_or(at, one, "area", other, why), into);
        return None;
    }
    match (has_length, has_width, table.has(&bed::AREA)) {
        (true, true, _) => Some(Footprint::Sides { length: length?, width: width? }),
        (true, false, _) => {
            table.must_have(&bed::WIDTH, into)?;
            None
        }
        (false, true, _) => {
            table.must_have(&bed::LENGTH, into)?;
            None
        }
        (false, false, true) => area.map(Footprint::Area),
        (false, false, false) => {
            let ways = "`length = \"24 ft\"` and `width = \"4 ft\"`, or `area = \"96 ft2\"`, or for \
                        pots `container = true`, `volume = \"10 gal\"` and `count = 12`";
            table.lacks(shape::none_of(table.place, called, "how large it is", ways), into);
            None
        }
    }
}

/// Reads irrigation with nitrate in it.
pub fn irrigations(
    table: &mut Table<'_, '_>,
    field: &Field<Listed<water::Here>>,
    into: &mut Findings,
) -> Vec<Irrigation> {
    let lines = table.listed(field, into);
    let mut sound = true;
    let water = all(lines, &mut sound, |mut line| {
        let nitrate = line.require(&water::NITRATE, into);
        let depth = line.require(&water::DEPTH, into);
        let (nitrate, depth) = (nitrate?, depth?);
        line.sound.then_some(Irrigation {
            nitrate: Said::new(nitrate.value.0, nitrate.place),
            depth: Said::new(depth.value.0, depth.place),
        })
    });
    table.sound &= sound;
    water
}
