//! Every way to feed a bed where the program is to choose its materials.

use rust_decimal::Decimal;

use crate::calendar::Date;
use crate::catalogue::Class;
use crate::engine::dose::before::Event;
use crate::engine::dose::dress::{self, Dressed};
use crate::engine::dose::recipes::{Recipe, recipes};
use crate::engine::dose::{Dose, Ready};
use crate::engine::side_dress::Shortage;
use crate::engine::trifle;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{Mass, Positive, share_from_float};

use super::bed::Draft;
use super::cautions::raw_manure_days;
use super::choice::{Found, Lacking, Slot, Surveyed, portions};
use super::course::Course;
use super::minerals::MineralBudget;
use super::planting::{Ledger, Split};
use super::solved;

impl Course<'_> {
    /// Looks for the ways to feed a bed before planting.
    pub(super) fn survey_before(&mut self, draft: &Draft<'_>, slot: Slot, event: &Event<'_>) {
        let way = |recipe: Recipe| Found {
            portions: portions(&recipe.spread.doses),
            lacking: Lacking { days: 0, share: recipe.lacking, minerals: Decimal::ZERO },
            left: recipe.left,
            brings: brought(&recipe.spread.doses),
            recipe: recipe.materials,
        };
        let suits = |ready: &Ready| !ready.is_raw_manure() || may_lie(draft, event.date);
        let ways = recipes(event, &draft.feeds.before, &suits).into_iter().map(way).collect();
        let enough = enough_phosphorus(draft).then(|| event.phosphate.short.value());
        self.open.push(Surveyed { slot, certain: true, needs: event.needs, enough, ways });
    }

    /// Looks for the materials that a planting can be side-dressed with: each as if it had the garden
    /// to itself.
    pub(super) fn survey_side(
        &mut self,
        draft: &Draft<'_>,
        slot: Slot,
        dressed: &Dressed<'_>,
        (ledger, split): (&Ledger, &Split),
        (phosphate, potash): (&MineralBudget, &MineralBudget),
    ) {
        let all = &draft.feeds.side;
        let carrying = (0..all.len()).filter(|at| all[*at].carries(Nutrient::Nitrogen));
        let short = Npk {
            nitrogen: Mass::ZERO,
            phosphate: phosphate.still_short.value(),
            potash: potash.still_short.value(),
        };
        let way = |at: usize| {
            let materials: &[Ready] = &all[at..=at];
            let trial = Dressed { materials, ..dressed.clone() };
            let (dressings, shortage) = match self.request(draft, &trial, ledger, split) {
                Some((ready, request)) => {
                    let turn = solved::alone(draft.setting, &request);
                    (dress::by_schedule(&trial, ready, &turn.doses), turn.shortage)
                }
                None => (dress::by_weeks(&trial), None),
            };
            let need = ledger.need.value();
            let mut doses = dressings.doses;
            let settled = dressed.days.is_empty();
            let left = if settled { Mass::ZERO } else { dressings.not_given.value() };
            let mut share = above_trifle(left, need);
            let later = self.second_window(
                draft,
                slot.planting,
                &dressed.short,
                dressed.ceiling.clone(),
                materials,
            );
            if let Some((_, later)) = later {
                // What is wanted after harvest and cannot be given with this.
                share += Decimal::from(u8::from(later.is_empty()));
                doses.extend(later);
            }
            let brings = brought(&doses);
            Found {
                recipe: vec![at],
                portions: portions(&doses),
                lacking: Lacking {
                    days: days_short(shortage.as_ref(), need),
                    share,
                    minerals: Decimal::ZERO,
                },
                left: Npk::from_fn(|one| (short[one] - brings[one]).at_least(Mass::ZERO)),
                brings,
            }
        };
        let ways: Vec<Found> = carrying.map(way).collect();
        if ways.iter().any(|way| !way.portions.is_empty()) {
            let needs = Npk {
                nitrogen: ledger.need.value(),
                phosphate: phosphate.need.value(),
                potash: potash.need.value(),
            };
            let enough = enough_phosphorus(draft).then_some(short.phosphate);
            let certain = dressed.measure.is_none();
            self.open.push(Surveyed { slot, certain, needs, enough, ways });
        }
    }
}

/// Whether raw manure may be spread on a day: long enough before every harvest to come.
fn may_lie(draft: &Draft<'_>, on: Date) -> bool {
    let plantings = draft.bed.plantings.iter().zip(&draft.lives);
    plantings.into_iter().all(|(planting, life)| {
        on > life.end || life.harvest - on >= raw_manure_days(&planting.crop.value)
    })
}

/// What doses bring in all.
fn brought(doses: &[Dose]) -> Npk<Mass> {
    Npk::from_fn(|nutrient| doses.iter().map(|dose| dose.brings[nutrient].value()).sum())
}

/// Whether the soil has phosphorus enough: tested at target or above, or long fed with compost.
fn enough_phosphorus(draft: &Draft<'_>) -> bool {
    match &draft.soil.phosphorus {
        Some(worded) => worded.class >= Class::Target,
        None => draft.soil.long_fed,
    }
}

/// The share of a need that is left, or more than it; what weighing leaves is nothing.
pub(super) fn above_trifle(left: Mass, need: Mass) -> Decimal {
    if left <= Mass::ZERO {
        return Decimal::ZERO;
    }
    let share = Positive::new(need).map_or(Decimal::ONE, |need| (left / need).fraction());
    if share <= trifle::SHARE { Decimal::ZERO } else { share }
}

/// Days on which a planting is short by more than a trifle, whatever it is given.
pub(super) fn days_short(shortage: Option<&Shortage>, need: Mass) -> usize {
    let worst =
        |one: &&Shortage| !above_trifle(Mass::from_kg(share_from_float(one.worst)), need).is_zero();
    shortage.filter(worst).map_or(0, |one| one.days)
}
