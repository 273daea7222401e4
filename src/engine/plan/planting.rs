//! The nitrogen budget of one planting.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::calendar::Date;
use crate::catalogue::{Crop, FeederClass};
use crate::engine::ceiling;
use crate::engine::credit::{self, Credit, CreditKind, Plot};
use crate::engine::life::{Life, curve_of};
use crate::engine::need::Basis;
use crate::engine::rules;
use crate::engine::setting::date_step;
use crate::engine::side_dress::Shortage;
use crate::engine::yields::YieldUsed;
use crate::figure::{Figure, Step};
use crate::quantity::{Area, Length, Mass, Quantity, Rate, Share, share_from_float};
use crate::season::Texture;

use super::changes::Change;

/// The plan of one planting.
#[derive(Clone, Debug)]
pub struct PlantingPlan {
    /// Index within the bed.
    pub index: usize,
    /// The crop.
    pub crop: Arc<Crop>,
    /// Its name in paths.
    pub slug: Arc<str>,
    /// Its ground; nothing in containers whose surface is not said.
    pub area: Option<Figure<Area>>,
    /// Its life.
    pub life: Life,
    /// What the nitrogen need rests on.
    pub basis: Basis,
    /// The need per area, on open ground.
    pub need_rate: Option<Figure<Rate>>,
    /// The yield it was reckoned at, on the supply basis.
    pub yield_used: Option<YieldUsed>,
    /// Nitrogen it must still find.
    pub need: Figure<Mass>,
    /// Nitrogen that a perennial must find after its harvest, on top of that.
    pub after_harvest: Option<Figure<Mass>>,
    /// Nitrogen taken before a nitrate test, where one was taken in its life.
    pub already_taken: Option<Figure<Mass>>,
    /// What feeds it already.
    pub credits: Vec<Credit>,
    /// All credits added up.
    pub credit: Figure<Mass>,
    /// What is short, with its likely range.
    pub shortfall: Figure<Mass>,
    /// What the credits bring beyond the need.
    pub surplus: Figure<Mass>,
    /// The ceiling less other additions; nothing where there is none.
    pub ceiling: Option<Figure<Mass>>,
    /// What is planned.
    pub planned: Figure<Mass>,
    /// What is short but above the ceiling, and so not planned.
    pub not_planned: Figure<Mass>,
    /// Nitrogen wanted at planting.
    pub starter: Figure<Mass>,
    /// Whether its side-dressings wait for a nitrate measurement.
    pub measure_first: bool,
    /// Whether it gets no side-dressing because the soil is rich.
    pub held_back: Option<Figure<Mass>>,
    /// Nitrogen that counts in all certain doses for it.
    pub given: Figure<Mass>,
    /// What is planned but cannot be given safely or in time.
    pub not_given: Figure<Mass>,
    /// Where no side-dress plan can hold: from when, and by how much (kilograms). What is less than a
    /// trifle of the need is left out.
    pub shortage: Option<Shortage>,
    /// Where none can: what came of each change that was tried; empty where none was asked for.
    pub changes: Vec<Change>,
    /// How many plants, where known.
    pub plants: Option<Figure<Share>>,
    /// Length of row, where known.
    pub row_length: Option<Figure<Length>>,
}

impl PlantingPlan {
    /// Whether its nitrogen need is known; that of a crop in containers whose yield is not, is not.
    pub fn need_known(&self) -> bool {
        self.basis != Basis::Container || !self.need.is_zero()
    }
}

/// Need, credits and what is planned, before any dose.
#[derive(Clone, Debug)]
pub struct Ledger {
    /// Nitrogen it must still find.
    pub need: Figure<Mass>,
    /// Nitrogen taken before a nitrate test.
    pub already_taken: Option<Figure<Mass>>,
    /// What feeds it already.
    pub credits: Vec<Credit>,
    /// All credits added up.
    pub credit: Figure<Mass>,
    /// What is short.
    pub shortfall: Figure<Mass>,
    /// What is over.
    pub surplus: Figure<Mass>,
    /// The ceiling less other additions.
    pub ceiling: Option<Figure<Mass>>,
    /// What is planned.
    pub planned: Figure<Mass>,
    /// What is above the ceiling.
    pub not_planned: Figure<Mass>,
}

/// Draws up the ledger of a planting.
pub fn ledger(plot: &Plot<'_>, more: Option<Credit>) -> Ledger {
    let (need, already_taken) = need_to_come(plot);
    let mut credits = credit::all(plot);
    credits.extend(more);
    let washed = credit::losses(plot, &credits);
    credits.extend(washed);
    make_unique(&mut credits);
    let credit = Figure::total(credits.iter().map(|one| &one.nitrogen)).called("credits");
    let (low, high) = credits
        .iter()
        .map(|one| one.nitrogen.range())
        .fold((Mass::ZERO, Mass::ZERO), |(low, high), (one_low, one_high)| {
            (low + one_low, high + one_high)
        });
    let difference = &need - &credit;
    let shortfall = difference.at_least_zero().by("shortfall", &rules::SHORTFALL).between(
        (need.value() - high).at_least(Mass::ZERO),
        (need.value() - low).at_least(Mass::ZERO),
    );
    let surplus = (&credit - &need).at_least_zero().by("surplus", &rules::SURPLUS);
    let garden = &plot.setting.season.garden;
    let gross = ceiling::gross(garden, plot.soil, plot.planting, plot.basis, plot.need, &plot.area);
    let ceiling = match (gross, plot.basis) {
        (gross, Basis::Given) => gross,
        (gross, _) => gross.map(|gross| credit::ceiling_left(&gross, &credits)),
    };
    let planned = match &ceiling {
        Some(ceiling) if ceiling.value() < shortfall.value() => {
            Figure::least(&shortfall, &[ceiling])
        }
        _ => shortfall.clone(),
    }
    .by("planned", &rules::PLANNED);
    let planned = match &ceiling {
        Some(ceiling) => {
            let (low, high) = shortfall.range();
            planned.between(low.at_most(ceiling.value()), high.at_most(ceiling.value()))
        }
        None => planned,
    };
    let not_planned = (&shortfall - &planned).at_least_zero().by("not planned", &rules::CEILING);
    Ledger {
        need,
        already_taken,
        credits,
        credit,
        shortfall,
        surplus,
        ceiling,
        planned,
        not_planned,
    }
}

/// Two credits of one name get numbers in their paths.
fn make_unique(credits: &mut [Credit]) {
    for at in 1..credits.len() {
        let same = credits[..at].iter().filter(|one| one.label == credits[at].label).count();
        if same > 0 {
            credits[at].slug = format!("{}-{}", credits[at].slug, same + 1);
        }
    }
}

/// The need still to come after a nitrate test in the planting's life, and what was taken before.
fn need_to_come(plot: &Plot<'_>) -> (Figure<Mass>, Option<Figure<Mass>>) {
    let sampled = credit::sampled_in_life(plot).filter(|_| plot.basis == Basis::Supply);
    let Some(day) = sampled else { return (plot.need.clone(), None) };
    let curve = curve_of(&plot.planting.crop.value.curve.value);
    let taken = plot.life.taken_by(&curve, &plot.setting.climate, day);
    let share = Share::from_fraction(share_from_float(taken));
    let operands = || {
        let label = "share taken by then, from the uptake curve";
        let (origin, rule) = (crate::figure::Origin::Calendar, Some(&rules::NEED_TO_COME));
        let taken = Step::leaf(label, share.amount(), origin, rule);
        vec![date_step("nitrate sampled on", day), taken]
    };
    let label = "share taken before the test";
    let share = Figure::computed(label, &rules::NEED_TO_COME, share, operands, |of| of[1]);
    let taken = (plot.need * &share).by("already taken", &rules::NEED_TO_COME);
    ((plot.need - &taken).by("need still to come", &rules::NEED_TO_COME), Some(taken))
}

/// How a planting's nitrogen is to be split.
#[derive(Clone, Debug)]
pub struct Split {
    /// Nitrogen wanted at planting.
    pub starter: Figure<Mass>,
    /// Days of its side-dressings.
    pub days: Vec<Date>,
    /// The day of the one that a nitrate test made needless.
    pub cancelled: Option<Date>,
    /// Whether they wait for a measurement.
    pub measure_first: bool,
    /// Nitrogen held back because the soil is rich.
    pub held_back: Option<Figure<Mass>>,
}

/// Splits what is planned into a starter and side-dressings.
pub fn split(
    plot: &Plot<'_>,
    ledger: &Ledger,
    mut days: Vec<Date>,
    starter_material: bool,
    side_material: bool,
) -> Split {
    let planned = &ledger.planned;
    let nothing = || Figure::fixed("starter", Mass::ZERO, &rules::STARTER_SHARE);
    let crop = &plot.planting.crop.value;
    let next = cancels_next(plot).and_then(|day| days.iter().position(|one| *one > day));
    let cancelled = next.map(|at| days.remove(at));
    if crop.legume || !side_material {
        days.clear();
    }
    let plain =
        |starter, days| Split { starter, days, cancelled, measure_first: false, held_back: None };
    let planted_already = plot.setting.today.is_some_and(|today| today > plot.life.planted);
    let no_starter = plot.life.regrowth.is_some() || (planted_already && side_material);
    let rich = plot.soil.organic_matter_from(4)
        && credit::tested_on(plot).is_none()
        && plot.basis != Basis::Given;
    if plot.basis == Basis::Container || (no_starter && !rich) {
        return plain(nothing(), days);
    }
    let ordinary = match (no_starter, days.is_empty()) {
        (true, _) => nothing(),
        (false, true) => planned.clone(),
        (false, false) => ordinary_starter(plot, ledger),
    };
    if !rich {
        let starter = if starter_material || days.is_empty() { ordinary } else { nothing() };
        return plain(starter, days);
    }
    let starter = rich_starter(plot, ledger, &ordinary);
    let very_rich = plot.soil.organic_matter.value() > Share::from_percent(Decimal::from(6));
    let no_more = match crop.feeder.value {
        _ if crop.legume => true,
        FeederClass::Light => true,
        FeederClass::Medium => very_rich,
        FeederClass::Heavy => false,
    };
    if no_more {
        let rest =
            (planned - &starter).at_least_zero().by("held back on rich soil", &rules::RICH_STARTER);
        let held_back = (!rest.is_zero()).then_some(rest);
        return Split { starter, days: Vec::new(), cancelled, measure_first: false, held_back };
    }
    Split { starter, measure_first: !days.is_empty(), days, cancelled, held_back: None }
}

fn ordinary_starter(plot: &Plot<'_>, ledger: &Ledger) -> Figure<Mass> {
    let crop = &plot.planting.crop.value;
    let share = Figure::listed(
        "starter share",
        crop.starter.value,
        "crops",
        &crop.name,
        &crop.starter.source,
    );
    let quarter = Share::from_fraction(Decimal::new(25, 2));
    let share = if plot.soil.texture == Texture::Sand && share.value() > quarter {
        let quarter = Figure::fixed("a quarter, on sand", quarter, &rules::STARTER_SHARE);
        Figure::least(&share, &[&quarter]).called("starter share")
    } else {
        share
    };
    // What was written down as spread has been taken off the plan, but is part of what is split.
    let written: Vec<&Figure<Mass>> = ledger
        .credits
        .iter()
        .filter(|one| one.recorded.is_some())
        .map(|one| &one.nitrogen)
        .collect();
    if written.is_empty() {
        return (&ledger.planned * &share).by("starter", &rules::STARTER_SHARE);
    }
    let given = Figure::total(written).called("spread already");
    let whole = (&ledger.planned + &given).called("planned in all");
    let starter = (&whole * &share).called("starter in all");
    (&starter - &given).at_least_zero().by("starter", &rules::RECORDED)
}

/// On rich soil without a nitrate test: a quarter of the need less the credits except soil nitrate.
fn rich_starter(plot: &Plot<'_>, ledger: &Ledger, ordinary: &Figure<Mass>) -> Figure<Mass> {
    let quarter = Share::from_fraction(Decimal::new(25, 2));
    let quarter = Figure::fixed("a quarter", quarter, &rules::RICH_STARTER);
    let part = (plot.need * &quarter).called("a quarter of the need");
    let others = ledger.credits.iter().filter(|one| one.kind != CreditKind::SoilNitrate);
    let others = Figure::total(others.map(|one| &one.nitrogen)).called("credits but soil nitrate");
    let rich = (&part - &others).at_least_zero().called("starter on rich soil");
    if rich.value() < ordinary.value() {
        Figure::least(ordinary, &[&rich]).by("starter", &rules::RICH_STARTER)
    } else {
        ordinary.clone()
    }
}

/// The day of a nitrate test in the planting's life that found enough, where one did.
fn cancels_next(plot: &Plot<'_>) -> Option<Date> {
    let day = credit::sampled_in_life(plot)?;
    let found = plot.bed.soil.as_ref()?.nitrate?.value;
    let critical = plot.planting.crop.value.nitrate_test.as_ref()?.critical;
    (found >= critical).then_some(day)
}
