//! Needs that nothing in the shed can meet where the program is to choose: what usual material would.

use crate::calendar::Date;
use crate::engine::buy::{Alternative, Certainty, Demand};
use crate::engine::credit::released_share;
use crate::engine::dose::{Feeds, Ready, usual_for};
use crate::engine::plan::{BedPlan, Plan};
use crate::engine::setting::Setting;
use crate::engine::trifle;
use crate::nutrient::Nutrient;
use crate::quantity::{Mass, Positive, Share, UnitSystem};
use crate::season::Season;

/// What stays short in beds whose materials are chosen and for which the shed holds nothing, each as
/// a demand for a usual material: one that cannot be met, and so is named.
pub(super) fn unmet_needs(season: &Season, plan: &Plan, today: Option<Date>) -> Vec<Demand> {
    let beds = plan.beds.iter().filter(|bed| Feeds::any_chosen(season, &season.beds[bed.index]));
    beds.flat_map(|bed| of_bed(season, bed, today)).collect()
}

fn of_bed(season: &Season, bed: &BedPlan, today: Option<Date>) -> Vec<Demand> {
    let feeds = Feeds::of(season, &season.beds[bed.index]);
    let carries = |list: &[Ready], nutrient| list.iter().any(|ready| ready.carries(nutrient));
    let over = |life: Date| today.is_some_and(|today| today > life);
    let mut all = Vec::new();
    for nutrient in [Nutrient::Phosphate, Nutrient::Potash] {
        let budget = bed.mineral(nutrient);
        let left = budget.still_short.value();
        let gone = bed.plantings.iter().all(|planting| over(planting.life.end));
        let served = carries(&feeds.before, nutrient);
        if !feeds.choose_before || served || gone || !bed.minerals_had_their_day {
            continue;
        }
        let path = format!("{}/{}/still-short", bed.slug, nutrient.word());
        all.extend(demand(season, path, nutrient, left, budget.need.value(), Share::WHOLE));
    }
    let any =
        carries(&feeds.before, Nutrient::Nitrogen) || carries(&feeds.side, Nutrient::Nitrogen);
    let chosen = feeds.choose_before || feeds.choose_side;
    if any || !chosen {
        return all;
    }
    let setting = Setting::new(season, UnitSystem::Us, today);
    for planting in bed.plantings.iter().filter(|planting| !over(planting.life.end)) {
        let path = format!("{}/{}/nitrogen/not-given", bed.slug, planting.slug);
        let Some(ready) = usual_for(season, Nutrient::Nitrogen) else { continue };
        let (from, to) = (planting.life.start(), planting.life.end);
        let typical = &ready.content.release.typical;
        let counts = released_share(&setting, &ready.content, typical, from, from - 1, to).value();
        let (left, need) = (planting.not_given.value(), planting.need.value());
        all.extend(demand(season, path, Nutrient::Nitrogen, left, need, counts));
    }
    all
}

/// The demand for a usual material that would give so much; nothing for a trifle.
fn demand(
    season: &Season,
    path: String,
    nutrient: Nutrient,
    left: Mass,
    need: Mass,
    counts: Share,
) -> Option<Demand> {
    if left <= trifle::of(need) {
        return None;
    }
    let ready = usual_for(season, nutrient)?;
    let share: Positive<Share> = Positive::new(ready.content.shares[nutrient].value() * counts)?;
    let alternatives = vec![Alternative::of(ready.name(), left / share)];
    Some(Demand { path, certainty: Certainty::Certain, alternatives })
}
