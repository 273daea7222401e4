//! A plan as rows for a spreadsheet: one row a figure, one row a dose.

use super::Reported;
use super::work::by_day;
use crate::engine::dose::Purpose;
use crate::engine::paths;
use crate::engine::plan::BedPlan;
use crate::quantity::{Unit, UnitSystem, units};
use crate::report::csv;
use crate::report::json::number;

const HEADER: [&str; 6] = ["id", "figure", "value", "unit", "low", "high"];

/// One row for each figure of these beds: path, name, value, unit, low, high.
pub fn sheet(reported: &Reported<'_>, beds: &[&BedPlan]) -> String {
    csv::sheet(&HEADER, rows(reported, beds))
}

/// The figures of one bed, and its nitrogen by the day.
pub fn sheet_bed(reported: &Reported<'_>, bed: &BedPlan) -> String {
    let curves = super::curves::rows(reported, bed);
    csv::sheet(&HEADER, rows(reported, &[bed]).into_iter().chain(curves))
}

fn rows(reported: &Reported<'_>, beds: &[&BedPlan]) -> Vec<[String; 6]> {
    let rows = beds.iter().flat_map(|bed| paths::of_bed(bed)).map(|located| {
        let unit = unit_of(reported.showing.system, located.step.amount.kind);
        let shown = |base| number(unit.of_base(base));
        let (low, high) = located
            .step
            .range
            .as_deref()
            .map_or_else(Default::default, |(low, high)| (shown(low.base), shown(high.base)));
        let name = located.step.label.as_ref().map(ToString::to_string).unwrap_or_default();
        [located.path, name, shown(located.step.amount.base), unit.symbol.to_owned(), low, high]
    });
    rows.collect()
}

fn unit_of(system: UnitSystem, kind: crate::quantity::Kind) -> &'static Unit {
    use crate::quantity::Kind;
    match (kind, system) {
        (Kind::Area, UnitSystem::Us) => &units::SQUARE_FOOT,
        (Kind::Area, UnitSystem::Metric) => &units::SQUARE_METRE,
        (Kind::Rate, UnitSystem::Us) => &units::POUND_PER_ACRE,
        (Kind::Rate, UnitSystem::Metric) => &units::KILOGRAM_PER_HECTARE,
        (Kind::Volume, UnitSystem::Us) => &units::GALLON,
        (Kind::Volume, UnitSystem::Metric) => &units::LITRE,
        (_, UnitSystem::Us) => &units::POUND,
        (_, UnitSystem::Metric) => &units::KILOGRAM,
    }
}

/// One row for each dose, by day.
pub fn work_sheet(reported: &Reported<'_>) -> String {
    let header = [
        "date",
        "bed",
        "crop",
        "purpose",
        "material",
        "weight",
        "unit",
        "nitrogen that counts",
        "certain",
        "id",
    ];
    let unit = unit_of(reported.showing.system, crate::quantity::Kind::Mass);
    let rows = by_day(reported).into_iter().map(|(date, bed, at)| {
        let dose = &bed.doses[at];
        let crop = bed.plantings.iter().find(|planting| Some(planting.index) == dose.planting);
        [
            date.to_string(),
            bed.name.clone(),
            crop.map(|planting| planting.crop.name.clone()).unwrap_or_default(),
            match dose.purpose {
                Purpose::BeforePlanting => "before planting".to_owned(),
                Purpose::SideDress => "side-dress".to_owned(),
            },
            dose.ready.name().to_owned(),
            number(unit.of_base(dose.weight.value().base())),
            unit.symbol.to_owned(),
            number(unit.of_base(dose.counted().base())),
            if dose.certain() { "yes" } else { "measure first" }.to_owned(),
            paths::dose_path(bed, at),
        ]
    });
    csv::sheet(&header, rows.collect::<Vec<_>>())
}
