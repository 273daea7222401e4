//! The caps of one planting's dressings, for the many days that a solver looks at.

use std::cell::Cell;

use super::before::QUICK_DAYS;
use super::cap;
use super::dress::Dressed;
use super::{Ready, weighing_step};
use crate::calendar::Date;
use crate::engine::release::Run;
use crate::quantity::{Mass, floor_to, share_from_float, to_float};

/// The caps of the dressings of one planting with one material: the values of
/// [`dress::cap`](super::dress::cap()), without derivations. What does not change with the day is
/// worked out once.
pub struct Caps<'a> {
    dressed: &'a Dressed<'a>,
    ready: &'a Ready,
    /// Nitrogen as a share of the weight.
    content: f64,
    /// The first day on which the crop is no seedling.
    grown: Date,
    /// Kilograms of quick nitrogen at most, for seedlings and for others.
    most: [f64; 2],
    /// The last cap and what the scale can tell of it: many days have the same.
    last: Cell<(f64, f64)>,
}

impl<'a> Caps<'a> {
    /// The caps of a planting.
    pub fn of(dressed: &'a Dressed<'a>, ready: &'a Ready) -> Self {
        let (planting, planted) = (dressed.planting, dressed.life.planted);
        let grown = cap::grown(planting, planted);
        let most = [grown - 1, grown].map(|day| {
            let rate = cap::rate(planting, planted, day);
            to_float(rate.kg_per_ha()) * to_float(dressed.area.value().ha())
        });
        let content = to_float(ready.content.shares.nitrogen.value().fraction());
        Self { dressed, ready, content, grown, most, last: Cell::new((0.0, 0.0)) }
    }

    /// The cap on a day as a weight of material, in kilograms. Zero where there is none.
    pub fn kilograms(&self, day: Date) -> f64 {
        let typical = &self.ready.content.release.typical;
        let climate = &self.dressed.setting.climate;
        let run = Run::from(climate, day);
        let counted = typical.running(climate, &run, self.dressed.life.end);
        if counted <= 0.0 || self.dressed.mix.is_some() {
            return 0.0;
        }
        let quick = typical.running(climate, &run, day + QUICK_DAYS);
        let by = if quick > 0.0 { quick } else { counted };
        self.most[usize::from(day >= self.grown)] / (self.content * by).max(f64::MIN_POSITIVE)
    }

    /// The same as the scale can tell it: rounded down.
    pub fn weighed(&self, day: Date) -> f64 {
        let kilograms = self.kilograms(day);
        let (last, weighed) = self.last.get();
        if kilograms == last {
            return weighed;
        }
        let cap = Mass::from_kg(share_from_float(kilograms));
        let step = weighing_step(cap, self.dressed.setting.units);
        let weighed = to_float(floor_to(cap.kg(), step.kg()));
        self.last.set((kilograms, weighed));
        weighed
    }
}
