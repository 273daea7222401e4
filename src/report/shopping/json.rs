//! The shopping list for a program and for a spreadsheet.

use serde::Serialize;

use super::missing::missing;
use super::{per_unit, told_line};
use crate::engine::buy::{Answer, List, Measure, Note, Proof};
use crate::nutrient::Nutrient;
use crate::quantity::{Mass, Money, Unit, UnitSystem, units};
use crate::report::csv;
use crate::report::json::number;
use crate::report::number::Showing;
use crate::season::slug;

#[derive(Serialize)]
struct BuyAnswer {
    document: &'static str,
    version: u32,
    unit: &'static str,
    certain: ListAnswer,
    possible: ListAnswer,
    nutrient_costs: Vec<CostAnswer>,
}

#[derive(Serialize)]
struct ListAnswer {
    lines: Vec<LineAnswer>,
    deliveries: Vec<DeliveryAnswer>,
    total: String,
    materials: Vec<MaterialAnswer>,
    unmet: Vec<UnmetAnswer>,
    missing: Vec<MissingAnswer>,
    proven_least: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    could_save: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    next_best: Option<NextAnswer>,
}

#[derive(Serialize)]
struct LineAnswer {
    id: String,
    material: String,
    supplier: String,
    pack: String,
    count: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<String>,
}

#[derive(Serialize)]
struct DeliveryAnswer {
    supplier: String,
    charge: String,
}

#[derive(Serialize)]
struct MaterialAnswer {
    material: String,
    needed: String,
    on_hand: String,
    bought: String,
    left_over: String,
}

#[derive(Serialize)]
struct UnmetAnswer {
    id: String,
    share: String,
}

/// A line of the list that no one offers, and so has no price.
#[derive(Serialize)]
struct MissingAnswer {
    id: String,
    material: String,
    weight: String,
    beds: Vec<String>,
}

#[derive(Serialize)]
struct NextAnswer {
    without: String,
    total: String,
    by: &'static str,
}

#[derive(Serialize)]
struct CostAnswer {
    material: String,
    supplier: String,
    pack: String,
    price: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    nitrogen: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    phosphate: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    potash: Option<String>,
}

pub(super) fn unit(system: UnitSystem) -> &'static Unit {
    match system {
        UnitSystem::Us => &units::POUND,
        UnitSystem::Metric => &units::KILOGRAM,
    }
}

pub(super) fn weight(mass: Mass, showing: Showing) -> String {
    number(mass.in_unit(unit(showing.system)))
}

fn price(money: Money) -> String {
    number(money.units())
}

fn list(list: &List, showing: Showing) -> ListAnswer {
    let shown = |mass: Mass| weight(mass, showing);
    ListAnswer {
        lines: list
            .lines
            .iter()
            .map(|line| LineAnswer {
                id: format!("buy/{}", slug(&line.offer.material)),
                material: line.offer.material.clone(),
                supplier: line.offer.supplier.clone(),
                pack: shown(line.pack.get()),
                count: line.count,
                cost: line.cost.map(price),
            })
            .collect(),
        deliveries: list
            .deliveries
            .iter()
            .map(|(supplier, charge)| DeliveryAnswer {
                supplier: supplier.clone(),
                charge: price(*charge),
            })
            .collect(),
        total: price(list.cost),
        materials: list
            .materials
            .iter()
            .map(|sum| MaterialAnswer {
                material: sum.material.clone(),
                needed: shown(sum.needed),
                on_hand: shown(sum.on_hand),
                bought: shown(sum.bought),
                left_over: shown(sum.left_over),
            })
            .collect(),
        unmet: list
            .unmet
            .iter()
            .map(|unmet| UnmetAnswer {
                id: unmet.path.clone(),
                share: number(unmet.share.fraction()),
            })
            .collect(),
        missing: missing(list)
            .into_iter()
            .map(|one| MissingAnswer {
                id: format!("buy/{}", slug(&one.material)),
                weight: shown(one.weight),
                material: one.material,
                beds: one.beds,
            })
            .collect(),
        proven_least: list.proof == Proof::Least && !unproven_choice(list),
        could_save: could_save(list).map(price),
        next_best: list.next_best.as_ref().map(|next| NextAnswer {
            without: next.without.material.clone(),
            total: match next.total {
                Measure::Cost(cost) => price(cost),
                Measure::Weight(mass) => shown(mass),
            },
            by: match next.total {
                Measure::Cost(_) => "cost",
                Measure::Weight(_) => "weight",
            },
        }),
    }
}

/// Whether materials were chosen and another choice might cost less.
fn unproven_choice(list: &List) -> bool {
    list.notes.iter().any(|note| matches!(note, Note::Chosen { proven: false, .. }))
}

/// What a better list could save at most, where it is not proven least and that is known.
fn could_save(list: &List) -> Option<Money> {
    let of_packs = match list.proof {
        Proof::Least => None,
        Proof::Within { cost, .. } => Some(cost),
    };
    let of_choice = list.notes.iter().find_map(|note| match note {
        Note::Chosen { proven: false, could_save } => Some(*could_save),
        _ => None,
    });
    match (of_packs, of_choice) {
        (of_packs, None) => of_packs,
        (of_packs, Some(of_choice)) => Some(of_packs.unwrap_or(Money::ZERO) + of_choice?),
    }
}

/// The lists for a program.
///
/// # Errors
/// None in practice: all keys are text.
pub fn json(answer: &Answer, showing: Showing) -> Result<String, serde_json::Error> {
    let costs = answer.nutrient_costs.iter().map(|cost| {
        let each = |nutrient: Nutrient| {
            cost.shared.per_kg[nutrient].map(|money| price(per_unit(money, showing.system)))
        };
        CostAnswer {
            material: cost.offer.material.clone(),
            supplier: cost.offer.supplier.clone(),
            pack: weight(cost.pack.get(), showing),
            price: price(cost.price),
            nitrogen: each(Nutrient::Nitrogen),
            phosphate: each(Nutrient::Phosphate),
            potash: each(Nutrient::Potash),
        }
    });
    crate::report::json::document(&BuyAnswer {
        document: "buy",
        version: 1,
        unit: unit(showing.system).symbol,
        certain: list(&answer.certain, showing),
        possible: list(&answer.possible, showing),
        nutrient_costs: costs.collect(),
    })
}

/// One row for each line of the certain and of the possible list, then for what no one offers: its
/// weight, and neither count nor price.
pub fn sheet(answer: &Answer, showing: Showing) -> String {
    let header = ["list", "material", "supplier", "count", "pack", "unit", "cost", "what"];
    let symbol = unit(showing.system).symbol;
    let both = [("certain", &answer.certain), ("possible", &answer.possible)];
    let rows = both.into_iter().flat_map(|(name, list)| {
        let bought = list.lines.iter().map(move |line| {
            [
                name.to_owned(),
                line.offer.material.clone(),
                line.offer.supplier.clone(),
                line.count.to_string(),
                weight(line.pack.get(), showing),
                symbol.to_owned(),
                line.cost.map(price).unwrap_or_default(),
                told_line(line, showing),
            ]
        });
        let lacking = missing(list).into_iter().map(move |one| {
            [
                name.to_owned(),
                one.material.clone(),
                String::new(),
                String::new(),
                weight(one.weight, showing),
                symbol.to_owned(),
                String::new(),
                format!("{}: not on offer", one.words(showing)),
            ]
        });
        bought.chain(lacking)
    });
    csv::sheet(&header, rows.collect::<Vec<_>>())
}
