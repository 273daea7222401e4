//! What a planting is side-dressed with: as solved for the whole garden, or by the published weeks.

use std::borrow::Cow;

use rust_decimal::Decimal;

use crate::calendar::Date;
use crate::engine::area;
use crate::engine::critical;
use crate::engine::dose::dress::{self, Dressed, Dressings};
use crate::engine::dose::{Dose, Purpose, Ready};
use crate::engine::need::Basis;
use crate::engine::rules;
use crate::engine::timeline;
use crate::engine::trifle;
use crate::figure::Figure;
use crate::nutrient::Npk;
use crate::quantity::{Area, Mass};

use super::bed::Draft;
use super::choice::Slot;
use super::course::Course;
use super::minerals::MineralBudget;
use super::open::{carried_out, closed};
use super::planting::{Ledger, PlantingPlan, Split};
use super::solved::{self, Asked, Request};

/// Days after planting before which heading brassicas are not side-dressed.
const HEADING_FIRST_DAY: i32 = 21;
/// Days after planting before which other crops get no dressing besides those of the published weeks
/// (proposed): the first week is for taking root.
const ADDED_FIRST_DAY: i32 = 7;

impl Course<'_> {
    /// Dresses a planting, and puts its plan together.
    pub(super) fn dress(
        &mut self,
        draft: &Draft<'_>,
        at: usize,
        (ledger, split): (&Ledger, &Split),
        short: &Npk<bool>,
        minerals: (&MineralBudget, &MineralBudget),
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
            trifle::of(ledger.need.value()).base()
        };
        let settled = rest.value().base() <= trifle;
        let slot = Slot { bed: draft.index, purpose: Purpose::SideDress, planting: at };
        let listed = match self.asked.trial_material(at) {
            Some(tried) => Cow::Borrowed(tried),
            None => self.materials(slot, &draft.feeds.side, draft.feeds.choose_side),
        };
        let measure = split.measure_first.then(|| critical::level(&planting.crop.value, false));
        let dressed = Dressed {
            setting: draft.setting,
            index: at,
            planting,
            life: &draft.lives[at],
            area: &draft.areas[at],
            nitrogen: rest,
            ceiling: ledger.ceiling.as_ref().map(|ceiling| (ceiling - &before).at_least_zero()),
            days: if settled || carried_out(draft, at) { Vec::new() } else { split.days.clone() },
            first: first_added(draft, at, split.cancelled),
            materials: &listed,
            short: *short,
            measure,
            mix: draft.container.then(|| area::container_volume(draft.bed)).flatten(),
        };
        if self.only_asks {
            let request = self.request(draft, &dressed, ledger, split);
            self.requests.extend(request.map(|(_, request)| request));
            return;
        }
        if self.asked.survey && draft.feeds.choose_side {
            self.survey_side(draft, slot, &dressed, (ledger, split), minerals);
        }
        let dressings = self.dressings(draft, &dressed, ledger, split);
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
        let after_harvest = self.after_harvest(draft, at, short, ceiling_left, &listed);
        let shortage = self.asked.schedule.and_then(|schedule| schedule.get(&at)?.shortage.clone());
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
            need: ledger.need.clone(),
            after_harvest,
            already_taken: ledger.already_taken.clone(),
            credits: ledger.credits.clone(),
            credit: ledger.credit.clone(),
            shortfall: ledger.shortfall.clone(),
            surplus: ledger.surplus.clone(),
            ceiling: ledger.ceiling.clone(),
            planned: ledger.planned.clone(),
            not_planned: ledger.not_planned.clone(),
            starter: split.starter.clone(),
            measure_first: split.measure_first,
            held_back: split.held_back.clone(),
            given,
            not_given,
        });
    }

    /// The dressings of a planting: as solved, or by the published weeks where they wait for a
    /// measurement, stand in containers, or the grower wants them so.
    fn dressings(
        &mut self,
        draft: &Draft<'_>,
        dressed: &Dressed<'_>,
        ledger: &Ledger,
        split: &Split,
    ) -> Dressings {
        let asked = match self.known {
            Some(known) => known
                .iter()
                .find(|request| request.planting == dressed.index)
                .and_then(|one| Some((dress::material(dressed.materials, &dressed.short)?, one)))
                .map(|(ready, request)| (ready, request.clone())),
            None => self.request(draft, dressed, ledger, split),
        };
        let Some((ready, request)) = asked else {
            return dress::by_weeks(dressed);
        };
        self.requests.push(request);
        match self.asked.schedule.and_then(|schedule| schedule.get(&dressed.index)) {
            Some(turn) => dress::by_schedule(dressed, ready, &turn.doses),
            // What a crop leaves to the one that follows is first reckoned from the published weeks.
            None if draft.setting.compare || draft.lives.len() > 1 => dress::by_weeks(dressed),
            None => Dressings::nothing(&dressed.nitrogen),
        }
    }

    /// What a planting asks of the solved plan, and of which material; nothing where it is dressed by
    /// the published weeks.
    pub(super) fn request<'b>(
        &self,
        draft: &Draft<'_>,
        dressed: &Dressed<'b>,
        ledger: &Ledger,
        split: &Split,
    ) -> Option<(&'b Ready, Request)> {
        let solvable =
            draft.solved && !split.measure_first && !draft.container && !dressed.days.is_empty();
        let ready = dress::material(dressed.materials, &dressed.short)
            .filter(|_| solvable && dressed.nitrogen.value() > Mass::ZERO);
        let ready = ready?;
        let at = dressed.index;
        let crop = &dressed.planting.crop.value;
        let doses: Vec<(&Dose, &Figure<Mass>)> = self
            .doses
            .iter()
            .flat_map(|dose| dose.counts.iter().map(move |(one, counts)| (one, dose, counts)))
            .filter(|(one, ..)| **one == at)
            .map(|(_, dose, counts)| (dose, counts))
            .collect();
        let climate = &draft.setting.climate;
        let by_day = |(dose, counts): &(&Dose, &Figure<Mass>)| {
            timeline::dosed(climate, dressed.life, dose, counts.value())
        };
        let given: Vec<Vec<f64>> = doses.iter().map(by_day).collect();
        // Nothing is dressed beside a crop on the day it is planted.
        let wait = match dressed.life.regrowth {
            _ if crop.heading => HEADING_FIRST_DAY,
            Some(_) => 0,
            None => 1,
        };
        let usual = dressed.life.start() + wait;
        let open = |day: Date| closed(draft, at).map_or(day, |closed| day.max(closed + 1));
        let asked = Asked {
            bed: draft.index,
            first: open(usual),
            // Once something was given before planting, nothing more is worked in on that day.
            earliest: open(dressed.life.start() + i32::from(!doses.is_empty())),
            trial: self.asked.trial,
        };
        let request = solved::request(&asked, dressed, ready, ledger, given);
        Some((ready, request))
    }
}

/// The first day on which a dressing may be added to those of the published weeks: not soon after
/// planting, before regrowth, on a day that is closed, or up to the dressing that a nitrate test
/// cancelled.
fn first_added(draft: &Draft<'_>, at: usize, cancelled: Option<Date>) -> Date {
    let (planting, life) = (&draft.bed.plantings[at], &draft.lives[at]);
    let stood_before = planting.year_of_stand.is_some_and(|year| year.value > 1);
    let wait = match planting.crop.value.heading {
        _ if stood_before => 0,
        true => HEADING_FIRST_DAY,
        false => ADDED_FIRST_DAY,
    };
    let rooted = (planting.planted.value + wait).max(life.start());
    let past = [closed(draft, at), cancelled].into_iter().flatten().max();
    past.map_or(rooted, |past| rooted.max(past + 1))
}
