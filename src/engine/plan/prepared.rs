//! A bed planned up to its dressings, which serves for every schedule; and the whole once it is dressed.

use crate::calendar::Date;
use crate::engine::area;
use crate::engine::dose::{Dose, weighing_slip};
use crate::engine::setting::Setting;
use crate::engine::trifle;
use crate::figure::Figure;
use crate::nutrient::Nutrient;
use crate::quantity::Mass;
use crate::record::Applied;
use crate::season::{Bed, Planting};

use super::bed::{Draft, Manner, Planned, draft, groups, mineral_budgets};
use super::course::{Course, Waiting};
use super::minerals::MineralBudget;
use super::planting::PlantingPlan;
use super::solved::Request;
use super::{BedPlan, assumptions, cautions};

/// A bed planned up to the dressings of its last plantings, or of those that it was to stop at.
pub(super) struct Prepared<'a> {
    draft: Draft<'a>,
    /// Phosphate and potash before anything is spread.
    minerals: (MineralBudget, MineralBudget),
    walked: Walked<'a>,
    /// Whether all its plantings are fed on one day: nothing up to here then hangs on a schedule.
    alone: bool,
}

impl<'a> Prepared<'a> {
    /// Prepares a bed, with the dressings of all but its last plantings as asked; no further than to the
    /// dressing of one planting, where one is given.
    pub(super) fn of(
        setting: &'a Setting<'a>,
        index: usize,
        bed: &'a Bed,
        applied: &[&Applied],
        asked: Manner<'a>,
        until: Option<usize>,
    ) -> Self {
        let draft = draft(setting, index, bed, applied);
        let minerals = mineral_budgets(&draft);
        let groups = groups(&draft);
        let walked = Walked::of(&draft, minerals.clone(), &groups, asked, until);
        Self { draft, minerals, walked, alone: groups.len() < 2 }
    }

    /// Whether what was prepared serves for every schedule.
    pub(super) fn serves_all(&self) -> bool {
        self.alone
    }

    /// What the plantings up to the last ones ask of the solved plan, dressed as asked.
    pub(super) fn asks(&self, asked: Manner<'_>) -> Vec<Request> {
        self.walked.dressed(&self.draft, asked, None, true).course.requests
    }

    /// Dresses the last plantings as asked, and puts the plan together. What they ask of the solved
    /// plan may be given where it is known: where what was prepared serves for every schedule, it is
    /// the same for all that try nothing.
    pub(super) fn planned(&self, asked: Manner<'_>, known: Option<&[Request]>) -> Planned {
        finished(&self.draft, self.walked.dressed(&self.draft, asked, known, false))
    }

    /// Plans the bed as asked from its first planting on.
    pub(super) fn planned_anew(&self, asked: Manner<'_>) -> Planned {
        let (draft, groups) = (&self.draft, groups(&self.draft));
        let walked = Walked::of(draft, self.minerals.clone(), &groups, asked, None);
        finished(draft, walked.dressed(draft, asked, None, false))
    }
}

/// What has been planned of a bed, and what waits for its dressings.
struct Walked<'a> {
    course: Course<'a>,
    phosphate: MineralBudget,
    potash: MineralBudget,
    last: Option<Waiting>,
}

impl<'a> Walked<'a> {
    fn of(
        draft: &Draft<'_>,
        (mut phosphate, mut potash): (MineralBudget, MineralBudget),
        groups: &[(Date, Vec<usize>)],
        asked: Manner<'a>,
        until: Option<usize>,
    ) -> Self {
        let mut course = Course::new(draft, asked);
        let mut last: Option<Waiting> = None;
        for group in groups {
            if let Some(waiting) = &last {
                course.dress_all(draft, waiting, &mut phosphate, &mut potash);
            }
            last = Some(course.feed(draft, group, &mut phosphate, &mut potash));
            if until.is_some_and(|planting| group.1.contains(&planting)) {
                break;
            }
        }
        Self { course, phosphate, potash, last }
    }

    /// Dresses the last plantings as asked, or only asks for their dressings.
    fn dressed<'b>(
        &'b self,
        draft: &Draft<'_>,
        asked: Manner<'b>,
        known: Option<&'b [Request]>,
        only_asks: bool,
    ) -> Dressed<'b> {
        let (mut course, mut phosphate, mut potash) =
            (self.course.clone(), self.phosphate.clone(), self.potash.clone());
        (course.asked, course.known, course.only_asks) = (asked, known, only_asks);
        if let Some(waiting) = &self.last {
            course.dress_all(draft, waiting, &mut phosphate, &mut potash);
        }
        Dressed { course, phosphate, potash }
    }
}

/// A bed once its last plantings are dressed.
struct Dressed<'a> {
    course: Course<'a>,
    phosphate: MineralBudget,
    potash: MineralBudget,
}

/// Puts the plan of a bed together once all is spread.
fn finished(draft: &Draft<'_>, dressed: Dressed<'_>) -> Planned {
    let Dressed { course, mut phosphate, mut potash } = dressed;
    let Draft { setting, index, bed, .. } = draft;
    let Course { mut doses, plans, mut notes, requests, minerals_given, open, .. } = course;
    doses.sort_by_key(|dose| (dose.date, dose.purpose, dose.planting));
    let mut plantings: Vec<PlantingPlan> = plans.into_iter().flatten().collect();
    plantings.sort_by_key(|plan| plan.index);
    for nutrient in [Nutrient::Phosphate, Nutrient::Potash] {
        let certain = doses.iter().filter(|dose| dose.certain());
        let brought: Vec<&Figure<Mass>> = certain.map(|dose| &dose.brings[nutrient]).collect();
        let budget = if nutrient == Nutrient::Phosphate { &mut phosphate } else { &mut potash };
        budget.given = Figure::total(brought.into_iter().filter(|one| !one.is_zero()))
            .called("given by the doses");
    }
    let short = still_short(draft, (&notes, &doses), &[&phosphate, &potash], minerals_given);
    notes.extend(short);
    notes.extend(container_notes(draft));
    notes.dedup();
    let on_ground = !draft.container || area::bed_area(bed).is_some();
    let mut plan = BedPlan {
        index: *index,
        name: bed.name.value.clone(),
        slug: bed.slug.clone(),
        area: on_ground.then(|| draft.bed_area.clone()),
        mix: area::container_volume(bed),
        soil: draft.soil.clone(),
        plantings,
        phosphate,
        potash,
        doses,
        by_weeks: None,
        assumptions: Vec::new(),
        cautions: Vec::new(),
        notes,
        minerals_had_their_day: minerals_given,
    };
    plan.assumptions = assumptions::of(setting, bed, &plan, draft.feeds.assumed);
    plan.cautions = cautions::of(setting, bed, &plan, &draft.amendments);
    Planned { plan, requests, open }
}

/// What is said of phosphate and potash that the doses leave short and that has not been told.
fn still_short(
    draft: &Draft<'_>,
    (told, doses): (&[String], &[Dose]),
    budgets: &[&MineralBudget],
    had_their_day: bool,
) -> Vec<String> {
    let mut notes = Vec::new();
    for budget in budgets {
        let left = budget.still_short.value();
        let least = trifle::of(budget.need.value());
        let weighed = weighing_slip(doses, budget.nutrient, draft.setting.units);
        if left <= least || left <= weighed {
            continue;
        }
        let word = budget.nutrient.word();
        if !had_their_day {
            notes.push(format!(
                "{word} was due before planting; it is not spread on a crop that has stood this \
                 long, and is left for the next one"
            ));
        } else if draft.feeds.choose_before && nothing_carries(draft, budget.nutrient) {
            notes.push(format!("{word} stays short: nothing in the shed that suits carries any"));
        } else if !told.iter().any(|note| note.starts_with(&format!("{word} stays short"))) {
            notes.push(format!("{word} stays short: what is listed brings too little of it"));
        }
    }
    notes
}

fn nothing_carries(draft: &Draft<'_>, nutrient: Nutrient) -> bool {
    !draft.feeds.before.iter().any(|ready| ready.carries(nutrient))
}

/// What is said of containers whose crop has no known yield.
fn container_notes(draft: &Draft<'_>) -> Vec<String> {
    let unknown = |planting: &&Planting| {
        draft.container
            && planting.given.nitrogen.is_none()
            && crate::engine::yields::each_plant(planting).is_none()
    };
    let told = |planting: &Planting| {
        let name = &planting.crop.value.name;
        format!(
            "no yield of {name} is known, so its need is not: write `yield = \"2 lb/plant\"`, as you hope for"
        )
    };
    draft.bed.plantings.iter().filter(unknown).map(told).collect()
}
