//! Lines that add up: the one place where a total and its lines are rounded together.

use rust_decimal::Decimal;

use crate::quantity::{floor_to, round_to, settle};

/// A rounded total and its rounded lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Apportioned {
    /// The exact total, rounded half away from zero.
    pub total: Decimal,
    /// The lines in the order given; their sum is the total.
    pub lines: Vec<Decimal>,
}

/// Rounds a total and the parts that make it, so that the lines shown add up to the total shown.
///
/// The total is the exact one rounded to `decimals` places, half away from zero. Each line is its
/// part rounded down or up, those with the largest remainder up, the earlier of two equal ones
/// first; so a line is always less than one step from its part, and a part that needs no rounding
/// stays as it is. Parts may be below zero.
///
/// Where the parts do not make the total (beyond the tail that division leaves), no rounding could
/// add up, and each line is rounded by itself.
pub fn apportion(total: Decimal, parts: &[Decimal], decimals: u32) -> Apportioned {
    let step = Decimal::new(1, decimals);
    let rounded = round_to(total, step);
    let floors: Vec<Decimal> = parts.iter().map(|part| floor_to(*part, step)).collect();
    let missing = (rounded - floors.iter().sum::<Decimal>()) / step;
    let mut order: Vec<(usize, Decimal)> = parts
        .iter()
        .zip(&floors)
        .map(|(part, floor)| (settle(*part) - floor).max(Decimal::ZERO))
        .enumerate()
        .filter(|(_, remainder)| !remainder.is_zero())
        .collect();
    order.sort_by(|(_, one), (_, other)| other.cmp(one));
    let lines = match usize::try_from(missing.round()) {
        Ok(raised) if raised <= order.len() && adds_up(total, parts, step) => {
            let mut lines = floors;
            for (index, _) in order.into_iter().take(raised) {
                lines[index] += step;
            }
            lines
        }
        _ => parts.iter().map(|part| round_to(*part, step)).collect(),
    };
    Apportioned { total: rounded, lines }
}

/// Whether the parts make the total, up to a thousandth of what is shown.
fn adds_up(total: Decimal, parts: &[Decimal], step: Decimal) -> bool {
    (parts.iter().sum::<Decimal>() - total).abs() * Decimal::ONE_THOUSAND <= step
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn d(text: &str) -> Decimal {
        text.parse().expect("a decimal")
    }

    fn lines(parts: &[&str], decimals: u32) -> (String, Vec<String>) {
        let parts: Vec<Decimal> = parts.iter().map(|part| d(part)).collect();
        let made = apportion(parts.iter().sum(), &parts, decimals);
        (made.total.to_string(), made.lines.iter().map(Decimal::to_string).collect())
    }

    #[test]
    fn the_largest_remainder_is_raised_and_the_earlier_of_two_equal_ones() {
        assert_eq!(lines(&["1.4", "1.4", "1.4"], 0).1, ["2", "1", "1"]);
        assert_eq!(lines(&["0.333", "0.333", "0.334"], 2).1, ["0.33", "0.33", "0.34"]);
        assert_eq!(lines(&["2.5"], 0).1, ["3"]);
        assert_eq!(lines(&["-2.5"], 0).1, ["-3"]);
        assert_eq!(
            lines(&["5.27", "-1.14", "-0.98"], 1),
            ("3.2".into(), vec!["5.3".into(), "-1.1".into(), "-1.0".into()])
        );
        assert_eq!(lines(&[], 2).1, [""; 0]);
    }

    #[test]
    fn thirds_leave_no_tail() {
        let third = Decimal::ONE / Decimal::from(3);
        let made = apportion(Decimal::ONE, &[third, third, third], 1);
        assert_eq!(made.lines, [d("0.4"), d("0.3"), d("0.3")]);
    }

    #[test]
    fn parts_that_do_not_make_the_total_are_rounded_each_by_itself() {
        let made = apportion(d("10"), &[d("1.26"), d("1.24")], 1);
        assert_eq!((made.total, made.lines), (d("10"), vec![d("1.3"), d("1.2")]));
    }

    proptest! {
        #[test]
        fn lines_add_up_and_stay_within_a_step(
            cents in proptest::collection::vec(-10_000_000_i64..10_000_000, 0..30),
            decimals in 0_u32..4,
        ) {
            let parts: Vec<Decimal> = cents.iter().map(|cent| Decimal::new(*cent, 4)).collect();
            let total: Decimal = parts.iter().sum();
            let step = Decimal::new(1, decimals);
            let made = apportion(total, &parts, decimals);
            prop_assert_eq!(made.lines.iter().sum::<Decimal>(), made.total);
            prop_assert!((made.total - total).abs() * Decimal::from(2) <= step);
            for (line, part) in made.lines.iter().zip(&parts) {
                prop_assert!((line - part).abs() < step);
                if floor_to(*part, step) == *part {
                    prop_assert_eq!(line, part);
                }
            }
            prop_assert_eq!(apportion(total, &parts, decimals), made);
        }
    }
}
