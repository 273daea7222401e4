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

mod dose;
mod figure;

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::Reported;
use super::changes::ShortAnswer;
use super::curves::CurvesAnswer;
use super::record::{AgainstAnswer, answers};
use crate::calendar::Date;
use crate::engine::plan::{BedPlan, MineralBudget, PlantingPlan};
use crate::figure::Figure;
use crate::quantity::{Mass, UnitSystem};
use crate::report::explain::cite;
use crate::report::json::{Part, Written, document, with_list};

pub(super) use dose::DoseLine;
use figure::Path;
pub(super) use figure::{FigureAnswer, unit_of};

#[derive(Serialize)]
struct PlanAnswer<'a> {
    document: &'static str,
    version: u32,
    garden: Option<&'a str>,
    year: i16,
    units: &'static str,
    beds: Vec<BedAnswer<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    record: Vec<AgainstAnswer<'a>>,
}

#[derive(Serialize)]
struct BedAnswer<'a> {
    name: &'a str,
    id: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    area: Option<FigureAnswer<'a>>,
    plantings: Vec<PlantingAnswer<'a>>,
    phosphate: MineralAnswer<'a>,
    potash: MineralAnswer<'a>,
    doses: Vec<DoseLine<'a>>,
    assumptions: Vec<AssumptionAnswer<'a>>,
    cautions: Vec<CautionAnswer<'a>>,
    notes: &'a [String],
    #[serde(skip_serializing_if = "Vec::is_empty")]
    curves: Vec<CurvesAnswer>,
}

#[derive(Serialize)]
struct PlantingAnswer<'a> {
    crop: &'a str,
    id: Path<'a>,
    planted: Written<Date>,
    harvest: Written<Date>,
    last_harvest: Written<Date>,
    #[serde(skip_serializing_if = "Option::is_none")]
    regrowth: Option<Written<Date>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    area: Option<FigureAnswer<'a>>,
    nitrogen: NitrogenAnswer<'a>,
}

#[derive(Serialize)]
struct NitrogenAnswer<'a> {
    basis: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    rate: Option<FigureAnswer<'a>>,
    need: FigureAnswer<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    after_harvest: Option<FigureAnswer<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    already_taken: Option<FigureAnswer<'a>>,
    credits: Vec<CreditAnswer<'a>>,
    credit: FigureAnswer<'a>,
    shortfall: FigureAnswer<'a>,
    surplus: FigureAnswer<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ceiling: Option<FigureAnswer<'a>>,
    planned: FigureAnswer<'a>,
    not_planned: FigureAnswer<'a>,
    starter: FigureAnswer<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    held_back: Option<FigureAnswer<'a>>,
    measure_first: bool,
    given: FigureAnswer<'a>,
    not_given: FigureAnswer<'a>,
    /// Where no plan can hold, and what came of the changes that were tried.
    #[serde(flatten)]
    shortage: ShortAnswer<'a>,
}

#[derive(Serialize)]
struct MineralAnswer<'a> {
    /// Whether a need is known for anything fed on the bed; where it is not, it stands as 0.
    known: bool,
    need: FigureAnswer<'a>,
    credits: Vec<CreditAnswer<'a>>,
    credit: FigureAnswer<'a>,
    shortfall: FigureAnswer<'a>,
    surplus: FigureAnswer<'a>,
    planned: FigureAnswer<'a>,
    not_planned: FigureAnswer<'a>,
    given: FigureAnswer<'a>,
    still_short: FigureAnswer<'a>,
}

#[derive(Serialize)]
struct CreditAnswer<'a> {
    name: &'a str,
    #[serde(flatten)]
    figure: FigureAnswer<'a>,
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
    says: &'a str,
    source: &'a str,
}

/// The whole plan for a program, part by part.
///
/// # Errors
/// None in practice: all keys are text.
pub fn json<'a>(
    reported: &'a Reported<'a>,
) -> Result<impl Iterator<Item = Part> + 'a, serde_json::Error> {
    let beds = &reported.plan.beds;
    let cautions = Cautions::of(reported, beds);
    let without_beds = document(&answer(reported, "plan", None))?;
    Ok(with_list(&without_beds, "beds", beds.len(), move |at, part| {
        part.add(&bed_answer(reported, &beds[at], &cautions, false))
    }))
}

/// One bed for a program.
///
/// # Errors
/// None in practice: all keys are text.
pub fn json_bed(reported: &Reported<'_>, bed: &BedPlan) -> Result<String, serde_json::Error> {
    let cautions = Cautions::of(reported, [bed]);
    let beds = vec![bed_answer(reported, bed, &cautions, true)];
    document(&PlanAnswer { beds, ..answer(reported, "bed", Some(bed.index)) })
}

/// An answer without its beds.
fn answer<'a>(
    reported: &'a Reported<'a>,
    document: &'static str,
    bed: Option<usize>,
) -> PlanAnswer<'a> {
    PlanAnswer {
        document,
        version: 1,
        garden: reported.season.garden.name.as_deref(),
        year: reported.season.garden.year.value,
        units: match reported.showing.system {
            UnitSystem::Us => "us",
            UnitSystem::Metric => "metric",
        },
        beds: Vec::new(),
        record: answers(reported, bed),
    }
}

/// What the cautions of some beds say, and after whom.
struct Cautions(BTreeMap<&'static str, (String, String)>);

impl Cautions {
    fn of<'a>(reported: &Reported<'_>, beds: impl IntoIterator<Item = &'a BedPlan>) -> Self {
        let catalogue = &reported.season.catalogue;
        let keys: BTreeSet<&'static str> =
            beds.into_iter().flat_map(|bed| &bed.cautions).map(|(key, _)| *key).collect();
        let told = |key: &str| {
            let caution = catalogue.caution(key)?;
            let source = catalogue.source(&caution.source);
            Some((caution.sentence.clone(), source.map(|one| cite(&one)).unwrap_or_default()))
        };
        Self(keys.into_iter().filter_map(|key| Some((key, told(key)?))).collect())
    }

    fn answer<'a>(&'a self, key: &'a str, about: &'a str) -> CautionAnswer<'a> {
        let (says, source) = self.0.get(key).map_or(("", ""), |(says, source)| (says, source));
        CautionAnswer { key, about, says, source }
    }
}

fn bed_answer<'a>(
    reported: &'a Reported<'_>,
    bed: &'a BedPlan,
    cautions: &'a Cautions,
    curves: bool,
) -> BedAnswer<'a> {
    let area = |area| FigureAnswer::of(reported, Path([&bed.slug, "area", "", "", ""]), area);
    BedAnswer {
        name: &bed.name,
        id: &bed.slug,
        area: bed.area.as_ref().map(area),
        plantings: bed.plantings.iter().map(|one| planting_answer(reported, bed, one)).collect(),
        phosphate: mineral_answer(reported, bed, &bed.phosphate),
        potash: mineral_answer(reported, bed, &bed.potash),
        doses: (0..bed.doses.len()).map(|at| DoseLine::of(reported, bed, at)).collect(),
        assumptions: bed
            .assumptions
            .iter()
            .map(|one| AssumptionAnswer { assumed: &one.assumed, settle: one.settle })
            .collect(),
        cautions: bed.cautions.iter().map(|(key, about)| cautions.answer(key, about)).collect(),
        notes: &bed.notes,
        curves: if curves { super::curves::answers(reported, bed) } else { Vec::new() },
    }
}

fn planting_answer<'a>(
    reported: &Reported<'_>,
    bed: &'a BedPlan,
    planting: &'a PlantingPlan,
) -> PlantingAnswer<'a> {
    let path = |one: &'a str, two: &'a str, three: &'a str| {
        Path([&bed.slug, &planting.slug, one, two, three])
    };
    let figure = |tail: &'a str, figure: &Figure<Mass>| {
        FigureAnswer::of(reported, path("nitrogen", tail, ""), figure)
    };
    let credits = planting.credits.iter().map(|credit| {
        let path = path("nitrogen", "credits", &credit.slug);
        let figure = FigureAnswer::of(reported, path, &credit.nitrogen);
        CreditAnswer { name: &credit.label, figure }
    });
    PlantingAnswer {
        crop: &planting.crop.name,
        id: path("", "", ""),
        planted: Written(planting.life.planted),
        harvest: Written(planting.life.harvest),
        last_harvest: Written(planting.life.end),
        regrowth: planting.life.regrowth.map(Written),
        area: planting
            .area
            .as_ref()
            .map(|area| FigureAnswer::of(reported, path("area", "", ""), area)),
        nitrogen: NitrogenAnswer {
            basis: planting.basis.word(),
            rate: planting
                .need_rate
                .as_ref()
                .map(|rate| FigureAnswer::of(reported, path("nitrogen", "rate", ""), rate)),
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
    }
}

fn mineral_answer<'a>(
    reported: &Reported<'_>,
    bed: &'a BedPlan,
    budget: &'a MineralBudget,
) -> MineralAnswer<'a> {
    let path =
        |tail: &'a str, last: &'a str| Path([&bed.slug, budget.nutrient.word(), tail, last, ""]);
    let figure =
        |tail: &'a str, figure: &Figure<Mass>| FigureAnswer::of(reported, path(tail, ""), figure);
    MineralAnswer {
        known: bed.mineral_known(budget.nutrient),
        need: figure("need", &budget.need),
        credits: budget
            .credits
            .iter()
            .map(|(slug, label, one)| CreditAnswer {
                name: label,
                figure: FigureAnswer::of(reported, path("credits", slug), one),
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
