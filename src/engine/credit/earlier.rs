//! Compost and manure of earlier years.

use rust_decimal::Decimal;

use super::{Credit, CreditKind, Plot, Shape, spread};
use crate::engine::content::{nutrient_share, weight};
use crate::engine::rules;
use crate::figure::Figure;
use crate::nutrient::Nutrient;
use crate::quantity::Share;
use crate::season::{History, PastApplication};

/// The credits, each with whether a later test of organic matter already holds it.
pub(super) fn credits(plot: &Plot<'_>) -> Vec<(Credit, bool)> {
    let mut out: Vec<(Credit, bool)> = Vec::new();
    for entry in &plot.bed.history {
        let (past, compost) = match entry {
            History::Compost(past) => (past, true),
            History::Manure(past) => (past, false),
            History::CoverCrop { .. } => continue,
        };
        if let Some(credit) = credit(plot, past, compost) {
            out.push((credit, held_by_test(plot, past)));
        }
    }
    out
}

fn held_by_test(plot: &Plot<'_>, past: &PastApplication) -> bool {
    let Some(test) = plot.bed.soil.as_ref().filter(|test| test.organic_matter.is_some()) else {
        // Organic matter that is assumed from years of compost is that compost.
        return !plot.soil.organic_matter_measured && plot.soil.organic_matter_from(4);
    };
    test.sampled.is_none_or(|day| day.value.year() > past.year.value)
}

fn credit(plot: &Plot<'_>, past: &PastApplication, compost: bool) -> Option<Credit> {
    let percent = match (compost, plot.setting.year() - past.year.value) {
        (true, 1) => 4,
        (true, 2 | 3) => 3,
        (false, 1) => 10,
        _ => return None,
    };
    let weight = weight(&past.stuff, past.amount?, plot.bed_area)?;
    let content = nutrient_share(&past.stuff, Nutrient::Nitrogen);
    let nitrogen = (&weight * &content).by("nitrogen spread then", &rules::CONTENT);
    let free = Share::from_percent(Decimal::from(percent));
    let free = Figure::fixed("share that comes free this year", free, &rules::EARLIER_COMPOST);
    let this_year = (&nitrogen * &free).called("comes free this year");
    let in_life = plot.setting.year_share(plot.life_from(), plot.life.end);
    let here = (&(&this_year * &in_life).called("in its life") * &plot.part_of_bed())
        .by("from earlier years", &rules::EARLIER_COMPOST);
    let label = format!("{} of {}", past.stuff.material.name, past.year.value);
    Some(Credit::new(
        CreditKind::Earlier,
        label,
        spread(here, (5, 1), (15, 1)),
        Shape::SoilTime(plot.life_from()),
    ))
}
