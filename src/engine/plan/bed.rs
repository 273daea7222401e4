//! One bed, from its ground to its doses.

use std::sync::Arc;

use crate::calendar::Date;
use crate::engine::area;
use crate::engine::credit::{self, BedAmendment};
use crate::engine::dose::{Feeds, Ready, timing};
use crate::engine::ground::{self, Strip, Tenancy};
use crate::engine::life::Life;
use crate::engine::minerals;
use crate::engine::need::{self, NeedRate};
use crate::engine::rules;
use crate::engine::setting::Setting;
use crate::engine::soil::{Soil, is_container};
use crate::figure::Figure;
use crate::nutrient::Nutrient;
use crate::quantity::{Area, Mass};
use crate::record::Applied;
use crate::season::{Bed, Planting, SplitTiming};

use super::choice::{Choices, Surveyed};
use super::minerals::{MineralBudget, budget, finish};
use super::prepared::Prepared;
use super::solved::{Request, Schedule, Trial};
use super::{BedPlan, container};

/// All that is settled of a bed before its first dose.
pub(super) struct Draft<'a> {
    pub(super) setting: &'a Setting<'a>,
    pub(super) index: usize,
    pub(super) bed: &'a Bed,
    pub(super) soil: Soil,
    pub(super) bed_area: Figure<Area>,
    pub(super) areas: Vec<Figure<Area>>,
    pub(super) lives: Vec<Life>,
    pub(super) strips: Vec<Strip>,
    pub(super) amendments: Vec<BedAmendment>,
    pub(super) needs: Vec<(Figure<Mass>, Option<NeedRate>)>,
    pub(super) feeds: Arc<Feeds>,
    pub(super) container: bool,
    pub(super) solved: bool,
}

/// A planned bed, and what its plantings ask of the solved side-dress plan.
#[derive(Debug)]
pub(super) struct Planned {
    /// The plan.
    pub(super) plan: BedPlan,
    /// What is asked.
    pub(super) requests: Vec<Request>,
    /// The ways found where the program is to choose, where that was asked.
    pub(super) open: Vec<Surveyed>,
}

/// How a bed is to be planned.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Manner<'a> {
    /// What its plantings get of the solved plan; by the published weeks where there is none.
    pub(super) schedule: Option<&'a Schedule>,
    /// What has been chosen; all that is listed where nothing has.
    pub(super) choices: Option<&'a Choices>,
    /// Whether every way to feed it is looked for.
    pub(super) survey: bool,
    /// A change in how one planting is dressed, to be tried.
    pub(super) trial: Option<&'a Trial>,
}

impl<'a> Manner<'a> {
    /// What a planting is side-dressed with instead of what is listed, where that is tried.
    pub(super) fn trial_material(&self, at: usize) -> Option<&'a [Ready]> {
        let trial = self.trial.filter(|trial| trial.planting == at)?;
        trial.material.as_ref().map(std::slice::from_ref)
    }
}

/// Plans one bed.
pub(super) fn plan(
    setting: &Setting<'_>,
    index: usize,
    bed: &Bed,
    applied: &[&Applied],
    asked: Manner<'_>,
) -> Planned {
    Prepared::of(setting, index, bed, applied, asked, None).planned(asked, None)
}

pub(super) fn draft<'a>(
    setting: &'a Setting<'a>,
    index: usize,
    bed: &'a Bed,
    applied: &[&Applied],
) -> Draft<'a> {
    let soil = Soil::of(setting, bed);
    let container = is_container(bed);
    let unknown = || Figure::fixed("area", Area::ZERO, &rules::BED_AREA);
    let bed_area = area::bed_area(bed).unwrap_or_else(unknown);
    let areas: Vec<Figure<Area>> = bed
        .plantings
        .iter()
        .map(|planting| area::planting_area(bed, &bed_area, planting))
        .collect();
    let lives = Life::of_bed(&bed.plantings, &areas, bed_area.value(), &setting.climate);
    let tenancies: Vec<Tenancy> = areas
        .iter()
        .zip(&lives)
        .map(|(area, life)| Tenancy { area: area.value(), planted: life.planted, end: life.end })
        .collect();
    let strips = ground::strips(bed_area.value(), &tenancies);
    let mut amendments = credit::bed_amendments(bed, &bed_area);
    amendments
        .extend(applied.iter().map(|one| credit::recorded(one, &bed_area, &areas, setting.year())));
    let needs = bed
        .plantings
        .iter()
        .zip(&areas)
        .map(|(planting, area)| need_of(setting, bed, &soil, planting, area, container))
        .collect();
    let feeds = setting.feeds(bed);
    let solved = bed.feeding.timing.or(setting.season.feeding.timing);
    let solved = solved.is_none_or(|timing| timing.value == SplitTiming::Solved);
    Draft {
        setting,
        index,
        bed,
        soil,
        bed_area,
        areas,
        lives,
        strips,
        amendments,
        needs,
        feeds,
        container,
        solved,
    }
}

fn need_of(
    setting: &Setting<'_>,
    bed: &Bed,
    soil: &Soil,
    planting: &Planting,
    area: &Figure<Area>,
    container: bool,
) -> (Figure<Mass>, Option<NeedRate>) {
    if container && (planting.given.nitrogen.is_none() || area.is_zero()) {
        return (container::needs(bed, planting).nitrogen, None);
    }
    let rate = need::rate(&setting.season.garden, soil, planting);
    ((&rate.rate * area).by("need", &rules::NEED), Some(rate))
}

pub(super) fn mineral_budgets(draft: &Draft<'_>) -> (MineralBudget, MineralBudget) {
    let one = |nutrient: Nutrient| {
        if draft.container {
            let needs: Vec<Figure<Mass>> = draft
                .bed
                .plantings
                .iter()
                .map(|planting| container::needs(draft.bed, planting)[nutrient].clone())
                .collect();
            let need = Figure::total(&needs).by("need", &rules::CONTAINER_NEED);
            let basis = |need: &Figure<Mass>| {
                if need.is_zero() {
                    minerals::MineralBasis::Unknown
                } else {
                    minerals::MineralBasis::Removal
                }
            };
            let bases = needs.iter().map(basis).collect();
            let spread: Vec<(String, String, Figure<Mass>)> = draft
                .amendments
                .iter()
                .filter(|one| one.content.carries(nutrient))
                .filter_map(|one| {
                    let all = one.weight.as_ref()? * &one.content.shares[nutrient];
                    Some((
                        one.slug.clone(),
                        one.label.clone(),
                        all.by(one.label.clone(), &rules::CONTENT),
                    ))
                })
                .collect();
            let whole: Vec<Figure<Mass>> = spread.iter().map(|(.., all)| all.clone()).collect();
            return finish(nutrient, bases, need, spread, &whole, None);
        }
        let garden = &draft.setting.season.garden;
        let plantings = &draft.bed.plantings;
        let rates: Vec<_> = plantings
            .iter()
            .map(|planting| minerals::rate(garden, &draft.soil, planting, nutrient))
            .collect();
        let removals: Vec<_> =
            plantings.iter().map(|planting| minerals::removed(planting, nutrient)).collect();
        let planted = planted_ground(draft);
        budget(
            nutrient,
            &super::minerals::Given {
                soil: &draft.soil,
                strips: &draft.strips,
                rates: &rates,
                removals: &removals,
                bed_area: &draft.bed_area,
                planted: &planted,
                amendments: &draft.amendments,
                last_harvest: draft.lives.iter().map(|life| life.end).max(),
            },
        )
    };
    (one(Nutrient::Phosphate), one(Nutrient::Potash))
}

/// The ground of the bed that bears something this year.
pub(super) fn planted_ground(draft: &Draft<'_>) -> Figure<Area> {
    let planted: Area = draft
        .strips
        .iter()
        .filter(|strip| !strip.plantings.is_empty())
        .map(|strip| strip.area)
        .sum();
    if planted == draft.bed_area.value() {
        return draft.bed_area.clone();
    }
    if let [only] = draft.areas.as_slice() {
        return only.clone();
    }
    Figure::fixed("ground planted", planted, &rules::PLANTING_AREA)
}

/// Plantings that are fed on the same day before planting, earliest first. What should have been
/// spread before today is spread late: on the next visit day, or today where planting is sooner.
pub(super) fn groups(draft: &Draft<'_>) -> Vec<(Date, Vec<usize>)> {
    let visit = draft.setting.visit_day();
    let mut order: Vec<usize> = (0..draft.lives.len()).collect();
    order.sort_by_key(|at| (draft.lives[*at].planted, *at));
    let mut groups: Vec<(Date, Vec<usize>)> = Vec::new();
    for at in order {
        let planted = draft.lives[at].planted;
        let day = timing::before_planting(planted, visit);
        let day = match draft.setting.today.filter(|today| *today > day) {
            Some(today) => {
                let next = today.next_on_or_after(visit);
                if today <= planted && next > planted { today } else { next }
            }
            None => day,
        };
        match groups.last_mut() {
            Some((same, members)) if *same == day => members.push(at),
            _ => groups.push((day, vec![at])),
        }
    }
    groups
}
