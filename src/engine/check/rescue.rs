//! Whether a crop gets a dose of nitrogen, and how much.

use rust_decimal::Decimal;

use super::rules;
use super::weigh::{Sureness, Weighed};
use crate::figure::Figure;
use crate::quantity::{Area, Concentration, Length, Mass, Positive, Rate, Share, Volume};

/// The least dose worth a walk to the bed: 20 lb/acre (proposed, the low end of what is published).
const LEAST_LB_PER_ACRE: i64 = 20;
/// What one part per million of nitrate nitrogen in the top foot comes to: about 4 lb/acre, as that
/// foot weighs about 4 million lb.
const MILLION_LB_PER_ACRE: i64 = 4_000_000;
/// Why no dose is given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Hold {
    /// The soil is saturated: not even when asked for.
    Saturated,
    /// The roots are galled or rotten: not even when asked for.
    Roots,
    /// The soil is dry: water first.
    Dry,
    /// Signs of salt.
    Salt,
    /// Another cause comes first.
    OtherCause {
        /// Its name.
        name: String,
    },
    /// The first cause is not to be told from the next.
    Unsettled,
    /// The nitrate test finds enough.
    NitrateEnough,
    /// By the budget the bed is not short.
    NotShort,
    /// The last useful day for nitrogen is past.
    TooLate,
}

impl Hold {
    /// Whether it stands even against `--anyway`.
    pub const fn stands(&self) -> bool {
        matches!(self, Self::Saturated | Self::Roots)
    }
}

/// What a dose is sized on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// What the nitrate test lacks to the critical level.
    Nitrate,
    /// What the budget is short of.
    Budget,
    /// The least dose: rain has washed the ground out, or nothing measures what is lacking.
    Least,
    /// What a container may be given at once.
    Container,
}

/// What the dose is reckoned from.
#[derive(Clone, Debug)]
pub struct RescueNeed {
    /// Nitrate at which the crop needs no more.
    pub critical: Figure<Concentration>,
    /// Nitrate found now, where tested.
    pub nitrate: Option<Figure<Concentration>>,
    /// The weight of soil that the crop's own published equation comes to, where it has one.
    pub foot: Option<Figure<Rate>>,
    /// What the budget is short of today, where it is known; below zero where it is not short.
    pub budget: Option<Figure<Rate>>,
    /// Whether rain has washed sand out lately.
    pub washed_out: bool,
    /// The crop's published rescue rate, low and high end, where there is one.
    pub published: Option<(Figure<Rate>, Figure<Rate>)>,
    /// The most that may be available at once.
    pub cap: Figure<Rate>,
    /// Whether the last useful day for nitrogen is past.
    pub too_late: bool,
}

impl RescueNeed {
    /// Whether the bed is short: a nitrate test outranks the budget, and so does rain that has
    /// washed sand out.
    pub fn short(&self) -> Option<bool> {
        match (&self.nitrate, &self.budget) {
            (Some(nitrate), _) => Some(nitrate.value() < self.critical.value()),
            (None, _) if self.washed_out => Some(true),
            (None, Some(budget)) => Some(budget.value() > Rate::ZERO),
            (None, None) => None,
        }
    }
}

/// The ground the crop stands on.
#[derive(Clone, Debug)]
pub struct Ground {
    /// Its area; nothing in containers whose surface is not said.
    pub area: Option<Figure<Area>>,
    /// All the mix in its containers; nothing on open ground.
    pub mix: Option<Figure<Volume>>,
    /// How many plants, where known.
    pub plants: Option<Figure<Share>>,
    /// Distance between rows, where known.
    pub row_spacing: Option<Figure<Length>>,
}

/// A dose of nitrogen for a crop found short.
#[derive(Clone, Debug)]
pub struct Rescue {
    /// Nitrogen that counts, per area; nothing in containers.
    pub rate: Option<Figure<Rate>>,
    /// Nitrogen that counts, for the whole planting.
    pub nitrogen: Figure<Mass>,
    /// The most that may be given at once, for the whole planting.
    pub most: Figure<Mass>,
    /// What it is sized on.
    pub basis: Basis,
}

/// Why no dose should be given, the gravest first; none where nitrogen is the likely cause, the bed
/// is short and the roots can work.
pub fn holds(weighed: &Weighed<'_>, seen: impl Fn(&str) -> bool, need: &RescueNeed) -> Vec<Hold> {
    let mut holds = Vec::new();
    if seen("saturated") {
        holds.push(Hold::Saturated);
    }
    if seen("galled-roots") || seen("rotten-roots") {
        holds.push(Hold::Roots);
    }
    if seen("soil-dry") {
        holds.push(Hold::Dry);
    }
    if seen("white-crust") || seen("tips-burnt") || seen("wilts-in-moist-soil") {
        holds.push(Hold::Salt);
    }
    match weighed.first() {
        Some(first) if weighed.sureness == Sureness::Unsettled => {
            let measured_low = first.cause.key == "nitrogen" && seen("nitrate-low");
            if !measured_low {
                holds.push(Hold::Unsettled);
            }
        }
        Some(first) if first.cause.key != "nitrogen" => {
            holds.push(Hold::OtherCause { name: first.cause.name.clone() });
        }
        _ => {}
    }
    if need.short() == Some(false) {
        let tested = need.nitrate.is_some();
        holds.push(if tested { Hold::NitrateEnough } else { Hold::NotShort });
    }
    if need.too_late {
        holds.push(Hold::TooLate);
    }
    holds
}

/// Sizes the dose for the ground. In containers it is what they may be given at once; on open ground
/// see [`rate`]. Nothing where neither area nor mix is known.
pub fn dose(need: &RescueNeed, ground: &Ground) -> Option<Rescue> {
    if let Some(mix) = &ground.mix {
        let gallon = Positive::new(Volume::from_gal(Decimal::ONE))?;
        let most = Mass::from_g(Decimal::ONE) / gallon;
        let most = Figure::fixed("most nitrogen in the mix", most, &rules::RESCUE_IN_MIX);
        let nitrogen = (&most * mix).by("rescue nitrogen", &rules::RESCUE_IN_MIX);
        let most = nitrogen.clone();
        return Some(Rescue { rate: None, nitrogen, most, basis: Basis::Container });
    }
    let (rate, basis) = rate(need);
    let area = ground.area.as_ref()?;
    let most = match &need.published {
        Some((_, high)) => Figure::least(high, &[&need.cap]),
        None => need.cap.clone(),
    };
    let most = (&most * area).called("most nitrogen at once");
    let nitrogen = (&rate * area).called("rescue nitrogen");
    Some(Rescue { rate: Some(rate), nitrogen, most, basis })
}

/// Sizes the dose per area: what the test lacks to the critical level, else what the budget is short of,
/// else the least; never below the least or the crop's published rate, never above that rate's high
/// end or the cap.
pub fn rate(need: &RescueNeed) -> (Figure<Rate>, Basis) {
    let least = Figure::fixed(
        "least dose",
        Rate::from_lb_per_acre(LEAST_LB_PER_ACRE.into()),
        &rules::LEAST_RESCUE,
    );
    let floor = match &need.published {
        Some((low, _)) => Figure::greatest(&least, &[low]),
        None => least,
    };
    let (wanted, basis) = match (&need.nitrate, &need.budget) {
        (Some(nitrate), _) => {
            let usual = || {
                let foot = Rate::from_lb_per_acre(MILLION_LB_PER_ACRE.into());
                Figure::fixed("weight of the top foot of soil", foot, &rules::SOIL_FOOT)
            };
            let foot = need.foot.clone().unwrap_or_else(usual);
            let lacking = (&need.critical - nitrate).at_least_zero().called("nitrate lacking");
            let wanted = (&lacking * &foot).by("nitrogen lacking", &rules::RESCUE_BY_TEST);
            (wanted, Basis::Nitrate)
        }
        (None, Some(budget)) if budget.value() > Rate::ZERO => (budget.clone(), Basis::Budget),
        _ => (floor.clone(), Basis::Least),
    };
    let raised = Figure::greatest(&wanted, &[&floor]);
    let nitrogen = match &need.published {
        Some((_, high)) => Figure::least(&raised, &[high, &need.cap]),
        None => Figure::least(&raised, &[&need.cap]),
    };
    (nitrogen.by("rescue rate", &rules::RESCUE), basis)
}

#[cfg(test)]
#[path = "rescue_tests.rs"]
mod tests;
