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

/// Days in 400 years of the Gregorian calendar.
const DAYS_IN_400_YEARS: i32 = 146_097;
/// Days from 1 March of the year 0 to 1 January 1970.
const DAYS_TO_1970_FROM_MARCH_0: i32 = 719_468;

/// The day number of a date that exists.
fn day_number(year: i32, month: i32, day: i32) -> i32 {
    let year = if month <= 2 { year - 1 } else { year };
    let era = year.div_euclid(400);
    let year_of_era = year.rem_euclid(400);
    let march_month = if month > 2 { month - 3 } else { month + 9 };
    let day_of_year = (153 * march_month + 2) / 5 + day - 1;
    let day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
    era * DAYS_IN_400_YEARS + day_of_era - DAYS_TO_1970_FROM_MARCH_0
}

impl Date {
    /// Makes a date from year, month and day of month; nothing where there is no such day.
    pub fn new(year: i16, month: u8, day: u8) -> Option<Self> {
        let (small_month, small_day) = (i8::try_from(month).ok()?, i8::try_from(day).ok()?);
        // The library knows which days there are.
        civil::Date::new(year, small_month, small_day).ok()?;
        Some(Self(day_number(i32::from(year), i32::from(month), i32::from(day))))
    }

    /// The first day of a month, 1 to 12.
    pub fn first_of(year: i16, month: u8) -> Self {
        Self(day_number(i32::from(year), i32::from(month.clamp(1, 12)), 1))
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
        self.parts().0
    }

    /// The month, 1 to 12.
    pub fn month(self) -> u8 {
        self.parts().1
    }

    /// The year, and the month, 1 to 12.
    pub fn year_and_month(self) -> (i16, u8) {
        let (year, month, _) = self.parts();
        (year, month)
    }

    /// The day of the month, 1 to 31.
    pub fn day(self) -> u8 {
        self.parts().2
    }

    /// The day of the year, 1 to 366.
    pub fn day_of_year(self) -> i16 {
        let first = day_number(i32::from(self.year()), 1, 1);
        // At most 366, so it fits.
        i16::try_from(self.0 - first + 1).unwrap_or(366)
    }

    /// Year, month and day: plain arithmetic on the Gregorian calendar, because curves ask for
    /// them by the thousand. Years are counted from March, so that the leap day comes last.
    fn parts(self) -> (i16, u8, u8) {
        let shifted = self.0 + DAYS_TO_1970_FROM_MARCH_0;
        let era = shifted.div_euclid(DAYS_IN_400_YEARS);
        let day_of_era = shifted.rem_euclid(DAYS_IN_400_YEARS);
        let year_of_era =
            (day_of_era - day_of_era / 1460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
        let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let march_month = (5 * day_of_year + 2) / 153;
        let day = day_of_year - (153 * march_month + 2) / 5 + 1;
        let month = if march_month < 10 { march_month + 3 } else { march_month - 9 };
        let year = year_of_era + era * 400 + i32::from(month <= 2);
        (
            i16::try_from(year).unwrap_or(i16::MAX),
            u8::try_from(month).unwrap_or(1),
            u8::try_from(day).unwrap_or(1),
        )
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

    /// The same with its year, unless that is the one that is spoken of.
    pub fn within(self, year: i16) -> String {
        if self.year() == year { self.short() } else { format!("{} {}", self.short(), self.year()) }
    }

    /// The month as three letters.
    pub fn month_name(self) -> &'static str {
        MONTHS[usize::from(self.month()) - 1]
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
        let (year, month, day) = self.parts();
        write!(f, "{year:04}-{month:02}-{day:02}")
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

    /// The `jiff` library as an independent calendar.
    #[test]
    fn the_calendar_agrees_with_another() {
        let epoch = civil::Date::new(1970, 1, 1).expect("a date");
        for number in (-200_000..200_000).step_by(37) {
            let date = Date::from_number(number);
            let (year, month, day) = date.parts();
            let other = civil::Date::new(year, month as i8, day as i8).expect("a date");
            assert_eq!(epoch.until(other).expect("a span").get_days(), number);
            assert_eq!(Date::new(year, month, day), Some(date));
            assert_eq!(date.day_of_year(), other.day_of_year());
        }
    }

    #[test]
    fn weekdays_and_visit_days() {
        assert_eq!(date("2027-05-29").weekday(), Weekday::Saturday);
        assert_eq!(date("2027-05-25").next_on_or_after(Weekday::Saturday), date("2027-05-29"));
        assert_eq!(date("2027-05-29").next_on_or_after(Weekday::Saturday), date("2027-05-29"));
        assert_eq!(date("2027-05-25").last_on_or_before(Weekday::Saturday), date("2027-05-22"));
        assert_eq!(date("2027-05-22").last_on_or_before(Weekday::Saturday), date("2027-05-22"));
        assert_eq!(date("2027-05-29").short(), "Sat 29 May");
        assert_eq!(date("2027-05-29").within(2027), "Sat 29 May");
        assert_eq!(date("2026-10-10").within(2027), "Sat 10 Oct 2026");
    }

    #[test]
    fn no_such_day_is_no_date() {
        for text in ["2027-02-29", "2027-13-01", "27-01-01", "2027-01", "x"] {
            assert_eq!(Date::read(text), None, "{text}");
        }
    }
}
