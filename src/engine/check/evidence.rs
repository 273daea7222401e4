//! What is known of a bed, turned into signs.

use rust_decimal::Decimal;

use super::weigh::Kin;
use crate::calendar::Date;
use crate::catalogue::{Class, MaterialKind, Sign, Signs};
use crate::quantity::{Concentration, Length, Rate, Temperature};
use crate::season::Texture;

/// Below this the soil counts as cold: 50 F.
const COLD_F: i64 = 50;
/// More rain than this in ten days washes sand out: 3 in.
const LEACHING_RAIN_IN: i64 = 3;
const RAIN_DAYS: i32 = 10;
const STRAW_DAYS: i32 = 56;
const FED_DAYS: i32 = 10;
const HARVEST_DAYS: i32 = 14;
/// A shortage above this speaks for nitrogen: 30 lb/acre.
const SHORT_LB_PER_ACRE: i64 = 30;
/// Below this soil nitrate is low whatever the crop: 10 ppm.
pub(super) const LOW_NITRATE_PPM: i64 = 10;
/// Plant matter with more carbon than this to one of nitrogen ties nitrogen up (24: United States
/// Natural Resources Conservation Service).
const TIE_UP_RATIO: i64 = 24;

/// Where a piece of evidence comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum From {
    /// Seen, and said so.
    Seen,
    /// A nitrate test, against the crop's critical level.
    Nitrate {
        /// What was found.
        found: Concentration,
        /// The critical level.
        critical: Concentration,
    },
    /// A pH.
    Acidity(Decimal),
    /// A soil test for phosphorus.
    Phosphorus(Class),
    /// The soil temperature that the garden's climate gives for the day.
    SoilTemperature(Temperature),
    /// Rain of the last ten days.
    Rain(Length),
    /// Something that was spread.
    Spread {
        /// Its name.
        material: String,
        /// When.
        on: Date,
    },
    /// Days to the harvest.
    Harvest(i32),
    /// The bed's nitrogen budget on the day: how much is short, or below zero how much is left.
    Budget(Rate),
}

/// One sign with where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Evidence<'a> {
    /// The sign.
    pub sign: &'a Sign,
    /// Where it comes from.
    pub from: From,
}

/// Something spread on the bed this season.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recent {
    /// Its name.
    pub material: String,
    /// What it is.
    pub kind: MaterialKind,
    /// Carbon to nitrogen ratio, where known.
    pub carbon_nitrogen: Option<Decimal>,
    /// Whether it was mixed into the soil.
    pub mixed: bool,
    /// When.
    pub on: Date,
}

/// What is known of the bed and its crop on a day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Situation {
    /// The day.
    pub today: Date,
    /// What kin the crop is of.
    pub kin: Kin,
    /// Its harvest, or the last one of a crop picked over.
    pub harvest: Date,
    /// Soil texture, where known.
    pub texture: Option<Texture>,
    /// Soil temperature at 4 in by the garden's climate; nothing where that is only assumed.
    pub soil_temperature: Option<Temperature>,
    /// Rain events: last day and depth. None under plastic.
    pub rain: Vec<(Date, Length)>,
    /// What was spread this season.
    pub spread: Vec<Recent>,
    /// Soil nitrate nitrogen, where measured now.
    pub nitrate: Option<Concentration>,
    /// The level at which the crop needs no more.
    pub critical: Concentration,
    /// pH, where known.
    pub acidity: Option<Decimal>,
    /// Class of phosphorus, where tested.
    pub phosphorus: Option<Class>,
    /// The bed's nitrogen budget today: how much is short, or below zero how much is left.
    pub budget: Option<Rate>,
}

impl Situation {
    /// Rain of the last ten days.
    pub fn recent_rain(&self) -> Length {
        let recent = |on: &Date| *on <= self.today && self.today - *on <= RAIN_DAYS;
        self.rain.iter().filter(|(on, _)| recent(on)).map(|(_, depth)| *depth).sum()
    }

    /// Whether rain has washed a sandy bed out lately.
    pub fn washed_out(&self) -> bool {
        self.texture == Some(Texture::Sand)
            && self.recent_rain() > Length::from_inch(LEACHING_RAIN_IN.into())
    }
}

/// Gathers the evidence: what was seen, and what the situation adds to it. What was seen outranks
/// what is only reckoned: no sign is added that one seen excludes.
pub fn gather<'a>(signs: &'a Signs, seen: &[&'a Sign], situation: &Situation) -> Vec<Evidence<'a>> {
    let mut all: Vec<Evidence<'a>> =
        seen.iter().map(|sign| Evidence { sign, from: From::Seen }).collect();
    for (key, from) in reckoned(situation) {
        let Some(sign) = signs.sign(key) else { continue };
        let known = |one: &Evidence<'_>| {
            one.sign.key == key || one.sign.excludes.iter().any(|other| other == key)
        };
        if situation.kin.fits(sign.only) && !all.iter().any(known) {
            all.push(Evidence { sign, from });
        }
    }
    all
}

fn reckoned(situation: &Situation) -> Vec<(&'static str, From)> {
    let mut found = Vec::new();
    nitrate(situation, &mut found);
    if let Some(ph) = situation.acidity {
        if ph > Decimal::new(73, 1) {
            found.push(("soil-limy", From::Acidity(ph)));
        } else if ph < Decimal::new(58, 1) {
            found.push(("soil-acid", From::Acidity(ph)));
        }
    }
    match situation.phosphorus {
        Some(class @ (Class::VeryLow | Class::Low)) => {
            found.push(("phosphate-low", From::Phosphorus(class)));
        }
        Some(class @ (Class::High | Class::VeryHigh)) => {
            found.push(("phosphate-high", From::Phosphorus(class)));
        }
        Some(Class::Target) | None => {}
    }
    if let Some(soil) = situation.soil_temperature
        && soil < Temperature::from_fahrenheit(COLD_F.into())
    {
        found.push(("soil-cold", From::SoilTemperature(soil)));
    }
    if situation.washed_out() {
        found.push(("leaching-rain", From::Rain(situation.recent_rain())));
    }
    spread(situation, &mut found);
    let days = situation.harvest - situation.today;
    if (0..=HARVEST_DAYS).contains(&days) {
        found.push(("near-harvest", From::Harvest(days)));
    }
    // A nitrate test outranks the budget, for and against.
    if let Some(short) = situation.budget.filter(|_| situation.nitrate.is_none()) {
        if short > Rate::from_lb_per_acre(SHORT_LB_PER_ACRE.into()) {
            found.push(("budget-short", From::Budget(short)));
        } else if short <= Rate::ZERO {
            found.push(("budget-met", From::Budget(short)));
        }
    }
    found
}

fn nitrate(situation: &Situation, found: &mut Vec<(&'static str, From)>) {
    let Some(nitrate) = situation.nitrate else { return };
    let from = From::Nitrate { found: nitrate, critical: situation.critical };
    let key = if nitrate >= situation.critical {
        "nitrate-enough"
    } else if nitrate < Concentration::from_ppm(LOW_NITRATE_PPM.into()) {
        "nitrate-low"
    } else {
        "nitrate-short"
    };
    found.push((key, from));
}

fn spread(situation: &Situation, found: &mut Vec<(&'static str, From)>) {
    let days = |one: &Recent| situation.today - one.on;
    let mut last = |key: &'static str, fits: &dyn Fn(&Recent) -> bool| {
        let fitting = situation.spread.iter().filter(|one| one.on <= situation.today && fits(one));
        if let Some(one) = fitting.max_by_key(|one| one.on) {
            found.push((key, From::Spread { material: one.material.clone(), on: one.on }));
        }
    };
    last("raw-straw", &|one| {
        let ties_up = one.carbon_nitrogen.is_some_and(|ratio| ratio > TIE_UP_RATIO.into());
        one.kind == MaterialKind::PlantMatter && ties_up && one.mixed && days(one) <= STRAW_DAYS
    });
    last("hay-or-manure", &|one| {
        let name = one.material.to_lowercase();
        matches!(one.kind, MaterialKind::Compost | MaterialKind::Manure)
            || one.kind == MaterialKind::PlantMatter
                && (name.contains("hay") || name.contains("straw"))
    });
    last("just-fed", &|one| {
        let salty = matches!(one.kind, MaterialKind::Mineral | MaterialKind::PoultryManure);
        salty && days(one) <= FED_DAYS
    });
}
