//! A dose for a program.

use serde::Serialize;

use super::figure::FigureAnswer;
use crate::calendar::Date;
use crate::engine::dose::Purpose;
use crate::engine::paths::dose_path;
use crate::engine::plan::BedPlan;
use crate::report::json::Written;
use crate::report::plan::Reported;

/// A dose for a program.
#[derive(Serialize)]
pub(in crate::report::plan) struct DoseLine<'a> {
    id: String,
    date: Written<Date>,
    bed: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    crop: Option<&'a str>,
    purpose: &'static str,
    material: &'a str,
    weight: FigureAnswer<'a>,
    nitrogen: FigureAnswer<'a>,
    phosphate: FigureAnswer<'a>,
    potash: FigureAnswer<'a>,
    nitrogen_that_counts: FigureAnswer<'a>,
    certain: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    only_below: Option<FigureAnswer<'a>>,
}

impl<'a> DoseLine<'a> {
    pub(in crate::report::plan) fn of(
        reported: &Reported<'_>,
        bed: &'a BedPlan,
        at: usize,
    ) -> Self {
        let dose = &bed.doses[at];
        let crop = bed.plantings.iter().find(|planting| Some(planting.index) == dose.planting);
        let plain = |value| FigureAnswer::plain(reported, value);
        Self {
            id: dose_path(bed, at),
            date: Written(dose.date),
            bed: &bed.name,
            crop: crop.map(|planting| planting.crop.name.as_str()),
            purpose: match dose.purpose {
                Purpose::BeforePlanting => "before planting",
                Purpose::SideDress => "side-dress",
            },
            material: dose.ready.name(),
            weight: plain(dose.weight.value()),
            nitrogen: plain(dose.brings.nitrogen.value()),
            phosphate: plain(dose.brings.phosphate.value()),
            potash: plain(dose.brings.potash.value()),
            nitrogen_that_counts: plain(dose.counted()),
            certain: dose.certain(),
            only_below: dose.measure.as_ref().map(|ppm| FigureAnswer::plain(reported, ppm.value())),
        }
    }
}
