//! A killed cover crop.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::{Credit, CreditKind, Plot, Shape, spread};
use crate::calendar::Date;
use crate::catalogue::Crop;
use crate::engine::area::date_said;
use crate::engine::rules;
use crate::engine::setting::date_step;
use crate::figure::Figure;
use crate::quantity::{Amount, Area, Kind, Rate, Share};
use crate::season::{History, Said};

/// Days over which a killed cover crop gives its nitrogen.
const RELEASE_DAYS: i32 = 35;
/// Release earlier than this before planting is lost.
const DAYS_BEFORE_PLANTING: i32 = 30;

pub(super) fn credits(plot: &Plot<'_>) -> Vec<Credit> {
    let entries = plot.bed.history.iter().filter_map(|entry| match entry {
        History::CoverCrop { crop, biomass, nitrogen, killed } => {
            credit(plot, crop, (*biomass)?, *nitrogen, *killed)
        }
        _ => None,
    });
    entries.collect()
}

fn credit(
    plot: &Plot<'_>,
    crop: &Said<Arc<Crop>>,
    biomass: Said<Rate>,
    measured: Option<Said<Share>>,
    killed: Said<Date>,
) -> Option<Credit> {
    // Only the first crop after it: ground on which nothing was planted since it was killed.
    let first: Area = plot
        .before
        .iter()
        .filter(|before| before.life.end <= killed.value)
        .map(|before| before.taken_over)
        .sum::<Area>()
        + plot.fresh;
    if first <= Area::ZERO || plot.life.end < killed.value {
        return None;
    }
    let rule = &rules::COVER_CROP;
    let nitrogen = match (measured, &crop.value.cover_nitrogen) {
        (Some(said), _) => Figure::said("nitrogen in the dry matter", said.value, said.place),
        (None, Some(listed)) => Figure::listed(
            "nitrogen in the dry matter",
            listed.value,
            "crops",
            &crop.value.name,
            &listed.source,
        ),
        (None, None) => return None,
    };
    let nothing_at = Figure::fixed(
        "nitrogen at which none comes free",
        Share::from_percent(Decimal::new(15, 1)),
        rule,
    );
    // 17.5 lb per short ton for each percent is 0.875 of the nitrogen above 1.5 %.
    let slope = Figure::fixed(
        "share of what is above it",
        Share::from_fraction(Decimal::new(875, 3)),
        rule,
    );
    let free = (&(&nitrogen - &nothing_at).called("above it") * &slope).called("of the dry matter");
    let floor = Figure::fixed("most tied up", Share::from_fraction(Decimal::new(-5, 3)), rule);
    let free = if free.value() < floor.value() {
        Figure::greatest(&free, &[&floor]).called("of the dry matter")
    } else {
        free
    };
    let in_time = in_time(plot, killed)?;
    let area = if first == plot.area.value() {
        plot.area.clone()
    } else {
        Figure::fixed("ground of the cover crop", first, &rules::PLANTING_AREA)
    };
    let dry = (&Figure::said("dry matter", biomass.value, biomass.place) * &area)
        .called("dry matter here");
    let total = (&(&dry * &free).called("comes free") * &in_time).by("cover crop", rule);
    Some(Credit::new(
        CreditKind::CoverCrop,
        crop.value.name.clone(),
        spread(total, (7, 1), (12, 1)),
        Shape::Evenly(killed.value, killed.value + RELEASE_DAYS),
    ))
}

/// The share that comes free in time: all for a crop planted within 35 days, else what falls in the
/// 30 days before planting and after; only what falls after a nitrate test.
fn in_time(plot: &Plot<'_>, killed: Said<Date>) -> Option<Figure<Share>> {
    let planted = plot.life.planted;
    let from = if planted - killed.value <= RELEASE_DAYS {
        killed.value
    } else {
        planted - DAYS_BEFORE_PLANTING
    };
    let from = plot.reset().map_or(from, |day| from.max(day));
    let again = |of: &[Amount]| {
        let late = (of[1].base - of[0].base).max(Decimal::ZERO);
        let share = Decimal::ONE - late / Decimal::from(RELEASE_DAYS);
        Amount { kind: Kind::Share, base: share.max(Decimal::ZERO) }
    };
    let share = again(&[killed.value, from].map(Amount::date));
    let share = Share::from_fraction(share.base);
    let operands = || vec![date_said("killed", killed), date_step("counts from", from)];
    let share = Figure::computed("comes free in time", &rules::COVER_CROP, share, operands, again);
    (share.value() > Share::ZERO).then_some(share)
}
