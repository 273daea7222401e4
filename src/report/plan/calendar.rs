//! The work list as a calendar (RFC 5545): an all-day event for each dose, with a reminder the
//! evening before.

use chrono::{Duration, NaiveDate, TimeZone, Utc};
use icalendar::{Alarm, Calendar, Component, Event, EventLike, EventStatus, Property, Trigger};

use super::Reported;
use super::doses::{in_other_words, purpose};
use super::work::by_day;
use crate::calendar::Date;
use crate::engine::dose::{Dose, Purpose};
use crate::engine::plan::{BedPlan, Plan};
use crate::engine::setting::window;
use crate::season::slug;

/// Hours before the day begins at which it is called to mind: six in the evening.
const REMIND_HOURS_BEFORE: i64 = 6;

/// A dose on its day: the bed, and which of its doses.
type Due<'a> = (Date, &'a BedPlan, usize);

/// The work list as a calendar. An event keeps its identity from one plan to the next, whatever its
/// date and weight, so that importing it again moves it instead of adding another. Doses of one kind
/// are counted from the last of the season's first plan, so that those given leave the rest their
/// identities; what that plan held for days to come and this one does not is called off.
pub fn calendar(reported: &Reported<'_>, first: &Plan) -> String {
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
    let mut events: Vec<(Date, Event)> = Vec::new();
    let now = by_identity(reported);
    let at_first = by_identity(&Reported { plan: first, ..*reported });
    let many = |all: &[(String, Vec<Due<'_>>)], name: &str| {
        all.iter().find(|(one, _)| one == name).map_or(0, |(_, doses)| doses.len())
    };
    for (name, doses) in &now {
        let passed = many(&at_first, name).saturating_sub(doses.len());
        for (turn, due) in (passed + 1..).zip(doses) {
            events.extend(event(reported, due, &format!("{name}-{turn}"), true));
        }
    }
    for (name, doses) in &at_first {
        let passed = doses.len().saturating_sub(many(&now, name));
        for (turn, due) in (1..).zip(doses).take(passed) {
            if reported.today.is_some_and(|today| due.0 >= today) {
                events.extend(event(reported, due, &format!("{name}-{turn}"), false));
            }
        }
    }
    events.sort_by_key(|(date, _)| *date);
    for (_, event) in events {
        calendar.push(event);
    }
    calendar.to_string()
}

/// The doses of a plan by what stays the same of them from one plan to the next, each in order of days.
fn by_identity<'a>(reported: &Reported<'a>) -> Vec<(String, Vec<Due<'a>>)> {
    let mut all: Vec<(String, Vec<Due<'a>>)> = Vec::new();
    for due in by_day(reported) {
        let (_, bed, at) = due;
        let name = identity(reported, bed, &bed.doses[at]);
        match all.iter_mut().find(|(one, _)| *one == name) {
            Some((_, doses)) => doses.push(due),
            None => all.push((name, vec![due])),
        }
    }
    all
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
    (date, bed, at): &Due<'_>,
    identity: &str,
    wanted: bool,
) -> Option<(Date, Event)> {
    let dose = &bed.doses[*at];
    let day = civil(*date)?;
    let (begins, ends) = window(reported.season.garden.year.value);
    let as_of = reported.today.unwrap_or(ends);
    let task = format!("{} {}", reported.showing.of(dose.weight.value()), purpose(bed, dose));
    let waits = if dose.certain() { "" } else { ", if a nitrate test asks for it" };
    let dropped = if wanted { "" } else { "Not needed any more: " };
    let summary = format!("{dropped}{}: {task}{waits}", bed.name);
    // The stamp is the day the plan was made on: the same plan gives the same file.
    let stamp = Utc.from_utc_datetime(&civil(as_of)?.and_hms_opt(0, 0, 0)?);
    let mut event = Event::new();
    event
        .uid(&format!("{identity}@topdress"))
        .timestamp(stamp)
        .sequence(u32::try_from(as_of - begins).unwrap_or(0))
        .summary(&summary)
        .starts(day)
        .ends(day.succ_opt()?)
        .add_property("TRANSP", "TRANSPARENT");
    if !wanted {
        return Some((*date, event.status(EventStatus::Cancelled).done()));
    }
    let mut lines = vec![task];
    lines.extend(in_other_words(reported, bed, dose));
    event.description(&lines.join("\n"));
    let remind = Trigger::before_start(Duration::hours(REMIND_HOURS_BEFORE));
    let mut alarm = Alarm::display(&summary, remind);
    // Left to itself the library gives a random name and the time of day.
    alarm
        .add_property("UID", format!("{identity}-reminder@topdress"))
        .add_property("DTSTAMP", stamp.format("%Y%m%dT%H%M%SZ").to_string());
    Some((*date, event.alarm(alarm).done()))
}

fn civil(date: Date) -> Option<NaiveDate> {
    NaiveDate::from_ymd_opt(i32::from(date.year()), u32::from(date.month()), u32::from(date.day()))
}
