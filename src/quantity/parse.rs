//! Reading amounts from what people write: "3 lb/1000 ft2", "3 lb per 1000 sq ft", "4'", "2 1/2 lb".

use std::borrow::Cow;

use rust_decimal::Decimal;

use super::kinds::Length;
use super::misread::{MOST_DIGITS, Misread, clip};
use super::quotient::{named, quotient, split_quotient};
use super::range::Bounded;
use super::unit::{Unit, UnitKind, find_unit, units};

/// Letters of a word beyond which no unit's name is near it.
const LONGEST_NAME: usize = 40;

/// An amount as read: its exact base value, what it measures, and the first unit written.
#[derive(Clone, Copy, Debug)]
pub struct Reading {
    /// Value in the base unit of the kind.
    pub base: Decimal,
    /// What it measures.
    pub kind: UnitKind,
    /// The first unit written, such as the pound of "3 lb/1000 ft2".
    pub unit: &'static Unit,
}

/// Reads a text as a quantity of one type, checking its range.
///
/// # Errors
/// A [`Misread`] that says what is wrong and how to mend it.
pub fn read<Q: Bounded>(text: &str) -> Result<(Q, &'static Unit), Misread> {
    let reading = read_kind::<Q>(text)?;
    Ok((in_range(text, reading.base)?, reading.unit))
}

/// Reads a range such as "2-4 lb/1000 ft2" or "2 to 4 lb"; a single amount is a range of no width.
///
/// # Errors
/// A [`Misread`] that says what is wrong and how to mend it.
pub fn read_range<Q: Bounded>(text: &str) -> Result<(Q, Q), Misread> {
    let clean = tidy(text);
    let Some((low, high)) = split_range(&clean) else {
        let (value, _) = read::<Q>(text)?;
        return Ok((value, value));
    };
    let high_reading = read_kind::<Q>(high)?;
    let with_unit = format!("{low} {}", unit_text(high));
    let low_reading = read_kind::<Q>(low).or_else(|_| read_kind::<Q>(&with_unit))?;
    if low_reading.base > high_reading.base {
        return Err(Misread::Reversed { text: clip(&clean) });
    }
    Ok((in_range(text, low_reading.base)?, in_range(text, high_reading.base)?))
}

/// Reads "12 in x 18 in" as two lengths, or a single length as a square.
///
/// # Errors
/// A [`Misread`] that says what is wrong and how to mend it.
pub fn read_length_pair(text: &str) -> Result<(Length, Length), Misread> {
    let clean = tidy(text);
    let Some((first, second)) = split_pair(&clean) else {
        let (side, _) = read::<Length>(&clean)?;
        return Ok((side, side));
    };
    let (second_length, _) = read::<Length>(second)?;
    let with_unit = format!("{first} {}", unit_text(second));
    let (first_length, _) = read::<Length>(first).or_else(|_| read::<Length>(&with_unit))?;
    Ok((first_length, second_length))
}

fn read_kind<Q: Bounded>(text: &str) -> Result<Reading, Misread> {
    let reading = read_any(text, Q::UNIT_KIND, Q::NOUN, Q::EXAMPLE)?;
    if reading.kind == Q::UNIT_KIND {
        return Ok(reading);
    }
    Err(Misread::WrongKind { text: clip(text.trim()), noun: Q::NOUN, example: Q::EXAMPLE })
}

fn in_range<Q: Bounded>(text: &str, base: Decimal) -> Result<Q, Misread> {
    let (low, high) = Q::limits();
    if base < low || base > high {
        let text = clip(text.trim());
        return Err(Misread::OutOfRange { text, noun: Q::NOUN, range: Q::RANGE });
    }
    Ok(Q::from_base(base))
}

/// Reads any amount; `wanted` settles names that mean two things and how a bare number is read.
///
/// # Errors
/// A [`Misread`] that says what is wrong and how to mend it.
pub fn read_any(
    text: &str,
    wanted: UnitKind,
    noun: &'static str,
    example: &'static str,
) -> Result<Reading, Misread> {
    let clean = tidy(text);
    if clean.is_empty() {
        return Err(Misread::Empty { example });
    }
    let (number, rest) = take_number(&clean, example)?;
    if wanted == UnitKind::Money {
        return money(number, rest, &clean, noun, example);
    }
    if rest.is_empty() {
        return Err(Misread::NoUnit { text: clip(&clean), noun, example });
    }
    let (above, below) = split_quotient(rest);
    if above.is_empty() {
        return Err(Misread::NoUnit { text: clip(&clean), noun, example });
    }
    let found = named(rest, Some(wanted));
    match (found, below) {
        (Some(unit), None) => Ok(plain(number, unit)),
        (Some(unit), Some(_)) if unit.kind == wanted => Ok(plain(number, unit)),
        (None, None) => sum_of_parts(number, above, wanted, example),
        (found, Some(below)) => {
            let top = sum_of_parts(number, above, wanted, example)?;
            let quotient = quotient(top, below, &clean, example)?;
            match (quotient, found) {
                // "mg/kg" has a name of its own, and is a share all the same where one is wanted.
                (Some(quotient), None) => Ok(quotient),
                (Some(quotient), Some(_)) if quotient.kind == wanted => Ok(quotient),
                (_, Some(unit)) => Ok(plain(number, unit)),
                (None, None) => Err(Misread::WrongKind { text: clip(&clean), noun, example }),
            }
        }
    }
}

fn money(
    number: Decimal,
    rest: &str,
    text: &str,
    noun: &'static str,
    example: &'static str,
) -> Result<Reading, Misread> {
    if rest.is_empty() {
        return Ok(Reading { base: number, kind: UnitKind::Money, unit: &units::CURRENCY });
    }
    Err(Misread::WrongKind { text: clip(text), noun, example })
}

pub(super) fn plain(number: Decimal, unit: &'static Unit) -> Reading {
    let base = if std::ptr::eq(unit, &units::FAHRENHEIT) {
        super::kinds::Temperature::from_fahrenheit(number).base()
    } else {
        number.checked_mul(unit.size().0).map_or(number, |_| unit.to_base(number))
    };
    Reading { base, kind: unit.kind, unit }
}

/// Where the number of the next part begins in "ft 6 in" or `'6"`.
pub(super) fn next_part(text: &str) -> Option<usize> {
    let at = text.find(|c: char| c.is_ascii_digit())?;
    text[..at].ends_with([' ', '\'', '"', '′', '″', '’', '”']).then_some(at)
}

/// Adds up "4 ft 6 in": one number has been taken already.
fn sum_of_parts(
    first: Decimal,
    text: &str,
    wanted: UnitKind,
    example: &'static str,
) -> Result<Reading, Misread> {
    let (mut number, mut rest) = (first, text);
    let mut total: Option<Reading> = None;
    loop {
        let (name, tail) = next_part(rest).map_or((rest, ""), |at| rest.split_at(at));
        let unit = find_unit(name, Some(wanted)).ok_or_else(|| unknown(name, example))?;
        let part = plain(number, unit);
        total = Some(match total {
            None => part,
            Some(sum) if sum.kind == part.kind => Reading { base: sum.base + part.base, ..sum },
            Some(_) => return Err(unknown(text, example)),
        });
        if tail.is_empty() {
            return total.ok_or_else(|| unknown(text, example));
        }
        (number, rest) = take_number(tail, example)?;
    }
}

fn split_range(text: &str) -> Option<(&str, &str)> {
    if let Some((low, high)) = text.split_once(" to ") {
        return Some((low.trim(), high.trim()));
    }
    let at = text.char_indices().skip(1).find(|(at, c)| {
        *c == '-'
            && text[at + 1..].trim_start().starts_with(|c: char| c.is_ascii_digit())
            && !text[..*at].contains('/')
    })?;
    Some((text[..at.0].trim(), text[at.0 + 1..].trim()))
}

fn split_pair(text: &str) -> Option<(&str, &str)> {
    let at = text.char_indices().find(|(at, c)| {
        matches!(c, 'x' | 'X' | '×' | '*')
            && text[at + c.len_utf8()..].trim_start().starts_with(|c: char| c.is_ascii_digit())
    })?;
    Some((text[..at.0].trim(), text[at.0 + at.1.len_utf8()..].trim()))
}

/// The unit part of a text that begins with a number.
fn unit_text(text: &str) -> &str {
    take_number(text, "").map_or("", |(_, rest)| rest)
}

/// Takes a number off the front: "2", "2.5", "1/2", "2 1/2", "1,000".
pub(super) fn take_number<'a>(
    text: &'a str,
    example: &'static str,
) -> Result<(Decimal, &'a str), Misread> {
    let text = text.trim_start();
    let negative = text.starts_with('-');
    let body = text.strip_prefix(['-', '+']).unwrap_or(text);
    let end =
        body.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(body.len());
    let (digits, rest) = body.split_at(end);
    if !digits.starts_with(|c: char| c.is_ascii_digit() || c == '.') {
        return Err(Misread::NoNumber { text: clip(text), example });
    }
    if exponent_follows(rest) {
        return Err(Misread::Exponent { text: clip(text) });
    }
    let whole = plain_number(digits, text, example)?;
    let (mut value, mut rest) = (whole, rest);
    if let Some((bottom, tail)) = fraction_bottom(rest)? {
        value = whole / bottom;
        rest = tail;
    } else if let Some((top, bottom, tail)) = spaced_fraction(rest)? {
        value = whole + top / bottom;
        rest = tail;
    }
    Ok((if negative { -value } else { value }, rest.trim_start()))
}

/// Whether "e40" or "E-3" stands right behind the digits.
fn exponent_follows(rest: &str) -> bool {
    let Some(power) = rest.strip_prefix(['e', 'E']) else { return false };
    power.strip_prefix(['+', '-']).unwrap_or(power).starts_with(|c: char| c.is_ascii_digit())
}

/// Reads "/2" where a digit follows the stroke at once: the lower half of a fraction.
fn fraction_bottom(text: &str) -> Result<Option<(Decimal, &str)>, Misread> {
    let Some(after) = text.strip_prefix('/') else { return Ok(None) };
    let end = after.find(|c: char| !c.is_ascii_digit()).unwrap_or(after.len());
    let (digits, tail) = after.split_at(end);
    if digits.is_empty() || digits.len() > MOST_DIGITS {
        return Ok(None);
    }
    let bottom: Decimal = digits.parse().unwrap_or_default();
    if bottom.is_zero() {
        return Err(Misread::ZeroBelow { text: clip(text) });
    }
    Ok(Some((bottom, tail)))
}

/// Reads " 1/2" after a whole number.
fn spaced_fraction(text: &str) -> Result<Option<(Decimal, Decimal, &str)>, Misread> {
    let Some(after) = text.strip_prefix(' ') else { return Ok(None) };
    let after = after.trim_start();
    let end = after.find(|c: char| !c.is_ascii_digit()).unwrap_or(after.len());
    let (digits, tail) = after.split_at(end);
    if digits.is_empty() || digits.len() > MOST_DIGITS {
        return Ok(None);
    }
    let Some((bottom, tail)) = fraction_bottom(tail)? else { return Ok(None) };
    Ok(Some((digits.parse().unwrap_or_default(), bottom, tail)))
}

/// Reads plain digits exactly. Commas are taken only where they part thousands.
fn plain_number(digits: &str, text: &str, example: &'static str) -> Result<Decimal, Misread> {
    let plain = if digits.contains(',') {
        let whole = digits.split('.').next().unwrap_or(digits);
        let decimals_have_comma =
            digits.split_once('.').is_some_and(|(_, part)| part.contains(','));
        let mut groups = whole.split(',');
        let first = groups.next().unwrap_or_default();
        let grouped = (1..=3).contains(&first.len()) && groups.all(|group| group.len() == 3);
        if decimals_have_comma || !grouped || first == "0" {
            return Err(Misread::Comma { text: clip(text) });
        }
        Cow::Owned(digits.replace(',', ""))
    } else {
        Cow::Borrowed(digits)
    };
    let count = plain.bytes().filter(u8::is_ascii_digit).count();
    if count > MOST_DIGITS {
        return Err(Misread::TooManyDigits { digits: count });
    }
    plain.parse().map_err(|_| Misread::NoNumber { text: clip(text), example })
}

pub(super) fn unknown(name: &str, example: &'static str) -> Misread {
    let lower = name.trim().to_lowercase();
    let most = 1 + lower.len() / 4;
    // Names whose lengths differ by more are further apart than that, whatever their letters.
    let near = |known: &str| {
        known.chars().count().abs_diff(lower.chars().count()) <= most
            && strsim::damerau_levenshtein(&lower, known) <= most
    };
    let nearest = (3..=LONGEST_NAME)
        .contains(&lower.len())
        .then(|| units::ALL.iter().find(|unit| unit.names.iter().any(|known| near(known))))
        .flatten();
    Misread::UnknownUnit {
        unit: clip(name.trim()),
        nearest: nearest.map(|unit| unit.symbol),
        example,
    }
}

/// Writes fractions, dashes and odd spaces the plain way.
pub(super) fn tidy(text: &str) -> Cow<'_, str> {
    if text.bytes().all(|byte| byte.is_ascii_graphic() || byte == b' ') {
        return Cow::Borrowed(text.trim());
    }
    let mut out = String::with_capacity(text.len());
    for c in text.trim().chars() {
        match c {
            '½' | '¼' | '¾' | '⅓' | '⅔' => {
                if out.ends_with(|c: char| c.is_ascii_digit()) {
                    out.push(' ');
                }
                out.push_str(match c {
                    '½' => "1/2",
                    '¼' => "1/4",
                    '¾' => "3/4",
                    '⅓' => "1/3",
                    _ => "2/3",
                });
            }
            '–' | '—' | '−' => out.push('-'),
            c if c.is_whitespace() => out.push(' '),
            c => out.push(c),
        }
    }
    Cow::Owned(out)
}

#[cfg(test)]
#[path = "parse_tests.rs"]
mod tests;
