//! The garden as a whole.

use super::super::{Garden, MonthMean, Rain, Said};
use super::fields::{garden, month, rain};
use super::table::{Findings, Table};
use super::word::OneOf;
use crate::calendar::Date;
use crate::catalogue::Catalogue;
use crate::catalogue::names::{nearest, normal};
use crate::fault::{names, shape, sums};

/// The days a season's file may speak of: 1 July of the year before to 31 December of the year.
#[derive(Clone, Copy, Debug)]
pub struct Window {
    /// First day.
    pub first: Date,
    /// Last day.
    pub last: Date,
    /// The season's year.
    pub year: i16,
}

impl Window {
    fn of(year: i16) -> Option<Self> {
        Some(Self { first: Date::new(year - 1, 7, 1)?, last: Date::new(year, 12, 31)?, year })
    }

    /// Whether a day is in it.
    pub fn holds(&self, date: Date) -> bool {
        (self.first..=self.last).contains(&date)
    }
}

/// What is known once `[garden]` has been read: all of it, or at least the window.
pub struct GardenRead {
    /// The garden, where nothing is wrong with it.
    pub garden: Option<Garden>,
    /// The season's window, where its year is known.
    pub window: Option<Window>,
    /// Rain on all beds.
    pub rain: Vec<Rain>,
}

/// Reads `[garden]`.
pub fn read(mut table: Table<'_, '_>, into: &mut Findings) -> GardenRead {
    let t = &mut table;
    let name = t.text(&garden::NAME, into);
    let year = t.require(&garden::YEAR, into);
    let year = year.map(|said| Said::new(i16::try_from(said.value.0).unwrap_or(0), said.place));
    let window = year.and_then(|year| Window::of(year.value));
    let units = t.take(&garden::UNITS, into);
    let basis = t.take(&garden::BASIS, into);
    let texture = t.take(&garden::TEXTURE, into);
    let coldest = t.table(&garden::COLDEST, into).map(|table| month_mean(table, into));
    let warmest = t.table(&garden::WARMEST, into).map(|table| month_mean(table, into));
    climate(t, into, coldest.flatten(), warmest.flatten());
    let visit_day = t.take(&garden::VISIT_DAY, into);
    let organic = t.take(&garden::ORGANIC, into);
    let region = t.text(&garden::REGION, into);
    let rain = t.listed(&garden::RAIN, into);
    let rain = rain.into_iter().filter_map(|table| one_rain(table, window, into)).collect();
    let garden = year.filter(|_| t.sound).map(|year| Garden {
        name: name.map(|name| name.value.to_owned()),
        year,
        units: units.map(|said| said.value.0).unwrap_or_default(),
        basis: basis.map(|said| said.value.0).unwrap_or_default(),
        texture: texture.map(plain),
        coldest: coldest.flatten(),
        warmest: warmest.flatten(),
        visit_day: visit_day.map(plain),
        organic: organic.is_some_and(|said| said.value.0),
        region: region.map(|said| Said::new(normal(said.value), said.place)),
    });
    GardenRead { garden, window, rain }
}

/// A region that no bulletin's row names would do nothing.
pub fn region_known(garden: &Garden, catalogue: &Catalogue, into: &mut Findings) {
    let Some(said) = &garden.region else { return };
    let regions = catalogue.regions();
    if !regions.contains(&said.value) {
        let known = || regions.iter().map(String::as_str);
        let near = nearest(&said.value, known());
        into.push(names::unknown_region(said.place, &said.value, near.as_deref(), known()));
    }
}

/// Takes a word out of its wrapping.
pub fn plain<W>(said: Said<OneOf<W>>) -> Said<W> {
    Said::new(said.value.0, said.place)
}

fn month_mean(mut table: Table<'_, '_>, into: &mut Findings) -> Option<MonthMean> {
    let month = table.require(&month::MONTH, into);
    let mean = table.require(&month::MEAN, into);
    let (month, mean) = (month?, mean?);
    let month = u8::try_from(month.value.0).ok()?;
    table.sound.then_some(MonthMean { month, mean: Said::new(mean.value.0, mean.place) })
}

/// Both ends of the year or neither, and the cold one colder.
fn climate(
    table: &mut Table<'_, '_>,
    into: &mut Findings,
    coldest: Option<MonthMean>,
    warmest: Option<MonthMean>,
) {
    let (cold, warm) = (table.has(&garden::COLDEST), table.has(&garden::WARMEST));
    let why = "one month alone does not tell how the year runs";
    if cold && !warm {
        let (field, place) = (&garden::WARMEST, table.key(&garden::COLDEST));
        table.lacks(shape::needs_other(place, "coldest", field.name, why, field.example), into);
    } else if warm && !cold {
        let (field, place) = (&garden::COLDEST, table.key(&garden::WARMEST));
        table.lacks(shape::needs_other(place, "warmest", field.name, why, field.example), into);
    }
    if let (Some(coldest), Some(warmest)) = (coldest, warmest)
        && (coldest.mean.value >= warmest.mean.value || coldest.month == warmest.month)
    {
        table.fault(sums::climate_upside_down(coldest.mean.place, warmest.mean.place), into);
    }
}

/// Reads one rain event.
pub fn one_rain(
    mut table: Table<'_, '_>,
    window: Option<Window>,
    into: &mut Findings,
) -> Option<Rain> {
    let on = table.require(&rain::ON, into);
    let depth = table.require(&rain::DEPTH, into);
    let on = on?;
    in_season(&mut table, on, "on", window, into);
    let depth = depth?;
    table.sound.then_some(Rain { on, depth: Said::new(depth.value.0, depth.place) })
}

/// Checks that a day is in the season.
pub fn in_season(
    table: &mut Table<'_, '_>,
    day: Said<Date>,
    field: &str,
    window: Option<Window>,
    into: &mut Findings,
) {
    if let Some(window) = window
        && !window.holds(day.value)
    {
        let (first, last) = (window.first, window.last);
        let fault = crate::fault::dates::outside_season(day.place, field, day.value, first, last);
        table.fault(fault, into);
    }
}
