//! Reading amounts from what people write: "3 lb/1000 ft2", "3 lb per 1000 sq ft", "4'", "2 1/2 lb".

use std::borrow::Cow;
use std::fmt;

use rust_decimal::Decimal;

use super::kinds::Length;
use super::range::Bounded;
use super::unit::{Unit, UnitKind, find_unit, units};

/// Most digits an amount may be written with: more than any scale or tape can tell apart.
const MOST_DIGITS: usize = 18;

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

/// Why a text is not the amount that was wanted. Shown, it says what is wrong in a grower's words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Misread {
    /// Nothing is written.
    Empty {
        /// A text that works.
        example: &'static str,
    },
    /// No number stands where one must.
    NoNumber {
        /// What was written.
        text: String,
        /// A text that works.
        example: &'static str,
    },
    /// A comma where the decimal point should be.
    Comma {
        /// What was written.
        text: String,
    },
    /// More digits than can mean anything.
    TooManyDigits {
        /// How many were written.
        digits: usize,
    },
    /// A division by nothing.
    ZeroBelow {
        /// What was written.
        text: String,
    },
    /// A number without a unit.
    NoUnit {
        /// What was written.
        text: String,
        /// What was wanted, with its article.
        noun: &'static str,
        /// A text that works.
        example: &'static str,
    },
    /// A word that is no unit known here.
    UnknownUnit {
        /// The word.
        unit: String,
        /// The nearest unit, where one is near.
        nearest: Option<&'static str>,
        /// A text that works.
        example: &'static str,
    },
    /// An amount of another kind.
    WrongKind {
        /// What was written.
        text: String,
        /// What was wanted, with its article.
        noun: &'static str,
        /// A text that works.
        example: &'static str,
    },
    /// Outside the allowed range.
    OutOfRange {
        /// What was written.
        text: String,
        /// What it is, with its article.
        noun: &'static str,
        /// The range in words.
        range: &'static str,
    },
    /// A range written high to low.
    Reversed {
        /// What was written.
        text: String,
    },
}

impl fmt::Display for Misread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty { .. } => write!(f, "nothing is written here"),
            Self::NoNumber { text, .. } => write!(f, "`{text}` does not begin with a number"),
            Self::Comma { text } => write!(f, "`{text}` has a comma where the decimal point goes"),
            Self::TooManyDigits { digits } => {
                write!(
                    f,
                    "a number of {digits} digits is more than any scale or tape can tell apart"
                )
            }
            Self::ZeroBelow { text } => write!(f, "`{text}` divides by nothing"),
            Self::NoUnit { text, noun, .. } => {
                write!(f, "`{text}` has no unit, and {noun} needs one")
            }
            Self::UnknownUnit { unit, .. } => write!(f, "`{unit}` is not a unit known here"),
            Self::WrongKind { text, noun, .. } => write!(f, "`{text}` is not {noun}"),
            Self::OutOfRange { text, noun, .. } => write!(f, "`{text}` is out of range for {noun}"),
            Self::Reversed { text } => write!(f, "`{text}` runs from high to low"),
        }
    }
}

impl std::error::Error for Misread {}

impl Misread {
    /// How to put it right, in one sentence.
    pub fn mend(&self) -> String {
        match self {
            Self::Empty { example }
            | Self::NoNumber { example, .. }
            | Self::NoUnit { example, .. } => {
                format!("write it like `{example}`")
            }
            Self::Comma { text } => format!("write a point: `{}`", text.replacen(',', ".", 1)),
            Self::TooManyDigits { .. } => format!("write at most {MOST_DIGITS} digits"),
            Self::ZeroBelow { .. } => "write what is divided by as more than 0".to_owned(),
            Self::UnknownUnit { nearest: Some(unit), .. } => format!("did you mean `{unit}`?"),
            Self::UnknownUnit { example, .. } => format!("write it like `{example}`"),
            Self::WrongKind { noun, example, .. } => format!("write {noun}, like `{example}`"),
            Self::OutOfRange { range, .. } => format!("it may be {range}"),
            Self::Reversed { .. } => "write the low end first, like `2-4 lb/1000 ft2`".to_owned(),
        }
    }
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
    if let Some(unit) = find_unit(rest, Some(wanted)) {
        return Ok(plain(number, unit));
    }
    let (above, below) = split_quotient(rest);
    let mut top = sum_of_parts(number, above, wanted, example)?;
    let Some(below) = below else { return Ok(top) };
    let bottom = denominator(below, example)?;
    if bottom.base.is_zero() {
        return Err(Misread::ZeroBelow { text: clip(&clean) });
    }
    top.kind = quotient_kind(top.kind, bottom.kind).ok_or(Misread::WrongKind {
        text: clip(&clean),
        noun,
        example,
    })?;
    top.base = top.base.checked_div(bottom.base).unwrap_or_default();
    Ok(top)
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

fn plain(number: Decimal, unit: &'static Unit) -> Reading {
    let base = if std::ptr::eq(unit, &units::FAHRENHEIT) {
        super::kinds::Temperature::from_fahrenheit(number).base()
    } else {
        number.checked_mul(unit.size().0).map_or(number, |_| unit.to_base(number))
    };
    Reading { base, kind: unit.kind, unit }
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
        let cut = rest.find(|c: char| c.is_ascii_digit()).filter(|at| *at > 0);
        let split = cut.filter(|at| {
            rest[..*at].ends_with(' ') || rest[..*at].ends_with(['\'', '"', '′', '″', '’', '”'])
        });
        let (name, tail) = split.map_or((rest, ""), |at| rest.split_at(at));
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
    let whole = digits.split('.').next().unwrap_or(digits);
    let decimals_have_comma = digits.split_once('.').is_some_and(|(_, part)| part.contains(','));
    let mut groups = whole.split(',');
    let first = groups.next().unwrap_or_default();
    let grouped = (1..=3).contains(&first.len()) && groups.all(|group| group.len() == 3);
    if decimals_have_comma || (whole.contains(',') && (!grouped || first == "0")) {
        return Err(Misread::Comma { text: clip(text) });
    }
    let plain: String = digits.chars().filter(|c| *c != ',').collect();
    let count = plain.chars().filter(char::is_ascii_digit).count();
    if count > MOST_DIGITS {
        return Err(Misread::TooManyDigits { digits: count });
    }
    plain.parse().map_err(|_| Misread::NoNumber { text: clip(text), example })
}

pub(super) fn unknown(name: &str, example: &'static str) -> Misread {
    let lower = name.trim().to_lowercase();
    let near = |known: &str| strsim::damerau_levenshtein(&lower, known) <= 1 + lower.len() / 4;
    let nearest = (lower.len() >= 3)
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

/// Keeps a quoted text short enough to read.
fn clip(text: &str) -> String {
    const MOST: usize = 40;
    if text.chars().count() <= MOST {
        return text.to_owned();
    }
    let mut short: String = text.chars().take(MOST).collect();
    short.push('…');
    short
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{
        Area, Concentration, Density, Mass, Money, PlantRate, Rate, RowRate, Share, Temperature,
        Volume,
    };

    fn d(text: &str) -> Decimal {
        text.parse().expect("a decimal")
    }
    fn q<Q: Bounded>(text: &str) -> Q {
        read::<Q>(text).unwrap_or_else(|fault| panic!("{text}: {fault}")).0
    }

    #[test]
    fn what_people_write_is_read() {
        assert_eq!(q::<Rate>("3 lb/1000 ft2"), q::<Rate>("3 lb per 1000 sq ft"));
        assert_eq!(q::<Rate>("3lb/1,000 ft²"), q::<Rate>("3 lb/1000 ft2"));
        assert_eq!(q::<Rate>("20 t/ha").kg_per_ha(), d("20000"));
        assert_eq!(q::<Rate>("150 lb per 100 ft2").lb_per_100_ft2().round_dp(20), d("150"));
        assert_eq!(q::<Length>("4'").ft(), d("4"));
        assert_eq!(q::<Length>("4' 6\"").ft(), d("4.5"));
        assert_eq!(q::<Length>("4 ft 6 in").ft(), d("4.5"));
        assert_eq!(q::<Mass>("2 1/2 lb").lb(), d("2.5"));
        assert_eq!(q::<Mass>("½ lb").lb(), d("0.5"));
        assert_eq!(q::<Mass>("2½ lb").lb(), d("2.5"));
        assert_eq!(q::<Mass>("2 lb 4 oz").lb(), d("2.25"));
        assert_eq!(q::<Share>("60 %").fraction(), d("0.6"));
        assert_eq!(q::<Share>("60 percent").fraction(), d("0.6"));
        assert_eq!(q::<Share>("2.8 kg/t").fraction(), d("0.0028"));
        assert_eq!(q::<RowRate>("8 lb/10 ft").lb_per_100_ft().round_dp(20), d("80"));
        assert_eq!(q::<RowRate>("8 lb per 10 ft of row"), q::<RowRate>("8 lb/10 ft"));
        assert_eq!(q::<PlantRate>("1.75 lb/plant").lb(), d("1.75"));
        assert_eq!(q::<Concentration>("18 ppm").ppm(), d("18"));
        assert_eq!(q::<Concentration>("18 mg/kg").ppm(), d("18"));
        assert_eq!(q::<Temperature>("32 F").celsius(), d("0"));
        assert_eq!(q::<Temperature>("-4 °C").celsius(), d("-4"));
        assert_eq!(q::<Volume>("1 c").cup(), d("1"));
        assert_eq!(q::<Density>("1000 lb/yd3").lb_per_yd3().round_dp(15), d("1000"));
        assert_eq!(q::<Density>("1.3 g/cm3").g_per_cm3(), d("1.3"));
        assert_eq!(q::<Length>("3 yd3/1000 ft2").inch().round_dp(15), d("0.972"));
        assert_eq!(q::<Money>("13.50").units(), d("13.50"));
        assert_eq!(q::<Area>("1/4 acre").ft2(), d("10890"));
    }

    #[test]
    fn ranges_and_pairs_are_read() {
        let (low, high) = read_range::<Rate>("2-4 lb/1000 ft2").expect("a range");
        assert_eq!((low, high), (q("2 lb/1000 ft2"), q("4 lb/1000 ft2")));
        let (low, high) = read_range::<Rate>("2 to 4 lb/1000 ft2").expect("a range");
        assert_eq!((low, high), (q("2 lb/1000 ft2"), q("4 lb/1000 ft2")));
        assert_eq!(read_length_pair("12 in x 18 in"), Ok((q("12 in"), q("18 in"))));
        assert_eq!(read_length_pair("12 x 18 in"), Ok((q("12 in"), q("18 in"))));
        assert_eq!(read_length_pair("1 ft"), Ok((q("1 ft"), q("1 ft"))));
        assert!(matches!(read_range::<Mass>("4-2 lb"), Err(Misread::Reversed { .. })));
    }

    #[test]
    fn what_cannot_be_read_says_why() {
        let fault = |text| read::<Length>(text).expect_err("a fault");
        assert_eq!(fault("1,5 m").mend(), "write a point: `1.5 m`");
        assert!(matches!(fault("1,5 m"), Misread::Comma { .. }));
        assert!(matches!(fault(""), Misread::Empty { .. }));
        assert!(matches!(fault("long"), Misread::NoNumber { .. }));
        assert!(matches!(fault("12"), Misread::NoUnit { .. }));
        assert!(matches!(fault("3 lb"), Misread::WrongKind { .. }));
        assert_eq!(fault("3 inche").mend(), "did you mean `in`?");
        assert!(matches!(fault("-3 m"), Misread::OutOfRange { .. }));
        assert!(matches!(fault("1/0 m"), Misread::ZeroBelow { .. }));
        assert!(matches!(fault(&format!("{} m", "9".repeat(40))), Misread::TooManyDigits { .. }));
        assert!(matches!(read::<Share>("120 %"), Err(Misread::OutOfRange { .. })));
        assert!(matches!(read::<Rate>("3 lb/0 ft2"), Err(Misread::ZeroBelow { .. })));
    }
}
