//! How a planting is side-dressed: as solved, by the published weeks, or once measured.

use crate::calendar::Date;
use crate::engine::dose::Dose;
use crate::engine::dose::dress::{self, Dressed, Dressings};
use crate::engine::timeline::Timeline;
use crate::figure::Figure;
use crate::quantity::Mass;

use super::bed::Draft;
use super::course::Course;
use super::open::closed;
use super::planting::{Ledger, Split};
use super::solved::{self, Asked};

/// Days after planting before which heading brassicas are not side-dressed.
const HEADING_FIRST_DAY: i32 = 21;

impl Course<'_> {
    /// The dressings of a planting: as solved, or by the published weeks where they wait for a
    /// measurement, stand in containers, or the grower wants them so.
    pub(super) fn dressings(
        &mut self,
        draft: &Draft<'_>,
        dressed: &Dressed<'_>,
        ledger: &Ledger,
        split: &Split,
    ) -> Dressings {
        let solvable =
            draft.solved && !split.measure_first && !draft.container && !dressed.days.is_empty();
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
        let usual = dressed.life.start() + wait;
        let open = |day: Date| closed(draft, at).map_or(day, |closed| day.max(closed + 1));
        let asked = Asked {
            bed: draft.index,
            first: open(usual),
            // Once something was given before planting, nothing more is worked in on that day.
            earliest: open(dressed.life.start() + i32::from(!doses.is_empty())),
            trial: draft.trial,
        };
        self.requests.push(solved::request(&asked, dressed, ready, ledger, &given));
        match self.schedule.and_then(|schedule| schedule.get(&at)) {
            Some(turn) => dress::by_schedule(dressed, ready, &turn.doses),
            // What a crop leaves to the one that follows is first reckoned from the published weeks.
            None if draft.setting.compare || draft.lives.len() > 1 => dress::by_weeks(dressed),
            None => Dressings::nothing(&dressed.nitrogen),
        }
    }
}
