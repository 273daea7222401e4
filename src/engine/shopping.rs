//! What a plan asks of the shed: its doses as demands, the shed and the suppliers as offers.

mod rivals;
mod wanting;

use super::buy::{
    self, Alternative, Answer, Certainty, Demand, List, Note, Offer, Pack, Shed, Stock, Supplier,
};
use super::paths::dose_path;
use super::plan::{Chosen, Plan};
use crate::calendar::Date;
use crate::nutrient::Npk;
use crate::quantity::{Mass, Money, Positive, Share};
use crate::season::{Season, ShedItem};

/// The shopping lists of a season: whole packs at least cost for all doses from a day on.
pub fn list(season: &Season, plan: &Plan, today: Option<Date>) -> Answer {
    let shed = shed(season);
    let mut asked = demands(plan, today);
    asked.extend(wanting::unmet_needs(season, plan, today));
    let mut answer = buy::buy(&shed, &asked, &[]);
    if !plan.chosen.open.is_empty() {
        rivals::weigh_choices(&shed, plan, today, &mut answer.certain);
    }
    answer.certain.notes.extend(chosen(plan));
    answer
}

/// The certain list and the possible one, without asking what each offer was weighed against: what a
/// plan ends with.
pub fn short_list(season: &Season, plan: &Plan, today: Option<Date>) -> (List, List) {
    let mut asked = demands(plan, today);
    asked.extend(wanting::unmet_needs(season, plan, today));
    let (certain, possible): (Vec<Demand>, Vec<Demand>) =
        asked.into_iter().partition(|demand| demand.certainty == Certainty::Certain);
    let shed = shed(season);
    let mut list = buy::least_list(&shed, &certain, &[]);
    let besides = buy::least_list(&left_over(shed, &list), &possible, &[]);
    list.notes.extend(chosen(plan));
    (list, besides)
}

/// The shed once a list was bought and spread.
pub fn left_over(mut shed: Shed, list: &List) -> Shed {
    shed.stock.retain(|held| list.materials.iter().all(|sum| sum.material != held.material));
    shed.stock.extend(
        list.materials
            .iter()
            .map(|sum| Stock { material: sum.material.clone(), on_hand: sum.left_over }),
    );
    shed
}

/// What is to be said of the choice of materials, where there was one.
fn chosen(plan: &Plan) -> Option<Note> {
    let Chosen { open, proven, could_save, .. } = &plan.chosen;
    let several = open.iter().any(|place| place.ways.len() > 1);
    several.then_some(Note::Chosen { proven: *proven, could_save: *could_save })
}

/// Every dose from a day on, with the material it was planned with.
pub fn demands(plan: &Plan, today: Option<Date>) -> Vec<Demand> {
    let mut all = Vec::new();
    for bed in &plan.beds {
        for (at, dose) in bed.doses.iter().enumerate() {
            if today.is_some_and(|today| dose.date < today) {
                continue;
            }
            let certainty = if dose.certain() { Certainty::Certain } else { Certainty::Possible };
            let weight = dose.weight.value();
            let alternatives = vec![Alternative::of(dose.ready.name(), weight)];
            all.push(Demand { path: dose_path(bed, at), certainty, alternatives });
        }
    }
    all
}

/// The shed as the shopping list takes it.
pub fn shed(season: &Season) -> Shed {
    let stock = season
        .shed
        .iter()
        .filter_map(|item| {
            let on_hand = item.on_hand?.value;
            Some(Stock { material: item.stuff.material.name.clone(), on_hand })
        })
        .collect();
    let offers = season.shed.iter().filter_map(offer).collect();
    let suppliers = season
        .suppliers
        .iter()
        .map(|supplier| Supplier {
            name: supplier.name.value.clone(),
            delivery: supplier.delivery.map_or(Money::ZERO, |money| money.value),
            minimum: supplier.minimum_order.map(|money| money.value),
        })
        .collect();
    Shed { stock, offers, suppliers }
}

fn offer(item: &ShedItem) -> Option<Offer> {
    let offer = item.offer.as_ref()?;
    let material = &item.stuff.material;
    let listed =
        Npk { nitrogen: material.nitrogen, phosphate: material.phosphate, potash: material.potash };
    let packs = offer.packs.iter().filter_map(|pack| {
        let weight: Positive<Mass> = Positive::new(pack.weight.value)?;
        Some(Pack { weight, price: pack.price.map(|price| price.value) })
    });
    Some(Offer {
        material: material.name.clone(),
        supplier: offer.supplier.clone().unwrap_or_default(),
        analysis: item.stuff.overrides.analysis.map_or(listed, |said| said.value),
        packs: packs.collect(),
        minimum: None,
    })
}

/// A count as a factor of money.
fn share_of(count: u64) -> Share {
    Share::from_fraction(count.into())
}
