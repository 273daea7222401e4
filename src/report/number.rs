//! Units and decimals on screen, decided here for every kind of quantity.
//!
//! Two ways to show: *free*, where each number picks the unit a grower would name and drops closing
//! zeros (for sentences); and *fixed*, where one [`Scale`] serves a whole column, so that numbers
//! compare and lines add up (for tables). Rounding is half away from zero in both.

use std::fmt;

use rust_decimal::Decimal;

use super::apportion::apportion;
use super::scales;
use crate::calendar::Date;
use crate::quantity::{
    Amount, Kind, Quantity, Rate, Share, Temperature, Unit, UnitSystem, round_to, settle, units,
};

/// A number and its unit, as they are read on screen. The unit may be empty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// The number in plain digits, with commas from ten thousand up; or a date.
    pub number: String,
    /// The unit.
    pub unit: String,
}

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.number)?;
        if self.unit.is_empty() { Ok(()) } else { write!(f, " {}", self.unit) }
    }
}

/// One unit and how many places stand after the point.
#[derive(Clone, Copy, Debug)]
pub struct Scale {
    /// The unit that base values are turned into.
    pub unit: &'static Unit,
    /// How it is written.
    pub symbol: &'static str,
    /// Places after the point.
    pub decimals: u32,
}

impl Scale {
    /// Makes a scale that writes the unit as it is usually written.
    pub const fn new(unit: &'static Unit, decimals: u32) -> Self {
        Self { unit, symbol: unit.symbol, decimals }
    }

    /// The exact value in the unit of the scale.
    pub fn value(&self, base: Decimal) -> Decimal {
        if self.unit.symbol == "F" {
            Temperature::from_celsius(base).fahrenheit()
        } else {
            self.unit.of_base(base)
        }
    }

    /// Shows a base value with all places, closing zeros kept.
    pub fn fixed(&self, base: Decimal) -> Shown {
        self.written(round(self.value(base), self.decimals))
    }

    /// Shows a base value without closing zeros; a small one keeps two significant digits.
    pub fn free(&self, base: Decimal) -> Shown {
        let value = self.value(base);
        Shown { number: trimmed(value, self.places_of(value)), unit: self.symbol.to_owned() }
    }

    /// The places of this value: those of the scale, or two significant digits of a small one.
    fn places_of(&self, value: Decimal) -> u32 {
        (self.decimals..self.decimals + 4)
            .find(|places| settle(value).abs() * Decimal::from(10_u64.pow(*places)) >= Decimal::TEN)
            .filter(|_| value.abs() < Decimal::ONE)
            .unwrap_or(self.decimals)
    }

    /// Shows a total and the parts that make it so that the lines add up to the total shown.
    pub fn apportioned(&self, total: Decimal, parts: &[Decimal]) -> (Shown, Vec<Shown>) {
        let parts: Vec<Decimal> = parts.iter().map(|part| self.value(*part)).collect();
        let made = apportion(self.value(total), &parts, self.decimals);
        let lines = made.lines.into_iter().map(|line| self.written(line)).collect();
        (self.written(made.total), lines)
    }

    fn written(&self, value: Decimal) -> Shown {
        Shown { number: grouped(value, self.decimals), unit: self.symbol.to_owned() }
    }
}

/// Shows quantities in one system of units.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Showing {
    /// The system.
    pub system: UnitSystem,
}

impl Showing {
    /// Shows in this system.
    pub const fn new(system: UnitSystem) -> Self {
        Self { system }
    }

    /// Shows a quantity in the unit that a grower would name.
    pub fn of(self, quantity: impl Quantity) -> Shown {
        self.amount(quantity.amount())
    }

    /// Shows any amount in the unit that a grower would name.
    pub fn amount(self, amount: Amount) -> Shown {
        match amount.kind {
            Kind::Date => Shown { number: date_of(amount.base), unit: String::new() },
            Kind::Money => self.scale(Kind::Money, [amount.base]).fixed(amount.base),
            kind => self.scale(kind, [amount.base]).free(amount.base),
        }
    }

    /// Shows an amount with some places more than [`Self::amount`], for sums that are reckoned
    /// again with a pencil; a share of more than the whole is shown as "1.5" rather than "150 %".
    /// Beside it the base value that is shown.
    pub fn closer(self, amount: Amount, more: u32) -> (Shown, Decimal) {
        let Some((scale, places)) = self.places(amount, more) else {
            return (self.amount(amount), amount.base);
        };
        let rounded = round(scale.value(amount.base), places);
        let shown = Shown { number: trimmed(rounded, places), unit: scale.symbol.to_owned() };
        (shown, scale.unit.to_base(rounded))
    }

    /// Shows an amount in the unit and with the places that [`Self::closer`] gives another with none
    /// more.
    pub fn as_if(self, like: Amount, amount: Amount) -> Shown {
        let Some((scale, places)) = self.places(like, 0) else { return self.amount(amount) };
        let number = trimmed(scale.value(amount.base), places);
        Shown { number, unit: scale.symbol.to_owned() }
    }

    /// The scale and the places of an amount; nothing for dates and temperatures.
    fn places(self, amount: Amount, more: u32) -> Option<(Scale, u32)> {
        let scale = match amount.kind {
            Kind::Date | Kind::Temperature => return None,
            Kind::Share if amount.base > Decimal::ONE => Scale::new(&units::FRACTION, 2),
            kind => self.scale(kind, [amount.base]),
        };
        Some((scale, (scale.places_of(scale.value(amount.base)) + more).min(9)))
    }

    /// The scale for a column of base values of one kind: the unit that suits the largest.
    pub fn scale(self, kind: Kind, bases: impl IntoIterator<Item = Decimal>) -> Scale {
        let largest = bases.into_iter().map(|base| base.abs()).max().unwrap_or_default();
        scales::scale(self.system, kind, largest)
    }

    /// The scale for a column of quantities.
    pub fn scale_of<Q: Quantity>(self, quantities: impl IntoIterator<Item = Q>) -> Scale {
        self.scale(Q::KIND, quantities.into_iter().map(Quantity::base))
    }

    /// Shows a quantity in a unit named by the reader.
    pub fn in_unit(self, quantity: impl Quantity, unit: &'static Unit) -> Shown {
        scales::of_unit(unit).free(quantity.base())
    }

    /// Shows a rate as a farmer's table prints it: pounds per acre or kilograms per hectare.
    pub fn field_rate(self, rate: Rate) -> Shown {
        scales::field_rate(self.system).free(rate.base())
    }

    /// Shows a rate both ways: "3.1 lb/1000 ft2 (135 lb/acre)".
    pub fn both_rates(self, rate: Rate) -> String {
        format!("{} ({})", self.of(rate), self.field_rate(rate))
    }

    /// Shows a span between two quantities in one unit: "2 to 4 lb/1000 ft2".
    pub fn range<Q: Quantity>(self, low: Q, high: Q) -> Shown {
        let scale = self.scale_of([low, high]);
        let (low, high) = (scale.free(low.base()), scale.free(high.base()));
        if low == high {
            return high;
        }
        Shown { number: format!("{} to {}", low.number, high.number), unit: high.unit }
    }
}

/// Shows a ratio as a plain number: "0.61".
pub fn ratio(share: Share) -> Shown {
    Shown { number: trimmed(share.fraction(), 3), unit: String::new() }
}

/// Shows a date with its year: "Sat 29 May 2027".
pub fn long_date(date: Date) -> String {
    format!("{} {}", date.short(), date.year())
}

fn date_of(base: Decimal) -> String {
    i32::try_from(base.round()).map(|day| long_date(Date::from_number(day))).unwrap_or_default()
}

/// Rounds to places after the point, half away from zero, tails cut first.
fn round(value: Decimal, places: u32) -> Decimal {
    round_to(value, Decimal::new(1, places))
}

/// Writes a rounded value without closing zeros.
fn trimmed(value: Decimal, places: u32) -> String {
    let rounded = round(value, places).normalize();
    grouped(rounded, rounded.scale())
}

/// Writes a value with exactly so many places, and commas from ten thousand up.
fn grouped(value: Decimal, places: u32) -> String {
    let text = format!("{:.*}", places as usize, value.abs());
    let (whole, rest) = text.split_at(text.find('.').unwrap_or(text.len()));
    let sign = if value < Decimal::ZERO { "-" } else { "" };
    if whole.len() < 5 {
        return format!("{sign}{text}");
    }
    let mut groups: Vec<&str> = Vec::new();
    let mut left = whole;
    while left.len() > 3 {
        let (head, tail) = left.split_at(left.len() - 3);
        groups.push(tail);
        left = head;
    }
    groups.push(left);
    groups.reverse();
    format!("{sign}{}{rest}", groups.join(","))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{
        Area, Concentration, Density, Length, Mass, Money, PlantRate, RowRate, Temperature, Volume,
        units,
    };

    fn d(text: &str) -> Decimal {
        text.parse().expect("a decimal")
    }

    const US: Showing = Showing::new(UnitSystem::Us);
    const METRIC: Showing = Showing::new(UnitSystem::Metric);

    #[test]
    fn weights_pick_the_unit_of_the_scale_they_are_weighed_on() {
        for (ounces, shown) in [
            ("0", "0 oz"),
            ("0.0123", "0.012 oz"),
            ("0.25", "0.25 oz"),
            ("3.5", "3.5 oz"),
            ("18.37", "18.4 oz"),
            ("31", "31 oz"),
            ("32", "2 lb"),
            ("76", "4.75 lb"),
            ("-76", "-4.75 lb"),
            ("20000", "1250 lb"),
            ("200000", "12,500 lb"),
        ] {
            assert_eq!(US.of(Mass::from_oz(d(ounces))).to_string(), shown);
        }
        for (grams, shown) in
            [("0.05", "0.05 g"), ("42.25", "42.3 g"), ("455", "455 g"), ("1350", "1.35 kg")]
        {
            assert_eq!(METRIC.of(Mass::from_g(d(grams))).to_string(), shown);
        }
    }

    #[test]
    fn rates_are_shown_for_a_garden_and_for_a_field() {
        let rate = Rate::from_lb_per_1000_ft2(d("3"));
        assert_eq!(US.both_rates(rate), "3 lb/1000 ft2 (131 lb/acre)");
        assert_eq!(METRIC.both_rates(rate), "14.6 g/m2 (146 kg/ha)");
        let low = Rate::from_lb_per_1000_ft2(d("2"));
        assert_eq!(US.range(low, rate).to_string(), "2 to 3 lb/1000 ft2");
        assert_eq!(US.range(rate, rate).to_string(), "3 lb/1000 ft2");
        assert_eq!(US.of(RowRate::from_lb_per_100_ft(d("1.5"))).to_string(), "1.5 lb/100 ft");
        assert_eq!(METRIC.of(RowRate::from_kg_per_m(d("0.0225"))).to_string(), "22.5 g/m");
        assert_eq!(US.of(PlantRate::from_kg(d("0.005"))).to_string(), "0.18 oz/plant");
        assert_eq!(METRIC.of(PlantRate::from_kg(d("0.005"))).to_string(), "5 g/plant");
    }

    #[test]
    fn sizes_of_beds_and_heaps() {
        assert_eq!(US.of(Area::from_ft2(d("96"))).to_string(), "96 ft2");
        assert_eq!(US.of(Area::from_ft2(d("43560"))).to_string(), "1 acre");
        assert_eq!(METRIC.of(Area::from_m2(d("8.92"))).to_string(), "8.9 m2");
        assert_eq!(METRIC.of(Area::from_m2(d("25000"))).to_string(), "2.5 ha");
        assert_eq!(US.of(Length::from_inch(d("0.5"))).to_string(), "0.5 in");
        assert_eq!(US.of(Length::from_ft(d("24"))).to_string(), "24 ft");
        assert_eq!(METRIC.of(Length::from_cm(d("30"))).to_string(), "30 cm");
        assert_eq!(METRIC.of(Length::from_m(d("7.3"))).to_string(), "7.3 m");
        assert_eq!(US.of(Volume::from_yd3(d("1.54"))).to_string(), "1.54 yd3");
        assert_eq!(US.of(Volume::from_ft3(d("4"))).to_string(), "4 ft3");
        assert_eq!(US.of(Volume::from_cup(d("2"))).to_string(), "2 cup");
        assert_eq!(METRIC.of(Volume::from_litre(d("19"))).to_string(), "19 L");
        assert_eq!(US.of(Density::from_lb_per_yd3(d("1000"))).to_string(), "1000 lb/yd3");
    }

    #[test]
    fn shares_money_warmth_and_dates() {
        assert_eq!(US.of(Share::from_percent(d("12.5"))).to_string(), "12.5 %");
        assert_eq!(ratio(Share::from_fraction(d("0.61"))).to_string(), "0.61");
        assert_eq!(US.of(Concentration::from_ppm(d("25"))).to_string(), "25 ppm");
        assert_eq!(US.of(Money::from_units(d("62.005"))).to_string(), "62.01");
        assert_eq!(US.of(Money::from_units(d("-62"))).to_string(), "-62.00");
        assert_eq!(US.of(Temperature::from_fahrenheit(d("68"))).to_string(), "68 °F");
        assert_eq!(METRIC.of(Temperature::from_fahrenheit(d("68"))).to_string(), "20 °C");
        let day = Date::read("2027-05-29").expect("a date");
        assert_eq!(US.amount(Amount::date(day)).to_string(), "Sat 29 May 2027");
        assert_eq!(US.amount(Amount::count(12)).to_string(), "12");
    }

    #[test]
    fn a_column_has_one_unit_and_adds_up() {
        let masses =
            [Mass::from_lb(d("3.333")), Mass::from_lb(d("0.333")), Mass::from_lb(d("0.334"))];
        let scale = US.scale_of(masses);
        assert_eq!(scale.fixed(masses[1].base()).to_string(), "0.33 lb");
        let total: Mass = masses.into_iter().sum();
        let (total, lines) = scale.apportioned(total.base(), &masses.map(Quantity::base));
        assert_eq!(total.to_string(), "4.00 lb");
        let lines: Vec<_> = lines.iter().map(|line| line.number.as_str()).collect();
        assert_eq!(lines, ["3.33", "0.33", "0.34"]);
        assert_eq!(scale.fixed(d("-0.000001")).to_string(), "0.00 lb");
    }

    #[test]
    fn the_reader_may_name_the_unit() {
        let weight = Mass::from_lb(d("0.04"));
        assert_eq!(METRIC.in_unit(weight, &units::POUND).to_string(), "0.04 lb");
        assert_eq!(US.in_unit(weight, &units::GRAM).to_string(), "18.1 g");
    }
}
