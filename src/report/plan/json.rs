//! A plan for a program. Version 1: weights in pounds or kilograms, areas in square feet or metres,
//! rates in pounds per acre or kilograms per hectare, all as text of twelve significant digits; each
//! figure carries its path as `id`.
//!
//! Where no side-dress plan can keep nitrogen five days ahead of a crop, its `nitrogen` holds
//! `shortage`: the first day it falls behind (`from`), on how many `days`, by how much on the `worst`
//! day (`worst_on`), and what is lacking `at_harvest`; and `changes`: what came of each change that
//! was tried by planning the bed again. A change names itself (`change`: "quicker material", "earlier
//! date" or "one more split"), the `material` or the day (`on`), whether it `does`, and the `days` and
//! `worst` lack that it leaves (0 where it does), and the side-dressings (`doses`) of the plan with it.
//! A change that cannot be tried, because nothing quicker is known or no day is free, is not in the
//! list.

use serde::{Serialize, Serializer};

use super::Reported;
use super::changes::ShortAnswer;
use super::curves::CurvesAnswer;
use super::record::{AgainstAnswer, answers};
use crate::engine::dose::Purpose;
use crate::engine::paths::dose_path;
use crate::engine::plan::{BedPlan, MineralBudget, PlantingPlan};
use crate::figure::Figure;
use crate::quantity::{Quantity, Unit, UnitSystem, units};
use crate::report::explain::cite;
use crate::report::json::number;

#[derive(Serialize)]
struct PlanAnswer<'a> {
    document: &'static str,
    version: u32,
    garden: Option<&'a str>,
    year: i16,
    units: &'static str,
    beds: BedAnswers<'a>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    record: Vec<AgainstAnswer<'a>>,
}

/// The answers of beds, each put together when it is written: all of a large garden at once would fill
/// the memory.
struct BedAnswers<'a> {
    reported: &'a Reported<'a>,
    beds: Vec<&'a BedPlan>,
    curves: bool,
}

impl Serialize for BedAnswers<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let answers = self.beds.iter().map(|bed| bed_answer(self.reported, bed, self.curves));
        serializer.collect_seq(answers)
    }
}

#[derive(Serialize)]
struct BedAnswer<'a> {
    name: &'a str,
    id: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    area: Option<FigureAnswer>,
    plantings: Vec<PlantingAnswer<'a>>,
    phosphate: MineralAnswer<'a>,
    potash: MineralAnswer<'a>,
    doses: Vec<DoseLine>,
    assumptions: Vec<AssumptionAnswer<'a>>,
    cautions: Vec<CautionAnswer<'a>>,
    notes: &'a [String],
    #[serde(skip_serializing_if = "Vec::is_empty")]
    curves: Vec<CurvesAnswer>,
}

#[derive(Serialize)]
struct PlantingAnswer<'a> {
    crop: &'a str,
    id: String,
    planted: String,
    harvest: String,
    last_harvest: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    regrowth: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    area: Option<FigureAnswer>,
    nitrogen: NitrogenAnswer<'a>,
}

#[derive(Serialize)]
struct NitrogenAnswer<'a> {
    basis: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    rate: Option<FigureAnswer>,
    need: FigureAnswer,
    #[serde(skip_serializing_if = "Option::is_none")]
    after_harvest: Option<FigureAnswer>,
    #[serde(skip_serializing_if = "Option::is_none")]
    already_taken: Option<FigureAnswer>,
    credits: Vec<CreditAnswer<'a>>,
    credit: FigureAnswer,
    shortfall: FigureAnswer,
    surplus: FigureAnswer,
    #[serde(skip_serializing_if = "Option::is_none")]
    ceiling: Option<FigureAnswer>,
    planned: FigureAnswer,
    not_planned: FigureAnswer,
    starter: FigureAnswer,
    #[serde(skip_serializing_if = "Option::is_none")]
    held_back: Option<FigureAnswer>,
    measure_first: bool,
    given: FigureAnswer,
    not_given: FigureAnswer,
    /// Where no plan can hold, and what came of the changes that were tried.
    #[serde(flatten)]
    shortage: ShortAnswer,
}

#[derive(Serialize)]
struct MineralAnswer<'a> {
    /// Whether a need is known for anything fed on the bed; where it is not, it stands as 0.
    known: bool,
    need: FigureAnswer,
    credits: Vec<CreditAnswer<'a>>,
    credit: FigureAnswer,
    shortfall: FigureAnswer,
    surplus: FigureAnswer,
    planned: FigureAnswer,
    not_planned: FigureAnswer,
    given: FigureAnswer,
    still_short: FigureAnswer,
}

#[derive(Serialize)]
struct CreditAnswer<'a> {
    name: &'a str,
    #[serde(flatten)]
    figure: FigureAnswer,
}

/// A figure for a program.
#[derive(Serialize)]
pub(super) struct FigureAnswer {
    #[serde(skip_serializing_if = "String::is_empty")]
    id: String,
    value: String,
    unit: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<String>,
}

/// A dose for a program.
#[derive(Serialize)]
pub(super) struct DoseLine {
    id: String,
    date: String,
    bed: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    crop: Option<String>,
    purpose: &'static str,
    material: String,
    weight: FigureAnswer,
    nitrogen: FigureAnswer,
    phosphate: FigureAnswer,
    potash: FigureAnswer,
    nitrogen_that_counts: FigureAnswer,
    certain: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    only_below: Option<FigureAnswer>,
}

#[derive(Serialize)]
struct AssumptionAnswer<'a> {
    assumed: &'a str,
    settle: &'a str,
}

#[derive(Serialize)]
struct CautionAnswer<'a> {
    key: &'a str,
    about: &'a str,
    says: String,
    source: String,
}

/// The units a system's weights, areas and rates are given in.
pub(super) fn unit_of<Q: Quantity>(system: UnitSystem) -> &'static Unit {
    use crate::quantity::Kind;
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

impl FigureAnswer {
    pub(super) fn of<Q: Quantity>(reported: &Reported<'_>, id: String, figure: &Figure<Q>) -> Self {
        let unit = unit_of::<Q>(reported.showing.system);
        let (low, high) = figure.range();
        let ranged = low.base() != high.base();
        let shown = |value: Q| number(unit.of_base(value.base()));
        Self {
            id,
            value: shown(figure.value()),
            unit: unit.symbol,
            low: ranged.then(|| shown(low)),
            high: ranged.then(|| shown(high)),
        }
    }
}

impl DoseLine {
    pub(super) fn of(reported: &Reported<'_>, bed: &BedPlan, at: usize) -> Self {
        let dose = &bed.doses[at];
        let id = dose_path(bed, at);
        let crop = bed.plantings.iter().find(|planting| Some(planting.index) == dose.planting);
        let plain = |figure: &Figure<crate::quantity::Mass>| {
            FigureAnswer::of(reported, String::new(), figure)
        };
        let counted = Figure::asked("counts", dose.counted());
        Self {
            weight: plain(&dose.weight),
            nitrogen: plain(&dose.brings.nitrogen),
            phosphate: plain(&dose.brings.phosphate),
            potash: plain(&dose.brings.potash),
            nitrogen_that_counts: plain(&counted),
            id,
            date: dose.date.to_string(),
            bed: bed.name.clone(),
            crop: crop.map(|planting| planting.crop.name.clone()),
            purpose: match dose.purpose {
                Purpose::BeforePlanting => "before planting",
                Purpose::SideDress => "side-dress",
            },
            material: dose.ready.name().to_owned(),
            certain: dose.certain(),
            only_below: dose
                .measure
                .as_ref()
                .map(|ppm| FigureAnswer::of(reported, String::new(), ppm)),
        }
    }
}

/// The whole plan for a program.
///
/// # Errors
/// None in practice: all keys are text.
pub fn json(reported: &Reported<'_>) -> Result<String, serde_json::Error> {
    answer(reported, "plan", reported.plan.beds.iter().collect())
}

/// One bed for a program.
///
/// # Errors
/// None in practice: all keys are text.
pub fn json_bed(reported: &Reported<'_>, bed: &BedPlan) -> Result<String, serde_json::Error> {
    answer(reported, "bed", vec![bed])
}

fn answer<'a>(
    reported: &'a Reported<'a>,
    document: &'static str,
    beds: Vec<&'a BedPlan>,
) -> Result<String, serde_json::Error> {
    let units = match reported.showing.system {
        UnitSystem::Us => "us",
        UnitSystem::Metric => "metric",
    };
    crate::report::json::document(&PlanAnswer {
        document,
        version: 1,
        garden: reported.season.garden.name.as_deref(),
        year: reported.season.garden.year.value,
        units,
        record: answers(reported, beds.first().filter(|_| document == "bed").map(|bed| bed.index)),
        beds: BedAnswers { reported, beds, curves: document == "bed" },
    })
}

fn bed_answer<'a>(reported: &'a Reported<'_>, bed: &'a BedPlan, curves: bool) -> BedAnswer<'a> {
    let catalogue = &reported.season.catalogue;
    let cautions = bed.cautions.iter().map(|(key, about)| {
        let caution = catalogue.caution(key);
        let source = caution.as_ref().and_then(|caution| catalogue.source(&caution.source));
        CautionAnswer {
            key,
            about,
            says: caution.map(|caution| caution.sentence.clone()).unwrap_or_default(),
            source: source.map(|source| cite(&source)).unwrap_or_default(),
        }
    });
    BedAnswer {
        name: &bed.name,
        id: &bed.slug,
        area: bed
            .area
            .as_ref()
            .map(|area| FigureAnswer::of(reported, format!("{}/area", bed.slug), area)),
        plantings: bed.plantings.iter().map(|one| planting_answer(reported, bed, one)).collect(),
        phosphate: mineral_answer(reported, bed, &bed.phosphate),
        potash: mineral_answer(reported, bed, &bed.potash),
        doses: (0..bed.doses.len()).map(|at| DoseLine::of(reported, bed, at)).collect(),
        assumptions: bed
            .assumptions
            .iter()
            .map(|one| AssumptionAnswer { assumed: &one.assumed, settle: one.settle })
            .collect(),
        cautions: cautions.collect(),
        notes: &bed.notes,
        curves: if curves { super::curves::answers(reported, bed) } else { Vec::new() },
    }
}

fn planting_answer<'a>(
    reported: &Reported<'_>,
    bed: &BedPlan,
    planting: &'a PlantingPlan,
) -> PlantingAnswer<'a> {
    let base = format!("{}/{}", bed.slug, planting.slug);
    let figure = |tail: &str, figure: &Figure<crate::quantity::Mass>| {
        FigureAnswer::of(reported, format!("{base}/nitrogen/{tail}"), figure)
    };
    let credits = planting.credits.iter().map(|credit| CreditAnswer {
        name: &credit.label,
        figure: figure(&format!("credits/{}", credit.slug), &credit.nitrogen),
    });
    PlantingAnswer {
        crop: &planting.crop.name,
        planted: planting.life.planted.to_string(),
        harvest: planting.life.harvest.to_string(),
        last_harvest: planting.life.end.to_string(),
        regrowth: planting.life.regrowth.map(|day| day.to_string()),
        area: planting
            .area
            .as_ref()
            .map(|area| FigureAnswer::of(reported, format!("{base}/area"), area)),
        nitrogen: NitrogenAnswer {
            basis: planting.basis.word(),
            rate: planting
                .need_rate
                .as_ref()
                .map(|rate| FigureAnswer::of(reported, format!("{base}/nitrogen/rate"), rate)),
            need: figure("need", &planting.need),
            after_harvest: planting.after_harvest.as_ref().map(|one| figure("after-harvest", one)),
            already_taken: planting.already_taken.as_ref().map(|one| figure("already-taken", one)),
            credits: credits.collect(),
            credit: figure("credits", &planting.credit),
            shortfall: figure("shortfall", &planting.shortfall),
            surplus: figure("surplus", &planting.surplus),
            ceiling: planting.ceiling.as_ref().map(|one| figure("ceiling", one)),
            planned: figure("planned", &planting.planned),
            not_planned: figure("not-planned", &planting.not_planned),
            starter: figure("starter", &planting.starter),
            held_back: planting.held_back.as_ref().map(|one| figure("held-back", one)),
            measure_first: planting.measure_first,
            given: figure("given", &planting.given),
            not_given: figure("not-given", &planting.not_given),
            shortage: ShortAnswer::of(reported, planting),
        },
        id: base,
    }
}

fn mineral_answer<'a>(
    reported: &Reported<'_>,
    bed: &BedPlan,
    budget: &'a MineralBudget,
) -> MineralAnswer<'a> {
    let base = format!("{}/{}", bed.slug, budget.nutrient.word());
    let figure = |tail: &str, figure: &Figure<crate::quantity::Mass>| {
        FigureAnswer::of(reported, format!("{base}/{tail}"), figure)
    };
    MineralAnswer {
        known: bed.mineral_known(budget.nutrient),
        need: figure("need", &budget.need),
        credits: budget
            .credits
            .iter()
            .map(|(slug, label, one)| CreditAnswer {
                name: label,
                figure: figure(&format!("credits/{slug}"), one),
            })
            .collect(),
        credit: figure("credits", &budget.credit),
        shortfall: figure("shortfall", &budget.shortfall),
        surplus: figure("surplus", &budget.surplus),
        planned: figure("planned", &budget.planned),
        not_planned: figure("not-planned", &budget.not_planned),
        given: figure("given", &budget.given),
        still_short: figure("still-short", &budget.still_short),
    }
}
