//! Amounts with a stroke or a "per" in them: "3 lb/1000 ft2", "40 mg per kg".

use rust_decimal::Decimal;

use super::misread::{Misread, clip};
use super::parse::{Reading, plain, take_number, unknown};
use super::unit::{Unit, UnitKind, find_unit};

/// Splits "lb/1000 ft2" or "lb per 1000 sq ft" at the first quotient sign.
pub(super) fn split_quotient(text: &str) -> (&str, Option<&str>) {
    if let Some((above, below)) = text.split_once('/') {
        return (above.trim(), Some(below.trim()));
    }
    let lower = text.to_ascii_lowercase();
    match lower.find(" per ") {
        Some(at) => (text[..at].trim(), Some(text[at + 5..].trim())),
        None => (text.trim(), None),
    }
}

/// Finds the unit that a text names, also where its stroke stands apart or is a "per": "mg / kg" and "mg
/// per kg" are as good as "mg/kg".
pub(super) fn named(text: &str, wanted: Option<UnitKind>) -> Option<&'static Unit> {
    let parted = || {
        let (above, below) = split_quotient(text);
        below.and_then(|below| find_unit(&format!("{above}/{below}"), wanted))
    };
    find_unit(text, wanted).or_else(parted)
}

/// One amount divided by what stands below a stroke; nothing where that measures nothing known.
pub(super) fn quotient(
    top: Reading,
    below: &str,
    text: &str,
    example: &'static str,
) -> Result<Option<Reading>, Misread> {
    let bottom = denominator(below, example)?;
    if bottom.base.is_zero() {
        return Err(Misread::ZeroBelow { text: clip(text) });
    }
    let Some(kind) = quotient_kind(top.kind, bottom.kind) else { return Ok(None) };
    let base = top.base.checked_div(bottom.base).unwrap_or_default();
    Ok(Some(Reading { base, kind, ..top }))
}

fn denominator(text: &str, example: &'static str) -> Result<Reading, Misread> {
    let (number, unit) = denominator_parts(text, example)?;
    Ok(plain(number, unit))
}

/// Reads "1000 ft2" or "acre" below a stroke: how many, and of what.
pub(super) fn denominator_parts(
    text: &str,
    example: &'static str,
) -> Result<(Decimal, &'static Unit), Misread> {
    let text = text
        .trim()
        .trim_end_matches("row")
        .trim_end()
        .trim_end_matches(" of")
        .trim_end_matches(" a")
        .trim();
    let starts_with_number = text.starts_with(|c: char| c.is_ascii_digit());
    let (number, rest) =
        if starts_with_number { take_number(text, example)? } else { (Decimal::ONE, text) };
    let unit = find_unit(rest, None).ok_or_else(|| unknown(rest, example))?;
    Ok((number, unit))
}

fn quotient_kind(top: UnitKind, bottom: UnitKind) -> Option<UnitKind> {
    let (
        UnitKind::Physical { mass: m1, length: l1, plant: p1 },
        UnitKind::Physical { mass: m2, length: l2, plant: p2 },
    ) = (top, bottom)
    else {
        return None;
    };
    Some(match UnitKind::physical(m1 - m2, l1 - l2, p1 - p2) {
        UnitKind::Physical { mass: 0, length: 0, plant: 0 } => UnitKind::Share,
        kind => kind,
    })
}
