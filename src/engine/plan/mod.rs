//! The plan of a season: for each bed need, credits, shortfall and doses, each with its derivation where
//! workings are kept.

mod after_harvest;
mod assumptions;
mod bed;
mod best;
mod carried_out;
mod cautions;
mod changes;
mod choice;
mod container;
mod course;
mod dressing;
mod minerals;
mod open;
mod planting;
mod prepared;
mod solved;
mod survey;

use std::collections::BTreeMap;
use std::sync::Arc;

pub use assumptions::Assumption;
pub(crate) use best::demands;
pub use changes::{Change, ChangeKind};
pub use choice::{Choices, Lacking, Open, Portion, Slot, Way};
pub use minerals::MineralBudget;
pub use planting::PlantingPlan;

use bed::Manner;
use changes::Again;
use prepared::Prepared;
use solved::Request;

use super::dose::{Dose, Feeds};
use super::minerals::MineralBasis;
use super::setting::{Setting, Trials};
use super::side_dress::Problem;
use super::soil::Soil;
use crate::calendar::Date;
use crate::figure::Figure;
use crate::hands::{each, of_each};
use crate::nutrient::Nutrient;
use crate::quantity::{Area, Money, UnitSystem, Volume};
use crate::record::Applied;
use crate::season::Season;

/// The plan of a whole garden.
#[derive(Clone, Debug)]
pub struct Plan {
    /// Its beds, in the order of the season file.
    pub beds: Vec<BedPlan>,
    /// What was chosen where the program was to choose; empty where it was not.
    pub chosen: Chosen,
}

/// The materials chosen for a season.
#[derive(Clone, Debug, Default)]
pub struct Chosen {
    /// The places to choose for, each with the ways to feed it.
    pub open: Vec<Open>,
    /// What was chosen.
    pub choices: Choices,
    /// Whether no other choice among the ways costs less.
    pub proven: bool,
    /// What another choice could save at most, where that is known.
    pub could_save: Option<Money>,
}

/// The plan of one bed.
#[derive(Clone, Debug)]
pub struct BedPlan {
    /// Index within the season.
    pub index: usize,
    /// Name as written.
    pub name: String,
    /// Name in paths.
    pub slug: Arc<str>,
    /// Its area; nothing for containers whose surface is not said.
    pub area: Option<Figure<Area>>,
    /// Mix in its containers, where it has them.
    pub mix: Option<Figure<Volume>>,
    /// Its soil.
    pub soil: Soil,
    /// Its plantings, in order of planting.
    pub plantings: Vec<PlantingPlan>,
    /// Phosphate of the year.
    pub phosphate: MineralBudget,
    /// Potash of the year.
    pub potash: MineralBudget,
    /// All doses, in order of date.
    pub doses: Vec<Dose>,
    /// What equal doses at the published weeks would have been, where the plan is solved.
    pub by_weeks: Option<Vec<Dose>>,
    /// What was assumed.
    pub assumptions: Vec<Assumption>,
    /// Cautions, by key of the catalogue, with what called for them.
    pub cautions: Vec<(&'static str, String)>,
    /// What was left out of the doses, and why.
    pub notes: Vec<String>,
    /// Whether phosphate and potash could be spread before planting; where not, the day has passed.
    pub minerals_had_their_day: bool,
}

impl BedPlan {
    /// The budget of phosphate or potash.
    pub fn mineral(&self, nutrient: Nutrient) -> &MineralBudget {
        if nutrient == Nutrient::Potash { &self.potash } else { &self.phosphate }
    }

    /// Whether the need of phosphate or potash is known for any crop that is fed; where it is not,
    /// nothing is planned, and the balance says nothing.
    pub fn mineral_known(&self, nutrient: Nutrient) -> bool {
        let bases = &self.mineral(nutrient).bases;
        let mut fed = self.plantings.iter().filter(|one| one.crop.cover_nitrogen.is_none());
        let unknown = |one: &PlantingPlan| bases.get(one.index) == Some(&MineralBasis::Unknown);
        fed.clone().next().is_none() || fed.any(|one| !unknown(one))
    }
}

/// Plans a season. Weights are rounded to the scales of the unit system; `today` is the day the
/// plan is made on; `applied` is what has been spread already.
pub fn plan(season: &Season, units: UnitSystem, today: Option<Date>, applied: &[Applied]) -> Plan {
    of_setting(&setting_of(season, units, today, applied), applied)
}

/// The season's setting, with the crops for which the plan has been carried out.
fn setting_of<'a>(
    season: &'a Season,
    units: UnitSystem,
    today: Option<Date>,
    applied: &[Applied],
) -> Setting<'a> {
    let mut setting = Setting::new(season, units, today);
    setting.carried_out = carried_out::plantings(season, units, applied);
    setting
}

/// Most beds of a garden of which all are tried: to try changes takes longer than to plan a bed.
const MOST_TRIED: usize = 100;

/// Plans a season, and where no plan can hold a crop tries which change would do; in a garden of more
/// than 100 beds that waits until a bed is asked for.
pub fn plan_advised(
    season: &Season,
    units: UnitSystem,
    today: Option<Date>,
    applied: &[Applied],
    trials: Trials,
) -> Plan {
    let mut setting = setting_of(season, units, today, applied);
    if season.beds.len() <= MOST_TRIED {
        setting.trials = trials;
    }
    of_setting(&setting, applied)
}

/// Plans a season with such advice, and beside each solved bed what equal doses at the published
/// weeks would be.
pub fn plan_compared(
    season: &Season,
    units: UnitSystem,
    today: Option<Date>,
    applied: &[Applied],
    trials: Trials,
) -> Plan {
    let mut setting = setting_of(season, units, today, applied);
    setting.trials = trials;
    setting.compare = true;
    of_setting(&setting, applied)
}

fn of_setting(setting: &Setting<'_>, applied: &[Applied]) -> Plan {
    if best::wanted(setting) {
        return best::plan(setting, applied);
    }
    build(setting, applied, &Choices::new()).plan
}

/// A plan and the schedules it was made with.
struct Built {
    plan: Plan,
    schedules: BTreeMap<usize, solved::Schedule>,
}

/// A bed on its way to its plan.
struct Stage<'a> {
    prepared: Prepared<'a>,
    /// What its plantings ask of the solved plan.
    asked: Vec<Request>,
    /// Whether any of them asked for anything at first.
    asks: bool,
    /// Where its crops follow one another: the bed as planned with the schedule of the last turn.
    following: Option<bed::Planned>,
}

/// Plans a season with what has been chosen.
fn build(setting: &Setting<'_>, applied: &[Applied], choices: &Choices) -> Built {
    let beds = &setting.season.beds;
    let here = by_bed(beds.len(), applied);
    let manner = Manner { choices: Some(choices), ..Manner::default() };
    // In boxes, since they are handed from one to another.
    let mut stages: Vec<Box<Stage<'_>>> = each(beds.len(), |index| {
        let prepared = Prepared::of(setting, index, &beds[index], &here[index], manner, None);
        let asked = prepared.asks(manner);
        Box::new(Stage { asks: !asked.is_empty(), asked, prepared, following: None })
    });
    // What a dose leaves to the crop that follows depends on the plan, and the plan on that; beds
    // with one crop after another settle in a turn or two.
    let mut schedules = BTreeMap::new();
    for _ in 0..MOST_TURNS {
        let asked: Vec<Request> = stages.iter().flat_map(|stage| &stage.asked).cloned().collect();
        schedules = solved::solve(setting, &asked, None);
        let follow =
            |index: &usize| !stages[*index].prepared.serves_all() && schedules.contains_key(index);
        let again: Vec<usize> = (0..beds.len()).filter(follow).collect();
        let planned = of_each(again, |_, index| {
            let manner = Manner { schedule: schedules.get(&index), ..manner };
            (index, stages[index].prepared.planned_anew(manner))
        });
        let mut settled = true;
        for (index, planned) in planned {
            let stage = &mut stages[index];
            if stage.asked != planned.requests {
                (settled, stage.asked) = (false, planned.requests.clone());
            }
            stage.following = Some(planned);
        }
        if settled {
            break;
        }
    }
    let beds = of_each(stages, |index, stage| {
        let schedule = schedules.get(&index);
        stage.finish(setting, &here[index], Manner { schedule, ..manner })
    });
    Built { plan: Plan { beds, chosen: Chosen::default() }, schedules }
}

impl Stage<'_> {
    /// Plans the bed once the schedule stands; beside it the published weeks and the changes that
    /// would do, where they are asked for.
    fn finish(self, setting: &Setting<'_>, applied: &[&Applied], manner: Manner<'_>) -> BedPlan {
        let Self { prepared, asked, asks, following } = self;
        let known = Some(asked.as_slice()).filter(|_| prepared.serves_all());
        let planned = |manner| prepared.planned(manner, known).plan;
        let mut plan = following.map_or_else(|| planned(manner), |following| following.plan);
        if setting.compare && asks {
            let by_weeks = Manner { schedule: None, ..manner };
            plan.by_weeks = Some(planned(by_weeks).doses);
        }
        let Some(schedule) = manner.schedule else { return plan };
        let short = plan.plantings.iter().any(|planting| planting.shortage.is_some());
        if short && setting.trials != Trials::None {
            let (index, choices) = (plan.index, manner.choices);
            let again = Again { setting, index, applied, schedule, choices, prepared: &prepared };
            again.try_changes(&mut plan, &asked);
        }
        plan
    }
}

/// What has been spread, for each bed.
fn by_bed(beds: usize, applied: &[Applied]) -> Vec<Vec<&Applied>> {
    let mut all = vec![Vec::new(); beds];
    for one in applied {
        if let Some(bed) = all.get_mut(one.bed) {
            bed.push(one);
        }
    }
    all
}

/// Looks for every way to feed the places whose material is to be chosen, the others fed as built.
fn survey_all(
    setting: &Setting<'_>,
    applied: &[Applied],
    choices: &Choices,
    built: &Built,
) -> Vec<Open> {
    let season = setting.season;
    let beds = season.beds.iter().enumerate();
    let chosen = beds.filter(|(_, bed)| Feeds::any_chosen(season, bed));
    let together = season.beds.len() <= MOST_BEDS_TOGETHER;
    chosen
        .flat_map(|(index, bed)| {
            let here: Vec<&Applied> = applied.iter().filter(|one| one.bed == index).collect();
            let schedule = built.schedules.get(&index);
            let asked = Manner { schedule, choices: Some(choices), survey: true, trial: None };
            let mut found = bed::plan(setting, index, bed, &here, asked).open;
            found.sort_by_key(|one| one.slot);
            match found.as_slice() {
                [before, side]
                    if together && side.certain && before.slot.purpose != side.slot.purpose =>
                {
                    vec![Open::together(before, side)]
                }
                _ => found.iter().map(Open::alone).collect(),
            }
        })
        .collect()
}

/// Most beds for which what is spread before planting and beside the crop is chosen together.
const MOST_BEDS_TOGETHER: usize = 100;

/// What the solved side-dress plan of a season is solved from, in kilograms of nitrogen: the numbers
/// of the first turn, before successions have settled.
pub fn side_dress_problem(season: &Season, units: UnitSystem, today: Option<Date>) -> Problem {
    let setting = Setting::new(season, units, today);
    let beds = season.beds.iter().enumerate();
    let drafts: Vec<bed::Planned> =
        beds.map(|(index, bed)| bed::plan(&setting, index, bed, &[], Manner::default())).collect();
    solved::problem(&setting, &asked(&drafts), None)
}

/// Most turns between the beds and the solver.
const MOST_TURNS: usize = 4;

fn asked(drafts: &[bed::Planned]) -> Vec<solved::Request> {
    drafts.iter().flat_map(|draft| draft.requests.iter().cloned()).collect()
}
