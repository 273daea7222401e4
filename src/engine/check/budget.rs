//! Where the nitrogen budget of a planting stands on a day.

use rust_decimal::Decimal;

use super::rules;
use crate::calendar::Date;
use crate::engine::life::curve_of;
use crate::engine::plan::PlantingPlan;
use crate::engine::setting::Setting;
use crate::engine::timeline::shaped;
use crate::figure::Figure;
use crate::quantity::{Mass, Rate, Share, share_from_float};

/// Returns what a planting is short of by the end of a day, per area: what it has needed by then
/// less what its credits, those recorded among them, have made available. Below zero where there is
/// more than it has needed. Doses that are only planned do not count. Nothing in containers whose
/// surface is not said.
pub fn budget_today(
    setting: &Setting<'_>,
    planting: &PlantingPlan,
    today: Date,
) -> Option<Figure<Rate>> {
    let life = &planting.life;
    let curve = curve_of(&planting.crop.curve.value);
    let taken = share_from_float(life.taken_by(&curve, &setting.climate, today));
    let needed = &planting.need * &part("share taken by today", taken);
    let day = usize::try_from(today - life.planted).ok();
    let available: Vec<Figure<Mass>> = planting
        .credits
        .iter()
        .map(|credit| {
            let by_day = shaped(&setting.climate, life, &credit.shape, Mass::from_kg(Decimal::ONE));
            let share = day.and_then(|day| by_day.get(day).or(by_day.last())).copied();
            let share = share_from_float(share.unwrap_or_default());
            (&credit.nitrogen * &part("share come free by today", share))
                .called(credit.label.clone())
        })
        .collect();
    let available = Figure::total(&available).called("available by today");
    let short = &needed.called("needed by today") - &available;
    let short = short.over(planting.area.as_ref()?)?;
    Some(short.by("short today", &rules::BUDGET_TODAY))
}

fn part(label: &'static str, share: Decimal) -> Figure<Share> {
    Figure::fixed(label, Share::from_fraction(share), &rules::BUDGET_TODAY)
}
