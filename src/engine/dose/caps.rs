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
    fn kilograms(&self, day: Date) -> f64 {
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

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::catalogue::Catalogue;
    use crate::engine::dose::{Feeds, dress};
    use crate::engine::life::Life;
    use crate::engine::setting::Setting;
    use crate::figure::Figure;
    use crate::nutrient::Npk;
    use crate::quantity::{Area, UnitSystem};

    /// Sown and set out, quick and slow, through the whole season.
    #[test]
    fn caps_are_those_that_a_dose_is_held_to() {
        for (how, material) in
            [("seed", "urea"), ("transplant", "feather meal"), ("seed", "soybean meal")]
        {
            let text = format!(
                "[garden]\nyear = 2027\n[feeding]\nside_dress = [\"{material}\"]\n[[bed]]\nname = \"one\"\n\
                 area = \"96 ft2\"\n[[bed.planting]]\ncrop = \"broccoli\"\nplanted = 2027-05-10\n\
                 days = 70\nhow = \"{how}\"\n"
            );
            let season = crate::season::read(&text, Arc::new(Catalogue::new())).expect("a season");
            let setting = Setting::new(&season, UnitSystem::Us, None);
            let (bed, area) = (&season.beds[0], Figure::asked("area", Area::from_ft2(96.into())));
            let planting = &bed.plantings[0];
            let life = Life::of(planting, &setting.climate);
            let feeds = Feeds::of(&season, bed);
            let dressed = Dressed {
                setting: &setting,
                index: 0,
                planting,
                life: &life,
                area: &area,
                nitrogen: Figure::asked("nitrogen", Mass::from_kg(1.into())),
                ceiling: None,
                days: Vec::new(),
                first: life.planted,
                materials: &feeds.side,
                short: Npk::from_fn(|_| false),
                measure: None,
                mix: None,
            };
            let caps = Caps::of(&dressed, &feeds.side[0]);
            for ahead in 0..70 {
                let day = life.planted + ahead;
                let exact = dress::cap(&dressed, &feeds.side[0], day)
                    .map_or(0.0, |cap| to_float(cap.weight.value().kg()));
                let quick = caps.kilograms(day);
                assert!(
                    (quick - exact).abs() <= 1e-7 * exact.max(1.0),
                    "{material} {day}: {quick} {exact}"
                );
                assert!(caps.weighed(day) <= quick + 1e-9);
            }
        }
    }
}
