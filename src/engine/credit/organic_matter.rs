//! Nitrogen from organic matter above the ordinary.

use rust_decimal::Decimal;

use super::{Credit, CreditKind, Plot, Shape, spread};
use crate::engine::rules;
use crate::figure::Figure;
use crate::quantity::{Rate, Share};

pub(super) fn credit(plot: &Plot<'_>) -> Option<Credit> {
    let percent = |value: i64| Share::from_percent(Decimal::from(value));
    let matter = &plot.soil.organic_matter;
    if matter.value() <= percent(2) {
        return None;
    }
    let rule = &rules::ORGANIC_MATTER;
    let most = Figure::fixed("most counted", percent(8), rule);
    let counted = if matter.value() > percent(8) {
        Figure::least(matter, &[&most]).called("organic matter counted")
    } else {
        matter.clone()
    };
    let ordinary = Figure::fixed("ordinary organic matter", percent(2), rule);
    let above = (&counted - &ordinary).called("above the ordinary");
    let one = Figure::fixed("one percent", percent(1), rule);
    let percents = above.ratio_to(&one)?.called("percents above");
    let each = Rate::from_lb_per_acre(Decimal::from(20));
    let each = Figure::fixed("nitrogen a year for each percent", each, rule);
    let yearly = (&each * &percents).called("nitrogen in a year");
    let share = plot.setting.year_share(plot.life_from(), plot.life.end);
    let nitrogen = (&(&yearly * &share).called("nitrogen in its life") * &plot.area)
        .by("organic matter", rule);
    let nitrogen = spread(nitrogen, (5, 1), (165, 2));
    if !plot.soil.organic_matter_from(4) {
        return Some(Credit::new(
            CreditKind::OrganicMatter,
            "organic matter",
            nitrogen,
            Shape::SoilTime(plot.life_from()),
        ));
    }
    let least = Rate::from_kg_per_ha(Decimal::from(20));
    let least = Figure::fixed("least at 4 % or more", least, &rules::ORGANIC_MATTER_LEAST);
    let least = (&least * &plot.area).called("least for this planting");
    let (low, high) = nitrogen.range();
    if nitrogen.value() >= least.value() {
        return Some(Credit::new(
            CreditKind::OrganicMatter,
            "organic matter",
            nitrogen,
            Shape::SoilTime(plot.life_from()),
        ));
    }
    let nitrogen = Figure::greatest(&nitrogen, &[&least])
        .by("organic matter", &rules::ORGANIC_MATTER_LEAST)
        .between(low, high.at_least(least.value()));
    Some(Credit::new(
        CreditKind::OrganicMatter,
        "organic matter",
        nitrogen,
        Shape::SoilTime(plot.life_from()),
    ))
}
