//! The course of a bed's year: plantings one after another, each with its ledger, what is spread
//! before it and its dressings.

use std::borrow::Cow;

use crate::calendar::Date;
use crate::engine::content::phosphate_available;
use crate::engine::credit::{Before, Plot, earlier_doses};
use crate::engine::dose::before::{Event, Fed, spread};
use crate::engine::dose::{Dose, Purpose, Ready};
use crate::engine::ground::{self, Strip};
use crate::engine::need::Basis;
use crate::engine::rules;
use crate::figure::Figure;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{Area, Mass, Positive, Share};

use super::bed::{Draft, Manner, planted_ground};
use super::choice::{Slot, Surveyed, pick};
use super::minerals::MineralBudget;
use super::open::{carried_out, fits_before, open_days};
use super::planting::{Ledger, PlantingPlan, Split, ledger, split};
use super::solved::Request;

/// What has been planned of a bed so far, in the order of planting.
#[derive(Clone)]
pub(super) struct Course<'a> {
    pub(super) asked: Manner<'a>,
    /// What its plantings ask of the solved plan, where that is known from before.
    pub(super) known: Option<&'a [Request]>,
    /// Whether dressings are only asked for, and not planned.
    pub(super) only_asks: bool,
    pub(super) requests: Vec<Request>,
    pub(super) doses: Vec<Dose>,
    pub(super) plans: Vec<Option<PlantingPlan>>,
    pub(super) notes: Vec<String>,
    /// Nitrogen of manure that the season file says is spread on the whole bed.
    manure_amended: Mass,
    /// Nitrogen of manure dosed before plantings.
    manure_dosed: Vec<(Vec<usize>, Mass)>,
    /// Whether the year's phosphate and potash have had their day.
    pub(super) minerals_given: bool,
    /// Ground whose phosphate and potash have been looked after.
    ground_fed: Area,
    /// The ways found where the program is to choose, where that was asked.
    pub(super) open: Vec<Surveyed>,
}

/// Plantings of one group that have been fed before planting and wait for their dressings.
pub(super) struct Waiting {
    drawn: Vec<(usize, Ledger, Split)>,
    short: Npk<bool>,
}

impl<'a> Course<'a> {
    pub(super) fn new(draft: &Draft<'_>, asked: Manner<'a>) -> Self {
        let manure = draft.amendments.iter().filter(|one| one.stuff.material.kind.is_manure());
        let nitrogen = manure
            .filter_map(|one| {
                Some(one.weight.as_ref()?.value() * one.content.shares.nitrogen.value())
            })
            .sum();
        Self {
            asked,
            known: None,
            only_asks: false,
            requests: Vec::new(),
            doses: Vec::new(),
            plans: vec![None; draft.lives.len()],
            notes: Vec::new(),
            manure_amended: nitrogen,
            manure_dosed: Vec::new(),
            minerals_given: false,
            ground_fed: Area::ZERO,
            open: Vec::new(),
        }
    }

    /// Plans the plantings of one group up to their dressings: their ledgers, what is spread before
    /// them.
    pub(super) fn feed(
        &mut self,
        draft: &Draft<'_>,
        (day, members): &(Date, Vec<usize>),
        phosphate: &mut MineralBudget,
        potash: &mut MineralBudget,
    ) -> Waiting {
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
        let slot = Slot {
            bed: draft.index,
            purpose: Purpose::BeforePlanting,
            planting: members.first().copied().unwrap_or(0),
        };
        let feeds = fits && !members.iter().all(|at| carried_out(draft, *at));
        let listed = self.materials(slot, &draft.feeds.before, draft.feeds.choose_before);
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
            manure_nitrogen: self.manure_on(draft, members, area_value),
            materials: if feeds { &listed } else { &[] },
        };
        self.minerals_given |= fits && part.is_some();
        if self.asked.survey && draft.feeds.choose_before && fits {
            self.survey_before(draft, slot, &event);
        }
        let result = spread(&event);
        phosphate.count(&phosphate_here, &result.room.phosphate);
        potash.count(&potash_here, &result.room.potash);
        self.notes.extend(result.notes);
        let manures = result.doses.iter().filter(|dose| dose.ready.stuff.material.kind.is_manure());
        let manure = manures.map(|dose| dose.brings.nitrogen.value()).sum();
        self.manure_dosed.push((members.clone(), manure));
        self.doses.extend(result.doses);
        let short = Npk {
            nitrogen: true,
            phosphate: phosphate.still_short.value() > Mass::ZERO,
            potash: potash.still_short.value() > Mass::ZERO,
        };
        let drawn = members.iter().zip(drawn);
        let drawn = drawn.map(|(at, (ledger, split))| (*at, ledger, split)).collect();
        Waiting { drawn, short }
    }

    /// Dresses the plantings of a group that has been fed.
    pub(super) fn dress_all(
        &mut self,
        draft: &Draft<'_>,
        waiting: &Waiting,
        phosphate: &mut MineralBudget,
        potash: &mut MineralBudget,
    ) {
        for (at, ledger, split) in &waiting.drawn {
            let before = self.doses.len();
            self.dress(draft, *at, (ledger, split), &waiting.short, (phosphate, potash));
            for dose in self.doses[before..].iter().filter(|dose| dose.certain()) {
                let low = draft.soil.low_in_phosphorus();
                let brought = match phosphate_available(&dose.ready.stuff, low) {
                    Some(share) => {
                        (&dose.brings.phosphate * &share).called("P2O5 that counts this year")
                    }
                    None => dose.brings.phosphate.clone(),
                };
                phosphate.take(&brought);
                potash.take(&dose.brings.potash);
            }
        }
    }

    /// Nitrogen of manure that lies already on the ground of these plantings: of what was spread on
    /// the whole bed its part, and what was dosed on the same strips.
    fn manure_on(&self, draft: &Draft<'_>, members: &[usize], ground: Area) -> Mass {
        let bears =
            |strip: &Strip, group: &[usize]| strip.plantings.iter().any(|at| group.contains(at));
        let dosed = self.manure_dosed.iter().map(|(group, nitrogen)| {
            let theirs = draft.strips.iter().filter(|strip| bears(strip, group));
            let (all, shared) = theirs.fold((Area::ZERO, Area::ZERO), |(all, shared), strip| {
                let here = if bears(strip, members) { strip.area } else { Area::ZERO };
                (all + strip.area, shared + here)
            });
            on_part(*nitrogen, shared, all)
        });
        let dosed: Mass = dosed.sum();
        on_part(self.manure_amended, ground, draft.bed_area.value()) + dosed
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

    /// What a slot is fed with: all that is listed, or what was chosen of it.
    pub(super) fn materials<'b>(
        &self,
        slot: Slot,
        all: &'b [Ready],
        chosen: bool,
    ) -> Cow<'b, [Ready]> {
        let recipe = self.asked.choices.and_then(|choices| choices.get(&slot));
        match recipe.filter(|_| chosen) {
            Some(recipe) => Cow::Owned(pick(all, recipe)),
            None => Cow::Borrowed(all),
        }
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

    /// Nitrogen of the certain doses so far that counts for a planting.
    pub(super) fn counted(&self, at: usize) -> Vec<&Figure<Mass>> {
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
