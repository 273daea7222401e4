//! The problem with its names sorted and turned into indices, so that the order in which things
//! were written cannot matter.

use std::collections::{BTreeMap, BTreeSet};

use super::demand::{Alternative, Demand, Limit};
use super::list::OfferName;
use super::merge::merge;
use super::shed::{Offer, Shed, Supplier};
use crate::quantity::{Mass, Money, Positive, Share};
use rust_decimal::Decimal;

/// One way to meet a demand.
#[derive(Clone, Debug)]
pub(super) struct Way {
    /// Material and weight, each above zero.
    pub parts: Vec<(usize, Mass)>,
    /// Limit and what is taken up of it, each above zero.
    pub draws: Vec<(usize, Mass)>,
    /// Phosphate brought onto soil that has enough.
    pub unwanted: Mass,
}

/// Something that can run out: a material, or a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Stint {
    Material(usize),
    Limit(usize),
}

impl Way {
    /// What this way takes of something where it meets its demand alone.
    pub fn takes(&self, stint: Stint) -> Option<Positive<Mass>> {
        let (all, at) = match stint {
            Stint::Material(at) => (&self.parts, at),
            Stint::Limit(at) => (&self.draws, at),
        };
        let found = all.iter().find(|(other, _)| *other == at)?;
        Positive::new(found.1)
    }
}

/// One demand, or several that want the same in proportion.
#[derive(Clone, Debug)]
pub(super) struct Ask {
    /// What the members take together in each way.
    pub ways: Vec<Way>,
    pub members: Vec<Member>,
}

/// A demand as it was put, its ways in the order of the whole it belongs to.
#[derive(Clone, Debug)]
pub(super) struct Member {
    pub path: String,
    pub ways: Vec<Way>,
}

/// One size of one offer.
#[derive(Clone, Copy, Debug)]
pub(super) struct PackAt {
    pub offer: usize,
    pub material: usize,
    pub supplier: usize,
    pub weight: Positive<Mass>,
    pub price: Option<Money>,
}

/// A whole problem in indices.
#[derive(Clone, Debug)]
pub(super) struct Case {
    pub materials: Vec<String>,
    /// Weight on hand of each material.
    pub stock: Vec<Mass>,
    pub demands: Vec<Ask>,
    /// Offers of materials that some demand could use.
    pub offers: Vec<Offer>,
    pub packs: Vec<PackAt>,
    pub suppliers: Vec<Supplier>,
    /// The most of each limit.
    pub limits: Vec<Mass>,
    pub limit_keys: Vec<String>,
}

/// A microgram: nothing lighter is weighed or sold, and divisions by what is left cannot overflow.
const CRUMB: Mass = Mass::from_base(Decimal::from_parts(1, 0, 0, false, 9));

/// A count as a factor of money or weight.
pub(super) fn times(count: u64) -> Share {
    Share::from_fraction(count.into())
}

impl Case {
    /// Sorts the problem and turns its names into indices.
    pub fn new(shed: &Shed, demands: &[Demand], limits: &[Limit]) -> Self {
        let mut demands: Vec<&Demand> = demands.iter().collect();
        demands.sort();
        let parts =
            || demands.iter().flat_map(|demand| &demand.alternatives).flat_map(|way| &way.parts);
        let names: BTreeSet<&String> = parts().map(|part| &part.material).collect();
        let materials: Vec<String> = names.into_iter().cloned().collect();
        let mut least = BTreeMap::<&str, Mass>::new();
        for limit in limits {
            let most = least.entry(&limit.key).or_insert(limit.most);
            *most = most.at_most(limit.most);
        }
        let limit_keys: Vec<String> = least.keys().map(|key| (*key).to_owned()).collect();
        let limits: Vec<Mass> = least.into_values().collect();

        let mut stock = vec![Mass::ZERO; materials.len()];
        for held in &shed.stock {
            if let Ok(at) = materials.binary_search(&held.material) {
                stock[at] += held.on_hand;
            }
        }
        let demands = demands
            .into_iter()
            .map(|demand| {
                let mut ways: Vec<&Alternative> = demand.alternatives.iter().collect();
                ways.sort();
                ways.dedup();
                let ways: Vec<Way> =
                    ways.into_iter().map(|way| index(way, &materials, &limit_keys)).collect();
                Ask {
                    members: vec![Member { path: demand.path.clone(), ways: ways.clone() }],
                    ways,
                }
            })
            .collect();
        let mut case = Self {
            materials,
            stock,
            demands,
            offers: Vec::new(),
            packs: Vec::new(),
            suppliers: Vec::new(),
            limits,
            limit_keys,
        };
        case.add_offers(shed);
        let mut buyable = vec![false; case.materials.len()];
        case.packs.iter().for_each(|pack| buyable[pack.material] = true);
        case.demands = merge(case.demands, &buyable);
        case
    }

    fn add_offers(&mut self, shed: &Shed) {
        let wanted = |offer: &&Offer| self.materials.binary_search(&offer.material).is_ok();
        let mut offers: Vec<Offer> = shed.offers.iter().filter(wanted).cloned().collect();
        offers.sort_by(Offer::order);
        let names: BTreeSet<&String> = offers.iter().map(|offer| &offer.supplier).collect();
        self.suppliers = names
            .into_iter()
            .map(|name| {
                let asked = shed.suppliers.iter().filter(|supplier| supplier.name == *name).max();
                asked.cloned().unwrap_or_else(|| Supplier {
                    name: name.clone(),
                    delivery: Money::ZERO,
                    minimum: None,
                })
            })
            .collect();
        for (at, offer) in offers.iter().enumerate() {
            let found = (
                self.materials.binary_search(&offer.material),
                self.suppliers.binary_search_by(|supplier| supplier.name.cmp(&offer.supplier)),
            );
            let (Ok(material), Ok(supplier)) = found else { continue };
            let mut packs = offer.packs.clone();
            packs.retain(|pack| pack.weight.get() >= CRUMB);
            packs.sort();
            packs.dedup();
            self.packs.extend(packs.into_iter().map(|pack| PackAt {
                offer: at,
                material,
                supplier,
                weight: pack.weight,
                price: pack.price,
            }));
        }
        self.offers = offers;
    }

    /// Names an offer.
    pub fn offer_name(&self, offer: usize) -> OfferName {
        let Offer { material, supplier, .. } = &self.offers[offer];
        OfferName { material: material.clone(), supplier: supplier.clone() }
    }
}

/// Turns an alternative into indices, its parts and draws added up by name.
fn index(way: &Alternative, materials: &[String], limits: &[String]) -> Way {
    let mut parts = BTreeMap::<usize, Mass>::new();
    for part in &way.parts {
        if let Ok(material) = materials.binary_search(&part.material) {
            *parts.entry(material).or_default() += part.weight;
        }
    }
    let mut draws = BTreeMap::<usize, Mass>::new();
    for draw in &way.draws {
        if let Ok(limit) = limits.binary_search(&draw.limit) {
            *draws.entry(limit).or_default() += draw.amount;
        }
    }
    let some = |(_, mass): &(usize, Mass)| *mass >= CRUMB;
    Way {
        parts: parts.into_iter().filter(some).collect(),
        draws: draws.into_iter().filter(some).collect(),
        unwanted: way.unwanted.at_least(Mass::ZERO),
    }
}
