//! Numbers as a pencil writes them: a few figures, commas from ten thousand up.

use rust_decimal::{Decimal, RoundingStrategy};

use crate::engine::sums::InUnit;
use crate::quantity::{UnitKind, settle};

/// Figures shown in working.
pub const WORKING_FIGURES: u32 = 6;
/// Figures shown in answers on screen.
pub const ANSWER_FIGURES: u32 = 4;

/// A number as it is shown, and whether rounding changed it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pencil {
    /// The digits.
    pub text: String,
    /// Whether nothing was rounded off.
    pub exact: bool,
}

/// Shows a value to so many figures; whole digits are never dropped.
pub fn pencil(value: Decimal, figures: u32) -> Pencil {
    let value = settle(value);
    let whole = value.abs().trunc().normalize().to_string();
    let places = if value.abs() >= Decimal::ONE {
        figures.saturating_sub(u32::try_from(whole.len()).unwrap_or(figures))
    } else {
        leading_zeros(value) + figures
    };
    let rounded = value
        .round_dp_with_strategy(places.min(28), RoundingStrategy::MidpointAwayFromZero)
        .normalize();
    Pencil { text: grouped(rounded), exact: rounded == value }
}

/// Shows a value in its unit; money keeps two places.
pub fn shown(value: Decimal, unit: InUnit, figures: u32) -> Pencil {
    let mut pencil = pencil(value, figures);
    let money = match unit {
        InUnit::Of(unit) => unit.top.kind == UnitKind::Money,
        InUnit::MoneyPer(_) => true,
        InUnit::Count(_) | InUnit::Ppm => false,
    };
    if money {
        let places = pencil.text.split_once('.').map_or(0, |(_, places)| places.len());
        let missing = ["00", "0"].get(places).copied().unwrap_or_default();
        let point = if places == 0 { "." } else { "" };
        pencil.text = format!("{}{point}{missing}", pencil.text);
    }
    pencil
}

/// Zeros between the point and the first figure of a value below one.
fn leading_zeros(value: Decimal) -> u32 {
    let mut value = value.abs();
    let mut zeros = 0;
    while !value.is_zero() && value < Decimal::new(1, 1) && zeros < 20 {
        value *= Decimal::TEN;
        zeros += 1;
    }
    zeros
}

/// Writes all digits, with commas from ten thousand up.
pub fn grouped(value: Decimal) -> String {
    let text = value.abs().to_string();
    let (whole, rest) = text.split_at(text.find('.').unwrap_or(text.len()));
    let sign = if value < Decimal::ZERO { "\u{2212}" } else { "" };
    if whole.len() < 5 {
        return format!("{sign}{text}");
    }
    let mut out = String::new();
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    format!("{sign}{out}{rest}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str, figures: u32) -> String {
        pencil(text.parse().expect("a decimal"), figures).text
    }

    #[test]
    fn a_few_figures_are_kept() {
        assert_eq!(shown("12.5", 6), "12.5");
        assert_eq!(shown("0.000123456789", 6), "0.000123457");
        assert_eq!(shown("43560", 6), "43,560");
        assert_eq!(shown("1233481.8", 6), "1,233,482");
        assert_eq!(shown("227.2727", 4), "227.3");
        assert_eq!(shown("-2.50", 4), "\u{2212}2.5");
        assert_eq!(shown("0", 4), "0");
    }

    #[test]
    fn rounding_is_known() {
        assert!(pencil("12.5".parse().expect("a decimal"), 4).exact);
        assert!(!pencil("13.3333333".parse().expect("a decimal"), 4).exact);
    }
}
