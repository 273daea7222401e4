//! The yield a planting is reckoned at.

use rust_decimal::Decimal;

use super::area::row_spacing;
use super::rules;
use crate::catalogue::{Chart, Crop, Supply};
use crate::figure::Figure;
use crate::quantity::{Area, Length, Mass, PlantRate, Rate, Share, Spread};
use crate::season::{Planting, Yield};

/// A yield per area, and how far it may move the need.
#[derive(Clone, Debug)]
pub struct YieldUsed {
    /// The yield, before any stop.
    pub rate: Figure<Rate>,
    /// Whether it may raise the need: only the grower's own, per area or per length of row.
    pub may_raise: bool,
    /// Whether the grower said it; else it is among the assumptions.
    pub said: bool,
    /// Whether it is the garden chart's.
    pub from_chart: bool,
}

/// The yield that the nitrogen need of a supply row is reckoned at.
pub fn for_supply(planting: &Planting, supply: &Supply) -> YieldUsed {
    let crop = &planting.crop.value;
    if let Some(own) = own(planting, crop) {
        return own;
    }
    let wants_row = planting.yield_goal.is_some_and(|goal| goal.value == Yield::Table);
    let chart = crop.chart.as_ref().filter(|_| !wants_row);
    let from_chart = chart.and_then(|chart| {
        per_row(crop, chart)
            .or_else(|| chart.per_plant_scales.then(|| per_plant(crop, chart)).flatten())
    });
    match from_chart {
        Some(rate) => YieldUsed { rate, may_raise: false, said: false, from_chart: true },
        None => {
            let rate = reference(crop, supply);
            YieldUsed { rate, may_raise: false, said: wants_row, from_chart: false }
        }
    }
}

/// The yield that removal is reckoned at: the grower's own, else the chart's (per plant over the
/// chart's spacing too), else the supply row's; nothing where none is known.
pub fn for_removal(planting: &Planting) -> Option<YieldUsed> {
    let crop = &planting.crop.value;
    if let Some(supply) = planting.supply() {
        let used = for_supply(planting, supply);
        let from_row = !used.said && used.rate.value() == supply.reference_yield;
        if !from_row {
            return Some(used);
        }
        return Some(chart_yield(crop).unwrap_or(used));
    }
    own(planting, crop).or_else(|| chart_yield(crop))
}

fn chart_yield(crop: &Crop) -> Option<YieldUsed> {
    let chart = crop.chart.as_ref()?;
    let rate = per_row(crop, chart).or_else(|| per_plant(crop, chart))?;
    Some(YieldUsed { rate, may_raise: false, said: false, from_chart: true })
}

/// The reference yield of a supply row.
pub fn reference(crop: &Crop, supply: &Supply) -> Figure<Rate> {
    Figure::listed("reference yield", supply.reference_yield, "crops", &crop.name, &supply.source)
}

fn own(planting: &Planting, crop: &Crop) -> Option<YieldUsed> {
    let goal = planting.yield_goal?;
    let label = "yield hoped for";
    let (rate, may_raise) = match goal.value {
        Yield::Table => return None,
        Yield::PerArea(rate) => (Figure::said(label, rate, goal.place), true),
        Yield::PerRow(per_row) => {
            let per_row = Figure::said("yield per length of row", per_row, goal.place);
            (per_row.over(&spacing_between(planting, crop)?)?.called(label), true)
        }
        Yield::PerPlant(per_plant) => {
            let each = Figure::said("yield per plant", one_plant(per_plant), goal.place);
            let spacing = planting.spacing.map(|both| {
                let in_row = Figure::said("distance in the row", both.value.0, both.place);
                let between = Figure::said("distance between rows", both.value.1, both.place);
                (&in_row * &between).called("area of one plant")
            });
            let area = spacing.or_else(|| plant_area(crop, crop.chart.as_ref()?))?;
            (each.over(&area)?.called(label), false)
        }
    };
    Some(YieldUsed { rate, may_raise, said: true, from_chart: false })
}

fn spacing_between(planting: &Planting, crop: &Crop) -> Option<Figure<Length>> {
    row_spacing(planting).or_else(|| {
        let chart = crop.chart.as_ref()?;
        Some(middle(crop, chart, "distance between rows", chart.between_rows?))
    })
}

fn middle<Q>(crop: &Crop, chart: &Chart, label: &'static str, spread: Spread<Q>) -> Figure<Q>
where
    Q: crate::quantity::Bounded + std::ops::Mul<Share, Output = Q> + std::ops::Add<Output = Q>,
{
    let end = |end: &str, value| {
        let label = format_args!("{label}{end}");
        Figure::listed(label, value, "crops", &crop.name, &chart.source)
    };
    if spread.low == spread.high {
        return end("", spread.low);
    }
    let low = end(", low end", spread.low);
    let high = end(", high end", spread.high);
    let half = Figure::fixed("half", Share::from_fraction(Decimal::new(5, 1)), &rules::CHART_YIELD);
    (&(&low + &high) * &half).by(format_args!("{label}, middle"), &rules::CHART_YIELD)
}

fn per_row(crop: &Crop, chart: &Chart) -> Option<Figure<Rate>> {
    let per_row = middle(crop, chart, "yield per length of row", chart.per_row?);
    let between = middle(crop, chart, "distance between rows", chart.between_rows?);
    Some(per_row.over(&between)?.by("yield of the garden chart", &rules::CHART_YIELD))
}

fn plant_area(crop: &Crop, chart: &Chart) -> Option<Figure<Area>> {
    let in_row = middle(crop, chart, "distance in the row", chart.in_row?);
    let between = middle(crop, chart, "distance between rows", chart.between_rows?);
    Some((&in_row * &between).called("area of one plant"))
}

fn per_plant(crop: &Crop, chart: &Chart) -> Option<Figure<Rate>> {
    let each = middle(crop, chart, "yield per plant", one_plant_each(chart.per_plant?));
    let area = plant_area(crop, chart)?;
    Some(each.over(&area)?.by("yield of the garden chart", &rules::CHART_YIELD))
}

/// What one plant yields, as a weight.
fn one_plant(rate: PlantRate) -> Mass {
    Mass::from_kg(rate.kg())
}

fn one_plant_each(spread: Spread<PlantRate>) -> Spread<Mass> {
    Spread { low: one_plant(spread.low), high: one_plant(spread.high) }
}

/// The yield per plant that is said or charted, for containers.
pub fn each_plant(planting: &Planting) -> Option<Figure<Mass>> {
    let crop = &planting.crop.value;
    if let Some(goal) = planting.yield_goal
        && let Yield::PerPlant(each) = goal.value
    {
        return Some(Figure::said("yield per plant", one_plant(each), goal.place));
    }
    let chart = crop.chart.as_ref();
    if let Some(chart) = chart
        && let Some(each) = chart.per_plant
    {
        return Some(middle(crop, chart, "yield per plant", one_plant_each(each)));
    }
    if let Some(chart) = chart
        && let (Some(per_row), Some(in_row)) = (chart.per_row, chart.in_row)
        && planting.yield_goal.is_none()
    {
        let per_row = middle(crop, chart, "yield per length of row", per_row);
        let in_row = middle(crop, chart, "distance in the row", in_row);
        return Some((&per_row * &in_row).by("yield per plant", &rules::CHART_YIELD));
    }
    let used = match (planting.yield_goal, planting.supply()) {
        (Some(_), _) => own(planting, crop).map(|own| own.rate),
        (None, Some(supply)) => Some(for_supply(planting, supply).rate),
        (None, None) => chart_yield(crop).map(|used| used.rate),
    }?;
    let area = match planting.spacing {
        Some(both) => {
            let in_row = Figure::said("distance in the row", both.value.0, both.place);
            let between = Figure::said("distance between rows", both.value.1, both.place);
            (&in_row * &between).called("area of one plant")
        }
        None => plant_area(crop, chart?)?,
    };
    Some((&used * &area).called("yield per plant"))
}
