//! The course of a bed's year: plantings one after another, each with its ledger, what is spread
//! before it and its dressings.

use rust_decimal::Decimal;

use crate::calendar::Date;
use crate::catalogue::MaterialKind;
use crate::engine::area;
use crate::engine::credit::{Before, Plot, earlier_doses};
use crate::engine::dose::Dose;
use crate::engine::dose::before::{Event, Fed, spread};
use crate::engine::dose::dress::{self, Dressed, Dressings};
use crate::engine::ground::{self};
use crate::engine::life::Life;
use crate::engine::need::Basis;
use crate::engine::rules;
use crate::engine::timeline::Timeline;
use crate::figure::Figure;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{Area, Concentration, Mass};
use crate::season::Planting;

use super::bed::{Draft, planted_ground};
use super::minerals::MineralBudget;
use super::planting::{Ledger, PlantingPlan, Split, ledger, split};
use super::solved;
use super::solved::{Request, Schedule};

/// Soil nitrate below which a dressing is given where the crop has no published level, in ppm.
const USUAL_CRITICAL_PPM: i64 = 25;

/// Days after planting before which heading brassicas are not side-dressed.
const HEADING_FIRST_DAY: i32 = 21;

/// What has been planned of a bed so far, in the order of planting.
pub(super) struct Course<'a> {
    schedule: Option<&'a Schedule>,
    pub(super) requests: Vec<Request>,
    pub(super) doses: Vec<Dose>,
    pub(super) plans: Vec<Option<PlantingPlan>>,
    pub(super) notes: Vec<String>,
    manure_nitrogen: Mass,
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
        }
    }

    /// Plans the plantings of one group: their ledgers, what is spread before them, their dressings.
    pub(super) fn take(
        &mut self,
        draft: &Draft<'_>,
        first: bool,
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
        let area = if first {
            planted_ground(draft)
        } else if let [only] = members.as_slice() {
            draft.areas[*only].clone()
        } else {
            Figure::total(members.iter().map(|at| &draft.areas[*at])).called("ground planted")
        };
        let event = Event {
            setting: draft.setting,
            date: *day,
            area,
            plantings: fed,
            phosphate: phosphate.still_short.clone(),
            potash: potash.still_short.clone(),
            needs: Npk {
                nitrogen: drawn.iter().map(|(_, split)| split.starter.value()).sum(),
                phosphate: phosphate.need.value(),
                potash: potash.need.value(),
            },
            low_in_phosphorus: draft.soil.low_in_phosphorus(),
            manure_nitrogen: self.manure_nitrogen,
            materials: &draft.feeds.before,
        };
        let result = spread(&event);
        phosphate.still_short = result.short.phosphate.clone();
        potash.still_short = result.short.potash.clone();
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
            self.dress(draft, *at, ledger, split, &short);
        }
    }

    /// Draws up the ledger of a planting and splits what is planned.
    fn draw_up(&self, draft: &Draft<'_>, at: usize) -> (Ledger, Split) {
        let plot = self.plot(draft, at);
        let predecessors: Vec<usize> =
            ground::predecessors(&draft.strips, at).iter().map(|(before, _)| *before).collect();
        let more = earlier_doses(&plot, &predecessors, &self.doses);
        let ledger = ledger(&plot, more);
        let planting = &draft.bed.plantings[at];
        let mut days = dress::days(
            draft.setting,
            planting,
            &draft.lives[at],
            draft.soil.texture,
            draft.container,
        );
        if let Some(today) = draft.setting.today {
            days.retain(|day| *day >= today);
        }
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
        let all_before = split.starter.value() == ledger.planned.value() && !before.is_zero();
        let trifle = match all_before {
            true => ledger.planned.value().base() * Decimal::new(1, 1),
            false => ledger.need.value().base() * Decimal::new(3, 2),
        };
        let settled = rest.value().base() <= trifle;
        let measure = split.measure_first.then(|| critical(planting));
        let dressed = Dressed {
            setting: draft.setting,
            index: at,
            planting,
            life: &draft.lives[at],
            area: &draft.areas[at],
            nitrogen: rest,
            ceiling: ledger.ceiling.as_ref().map(|ceiling| (ceiling - &before).at_least_zero()),
            days: if settled { Vec::new() } else { split.days.clone() },
            materials: &draft.feeds.side,
            short: *short,
            measure,
            mix: draft.container.then(|| area::container_volume(draft.bed)).flatten(),
        };
        let dressings = self.dressings(draft, &dressed, &ledger, &split);
        self.notes.extend(dressings.notes);
        self.doses.extend(dressings.doses);
        let given = Figure::total(self.counted(at)).called("given by doses");
        let not_given = if split.measure_first || settled {
            Figure::fixed("not given", Mass::ZERO, &rules::MEASURE_FIRST)
        } else {
            dressings.not_given
        };
        let area = (!draft.container || draft.areas[at].value() > Area::ZERO)
            .then(|| draft.areas[at].clone());
        let (_, rate) = &draft.needs[at];
        let after_harvest = self.dress_after_harvest(draft, at, short);
        let shortage = self.schedule.and_then(|schedule| schedule.get(&at)?.shortage.clone());
        self.plans[at] = Some(PlantingPlan {
            shortage,
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

    /// Dresses a perennial after its harvest, for the next year's growth: its second window. What
    /// counts of it is not counted towards this year's budget. Returns what it must find then.
    fn dress_after_harvest(
        &mut self,
        draft: &Draft<'_>,
        at: usize,
        short: &Npk<bool>,
    ) -> Option<Figure<Mass>> {
        let planting = &draft.bed.plantings[at];
        let row = planting.supply_after_harvest().filter(|_| !draft.container)?;
        let crop = &planting.crop.value;
        let rate =
            Figure::listed("demand after harvest", row.nitrogen, "crops", &crop.name, &row.source);
        let need = (&rate * &draft.areas[at]).by("need after harvest", &rules::SUPPLY_NEED);
        let end = draft.lives[at].end;
        let rest_of_year = draft.setting.year_end();
        let life = Life {
            planted: end + 1,
            harvest: rest_of_year,
            end: rest_of_year,
            regrowth: None,
            end_assumed: false,
        };
        let first = draft.setting.today.map_or(end + 1, |today| today.max(end + 1));
        let dressed = Dressed {
            setting: draft.setting,
            index: at,
            planting,
            life: &life,
            area: &draft.areas[at],
            nitrogen: need.clone(),
            ceiling: None,
            days: vec![first.next_on_or_after(draft.setting.visit_day())],
            materials: &draft.feeds.side,
            short: *short,
            measure: None,
            mix: None,
        };
        let mut dressings = dress::by_weeks(&dressed);
        for dose in &mut dressings.doses {
            dose.counts.clear();
        }
        self.doses.extend(dressings.doses);
        Some(need)
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
        let solvable =
            draft.solved && !split.measure_first && !draft.container && !split.days.is_empty();
        let ready = dress::material(dressed.materials, &dressed.short)
            .filter(|_| solvable && dressed.nitrogen.value() > Mass::ZERO);
        let Some(ready) = ready else { return dress::by_weeks(dressed) };
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
        let given = Timeline::of(climate, crop, dressed.life, Mass::ZERO, &[], &doses).doses;
        // Nothing is dressed beside a crop on the day it is planted.
        let wait = match dressed.life.regrowth {
            _ if crop.heading => HEADING_FIRST_DAY,
            Some(_) => 0,
            None => 1,
        };
        let first = dressed.life.start() + wait;
        self.requests.push(solved::request(draft.index, dressed, ready, ledger, &given, first));
        match self.schedule.and_then(|schedule| schedule.get(&at)) {
            Some(turn) => dress::by_schedule(dressed, ready, &turn.doses),
            // What a crop leaves to the one that follows is first reckoned from the published weeks.
            None if draft.setting.compare || draft.lives.len() > 1 => dress::by_weeks(dressed),
            None => Dressings::nothing(&dressed.nitrogen),
        }
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

/// The soil nitrate below which a crop is dressed.
fn critical(planting: &Planting) -> Figure<Concentration> {
    let crop = &planting.crop.value;
    match &crop.nitrate_test {
        Some(test) => Figure::listed(
            "critical soil nitrate",
            test.critical,
            "crops",
            &crop.name,
            &test.source,
        ),
        None => Figure::fixed(
            "critical soil nitrate",
            Concentration::from_ppm(USUAL_CRITICAL_PPM.into()),
            &rules::MEASURE_FIRST,
        ),
    }
}
