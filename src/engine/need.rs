//! How much nitrogen a planting must find, and on which basis that is reckoned.

use rust_decimal::Decimal;

use super::rules;
use super::soil::Soil;
use super::yields::{self, YieldUsed};
use crate::catalogue::{Crop, FeederClass, Recommendation, Supply, YieldStep};
use crate::figure::{Figure, Rule};
use crate::quantity::{Rate, Share, Spread};
use crate::season::{BasisChoice, Garden, Planting, Texture};

/// What a nitrogen need rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Basis {
    /// A laboratory's or adviser's rate.
    Given,
    /// A supply row: all the crop must find, soil included.
    Supply,
    /// A bulletin's season rate of fertilizer.
    Recommendation,
    /// The crop's reputation as a feeder.
    Feeder,
    /// What the harvest of a container carries.
    Container,
}

impl Basis {
    /// Its word, as JSON and tables show it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Given => "given",
            Self::Supply => "supply",
            Self::Recommendation => "recommendation",
            Self::Feeder => "feeder",
            Self::Container => "container",
        }
    }
}

/// A need per area with its basis.
#[derive(Clone, Debug)]
pub struct NeedRate {
    /// What it rests on.
    pub basis: Basis,
    /// The rate.
    pub rate: Figure<Rate>,
    /// The yield it was reckoned at, on the supply basis.
    pub yield_used: Option<YieldUsed>,
}

/// The nitrogen need of a planting on open ground, per area.
pub fn rate(garden: &Garden, soil: &Soil, planting: &Planting) -> NeedRate {
    let crop = &planting.crop.value;
    if let Some(given) = planting.given.nitrogen {
        let end = |label, value| Figure::said(label, value, given.place);
        let rate = read_range(given.value, soil, end, &rules::GIVEN_NEED);
        return NeedRate { basis: Basis::Given, rate, yield_used: None };
    }
    let recommended = || recommendation(garden, soil, crop);
    let supplied = || planting.supply().map(|supply| from_supply(planting, supply));
    let first = if crop.legume || garden.basis == BasisChoice::Recommendation {
        recommended().or_else(supplied)
    } else {
        supplied().or_else(recommended)
    };
    first.unwrap_or_else(|| feeder(crop))
}

/// Reads a range the way the rule says: low end on rich soil, high end on other sand, else the middle.
fn read_range(
    spread: Spread<Rate>,
    soil: &Soil,
    end: impl Fn(&'static str, Rate) -> Figure<Rate>,
    rule: &'static Rule,
) -> Figure<Rate> {
    if spread.low == spread.high {
        return end("rate", spread.low).by("rate", rule);
    }
    let (low, high) = (end("low end", spread.low), end("high end", spread.high));
    if soil.organic_matter_from(3) {
        let because = "organic matter is 3 % or more";
        return low.chosen(because, &[&high]).by("rate, read from the range", &rules::RANGE_READ);
    }
    if soil.texture == Texture::Sand {
        let because = "the soil is sand with less than 3 % organic matter";
        return high.chosen(because, &[&low]).by("rate, read from the range", &rules::RANGE_READ);
    }
    let half = Figure::fixed("half", Share::from_fraction(Decimal::new(5, 1)), &rules::RANGE_READ);
    (&(&low + &high) * &half).by("rate, middle of the range", &rules::RANGE_READ)
}

fn from_supply(planting: &Planting, supply: &Supply) -> NeedRate {
    let crop = &planting.crop.value;
    let used = yields::for_supply(planting, supply);
    let listed = |label, value| Figure::listed(label, value, "crops", &crop.name, &supply.source);
    let table = listed("demand at the reference yield", supply.nitrogen);
    let reference = yields::reference(crop, supply);
    if used.rate.value() == supply.reference_yield || supply.reference_yield.base().is_zero() {
        let rate = table.by("demand", &rules::SUPPLY_NEED);
        return NeedRate { basis: Basis::Supply, rate, yield_used: Some(used) };
    }
    let bounded = within_stops(&used, &reference);
    let step = match supply.step {
        YieldStep::Yield(step) => listed("one step of yield", step),
        YieldStep::Share(share) => {
            let share = Figure::listed(
                "one step, of the reference",
                share,
                "crops",
                &crop.name,
                &supply.source,
            );
            (&reference * &share).called("one step of yield")
        }
    };
    let difference = (&bounded - &reference).called("yield above the reference");
    let per_step = listed("change for one step", supply.per_step);
    let rate = match difference.ratio_to(&step) {
        Some(steps) => {
            let change = (&per_step * &steps.called("steps"))
                .by("change with the yield", &rules::YIELD_STEPS);
            (&table + &change).by("demand at this yield", &rules::SUPPLY_NEED)
        }
        None => table.by("demand", &rules::SUPPLY_NEED),
    };
    NeedRate { basis: Basis::Supply, rate, yield_used: Some(used) }
}

/// The yield between 40 % below the reference and 40 % above it, or the reference itself where the
/// yield may not raise the need.
fn within_stops(used: &YieldUsed, reference: &Figure<Rate>) -> Figure<Rate> {
    let share = |percent: i64, label: &'static str| {
        let share = Share::from_percent(Decimal::from(percent));
        (reference * &Figure::fixed("share of the reference", share, &rules::YIELD_USED))
            .called(label)
    };
    let least = share(60, "least yield reckoned with");
    let most = if used.may_raise {
        share(140, "most yield reckoned with")
    } else {
        reference.clone().called("most yield reckoned with")
    };
    let rate = &used.rate;
    if rate.value() > most.value() {
        return Figure::least(rate, &[&most]).by("yield reckoned with", &rules::YIELD_USED);
    }
    if rate.value() < least.value() {
        return Figure::greatest(rate, &[&least]).by("yield reckoned with", &rules::YIELD_USED);
    }
    rate.clone()
}

fn recommendation(garden: &Garden, soil: &Soil, crop: &Crop) -> Option<NeedRate> {
    let row = choose_row(garden, soil, crop, |row| row.nitrogen.is_some() && !row.part)?;
    let end = |label, value| Figure::listed(label, value, "crops", &crop.name, &row.source);
    let rate = read_range(row.nitrogen?, soil, end, &rules::RECOMMENDED_NEED);
    Some(NeedRate { basis: Basis::Recommendation, rate, yield_used: None })
}

/// Picks one row of several: by organic matter first, then by region, then an unregional row with
/// all four classes, then the latest.
pub fn choose_row<'a>(
    garden: &Garden,
    soil: &Soil,
    crop: &'a Crop,
    has: impl Fn(&Recommendation) -> bool,
) -> Option<&'a Recommendation> {
    let region = garden.region.as_ref().map(|region| region.value.as_str());
    let matter = soil.organic_matter.value();
    let by_matter = |row: &Recommendation| {
        row.organic_matter_from.is_some() || row.organic_matter_below.is_some()
    };
    let applies = |row: &&Recommendation| {
        has(row)
            && row.region.as_deref().is_none_or(|one| Some(one) == region)
            && row.texture.as_deref().is_none_or(|one| one == soil.texture.word())
            && row.organic_matter_from.is_none_or(|from| matter >= from)
            && row.organic_matter_below.is_none_or(|below| matter < below)
    };
    let full = |row: &Recommendation| {
        let all = |levels: &crate::catalogue::Levels| {
            levels.low.is_some()
                && levels.medium.is_some()
                && levels.high.is_some()
                && levels.very_high.is_some()
        };
        all(&row.phosphate)
    };
    let rows = crop.recommendations.iter().filter(applies);
    rows.enumerate()
        .max_by_key(|(at, row)| {
            (by_matter(row), row.region.is_some(), full(row), row.year, std::cmp::Reverse(*at))
        })
        .map(|(_, row)| row)
}

fn feeder(crop: &Crop) -> NeedRate {
    if crop.cover_nitrogen.is_some() {
        let rate = Figure::fixed("rate for a cover crop", Rate::ZERO, &rules::FEEDER_NEED);
        return NeedRate { basis: Basis::Feeder, rate, yield_used: None };
    }
    let pounds = match crop.feeder.value {
        FeederClass::Heavy => 150,
        FeederClass::Medium => 100,
        FeederClass::Light => 50,
    };
    let label = match crop.feeder.value {
        FeederClass::Heavy => "rate for a heavy feeder",
        FeederClass::Medium => "rate for a medium feeder",
        FeederClass::Light => "rate for a light feeder",
    };
    let rate =
        Figure::fixed(label, Rate::from_lb_per_acre(Decimal::from(pounds)), &rules::FEEDER_NEED);
    NeedRate { basis: Basis::Feeder, rate, yield_used: None }
}
