//! Chooses the materials where a feeding says `best`: every shortfall met as well as the shed allows,
//! phosphate kept off soil that has enough, at least cost for the whole garden.
//!
//! The ways to feed each place depend on what the others are fed with (a starter changes what is left
//! to side-dress), and the cost on all of them together (packs are whole). So ways are looked for with
//! what is chosen so far, the buyer chooses among them, and the season is planned anew, until the
//! choice stands; of the plans so found the best is kept.

use rust_decimal::Decimal;

use crate::calendar::Date;
use crate::engine::buy::{Alternative, Certainty, Demand, Part, assign, least_list};
use crate::engine::dose::Feeds;
use crate::engine::dose::recipes::all_looked_at;
use crate::engine::paths::dose_path;
use crate::engine::setting::Setting;
use crate::engine::shopping;
use crate::nutrient::Nutrient;
use crate::quantity::{Mass, Money, Quantity, settle};
use crate::record::Applied;

use super::choice::{Choices, Open, Way, portions};
use super::{Chosen, Plan, build, survey_all};

/// Most times that a choice is planned and looked at again.
const MOST_ROUNDS: usize = 6;

/// Whether any material of the season is to be chosen.
pub(super) fn wanted(setting: &Setting<'_>) -> bool {
    let season = setting.season;
    season.beds.iter().any(|bed| Feeds::any_chosen(season, bed))
}

/// Plans a season whose materials are to be chosen.
pub(super) fn plan(setting: &Setting<'_>, applied: &[Applied]) -> Plan {
    let mut choices = Choices::new();
    let mut tried: Vec<(Worth, Plan)> = Vec::new();
    loop {
        let mut built = build(setting, applied, &choices);
        let mut open = survey_all(setting, applied, &choices, &built);
        if open.is_empty() {
            return built.plan;
        }
        weigh_as_planned(&mut open, &choices, &built.plan);
        let (next, could_save) = choose(setting, &built.plan, &open);
        if !choices.is_empty() {
            // Materials that were not looked at could cost less, nobody knows by how much.
            let could_save =
                could_save.filter(|_| next == choices && all_looked_at(setting.season));
            let proven = could_save == Some(Money::ZERO);
            let choices = choices.clone();
            built.plan.chosen = Chosen { open, choices, proven, could_save };
            tried.push((worth(setting, &built.plan), built.plan));
        }
        let known = tried.iter().any(|(_, plan)| plan.chosen.choices == next);
        if known || tried.len() >= MOST_ROUNDS {
            break;
        }
        choices = next;
    }
    let best = tried.into_iter().min_by(|one, other| one.0.cmp(&other.0));
    let mut plan = best.map_or_else(|| build(setting, applied, &choices).plan, |(_, plan)| plan);
    tell_unwanted(&mut plan);
    plan
}

/// What a plan is worth; the first that differs decides, and less is better.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Worth {
    lacking: Decimal,
    unmet: Decimal,
    unwanted: Mass,
    unpriced: Mass,
    cost: Money,
    weight: Mass,
}

fn worth(setting: &Setting<'_>, plan: &Plan) -> Worth {
    let (certain, possible) = shopping::short_list(setting.season, plan, setting.today);
    let lists = [&certain, &possible];
    let mut worth = Worth {
        lacking: Decimal::ZERO,
        unmet: Decimal::ZERO,
        unwanted: Mass::ZERO,
        unpriced: lists.iter().map(|list| list.unpriced).sum(),
        cost: lists.iter().map(|list| list.cost).sum(),
        weight: Mass::ZERO,
    };
    for unmet in lists.iter().flat_map(|list| &list.unmet) {
        worth.unmet += unmet.share.fraction();
    }
    // A way that no longer serves as well as the best is no plan to keep.
    let serving = chosen_ways(&plan.chosen).count();
    worth.lacking += Decimal::from(plan.chosen.open.len() - serving);
    for (_, way) in chosen_ways(&plan.chosen) {
        worth.unwanted += way.unwanted;
        worth.lacking += way.lacking.in_all();
        worth.weight += way.portions.iter().map(|portion| portion.weight).sum();
    }
    worth.lacking = settle(worth.lacking.round_dp(4));
    worth
}

/// The way chosen for each place.
pub(super) fn chosen_ways(chosen: &Chosen) -> impl Iterator<Item = (&Open, &Way)> {
    chosen.open.iter().filter_map(|open| Some((open, &open.ways[open.chosen(&chosen.choices)?])))
}

/// Gives the ways that were chosen the weights they were planned with.
fn weigh_as_planned(open: &mut [Open], choices: &Choices, plan: &Plan) {
    for one in open {
        let doses = plan.beds[one.bed()].doses.iter();
        let planned = portions(doses.filter(|dose| one.serves(dose)));
        if let Some(at) = one.chosen(choices) {
            one.ways[at].portions = planned;
        }
    }
}

/// The demands of a plan's fixed doses, and of its slots: one for each, with all its ways.
pub(crate) fn demands(
    today: Option<Date>,
    plan: &Plan,
    open: &[Open],
) -> (Vec<Demand>, Vec<Demand>) {
    let still = |date: Date| today.is_none_or(|today| date >= today);
    let certainty = |certain: bool| match certain {
        true => Certainty::Certain,
        false => Certainty::Possible,
    };
    let mut fixed = Vec::new();
    for bed in &plan.beds {
        let from = open.partition_point(|one| one.bed() < bed.index);
        let to = open.partition_point(|one| one.bed() <= bed.index);
        for (at, dose) in bed.doses.iter().enumerate() {
            if !still(dose.date) || open[from..to].iter().any(|one| one.serves(dose)) {
                continue;
            }
            let way = Alternative::of(dose.ready.name(), dose.weight.value());
            let path = dose_path(bed, at);
            fixed.push(Demand {
                path,
                certainty: certainty(dose.certain()),
                alternatives: vec![way],
            });
        }
    }
    let slots = open.iter().enumerate().map(|(at, one)| {
        let way = |way: &Way| Alternative {
            parts: way
                .portions
                .iter()
                .filter(|portion| still(portion.date))
                .map(|portion| Part {
                    material: portion.material.to_string(),
                    weight: portion.weight,
                })
                .collect(),
            unwanted: way.unwanted,
            draws: Vec::new(),
        };
        Demand {
            path: format!("{}/{at:08}", plan.beds[one.bed()].slug),
            certainty: certainty(one.certain),
            alternatives: one.ways.iter().map(way).collect(),
        }
    });
    (fixed, slots.collect())
}

/// Chooses a way for each slot: first for what is certain, then with what that leaves over for what
/// may be. Tells what another choice could save, where that is known.
fn choose(setting: &Setting<'_>, plan: &Plan, open: &[Open]) -> (Choices, Option<Money>) {
    let (fixed, slots) = demands(setting.today, plan, open);
    let mut shed = shopping::shed(setting.season);
    let (mut choices, mut could_save) = (Choices::new(), Some(Money::ZERO));
    for certainty in [Certainty::Certain, Certainty::Possible] {
        let mut here: Vec<usize> =
            (0..slots.len()).filter(|at| slots[*at].certainty == certainty).collect();
        // By name, so that of two equal beds the same one is served first in whatever order they stand.
        here.sort_by(|one, other| slots[*one].path.cmp(&slots[*other].path));
        let mut others: Vec<&Demand> =
            fixed.iter().filter(|demand| demand.certainty == certainty).collect();
        others.sort_by(|one, other| one.path.cmp(&other.path));
        let mut asked: Vec<Demand> = here.iter().map(|at| slots[*at].clone()).collect();
        asked.extend(others.into_iter().cloned());
        let found = assign(&shed, &asked, &[]);
        // Where the weight was made least, what is left unproven is no money.
        let known = found.proven || !found.could_save.is_zero();
        could_save = could_save.filter(|_| known).map(|sum| sum + found.could_save);
        for (at, way) in here.iter().zip(&found.ways) {
            if let Some(way) = open[*at].ways.get(*way) {
                let slots = open[*at].slots.iter().copied();
                choices.extend(slots.zip(way.recipes.iter().cloned()));
            }
        }
        for (demand, way) in asked.iter_mut().zip(&found.ways) {
            demand.alternatives = demand.alternatives.get(*way).cloned().into_iter().collect();
        }
        if certainty == Certainty::Certain && slots.len() > here.len() {
            let list = least_list(&shed, &asked, &[]);
            shed = shopping::left_over(shed, &list);
        }
    }
    (choices, could_save)
}

/// Says where phosphate could not be kept off soil that has enough.
fn tell_unwanted(plan: &mut Plan) {
    let told: Vec<(usize, String)> = chosen_ways(&plan.chosen)
        .filter(|(_, way)| way.unwanted > Mass::ZERO)
        .map(|(open, _)| {
            let doses = plan.beds[open.bed()].doses.iter().filter(|dose| open.serves(dose));
            let bringing = doses.filter(|dose| !dose.brings[Nutrient::Phosphate].is_zero());
            let mut names: Vec<&str> = bringing.map(|dose| dose.ready.name()).collect();
            names.sort_unstable();
            names.dedup();
            let note = format!(
                "{} brings phosphate onto soil that has enough: nothing else in the shed would feed this bed as well",
                names.join(" and ")
            );
            (open.bed(), note)
        })
        .collect();
    for (bed, note) in told {
        if !plan.beds[bed].notes.contains(&note) {
            plan.beds[bed].notes.push(note);
        }
    }
}
