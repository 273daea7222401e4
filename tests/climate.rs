//! Soil temperature and soil time against published figures, row by row.

use topdress::calendar::Date;
use topdress::engine::climate::{Climate, daily_rate};
use topdress::quantity::Temperature;

use super::catalogue::{cases, decimal};

#[test]
fn soil_life_quickens_as_published() {
    let mut worst = (0.0, String::new());
    for row in cases("climate/rates.csv") {
        let value = |field: &str| row[field].parse::<f64>().expect("a number");
        let (pace, printed) = (daily_rate(value("celsius")), value("pace"));
        let off = if printed == 0.0 { pace } else { (pace / printed - 1.0).abs() };
        assert!(off <= value("within") + 1e-9, "{row:?}: {pace}");
        if off > worst.0 {
            worst = (off, row["source"].clone());
        }
    }
    // Were every row met exactly, the rule would have been fitted to them.
    assert!(worst.0 > 0.05, "{worst:?}");
}

#[test]
fn soil_follows_the_air_as_published() {
    let first = Date::new(2027, 1, 1).expect("a day");
    let days: Vec<Date> = (0..365).map(|day| first + day).collect();
    for row in cases("climate/soil.csv") {
        let value = |field: &str| row[field].parse::<f64>().expect("a number");
        let air = |field: &str| Temperature::from_celsius(decimal(&row[field]));
        let climate =
            Climate::new(Some((7, air("warm_c"))), Some((1, air("cold_c"))), first, days[364]);
        let soil: Vec<f64> = days.iter().map(|day| climate.soil_temperature(*day)).collect();
        let mean = soil.iter().sum::<f64>() / 365.0;
        let (low, high) =
            soil.iter().fold((f64::MAX, f64::MIN), |(a, b), c| (a.min(*c), b.max(*c)));
        assert!((mean - value("mean")).abs() < 0.01, "{row:?}: mean {mean}");
        assert!(
            ((high - low) / 2.0 - value("half_swing")).abs() < 0.01,
            "{row:?}: {low} to {high}"
        );
        assert!((high - value("warmest")).abs() < 0.05, "{row:?}: {high}");
        let peak = soil.iter().position(|celsius| *celsius == high).expect("a warmest day");
        let late = days[peak] - Date::new(2027, 7, 15).expect("a day");
        assert!((f64::from(late) - value("late_days")).abs() < 1.0, "{row:?}: {late} days late");
    }
}
