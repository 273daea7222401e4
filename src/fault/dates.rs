//! Wording of faults in dates and lives.

use super::{Fault, clip};
use crate::calendar::Date;
use crate::figure::Place;

/// A text or value that is no date.
pub fn not_a_date(place: Place, field: &str, written: &str) -> Fault {
    Fault::new(
        place,
        format!("`{field}` is `{}`, which is not a date", clip(written)),
        format!("write year-month-day: `{field} = 2027-05-10`"),
    )
    .label(why_no_date(written))
}

/// Why a text is no date, as far as can be told.
fn why_no_date(written: &str) -> String {
    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    let mut parts = written.trim().split('-');
    let mut next = |digits: usize| {
        let part = parts.next()?;
        let plain = part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit());
        plain.then(|| part.parse::<u16>().ok()).flatten()
    };
    let (year, month, day) = (next(4), next(2), next(2));
    let Some((year, month)) = year.zip(month) else {
        return "not written as year-month-day".to_owned();
    };
    let Some(name) = MONTHS.get(usize::from(month).wrapping_sub(1)) else {
        return "the months go from 01 to 12".to_owned();
    };
    let there_is = |day: u8| {
        let month = u8::try_from(month).ok()?;
        Date::new(i16::try_from(year).ok()?, month, day)
    };
    let last = (28..=31).rev().find(|day| there_is(*day).is_some());
    match (day, last) {
        (Some(_), Some(last)) => format!("{name} {year} has the days 01 to {last}"),
        _ => "not written as year-month-day, with two digits for the day".to_owned(),
    }
}

/// A date with a time of day.
pub fn time_of_day(place: Place, field: &str, date: &str) -> Fault {
    Fault::new(
        place,
        format!("`{field}` has a time of day, and only the day counts"),
        format!("write `{field} = {date}`"),
    )
}

/// A day that the calendar does not have.
pub fn no_such_day(place: Place, field: &str, written: &str) -> Fault {
    Fault::new(
        place,
        format!("`{}` is not a day of the calendar", clip(written)),
        format!(
            "write year-month-day, with two digits each for month and day: `{} = 2027-05-10`",
            clip(field)
        ),
    )
    .label(why_no_date(written))
}

/// Dates in the wrong order.
pub fn reversed(
    place: Place,
    field: &str,
    date: Date,
    earlier: &str,
    earlier_place: Place,
    earlier_date: Date,
) -> Fault {
    Fault::new(
        place,
        format!("`{field}` ({date}) comes before `{earlier}` ({earlier_date})"),
        format!("put `{field}` on or after {earlier_date}, or mend `{earlier}`"),
    )
    .label(format!("`{field}`"))
    .and(earlier_place, format!("`{earlier}`"))
}

/// A date outside the season.
pub fn outside_season(place: Place, field: &str, date: Date, first: Date, last: Date) -> Fault {
    Fault::new(
        place,
        format!("`{field}` ({date}) is outside this season"),
        format!("it may be {first} to {last}; or mend `year` under [garden]"),
    )
    .note(format!(
        "the season of {} runs from 1 July of the year before to 31 December",
        last.year()
    ))
}

/// A harvest in another year than the season's.
pub fn harvest_of_another_year(place: Place, date: Date, year: i16) -> Fault {
    Fault::new(
        place,
        format!("a crop harvested on {date} does not belong to the season of {year}"),
        format!("move this planting to the season file of {}, or mend the date", date.year()),
    )
    .note("a planting belongs to the year of its harvest")
}

/// Fewer than two of the three that fix a life.
pub fn life_unknown(place: Place, crop: &str, said: &str, add: &str) -> Fault {
    Fault::new(
        place,
        format!("how long `{}` stands is not known", clip(crop)),
        format!("{add}; two of `planted`, `harvest` and `days` are needed"),
    )
    .label(said)
}

/// All three given, and they disagree.
pub fn life_contradicts(
    place: Place,
    days: u32,
    planted: Date,
    harvest: Date,
    meant: i32,
) -> Fault {
    Fault::new(
        place,
        format!("`days = {days}` does not fit `planted` ({planted}) and `harvest` ({harvest})"),
        format!(
            "from the one to the other are {meant} days, both counted; leave one of the three out"
        ),
    )
}

/// A year of the past that is not one.
pub fn year_not_past(place: Place, year: i16, season: i16) -> Fault {
    Fault::new(
        place,
        format!("`year = {year}` is not an earlier year than the season of {season}"),
        format!(
            "write an earlier year; what is spread in the season of {season} goes under \
             [[bed.amend]] with its date"
        ),
    )
}
