//! What doses for the crop before still release in the life of the next one.

use super::{Credit, CreditKind, Plot, Releasing, Shape, released_share};
use crate::engine::dose::Dose;
use crate::engine::release;
use crate::engine::rules;
use crate::figure::Figure;
use crate::quantity::{Mass, Share};

/// The credit, from the doses of the bed so far; nothing where none is left to release.
pub fn earlier_doses(plot: &Plot<'_>, before: &[usize], doses: &[Dose]) -> Option<Credit> {
    let mut parts: Vec<Figure<Mass>> = Vec::new();
    let mut shapes: Vec<Releasing> = Vec::new();
    for (at, previous) in before.iter().zip(&plot.before) {
        let serving = doses.iter().filter(|dose| dose.counts.iter().any(|(one, _)| one == at));
        for dose in
            serving.filter(|dose| dose.certain() && !dose.ready.content.release.typical.at_once())
        {
            let taken =
                Figure::fixed("ground taken over", previous.taken_over, &rules::PLANTING_AREA);
            let Some(part) = taken.ratio_to(&dose.area) else { continue };
            let typical = &dose.ready.content.release.typical;
            let climate = &plot.setting.climate;
            let first =
                release::counted_from(climate, dose.date, plot.life.planted, plot.life.end) - 1;
            let after = previous.life.end.max(first).max(plot.reset().unwrap_or(first));
            let share = released_share(
                plot.setting,
                &dose.ready.content,
                typical,
                dose.date,
                after,
                plot.life.end,
            );
            if share.value() <= Share::ZERO {
                continue;
            }
            let here = (&dose.brings.nitrogen * &part.called("share of its ground"))
                .called("N on this ground");
            shapes.push(Releasing {
                release: *typical,
                on: dose.date,
                after,
                nitrogen: here.value(),
                ammonium: 0.0,
            });
            parts.push((&here * &share).called("comes free for this crop"));
        }
    }
    if parts.is_empty() {
        return None;
    }
    let nitrogen = Figure::total(&parts).by("doses for the crop before", &rules::EARLIER_DOSES);
    Some(Credit::new(
        CreditKind::EarlierDoses,
        "doses for the crop before",
        nitrogen,
        Shape::Releasing(shapes),
    ))
}
