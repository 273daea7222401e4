//! When doses fall: visit days, published weeks, last useful days.

use crate::calendar::{Date, Weekday};
use crate::catalogue::{Crop, LastUseful};
use crate::engine::life::Life;
use crate::season::Texture;

/// Days between side-dressings of a crop that stood over winter.
const SPRING_EVERY_DAYS: i32 = 21;
/// Days after the last side-dressing at which sand gets one more.
const SAND_EXTRA_DAYS: i32 = 18;
/// Days between dressings of containers, and before the first.
const CONTAINER_EVERY_DAYS: i32 = 14;

/// The last visit day on or before planting.
pub fn before_planting(planted: Date, visit: Weekday) -> Date {
    planted.last_on_or_before(visit)
}

/// The last day on which nitrogen is still of use to a crop.
pub fn last_useful(crop: &Crop, life: &Life) -> Date {
    match crop.last_useful.value {
        LastUseful::DaysBeforeHarvest(days) => life.end - days,
        LastUseful::TwoThirdsOfLife => {
            let start = life.planted;
            start + life.days() * 2 / 3 - 1
        }
    }
}

/// Moves a wanted day to the next visit day, or to the one before where that passes the last useful
/// day; nothing where neither lies between the first possible and the last useful day.
fn on_visit(wanted: Date, first: Date, last: Date, visit: Weekday) -> Option<Date> {
    if wanted > last {
        return None;
    }
    let next = wanted.next_on_or_after(visit);
    if next <= last {
        return Some(next);
    }
    let before = wanted.last_on_or_before(visit);
    (before >= first).then_some(before)
}

/// The days on which a crop is side-dressed by the published weeks: wanted days moved to visit days,
/// those past the last useful day dropped.
pub fn side_dressings(crop: &Crop, life: &Life, texture: Texture, visit: Weekday) -> Vec<Date> {
    let last = last_useful(crop, life);
    let start = life.start();
    let mut wanted: Vec<Date> = if life.regrowth.is_some() {
        let every = crop.side_dress.every.unwrap_or(SPRING_EVERY_DAYS).max(1);
        (0..).map(|turn| start + turn * every).take_while(|day| *day <= last).collect()
    } else {
        let after_planting = crop.side_dress.days.iter().map(|days| start + *days);
        let around_harvest = crop.side_dress.from_harvest.iter().map(|days| life.harvest + *days);
        after_planting.chain(around_harvest).filter(|day| *day > life.planted).collect()
    };
    wanted.sort_unstable();
    if texture == Texture::Sand && !wanted.is_empty() {
        wanted.push(extra_on_sand(&wanted, start, last));
        wanted.sort_unstable();
    }
    let mut days: Vec<Date> =
        wanted.into_iter().filter_map(|day| on_visit(day, start, last, visit)).collect();
    days.dedup();
    days
}

/// One more split on sand: 18 days after the last, or else midway between planting and the first.
fn extra_on_sand(wanted: &[Date], start: Date, last: Date) -> Date {
    let (first_one, last_one) = (wanted[0], wanted[wanted.len() - 1]);
    let later = last_one + SAND_EXTRA_DAYS;
    if later <= last { later } else { start + (first_one - start) / 2 }
}

/// The days on which containers are fed: every two weeks from day 14 to the last useful day.
pub fn container_dressings(crop: &Crop, life: &Life, visit: Weekday) -> Vec<Date> {
    let last = last_useful(crop, life);
    let mut days = Vec::new();
    let mut day = (life.start() + CONTAINER_EVERY_DAYS).next_on_or_after(visit);
    while day <= last {
        days.push(day);
        day = day + CONTAINER_EVERY_DAYS;
    }
    days
}
