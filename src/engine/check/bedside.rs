//! From what was said, planned and recorded of a bed to what a check weighs.

use rust_decimal::Decimal;

use super::answer::Asked;
use super::evidence::{Recent, Situation};
use super::offer::Candidate;
use super::rescue::{Ground, RescueNeed};
use super::weigh::Kin;
use crate::calendar::Date;
use crate::catalogue::{Crop, Sign, Signs};
use crate::engine::area;
use crate::engine::content::density;
use crate::engine::credit::released_share;
use crate::engine::critical;
use crate::engine::dose::{Feeds, Ready, cap, timing};
use crate::engine::plan::{BedPlan, PlantingPlan};
use crate::engine::setting::Setting;
use crate::figure::Figure;
use crate::quantity::{Concentration, Positive, Rate, Share, Temperature, share_from_float};
use crate::record::Applied;
use crate::season::{Bed, Overrides, Placed, Stuff};

/// From this month on a harvested perennial is fed no more: September (proposed).
const FIRST_LATE_MONTH: u8 = 9;
/// A rescue must come free within so many days.
const RESCUE_DAYS: i32 = 21;
/// Materials offered beside the grower's own, one for each speed, the plainest of its kind first.
const USUAL: [&str; 3] = ["calcium nitrate", "ammonium sulfate", "blood meal"];

/// A planting on a day, with all that is known of it.
#[derive(Debug)]
pub struct Bedside<'a> {
    /// The season and its climate.
    pub setting: &'a Setting<'a>,
    /// The bed's plan.
    pub plan: &'a BedPlan,
    /// The planting's plan.
    pub planting: &'a PlantingPlan,
    /// What is recorded on the bed this season.
    pub applied: &'a [Applied],
    /// The day.
    pub today: Date,
    /// Soil nitrate measured now.
    pub nitrate: Option<Concentration>,
    /// pH measured now; that of the soil test where not given.
    pub acidity: Option<Decimal>,
    /// The nitrogen budget today: how much is short, or below zero how much is left
    /// (see [`budget_today`](super::budget_today)).
    pub budget: Option<Figure<Rate>>,
}

/// What kin a crop is of.
pub fn kin_of(crop: &Crop) -> Kin {
    let latin = crop.latin.as_deref().unwrap_or_default();
    Kin { cabbage_family: crop.brassica, corn: latin.starts_with("Zea mays") }
}

impl<'a> Bedside<'a> {
    /// Puts together what a check of the planting weighs.
    pub fn ask(&self, signs: &'a Signs, seen: Vec<&'a Sign>, anyway: bool) -> Asked<'a> {
        let critical = self.critical();
        let situation = self.situation(critical.value());
        let need = self.need(critical, &situation);
        Asked {
            signs,
            seen,
            situation,
            need,
            ground: self.ground(),
            candidates: self.candidates(),
            anyway,
            units: self.setting.units,
        }
    }

    fn bed(&self) -> &Bed {
        &self.setting.season.beds[self.plan.index]
    }

    fn manured(&self) -> bool {
        self.spread().iter().any(|one| one.kind.is_manure())
    }

    fn critical(&self) -> Figure<Concentration> {
        critical::level(&self.planting.crop, self.manured())
    }

    fn situation(&self, critical: Concentration) -> Situation {
        let bed = self.bed();
        let soil = &self.plan.soil;
        let climate = &self.setting.climate;
        let temperature = || {
            let celsius = share_from_float(climate.soil_temperature(self.today));
            Temperature::from_celsius(celsius)
        };
        let said = bed.soil.as_ref().and_then(|test| test.ph).map(|ph| ph.value);
        let rain = bed.rain.iter().map(|rain| (rain.on.value, rain.depth.value));
        Situation {
            today: self.today,
            kin: kin_of(&self.planting.crop),
            harvest: self.planting.life.end,
            texture: (!soil.texture_assumed).then_some(soil.texture),
            soil_temperature: (!climate.assumed()).then(temperature),
            rain: if bed.under_plastic { Vec::new() } else { rain.collect() },
            spread: self.spread(),
            nitrate: self.nitrate,
            critical,
            acidity: self.acidity.or(said),
            phosphorus: soil.phosphorus.as_ref().map(|worded| worded.class),
            budget: self.budget.as_ref().map(Figure::value),
        }
    }

    /// What was spread on the bed up to today: this season's amendments and what is recorded.
    fn spread(&self) -> Vec<Recent> {
        let recent = |stuff: &Stuff, placed: Option<Placed>, on: Date| Recent {
            material: stuff.material.name.clone(),
            kind: stuff.material.kind,
            carbon_nitrogen: stuff
                .overrides
                .carbon_nitrogen
                .map(|said| said.value)
                .or(stuff.material.carbon_nitrogen.map(|ratio| ratio.0)),
            mixed: placed != Some(Placed::Surface),
            on,
        };
        let amended = self
            .bed()
            .amendments
            .iter()
            .map(|one| recent(&one.stuff, one.placed.map(|placed| placed.value), one.on.value));
        let recorded = self.applied.iter().map(|one| recent(&one.stuff, one.placed, one.on));
        amended.chain(recorded).filter(|one| one.on <= self.today).collect()
    }

    fn need(&self, critical: Figure<Concentration>, situation: &Situation) -> RescueNeed {
        let crop = &self.planting.crop;
        let listed =
            |label, rate, source: &str| Figure::listed(label, rate, "crops", &crop.name, source);
        let published = crop.rescue.as_ref().map(|rescue| {
            let both = rescue.nitrogen;
            (
                listed("least published rescue", both.low, &rescue.source),
                listed("most published rescue", both.high, &rescue.source),
            )
        });
        // One part per million of a foot of soil is a millionth of its weight.
        let foot = crop.nitrate_test.as_ref().and_then(|test| {
            let part = Positive::new(Share::from_base(Decimal::new(1, 6)))?;
            Some(listed("weight of soil in the equation", test.per_ppm? / part, &test.source))
        });
        RescueNeed {
            critical,
            nitrate: self.nitrate.map(|found| Figure::asked("nitrate found", found)),
            foot,
            budget: self.budget.clone(),
            washed_out: situation.washed_out(),
            published,
            cap: self.cap(),
            too_late: self.too_late(),
        }
    }

    /// Whether the last useful day for nitrogen is past. A perennial that has been harvested feeds
    /// next year's growth while its leaves are green; from September on it would only be kept soft
    /// for the winter, or the nitrogen lost (rule 17: from October on all stands still).
    fn too_late(&self) -> bool {
        let (crop, life) = (&self.planting.crop, &self.planting.life);
        if crop.perennial && self.today > life.harvest {
            return self.today.month() >= FIRST_LATE_MONTH;
        }
        self.today > timing::last_useful(crop, life)
    }

    fn cap(&self) -> Figure<Rate> {
        let planting = &self.bed().plantings[self.planting.index];
        cap::figure(planting, self.planting.life.planted, self.today)
    }

    fn ground(&self) -> Ground {
        let planting = &self.bed().plantings[self.planting.index];
        Ground {
            area: self.planting.area.clone(),
            mix: self.plan.mix.clone(),
            plants: self.planting.plants.clone(),
            row_spacing: area::row_spacing(planting),
        }
    }

    /// The grower's side-dressings, then the shed, then one usual material for each speed; but what
    /// holds as much phosphate and potash as nitrogen comes after what is mostly nitrogen.
    fn candidates(&self) -> Vec<Candidate> {
        let season = self.setting.season;
        let mut all: Vec<(bool, Candidate)> = Vec::new();
        let mut add = |ready: &Ready, own: bool| {
            if !all.iter().any(|(_, one)| one.name == ready.name()) {
                let shares = &ready.content.shares;
                let others = shares.phosphate.value() + shares.potash.value();
                all.push((shares.nitrogen.value() <= others, self.candidate(ready, own)));
            }
        };
        let feeds = Feeds::of(season, self.bed());
        for ready in &feeds.side {
            add(ready, !feeds.assumed);
        }
        for item in &season.shed {
            add(&Ready::of(&item.stuff), true);
        }
        for material in USUAL.iter().filter_map(|name| season.catalogue.material(name)) {
            if season.garden.organic && !material.organic {
                continue;
            }
            let place = crate::figure::Place::default();
            add(&Ready::of(&Stuff { material, overrides: Overrides::default(), place }), false);
        }
        all.sort_by_key(|(balanced, _)| *balanced);
        all.into_iter().map(|(_, candidate)| candidate).collect()
    }

    fn candidate(&self, ready: &Ready, own: bool) -> Candidate {
        let total = &ready.content.shares.nitrogen;
        let release = &ready.content.release.typical;
        let by = self.today + RESCUE_DAYS;
        let share =
            released_share(self.setting, &ready.content, release, self.today, self.today - 1, by);
        Candidate {
            name: ready.name().to_owned(),
            kind: ready.stuff.material.kind,
            nitrogen: total.clone(),
            nitrate: nitrate_part(&ready.stuff, total.value()),
            freed: (total * &share).called("N that comes free within 21 days"),
            density: density(&ready.stuff).map(|figure| figure.value()),
            own,
        }
    }
}

/// Of the total nitrogen, the part that is nitrate.
fn nitrate_part(stuff: &Stuff, total: Share) -> Share {
    let said = stuff.overrides.nitrate.map(|said| said.value);
    match said.zip(Positive::new(total)) {
        Some((nitrate, total)) => nitrate / total,
        None => stuff.material.nitrate_share.unwrap_or_default(),
    }
}
