//! Conversion factors: what a product must be multiplied or divided by so that its units come out
//! as those of the answer, each factor written with its own units.

use rust_decimal::Decimal;

use super::numbers::grouped;
use crate::quantity::{Unit, UnitKind, UnitSystem, Written, over, significant, times, units};
use crate::report::text::FIXED_SPACE;

/// Figures a factor is shown to where it has no end.
const FACTOR_FIGURES: u32 = 8;

/// One conversion factor.
#[derive(Clone, Debug, PartialEq)]
pub struct Factor {
    /// Whether it multiplies.
    pub times: bool,
    /// Its size, above one.
    pub size: Decimal,
    /// Its unit, such as "ft2/acre"; empty for a plain number, such as the 100 of percent.
    pub unit: String,
}

impl Factor {
    /// How it is written: "÷ 43,560 ft2/acre".
    pub fn text(&self) -> String {
        if self.unit.is_empty() {
            return self.plain();
        }
        format!("{}{FIXED_SPACE}{}", self.plain(), self.unit)
    }

    /// How it is written without its unit: "÷ 43,560".
    pub fn plain(&self) -> String {
        let sign = if self.times { "×" } else { "÷" };
        format!("{sign}{FIXED_SPACE}{}", grouped(significant(self.size, FACTOR_FIGURES)))
    }
}

/// A unit above or below the line, with how many of it there are.
#[derive(Clone, Copy)]
struct Atom {
    unit: &'static Unit,
    above: bool,
}

/// Finds the factors that turn a product of units into the unit of the answer.
pub fn factors(above: &[Written], below: &[Written], answer: Option<Written>) -> Vec<Factor> {
    let mut atoms: Vec<Atom> = Vec::new();
    let mut found: Vec<Factor> = Vec::new();
    let mut hidden = Decimal::ONE;
    let written = above
        .iter()
        .map(|unit| (unit, true))
        .chain(below.iter().map(|unit| (unit, false)))
        .chain(answer.iter().map(|unit| (unit, false)));
    for (unit, is_above) in written {
        atoms.push(Atom { unit: unit.top, above: is_above });
        if let Some((many, below)) = unit.below {
            atoms.push(Atom { unit: below, above: !is_above });
            hidden = if is_above { over(hidden, many) } else { times(hidden, many) };
        }
    }
    for kind in [UnitKind::Share, UnitKind::Concentration] {
        for atom in atoms.iter().filter(|atom| atom.unit.kind == kind) {
            let size = atom.unit.to_base(Decimal::ONE);
            hidden = if atom.above { times(hidden, size) } else { over(hidden, size) };
        }
    }
    atoms.retain(|atom| matches!(atom.unit.kind, UnitKind::Physical { .. }));
    cancel(&mut atoms);
    pair(&mut atoms, &mut found);
    reduce(&atoms, &mut found);
    if crate::quantity::settle(hidden) != Decimal::ONE {
        let is_times = hidden > Decimal::ONE;
        let size = if is_times { hidden } else { over(Decimal::ONE, hidden) };
        found.push(Factor { times: is_times, size, unit: String::new() });
    }
    found
}

/// Strikes out units that stand above and below alike.
fn cancel(atoms: &mut Vec<Atom>) {
    let mut at = 0;
    while at < atoms.len() {
        let one = atoms[at];
        let other = atoms[at + 1..]
            .iter()
            .position(|other| other.above != one.above && other.unit.symbol == one.unit.symbol);
        match other {
            Some(other) => {
                atoms.remove(at + 1 + other);
                atoms.remove(at);
            }
            None => at += 1,
        }
    }
}

/// Turns a unit above into one of the same kind below: acres into square feet.
fn pair(atoms: &mut Vec<Atom>, found: &mut Vec<Factor>) {
    let mut at = 0;
    while at < atoms.len() {
        let one = atoms[at];
        let other = atoms[at + 1..]
            .iter()
            .position(|other| other.above != one.above && other.unit.kind == one.unit.kind);
        let Some(other) = other else {
            at += 1;
            continue;
        };
        let other = atoms.remove(at + 1 + other);
        atoms.remove(at);
        let (top, bottom) = if one.above { (one, other) } else { (other, one) };
        found.extend(between(top.unit, bottom.unit));
    }
}

/// The factor that turns one unit into another of its kind; nothing where they are of one size.
fn between(from: &Unit, to: &Unit) -> Option<Factor> {
    let (from_top, from_bottom) = from.size();
    let (to_top, to_bottom) = to.size();
    let ratio = (from_top * to_bottom) / (from_bottom * to_top);
    if ratio == Decimal::ONE {
        return None;
    }
    Some(if ratio > Decimal::ONE {
        Factor { times: true, size: ratio, unit: format!("{}/{}", to.symbol, from.symbol) }
    } else {
        let size = (from_bottom * to_top) / (from_top * to_bottom);
        Factor { times: false, size, unit: format!("{}/{}", from.symbol, to.symbol) }
    })
}

/// Brings lengths, areas and volumes that are left to feet, or to metres, and their powers.
fn reduce(atoms: &[Atom], found: &mut Vec<Factor>) {
    let us = atoms.iter().any(|atom| Written::plain(atom.unit).system() == Some(UnitSystem::Us));
    for atom in atoms {
        let UnitKind::Physical { mass: 0, length, plant: 0 } = atom.unit.kind else { continue };
        let to: &Unit = match (us, length) {
            (true, 1) => &units::FOOT,
            (true, 2) => &units::SQUARE_FOOT,
            (true, 3) => &units::CUBIC_FOOT,
            (false, 1) => &units::METRE,
            (false, 2) => &units::SQUARE_METRE,
            (false, 3) => &units::CUBIC_METRE,
            _ => continue,
        };
        let factor = if atom.above { between(atom.unit, to) } else { between(to, atom.unit) };
        found.extend(factor);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(above: &[&str], below: &[&str], answer: &str) -> String {
        let unit = |text: &str| Written::read(text, "lb").expect("a unit");
        let all = |units: &[&str]| units.iter().map(|text| unit(text)).collect::<Vec<_>>();
        let found = factors(&all(above), &all(below), Some(unit(answer)));
        found.iter().map(Factor::text).collect::<Vec<_>>().join(" ").replace(FIXED_SPACE, " ")
    }

    #[test]
    fn factors_are_written_with_their_units() {
        assert_eq!(text(&["lb/acre", "ft2"], &[], "lb"), "÷ 43,560 ft2/acre");
        assert_eq!(text(&["lb/1000 ft2", "ft2"], &[], "lb"), "÷ 1000");
        assert_eq!(text(&["in", "ft2"], &[], "yd3"), "÷ 12 in/ft ÷ 27 ft3/yd3");
        assert_eq!(text(&["ton"], &[], "lb"), "× 2000 lb/ton");
        assert_eq!(text(&["lb", "%"], &[], "lb"), "÷ 100");
        assert_eq!(text(&["lb"], &["%"], "lb"), "× 100");
        assert_eq!(text(&["ft", "ft"], &[], "ft2"), "");
        assert_eq!(text(&["kg/ha", "m2"], &[], "kg"), "÷ 10,000 m2/ha");
    }

    #[test]
    fn a_soil_test_needs_a_chain_of_them() {
        assert_eq!(
            text(&["ppm", "g/cm3", "cm"], &[], "kg/ha"),
            "÷ 1000 g/kg × 1,000,000 cm3/m3 ÷ 100 cm/m × 10,000 m2/ha ÷ 1,000,000"
        );
    }
}
