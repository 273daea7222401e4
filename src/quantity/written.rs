//! Units as people write them, kept apart from values: "lb/1000 ft2", "g/cm3", "%".

use std::fmt;

use rust_decimal::Decimal;

use super::kinds::Length;
use super::number::{over, times};
use super::parse::{next_part, read_any, take_number, tidy};
use super::quotient::{denominator_parts, named, split_quotient};
use super::range::Bounded;
use super::unit::{Unit, UnitKind, find_unit};
use super::{Misread, UnitSystem};

/// A unit with what it is divided by, such as the "1000 ft2" of "lb/1000 ft2".
#[derive(Clone, Copy, Debug)]
pub struct Written {
    /// What stands above the stroke.
    pub top: &'static Unit,
    /// What stands below it, and how many of that.
    pub below: Option<(Decimal, &'static Unit)>,
}

impl PartialEq for Written {
    fn eq(&self, other: &Self) -> bool {
        let below = |one: &Self| one.below.map(|(many, unit)| (many, unit.symbol));
        self.top.symbol == other.top.symbol && below(self) == below(other)
    }
}

impl From<&'static Unit> for Written {
    fn from(unit: &'static Unit) -> Self {
        Self::plain(unit)
    }
}

impl Written {
    /// A unit that is not divided by anything.
    pub const fn plain(top: &'static Unit) -> Self {
        Self { top, below: None }
    }

    /// A unit divided by another, such as pounds by an acre.
    pub const fn per(top: &'static Unit, below: &'static Unit) -> Self {
        Self { top, below: Some((Decimal::ONE, below)) }
    }

    /// Turns a value in this unit into base units.
    pub fn to_base(self, value: Decimal) -> Decimal {
        let top = self.top.to_base(value);
        self.below.map_or(top, |(many, unit)| over(top, unit.to_base(many)))
    }

    /// Turns a value in base units into this unit.
    pub fn of_base(self, base: Decimal) -> Decimal {
        let top = self.below.map_or(base, |(many, unit)| times(base, unit.to_base(many)));
        self.top.of_base(top)
    }

    /// What it measures, where anything does.
    pub fn kind(self) -> Option<UnitKind> {
        let Some((_, below)) = self.below else { return Some(self.top.kind) };
        match (self.top.kind, below.kind) {
            (
                UnitKind::Physical { mass: m1, length: l1, plant: p1 },
                UnitKind::Physical { mass: m2, length: l2, plant: p2 },
            ) => Some(match UnitKind::physical(m1 - m2, l1 - l2, p1 - p2) {
                UnitKind::Physical { mass: 0, length: 0, plant: 0 } => UnitKind::Share,
                kind => kind,
            }),
            _ => None,
        }
    }

    /// Reads a unit without a number: "lb/1000 ft2", "kg per ha".
    ///
    /// # Errors
    /// Where a word in it is no unit known here.
    pub fn read(text: &str, example: &'static str) -> Result<Self, Misread> {
        let clean = tidy(text);
        Self::of_tidy(&clean, None, example)
    }

    fn of_tidy(
        text: &str,
        wanted: Option<UnitKind>,
        example: &'static str,
    ) -> Result<Self, Misread> {
        // As amounts are read: a name of another kind gives way to what stands above and below.
        let divided = split_quotient(text).1.is_some();
        let fits = |unit: &&Unit| !divided || wanted.is_none_or(|kind| unit.kind == kind);
        let text = match named(text, wanted).filter(fits) {
            Some(unit) if !unit.symbol.contains('/') => return Ok(Self::plain(unit)),
            Some(unit) => unit.symbol,
            None => text,
        };
        let (above, below) = split_quotient(text);
        let word = |name: &str| match find_unit(name, wanted) {
            Some(unit) => Ok(unit),
            None => Err(super::parse::unknown(name, example)),
        };
        let top = word(first_unit(above))?;
        let Some(below) = below else { return Ok(Self::plain(top)) };
        let (many, unit) = denominator_parts(below, example)?;
        if many <= Decimal::ZERO {
            return Err(Misread::ZeroBelow { text: text.to_owned() });
        }
        Ok(Self { top, below: Some((many, unit)) })
    }

    /// The system of units it belongs to, where it belongs to one only.
    pub fn system(self) -> Option<UnitSystem> {
        system_of(self.top).or_else(|| self.below.and_then(|(_, unit)| system_of(unit)))
    }
}

/// The first unit of "ft 6 in" or `'6"`.
fn first_unit(text: &str) -> &str {
    next_part(text).map_or(text, |at| text[..at].trim_end())
}

/// The system a plain unit belongs to; grams per cubic centimetre are used in both.
fn system_of(unit: &Unit) -> Option<UnitSystem> {
    match unit.symbol {
        "kg" | "g" | "mg" | "t" | "dt" | "m" | "cm" | "mm" | "km" | "m2" | "cm2" | "are" | "ha"
        | "m3" | "L" | "mL" => Some(UnitSystem::Metric),
        "lb" | "oz" | "ton" | "long ton" | "cwt" | "ft" | "in" | "yd" | "mi" | "ft2" | "in2"
        | "yd2" | "acre" | "ft3" | "yd3" | "in3" | "gal" | "qt" | "pint" | "cup" | "tbsp"
        | "tsp" | "fl oz" | "acre-inch" | "acre-foot" => Some(UnitSystem::Us),
        _ => None,
    }
}

impl fmt::Display for Written {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.top.symbol)?;
        match self.below {
            Some((many, unit)) if many == Decimal::ONE => write!(f, "/{}", unit.symbol),
            Some((many, unit)) => write!(f, "/{} {}", many.normalize(), unit.symbol),
            None => Ok(()),
        }
    }
}

/// A quantity with the unit it was written in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Said<Q> {
    /// The quantity.
    pub value: Q,
    /// The unit it was written in.
    pub unit: Written,
}

/// Reads a text as a quantity of one type, keeping the unit it was written in.
///
/// # Errors
/// A [`Misread`] that says what is wrong and how to mend it.
pub fn read_said<Q: Bounded>(text: &str) -> Result<Said<Q>, Misread> {
    let (value, _) = super::read::<Q>(text)?;
    let clean = tidy(text);
    let (_, rest) = take_number(&clean, Q::EXAMPLE)?;
    // Whatever stands after an amount of money has been refused above.
    let unit = if Q::UNIT_KIND == UnitKind::Money {
        Written::plain(&super::units::CURRENCY)
    } else {
        Written::of_tidy(rest, Some(Q::UNIT_KIND), Q::EXAMPLE)?
    };
    Ok(Said { value, unit })
}

/// Reads any amount that has a unit: its base value and the unit it was written in.
///
/// # Errors
/// A [`Misread`] that says what is wrong and how to mend it.
pub fn read_any_said(text: &str, example: &'static str) -> Result<(Decimal, Written), Misread> {
    let reading = read_any(text, Length::UNIT_KIND, "an amount", example)?;
    let clean = tidy(text);
    let (_, rest) = take_number(&clean, example)?;
    Ok((reading.base, Written::of_tidy(rest, None, example)?))
}

/// Finds the first weight written anywhere in a text: the pound of "n 3 lb/1000 ft2".
/// Soil density in grams per cubic centimetre is no weight that anyone weighs out.
pub fn first_weight_unit(text: &str) -> Option<&'static Unit> {
    let clean = tidy(text);
    let mut rest: &str = &clean;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        let before = rest[..at].chars().next_back();
        let begins_word = before.is_none_or(|c| " :=".contains(c));
        let Ok((_, tail)) = take_number(&rest[at..], "") else {
            rest = &rest[at + 1..];
            continue;
        };
        let soil = tail.starts_with("g/cm");
        if begins_word
            && !soil
            && let Some(unit) = leading_weight(tail)
        {
            return Some(unit);
        }
        rest = tail;
    }
    None
}

fn leading_weight(text: &str) -> Option<&'static Unit> {
    let stop = |c: char| c.is_whitespace() || c == '/';
    let one = text.find(stop).unwrap_or(text.len());
    let two = text[one..].trim_start();
    let two = text.len() - two.len() + two.find(stop).unwrap_or(two.len());
    [two, one].into_iter().find_map(|end| {
        find_unit(&text[..end], Some(UnitKind::MASS)).filter(|unit| unit.kind == UnitKind::MASS)
    })
}

#[cfg(test)]
mod tests {
    use super::super::{Area, Density, Rate, Share};
    use super::*;

    #[test]
    fn units_are_kept_as_written() {
        let unit = |text: &str| Written::read(text, "lb/acre").expect("a unit").to_string();
        assert_eq!(unit("lb/1000 ft2"), "lb/1000 ft2");
        assert_eq!(unit("pounds per 1,000 sq ft"), "lb/1000 ft2");
        assert_eq!(unit("lbs per acre"), "lb/acre");
        assert_eq!(unit("kg/ha"), "kg/ha");
        assert_eq!(unit("lb/100 ft of row"), "lb/100 ft");
        assert_eq!(unit("ppm"), "ppm");
    }

    #[test]
    fn quantities_keep_their_unit() {
        let rate: Said<Rate> = read_said("3 lb/1000 ft2").expect("a rate");
        assert_eq!(rate.unit.to_string(), "lb/1000 ft2");
        assert_eq!(super::super::settle(rate.unit.of_base(rate.value.base())), 3.into());
        let feet: Said<Length> = read_said("4'6\"").expect("a length");
        assert_eq!(
            (feet.unit.to_string().as_str(), feet.value),
            ("ft", Length::from_inch(54.into()))
        );
        let area: Said<Area> = read_said("1,000 sq ft").expect("an area");
        assert_eq!(area.unit.to_string(), "ft2");
        let density: Said<Density> = read_said("1.3 g/cm3").expect("a density");
        assert_eq!(density.unit.to_string(), "g/cm3");
        let share: Said<Share> = read_said("8 lb/ton").expect("a share");
        assert_eq!(share.unit.to_string(), "lb/ton");
        assert_eq!(share.value, Share::from_percent("0.4".parse().expect("a number")));
    }

    #[test]
    fn the_first_weight_is_found() {
        let first = |text: &str| first_weight_unit(text).map(|unit| unit.symbol);
        assert_eq!(first("n 3 lb/1000 ft2"), Some("lb"));
        assert_eq!(first("p2o5 1.75lb"), Some("lb"));
        assert_eq!(first("50 lb 10-10-10 24.00"), Some("lb"));
        assert_eq!(first("2 1/2 oz"), Some("oz"));
        assert_eq!(first("3 long ton/acre"), Some("long ton"));
        assert_eq!(first("1.3 g/cm3"), None);
        assert_eq!(first("200 ppm n"), None);
        assert_eq!(first("12 in"), None);
        assert_eq!(first("24-25-4"), None);
    }
}
