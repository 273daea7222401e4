//! The path of every figure of a plan, as `explain` takes it and JSON prints it.

use std::sync::Arc;

use super::dose::{Dose, Purpose};
use super::plan::{BedPlan, MineralBudget, Plan, PlantingPlan};
use crate::figure::{Figure, Step};
use crate::quantity::Quantity;
use crate::season::slug;

/// A figure with its path.
#[derive(Clone, Debug)]
pub struct Located {
    /// Where it stands, such as `north-1/broccoli/nitrogen/need`.
    pub path: String,
    /// The step that reached it.
    pub step: Arc<Step>,
}

/// Every figure of a plan, in the order it is shown.
pub fn all(plan: &Plan) -> Vec<Located> {
    plan.beds.iter().flat_map(of_bed).collect()
}

/// Every figure of one bed.
pub fn of_bed(bed: &BedPlan) -> Vec<Located> {
    let mut list = List { out: Vec::new(), base: bed.slug.to_string() };
    if let Some(area) = &bed.area {
        list.add("area", area);
    }
    if let Some(mix) = &bed.mix {
        list.add("mix", mix);
    }
    for planting in &bed.plantings {
        of_planting(&mut list, bed, planting);
    }
    for budget in [&bed.phosphate, &bed.potash] {
        of_mineral(&mut list, budget);
    }
    for (at, dose) in bed.doses.iter().enumerate() {
        if dose.purpose == Purpose::BeforePlanting {
            list.out.push(Located { path: dose_path(bed, at), step: dose.weight.step() });
        }
    }
    list.out
}

/// The path of a dose: beneath its planting's nitrogen, or beneath the bed for what is spread before
/// planting.
pub fn dose_path(bed: &BedPlan, at: usize) -> String {
    let dose = &bed.doses[at];
    match planting_of(bed, dose) {
        Some(planting) => format!("{}/{}/nitrogen/dose/{}", bed.slug, planting.slug, dose.date),
        None => format!("{}/dose/{}/{}", bed.slug, dose.date, slug(dose.ready.name())),
    }
}

fn planting_of<'a>(bed: &'a BedPlan, dose: &Dose) -> Option<&'a PlantingPlan> {
    let index = dose.planting?;
    bed.plantings.iter().find(|planting| planting.index == index)
}

struct List {
    out: Vec<Located>,
    base: String,
}

impl List {
    fn add<Q: Quantity>(&mut self, tail: &str, figure: &Figure<Q>) {
        let path = format!("{}/{tail}", self.base);
        self.out.push(Located { path, step: figure.step() });
    }
}

fn of_planting(list: &mut List, bed: &BedPlan, planting: &PlantingPlan) {
    let crop = planting.slug.to_string();
    let here = |tail: &str| format!("{crop}/nitrogen/{tail}");
    if let Some(area) = &planting.area {
        list.add(&format!("{crop}/area"), area);
    }
    if let Some(rate) = &planting.need_rate {
        list.add(&here("rate"), rate);
    }
    list.add(&here("need"), &planting.need);
    if let Some(after) = &planting.after_harvest {
        list.add(&here("after-harvest"), after);
    }
    if let Some(taken) = &planting.already_taken {
        list.add(&here("already-taken"), taken);
    }
    for credit in &planting.credits {
        list.add(&here(&format!("credits/{}", credit.slug)), &credit.nitrogen);
    }
    list.add(&here("credits"), &planting.credit);
    list.add(&here("shortfall"), &planting.shortfall);
    list.add(&here("surplus"), &planting.surplus);
    if let Some(ceiling) = &planting.ceiling {
        list.add(&here("ceiling"), ceiling);
    }
    list.add(&here("planned"), &planting.planned);
    list.add(&here("not-planned"), &planting.not_planned);
    list.add(&here("starter"), &planting.starter);
    if let Some(held) = &planting.held_back {
        list.add(&here("held-back"), held);
    }
    for (at, dose) in bed.doses.iter().enumerate() {
        if dose.planting == Some(planting.index) {
            let path = dose_path(bed, at);
            list.out.push(Located { path: path.clone(), step: dose.weight.step() });
            for (_, counts) in &dose.counts {
                let path = format!("{path}/nitrogen");
                list.out.push(Located { path, step: counts.step() });
            }
        }
    }
    list.add(&here("given"), &planting.given);
    list.add(&here("not-given"), &planting.not_given);
}

fn of_mineral(list: &mut List, budget: &MineralBudget) {
    let here = |tail: &str| format!("{}/{tail}", budget.nutrient.word());
    list.add(&here("need"), &budget.need);
    for (name, _, figure) in &budget.credits {
        list.add(&here(&format!("credits/{name}")), figure);
    }
    list.add(&here("credits"), &budget.credit);
    list.add(&here("shortfall"), &budget.shortfall);
    list.add(&here("surplus"), &budget.surplus);
    list.add(&here("planned"), &budget.planned);
    list.add(&here("not-planned"), &budget.not_planned);
    list.add(&here("given"), &budget.given);
    list.add(&here("still-short"), &budget.still_short);
}
