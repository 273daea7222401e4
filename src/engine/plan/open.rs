//! Which days are still open to a bed's doses, once today and what was written down are looked at.

use super::bed::Draft;
use crate::calendar::Date;
use crate::engine::dose::dress;
use crate::engine::dose::timing::last_useful;
use crate::nutrient::Nutrient;

/// Days that must lie between two dressings where the second is not one that was planned with the first
/// (proposed): half a week, so that what is done a day or two off its visit stands for that visit.
pub(super) const DAYS_APART: i32 = 3;
/// Days after planting within which what was due before it may still be spread.
pub(super) const LATE_DAYS: i32 = 28;

/// Whether what is due before planting can still be spread on a day: not long after planting, and
/// not on a bed already harvested.
pub(super) fn fits_before(draft: &Draft<'_>, day: Date, members: &[usize]) -> bool {
    members.iter().any(|at| {
        let life = &draft.lives[*at];
        day <= life.planted + LATE_DAYS && day < life.end
    })
}

/// The last day that is closed to side-dressings: the eve of today, or the last within half a week of a
/// day on which nitrogen was written down as given to the growing crop.
pub(super) fn closed(draft: &Draft<'_>, at: usize) -> Option<Date> {
    let start = draft.lives[at].start();
    let given = draft.amendments.iter().filter(|one| {
        one.recorded
            && one.on >= start
            && one.planting.is_none_or(|planting| planting == at)
            && one.content.carries(Nutrient::Nitrogen)
    });
    let eve = draft.setting.today.map(|today| today - 1);
    given.map(|one| one.on + DAYS_APART - 1).chain(eve).max()
}

/// The days by the published weeks that are still open; the next visit where all are past and
/// nitrogen is still of use.
pub(super) fn open_days(draft: &Draft<'_>, at: usize) -> Vec<Date> {
    let setting = draft.setting;
    let (planting, life) = (&draft.bed.plantings[at], &draft.lives[at]);
    let mut days = dress::days(setting, planting, life, draft.soil.texture, draft.container);
    let Some(closed) = closed(draft, at) else { return days };
    let any = !days.is_empty();
    days.retain(|day| *day > closed);
    if any && days.is_empty() {
        let next = (closed + 1).max(life.start()).next_on_or_after(setting.visit_day());
        days.extend((next <= last_useful(&planting.crop.value, life)).then_some(next));
    }
    days
}

/// Whether a planting has had all that the plan gives it.
pub(super) fn carried_out(draft: &Draft<'_>, at: usize) -> bool {
    draft.setting.carried_out.contains(&(draft.index, at))
}
