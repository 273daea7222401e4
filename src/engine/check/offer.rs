//! Materials that can rescue in time, and how much of each.

use rust_decimal::Decimal;

use super::rescue::{Basis, Ground, Rescue};
use super::rules;
use crate::catalogue::MaterialKind;
use crate::engine::dose::weigh_under;
use crate::figure::Figure;
use crate::quantity::{Density, Length, Mass, Positive, Quantity, Share, UnitSystem, Volume};

/// A meal below this has too little nitrogen to act in time: 8 % (memory).
const LEAST_MEAL_PERCENT: i64 = 8;
/// A material that frees less than this part of its nitrogen in 21 days is no rescue (proposed).
const LEAST_FREED_PERCENT: i64 = 30;
/// From this part nitrate on, a mineral material acts at once (proposed).
const QUICK_NITRATE_PERCENT: i64 = 40;

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
    /// Whether the grower named it for side-dressing or has it in the shed.
    pub own: bool,
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
    pub per_plant: Option<Figure<Mass>>,
    /// How much for each 10 ft (3.048 m) of row, where the rows are known.
    pub per_ten_feet: Option<Figure<Mass>>,
    /// The volume of it all, where its density is known: a rough aid.
    pub volume: Option<Volume>,
}

/// The first candidate that can rescue, and then one for each other speed, in the order given.
/// The grower's own choice stands first, so it comes first where it can rescue at all.
///
/// Weights are rounded to the scales of the unit system, and never above what may be given at once.
pub fn offers(
    rescue: &Rescue,
    ground: &Ground,
    candidates: &[Candidate],
    units: UnitSystem,
) -> Vec<Offer> {
    let mut offers: Vec<Offer> = Vec::new();
    for candidate in candidates {
        let Ok(speed) = candidate.speed() else { continue };
        if offers.iter().any(|offer| offer.speed == speed) {
            continue;
        }
        offers.extend(offer(rescue, ground, candidate, speed, units));
    }
    offers
}

fn offer(
    rescue: &Rescue,
    ground: &Ground,
    candidate: &Candidate,
    speed: Speed,
    units: UnitSystem,
) -> Option<Offer> {
    let exact = rescue.nitrogen.over(&candidate.freed)?.by("rescue weight", &rules::RESCUE_WEIGHT);
    // Roots in containers cannot grow away from what is put on them: there all the nitrogen counts.
    let counted = match rescue.basis {
        Basis::Container => &candidate.nitrogen,
        _ => &candidate.freed,
    };
    let most = rescue.most.over(counted)?.called("most at once");
    let weight = weigh_under(&exact, &most, units);
    let each = ground.plants.as_ref().and_then(|plants| weight.over(plants));
    let per_plant = each.map(|each| each.called("for each plant"));
    let ten_feet =
        ground.area.as_ref().zip(ground.row_spacing.as_ref()).and_then(|(area, spacing)| {
            let length =
                Figure::fixed("length of row", Length::from_ft(Decimal::TEN), &rules::TEN_FEET);
            let part = (spacing * &length).called("ground of 10 ft of row").ratio_to(area)?;
            Some((&weight * &part).called("for 10 ft of row"))
        });
    let volume = candidate.density.and_then(Positive::new).map(|density| weight.value() / density);
    Some(Offer {
        name: candidate.name.clone(),
        speed,
        weight,
        per_plant,
        per_ten_feet: ten_feet,
        volume,
    })
}

#[cfg(test)]
#[path = "offer_tests.rs"]
mod tests;
