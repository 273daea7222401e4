//! Soil temperature through the year, and the time that soil life counts by.

use std::f64::consts::PI;

use crate::calendar::Date;
use crate::quantity::{Temperature, to_float};

/// Days in the annual wave.
const YEAR_DAYS: f64 = 365.0;
/// Soil mean over air mean: 2.49 C + 0.91 of the air's mean (D'Avello and others 2021, 69 stations).
const MEAN_OFFSET_C: f64 = 2.49;
const MEAN_SLOPE: f64 = 0.91;
/// What is left of the surface amplitude at 10 cm, and the lag there in radians: an annual wave is
/// damped over 2.24 m (derived from the heat equation at 0.5e-6 m2/s).
const AMPLITUDE_AT_10_CM: f64 = 0.956;
const LAG_RADIANS: f64 = 0.0446;
/// Soil temperatures assumed where no climate is given: April to October, and the other months.
const ASSUMED_WARM_C: f64 = 15.0;
const ASSUMED_COLD_C: f64 = 5.0;
/// Release doubles for every 10 C, is counted in days at 25 C, and stays level above 35 C; below
/// 5 C it falls straight to nothing at freezing (Katterer and others 1998; the taper derived).
const REFERENCE_C: f64 = 25.0;
const DOUBLING_C: f64 = 10.0;
const LEVEL_ABOVE_C: f64 = 35.0;
const TAPER_BELOW_C: f64 = 5.0;
/// Soil temperature at which overwintered crops start to grow again (proposed).
const REGROWTH_C: f64 = 5.0;
/// Day of a 365-day year on which the 15th of each month falls.
const MID_MONTH: [f64; 12] =
    [15.0, 46.0, 74.0, 105.0, 135.0, 166.0, 196.0, 227.0, 258.0, 288.0, 319.0, 349.0];

/// The annual wave of soil temperature at 10 cm.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Wave {
    mean_c: f64,
    amplitude_c: f64,
    warmest_day: f64,
}

/// The garden's soil temperature, and one running total of thermal days over the season's window.
#[derive(Clone, Debug, PartialEq)]
pub struct Climate {
    wave: Option<Wave>,
    /// The day before the window: its running total is nothing.
    before: Date,
    running: Vec<f64>,
}

impl Climate {
    /// Builds the climate from the month (1 to 12) and mean air temperature of the warmest and of
    /// the coldest month, for the days `first` to `last`. Both are needed; where one is missing,
    /// or a month is not 1 to 12, soil is taken as 15 C from 1 April to 31 October and 5 C
    /// otherwise (north of the equator).
    pub fn new(
        warmest: Option<(u8, Temperature)>,
        coldest: Option<(u8, Temperature)>,
        first: Date,
        last: Date,
    ) -> Self {
        let wave = warmest.zip(coldest).and_then(|(warm, cold)| Wave::new(warm, cold.1));
        let mut climate = Self { wave, before: first - 1, running: vec![0.0] };
        let mut total = 0.0;
        for number in first.number()..=last.number() {
            total += daily_rate(climate.soil_temperature(Date::from_number(number)));
            climate.running.push(total);
        }
        climate
    }

    /// Tells whether the temperatures are the assumed ones.
    pub fn assumed(&self) -> bool {
        self.wave.is_none()
    }

    /// Tells whether summer falls in December to February: the warmest month is October to March.
    pub fn southern(&self) -> bool {
        self.wave.is_some_and(|wave| !(90.0..274.0).contains(&wave.warmest_day))
    }

    /// Returns the soil temperature at 10 cm on a day, in C, never below 0.
    pub fn soil_temperature(&self, day: Date) -> f64 {
        match self.wave {
            Some(wave) => wave.at(f64::from(day.day_of_year())),
            None if (4..=10).contains(&day.month()) => ASSUMED_WARM_C,
            None => ASSUMED_COLD_C,
        }
    }

    /// Returns the thermal days (days at 25 C) after `from` up to and with `to`: the sum over days
    /// d with from < d <= to, so that neighbouring spans add up. Days outside the window count
    /// nothing; a span that runs backward is nothing. A calendar year is from 31 December of the
    /// year before.
    pub fn thermal_days(&self, from: Date, to: Date) -> f64 {
        (self.running_at(to) - self.running_at(from)).max(0.0)
    }

    /// Returns the first spring day of a year with the soil at 5 C, counted from the coldest day of
    /// the wave: that coldest day where the soil never is below 5 C, the warmest where it never
    /// reaches it. South of the equator it falls in the second half of the same year. No climate
    /// given: 15 March.
    pub fn regrowth(&self, year: i16) -> Date {
        let new_year = Date::new(year, 1, 1).unwrap_or(self.before);
        let Some(wave) = self.wave else {
            return Date::new(year, 3, 15).unwrap_or(new_year);
        };
        let coldest = wave.coldest_day();
        (0..183)
            .map(|ahead| new_year + (coldest - 1 + ahead))
            .find(|day| self.soil_temperature(*day) >= REGROWTH_C)
            .unwrap_or(new_year + (coldest - 1 + 183))
    }

    /// Returns the first regrowth after planting and before the (last) harvest, for a crop that
    /// stands over winter; nothing where no such day lies between.
    pub fn regrowth_between(&self, planted: Date, harvest: Date) -> Option<Date> {
        (planted.year()..=harvest.year())
            .map(|year| self.regrowth(year))
            .find(|day| planted < *day && *day < harvest)
    }

    fn running_at(&self, day: Date) -> f64 {
        let index = usize::try_from(day - self.before).unwrap_or(0).min(self.running.len() - 1);
        self.running[index]
    }
}

impl Wave {
    fn new((month, warm): (u8, Temperature), cold: Temperature) -> Option<Self> {
        let warmest_day = *MID_MONTH.get(usize::from(month).checked_sub(1)?)?;
        let (warm, cold) = (to_float(warm.celsius()), to_float(cold.celsius()));
        Some(Self {
            mean_c: MEAN_OFFSET_C + MEAN_SLOPE * (warm + cold) / 2.0,
            amplitude_c: AMPLITUDE_AT_10_CM * (warm - cold) / 2.0,
            warmest_day,
        })
    }

    fn at(self, day_of_year: f64) -> f64 {
        let angle = 2.0 * PI * (day_of_year - self.warmest_day) / YEAR_DAYS - LAG_RADIANS;
        (self.mean_c + self.amplitude_c * libm::cos(angle)).max(0.0)
    }

    /// Day of the year of the trough before spring. A northern trough may lie in the December
    /// before (a negative day); a southern one lies in the middle of the year.
    fn coldest_day(self) -> i32 {
        let lag_days = LAG_RADIANS * YEAR_DAYS / (2.0 * PI);
        let trough = self.warmest_day + lag_days - YEAR_DAYS / 2.0;
        let shifted = if trough < -60.0 { trough + YEAR_DAYS } else { trough };
        // Within a year, so the cast is exact.
        libm::round(shifted) as i32
    }
}

/// Returns how many days at 25 C a day at a soil temperature (C) is worth: 1 at 25 C, half at
/// 15 C, tapering from 5 C to nothing at 0 C, no more above 35 C than at 35 C.
pub fn daily_rate(soil_c: f64) -> f64 {
    let rate =
        |temperature: f64| libm::exp2((temperature.min(LEVEL_ABOVE_C) - REFERENCE_C) / DOUBLING_C);
    if soil_c <= 0.0 {
        0.0
    } else if soil_c < TAPER_BELOW_C {
        rate(TAPER_BELOW_C) * soil_c / TAPER_BELOW_C
    } else {
        rate(soil_c)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> Date {
        Date::read(text).expect("a date")
    }

    fn celsius(value: i32) -> Temperature {
        Temperature::from_celsius(value.into())
    }

    fn climate(warmest: u8, coldest: u8) -> Climate {
        let (warm, cold) = ((warmest, celsius(22)), (coldest, celsius(-2)));
        Climate::new(Some(warm), Some(cold), date("2026-07-01"), date("2027-12-31"))
    }

    fn assumed() -> Climate {
        Climate::new(None, None, date("2026-07-01"), date("2027-12-31"))
    }

    #[test]
    fn the_peak_is_that_of_the_printed_check() {
        // Mean 10 C, amplitude 12 C, 10 cm: 11.59 + 12 x 0.956 = 23.1 C in the peak month
        // (derived check of the annual wave, Oklahoma State Eq. 13-4, and D'Avello 2021).
        let peak = climate(7, 1).soil_temperature(date("2027-07-18"));
        assert!((peak - 23.06).abs() < 0.01, "{peak}");
        let trough = climate(7, 1).soil_temperature(date("2027-01-16"));
        assert!((trough - (11.59 - 11.472)).abs() < 0.05, "{trough}");
    }

    #[test]
    fn rates_double_every_ten_degrees_and_stop_at_both_ends() {
        for (soil, rate) in
            [(25.0, 1.0), (15.0, 0.5), (35.0, 2.0), (40.0, 2.0), (5.0, 0.25), (2.5, 0.125)]
        {
            assert!((daily_rate(soil) - rate).abs() < 1e-12, "{soil}");
        }
        assert_eq!(daily_rate(0.0), 0.0);
        assert_eq!(daily_rate(-3.0), 0.0);
    }

    #[test]
    fn thermal_days_add_up_over_neighbouring_spans() {
        let climate = climate(7, 1);
        let (a, b, c) = (date("2027-04-01"), date("2027-05-17"), date("2027-09-30"));
        let parts = climate.thermal_days(a, b) + climate.thermal_days(b, c);
        assert!((climate.thermal_days(a, c) - parts).abs() < 1e-9);
        let one = climate.thermal_days(a, a + 1);
        assert!((one - daily_rate(climate.soil_temperature(a + 1))).abs() < 1e-12);
        assert_eq!(climate.thermal_days(c, a), 0.0);
        assert_eq!(climate.thermal_days(date("2020-01-01"), date("2026-06-30")), 0.0);
    }

    #[test]
    fn without_a_climate_the_soil_is_warm_from_april_to_october() {
        let climate = assumed();
        assert!(climate.assumed());
        assert_eq!(climate.soil_temperature(date("2027-03-31")), 5.0);
        assert_eq!(climate.soil_temperature(date("2027-04-01")), 15.0);
        assert_eq!(climate.soil_temperature(date("2027-10-31")), 15.0);
        assert_eq!(climate.soil_temperature(date("2027-11-01")), 5.0);
        assert_eq!(climate.regrowth(2027), date("2027-03-15"));
        let april = climate.thermal_days(date("2027-03-31"), date("2027-04-30"));
        assert!((april - 15.0).abs() < 1e-9);
    }

    #[test]
    fn regrowth_is_the_first_day_at_five_degrees() {
        let climate = climate(7, 1);
        let day = climate.regrowth(2027);
        assert!(climate.soil_temperature(day) >= 5.0);
        assert!(climate.soil_temperature(day - 1) < 5.0);
        assert_eq!(day.month(), 3);
        let between = climate.regrowth_between(date("2026-10-10"), date("2027-07-10"));
        assert_eq!(between, Some(day));
        assert_eq!(climate.regrowth_between(date("2027-05-01"), date("2027-08-01")), None);
        // After planting and before the harvest: neither day itself counts.
        assert_eq!(climate.regrowth_between(date("2026-10-10"), day), None);
        assert_eq!(climate.regrowth_between(date("2026-10-10"), day + 1), Some(day));
        assert_eq!(climate.regrowth_between(day, date("2027-07-10")), None);
        assert_eq!(climate.regrowth_between(day - 1, date("2027-07-10")), Some(day));
    }

    #[test]
    fn south_of_the_equator_spring_comes_in_the_second_half_of_the_year() {
        let north = climate(7, 1);
        let south = climate(1, 7);
        assert!(south.southern() && !north.southern() && !assumed().southern());
        assert_eq!(south.regrowth(2027).month(), 9);
        let half_year = south.regrowth(2027) - north.regrowth(2027);
        assert!((180..=186).contains(&half_year), "{half_year}");
        assert!(south.soil_temperature(date("2027-01-17")) > 23.0);
    }

    #[test]
    fn mild_and_bitter_climates_still_have_a_first_day() {
        let window = (date("2026-07-01"), date("2027-12-31"));
        let mild = Climate::new(Some((7, celsius(28))), Some((1, celsius(16))), window.0, window.1);
        assert_eq!(mild.regrowth(2027), date("2027-01-16"));
        let bitter =
            Climate::new(Some((7, celsius(2))), Some((1, celsius(-30))), window.0, window.1);
        assert_eq!(bitter.regrowth(2027).month(), 7);
        assert!(
            Climate::new(Some((13, celsius(2))), Some((1, celsius(0))), window.0, window.1)
                .assumed()
        );
    }
}
