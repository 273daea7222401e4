//! Which unit each figure of a sum is shown in.

use std::collections::BTreeMap;

use crate::figure::Step;
use crate::quantity::{Kind, Unit, UnitSystem, Written, first_weight_unit, read_any_said, units};

/// How a figure is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum InUnit {
    /// In a unit.
    Of(Written),
    /// As a count of things, such as "plants".
    Count(&'static str),
    /// As money for each of a unit of weight.
    MoneyPer(&'static str),
    /// As parts per million, for what is dissolved in water.
    Ppm,
}

impl InUnit {
    /// How the unit is written.
    pub fn symbol(self) -> String {
        match self {
            Self::Of(unit) => unit.to_string(),
            Self::Count(things) => things.to_owned(),
            Self::MoneyPer(unit) => format!("per {unit}"),
            Self::Ppm => "ppm".to_owned(),
        }
    }

    /// Turns a base value into this unit.
    pub fn of_base(self, base: rust_decimal::Decimal) -> rust_decimal::Decimal {
        match self {
            Self::Of(unit) => unit.of_base(base),
            Self::Count(_) | Self::MoneyPer(_) => base,
            // Water weighs a kilogram a litre: a thousand milligrams a litre is a kilogram a cubic metre.
            Self::Ppm => crate::quantity::times(base, rust_decimal::Decimal::ONE_THOUSAND),
        }
    }
}

/// The units of a sum: what was written, and what the answers are to be in.
#[derive(Clone, Debug)]
pub struct Units {
    system: UnitSystem,
    weight: &'static Unit,
    settled: bool,
    by_kind: BTreeMap<Kind, Written>,
    by_label: BTreeMap<String, InUnit>,
}

impl Units {
    /// Settles the units of the answers: those asked for, else the first weight written, else the
    /// system of the first unit written.
    pub fn new(written: &[String], asked: Option<UnitSystem>) -> Self {
        let typed = written.iter().find_map(|text| first_weight_unit(text));
        let system = asked.or_else(|| {
            typed.and_then(|unit| Written::plain(unit).system()).or_else(|| {
                let unit = |text: &String| {
                    read_any_said(text, "").ok().and_then(|(_, unit)| unit.system())
                };
                written.iter().find_map(unit)
            })
        });
        let system = system.unwrap_or_default();
        let usual = match system {
            UnitSystem::Us => &units::POUND,
            UnitSystem::Metric => &units::KILOGRAM,
        };
        Self {
            system,
            weight: if asked.is_some() { usual } else { typed.unwrap_or(usual) },
            settled: asked.is_some(),
            by_kind: BTreeMap::new(),
            by_label: BTreeMap::new(),
        }
    }

    /// The system of the answers.
    pub fn system(&self) -> UnitSystem {
        self.system
    }

    /// The unit of weight of the answers.
    pub fn weight(&self) -> &'static Unit {
        self.weight
    }

    /// Pounds or kilograms, by the system.
    pub fn usual_weight(&self) -> &'static Unit {
        match self.system {
            UnitSystem::Us => &units::POUND,
            UnitSystem::Metric => &units::KILOGRAM,
        }
    }

    /// Notes that the figure of this name is shown in this unit.
    pub fn note(&mut self, label: &str, unit: InUnit) {
        self.by_label.insert(label.to_owned(), unit);
    }

    /// Notes the unit a figure was written in; the first of its kind serves later ones, unless a
    /// system was asked for.
    pub fn note_written(&mut self, label: &str, kind: Kind, unit: Written) {
        self.note(label, InUnit::Of(unit));
        let carries_over =
            matches!(kind, Kind::Area | Kind::Length | Kind::Volume | Kind::Rate | Kind::RowRate);
        if !self.settled && carries_over {
            self.by_kind.entry(kind).or_insert(unit);
        }
    }

    /// The unit for anything of this kind.
    pub fn of_kind(&self, kind: Kind) -> Written {
        if let Some(unit) = self.by_kind.get(&kind) {
            return *unit;
        }
        let us = self.system == UnitSystem::Us;
        let pick = |a: &'static Unit, b: &'static Unit| if us { a } else { b };
        match kind {
            Kind::Mass | Kind::PlantRate => Written::plain(self.weight),
            Kind::Area => Written::plain(pick(&units::SQUARE_FOOT, &units::SQUARE_METRE)),
            Kind::Length => Written::plain(pick(&units::INCH, &units::CENTIMETRE)),
            Kind::Volume => Written::plain(pick(&units::CUBIC_YARD, &units::CUBIC_METRE)),
            Kind::Rate => Written::per(self.usual_weight(), pick(&units::ACRE, &units::HECTARE)),
            Kind::RowRate => Written::per(self.usual_weight(), pick(&units::FOOT, &units::METRE)),
            Kind::Density => {
                Written::per(self.usual_weight(), pick(&units::CUBIC_YARD, &units::CUBIC_METRE))
            }
            Kind::Share => Written::plain(&units::PERCENT),
            Kind::Concentration => Written::plain(&units::PART_PER_MILLION),
            Kind::Temperature => Written::plain(&units::CELSIUS),
            Kind::Money | Kind::Count | Kind::Date => Written::plain(&units::CURRENCY),
        }
    }

    /// The unit a step is shown in.
    pub fn of_step(&self, step: &Step) -> InUnit {
        let noted = step.label.as_ref().and_then(|label| self.by_label.get(label.as_ref()));
        noted.copied().unwrap_or_else(|| InUnit::Of(self.of_kind(step.amount.kind)))
    }
}
