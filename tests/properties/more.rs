//! More ground wants more; more of what feeds wants less.

use proptest::prelude::*;
use rust_decimal::Decimal;
use topdress::engine::credit::{Credit, CreditKind};
use topdress::engine::dose::Purpose;
use topdress::engine::plan::{BedPlan, Plan, PlantingPlan, plan};
use topdress::quantity::{Mass, Rate, Share, UnitSystem, settle};

use super::draw::{amended, garden};
use super::garden::{Garden, Past, Soil};
use super::text::{Hand, text};
use super::{draws, plan_of, season};

/// The budget of a bed: names and weights, of which none is rounded for a scale.
fn budget(bed: &BedPlan) -> Vec<(String, Mass)> {
    let mut out = Vec::new();
    for planting in &bed.plantings {
        let mut add =
            |name: &str, mass: Mass| out.push((format!("{} {name}", planting.slug), mass));
        add("need", planting.need.value());
        for credit in &planting.credits {
            add(&credit.slug, credit.nitrogen.value());
        }
        add("shortfall", planting.shortfall.value());
        add("surplus", planting.surplus.value());
        add("planned", planting.planned.value());
        add("not planned", planting.not_planned.value());
        add("starter", planting.starter.value());
    }
    for mineral in [&bed.phosphate, &bed.potash] {
        let mut add = |name: &str, mass: Mass| {
            out.push((format!("{} {name}", mineral.nutrient.word()), mass))
        };
        add("need", mineral.need.value());
        for (slug, _, mass) in &mineral.credits {
            add(slug, mass.value());
        }
        add("shortfall", mineral.shortfall.value());
        add("surplus", mineral.surplus.value());
        add("planned", mineral.planned.value());
        add("not planned", mineral.not_planned.value());
    }
    out
}

/// Whether a credit is what doses for the crop before leave: they are weighed in whole ounces, and a
/// bed that wants less is given less.
const fn from_doses(credit: &Credit) -> bool {
    matches!(credit.kind, CreditKind::EarlierDoses | CreditKind::LeftUnused)
}

fn follows_doses(bed: &BedPlan) -> bool {
    bed.plantings.iter().flat_map(|planting| &planting.credits).any(from_doses)
}

/// What each planting is short of but for what doses leave to it.
fn nitrogen_short(plan: &Plan) -> Vec<Decimal> {
    let short = |planting: &PlantingPlan| {
        let credits = planting.credits.iter().filter(|credit| !from_doses(credit));
        let credit: Mass = credits.map(|credit| credit.nitrogen.value()).sum();
        settle((planting.need.value() - credit).at_least(Mass::ZERO).base())
    };
    plan.beds[0].plantings.iter().map(short).collect()
}

fn nowhere_more(after: &Plan, before: &Plan) -> bool {
    nitrogen_short(after).iter().zip(nitrogen_short(before)).all(|(after, before)| *after <= before)
}

/// Whether doses before planting keep to the 10 lb/ac that they may bring of phosphate or potash
/// beyond the need, but for what weighing adds; all they bring counts.
fn keeps_to_the_need(bed: &BedPlan) -> bool {
    let Some(area) = bed.area.as_ref().filter(|_| !bed.soil.low_in_phosphorus()) else {
        return true;
    };
    [&bed.phosphate, &bed.potash].into_iter().all(|mineral| {
        let doses = bed.doses.iter().filter(|dose| dose.purpose == Purpose::BeforePlanting);
        let brought: Mass = doses.map(|dose| dose.brings[mineral.nutrient].value()).sum();
        let before = mineral.credit.value() - mineral.need.value();
        let most = before.at_least(Rate::from_lb_per_acre(Decimal::TEN) * area.value());
        let weighing = mineral.need.value() * Share::from_percent(Decimal::TEN);
        before + brought <= most + weighing + Mass::from_oz(Decimal::new(2, 1))
    })
}

fn minerals_short(plan: &Plan) -> [Decimal; 2] {
    let bed = &plan.beds[0];
    [&bed.phosphate, &bed.potash].map(|one| settle(one.shortfall.value().base()))
}

fn with_soil(garden: &Garden, nitrate: i64) -> Garden {
    let mut garden = garden.clone();
    let unknown = Soil { phosphorus: 40, potassium: 100, organic_matter: None, nitrate: None };
    let soil = garden.beds[0].soil.unwrap_or(unknown);
    garden.beds[0].soil = Some(Soil { nitrate: Some(nitrate), ..soil });
    garden
}

proptest! {
    #![proptest_config(draws(20))]

    #[test]
    fn twice_the_ground_wants_twice_as_much(garden in garden(2)) {
        let (one, two) = (plan_of(&garden, Hand::US), plan_of(&garden.doubled(), Hand::US));
        for (one, two) in one.beds.iter().zip(&two.beds) {
            if follows_doses(one) || follows_doses(two) {
                continue;
            }
            let twice: Vec<(String, Decimal)> = budget(one)
                .into_iter()
                .map(|(name, mass)| (name, settle(mass.base() * Decimal::TWO)))
                .collect();
            let two: Vec<(String, Decimal)> =
                budget(two).into_iter().map(|(name, mass)| (name, settle(mass.base()))).collect();
            prop_assert_eq!(twice, two);
        }
    }

    #[test]
    fn scales_in_grams_change_no_budget(garden in garden(2)) {
        let season = season(&text(&garden, Hand::METRIC));
        let in_units = |units| plan(&season, units, None, &[]);
        let (ounces, grams) = (in_units(UnitSystem::Us), in_units(UnitSystem::Metric));
        for (ounces, grams) in ounces.beds.iter().zip(&grams.beds) {
            if !follows_doses(ounces) && !follows_doses(grams) {
                prop_assert_eq!(budget(ounces), budget(grams));
            }
        }
    }

    #[test]
    fn doses_for_one_nutrient_do_not_pile_up_another(garden in garden(2)) {
        for bed in &plan_of(&garden, Hand::US).beds {
            prop_assert!(keeps_to_the_need(bed));
        }
    }

    #[test]
    fn compost_and_manure_never_make_a_bed_shorter(garden in garden(1), more in amended()) {
        let mut fed = garden.clone();
        fed.beds[0].amended.push(more);
        let (before, after) = (plan_of(&garden, Hand::US), plan_of(&fed, Hand::US));
        let ties_up = after.beds[0].plantings.iter().any(|planting| {
            planting.credits.iter().any(|credit| credit.nitrogen.value() < Mass::ZERO)
        });
        if !ties_up {
            prop_assert!(nowhere_more(&after, &before));
        }
        for (after, before) in minerals_short(&after).into_iter().zip(minerals_short(&before)) {
            prop_assert!(after <= before);
        }
    }

    #[test]
    fn more_nitrate_in_the_soil_never_makes_a_bed_shorter(
        garden in garden(1), nitrate in 0_i64..60, more in 1_i64..60,
    ) {
        let (little, much) = (with_soil(&garden, nitrate), with_soil(&garden, nitrate + more));
        let (little, much) = (plan_of(&little, Hand::US), plan_of(&much, Hand::US));
        prop_assert!(nowhere_more(&much, &little));
        prop_assert_eq!(minerals_short(&much), minerals_short(&little));
    }

    #[test]
    fn a_heavier_clover_never_makes_a_bed_shorter(garden in garden(1), more in 2_i64..10) {
        let mut little = garden;
        for past in &mut little.beds[0].history {
            if let Past::Cover(crop, ..) = past {
                *crop = "clover";
            }
        }
        let mut much = little.clone();
        for past in &mut much.beds[0].history {
            if let Past::Cover(_, biomass, _) = past {
                biomass.hundredths *= more;
            }
        }
        let (little, much) = (plan_of(&little, Hand::US), plan_of(&much, Hand::US));
        prop_assert!(nowhere_more(&much, &little));
        prop_assert_eq!(minerals_short(&much), minerals_short(&little));
    }

    #[test]
    fn residues_left_never_make_a_bed_shorter(garden in garden(1)) {
        let mut cleared = garden;
        cleared.beds[0].plantings.iter_mut().for_each(|one| one.residues_left = false);
        let mut left = cleared.clone();
        left.beds[0].plantings.iter_mut().for_each(|one| one.residues_left = true);
        let (cleared, left) = (plan_of(&cleared, Hand::US), plan_of(&left, Hand::US));
        prop_assert!(nowhere_more(&left, &cleared));
    }
}
