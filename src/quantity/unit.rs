//! One table of units: names people write, what kind of thing each measures, and its exact size.
//!
//! United States customary sizes are the legal definitions: international yard and pound agreement
//! of 1959 (foot 0.3048 m, pound 0.45359237 kg), gallon of 231 cubic inches; NIST Handbook 44,
//! Appendix C, General Tables of Units of Measurement. Every size is kept as a fraction of exact
//! decimals, so no factor is ever a rounded one.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::LazyLock;

use rust_decimal::Decimal;

use super::number::{over, times};

/// Exponents of weight, length and plants, or one of the kinds that stand alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum UnitKind {
    /// Powers of weight, length and "per plant".
    Physical {
        /// Power of weight.
        mass: i8,
        /// Power of length.
        length: i8,
        /// Power of plants.
        plant: i8,
    },
    /// A share of a whole.
    Share,
    /// Parts per million.
    Concentration,
    /// A temperature.
    Temperature,
    /// Money.
    Money,
    /// Days.
    Time,
}

impl UnitKind {
    /// Weight.
    pub const MASS: Self = Self::physical(1, 0, 0);
    /// Length.
    pub const LENGTH: Self = Self::physical(0, 1, 0);
    /// Area.
    pub const AREA: Self = Self::physical(0, 2, 0);
    /// Volume.
    pub const VOLUME: Self = Self::physical(0, 3, 0);
    /// Weight per area.
    pub const RATE: Self = Self::physical(1, -2, 0);
    /// Weight per length of row.
    pub const PER_ROW: Self = Self::physical(1, -1, 0);
    /// Weight per volume.
    pub const DENSITY: Self = Self::physical(1, -3, 0);
    /// Weight per plant.
    pub const PER_PLANT: Self = Self::physical(1, 0, -1);

    /// Makes a kind from its powers.
    pub const fn physical(mass: i8, length: i8, plant: i8) -> Self {
        Self::Physical { mass, length, plant }
    }
}

/// A unit: its symbol as shown, its kind, and its exact size in the base unit as a fraction.
#[derive(Debug)]
pub struct Unit {
    /// How it is shown.
    pub symbol: &'static str,
    /// Other ways people write it, in lower case.
    pub names: &'static [&'static str],
    /// What it measures.
    pub kind: UnitKind,
    top: Decimal,
    bottom: Decimal,
}

impl Unit {
    /// Turns a value in this unit into the base unit.
    pub fn to_base(&self, value: Decimal) -> Decimal {
        turned(value, self.top, self.bottom)
    }

    /// Turns a base value into this unit.
    pub fn of_base(&self, base: Decimal) -> Decimal {
        turned(base, self.bottom, self.top)
    }

    /// The exact size as a fraction of base units: top over bottom.
    pub const fn size(&self) -> (Decimal, Decimal) {
        (self.top, self.bottom)
    }
}

/// Multiplies and divides. Most units have a one among their two numbers, and many amounts are nothing.
fn turned(value: Decimal, by: Decimal, through: Decimal) -> Decimal {
    let one = |number: Decimal| number.scale() == 0 && number.mantissa() == 1;
    if value.is_zero() {
        return Decimal::ZERO;
    }
    let value = if one(by) { value } else { times(value, by) };
    if one(through) { value } else { over(value, through) }
}

/// Writes an exact decimal: digits and how many of them stand after the point.
const fn exact(digits: u128, places: u32) -> Decimal {
    Decimal::from_parts(
        (digits & 0xffff_ffff) as u32,
        ((digits >> 32) & 0xffff_ffff) as u32,
        ((digits >> 64) & 0xffff_ffff) as u32,
        false,
        places,
    )
}

/// The units themselves.
pub mod units {
    use super::{Decimal, Unit, UnitKind, exact};

    macro_rules! table {
        ($($name:ident = $symbol:literal, $kind:expr, $top:expr, $bottom:expr, [$($alias:literal),*];)*) => {
            $(
                #[doc = concat!("The unit written `", $symbol, "`.")]
                pub static $name: Unit = Unit { symbol: $symbol, names: &[$($alias),*], kind: $kind, top: $top, bottom: $bottom };
            )*
            /// Every unit, in the order of the table.
            pub static ALL: &[&Unit] = &[$(&$name),*];
        };
    }
    const ONE: Decimal = Decimal::ONE;
    const POUND_SIZE: u128 = 45_359_237;
    const PHYSICAL_PLANT: UnitKind = UnitKind::physical(0, 0, 1);

    table! {
        KILOGRAM = "kg", UnitKind::MASS, ONE, ONE, ["kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"];
        GRAM = "g", UnitKind::MASS, exact(1, 3), ONE, ["gram", "grams", "gr", "gm", "gramme", "grammes"];
        MILLIGRAM = "mg", UnitKind::MASS, exact(1, 6), ONE, ["milligram", "milligrams"];
        TONNE = "t", UnitKind::MASS, exact(1000, 0), ONE, ["tonne", "tonnes", "metric ton", "metric tons"];
        QUINTAL = "dt", UnitKind::MASS, exact(100, 0), ONE, ["quintal", "quintals", "decitonne", "decitonnes"];
        POUND = "lb", UnitKind::MASS, exact(POUND_SIZE, 8), ONE, ["lbs", "lb.", "lbs.", "pound", "pounds", "#"];
        OUNCE = "oz", UnitKind::MASS, exact(POUND_SIZE, 8), exact(16, 0), ["oz.", "ounce", "ounces"];
        SHORT_TON = "ton", UnitKind::MASS, exact(POUND_SIZE * 2000, 8), ONE, ["tons", "short ton", "short tons", "us ton", "us tons"];
        LONG_TON = "long ton", UnitKind::MASS, exact(POUND_SIZE * 2240, 8), ONE, ["long tons", "imperial ton", "imperial tons"];
        HUNDREDWEIGHT = "cwt", UnitKind::MASS, exact(POUND_SIZE * 100, 8), ONE, ["hundredweight", "hundredweights"];

        METRE = "m", UnitKind::LENGTH, ONE, ONE, ["metre", "metres", "meter", "meters"];
        CENTIMETRE = "cm", UnitKind::LENGTH, exact(1, 2), ONE, ["centimetre", "centimetres", "centimeter", "centimeters"];
        MILLIMETRE = "mm", UnitKind::LENGTH, exact(1, 3), ONE, ["millimetre", "millimetres", "millimeter", "millimeters"];
        KILOMETRE = "km", UnitKind::LENGTH, exact(1000, 0), ONE, ["kilometre", "kilometres", "kilometer", "kilometers"];
        FOOT = "ft", UnitKind::LENGTH, exact(3048, 4), ONE, ["foot", "feet", "ft.", "'", "′", "’"];
        INCH = "in", UnitKind::LENGTH, exact(254, 4), ONE, ["inch", "inches", "in.", "\"", "″", "”", "''"];
        YARD = "yd", UnitKind::LENGTH, exact(9144, 4), ONE, ["yard", "yards", "yd.", "yds"];
        MILE = "mi", UnitKind::LENGTH, exact(1_609_344, 3), ONE, ["mile", "miles"];

        SQUARE_METRE = "m2", UnitKind::AREA, ONE, ONE, ["m²", "m^2", "sq m", "sqm", "square metre", "square metres", "square meter", "square meters"];
        SQUARE_CENTIMETRE = "cm2", UnitKind::AREA, exact(1, 4), ONE, ["cm²", "cm^2", "sq cm", "square centimetres", "square centimeters"];
        SQUARE_FOOT = "ft2", UnitKind::AREA, exact(9_290_304, 8), ONE, ["ft²", "ft^2", "sq ft", "sqft", "sq. ft", "sq. ft.", "sq ft.", "square foot", "square feet", "sf"];
        SQUARE_INCH = "in2", UnitKind::AREA, exact(64516, 8), ONE, ["in²", "in^2", "sq in", "square inch", "square inches"];
        SQUARE_YARD = "yd2", UnitKind::AREA, exact(83_612_736, 8), ONE, ["yd²", "yd^2", "sq yd", "square yard", "square yards"];
        ACRE = "acre", UnitKind::AREA, exact(40_468_564_224, 7), ONE, ["acres", "ac", "ac."];
        ARE = "are", UnitKind::AREA, exact(100, 0), ONE, ["ares"];
        HECTARE = "ha", UnitKind::AREA, exact(10_000, 0), ONE, ["hectare", "hectares"];

        CUBIC_METRE = "m3", UnitKind::VOLUME, ONE, ONE, ["m³", "m^3", "cu m", "cubic metre", "cubic metres", "cubic meter", "cubic meters"];
        LITRE = "L", UnitKind::VOLUME, exact(1, 3), ONE, ["l", "litre", "litres", "liter", "liters"];
        MILLILITRE = "mL", UnitKind::VOLUME, exact(1, 6), ONE, ["ml", "millilitre", "millilitres", "milliliter", "milliliters", "cc"];
        CUBIC_CENTIMETRE = "cm3", UnitKind::VOLUME, exact(1, 6), ONE, ["cm³", "cm^3", "cubic centimetre", "cubic centimeters"];
        CUBIC_FOOT = "ft3", UnitKind::VOLUME, exact(28_316_846_592, 12), ONE, ["ft³", "ft^3", "cu ft", "cuft", "cu. ft.", "cubic foot", "cubic feet"];
        CUBIC_YARD = "yd3", UnitKind::VOLUME, exact(764_554_857_984, 12), ONE, ["yd³", "yd^3", "cu yd", "cuyd", "cu. yd.", "cubic yard", "cubic yards"];
        CUBIC_INCH = "in3", UnitKind::VOLUME, exact(16_387_064, 12), ONE, ["in³", "in^3", "cu in", "cubic inch", "cubic inches"];
        GALLON = "gal", UnitKind::VOLUME, exact(3_785_411_784, 12), ONE, ["gal.", "gallon", "gallons", "us gal", "gals"];
        QUART = "qt", UnitKind::VOLUME, exact(3_785_411_784, 12), exact(4, 0), ["qt.", "quart", "quarts", "qts"];
        PINT = "pint", UnitKind::VOLUME, exact(3_785_411_784, 12), exact(8, 0), ["pints", "pt", "pt."];
        CUP = "cup", UnitKind::VOLUME, exact(3_785_411_784, 12), exact(16, 0), ["cups", "c"];
        TABLESPOON = "tbsp", UnitKind::VOLUME, exact(3_785_411_784, 12), exact(256, 0), ["tbsp.", "tablespoon", "tablespoons", "tbs"];
        TEASPOON = "tsp", UnitKind::VOLUME, exact(3_785_411_784, 12), exact(768, 0), ["tsp.", "teaspoon", "teaspoons"];
        FLUID_OUNCE = "fl oz", UnitKind::VOLUME, exact(3_785_411_784, 12), exact(128, 0), ["floz", "fl. oz.", "fluid ounce", "fluid ounces"];
        ACRE_INCH = "acre-inch", UnitKind::VOLUME, exact(10_279_015_312_896, 11), ONE, ["acre-inches", "acre inch", "acre inches", "ac-in"];
        ACRE_FOOT = "acre-foot", UnitKind::VOLUME, exact(123_348_183_754_752, 11), ONE, ["acre-feet", "acre foot", "acre feet", "ac-ft"];

        KILOGRAM_PER_HECTARE = "kg/ha", UnitKind::RATE, exact(1, 4), ONE, [];
        TONNE_PER_HECTARE = "t/ha", UnitKind::RATE, exact(1, 1), ONE, [];
        GRAM_PER_SQUARE_METRE = "g/m2", UnitKind::RATE, exact(1, 3), ONE, ["g/m²"];
        POUND_PER_ACRE = "lb/acre", UnitKind::RATE, exact(POUND_SIZE, 8), exact(40_468_564_224, 7), ["lb/ac"];
        POUND_PER_1000_SQUARE_FEET = "lb/1000 ft2", UnitKind::RATE, exact(POUND_SIZE, 8), exact(9_290_304, 5), [];
        POUND_PER_100_SQUARE_FEET = "lb/100 ft2", UnitKind::RATE, exact(POUND_SIZE, 8), exact(9_290_304, 6), [];
        POUND_PER_100_FEET_OF_ROW = "lb/100 ft", UnitKind::PER_ROW, exact(POUND_SIZE, 8), exact(3048, 2), [];

        KILOGRAM_PER_METRE = "kg/m", UnitKind::PER_ROW, ONE, ONE, [];
        KILOGRAM_PER_PLANT = "kg/plant", UnitKind::PER_PLANT, ONE, ONE, [];
        POUND_PER_PLANT = "lb/plant", UnitKind::PER_PLANT, exact(POUND_SIZE, 8), ONE, [];

        KILOGRAM_PER_CUBIC_METRE = "kg/m3", UnitKind::DENSITY, ONE, ONE, ["g/l"];
        GRAM_PER_CUBIC_CENTIMETRE = "g/cm3", UnitKind::DENSITY, exact(1000, 0), ONE, ["g/cm³", "kg/l", "g/ml"];
        POUND_PER_CUBIC_YARD = "lb/yd3", UnitKind::DENSITY, exact(POUND_SIZE, 8), exact(764_554_857_984, 12), [];
        POUND_PER_CUP = "lb/cup", UnitKind::DENSITY, exact(POUND_SIZE * 16, 8), exact(3_785_411_784, 12), [];
        POUND_PER_GALLON = "lb/gal", UnitKind::DENSITY, exact(POUND_SIZE, 8), exact(3_785_411_784, 12), [];

        FRACTION = "", UnitKind::Share, ONE, ONE, [];
        PERCENT = "%", UnitKind::Share, exact(1, 2), ONE, ["percent", "per cent", "pct"];
        PART_PER_MILLION = "ppm", UnitKind::Concentration, exact(1, 6), ONE, ["mg/kg", "mg/l", "parts per million"];
        CELSIUS = "C", UnitKind::Temperature, ONE, ONE, ["c", "°c", "deg c", "celsius", "℃", "degrees c", "degrees celsius"];
        FAHRENHEIT = "F", UnitKind::Temperature, ONE, ONE, ["f", "°f", "deg f", "fahrenheit", "℉", "degrees f", "degrees fahrenheit"];
        CURRENCY = "", UnitKind::Money, ONE, ONE, [];
        DAY = "day", UnitKind::Time, ONE, ONE, ["days", "d"];
        WEEK = "week", UnitKind::Time, exact(7, 0), ONE, ["weeks", "wk", "wks"];
        PLANT = "plant", PHYSICAL_PLANT, ONE, ONE, ["plants", "head", "heads"];
    }
}

/// Finds a unit by any name people write for it, upper or lower case alike.
/// A bare `C` or `c` is a temperature only where a temperature is wanted, else a cup.
pub fn find_unit(name: &str, wanted: Option<UnitKind>) -> Option<&'static Unit> {
    let name = name.trim();
    if name.is_empty() {
        return None;
    }
    let lower = match name.bytes().any(|byte| byte.is_ascii_uppercase() || !byte.is_ascii()) {
        true => Cow::Owned(name.to_lowercase()),
        false => Cow::Borrowed(name),
    };
    let all = BY_NAME.get(&*lower)?;
    // As written first: capital letters tell some symbols apart.
    let mut written = all.iter().filter(|unit| unit.symbol == name);
    let as_written =
        written.clone().find(|unit| wanted.is_none_or(|kind| unit.kind == kind)).copied();
    as_written
        .or_else(|| all.iter().find(|unit| Some(unit.kind) == wanted).copied())
        .or_else(|| written.next().copied())
        .or_else(|| all.first().copied())
}

/// The units of each name in small letters, in the order of the list.
static BY_NAME: LazyLock<BTreeMap<Cow<'static, str>, Vec<&'static Unit>>> = LazyLock::new(|| {
    let mut by_name: BTreeMap<Cow<'static, str>, Vec<&'static Unit>> = BTreeMap::new();
    for unit in units::ALL {
        let symbol = match unit.symbol.bytes().any(|byte| byte.is_ascii_uppercase()) {
            true => Cow::Owned(unit.symbol.to_lowercase()),
            false => Cow::Borrowed(unit.symbol),
        };
        let others = unit.names.iter().filter(|name| **name != symbol);
        for name in others.map(|name| Cow::Borrowed(*name)) {
            by_name.entry(name).or_default().push(*unit);
        }
        if !symbol.is_empty() {
            by_name.entry(symbol).or_default().push(*unit);
        }
    }
    by_name
});

#[cfg(test)]
mod tests {
    use super::*;

    fn d(text: &str) -> Decimal {
        text.parse().expect("a decimal")
    }

    /// NIST Handbook 44, Appendix C: sizes as legally defined.
    #[test]
    fn sizes_are_the_legal_definitions() {
        for (unit, size) in [
            (&units::POUND, "0.45359237"),
            (&units::OUNCE, "0.028349523125"),
            (&units::SHORT_TON, "907.18474"),
            (&units::LONG_TON, "1016.0469088"),
            (&units::ACRE, "4046.8564224"),
            (&units::GALLON, "0.003785411784"),
            (&units::CUP, "0.0002365882365"),
            (&units::TABLESPOON, "0.00001478676478125"),
            (&units::TEASPOON, "0.00000492892159375"),
            (&units::FLUID_OUNCE, "0.0000295735295625"),
            (&units::CUBIC_FOOT, "0.028316846592"),
            (&units::CUBIC_YARD, "0.764554857984"),
            (&units::ACRE_INCH, "102.79015312896"),
            (&units::ACRE_FOOT, "1233.48183754752"),
            (&units::MILE, "1609.344"),
        ] {
            assert_eq!(unit.to_base(Decimal::ONE), d(size), "{}", unit.symbol);
        }
    }

    #[test]
    fn derived_sizes_follow_from_their_parts() {
        let foot = units::FOOT.to_base(Decimal::ONE);
        let inch = units::INCH.to_base(Decimal::ONE);
        assert_eq!(units::SQUARE_FOOT.to_base(Decimal::ONE), foot * foot);
        assert_eq!(units::CUBIC_FOOT.to_base(Decimal::ONE), foot * foot * foot);
        assert_eq!(units::GALLON.to_base(Decimal::ONE), inch * inch * inch * d("231"));
        assert_eq!(units::ACRE.to_base(Decimal::ONE), foot * foot * d("43560"));
        assert_eq!(units::ACRE_INCH.to_base(Decimal::ONE), foot * foot * d("43560") * inch);
    }

    #[test]
    fn no_name_stands_for_two_units_of_one_kind() {
        for (index, one) in units::ALL.iter().enumerate() {
            for other in &units::ALL[index + 1..] {
                for name in one.names {
                    let clash = one.kind == other.kind && other.names.contains(name);
                    assert!(!clash, "{name} is both {} and {}", one.symbol, other.symbol);
                }
            }
        }
    }
}
