//! Reading quantities out of the built-in lists: every figure there is a text with its unit.

use std::fmt;
use std::marker::PhantomData;

use serde::de::{Deserialize, Deserializer, Error, Visitor};

use super::parse::{read, read_range};
use super::range::Bounded;
use super::{
    Area, Concentration, Density, Length, Mass, Money, PlantRate, Rate, RowRate, Share,
    Temperature, Volume,
};

/// A low and a high end, as bulletins print them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spread<Q> {
    /// The low end.
    pub low: Q,
    /// The high end.
    pub high: Q,
}

impl<Q: Bounded> Spread<Q> {
    /// The middle of the two ends.
    pub fn middle(self) -> Q {
        Q::from_base((self.low.base() + self.high.base()) / rust_decimal::Decimal::from(2))
    }
}

struct Text<T>(PhantomData<T>);

trait FromText: Sized {
    const EXAMPLE: &'static str;
    fn from_text(text: &str) -> Result<Self, super::Misread>;
}

impl<T: FromText> Visitor<'_> for Text<T> {
    type Value = T;
    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a text like \"{}\"", T::EXAMPLE)
    }
    fn visit_str<E: Error>(self, text: &str) -> Result<T, E> {
        T::from_text(text).map_err(|fault| E::custom(format!("{fault}; {}", fault.mend())))
    }
}

impl<Q: Bounded> FromText for Spread<Q> {
    const EXAMPLE: &'static str = Q::EXAMPLE;
    fn from_text(text: &str) -> Result<Self, super::Misread> {
        read_range(text).map(|(low, high)| Self { low, high })
    }
}

impl<'de, Q: Bounded> Deserialize<'de> for Spread<Q> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_str(Text(PhantomData))
    }
}

macro_rules! from_text {
    ($($name:ident),*) => {$(
        impl FromText for $name {
            const EXAMPLE: &'static str = <$name as Bounded>::EXAMPLE;
            fn from_text(text: &str) -> Result<Self, super::Misread> { read(text).map(|(value, _)| value) }
        }
        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                from.deserialize_str(Text(PhantomData))
            }
        }
    )*};
}
from_text!(
    Mass,
    Area,
    Length,
    Volume,
    Rate,
    RowRate,
    PlantRate,
    Density,
    Share,
    Concentration,
    Temperature,
    Money
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_of_a_printed_range_lies_halfway() {
        let rate = |pounds: i64| Rate::from_lb_per_acre(pounds.into());
        assert_eq!(Spread { low: rate(100), high: rate(150) }.middle(), rate(125));
        assert_eq!(Spread { low: rate(90), high: rate(90) }.middle(), rate(90));
    }
}
