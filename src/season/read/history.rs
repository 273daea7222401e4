//! What happened on a bed before: compost and manure of earlier years, cover crops.

use super::super::{History, PastApplication, Said};
use super::amend::measure;
use super::bed::Around;
use super::fields::history;
use super::garden::{in_season, plain};
use super::stuff::{overrides, resolve};
use super::table::{Field, Findings, Table};
use super::words::PastKind;
use crate::fault::{dates, names, shape};

/// The compost of a history that names none.
pub const PLAIN_COMPOST: &str = "mixed compost";

/// The manure of a history that names none.
pub const PLAIN_MANURE: &str = "cattle manure";

/// How far back history may reach, in years.
const OLDEST_YEARS: i16 = 30;

/// Reads one line of history.
pub fn read(mut table: Table<'_, '_>, around: &Around<'_>, into: &mut Findings) -> Option<History> {
    let kind = table.require(&history::KIND, into).map(plain)?;
    match kind.value {
        PastKind::CoverCrop => cover(table, around, into),
        PastKind::Compost | PastKind::Manure => past(table, kind, around, into),
    }
}

/// A field that belongs to another kind of history.
fn misplaced<T>(t: &mut Table<'_, '_>, field: &Field<T>, kind: Said<&str>, into: &mut Findings) {
    if t.has(field) {
        let at = t.key(field);
        t.fault(shape::field_of_another_kind(at, field.name, kind.value, kind.place), into);
    }
}

fn past(
    mut table: Table<'_, '_>,
    kind: Said<PastKind>,
    around: &Around<'_>,
    into: &mut Findings,
) -> Option<History> {
    let t = &mut table;
    let compost = kind.value == PastKind::Compost;
    let plain_name = if compost { PLAIN_COMPOST } else { PLAIN_MANURE };
    let word = Said::new(if compost { "compost" } else { "manure" }, kind.place);
    misplaced(t, &history::CROP, word, into);
    misplaced(t, &history::BIOMASS, word, into);
    misplaced(t, &history::NITROGEN, word, into);
    misplaced(t, &history::KILLED, word, into);
    t.must_have(&history::YEAR, into);
    let year = t.take(&history::YEAR, into);
    let year = year.map(|said| Said::new(i16::try_from(said.value.0).unwrap_or(0), said.place));
    if let (Some(year), Some(window)) = (year, around.window) {
        if year.value >= window.year {
            t.fault(dates::year_not_past(year.place, year.value, window.year), into);
        } else if year.value < window.year - OLDEST_YEARS {
            let range = format!("{} to {}", window.year - OLDEST_YEARS, window.year - 1);
            let reason = "what was spread longer ago is part of the soil's organic matter";
            let text = year.value.to_string();
            t.fault(shape::out_of_range(year.place, "year", &text, &range, reason), into);
        }
    }
    let had = t.has(&history::DEPTH) || t.has(&history::AMOUNT) || t.has(&history::RATE);
    let amount = measure(t, &history::DEPTH, &history::AMOUNT, &history::RATE, into);
    let own = overrides(t, into);
    let said = t.text(&history::MATERIAL, into);
    let name = if t.has(&history::MATERIAL) { said? } else { Said::new(plain_name, kind.place) };
    let stuff = resolve(t, name, own, around.known, into)?;
    let (year, amount) = (year?, if had { Some(amount?) } else { None });
    let past = PastApplication { stuff, year, amount };
    t.sound.then_some(if compost { History::Compost(past) } else { History::Manure(past) })
}

fn cover(mut table: Table<'_, '_>, around: &Around<'_>, into: &mut Findings) -> Option<History> {
    let t = &mut table;
    let kind = Said::new("a cover crop", t.key(&history::KIND));
    misplaced(t, &history::YEAR, kind, into);
    misplaced(t, &history::MATERIAL, kind, into);
    misplaced(t, &history::DEPTH, kind, into);
    misplaced(t, &history::AMOUNT, kind, into);
    misplaced(t, &history::RATE, kind, into);
    t.must_have(&history::CROP, into);
    let name = t.text(&history::CROP, into);
    let biomass = t.take(&history::BIOMASS, into);
    let nitrogen = t.take(&history::NITROGEN, into);
    t.must_have(&history::KILLED, into);
    let killed = t.take(&history::KILLED, into);
    if let Some(killed) = killed {
        in_season(t, killed, "killed", around.window, into);
    }
    let name = name?;
    let Some(crop) = around.catalogue.crop(name.value) else {
        if into.knows_broken(name.value) {
            return None;
        }
        let near = around.catalogue.nearest_crop(name.value);
        let what = "the history of this bed";
        t.fault(names::unknown_crop(name.place, what, name.value, near.as_deref()), into);
        return None;
    };
    if nitrogen.is_none() && !t.has(&history::NITROGEN) && crop.cover_nitrogen.is_none() {
        t.lacks(names::cover_nitrogen_unknown(name.place, &crop.name), into);
    }
    let killed = killed?;
    t.sound.then(|| History::CoverCrop {
        crop: Said::new(crop, name.place),
        biomass: biomass.map(|said| Said::new(said.value.0, said.place)),
        nitrogen: nitrogen.map(|said| Said::new(said.value.0, said.place)),
        killed,
    })
}
