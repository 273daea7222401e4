//! What a list must be, against sums done by hand and against trying every list.

mod assigning;
mod by_hand;
mod by_trial;
mod drafts;
mod extremes;

use rust_decimal::Decimal;

use super::*;
use crate::nutrient::read_analysis;
use crate::quantity::{Mass, Money, Positive};

fn d(text: &str) -> Decimal {
    text.parse().expect("a decimal")
}

fn kg(text: &str) -> Mass {
    Mass::from_kg(d(text))
}

fn money(text: &str) -> Money {
    Money::from_units(d(text))
}

/// Reads packs from "10 kg at 5.00", the price left out where there is none.
fn pack(weight: &str, price: Option<&str>) -> Pack {
    Pack { weight: Positive::new(kg(weight)).expect("a weight"), price: price.map(money) }
}

fn offer(material: &str, supplier: &str, packs: &[(&str, &str)]) -> Offer {
    Offer {
        material: material.to_owned(),
        supplier: supplier.to_owned(),
        analysis: read_analysis("10-0-0").expect("a label"),
        packs: packs.iter().map(|(weight, price)| pack(weight, Some(price))).collect(),
        minimum: None,
    }
}

fn demand(path: &str, ways: &[(&str, &str)]) -> Demand {
    Demand {
        path: path.to_owned(),
        certainty: Certainty::Certain,
        alternatives: ways
            .iter()
            .map(|(name, weight)| Alternative::of(*name, kg(weight)))
            .collect(),
    }
}

fn shed(offers: Vec<Offer>) -> Shed {
    Shed { offers, ..Shed::default() }
}

fn stock(material: &str, weight: &str) -> Stock {
    Stock { material: material.to_owned(), on_hand: kg(weight) }
}

fn supplier(name: &str, delivery: &str, minimum: Option<&str>) -> Supplier {
    Supplier { name: name.to_owned(), delivery: money(delivery), minimum: minimum.map(money) }
}

/// Lines as "count x weight material".
fn lines(list: &List) -> Vec<String> {
    let line = |line: &Line| {
        let weight = line.pack.get().kg().normalize();
        format!("{} x {} kg {}", line.count, weight, line.offer.material)
    };
    list.lines.iter().map(line).collect()
}

fn sum<'a>(list: &'a List, material: &str) -> &'a MaterialSum {
    list.materials.iter().find(|sum| sum.material == material).expect("a material")
}
