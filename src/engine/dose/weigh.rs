//! Rounding to what a scale can tell.

use std::sync::LazyLock;

use rust_decimal::Decimal;

use crate::engine::rules;
use crate::figure::Figure;
use crate::quantity::{Mass, UnitSystem};

/// The weighing step for a weight: US below 4 oz a quarter ounce, below 2 lb an ounce, above a
/// quarter pound; metric below 100 g a gram, below 1 kg 5 g, above 50 g.
pub fn weighing_step(weight: Mass, units: UnitSystem) -> Mass {
    /// Up to which weight, and the step there; then the step above.
    struct Steps([(Mass, Mass); 2], Mass);
    static US: LazyLock<Steps> = LazyLock::new(|| {
        let quarter = Decimal::new(25, 2);
        let light = (Mass::from_oz(Decimal::from(4)), Mass::from_oz(quarter));
        let middling = (Mass::from_lb(Decimal::from(2)), Mass::from_oz(Decimal::ONE));
        Steps([light, middling], Mass::from_lb(quarter))
    });
    static METRIC: LazyLock<Steps> = LazyLock::new(|| {
        let gram = |value: i64| Mass::from_g(Decimal::from(value));
        Steps([(gram(100), gram(1)), (gram(1_000), gram(5))], gram(50))
    });
    let Steps(below, above) = match units {
        UnitSystem::Us => &*US,
        UnitSystem::Metric => &*METRIC,
    };
    below.iter().find(|(limit, _)| weight < *limit).map_or(*above, |(_, step)| *step)
}

/// The smallest dose worth weighing: 1 oz, or 28 g.
pub fn least_dose(units: UnitSystem) -> Mass {
    match units {
        UnitSystem::Us => Mass::from_oz(Decimal::ONE),
        UnitSystem::Metric => Mass::from_g(Decimal::from(28)),
    }
}

/// A weight rounded to its weighing step, halves up.
pub fn weigh(weight: &Figure<Mass>, units: UnitSystem) -> Figure<Mass> {
    let step = weighing_step(weight.value(), units);
    weight.rounded(step).by("weight", &rules::WEIGHING)
}

/// A weight rounded to its weighing step, but never above a limit: the limit is rounded down first.
pub fn weigh_under(weight: &Figure<Mass>, limit: &Figure<Mass>, units: UnitSystem) -> Figure<Mass> {
    let step = weighing_step(weight.value(), units);
    let rounded = weight.rounded(step);
    if rounded.value() <= limit.value() {
        return rounded.by("weight", &rules::WEIGHING);
    }
    let least = if weight.value() > limit.value() { limit } else { weight };
    least.rounded_down(weighing_step(least.value(), units)).by("weight", &rules::WEIGHING)
}

/// A weight rounded down where the next step would pass a ceiling: to finer steps than its own, so that
/// little is lost. US below 4 oz a quarter ounce, below 2 lb half an ounce, below 10 lb a twentieth of a
/// pound; metric below 1 kg a gram, below 10 kg 10 g; above, its own step.
pub fn weigh_down(weight: &Figure<Mass>, units: UnitSystem) -> Figure<Mass> {
    let (light, whole) = (weight.value(), |value: i64| Decimal::from(value));
    let step = match units {
        UnitSystem::Us if light < Mass::from_oz(whole(4)) => Mass::from_oz(Decimal::new(25, 2)),
        UnitSystem::Us if light < Mass::from_lb(whole(2)) => Mass::from_oz(Decimal::new(5, 1)),
        UnitSystem::Us if light < Mass::from_lb(whole(10)) => Mass::from_lb(Decimal::new(5, 2)),
        UnitSystem::Metric if light < Mass::from_kg(whole(1)) => Mass::from_g(whole(1)),
        UnitSystem::Metric if light < Mass::from_kg(whole(10)) => Mass::from_g(whole(10)),
        _ => weighing_step(light, units),
    };
    weight.rounded_down(step).by("weight", &rules::WEIGHING)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn oz(text: &str) -> Mass {
        Mass::from_oz(text.parse().expect("a decimal"))
    }
    fn figure(mass: Mass) -> Figure<Mass> {
        Figure::asked("weight", mass)
    }

    #[test]
    fn steps_follow_the_scale() {
        let us = |mass: &str| weigh(&figure(oz(mass)), UnitSystem::Us).value();
        assert_eq!(us("3.13"), oz("3.25"));
        assert_eq!(us("3.12"), oz("3"));
        assert_eq!(us("10.5"), oz("11"));
        assert_eq!(us("33"), oz("32"));
        let grams = |text: &str| Mass::from_g(text.parse().expect("a decimal"));
        let metric = |text: &str| weigh(&figure(grams(text)), UnitSystem::Metric).value();
        assert_eq!(metric("99.5"), grams("100"));
        assert_eq!(metric("822.5"), grams("825"));
        assert_eq!(metric("1024"), grams("1000"));
    }

    #[test]
    fn a_limit_is_never_passed() {
        let limited = weigh_under(&figure(oz("10.6")), &figure(oz("10.7")), UnitSystem::Us);
        assert_eq!(limited.value(), oz("10"));
        let over = weigh_under(&figure(oz("12")), &figure(oz("10.7")), UnitSystem::Us);
        assert_eq!(over.value(), oz("10"));
        let down = |weight: &str, units| weigh_down(&figure(oz(weight)), units).value();
        assert_eq!(down("6.99", UnitSystem::Us), oz("6.5"));
        assert_eq!(down("3.99", UnitSystem::Us), oz("3.75"));
        assert_eq!(down("47.9", UnitSystem::Us), oz("47.2"));
        assert_eq!(down("6.99", UnitSystem::Metric), Mass::from_g(Decimal::from(198)));
        // 12.4 lb, then 2.345 kg and 12.345 kg.
        assert_eq!(down("198.4", UnitSystem::Us), oz("196"));
        let grams = |grams: i64| Mass::from_g(Decimal::from(grams));
        let down = |weight: i64| weigh_down(&figure(grams(weight)), UnitSystem::Metric).value();
        assert_eq!((down(2345), down(12_345)), (grams(2340), grams(12_300)));
    }
}
