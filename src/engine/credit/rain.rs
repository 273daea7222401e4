//! Nitrate that heavy rain carries below the roots.

use rust_decimal::Decimal;

use super::{Credit, CreditKind, Plot, Shape};
use crate::calendar::Date;
use crate::engine::life::curve_of;
use crate::engine::rules;
use crate::engine::setting::date_step;
use crate::engine::timeline;
use crate::figure::{Figure, Step};
use crate::quantity::{Length, Mass, Quantity, Share, share_from_float, to_float};
use crate::season::{Rain, Texture};

/// Days before ammonium that was spread counts as nitrate.
const NITRIFYING_DAYS: i32 = 14;

/// What each heavy rain in the life of a planting takes, as debts; none under plastic.
pub fn losses(plot: &Plot<'_>, credits: &[Credit]) -> Vec<Credit> {
    if plot.bed.under_plastic {
        return Vec::new();
    }
    let mut rains: Vec<&Rain> = plot.bed.rain.iter().collect();
    rains.sort_by_key(|rain| rain.on.value);
    let mut out: Vec<Credit> = Vec::new();
    for rain in rains {
        let day = rain.on.value;
        let lived = plot.life.planted <= day && day <= plot.life.end;
        if !lived || plot.reset().is_some_and(|reset| reset >= day) {
            continue;
        }
        let known: Vec<&Credit> = credits.iter().chain(&out).collect();
        if let Some(loss) = loss(plot, &known, rain) {
            out.push(loss);
        }
    }
    out
}

fn loss(plot: &Plot<'_>, credits: &[&Credit], rain: &Rain) -> Option<Credit> {
    let day = rain.on.value;
    let share = washed_share(plot, rain)?;
    let unused = unused_nitrate(plot, credits, day)?;
    let lost = (&unused * &share).by("washed below the roots", &rules::RAIN);
    let none = Figure::fixed("nothing", Mass::ZERO, &rules::RAIN);
    let label = format!("rain of {}", day.within(plot.life.end.year()));
    let debt = (&none - &lost).by(label.clone(), &rules::RAIN);
    Some(Credit::new(CreditKind::Rain, label, debt, Shape::Evenly(day - 1, day)))
}

/// The share of the nitrate in reach that drains away; nothing where no water drains.
fn washed_share(plot: &Plot<'_>, rain: &Rain) -> Option<Figure<Share>> {
    let inch = |digits: i64, places: u32| Length::from_inch(Decimal::new(digits, places));
    let (held, moved) = match plot.soil.texture {
        Texture::Sand => (inch(5, 1), 12),
        Texture::Loam => (inch(1, 0), 6),
        Texture::Clay => (inch(12, 1), 6),
    };
    let depth = Figure::said("rain", rain.depth.value, rain.depth.place);
    let held = Figure::fixed("held by the soil", held, &rules::RAIN);
    let drained = (&depth - &held).at_least_zero().called("drained");
    if drained.is_zero() {
        return None;
    }
    let moved = Share::from_fraction(Decimal::from(moved));
    let moved =
        Figure::fixed("depth that nitrate moves for each depth drained", moved, &rules::RAIN);
    let reached = (&drained * &moved).called("depth that nitrate moved");
    let share =
        reached.ratio_to(&super::nitrate::rooting_depth(plot))?.called("of the rooting depth");
    let whole = Figure::fixed("the whole", Share::WHOLE, &rules::RAIN);
    Some(Figure::least(&share, &[&whole]).by("share washed away", &rules::RAIN))
}

/// Nitrate that has come free by the day and is not taken up yet; nothing where there is none.
fn unused_nitrate(plot: &Plot<'_>, credits: &[&Credit], day: Date) -> Option<Figure<Mass>> {
    let at = usize::try_from(day - plot.life.planted).ok()?;
    let climate = &plot.setting.climate;
    let free: f64 = credits
        .iter()
        .map(|credit| {
            let by_day =
                timeline::shaped(climate, &plot.life, &credit.shape, credit.nitrogen.value());
            by_day.get(at).copied().unwrap_or_default() - still_ammonium(credit, day)
        })
        .sum();
    let curve = curve_of(&plot.planting.crop.value.curve.value);
    let since = plot.reset().map_or(0.0, |reset| plot.life.taken_by(&curve, climate, reset));
    let taken =
        to_float(plot.need.value().kg()) * (plot.life.taken_by(&curve, climate, day) - since);
    let unused = Mass::from_kg(share_from_float(free - taken));
    (unused > Mass::ZERO).then(|| {
        // The curves are reckoned in floats; the value is kept with the day it is for.
        let operands = || {
            let label = "nitrate free and not yet taken up";
            let (origin, rule) = (crate::figure::Origin::Calendar, Some(&rules::RAIN));
            vec![Step::leaf(label, unused.amount(), origin, rule), date_step("on", day)]
        };
        Figure::computed("nitrate in reach", &rules::RAIN, unused, operands, |of| of[0])
    })
}

/// Kilograms of a credit that were spread as ammonium too lately to be nitrate.
fn still_ammonium(credit: &Credit, day: Date) -> f64 {
    let Shape::Releasing(parts) = &credit.shape else { return 0.0 };
    parts
        .iter()
        .filter(|part| part.on <= day && day - part.on < NITRIFYING_DAYS)
        .map(|part| to_float(part.nitrogen.kg()) * part.ammonium)
        .sum()
}
