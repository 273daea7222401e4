//! What is on hand and what is on offer.

use std::cmp::Ordering;

use crate::nutrient::{Analysis, Nutrient};
use crate::quantity::{Mass, Money, Positive};

/// Some of a material on hand. A lot with an analysis of its own is a material of its own.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stock {
    /// Key of the material.
    pub material: String,
    /// Weight on hand, zero or more; several entries of one material add up.
    pub on_hand: Mass,
}

/// One size in which an offer is sold, in any number of whole packs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pack {
    /// Weight of one pack.
    pub weight: Positive<Mass>,
    /// Price of one pack, zero or more, where it is known.
    pub price: Option<Money>,
}

/// A material that a supplier sells.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    /// Key of the material.
    pub material: String,
    /// Name of the supplier; empty where none is named.
    pub supplier: String,
    /// What the label guarantees.
    pub analysis: Analysis,
    /// The sizes it comes in.
    pub packs: Vec<Pack>,
    /// The least weight the supplier sells of it at all, where there is such a least.
    pub minimum: Option<Mass>,
}

/// What a supplier asks for besides the price of the packs.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Supplier {
    /// The name that offers use.
    pub name: String,
    /// Charge for delivering, once for each order, however large.
    pub delivery: Money,
    /// The least sum of pack prices that the supplier takes an order for.
    pub minimum: Option<Money>,
}

/// Everything that could be spread: on hand or on offer.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shed {
    /// What is on hand.
    pub stock: Vec<Stock>,
    /// What is on offer.
    pub offers: Vec<Offer>,
    /// Suppliers with a delivery charge or a least order; others ask for neither.
    pub suppliers: Vec<Supplier>,
}

impl Offer {
    /// Orders offers by all they hold, so that the order in which they were written is forgotten.
    pub(super) fn order(&self, other: &Self) -> Ordering {
        let shares = |offer: &Self| Nutrient::ALL.map(|nutrient| offer.analysis[nutrient]);
        (&self.material, &self.supplier, &self.packs, self.minimum, shares(self)).cmp(&(
            &other.material,
            &other.supplier,
            &other.packs,
            other.minimum,
            shares(other),
        ))
    }
}
