//! Calendar dates as day numbers: counting days is plain arithmetic.

use std::fmt;
use std::ops::{Add, Sub};

use jiff::civil;

/// A calendar date, stored as days since 1 January 1970.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date(i32);

/// A day of the week.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Weekday {
    /// Monday.
    Monday,
    /// Tuesday.
    Tuesday,
    /// Wednesday.
    Wednesday,
    /// Thursday.
    Thursday,
    /// Friday.
    Friday,
    /// Saturday.
    Saturday,
    /// Sunday.
    Sunday,
}

const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

impl Weekday {
    /// All seven, Monday first.
    pub const ALL: [Self; 7] = [
        Self::Monday,
        Self::Tuesday,
        Self::Wednesday,
        Self::Thursday,
        Self::Friday,
        Self::Saturday,
        Self::Sunday,
    ];

    /// Its name in lower case.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Monday => "monday",
            Self::Tuesday => "tuesday",
            Self::Wednesday => "wednesday",
            Self::Thursday => "thursday",
            Self::Friday => "friday",
            Self::Saturday => "saturday",
            Self::Sunday => "sunday",
        }
    }
}

impl Date {
    /// Makes a date from year, month and day of month; nothing where there is no such day.
    pub fn new(year: i16, month: u8, day: u8) -> Option<Self> {
        let (month, day) = (i8::try_from(month).ok()?, i8::try_from(day).ok()?);
        Self::from_civil(civil::Date::new(year, month, day).ok()?)
    }

    /// Reads "2027-05-10".
    pub fn read(text: &str) -> Option<Self> {
        let mut parts = text.trim().split('-');
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        if parts.next().is_some() || year.len() != 4 {
            return None;
        }
        Self::new(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)
    }

    /// Makes a date from its day number (days since 1 January 1970).
    pub const fn from_number(number: i32) -> Self {
        Self(number)
    }

    /// Its day number (days since 1 January 1970).
    pub const fn number(self) -> i32 {
        self.0
    }

    /// The year.
    pub fn year(self) -> i16 {
        self.civil().year()
    }

    /// The month, 1 to 12.
    pub fn month(self) -> u8 {
        self.civil().month().unsigned_abs()
    }

    /// The day of the month, 1 to 31.
    pub fn day(self) -> u8 {
        self.civil().day().unsigned_abs()
    }

    /// The day of the year, 1 to 366.
    pub fn day_of_year(self) -> i16 {
        self.civil().day_of_year()
    }

    /// The day of the week.
    pub fn weekday(self) -> Weekday {
        // 1 January 1970 was a Thursday.
        Weekday::ALL[(self.0 + 3).rem_euclid(7).unsigned_abs() as usize]
    }

    /// The first date on or after this one that falls on the weekday.
    pub fn next_on_or_after(self, weekday: Weekday) -> Self {
        let ahead = (0..7).find(|ahead| (self + *ahead).weekday() == weekday);
        self + ahead.unwrap_or(0)
    }

    /// The last date on or before this one that falls on the weekday.
    pub fn last_on_or_before(self, weekday: Weekday) -> Self {
        self.next_on_or_after(weekday) + if self.weekday() == weekday { 0 } else { -7 }
    }

    /// How it is shown to people: "Sat 29 May".
    pub fn short(self) -> String {
        let weekday = self.weekday().word();
        let name = weekday[..1].to_uppercase() + &weekday[1..3];
        format!("{name} {} {}", self.day(), self.month_name())
    }

    /// The month as three letters.
    pub fn month_name(self) -> &'static str {
        MONTHS[usize::from(self.month()) - 1]
    }

    fn civil(self) -> civil::Date {
        let days = jiff::Span::new().try_days(self.0).unwrap_or_default();
        civil::Date::new(1970, 1, 1)
            .and_then(|epoch| epoch.checked_add(days))
            .unwrap_or(civil::Date::ZERO)
    }

    fn from_civil(date: civil::Date) -> Option<Self> {
        let epoch = civil::Date::new(1970, 1, 1).ok()?;
        Some(Self(epoch.until(date).ok()?.get_days()))
    }
}

impl Add<i32> for Date {
    type Output = Self;
    fn add(self, days: i32) -> Self {
        Self(self.0 + days)
    }
}

impl Sub<i32> for Date {
    type Output = Self;
    fn sub(self, days: i32) -> Self {
        Self(self.0 - days)
    }
}

impl Sub for Date {
    type Output = i32;
    fn sub(self, earlier: Self) -> i32 {
        self.0 - earlier.0
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let date = self.civil();
        write!(f, "{:04}-{:02}-{:02}", date.year(), date.month(), date.day())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> Date {
        Date::read(text).expect("a date")
    }

    #[test]
    fn dates_count_in_days() {
        assert_eq!(date("2027-03-01") - date("2027-02-28"), 1);
        assert_eq!(date("2028-03-01") - date("2028-02-28"), 2);
        assert_eq!((date("2026-12-31") + 1).to_string(), "2027-01-01");
        assert_eq!(date("2027-12-31").day_of_year(), 365);
    }

    #[test]
    fn weekdays_and_visit_days() {
        assert_eq!(date("2027-05-29").weekday(), Weekday::Saturday);
        assert_eq!(date("2027-05-25").next_on_or_after(Weekday::Saturday), date("2027-05-29"));
        assert_eq!(date("2027-05-29").next_on_or_after(Weekday::Saturday), date("2027-05-29"));
        assert_eq!(date("2027-05-25").last_on_or_before(Weekday::Saturday), date("2027-05-22"));
        assert_eq!(date("2027-05-22").last_on_or_before(Weekday::Saturday), date("2027-05-22"));
        assert_eq!(date("2027-05-29").short(), "Sat 29 May");
    }

    #[test]
    fn no_such_day_is_no_date() {
        for text in ["2027-02-29", "2027-13-01", "27-01-01", "2027-01", "x"] {
            assert_eq!(Date::read(text), None, "{text}");
        }
    }
}
