//! A perennial's second window: fed after its harvest for the next year's growth.

use super::bed::Draft;
use super::course::Course;
use super::open::LATE_DAYS;
use crate::engine::credit::released_share;
use crate::engine::dose::dress::{self, Dressed};
use crate::engine::dose::{Dose, Ready};
use crate::engine::life::Life;
use crate::engine::rules;
use crate::engine::trifle;
use crate::figure::Figure;
use crate::nutrient::Npk;
use crate::quantity::Mass;

impl Course<'_> {
    /// Dresses a perennial after its harvest, for the next year's growth: its second window. What
    /// counts of it is not counted towards this year's budget, but is kept with it under the
    /// ceiling, of which so much is left. Returns what it must find then.
    pub(super) fn after_harvest(
        &mut self,
        draft: &Draft<'_>,
        at: usize,
        short: &Npk<bool>,
        ceiling: Option<Figure<Mass>>,
        materials: &[Ready],
    ) -> Option<Figure<Mass>> {
        let (need, doses) = self.second_window(draft, at, short, ceiling, materials)?;
        self.doses.extend(doses);
        Some(need)
    }

    /// What a perennial must find after its harvest, and the doses that give it.
    pub(super) fn second_window(
        &self,
        draft: &Draft<'_>,
        at: usize,
        short: &Npk<bool>,
        ceiling: Option<Figure<Mass>>,
        materials: &[Ready],
    ) -> Option<(Figure<Mass>, Vec<Dose>)> {
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
        let window = end + 1;
        let first = draft.setting.today.map_or(window, |today| today.max(window));
        if first > window + LATE_DAYS {
            return Some((need, Vec::new()));
        }
        let spread: Vec<Figure<Mass>> = draft
            .amendments
            .iter()
            .filter(|one| one.on > end && one.planting.is_none_or(|planting| planting == at))
            .filter_map(|one| {
                let all = one.weight.as_ref()? * &one.content.shares.nitrogen;
                let typical = &one.content.release.typical;
                let share = released_share(
                    draft.setting,
                    &one.content,
                    typical,
                    one.on,
                    one.on - 1,
                    rest_of_year,
                );
                Some((&all * &share).called(one.label.clone()))
            })
            .collect();
        let given = Figure::total(&spread).called("spread since");
        let wanted = (&need - &given).at_least_zero().called("still wanted after harvest");
        if wanted.value() <= trifle::of(need.value()) {
            return Some((need, Vec::new()));
        }
        let day = first.next_on_or_after(draft.setting.visit_day());
        let dressed = Dressed {
            setting: draft.setting,
            index: at,
            planting,
            life: &life,
            area: &draft.areas[at],
            nitrogen: wanted,
            ceiling,
            days: vec![day],
            first: day,
            materials,
            short: *short,
            measure: None,
            mix: None,
        };
        let mut dressings = dress::by_weeks(&dressed);
        for dose in &mut dressings.doses {
            dose.counts.clear();
        }
        Some((need, dressings.doses))
    }
}
