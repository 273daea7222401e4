//! How much was spread, as people write it: a weight, a volume, a depth, or a rate.

use std::fmt;

use rust_decimal::Decimal;

use crate::quantity::{Bounded, Length, Misread, read};
use crate::season::Measure;

/// Why a text is not an amount spread on a bed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BadAmount {
    /// It cannot be read, or is out of range.
    Misread(Misread),
    /// It measures something else.
    OtherKind {
        /// What was written.
        text: String,
    },
    /// Nothing was spread.
    Nothing {
        /// What was written.
        text: String,
    },
}

impl fmt::Display for BadAmount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Misread(misread) => write!(f, "{misread}"),
            Self::OtherKind { text } => {
                write!(f, "`{text}` is no weight, volume, depth or weight per area")
            }
            Self::Nothing { text } => write!(f, "`{text}` is nothing at all"),
        }
    }
}

impl std::error::Error for BadAmount {}

impl BadAmount {
    /// How to put it right.
    pub fn mend(&self) -> String {
        match self {
            Self::Misread(misread) => misread.mend(),
            Self::OtherKind { .. } => {
                "write what was spread on the whole bed, like `12 oz`, `2 cup`, `0.5 in` or \
                 `3 lb/1000 ft2`"
                    .to_owned()
            }
            Self::Nothing { .. } => "write what was spread, like `12 oz`".to_owned(),
        }
    }
}

/// Reads "12 oz", "2 cup", "0.5 in", "3 lb/1000 ft2" or "3 yd3/1000 ft2" (a depth).
///
/// # Errors
/// Where it cannot be read, measures something else, is out of range or is nothing.
pub fn read_amount(text: &str) -> Result<Measure, BadAmount> {
    let measure = as_kind(text, Measure::Weight)
        .or_else(|| as_kind(text, Measure::Volume))
        .or_else(|| as_kind(text, Measure::Depth))
        .or_else(|| as_kind(text, Measure::Rate))
        .unwrap_or_else(|| Err(BadAmount::OtherKind { text: clipped(text) }))?;
    let base = match measure {
        Measure::Weight(value) => value.base(),
        Measure::Volume(value) => value.base(),
        Measure::Depth(value) => value.base(),
        Measure::Rate(value) => value.base(),
    };
    if let Measure::Depth(depth) = measure
        && depth > Length::from_m(Decimal::ONE)
    {
        return Err(BadAmount::Misread(Misread::OutOfRange {
            text: clipped(text),
            noun: "a depth",
            range: "up to 1 m (3.28 ft): a layer thicker than that is a heap, not a dressing",
        }));
    }
    if base.is_zero() { Err(BadAmount::Nothing { text: clipped(text) }) } else { Ok(measure) }
}

/// Reads the text as one kind of quantity; nothing where it is one of another kind.
fn as_kind<Q: Bounded>(
    text: &str,
    made: impl Fn(Q) -> Measure,
) -> Option<Result<Measure, BadAmount>> {
    match read::<Q>(text) {
        Ok((value, _)) => Some(Ok(made(value))),
        Err(Misread::WrongKind { .. }) => None,
        Err(other) => Some(Err(BadAmount::Misread(other))),
    }
}

fn clipped(text: &str) -> String {
    text.trim().chars().take(40).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Mass, Rate, Volume};

    #[test]
    fn every_dimension_that_can_be_spread_is_read() {
        for (text, right) in [
            ("12 oz", Measure::Weight(Mass::from_oz(12.into()))),
            ("2 cup", Measure::Volume(Volume::from_cup(2.into()))),
            ("2 in", Measure::Depth(Length::from_inch(2.into()))),
            ("3 lb/1000 ft2", Measure::Rate(Rate::from_lb_per_1000_ft2(3.into()))),
        ] {
            assert_eq!(read_amount(text), Ok(right), "{text}");
        }
        let Ok(Measure::Depth(depth)) = read_amount("3 yd3/1000 ft2") else {
            panic!("a volume per area is a depth");
        };
        assert_eq!(crate::quantity::settle(depth.inch()), "0.972".parse().expect("a decimal"));
    }

    #[test]
    fn other_dimensions_are_refused_with_a_way_out() {
        for text in ["5 ft2", "3 F", "12", "10 ppm", "1 lb/yd3", "0 lb", "2 m", "-2 lb", "some"] {
            let bad = read_amount(text).expect_err(text);
            assert!(!bad.to_string().is_empty() && !bad.mend().is_empty(), "{text}: {bad}");
        }
    }
}
