//! Chooses ways in a garden so large that single packs hardly matter: each demand takes the way that
//! costs least at the price of a kilogram in the best pack; then each material in turn is tried without.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::block::Aim;
use super::demand::{Alternative, Demand};
use super::shed::Shed;
use crate::quantity::{Mass, Quantity};

/// What a kilogram costs (weighs, where the weight is made least) at the least, by material; only of
/// what can be bought.
type Prices<'a> = BTreeMap<&'a str, Decimal>;

/// What choices are made from.
pub(super) struct Prospect<'a> {
    prices: Prices<'a>,
    stock: BTreeMap<&'a str, Mass>,
}

impl<'a> Prospect<'a> {
    pub fn new(shed: &'a Shed, aim: Aim) -> Self {
        let mut prices = Prices::new();
        for offer in &shed.offers {
            for pack in &offer.packs {
                let per_kg = match (aim, pack.price) {
                    (Aim::Weight, _) => Some(Decimal::ONE),
                    (Aim::Cost, Some(price)) => price.units().checked_div(pack.weight.get().kg()),
                    (Aim::Cost, None) => None,
                };
                let Some(per_kg) = per_kg else { continue };
                let known = prices.entry(&offer.material).or_insert(per_kg);
                *known = per_kg.min(*known);
            }
        }
        let mut stock = BTreeMap::<&str, Mass>::new();
        for held in &shed.stock {
            *stock.entry(&held.material).or_default() += held.on_hand;
        }
        Self { prices, stock }
    }

    /// No list comes to less than this: every kilogram at its best price, less all that is on hand.
    pub fn bound(&self, demands: &[&Demand]) -> Decimal {
        let least = |demand: &&Demand| -> Decimal {
            let ways = demand.alternatives.iter().map(|way| self.price(way, &BTreeMap::new()).1);
            ways.min().unwrap_or_default()
        };
        let whole: Decimal = demands.iter().map(least).sum();
        let held = self.stock.iter().map(|(name, held)| {
            held.kg().saturating_mul(self.prices.get(name).copied().unwrap_or_default())
        });
        (whole - held.sum::<Decimal>()).max(Decimal::ZERO)
    }

    /// What of a way cannot be had, and what the rest costs, so much being on hand.
    fn price(&self, way: &Alternative, stock: &BTreeMap<&str, Mass>) -> (Mass, Decimal) {
        let (mut lacking, mut cost) = (Mass::ZERO, Decimal::ZERO);
        for part in &way.parts {
            let held = stock.get(part.material.as_str()).copied().unwrap_or(Mass::ZERO);
            let wanted = (part.weight - held).at_least(Mass::ZERO);
            match self.prices.get(part.material.as_str()) {
                Some(per_kg) => cost += wanted.kg().saturating_mul(*per_kg),
                None => lacking += wanted,
            }
        }
        (lacking, cost)
    }

    /// The way of each demand, in order, without some materials where others serve as well.
    pub fn pick(&self, demands: &[&Demand], without: &BTreeSet<&str>) -> Vec<usize> {
        let mut stock = self.stock.clone();
        let mut ways = Vec::with_capacity(demands.len());
        for demand in demands {
            let key = |way: &Alternative| {
                let (lacking, cost) = self.price(way, &stock);
                let avoided = way.parts.iter().any(|part| without.contains(part.material.as_str()));
                (!lacking.is_zero(), way.unwanted, avoided, cost)
            };
            let all = 0..demand.alternatives.len();
            let way = all.min_by_key(|at| key(&demand.alternatives[*at])).unwrap_or(0);
            for part in demand.alternatives.get(way).into_iter().flat_map(|way| &way.parts) {
                if let Some(held) = stock.get_mut(part.material.as_str()) {
                    *held = (*held - part.weight).at_least(Mass::ZERO);
                }
            }
            ways.push(way);
        }
        ways
    }

    /// The materials that some chosen way takes.
    pub fn taken<'b>(demands: &[&'b Demand], ways: &[usize]) -> BTreeSet<&'b str> {
        let chosen = demands.iter().zip(ways).filter_map(|(one, way)| one.alternatives.get(*way));
        chosen.flat_map(|way| &way.parts).map(|part| part.material.as_str()).collect()
    }
}
