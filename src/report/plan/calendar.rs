//! The work list as a calendar (RFC 5545): an all-day event for each dose, with a reminder the
//! evening before.

use chrono::{Duration, NaiveDate, TimeZone, Utc};
use icalendar::{Alarm, Calendar, Component, Event, EventLike, Property, Trigger};

use super::Reported;
use super::doses::{in_other_words, purpose};
use super::work::by_day;
use crate::calendar::Date;
use crate::engine::dose::{Dose, Purpose};
use crate::engine::plan::BedPlan;
use crate::season::slug;

/// Hours before the day begins at which it is called to mind: six in the evening.
const REMIND_HOURS_BEFORE: i64 = 6;

/// The work list as a calendar. An event keeps its identity from one plan to the next, whatever its
/// date and weight, so that importing it again moves it instead of adding another.
pub fn calendar(reported: &Reported<'_>) -> String {
    let mut calendar = Calendar::empty();
    let garden = reported.season.garden.name.clone().unwrap_or_else(|| "Garden".to_owned());
    for (key, value) in [
        ("VERSION", "2.0"),
        ("PRODID", "-//topdress//work list//EN"),
        ("CALSCALE", "GREGORIAN"),
        ("METHOD", "PUBLISH"),
    ] {
        calendar.append_property(Property::new(key, value));
    }
    calendar.append_property(Property::new("NAME", &garden));
    let mut counted: Vec<(String, usize)> = Vec::new();
    for (date, bed, at) in by_day(reported) {
        let dose = &bed.doses[at];
        let name = identity(reported, bed, dose);
        let turn = match counted.iter_mut().find(|(one, _)| *one == name) {
            Some((_, turns)) => {
                *turns += 1;
                *turns
            }
            None => {
                counted.push((name.clone(), 1));
                1
            }
        };
        if let Some(event) = event(reported, bed, dose, date, &format!("{name}-{turn}")) {
            calendar.push(event);
        }
    }
    calendar.to_string()
}

/// What stays the same of a dose from one plan to the next; the turn is added by the caller.
fn identity(reported: &Reported<'_>, bed: &BedPlan, dose: &Dose) -> String {
    let year = reported.season.garden.year.value;
    let crop = bed.plantings.iter().find(|planting| Some(planting.index) == dose.planting);
    let what = match (dose.purpose, crop) {
        (Purpose::SideDress, Some(planting)) => format!("{}-side-dressing", planting.slug),
        _ => format!("{}-before-planting", slug(dose.ready.name())),
    };
    format!("{year}-{}-{what}", bed.slug)
}

fn event(
    reported: &Reported<'_>,
    bed: &BedPlan,
    dose: &Dose,
    date: Date,
    identity: &str,
) -> Option<Event> {
    let day = civil(date)?;
    let weight = reported.showing.of(dose.weight.value());
    let summary = format!("{}: {weight} {}", bed.name, purpose(bed, dose));
    // The stamp is the day the plan was made on: the same plan gives the same file.
    let stamp = civil(reported.today.unwrap_or(date))?.and_hms_opt(0, 0, 0)?;
    let remind = Trigger::before_start(Duration::hours(REMIND_HOURS_BEFORE));
    let stamp = Utc.from_utc_datetime(&stamp);
    let mut alarm = Alarm::display(&summary, remind);
    // Left to itself the library gives a random name and the time of day.
    alarm
        .add_property("UID", format!("{identity}-reminder@topdress"))
        .add_property("DTSTAMP", stamp.format("%Y%m%dT%H%M%SZ").to_string());
    let mut event = Event::new();
    event
        .uid(&format!("{identity}@topdress"))
        .timestamp(stamp)
        .summary(&summary)
        .starts(day)
        .ends(day.succ_opt()?)
        .add_property("TRANSP", "TRANSPARENT")
        .alarm(alarm);
    let detail = in_other_words(reported, bed, dose);
    if !detail.is_empty() {
        event.description(&detail);
    }
    Some(event.done())
}

fn civil(date: Date) -> Option<NaiveDate> {
    NaiveDate::from_ymd_opt(i32::from(date.year()), u32::from(date.month()), u32::from(date.day()))
}
