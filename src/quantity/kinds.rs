//! The quantity types, their units and the products that physics allows.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

use rust_decimal::Decimal;

use super::number::{over, times};
use super::unit::{Unit, units};

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident { $($(#[$udoc:meta])* $unit:ident: $from:ident, $read:ident;)* }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(Decimal);
        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(Decimal::ZERO);
            /// Makes it from a value in the base unit.
            pub const fn from_base(base: Decimal) -> Self { Self(base) }
            /// Reads the value in the base unit.
            pub const fn base(self) -> Decimal { self.0 }
            /// Makes it from a value in any unit of its kind.
            pub fn from_unit(value: Decimal, unit: &Unit) -> Self { Self(unit.to_base(value)) }
            /// Reads it in any unit of its kind.
            pub fn in_unit(self, unit: &Unit) -> Decimal { unit.of_base(self.0) }
            $(
                $(#[$udoc])*
                pub fn $from(value: Decimal) -> Self { Self(units::$unit.to_base(value)) }
                $(#[$udoc])*
                pub fn $read(self) -> Decimal { units::$unit.of_base(self.0) }
            )*
            /// The larger of the two.
            pub fn at_least(self, least: Self) -> Self { if self.0 < least.0 { least } else { self } }
            /// The smaller of the two.
            pub fn at_most(self, most: Self) -> Self { if self.0 > most.0 { most } else { self } }
        }
        impl Add for $name { type Output = Self; fn add(self, other: Self) -> Self { Self(self.0.saturating_add(other.0)) } }
        impl AddAssign for $name { fn add_assign(&mut self, other: Self) { *self = *self + other; } }
        impl Sub for $name { type Output = Self; fn sub(self, other: Self) -> Self { Self(self.0.saturating_sub(other.0)) } }
        impl Neg for $name { type Output = Self; fn neg(self) -> Self { Self(-self.0) } }
        impl Sum for $name { fn sum<I: Iterator<Item = Self>>(all: I) -> Self { all.fold(Self::ZERO, |sum, one| sum + one) } }
        impl Div<Positive<$name>> for $name {
            type Output = Share;
            fn div(self, by: Positive<$name>) -> Share { Share(over(self.0, by.0.0)) }
        }
    };
}

quantity!(
    /// Weight, stored in kilograms.
    Mass {
        /// Kilograms.
        KILOGRAM: from_kg, kg;
        /// Grams.
        GRAM: from_g, g;
        /// Pounds avoirdupois.
        POUND: from_lb, lb;
        /// Ounces avoirdupois.
        OUNCE: from_oz, oz;
    }
);
quantity!(
    /// Area, stored in square metres.
    Area {
        /// Square metres.
        SQUARE_METRE: from_m2, m2;
        /// Square feet.
        SQUARE_FOOT: from_ft2, ft2;
        /// Acres.
        ACRE: from_acre, acre;
        /// Hectares.
        HECTARE: from_ha, ha;
    }
);
quantity!(
    /// Length or depth, stored in metres.
    Length {
        /// Metres.
        METRE: from_m, m;
        /// Centimetres.
        CENTIMETRE: from_cm, cm;
        /// Feet.
        FOOT: from_ft, ft;
        /// Inches.
        INCH: from_inch, inch;
    }
);
quantity!(
    /// Volume, stored in cubic metres.
    Volume {
        /// Cubic metres.
        CUBIC_METRE: from_m3, m3;
        /// Litres.
        LITRE: from_litre, litre;
        /// Cubic feet.
        CUBIC_FOOT: from_ft3, ft3;
        /// Cubic yards.
        CUBIC_YARD: from_yd3, yd3;
        /// United States liquid gallons.
        GALLON: from_gal, gal;
        /// United States cups.
        CUP: from_cup, cup;
    }
);
quantity!(
    /// Weight per area, stored in kilograms per square metre.
    Rate {
        /// Kilograms per hectare.
        KILOGRAM_PER_HECTARE: from_kg_per_ha, kg_per_ha;
        /// Pounds per acre.
        POUND_PER_ACRE: from_lb_per_acre, lb_per_acre;
        /// Pounds per 1000 square feet.
        POUND_PER_1000_SQUARE_FEET: from_lb_per_1000_ft2, lb_per_1000_ft2;
        /// Pounds per 100 square feet.
        POUND_PER_100_SQUARE_FEET: from_lb_per_100_ft2, lb_per_100_ft2;
        /// Grams per square metre.
        GRAM_PER_SQUARE_METRE: from_g_per_m2, g_per_m2;
    }
);
quantity!(
    /// Weight per length of row, stored in kilograms per metre.
    RowRate {
        /// Kilograms per metre.
        KILOGRAM_PER_METRE: from_kg_per_m, kg_per_m;
        /// Pounds per 100 feet.
        POUND_PER_100_FEET_OF_ROW: from_lb_per_100_ft, lb_per_100_ft;
    }
);
quantity!(
    /// Weight per plant, stored in kilograms.
    PlantRate {
        /// Kilograms per plant.
        KILOGRAM_PER_PLANT: from_kg, kg;
        /// Pounds per plant.
        POUND_PER_PLANT: from_lb, lb;
    }
);
quantity!(
    /// Weight per volume, stored in kilograms per cubic metre.
    Density {
        /// Kilograms per cubic metre.
        KILOGRAM_PER_CUBIC_METRE: from_kg_per_m3, kg_per_m3;
        /// Grams per cubic centimetre.
        GRAM_PER_CUBIC_CENTIMETRE: from_g_per_cm3, g_per_cm3;
        /// Pounds per cubic yard.
        POUND_PER_CUBIC_YARD: from_lb_per_yd3, lb_per_yd3;
        /// Pounds per cup.
        POUND_PER_CUP: from_lb_per_cup, lb_per_cup;
        /// Pounds per gallon.
        POUND_PER_GALLON: from_lb_per_gal, lb_per_gal;
    }
);
quantity!(
    /// Share of a whole or a plain ratio, stored as a fraction (0.6 is 60 %).
    Share {
        /// Fraction: 1 is the whole.
        FRACTION: from_fraction, fraction;
        /// Percent: 100 is the whole.
        PERCENT: from_percent, percent;
    }
);
quantity!(
    /// Weight of a substance per weight of soil or water, stored as a fraction (one part per million is 0.000001).
    Concentration {
        /// Parts per million.
        PART_PER_MILLION: from_ppm, ppm;
    }
);
quantity!(
    /// Temperature, stored in degrees Celsius.
    Temperature {
        /// Degrees Celsius.
        CELSIUS: from_celsius, celsius;
    }
);
quantity!(
    /// Money in the grower's own currency.
    Money {
        /// Units of the currency.
        CURRENCY: from_units, units;
    }
);

impl Temperature {
    /// Degrees Fahrenheit.
    pub fn from_fahrenheit(value: Decimal) -> Self {
        Self((value - Decimal::from(32)) * Decimal::from(5) / Decimal::from(9))
    }
    /// Degrees Fahrenheit.
    pub fn fahrenheit(self) -> Decimal {
        self.0 * Decimal::from(9) / Decimal::from(5) + Decimal::from(32)
    }
}

impl Share {
    /// The whole.
    pub const WHOLE: Self = Self(Decimal::ONE);
}

/// A quantity known to be above zero: the only thing that may be divided by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Positive<Q>(Q);

impl<Q: super::Quantity> Positive<Q> {
    /// Wraps the quantity where it is above zero.
    pub fn new(value: Q) -> Option<Self> {
        (value > Q::ZERO).then_some(Self(value))
    }
    /// Reads the quantity.
    pub fn get(self) -> Q {
        self.0
    }
}

macro_rules! product {
    ($left:ident * $right:ident = $out:ident) => {
        impl Mul<$right> for $left { type Output = $out; fn mul(self, by: $right) -> $out { $out(times(self.0, by.0)) } }
        impl Div<Positive<$right>> for $out { type Output = $left; fn div(self, by: Positive<$right>) -> $left { $left(over(self.0, by.0.0)) } }
    };
    ($($left:ident * $right:ident = $out:ident;)*) => { $(product!($left * $right = $out);)* };
}
product! {
    Rate * Area = Mass;
    Density * Volume = Mass;
    Density * Length = Rate;
    Rate * Length = RowRate;
    RowRate * Length = Mass;
    RowRate * Share = RowRate;
    PlantRate * Share = PlantRate;
    Length * Area = Volume;
    Mass * Share = Mass;
    Rate * Share = Rate;
    Volume * Share = Volume;
    Area * Share = Area;
    Length * Share = Length;
    Density * Share = Density;
    Concentration * Share = Concentration;
    Money * Share = Money;
}
impl Mul for Length {
    type Output = Area;
    fn mul(self, by: Self) -> Area {
        Area(times(self.0, by.0))
    }
}
impl Mul<Rate> for Concentration {
    type Output = Rate;
    fn mul(self, by: Rate) -> Rate {
        Rate(times(self.0, by.0))
    }
}
impl Mul for Share {
    type Output = Self;
    fn mul(self, by: Self) -> Self {
        Self(times(self.0, by.0))
    }
}
impl Div<Positive<Length>> for Area {
    type Output = Length;
    fn div(self, by: Positive<Length>) -> Length {
        Length(over(self.0, by.0.0))
    }
}
impl Div<Positive<Rate>> for Mass {
    type Output = Area;
    fn div(self, by: Positive<Rate>) -> Area {
        Area(over(self.0, by.0.0))
    }
}
impl Div<Positive<Density>> for Mass {
    type Output = Volume;
    fn div(self, by: Positive<Density>) -> Volume {
        Volume(over(self.0, by.0.0))
    }
}
impl Div<Positive<Density>> for Rate {
    type Output = Length;
    fn div(self, by: Positive<Density>) -> Length {
        Length(over(self.0, by.0.0))
    }
}
