//! Phosphate and potash: what a bed needs in a year.

use rust_decimal::Decimal;

use super::ground::Strip;
use super::need::choose_row;
use super::rules;
use super::soil::Soil;
use super::yields;
use crate::catalogue::{Class, Crop, Levels};
use crate::figure::{Figure, Rule};
use crate::nutrient::Nutrient;
use crate::quantity::{Area, Mass, Rate, Share, Spread};
use crate::season::{Garden, Planting, Said};

/// Why one planting needs what it does of one nutrient.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MineralBasis {
    /// The laboratory's or adviser's own rate.
    Given,
    /// A bulletin's row for the soil class.
    Row,
    /// What the harvest carries away.
    Removal,
    /// No figure is known.
    Unknown,
}

/// What one planting needs per area, before succession is looked at.
#[derive(Clone, Debug)]
pub struct MineralRate {
    /// Why.
    pub basis: MineralBasis,
    /// A given or published rate.
    pub published: Option<Figure<Rate>>,
    /// What the harvest carries away, times the class factor.
    pub removal: Option<Figure<Rate>>,
}

/// What one planting needs of phosphate or potash per area.
pub fn rate(garden: &Garden, soil: &Soil, planting: &Planting, nutrient: Nutrient) -> MineralRate {
    let removal = removed(planting, nutrient).map(|removed| by_factor(soil, nutrient, &removed));
    let given = match nutrient {
        Nutrient::Nitrogen => None,
        Nutrient::Phosphate => planting.given.phosphate,
        Nutrient::Potash => planting.given.potash,
    };
    if let Some(given) = given {
        let published = Some(read_given(soil, nutrient, given));
        return MineralRate { basis: MineralBasis::Given, published, removal };
    }
    let published = from_row(garden, soil, &planting.crop.value, nutrient);
    let basis = match (&published, &removal) {
        (Some(_), _) => MineralBasis::Row,
        (None, Some(_)) => MineralBasis::Removal,
        (None, None) => MineralBasis::Unknown,
    };
    MineralRate { basis, published, removal }
}

/// The class a nutrient's sums go by; nothing without a test.
fn class(soil: &Soil, nutrient: Nutrient) -> Option<Class> {
    soil.class(nutrient).map(|worded| worded.class)
}

/// A given range: the low end at target or above, which is also taken where nothing is known of the
/// soil, else the middle.
fn read_given(soil: &Soil, nutrient: Nutrient, given: Said<Spread<Rate>>) -> Figure<Rate> {
    let end = |label, value| Figure::said(label, value, given.place);
    let Spread { low, high } = given.value;
    if low == high {
        return end("rate given", low).by("rate given", &rules::GIVEN_NEED);
    }
    let (low, high) = (end("low end", low), end("high end", high));
    if class(soil, nutrient).is_none_or(|class| class >= Class::Target) {
        return low
            .chosen("the soil is at target or above, or taken to be", &[&high])
            .by("rate given", &rules::GIVEN_NEED);
    }
    let half = fixed_share("half", Decimal::new(5, 1), &rules::GIVEN_NEED);
    (&(&low + &high) * &half).by("rate given, middle of the range", &rules::GIVEN_NEED)
}

fn fixed_share(label: &'static str, fraction: Decimal, rule: &'static Rule) -> Figure<Share> {
    Figure::fixed(label, Share::from_fraction(fraction), rule)
}

fn levels(row: &crate::catalogue::Recommendation, nutrient: Nutrient) -> &Levels {
    if nutrient == Nutrient::Phosphate { &row.phosphate } else { &row.potash }
}

fn from_row(garden: &Garden, soil: &Soil, crop: &Crop, nutrient: Nutrient) -> Option<Figure<Rate>> {
    let row = choose_row(garden, soil, crop, |row| levels(row, nutrient).low.is_some())?;
    let cells = levels(row, nutrient);
    let listed = |label, value| Figure::listed(label, value, "crops", &crop.name, &row.source);
    let low = listed("rate for a low soil", cells.low?);
    let part = |cell: Option<Rate>, label: &'static str, hundredths: i64| match cell {
        Some(rate) => listed(label, rate),
        None => {
            let share =
                fixed_share("of the low rate", Decimal::new(hundredths, 2), &rules::BLANK_CELL);
            (&low * &share).by(label, &rules::BLANK_CELL)
        }
    };
    let medium = || part(cells.medium, "rate for a medium soil", 50);
    let target = || part(cells.high, "rate for a soil at target", 25);
    let named = |figure: Figure<Rate>| figure.by("rate by soil class", &rules::ROW_BY_CLASS);
    let Some(worded) = soil.class(nutrient) else {
        return Some(untested(soil, nutrient, &target()));
    };
    Some(match worded.class {
        Class::VeryLow => named(low),
        Class::Low if worded.word.starts_with('m') => named(medium()),
        Class::Low => named(low),
        Class::Target => named(target()),
        Class::High => {
            let half = fixed_share("half", Decimal::new(5, 1), &rules::HALF_ABOVE_TARGET);
            (&target() * &half).by("rate by soil class", &rules::HALF_ABOVE_TARGET)
        }
        Class::VeryHigh => named(part(cells.very_high, "rate for a very high soil", 0)),
    })
}

/// Without a test: none or half on a bed long fed with compost or manure, else as at target.
fn untested(soil: &Soil, nutrient: Nutrient, target: &Figure<Rate>) -> Figure<Rate> {
    (target * &untested_factor(soil, nutrient))
        .by("rate without a soil test", &rules::NO_TEST_FACTOR)
}

fn untested_factor(soil: &Soil, nutrient: Nutrient) -> Figure<Share> {
    let tenths = match (soil.long_fed, nutrient) {
        (false, _) => 10,
        (true, Nutrient::Phosphate) => 0,
        (true, _) => 5,
    };
    fixed_share("factor without a soil test", Decimal::new(tenths, 1), &rules::NO_TEST_FACTOR)
}

/// What the harvest carries away per area; nothing where the yield or the content is not known.
pub fn removed(planting: &Planting, nutrient: Nutrient) -> Option<Figure<Rate>> {
    let crop = &planting.crop.value;
    let content = content_of(crop, nutrient)?;
    let used = yields::for_removal(planting)?;
    Some((&used.rate * &content).by("carried away by the harvest", &rules::REMOVAL_NEED))
}

/// What a fresh weight of the harvest holds, from the first set that says: the ordinance (it counts
/// no potash), the United Kingdom, food composition, New England.
pub fn content_of(crop: &Crop, nutrient: Nutrient) -> Option<Figure<Share>> {
    let sets = ["own", "ordinance", "united kingdom", "food composition", "new england"];
    sets.iter().find_map(|set| {
        crop.removals.iter().filter(|entry| entry.set == *set).find_map(|entry| {
            let share = match nutrient {
                Nutrient::Nitrogen => entry.nitrogen,
                Nutrient::Phosphate => entry.phosphate,
                Nutrient::Potash => entry.potash,
            }?;
            let label = format_args!("{} in the harvest", nutrient.formula());
            Some(Figure::listed(label, share, "crops", &crop.name, &entry.source))
        })
    })
}

fn by_factor(soil: &Soil, nutrient: Nutrient, removed: &Figure<Rate>) -> Figure<Rate> {
    let Some(class) = class(soil, nutrient) else {
        return (removed * &untested_factor(soil, nutrient))
            .by("removal without a soil test", &rules::NO_TEST_FACTOR);
    };
    let tenths = match class {
        Class::VeryLow => 20,
        Class::Low => 15,
        Class::Target => 10,
        Class::High => 5,
        Class::VeryHigh => 0,
    };
    let factor =
        fixed_share("factor of the soil class", Decimal::new(tenths, 1), &rules::CLASS_FACTOR);
    (removed * &factor).by("removal times the class factor", &rules::CLASS_FACTOR)
}

/// The need of a whole bed: strip by strip, one published rate a year and the removal of the other
/// crops, or all removals with the build-up counted once.
pub fn bed_need(
    soil: &Soil,
    nutrient: Nutrient,
    strips: &[Strip],
    rates: &[MineralRate],
    removals: &[Option<Figure<Rate>>],
) -> Figure<Mass> {
    let parts: Vec<Figure<Mass>> = strips
        .iter()
        .filter(|strip| !strip.plantings.is_empty())
        .filter_map(|strip| {
            let rate = strip_rate(soil, nutrient, strip, rates, removals)?;
            let area = Figure::fixed("ground", strip.area, &rules::PLANTING_AREA);
            Some((&rate * &area).called("need of the ground"))
        })
        .collect();
    if parts.len() == 1 {
        return parts[0].clone().by("need", &rules::NEED);
    }
    Figure::total(&parts).by("need", &rules::NEED)
}

fn strip_rate(
    soil: &Soil,
    nutrient: Nutrient,
    strip: &Strip,
    rates: &[MineralRate],
    removals: &[Option<Figure<Rate>>],
) -> Option<Figure<Rate>> {
    let on_strip = || strip.plantings.iter().map(|at| (*at, &rates[*at]));
    let published = on_strip()
        .filter_map(|(at, rate)| Some((at, rate.published.as_ref()?)))
        .max_by_key(|(at, rate)| (rate.value(), std::cmp::Reverse(*at)));
    if let Some((first, published)) = published {
        let others: Vec<&Figure<Rate>> = on_strip()
            .filter(|(at, _)| *at != first)
            .filter_map(|(_, rate)| rate.removal.as_ref())
            .collect();
        if others.is_empty() {
            return Some(published.clone());
        }
        let all = std::iter::once(published).chain(others);
        return Some(Figure::total(all).by("rate for the year", &rules::ONE_RATE));
    }
    let factored: Vec<&Figure<Rate>> =
        on_strip().filter_map(|(_, rate)| rate.removal.as_ref()).collect();
    let plain: Vec<&Figure<Rate>> =
        strip.plantings.iter().filter_map(|at| removals[*at].as_ref()).collect();
    let factored = match factored.as_slice() {
        [] => return None,
        [one] => (*one).clone(),
        all => Figure::total(all.iter().copied()).by("rate for the year", &rules::ONE_RATE),
    };
    let kilograms = match class(soil, nutrient) {
        Some(Class::VeryLow) => 60,
        Some(Class::Low) => 30,
        _ => return Some(factored),
    };
    let extra =
        Figure::fixed("build-up", Rate::from_kg_per_ha(Decimal::from(kilograms)), &rules::BUILD_UP);
    let built = &Figure::total(plain) + &extra;
    Some(Figure::greatest(&factored, &[&built]).by("rate for the year", &rules::BUILD_UP))
}

/// The most that is planned for a bed in a year.
pub fn yearly_cap(nutrient: Nutrient, area: &Figure<Area>) -> Figure<Mass> {
    let pounds = if nutrient == Nutrient::Phosphate { 200 } else { 300 };
    let cap = Figure::fixed(
        "most in a year",
        Rate::from_lb_per_acre(Decimal::from(pounds)),
        &rules::YEARLY_CAP,
    );
    (&cap * area).by("most planned in a year", &rules::YEARLY_CAP)
}
