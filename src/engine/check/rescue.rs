//! The dose for a crop that is short of nitrogen, and the materials that can bring it in time
//! (rule 27).

use rust_decimal::Decimal;

use super::rules;
use super::weigh::{Sureness, Weighed};
use crate::catalogue::MaterialKind;
use crate::figure::Figure;
use crate::quantity::{
    Area, Concentration, Density, Length, Mass, Positive, Quantity, Rate, Share, Volume,
};

/// The least dose worth a walk to the bed: 20 lb/acre (proposed, the low end of what is published).
const LEAST_LB_PER_ACRE: i64 = 20;
/// What one part per million of nitrate nitrogen in the top foot comes to: about 4 lb/acre, as that
/// foot weighs about 4 million lb.
const MILLION_LB_PER_ACRE: i64 = 4_000_000;
/// A meal below this has too little nitrogen to act in time: 8 % (memory).
const LEAST_MEAL_PERCENT: i64 = 8;
/// A material that frees less than this part of its nitrogen in 21 days is no rescue (proposed).
const LEAST_FREED_PERCENT: i64 = 30;
/// From this part nitrate on, a mineral material acts at once (proposed).
const QUICK_NITRATE_PERCENT: i64 = 40;

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
}

/// What the dose is reckoned from.
#[derive(Clone, Debug)]
pub struct RescueNeed {
    /// Nitrate at which the crop needs no more.
    pub critical: Figure<Concentration>,
    /// Nitrate found now, where tested.
    pub nitrate: Option<Figure<Concentration>>,
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

/// A dose of nitrogen for a crop found short.
#[derive(Clone, Debug)]
pub struct Rescue {
    /// Nitrogen that counts, per area.
    pub nitrogen: Figure<Rate>,
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

/// Sizes the dose: what the test lacks to the critical level, else what the budget is short of,
/// else the least; never below the least or the crop's published rate, never above that rate's high
/// end or the cap.
pub fn dose(need: &RescueNeed) -> Rescue {
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
            let foot = Figure::fixed(
                "weight of the top foot of soil",
                Rate::from_lb_per_acre(MILLION_LB_PER_ACRE.into()),
                &rules::SOIL_FOOT,
            );
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
    Rescue { nitrogen: nitrogen.by("rescue dose", &rules::RESCUE), basis }
}

/// How soon a material acts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Speed {
    /// Nitrate: at once.
    Quick,
    /// Ammonium and urea: over one to three weeks.
    Steady,
    /// Rich meals: over two to four weeks in warm moist soil.
    Slow,
}

impl Speed {
    /// The words shown to people.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Quick => "quick",
            Self::Steady => "steady",
            Self::Slow => "slow",
        }
    }

    /// First and last day, counted from the feeding, on which green is to be expected in warm moist
    /// soil (memory: a soluble dose shows within 7 to 10 days, meals within 2 to 4 weeks).
    pub const fn green_after(self) -> (i32, i32) {
        match self {
            Self::Quick => (4, 10),
            Self::Steady => (7, 14),
            Self::Slow => (14, 28),
        }
    }
}

/// A material that might be given.
#[derive(Clone, Debug)]
pub struct Candidate {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: MaterialKind,
    /// Total nitrogen as a share of its weight as it comes.
    pub nitrogen: Figure<Share>,
    /// Of the total nitrogen, the share that is nitrate.
    pub nitrate: Share,
    /// Nitrogen freed within 21 days at today's soil temperature, as a share of its weight.
    pub freed: Figure<Share>,
    /// Weight per volume, where known.
    pub density: Option<Density>,
}

/// Why a material is no rescue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotARescue {
    /// Compost, manure and plant matter feed the soil, not a hungry crop.
    FeedsTheSoil,
    /// It carries no nitrogen.
    NoNitrogen,
    /// A meal too poor in nitrogen.
    TooPoor,
    /// In soil as cold as today's it frees too little within 21 days.
    TooSlowNow,
}

impl Candidate {
    /// How soon it acts, or why it is no rescue.
    ///
    /// # Errors
    /// Where it is no rescue.
    pub fn speed(&self) -> Result<Speed, NotARescue> {
        use MaterialKind::{
            AnimalMeal, Compost, Manure, Mineral, PlantMatter, PlantMeal, PoultryManure,
            SoilMineral,
        };
        let total = self.nitrogen.value();
        if total.is_zero() || self.kind == SoilMineral {
            return Err(NotARescue::NoNitrogen);
        }
        let freed_enough =
            self.freed.value() >= total * Share::from_percent(LEAST_FREED_PERCENT.into());
        match self.kind {
            Compost | Manure | PoultryManure | PlantMatter => Err(NotARescue::FeedsTheSoil),
            AnimalMeal | PlantMeal if total < Share::from_percent(LEAST_MEAL_PERCENT.into()) => {
                Err(NotARescue::TooPoor)
            }
            _ if !freed_enough => Err(NotARescue::TooSlowNow),
            AnimalMeal | PlantMeal => Ok(Speed::Slow),
            Mineral if self.nitrate >= Share::from_percent(QUICK_NITRATE_PERCENT.into()) => {
                Ok(Speed::Quick)
            }
            Mineral => Ok(Speed::Steady),
            SoilMineral => Err(NotARescue::NoNitrogen),
        }
    }
}

/// The ground the crop stands on.
#[derive(Clone, Debug)]
pub struct Plants {
    /// Its area.
    pub area: Figure<Area>,
    /// How many plants, where known.
    pub plants: Option<u32>,
    /// Distance between rows, where known.
    pub row_spacing: Option<Length>,
}

/// One material in the amount that brings the dose.
#[derive(Clone, Debug)]
pub struct Offer {
    /// Its name.
    pub name: String,
    /// How soon it acts.
    pub speed: Speed,
    /// How much for the whole planting.
    pub weight: Figure<Mass>,
    /// How much for each plant, where the plants are counted.
    pub per_plant: Option<Mass>,
    /// How much for each 10 ft (3.048 m) of row, where the rows are known.
    pub per_ten_feet: Option<Mass>,
    /// The volume of it all, where its density is known: a rough aid.
    pub volume: Option<Volume>,
}

/// The first candidate that can rescue, and then one for each other speed, in the order given.
/// The grower's own choice stands first, so it comes first where it can rescue at all.
pub fn offers(nitrogen: &Figure<Rate>, ground: &Plants, candidates: &[Candidate]) -> Vec<Offer> {
    let mut offers: Vec<Offer> = Vec::new();
    for candidate in candidates {
        let Ok(speed) = candidate.speed() else { continue };
        if offers.iter().any(|offer| offer.speed == speed) {
            continue;
        }
        offers.extend(offer(nitrogen, ground, candidate, speed));
    }
    offers
}

fn offer(
    nitrogen: &Figure<Rate>,
    ground: &Plants,
    candidate: &Candidate,
    speed: Speed,
) -> Option<Offer> {
    let wanted = (nitrogen * &ground.area).called("nitrogen for the planting");
    let weight = wanted.over(&candidate.freed)?.by("rescue weight", &rules::RESCUE_WEIGHT);
    let part = |count: Decimal| {
        Positive::new(Share::from_fraction(count))
            .map(|count| Mass::from_base(weight.value().base() / count.get().fraction()))
    };
    let per_plant = ground.plants.and_then(|plants| part(plants.into()));
    let per_ten_feet = ground.row_spacing.and_then(|spacing| {
        let strip = spacing * Length::from_ft(Decimal::TEN);
        let strips = ground.area.value().base() / Positive::new(strip)?.get().base();
        part(strips)
    });
    let volume = candidate.density.and_then(Positive::new).map(|density| weight.value() / density);
    Some(Offer { name: candidate.name.clone(), speed, weight, per_plant, per_ten_feet, volume })
}

#[cfg(test)]
#[path = "rescue_tests.rs"]
mod tests;
