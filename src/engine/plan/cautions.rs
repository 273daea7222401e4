//! Which cautions a bed's plan calls for, by key of the catalogue.

use rust_decimal::Decimal;

use super::BedPlan;
use crate::calendar::Date;
use crate::catalogue::{Class, Crop, Material, MaterialKind};
use crate::engine::credit::BedAmendment;
use crate::engine::need::Basis;
use crate::engine::setting::Setting;
use crate::quantity::{Area, Length, Mass, Positive, Rate, Share, UnitSystem};
use crate::season::{Amendment, Bed, Measure};

/// Days before harvest within which nitrogen on greens is late.
const LATE_DAYS: i32 = 21;

/// All cautions of a bed: key, and what called for it in a few words.
pub(super) fn of(
    setting: &Setting<'_>,
    bed: &Bed,
    plan: &BedPlan,
    amendments: &[BedAmendment],
) -> Vec<(&'static str, String)> {
    let mut all: Vec<(&'static str, String)> = Vec::new();
    doses(plan, &mut all);
    close_heads(setting, bed, plan, &mut all);
    soil(bed, plan, &mut all);
    spread(setting, bed, plan, amendments, &mut all);
    materials(setting, plan, amendments, &mut all);
    let mut seen: Vec<(&'static str, String)> = Vec::new();
    for one in all {
        if !seen.contains(&one) {
            seen.push(one);
        }
    }
    seen
}

fn doses(plan: &BedPlan, all: &mut Vec<(&'static str, String)>) {
    for planting in &plan.plantings {
        let name = &planting.crop.name;
        let dressed = |late: bool| {
            plan.doses.iter().any(|dose| {
                dose.planting == Some(planting.index)
                    && (if late { dose.date > planting.life.end - LATE_DAYS } else { dose.at_cap })
            })
        };
        if dressed(false) {
            all.push(("cap-reached", name.clone()));
        }
        if !planting.not_planned.is_zero() && !planting.crop.legume {
            all.push(("ceiling-reached", name.clone()));
        }
        if planting.crop.leafy && dressed(true) {
            all.push(("late-nitrogen-greens", name.clone()));
        }
        let above = planting.basis == Basis::Given
            && planting
                .need_rate
                .as_ref()
                .is_some_and(|rate| rate.value() > planting.crop.ceiling.value);
        if above {
            all.push(("given-above-bulletins", name.clone()));
        }
    }
}

/// Heads that stand so close that no feeding makes them large: on less than three quarters of the
/// square foot that growers give a large one.
fn close_heads(
    setting: &Setting<'_>,
    bed: &Bed,
    plan: &BedPlan,
    all: &mut Vec<(&'static str, String)>,
) {
    let enough = Area::from_ft2(Decimal::new(75, 2));
    for planting in plan.plantings.iter().filter(|planting| planting.crop.heading) {
        let spacing = bed.plantings.get(planting.index).and_then(|one| one.spacing);
        let shared = || {
            let plants = planting.plants.as_ref()?.value();
            let area = planting.area.as_ref()?.value();
            (plants > Share::ZERO).then(|| Area::from_ft2(area.ft2() / plants.fraction()))
        };
        let each = spacing.map(|both| both.value.0 * both.value.1).or_else(shared);
        if let Some(each) = each.filter(|each| *each < enough) {
            let ground = match setting.units {
                UnitSystem::Us => format!("{} ft2", each.ft2().round_dp(2).normalize()),
                UnitSystem::Metric => format!("{} m2", each.m2().round_dp(3).normalize()),
            };
            all.push(("close-heads", format!("{} on {ground} each", planting.crop.name)));
        }
    }
}

fn soil(bed: &Bed, plan: &BedPlan, all: &mut Vec<(&'static str, String)>) {
    if let Some(ph) = bed.soil.as_ref().and_then(|soil| soil.ph) {
        if ph.value < Decimal::new(58, 1) {
            all.push(("ph-low", format!("pH {}", ph.value.normalize())));
        }
        if ph.value > Decimal::new(75, 1) {
            all.push(("ph-high", format!("pH {}", ph.value.normalize())));
        }
    }
    if plan.mix.is_some() {
        all.push(("containers", String::new()));
        return;
    }
    let percent = plan.soil.organic_matter.value().percent().normalize();
    if plan.soil.rich_untested() {
        all.push(("organic-matter-4", format!("{percent} % organic matter")));
    } else if plan.soil.organic_matter_from(3)
        && !plan.soil.nitrate_measured
        && !plan.soil.organic_matter_from(4)
    {
        all.push(("organic-matter-3", format!("{percent} % organic matter")));
    }
    let brings_phosphate = plan.doses.iter().any(|dose| !dose.brings.phosphate.is_zero())
        || !plan.phosphate.credit.is_zero();
    let enough = match &plan.soil.phosphorus {
        Some(worded) => worded.class >= Class::Target,
        None => plan.soil.long_fed,
    };
    if enough && brings_phosphate && plan.phosphate.shortfall.is_zero() {
        all.push(("phosphate-enough", bed.name.value.clone()));
    }
}

fn spread(
    setting: &Setting<'_>,
    bed: &Bed,
    plan: &BedPlan,
    amendments: &[BedAmendment],
    all: &mut Vec<(&'static str, String)>,
) {
    let mut compost = Length::ZERO;
    for (said, read) in bed.amendments.iter().zip(amendments) {
        let material = &said.stuff.material;
        if material.kind == MaterialKind::Compost && said.on.value.year() == setting.year() {
            compost += depth_of(plan, said, read).unwrap_or(Length::ZERO);
        }
        raw_manure(plan, material, read.on, all);
    }
    for dose in &plan.doses {
        raw_manure(plan, &dose.ready.stuff.material, dose.date, all);
    }
    if compost > Length::from_inch(Decimal::ONE) {
        all.push((
            "compost-limit",
            format!("{} in of compost", compost.inch().round_dp(2).normalize()),
        ));
    }
    let Some(area) = &plan.area else { return };
    let manure =
        |kind: MaterialKind| matches!(kind, MaterialKind::Manure | MaterialKind::PoultryManure);
    let from_amendments = amendments
        .iter()
        .filter(|one| manure(one.stuff.material.kind))
        .filter_map(|one| Some(one.weight.as_ref()?.value() * one.content.shares.nitrogen.value()));
    let from_doses = plan
        .doses
        .iter()
        .filter(|dose| manure(dose.ready.stuff.material.kind))
        .map(|dose| dose.brings.nitrogen.value());
    let nitrogen: Mass = from_amendments.chain(from_doses).sum();
    if nitrogen > Rate::from_kg_per_ha(Decimal::from(170)) * area.value() {
        all.push(("manure-nitrogen", bed.name.value.clone()));
    }
    let debt = plan.plantings.iter().flat_map(|planting| &planting.credits);
    let tied = |credit: &&crate::engine::credit::Credit| {
        credit.kind != crate::engine::credit::CreditKind::Rain
            && credit.nitrogen.value() < Mass::ZERO
    };
    for credit in debt.filter(tied) {
        all.push(("tie-up", credit.label.clone()));
    }
}

/// How deep an amendment lies: as said, or its weight over density and area.
fn depth_of(plan: &BedPlan, said: &Amendment, read: &BedAmendment) -> Option<Length> {
    if let Measure::Depth(depth) = said.amount.value {
        return Some(depth);
    }
    let area = Positive::new(plan.area.as_ref()?.value())?;
    let density = Positive::new(crate::engine::content::density(&said.stuff)?.value())?;
    Some(read.weight.as_ref()?.value() / area / density)
}

/// Days that raw manure must lie before a harvest.
pub(super) fn raw_manure_days(crop: &Crop) -> i32 {
    if crop.touches_soil { 120 } else { 90 }
}

/// Raw manure that lies less than 120 days (90 where the crop does not touch the soil) before harvest.
fn raw_manure(
    plan: &BedPlan,
    material: &Material,
    on: Date,
    all: &mut Vec<(&'static str, String)>,
) {
    if !material.cautions.iter().any(|key| key == "raw-manure") {
        return;
    }
    for planting in &plan.plantings {
        let days = raw_manure_days(&planting.crop);
        let gap = planting.life.harvest - on;
        if on <= planting.life.end && gap < days {
            let crop = &planting.crop.name;
            let told = if gap > 0 {
                format!("{} {gap} days before {crop} is harvested", material.name)
            } else {
                format!("{} while {crop} is being picked", material.name)
            };
            all.push(("raw-manure", told));
        }
    }
}

/// Cautions that materials call for themselves.
fn materials(
    setting: &Setting<'_>,
    plan: &BedPlan,
    amendments: &[BedAmendment],
    all: &mut Vec<(&'static str, String)>,
) {
    let dosed = plan.doses.iter().map(|dose| &dose.ready.stuff.material);
    let used = amendments.iter().map(|one| &one.stuff.material).chain(dosed);
    for material in used {
        for key in &material.cautions {
            // The interval is reckoned above from the dates.
            if key == "raw-manure" {
                continue;
            }
            if let Some(caution) = KEYS.iter().find(|known| *known == key) {
                all.push((caution, material.name.clone()));
            }
        }
        if setting.season.garden.organic && !material.organic {
            all.push(("organic-rules", material.name.clone()));
        }
    }
    if !plan.doses.is_empty() {
        all.push(("water-nearby", String::new()));
    }
}

/// Keys that materials may carry.
const KEYS: &[&str] = &[
    "salts",
    "dust",
    "oxidizer",
    "urea-surface",
    "herbicide",
    "animal-meal",
    "biosolids",
    "ammonia-burn",
    "germination",
    "attracts-animals",
    "liming",
    "high-phosphorus",
    "pathogens-shared",
    "compost-unproven",
    "leaf-burn",
    "chloride",
    "toxic-to-dogs",
    "dilute",
];
