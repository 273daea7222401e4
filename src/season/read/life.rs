//! The life of a planting: two of planted, harvest and days, and what may follow.

use super::super::Said;
use super::fields::planting;
use super::garden::{Window, in_season};
use super::table::{Findings, Table};
use crate::calendar::Date;
use crate::fault::dates;

/// The days of a planting.
pub struct Life {
    /// First day in the bed.
    pub planted: Said<Date>,
    /// First or only harvest.
    pub harvest: Said<Date>,
    /// Last harvest, where said.
    pub last_harvest: Option<Said<Date>>,
    /// First day of spring growth, where said.
    pub regrowth: Option<Said<Date>>,
}

/// Reads the life of a planting. Days count inclusively: `days = n` ends on planted + n - 1.
pub fn read(
    t: &mut Table<'_, '_>,
    crop: &str,
    perennial: bool,
    window: Option<Window>,
    into: &mut Findings,
) -> Option<Life> {
    let planted = t.take(&planting::PLANTED, into);
    let harvest = t.take(&planting::HARVEST, into);
    let days = t.take(&planting::DAYS, into);
    let last_harvest = t.take(&planting::LAST_HARVEST, into);
    let regrowth = t.take(&planting::REGROWTH, into);
    let stands = perennial || t.has(&planting::YEAR_OF_STAND);
    enough(t, crop, into)?;
    let days = days.map(|said| Said::new(u32::try_from(said.value.0).unwrap_or(1), said.place));
    let whole = |days: Said<u32>| i32::try_from(days.value).unwrap_or(i32::MAX) - 1;
    let (planted, harvest) = match (planted, harvest, days) {
        (Some(planted), Some(harvest), _) => (planted, harvest),
        (Some(planted), None, Some(days)) if !t.has(&planting::HARVEST) => {
            (planted, Said::new(planted.value + whole(days), days.place))
        }
        (None, Some(harvest), Some(days)) if !t.has(&planting::PLANTED) => {
            (Said::new(harvest.value - whole(days), days.place), harvest)
        }
        // One of the two that are there is faulty, and told already.
        _ => return None,
    };
    let mut sound = in_order(t, ("harvest", harvest), ("planted", planted), into);
    if let Some(days) = days
        && sound
    {
        let meant = harvest.value - planted.value + 1;
        if meant != whole(days) + 1 {
            let (from, to) = (planted.value, harvest.value);
            t.fault(dates::life_contradicts(days.place, days.value, from, to, meant), into);
            sound = false;
        }
    }
    if let Some(last) = last_harvest {
        sound &= in_order(t, ("last_harvest", last), ("harvest", harvest), into);
    }
    if let Some(regrowth) = regrowth {
        sound &= in_order(t, ("regrowth", regrowth), ("planted", planted), into);
        sound &= in_order(t, ("harvest", harvest), ("regrowth", regrowth), into);
    }
    let Some(window) = window else {
        return sound.then_some(Life { planted, harvest, last_harvest, regrowth });
    };
    if !sound {
        return None;
    }
    if !stands || planted.value > window.last {
        in_season(t, planted, "planted", Some(window), into);
    }
    if harvest.value.year() != window.year {
        t.fault(dates::harvest_of_another_year(harvest.place, harvest.value, window.year), into);
    } else if let Some(last) = last_harvest {
        in_season(t, last, "last_harvest", Some(window), into);
    }
    Some(Life { planted, harvest, last_harvest, regrowth })
}

/// Two of the three must be there.
fn enough(t: &mut Table<'_, '_>, crop: &str, into: &mut Findings) -> Option<()> {
    let there = [t.has(&planting::PLANTED), t.has(&planting::HARVEST), t.has(&planting::DAYS)];
    let (said, add) = match there {
        [true, false, false] => {
            ("only `planted` is said", "add `harvest = 2027-07-15`, or `days = 65`")
        }
        [false, true, false] => {
            ("only `harvest` is said", "add `planted = 2027-05-10`, or `days = 65`")
        }
        [false, false, true] => {
            ("only `days` is said", "add `planted = 2027-05-10`, or `harvest = 2027-07-15`")
        }
        [false, false, false] => {
            ("no dates", "add `planted = 2027-05-10` and `harvest = 2027-07-15`")
        }
        _ => return Some(()),
    };
    let place = if t.has(&planting::CROP) {
        t.item(&planting::CROP).map_or(t.place, super::value::place_of)
    } else {
        t.place
    };
    t.lacks(dates::life_unknown(place, crop, said, add), into);
    None
}

fn in_order(
    t: &mut Table<'_, '_>,
    (field, late): (&str, Said<Date>),
    (other, early): (&str, Said<Date>),
    into: &mut Findings,
) -> bool {
    if late.value >= early.value {
        return true;
    }
    let fault = dates::reversed(late.place, field, late.value, other, early.place, early.value);
    t.fault(fault, into);
    false
}
