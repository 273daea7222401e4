//! What was assumed for a bed, and what would settle it.

use super::BedPlan;
use crate::engine::credit::CreditKind;
use crate::engine::minerals::{MineralBasis, content_of};
use crate::engine::need::Basis;
use crate::engine::setting::Setting;
use crate::nutrient::Nutrient;
use crate::season::Bed;

/// Something assumed, and what would settle it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Assumption {
    /// What was assumed.
    pub assumed: String,
    /// What would settle it.
    pub settle: &'static str,
}

const SOIL_TEST: &str = "a soil test";
const NITRATE_TEST: &str = "a nitrate test";
const CLIMATE: &str = "the mean air temperature of the warmest and the coldest month";
const OWN_YIELD: &str = "your own yield";
const ANALYSIS: &str = "a laboratory analysis";

/// All assumptions of a bed, in the order of the reckoning.
pub(super) fn of(
    setting: &Setting<'_>,
    bed: &Bed,
    plan: &BedPlan,
    feeds_assumed: bool,
) -> Vec<Assumption> {
    let mut all = Vec::new();
    let mut add = |assumed: String, settle| all.push(Assumption { assumed, settle });
    let open = plan.mix.is_none();
    if open && plan.soil.texture_assumed {
        add(
            format!("{} soil", plan.soil.texture.word()),
            "a handful of moist soil, felt between the fingers",
        );
    }
    if open && !plan.soil.organic_matter_measured {
        let percent = plan.soil.organic_matter.value().percent().normalize();
        add(format!("{percent} % organic matter"), SOIL_TEST);
    }
    for (nutrient, word) in [(Nutrient::Phosphate, "phosphorus"), (Nutrient::Potash, "potassium")] {
        let asked = plan.mineral(nutrient).bases.iter().any(|basis| *basis != MineralBasis::Given);
        if open && asked && plan.soil.class(nutrient).is_none() {
            let level = match (plan.soil.long_fed, nutrient) {
                (false, _) => "at target",
                (true, Nutrient::Phosphate) => "ample after years of compost",
                (true, _) => "half ample after years of compost",
            };
            add(format!("{word} {level}"), SOIL_TEST);
        }
    }
    let nitrate_assumed = plan.plantings.iter().any(|planting| {
        planting.credits.iter().any(|credit| {
            credit.kind == CreditKind::SoilNitrate && credit.label.contains("soil nitrate")
        })
    });
    if nitrate_assumed && !plan.soil.nitrate_measured {
        add("an ordinary store of soil nitrate".to_owned(), NITRATE_TEST);
    }
    if setting.climate.assumed() {
        add("soil at 15 C (59 F) from April to October".to_owned(), CLIMATE);
    }
    for planting in &plan.plantings {
        let name = &planting.crop.name;
        if let Some(used) = planting.yield_used.as_ref().filter(|used| !used.said) {
            let source = if used.from_chart { "garden chart's" } else { "supply table's" };
            add(format!("the {source} yield of {name}"), OWN_YIELD);
        }
        let unknown = |nutrient: Nutrient| {
            let basis = plan.mineral(nutrient).bases.get(planting.index);
            open && basis == Some(&MineralBasis::Unknown)
        };
        let fed = planting.crop.cover_nitrogen.is_none();
        let missing = [Nutrient::Phosphate, Nutrient::Potash].map(|one| (one, unknown(one)));
        let words: Vec<&str> =
            missing.iter().filter(|(_, one)| *one && fed).map(|(one, _)| one.word()).collect();
        if !words.is_empty() {
            let known = missing.iter().all(|(one, _)| content_of(&planting.crop, *one).is_some());
            let settle = if known { OWN_YIELD } else { "your laboratory's rates" };
            add(format!("no {} for {name}, whose yield is not known", words.join(" or ")), settle);
        }
        if planting.basis == Basis::Feeder && fed {
            add(format!("{name} fed by its reputation as a feeder"), "your adviser's rate");
        }
        if planting.life.end_assumed {
            add(
                format!("{name} picked until {}", planting.life.end.short()),
                "`last_harvest` in the season file",
            );
        }
    }
    for amendment in &bed.amendments {
        if amendment.stuff.overrides.analysis.is_none() && amendment.stuff.material.pools.is_some()
        {
            add(format!("the listed analysis of {}", amendment.stuff.material.name), ANALYSIS);
        }
    }
    if feeds_assumed && !plan.doses.is_empty() {
        let kind = if setting.season.garden.organic { "organic" } else { "mineral" };
        add(format!("fed with usual {kind} materials"), "naming yours under [feeding]");
    }
    if setting.season.garden.visit_day.is_none() && !plan.doses.is_empty() {
        add("visits on Saturdays".to_owned(), "`visit_day` in the season file");
    }
    all.dedup();
    all
}
