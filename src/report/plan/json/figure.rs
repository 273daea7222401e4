//! A figure for a program: its path, its digits and their unit.

use serde::{Serialize, Serializer};

use crate::figure::Figure;
use crate::quantity::{Kind, Quantity, Unit, UnitSystem, units};
use crate::report::json::Number;
use crate::report::plan::Reported;

/// A figure for a program.
#[derive(Serialize)]
pub(in crate::report::plan) struct FigureAnswer<'a> {
    #[serde(skip_serializing_if = "Path::is_empty")]
    id: Path<'a>,
    value: Number,
    unit: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<Number>,
}

impl<'a> FigureAnswer<'a> {
    /// A figure at its path.
    pub(super) fn of<Q: Quantity>(
        reported: &Reported<'_>,
        id: Path<'a>,
        figure: &Figure<Q>,
    ) -> Self {
        let unit = unit_of::<Q>(reported.showing.system);
        let (low, high) = figure.range();
        let ranged = low.base() != high.base();
        let shown = |value: Q| Number(unit.of_base(value.base()));
        Self {
            id,
            value: shown(figure.value()),
            unit: unit.symbol,
            low: ranged.then(|| shown(low)),
            high: ranged.then(|| shown(high)),
        }
    }

    /// A value that has no path of its own.
    pub(in crate::report::plan) fn plain<Q: Quantity>(reported: &Reported<'_>, value: Q) -> Self {
        let unit = unit_of::<Q>(reported.showing.system);
        let value = Number(unit.of_base(value.base()));
        Self { id: Path::default(), value, unit: unit.symbol, low: None, high: None }
    }
}

/// The path of a figure, in parts of which some may be empty; put together only as it is written.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Path<'a>(pub(super) [&'a str; 5]);

impl Path<'_> {
    fn is_empty(&self) -> bool {
        self.0.iter().all(|part| part.is_empty())
    }
}

impl Serialize for Path<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut text = String::with_capacity(self.0.iter().map(|part| part.len() + 1).sum());
        for part in self.0.iter().filter(|part| !part.is_empty()) {
            if !text.is_empty() {
                text.push('/');
            }
            text.push_str(part);
        }
        serializer.serialize_str(&text)
    }
}

/// The units a system's weights, areas and rates are given in.
pub(in crate::report::plan) fn unit_of<Q: Quantity>(system: UnitSystem) -> &'static Unit {
    match (Q::KIND, system) {
        (Kind::Area, UnitSystem::Us) => &units::SQUARE_FOOT,
        (Kind::Area, UnitSystem::Metric) => &units::SQUARE_METRE,
        (Kind::Rate, UnitSystem::Us) => &units::POUND_PER_ACRE,
        (Kind::Rate, UnitSystem::Metric) => &units::KILOGRAM_PER_HECTARE,
        (Kind::Concentration, _) => &units::PART_PER_MILLION,
        (_, UnitSystem::Us) => &units::POUND,
        (_, UnitSystem::Metric) => &units::KILOGRAM,
    }
}
