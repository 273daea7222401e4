//! How many dressings are enough, where equal ones at the published weeks would pass their cap.

use std::ops::RangeInclusive;

use crate::calendar::Date;
use crate::quantity::{Mass, Positive, Share};

/// Days from one dressing to the next that is added (proposed).
const APART: i32 = 14;
/// Days between visits, which all dressings fall on: where there is no room 14 days away, any free one
/// is taken (proposed).
const BETWEEN_VISITS: i32 = 7;

/// The days on which so much nitrogen is given: visits at the published weeks, and more within `open`
/// until no equal part passes the `cap` of its day. Where there are too few for that, the first of them
/// whose caps hold it all, else all of them. Days on which nothing would act in time, whose cap is
/// zero, have no part.
pub(super) fn enough(
    published: &[Date],
    nitrogen: Mass,
    open: &RangeInclusive<Date>,
    cap: impl Fn(Date) -> Mass,
) -> Vec<Date> {
    let capped = |day: Date| (day, cap(day));
    let mut days: Vec<(Date, Mass)> = published.iter().map(|day| capped(*day)).collect();
    let mut held_to_caps = None;
    loop {
        let acting = days.iter().filter(|(_, cap)| *cap > Mass::ZERO);
        let (dates, caps): (Vec<Date>, Vec<Mass>) = acting.copied().unzip();
        let count = Positive::new(Share::from_fraction(dates.len().into()));
        let fits = |each: Mass| caps.iter().all(|cap| each <= *cap);
        if count.is_some_and(|count| fits(nitrogen / count)) {
            return dates;
        }
        if held_to_caps.is_none() && caps.into_iter().sum::<Mass>() >= nitrogen {
            held_to_caps = Some(dates.clone());
        }
        let Some(day) = one_more(&days, open) else { return held_to_caps.unwrap_or(dates) };
        days.push(capped(day));
        days.sort_unstable();
    }
}

/// The day of one more dressing: 14 days after the last, else 14 days before the first, else the free
/// visit that parts the widest gap between them best, else any; of those alike the latest.
fn one_more(days: &[(Date, Mass)], open: &RangeInclusive<Date>) -> Option<Date> {
    let (first, last) = (days.first()?.0, days.last()?.0);
    let beyond = [last + APART, first - APART].into_iter().find(|day| open.contains(day));
    beyond.or_else(|| {
        let from = first - (first - *open.start()) / BETWEEN_VISITS * BETWEEN_VISITS;
        std::iter::successors(Some(from), |day| Some(*day + BETWEEN_VISITS))
            .take_while(|day| day <= open.end())
            .filter(|day| open.contains(day) && !days.iter().any(|(one, _)| one == day))
            .max_by_key(|day| room_around(*day, days))
    })
}

/// The days from the dressing before times those to the one after: the more, the wider the gap and the
/// nearer to its middle. Nothing outside the dressings.
fn room_around(day: Date, days: &[(Date, Mass)]) -> Option<i32> {
    let at = days.partition_point(|(one, _)| *one < day);
    let (before, after) = (days[..at].last()?.0, days.get(at)?.0);
    Some((day - before) * (after - day))
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use super::*;

    fn on(day: i32) -> Date {
        Date::from_number(20_000 + day)
    }
    fn lb(pounds: i64) -> Mass {
        Mass::from_lb(Decimal::from(pounds))
    }
    /// The days for so many pounds, at most 50 at a time.
    fn days(published: &[i32], pounds: i64, open: RangeInclusive<i32>) -> Vec<i32> {
        days_under(published, pounds, open, |_| 50)
    }
    fn days_under(
        published: &[i32],
        pounds: i64,
        open: RangeInclusive<i32>,
        cap: impl Fn(i32) -> i64,
    ) -> Vec<i32> {
        let published: Vec<Date> = published.iter().map(|day| on(*day)).collect();
        let open = on(*open.start())..=on(*open.end());
        let days = enough(&published, lb(pounds), &open, |day| lb(cap(day - on(0))));
        days.into_iter().map(|day| day - on(0)).collect()
    }

    #[test]
    fn what_fits_the_published_weeks_stays_there() {
        assert_eq!(days(&[21, 35], 100, 7..=60), [21, 35]);
        assert_eq!(days(&[35], 50, 7..=60), [35]);
        assert_eq!(days(&[], 50, 7..=60), [] as [i32; 0]);
    }

    #[test]
    fn more_follow_the_last_while_nitrogen_is_of_use() {
        assert_eq!(days(&[21, 35], 101, 7..=60), [21, 35, 49]);
        assert_eq!(days(&[35], 101, 7..=63), [35, 49, 63]);
        assert_eq!(days(&[35, 56], 120, 7..=70), [35, 56, 70]);
    }

    #[test]
    fn where_there_is_no_room_after_more_go_before() {
        assert_eq!(days(&[35], 80, 7..=39), [21, 35]);
        assert_eq!(days(&[35], 120, 7..=48), [7, 21, 35]);
        assert_eq!(days(&[35], 120, 7..=49), [21, 35, 49]);
    }

    #[test]
    fn then_they_go_between_in_the_widest_gap() {
        assert_eq!(days(&[21, 49], 150, 8..=62), [21, 35, 49]);
        assert_eq!(days(&[35], 200, 7..=39), [7, 21, 28, 35]);
        assert_eq!(days(&[35], 250, 7..=39), [7, 14, 21, 28, 35]);
        assert_eq!(days(&[28, 42], 150, 22..=50), [28, 35, 42]);
        assert_eq!(days(&[21, 35, 56], 200, 8..=62), [21, 35, 49, 56]);
        assert_eq!(days(&[21, 42, 63], 250, 8..=70), [21, 35, 42, 56, 63]);
        // Where none is free between them either, outside.
        assert_eq!(days(&[28], 100, 21..=34), [21, 28]);
        assert_eq!(days(&[28], 100, 22..=35), [28, 35]);
    }

    #[test]
    fn none_is_added_on_a_day_that_is_not_open() {
        assert_eq!(days(&[21], 150, 21..=30), [21, 28]);
        assert_eq!(days(&[35], 80, 22..=39), [28, 35]);
        assert_eq!(days(&[35], 80, 30..=39), [35]);
        // The first one was due before the days that are open.
        assert_eq!(days(&[21, 49], 150, 36..=55), [21, 42, 49]);
        assert_eq!(days(&[35], 80, RangeInclusive::new(40, 39)), [35]);
    }

    #[test]
    fn where_none_are_enough_every_visit_is_used() {
        assert_eq!(days(&[21, 35], 400, 21..=38), [21, 28, 35]);
    }

    #[test]
    fn seedlings_are_dressed_early_where_that_helps() {
        let early = |day| if day < 21 { 25 } else { 50 };
        assert_eq!(days_under(&[28], 50, 7..=34, early), [28]);
        assert_eq!(days_under(&[28], 60, 7..=34, early), [14, 21, 28]);
    }

    #[test]
    fn where_equal_parts_never_fit_the_first_days_that_hold_it_do() {
        let early = |day| if day < 21 { 10 } else { 50 };
        assert_eq!(days_under(&[21, 28], 102, 14..=34, early), [14, 21, 28]);
        assert_eq!(days_under(&[28], 60, 14..=34, early), [14, 28]);
        assert_eq!(days_under(&[28], 61, 14..=34, early), [14, 21, 28]);
    }

    #[test]
    fn what_would_not_act_in_time_has_no_part() {
        let quick = |day| if day < 35 { 50 } else { 0 };
        assert_eq!(days_under(&[28, 42], 50, 7..=60, quick), [28]);
        assert_eq!(days_under(&[28, 42], 60, 7..=60, quick), [14, 28]);
        assert_eq!(days_under(&[42], 60, 7..=60, quick), [14, 28]);
        assert_eq!(days_under(&[42], 60, 36..=60, quick), [] as [i32; 0]);
    }
}
