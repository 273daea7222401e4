//! A planting: a crop on part of a bed for part of a season.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::super::{Extent, Given, Irrigation, Planting, Said, Yield};
use super::bed::{Around, irrigations};
use super::fields::{Count, need, planting};
use super::garden::plain;
use super::life;
use super::table::{Findings, Table};
use super::value::Range;
use super::words::Residues;
use crate::fault::{names, shape, sums};
use crate::quantity::{Length, Rate, Spread, significant};

/// Length and width of a bed, where it has them.
pub type Sides = (Said<Length>, Said<Length>);

/// Reads one `[[bed.planting]]`.
pub fn read(
    mut table: Table<'_, '_>,
    bed: &str,
    sides: Option<Sides>,
    bed_water: &[Irrigation],
    around: &Around<'_>,
    into: &mut Findings,
) -> Option<Planting> {
    let t = &mut table;
    let name = t.require_text(&planting::CROP, into);
    let crop = name.and_then(|name| {
        let found = around.catalogue.crop(name.value);
        if found.is_none() && into.knows_broken(name.value) {
            t.sound = false;
        } else if found.is_none() {
            let near = around.catalogue.nearest_crop(name.value);
            t.fault(names::unknown_crop(name.place, bed, name.value, near.as_deref()), into);
        }
        found.map(|crop| Said::new(crop, name.place))
    });
    let spacing = t.take(&planting::SPACING, into);
    let spacing = spacing.map(|said| Said::new(said.value.0, said.place));
    let row_spacing = t.take(&planting::ROW_SPACING, into);
    let row_spacing = row_spacing.map(|said| Said::new(said.value.0, said.place));
    let (extent, plants) = extent(t, sides, spacing, row_spacing, into);
    let how = t.take(&planting::HOW, into).map(plain);
    let called = name.map_or("a crop", |name| name.value);
    let perennial = crop.as_ref().is_some_and(|crop| crop.value.perennial);
    let life = life::read(t, called, perennial, around.window, into);
    let year_of_stand = t
        .take(&planting::YEAR_OF_STAND, into)
        .map(|said| Said::new(u32::try_from(said.value.0).unwrap_or(1), said.place));
    let yield_goal = t.take(&planting::YIELD, into);
    if let Some(said) = yield_goal
        && matches!(said.value, Yield::PerRow(_))
        && row_spacing.is_none()
        && !t.has(&planting::ROW_SPACING)
        && spacing.is_none()
    {
        let field = &planting::ROW_SPACING;
        let why = "a yield per length of row says nothing of an area without it";
        t.lacks(shape::needs_other(said.place, "yield", field.name, why, field.example), into);
    }
    let residues = t.take(&planting::RESIDUES, into).map(plain);
    let given = given(t, into);
    let already = t.take(&planting::ALREADY_CREDITED, into);
    if let Some(said) = &already
        && given.nitrogen.is_none()
        && !t.has(&planting::NEED)
    {
        let why = "it tells what a given rate has taken off";
        let field = &planting::NEED;
        let fault =
            shape::needs_other(said.place, "already_credited", field.name, why, field.example);
        t.lacks(fault, into);
    }
    let own_water = irrigations(t, &planting::WATER, into);
    let (crop, extent, life) = (crop?, extent?, life?);
    t.sound.then(|| Planting {
        slug: super::super::slug(&crop.value.name).into(),
        crop,
        extent,
        plants,
        spacing,
        row_spacing,
        planted: life.planted,
        harvest: life.harvest,
        last_harvest: life.last_harvest,
        regrowth: life.regrowth,
        year_of_stand,
        how,
        yield_goal,
        residues_left: residues.is_some_and(|said| said.value == Residues::Left),
        water: bed_water.iter().cloned().chain(own_water).collect(),
        given,
        already_credited: already.map(|said| said.value.0).unwrap_or_default(),
        place: t.place,
    })
}

fn counted(said: Option<Said<Count>>) -> Option<Said<u32>> {
    said.map(|said| Said::new(u32::try_from(said.value.0).unwrap_or(u32::MAX), said.place))
}

/// Reads how much of the bed it takes, and its plants.
fn extent(
    t: &mut Table<'_, '_>,
    sides: Option<Sides>,
    spacing: Option<Said<(Length, Length)>>,
    row_spacing: Option<Said<Length>>,
    into: &mut Findings,
) -> (Option<Extent>, Option<Said<u32>>) {
    let share = t.take(&planting::SHARE, into).map(|said| Said::new(said.value.0, said.place));
    let plants = counted(t.take(&planting::PLANTS, into));
    let rows = counted(t.take(&planting::ROWS, into));
    let row_length = t.take(&planting::ROW_LENGTH, into);
    let row_length = row_length.map(|said| Said::new(said.value.0, said.place));
    let has_rows = t.has(&planting::ROWS);
    if t.has(&planting::SHARE) {
        if has_rows {
            let (at, other) = (t.key(&planting::ROWS), t.key(&planting::SHARE));
            let why = "how much of the bed it takes follows from either";
            t.fault(shape::either_or(at, "rows", "share", other, why), into);
        }
        return (share.map(Extent::Share), plants);
    }
    if has_rows {
        let extent = in_rows(t, rows, row_length, row_spacing, sides, into);
        return (extent, plants);
    }
    if t.has(&planting::ROW_LENGTH) {
        let (at, field) = (t.key(&planting::ROW_LENGTH), &planting::ROWS);
        let why = "a row's length says nothing without their number";
        t.lacks(shape::needs_other(at, "row_length", field.name, why, field.example), into);
    }
    if t.has(&planting::PLANTS) && t.has(&planting::SPACING) {
        let extent = match (plants, spacing) {
            (Some(plants), Some(spacing)) => Some(Extent::Plants { plants, spacing }),
            _ => None,
        };
        return (extent, plants);
    }
    (Some(Extent::Whole), plants)
}

/// Rows run along the bed where their length is not said.
fn in_rows(
    t: &mut Table<'_, '_>,
    rows: Option<Said<u32>>,
    row_length: Option<Said<Length>>,
    row_spacing: Option<Said<Length>>,
    sides: Option<Sides>,
    into: &mut Findings,
) -> Option<Extent> {
    if !t.has(&planting::ROW_SPACING) {
        let (at, field) = (t.key(&planting::ROWS), &planting::ROW_SPACING);
        let why = "rows take room by their distance";
        t.lacks(shape::needs_other(at, "rows", field.name, why, field.example), into);
        return None;
    }
    let row_length = match (row_length, sides) {
        (Some(said), _) => said,
        (None, Some((length, _))) if !t.has(&planting::ROW_LENGTH) => length,
        (None, _) => {
            if !t.has(&planting::ROW_LENGTH) {
                let (at, field) = (t.key(&planting::ROWS), &planting::ROW_LENGTH);
                let why = "the bed has no length that rows could run along";
                t.lacks(shape::needs_other(at, "rows", field.name, why, field.example), into);
            }
            return None;
        }
    };
    let (rows, row_spacing) = (rows?, row_spacing?);
    if let Some((_, width)) = sides {
        let across = row_spacing.value.base() * rust_decimal::Decimal::from(rows.value - 1);
        if across > width.value.base() {
            let show = |metres: rust_decimal::Decimal| {
                let length = Length::from_m(metres);
                let feet = significant(length.ft(), 3);
                format!("{feet} ft ({} m)", significant(metres, 3))
            };
            let width = show(width.value.base());
            t.fault(sums::rows_too_wide(rows.place, rows.value, &show(across), &width), into);
            return None;
        }
    }
    Some(Extent::Rows { rows, row_length, row_spacing })
}

/// Reads the rates a laboratory or adviser gave.
fn given(t: &mut Table<'_, '_>, into: &mut Findings) -> Given {
    let Some(mut need) = t.table(&planting::NEED, into) else { return Given::default() };
    let spread =
        |said: Said<Range<Rate>>| -> Said<Spread<Rate>> { Said::new(said.value.0, said.place) };
    let given = Given {
        nitrogen: need.take(&need::N, into).map(spread),
        phosphate: need.take(&need::P2O5, into).map(spread),
        potash: need.take(&need::K2O, into).map(spread),
    };
    if need.sound && given == Given::default() {
        let ways = "at least one of `n`, `p2o5` and `k2o`, like `need = { n = \"3 lb/1000 ft2\" }`";
        need.lacks(shape::none_of(need.place, "a given need", "any rate", ways), into);
    }
    t.sound &= need.sound;
    given
}

/// Makes the names that paths use, each once in its bed: `lettuce`, `lettuce-2`.
pub fn name_all(plantings: &mut [Planting]) {
    let mut taken: BTreeSet<Arc<str>> = BTreeSet::new();
    for planting in plantings {
        let mut slug = Arc::clone(&planting.slug);
        let mut count = 1;
        while !taken.insert(Arc::clone(&slug)) {
            count += 1;
            slug = format!("{}-{count}", planting.slug).into();
        }
        planting.slug = slug;
    }
}
