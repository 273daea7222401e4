//! Nitrate in the soil: tested, assumed, or left by the crop before.

use rust_decimal::Decimal;

use super::{Before, Credit, CreditKind, Plot, Shape, spread};
use crate::calendar::Date;
use crate::engine::need::Basis;
use crate::engine::rules;
use crate::figure::Figure;
use crate::quantity::{Area, Length, Mass, Rate, Share};
use crate::season::{History, SoilTest, Texture};

/// Nitrate assumed in 30 cm of rooting depth, in kilograms per hectare.
const ASSUMED_KG_PER_HA_IN_30_CM: i64 = 20;
/// Rooting depth where the crop has no supply row, in centimetres.
const USUAL_DEPTH_CM: i64 = 60;

/// The day nitrate was sampled, where it was.
fn sampled(test: &SoilTest) -> Option<Date> {
    test.nitrate?;
    test.nitrate_sampled.or(test.sampled).map(|day| day.value)
}

/// The day a nitrate test was taken in the life of the planting, where one was.
pub fn sampled_in_life(plot: &Plot<'_>) -> Option<Date> {
    let day = sampled(plot.bed.soil.as_ref()?)?;
    (plot.life.planted <= day && day <= plot.life.end).then_some(day)
}

/// The day of a nitrate test that speaks for this planting: taken in its life, or before it with no
/// other crop planted on its ground since.
pub fn tested_on(plot: &Plot<'_>) -> Option<Date> {
    let day = sampled(plot.bed.soil.as_ref()?)?;
    let serves = |before: &Before<'_>| before.life.end < day;
    (day <= plot.life.end && (plot.fresh > Area::ZERO || plot.before.iter().any(serves)))
        .then_some(day)
}

/// The day a nitrate test replaced this planting's ledger. Only where soil nitrate is a credit: a
/// fertilizer rate does not count it, and so nothing replaces what else feeds the crop.
pub fn reset(plot: &Plot<'_>) -> Option<Date> {
    tested_on(plot).filter(|_| plot.basis == Basis::Supply)
}

pub(super) fn credits(plot: &Plot<'_>) -> Vec<Credit> {
    let day = plot.bed.soil.as_ref().and_then(sampled);
    let served: Area = plot
        .before
        .iter()
        .filter(|before| day.is_some_and(|day| before.life.end < day && day <= plot.life.end))
        .map(|before| before.taken_over)
        .sum();
    let mut out = Vec::new();
    let ground = plot.fresh + served;
    if ground > Area::ZERO {
        let area = part_of(plot, ground);
        let measured = plot.bed.soil.as_ref().filter(|_| reset(plot).is_some());
        let nitrogen = match measured.and_then(|test| tested(plot, test, &area)) {
            Some(nitrogen) => spread(nitrogen, (8, 1), (12, 1)),
            None => spread(assumed(plot, &area), (5, 1), (15, 1)),
        };
        out.push(Credit::new(CreditKind::SoilNitrate, "soil nitrate", nitrogen, Shape::AtPlanting));
    }
    let left: Vec<Figure<Mass>> = plot
        .before
        .iter()
        .filter(|before| day.is_none_or(|day| before.life.end >= day || day > plot.life.end))
        .filter_map(|before| left_unused(before))
        .collect();
    if !left.is_empty() {
        let nitrogen = Figure::total(&left).by("left by the crop before", &rules::NITRATE_LEFT);
        out.push(Credit::new(
            CreditKind::LeftUnused,
            "left by the crop before",
            spread(nitrogen, (5, 1), (15, 1)),
            Shape::AtPlanting,
        ));
    }
    out
}

/// The planting's area, or the part of it that is meant.
fn part_of(plot: &Plot<'_>, ground: Area) -> Figure<Area> {
    if ground == plot.area.value() {
        return plot.area.clone();
    }
    Figure::fixed("ground without a crop before", ground, &rules::PLANTING_AREA)
}

/// Depth to which the crop's roots find nitrate.
pub fn rooting_depth(plot: &Plot<'_>) -> Figure<Length> {
    let crop = &plot.planting.crop.value;
    match plot.planting.supply() {
        Some(supply) => Figure::listed(
            "sampling depth of the crop",
            supply.depth,
            "crops",
            &crop.name,
            &supply.source,
        ),
        None => Figure::fixed(
            "rooting depth, assumed",
            Length::from_cm(USUAL_DEPTH_CM.into()),
            &rules::NITRATE_ASSUMED,
        ),
    }
}

fn tested(plot: &Plot<'_>, test: &SoilTest, area: &Figure<Area>) -> Option<Figure<Mass>> {
    let said = test.nitrate?;
    let nitrate = Figure::said("nitrate nitrogen in the soil", said.value, said.place);
    let foot = Length::from_inch(Decimal::from(12));
    let depth = match test.depth {
        Some(depth) => Figure::said("depth sampled", depth.value, depth.place),
        None => Figure::fixed("depth sampled, assumed", foot, &rules::NITRATE_MEASURED),
    };
    let layer = (&plot.soil.bulk_density * &depth).called("weight of the layer");
    let found = (&nitrate * &layer).by("nitrate found", &rules::NITRATE_MEASURED);
    let in_reach = rooting_depth(plot);
    // A foot and 30 cm are the same sample; a deeper one is not scaled.
    let shallow = depth.value() <= Length::from_cm(Decimal::from(31))
        && in_reach.value() > Length::from_cm(Decimal::from(31));
    let found = if shallow {
        let share = Figure::fixed(
            "share of the profile in the top foot",
            Share::from_percent(Decimal::from(60)),
            &rules::NITRATE_DEEPER,
        );
        found.over(&share)?.by("nitrate in reach of the roots", &rules::NITRATE_DEEPER)
    } else {
        found
    };
    Some((&found * area).by("soil nitrate", &rules::NITRATE_MEASURED))
}

fn assumed(plot: &Plot<'_>, area: &Figure<Area>) -> Figure<Mass> {
    let year = plot.setting.year();
    let after_cover = plot.bed.history.iter().any(|entry| match entry {
        History::CoverCrop { killed, .. } => {
            killed.value.year() == year
                && in_spring(killed.value, plot)
                && killed.value <= plot.life.planted
        }
        _ => false,
    });
    let rate = if after_cover {
        let rate = Rate::from_kg_per_ha(Decimal::from(15));
        Figure::fixed("nitrate after a cover crop, assumed", rate, &rules::NITRATE_ASSUMED)
    } else {
        let each = Rate::from_kg_per_ha(Decimal::from(ASSUMED_KG_PER_HA_IN_30_CM));
        let each = Figure::fixed("nitrate in 30 cm, assumed", each, &rules::NITRATE_ASSUMED);
        let layer = Length::from_cm(Decimal::from(30));
        let layer = Figure::fixed("layer", layer, &rules::NITRATE_ASSUMED);
        let depth = rooting_depth(plot);
        let whole = match depth.ratio_to(&layer) {
            Some(layers) => &each * &layers.called("layers of 30 cm"),
            None => each,
        };
        if plot.soil.texture == Texture::Sand {
            let half = Share::from_fraction(Decimal::new(5, 1));
            &whole * &Figure::fixed("half, on sand", half, &rules::NITRATE_ASSUMED)
        } else {
            whole
        }
    };
    (&rate.called("nitrate assumed") * area).by("soil nitrate, assumed", &rules::NITRATE_ASSUMED)
}

/// What the crop before left on the ground taken over, at most 40 kg per hectare.
fn left_unused(before: &Before<'_>) -> Option<Figure<Mass>> {
    let unused = before.unused.as_ref().filter(|unused| unused.value() > Mass::ZERO)?;
    let taken = Figure::fixed("ground taken over", before.taken_over, &rules::PLANTING_AREA);
    let share = taken.ratio_to(&before.area)?.called("share taken over");
    let left = (unused * &share).called("left unused on it");
    let most = Rate::from_kg_per_ha(Decimal::from(40));
    let most = (&Figure::fixed("most carried over", most, &rules::NITRATE_LEFT) * &taken)
        .called("most carried over");
    Some(Figure::least(&left, &[&most]).called("carried over"))
}

/// Whether a day falls in the first half of the growing year.
fn in_spring(day: Date, plot: &Plot<'_>) -> bool {
    let first_half = day.month() <= 6;
    first_half != plot.setting.climate.southern()
}
