//! Any amount, its kind kept, its Rust type forgotten: what derivations and reports hold.

use rust_decimal::Decimal;

use super::kinds::{
    Area, Concentration, Density, Length, Mass, Money, PlantRate, Rate, RowRate, Share,
    Temperature, Volume,
};
use crate::calendar::Date;

/// What kind of thing an [`Amount`] is. The base unit of each is in brackets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Weight (kilogram).
    Mass,
    /// Area (square metre).
    Area,
    /// Length or depth (metre).
    Length,
    /// Volume (cubic metre).
    Volume,
    /// Weight per area (kilogram per square metre).
    Rate,
    /// Weight per length of row (kilogram per metre).
    RowRate,
    /// Weight per plant (kilogram).
    PlantRate,
    /// Weight per volume (kilogram per cubic metre).
    Density,
    /// Share of a whole, or a plain ratio (one).
    Share,
    /// Weight per weight of soil or water (kilogram per kilogram).
    Concentration,
    /// Temperature (degree Celsius).
    Temperature,
    /// Money (unit of the grower's currency).
    Money,
    /// Count of things or days (one).
    Count,
    /// Calendar date (day number).
    Date,
}

/// Any amount with its kind: the base value in the unit that [`Kind`] names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Amount {
    /// What kind of thing it is.
    pub kind: Kind,
    /// Its value in the base unit of the kind.
    pub base: Decimal,
}

impl Amount {
    /// Returns a plain count, such as plants or days.
    pub fn count(value: impl Into<Decimal>) -> Self {
        Self { kind: Kind::Count, base: value.into() }
    }

    /// Returns a date as an amount.
    pub fn date(date: Date) -> Self {
        Self { kind: Kind::Date, base: Decimal::from(date.number()) }
    }

    /// Reads the amount as a quantity, where the kind is that quantity's.
    pub fn to<Q: Quantity>(self) -> Option<Q> {
        (self.kind == Q::KIND).then(|| Q::from_base(self.base))
    }
}

/// A typed amount: something with a kind and a base value.
pub trait Quantity: Copy + PartialOrd + 'static {
    /// The kind of this quantity.
    const KIND: Kind;
    /// Nothing of it.
    const ZERO: Self;
    /// Makes the quantity from its base value.
    fn from_base(base: Decimal) -> Self;
    /// Reads the base value.
    fn base(self) -> Decimal;
    /// Forgets the Rust type and keeps the kind.
    fn amount(self) -> Amount {
        Amount { kind: Self::KIND, base: self.base() }
    }
    /// Whether it is exactly nothing.
    fn is_zero(self) -> bool {
        self.base().is_zero()
    }
}

macro_rules! kinds {
    ($($name:ident),*) => {$(
        impl Quantity for $name {
            const KIND: Kind = Kind::$name;
            const ZERO: Self = Self::ZERO;
            fn from_base(base: Decimal) -> Self { Self::from_base(base) }
            fn base(self) -> Decimal { self.base() }
        }
    )*};
}
kinds!(
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
