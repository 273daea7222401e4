//! Rounding, and the two crossings between exact decimals and floating point.

use rust_decimal::prelude::ToPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};

/// How many significant digits comparisons, caps and machine-readable values keep.
pub const SIGNIFICANT_DIGITS: u32 = 12;

/// Rounding used everywhere: to the nearest, halves away from zero.
const HALF_AWAY: RoundingStrategy = RoundingStrategy::MidpointAwayFromZero;

/// Returns the product; what passes the largest decimal stays there, so that no request, however
/// wild, is a crash. No figure of a garden comes near it.
pub fn times(a: Decimal, b: Decimal) -> Decimal {
    a.saturating_mul(b)
}

/// Returns the quotient; what passes the largest decimal stays there, as does a division by zero.
pub fn over(a: Decimal, b: Decimal) -> Decimal {
    let end =
        if a.is_sign_negative() == b.is_sign_negative() { Decimal::MAX } else { Decimal::MIN };
    a.checked_div(b).unwrap_or(end)
}

/// Returns the value rounded to `digits` significant digits, halves away from zero, without zeros at its
/// end. It is done to nearly every amount, so it is reckoned on the digits themselves.
pub fn significant(value: Decimal, digits: u32) -> Decimal {
    let (mut whole, mut places) = (value.mantissa(), value.scale());
    let count = whole.unsigned_abs().checked_ilog10().map_or(0, |log| log + 1);
    if let Some(dropped) = count.checked_sub(digits).filter(|dropped| *dropped > 0) {
        let unit = 10_i128.pow(dropped);
        let kept = whole / unit;
        let half_or_more = 2 * (whole - kept * unit).abs() >= unit;
        whole = kept + if half_or_more { whole.signum() } else { 0 };
        // Digits dropped before the point leave zeros there.
        whole *= 10_i128.pow(dropped.saturating_sub(places));
        places = places.saturating_sub(dropped);
    }
    while places > 0 {
        // Nearly always it fits a machine word.
        let (ends_in_zero, shorter) = match i64::try_from(whole) {
            Ok(word) => (word % 10 == 0, i128::from(word / 10)),
            Err(_) => (whole % 10 == 0, whole / 10),
        };
        if !ends_in_zero {
            break;
        }
        (whole, places) = (shorter, places - 1);
    }
    // Past the largest decimal nothing is rounded up.
    Decimal::try_from_i128_with_scale(whole, places).unwrap_or(value)
}

/// Returns the value with the tail that division and conversion leave cut off, for comparing.
pub fn settle(value: Decimal) -> Decimal {
    significant(value, SIGNIFICANT_DIGITS)
}

/// Returns the multiple of `step` nearest to the value, halves away from zero.
/// A step of zero leaves the value as it is.
pub fn round_to(value: Decimal, step: Decimal) -> Decimal {
    if step.is_zero() {
        return value;
    }
    settle(settle(value) / step).round_dp_with_strategy(0, HALF_AWAY) * step
}

/// Returns the largest multiple of `step` that is not above the value.
/// A step of zero leaves the value as it is.
pub fn floor_to(value: Decimal, step: Decimal) -> Decimal {
    if step.is_zero() {
        return value;
    }
    settle(settle(value) / step).floor() * step
}

/// Turns an exact decimal into a float, for curves and solvers only.
pub fn to_float(value: Decimal) -> f64 {
    value.to_f64().unwrap_or(0.0)
}

/// Turns a share reckoned in floating point into a decimal of nine places: the one way back.
/// A value that is not finite gives zero.
pub fn share_from_float(value: f64) -> Decimal {
    let billionths = (value * 1e9).round();
    // The greatest count of billionths is far above any share and far below what an integer holds.
    if billionths.abs() < 1e18 {
        Decimal::new(billionths as i64, 9).normalize()
    } else {
        Decimal::ZERO
    }
}

/// Significant digits of a float that are sure to be its own.
const FLOAT_DIGITS: usize = 15;
/// Powers of ten up to the last that is exact in floating point.
const TENS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

/// Writes a float that a curve is made of as a decimal of fifteen significant digits, so that an
/// explanation can show it; no amount is reckoned from it. What is further behind the point than the
/// 22nd place is dropped; a value that is not finite, or above 10^16, gives zero.
pub fn constant_from_float(value: f64) -> Decimal {
    let size = value.abs();
    let before = TENS.iter().take_while(|ten| size >= **ten).count();
    let zeros = TENS.iter().skip(1).take_while(|ten| size < 1.0 / **ten).count();
    let mut places = FLOAT_DIGITS.saturating_sub(before) + zeros;
    places = places.min(TENS.len() - 1);
    let scaled = (value * TENS[places]).round();
    if scaled.abs() > 1e16 || scaled.is_nan() {
        return Decimal::ZERO;
    }
    let mut digits = scaled as i64;
    while digits != 0 && places > 0 && digits % 10 == 0 {
        digits /= 10;
        places -= 1;
    }
    Decimal::new(digits, if digits == 0 { 0 } else { places as u32 })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn d(text: &str) -> Decimal {
        text.parse().expect("a decimal")
    }

    #[test]
    fn significant_digits_round_half_away_from_zero() {
        assert_eq!(significant(d("1234.5"), 4), d("1235"));
        assert_eq!(significant(d("-0.00012345"), 4), d("-0.0001235"));
        assert_eq!(significant(d("0"), 4), d("0"));
        assert_eq!(significant(d("0.3333333333333333333333333333"), 12), d("0.333333333333"));
    }

    #[test]
    fn the_largest_decimal_is_not_rounded_past_itself() {
        assert_eq!(significant(Decimal::MAX, 12), Decimal::MAX);
        assert_eq!(significant(Decimal::MIN, 12), Decimal::MIN);
        assert_eq!(
            significant(d("70000000000000000000000000005"), 12),
            d("70000000000000000000000000000")
        );
    }

    proptest::proptest! {
        /// Against the rounding of the library that holds the decimals.
        #[test]
        fn significant_digits_are_those_of_the_library(
            whole in proptest::num::i128::ANY,
            shift in 0_u32..128,
            places in 0_u32..=28,
            digits in 1_u32..=18,
        ) {
            let whole = (whole >> shift) % (1 << 95);
            let value = Decimal::from_i128_with_scale(whole, places);
            let wanted = value.round_sf_with_strategy(digits, HALF_AWAY).unwrap_or(value).normalize();
            let got = significant(value, digits);
            proptest::prop_assert_eq!(got, wanted);
            proptest::prop_assert_eq!(got.to_string(), wanted.to_string());
        }
    }

    #[test]
    fn steps_round_and_floor() {
        assert_eq!(round_to(d("3.125"), d("0.25")), d("3.25"));
        assert_eq!(round_to(d("3.1"), d("0.25")), d("3.00"));
        assert_eq!(floor_to(d("3.24"), d("0.25")), d("3.00"));
        assert_eq!(floor_to(d("3.2499999999999999"), d("0.25")), d("3.25"));
    }

    #[test]
    fn constants_keep_fifteen_digits() {
        for (value, written) in [
            (0.1 + 0.2, "0.3"),
            (2.0 / 3.0, "0.666666666666667"),
            (-200.0 / 3.0, "-66.6666666666667"),
            (0.000_32, "0.00032"),
            (1.0 / 3e4, "0.0000333333333333333"),
            (1234.5, "1234.5"),
            (1e-9 / 3.0, "0.0000000003333333333333"),
            (1e-30, "0"),
            (0.0, "0"),
            (f64::INFINITY, "0"),
            (f64::NAN, "0"),
            (1e300, "0"),
        ] {
            assert_eq!(constant_from_float(value).to_string(), written, "{value}");
        }
    }

    #[test]
    fn floats_come_back_to_nine_places() {
        assert_eq!(share_from_float(0.1 + 0.2), d("0.3"));
        assert_eq!(share_from_float(f64::NAN), d("0"));
    }
}
