//! The course of a bed's year: plantings one after another, each with its ledger, what is spread
//! before it and its dressings.

use rust_decimal::Decimal;

use crate::calendar::Date;
use crate::catalogue::MaterialKind;
use crate::engine::area;
use crate::engine::credit::{Before, Plot, earlier_doses};
use crate::engine::critical;
use crate::engine::dose::Dose;
use crate::engine::dose::before::{Event, Fed, spread};
use crate::engine::dose::dress::Dressed;
use crate::engine::ground::{self, Strip};
use crate::engine::need::Basis;
use crate::engine::rules;
use crate::figure::Figure;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{Area, Mass, Positive, Share};

use super::bed::{Draft, planted_ground};
use super::minerals::MineralBudget;
use super::open::{fits_before, open_days};
use super::planting::{Ledger, PlantingPlan, Split, ledger, split};
use super::solved::{Request, Schedule};

/// What has been planned of a bed so far, in the order of planting.
pub(super) struct Course<'a> {
    pub(super) schedule: Option<&'a Schedule>,
    pub(super) requests: Vec<Request>,
    pub(super) doses: Vec<Dose>,
    pub(super) plans: Vec<Option<PlantingPlan>>,
    pub(super) notes: Vec<String>,
    manure_nitrogen: Mass,
    /// Whether the year's phosphate and potash have had their day.
    pub(super) minerals_given: bool,
    /// Ground whose phosphate and potash have been looked after.
    ground_fed: Area,
}

impl<'a> Course<'a> {
    pub(super) fn new(draft: &Draft<'_>, schedule: Option<&'a Schedule>) -> Self {
        let manure = draft.amendments.iter().filter(|one| {
            matches!(one.stuff.material.kind, MaterialKind::Manure | MaterialKind::PoultryManure)
        });
        let nitrogen = manure
            .filter_map(|one| {
                Some(one.weight.as_ref()?.value() * one.content.shares.nitrogen.value())
            })
            .sum();
        Self {
            schedule,
            requests: Vec::new(),
            doses: Vec::new(),
            plans: vec![None; draft.lives.len()],
            notes: Vec::new(),
            manure_nitrogen: nitrogen,
            minerals_given: false,
            ground_fed: Area::ZERO,
        }
    }

    /// Plans the plantings of one group: their ledgers, what is spread before them, their dressings.
    pub(super) fn take(
        &mut self,
        draft: &Draft<'_>,
        (day, members): &(Date, Vec<usize>),
        phosphate: &mut MineralBudget,
        potash: &mut MineralBudget,
    ) {
        let drawn: Vec<(Ledger, Split)> =
            members.iter().map(|at| self.draw_up(draft, *at)).collect();
        let fed: Vec<Fed<'_>> = members
            .iter()
            .zip(&drawn)
            .map(|(at, (ledger, split))| Fed {
                index: *at,
                life: &draft.lives[*at],
                area: &draft.areas[*at],
                starter: &split.starter,
                ceiling: ledger.ceiling.as_ref().map(Figure::value),
            })
            .collect();
        let fits = fits_before(draft, *day, members);
        let area = match members.as_slice() {
            [only] => draft.areas[*only].clone(),
            _ if members.len() == draft.areas.len() => planted_ground(draft),
            _ => Figure::total(members.iter().map(|at| &draft.areas[*at])).called("ground planted"),
        };
        let part = self.mineral_part(draft, members);
        let ground = area
            .ratio_to(&planted_ground(draft))
            .unwrap_or_else(|| Figure::fixed("all of it", Share::WHOLE, &rules::BEFORE_PLANTING));
        let phosphate_here = phosphate.of_ground(part.as_ref(), &ground);
        let potash_here = potash.of_ground(part.as_ref(), &ground);
        let area_value = area.value();
        let event = Event {
            setting: draft.setting,
            date: *day,
            area,
            plantings: fed,
            phosphate: phosphate_here.clone(),
            potash: potash_here.clone(),
            needs: Npk {
                nitrogen: drawn.iter().map(|(_, split)| split.starter.value()).sum(),
                phosphate: phosphate.need.value(),
                potash: potash.need.value(),
            },
            low_in_phosphorus: draft.soil.low_in_phosphorus(),
            manure_nitrogen: on_part(self.manure_nitrogen, area_value, draft.bed_area.value()),
            materials: if fits { &draft.feeds.before } else { &[] },
        };
        self.minerals_given |= fits && part.is_some();
        let result = spread(&event);
        phosphate.count(&phosphate_here, &result.room.phosphate);
        potash.count(&potash_here, &result.room.potash);
        self.notes.extend(result.notes);
        self.manure_nitrogen += result
            .doses
            .iter()
            .filter(|dose| {
                let kind = dose.ready.stuff.material.kind;
                matches!(kind, MaterialKind::Manure | MaterialKind::PoultryManure)
            })
            .map(|dose| dose.brings.nitrogen.value())
            .sum();
        self.doses.extend(result.doses);
        let short = Npk {
            nitrogen: true,
            phosphate: phosphate.still_short.value() > Mass::ZERO,
            potash: potash.still_short.value() > Mass::ZERO,
        };
        for (at, (ledger, split)) in members.iter().zip(drawn) {
            let before = self.doses.len();
            self.dress(draft, *at, ledger, split, &short);
            for dose in self.doses[before..].iter().filter(|dose| dose.certain()) {
                phosphate.take(&dose.brings.phosphate);
                potash.take(&dose.brings.potash);
            }
        }
    }

    /// The part of the phosphate and potash still short that these plantings are fed with: that of
    /// the ground on which they are the first of the year; nothing where they follow others.
    fn mineral_part(&mut self, draft: &Draft<'_>, members: &[usize]) -> Option<Figure<Share>> {
        let first = |strip: &&Strip| strip.plantings.first().is_some_and(|at| members.contains(at));
        let here: Area = draft.strips.iter().filter(first).map(|strip| strip.area).sum();
        let open = draft.strips.iter().filter(|strip| !strip.plantings.is_empty());
        let whole: Area = open.map(|strip| strip.area).sum::<Area>() - self.ground_fed;
        self.ground_fed += here;
        if draft.container {
            return Some(Figure::fixed("all of it", Share::WHOLE, &rules::BEFORE_PLANTING));
        }
        if here <= Area::ZERO {
            return None;
        }
        let here = Figure::fixed("ground they are the first on", here, &rules::PLANTING_AREA);
        let whole = Figure::fixed("ground still to be fed", whole, &rules::PLANTING_AREA);
        here.ratio_to(&whole).map(|part| part.called("part of the ground"))
    }

    /// Draws up the ledger of a planting and splits what is planned.
    fn draw_up(&self, draft: &Draft<'_>, at: usize) -> (Ledger, Split) {
        let plot = self.plot(draft, at);
        let predecessors: Vec<usize> =
            ground::predecessors(&draft.strips, at).iter().map(|(before, _)| *before).collect();
        let more = earlier_doses(&plot, &predecessors, &self.doses);
        let ledger = ledger(&plot, more);
        let days = open_days(draft, at);
        let nitrogen = |list: &[crate::engine::dose::Ready]| {
            list.iter().any(|ready| ready.carries(Nutrient::Nitrogen))
        };
        let split =
            split(&plot, &ledger, days, nitrogen(&draft.feeds.before), nitrogen(&draft.feeds.side));
        (ledger, split)
    }

    fn plot<'b>(&self, draft: &'b Draft<'b>, at: usize) -> Plot<'b> {
        let before = ground::predecessors(&draft.strips, at)
            .into_iter()
            .map(|(index, taken_over)| Before {
                planting: &draft.bed.plantings[index],
                life: draft.lives[index],
                area: draft.areas[index].clone(),
                taken_over,
                unused: self.unused(index),
            })
            .collect();
        let (need, rate) = &draft.needs[at];
        Plot {
            setting: draft.setting,
            bed: draft.bed,
            bed_area: &draft.bed_area,
            soil: &draft.soil,
            amendments: &draft.amendments,
            index: at,
            planting: &draft.bed.plantings[at],
            life: draft.lives[at],
            area: draft.areas[at].clone(),
            before,
            fresh: ground::fresh(&draft.strips, at),
            basis: rate.as_ref().map_or(Basis::Container, |rate| rate.basis),
            need,
        }
    }

    /// What a planting leaves unused: credits and doses beyond its need, on the supply basis.
    fn unused(&self, at: usize) -> Option<Figure<Mass>> {
        let plan = self.plans[at].as_ref().filter(|plan| plan.basis == Basis::Supply)?;
        let found = (&plan.credit + &plan.given).called("credits and doses");
        Some((&found - &plan.need).at_least_zero().by("left unused", &rules::NITRATE_LEFT))
    }

    fn dress(
        &mut self,
        draft: &Draft<'_>,
        at: usize,
        ledger: Ledger,
        split: Split,
        short: &Npk<bool>,
    ) {
        let planting = &draft.bed.plantings[at];
        let before: Vec<&Figure<Mass>> = self.counted(at);
        let before = Figure::total(before).called("given before planting");
        let held = split.held_back.as_ref();
        let rest = (&ledger.planned - &before).at_least_zero();
        let rest = match held {
            Some(held) => (&rest - held).at_least_zero(),
            None => rest,
        }
        .by("still planned", &rules::SIDE_DRESSING);
        // The little that weighing leaves is not chased with a dressing of its own.
        let planned = ledger.planned.value().base();
        let all_before = split.starter.value().base() >= planned * Decimal::new(99, 2);
        let trifle = if all_before && !before.is_zero() {
            planned * Decimal::new(1, 1)
        } else {
            ledger.need.value().base() * Decimal::new(3, 2)
        };
        let settled = rest.value().base() <= trifle;
        let measure = split.measure_first.then(|| critical::level(&planting.crop.value, false));
        let dressed = Dressed {
            setting: draft.setting,
            index: at,
            planting,
            life: &draft.lives[at],
            area: &draft.areas[at],
            nitrogen: rest,
            ceiling: ledger.ceiling.as_ref().map(|ceiling| (ceiling - &before).at_least_zero()),
            days: if settled { Vec::new() } else { split.days.clone() },
            materials: draft.trial_material(at).unwrap_or(&draft.feeds.side),
            short: *short,
            measure,
            mix: draft.container.then(|| area::container_volume(draft.bed)).flatten(),
        };
        let dressings = self.dressings(draft, &dressed, &ledger, &split);
        self.notes.extend(dressings.notes);
        self.doses.extend(dressings.doses);
        let given = Figure::total(self.counted(at)).called("given by doses");
        let not_given = if split.measure_first {
            Figure::fixed("not given", Mass::ZERO, &rules::MEASURE_FIRST)
        } else {
            dressings.not_given
        };
        let area = (!draft.container || draft.areas[at].value() > Area::ZERO)
            .then(|| draft.areas[at].clone());
        let (_, rate) = &draft.needs[at];
        let ceiling_left =
            ledger.ceiling.as_ref().map(|ceiling| (ceiling - &given).at_least_zero());
        let after_harvest = self.after_harvest(draft, at, short, ceiling_left);
        let shortage = self.schedule.and_then(|schedule| schedule.get(&at)?.shortage.clone());
        self.plans[at] = Some(PlantingPlan {
            shortage,
            changes: Vec::new(),
            index: at,
            crop: planting.crop.value.clone(),
            slug: planting.slug.clone(),
            plants: area::plants(planting, &draft.areas[at]),
            row_length: area::row_length(planting, &draft.areas[at]),
            area,
            life: draft.lives[at],
            basis: rate.as_ref().map_or(Basis::Container, |rate| rate.basis),
            need_rate: rate.as_ref().map(|rate| rate.rate.clone()),
            yield_used: rate.as_ref().and_then(|rate| rate.yield_used.clone()),
            need: ledger.need,
            after_harvest,
            already_taken: ledger.already_taken,
            credits: ledger.credits,
            credit: ledger.credit,
            shortfall: ledger.shortfall,
            surplus: ledger.surplus,
            ceiling: ledger.ceiling,
            planned: ledger.planned,
            not_planned: ledger.not_planned,
            starter: split.starter,
            measure_first: split.measure_first,
            held_back: split.held_back,
            given,
            not_given,
        });
    }

    /// Nitrogen of the certain doses so far that counts for a planting.
    fn counted(&self, at: usize) -> Vec<&Figure<Mass>> {
        let certain = self.doses.iter().filter(|dose| dose.certain());
        certain
            .flat_map(|dose| &dose.counts)
            .filter(|(one, _)| *one == at)
            .map(|(_, figure)| figure)
            .collect()
    }
}

/// The part of what was spread on a whole bed that lies on some of its ground.
fn on_part(whole: Mass, ground: Area, bed: Area) -> Mass {
    Positive::new(bed).map_or(whole, |bed| whole * (ground / bed))
}
