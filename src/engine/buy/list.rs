//! The answer: a shopping list, what it serves and why it is the one.

use super::demand::Part;
use super::nutrient_cost::PackCost;
use crate::nutrient::Npk;
use crate::quantity::{Mass, Money, Positive, Share};

/// What was made least: the cost, or the weight where prices are missing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measure {
    /// Price of packs and delivery.
    Cost(Money),
    /// Weight of packs.
    Weight(Mass),
}

/// Names an offer: a material and who sells it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct OfferName {
    /// Key of the material.
    pub material: String,
    /// Name of the supplier; empty where none is named.
    pub supplier: String,
}

/// Packs of one size to buy from one offer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Whose offer of what.
    pub offer: OfferName,
    /// Weight of one pack.
    pub pack: Positive<Mass>,
    /// How many packs.
    pub count: u64,
    /// Price of one pack, where known.
    pub price: Option<Money>,
    /// Price of all of them, where known.
    pub cost: Option<Money>,
}

/// What becomes of one material.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MaterialSum {
    /// Key of the material.
    pub material: String,
    /// Weight on hand before buying.
    pub on_hand: Mass,
    /// Weight the doses take.
    pub needed: Mass,
    /// Weight bought.
    pub bought: Mass,
    /// Weight left over: on hand and bought, less needed.
    pub left_over: Mass,
}

/// A demand, or a part of it, met from one material.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Met {
    /// Path of the demand.
    pub path: String,
    /// Key of the material.
    pub material: String,
    /// Weight of it.
    pub weight: Mass,
    /// Share of the demand that is met in the way this material belongs to.
    pub share: Share,
}

/// A demand that what is on hand and on offer cannot meet, or not wholly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unmet {
    /// Path of the demand.
    pub path: String,
    /// Share of it that stays unmet, above 0 and at most 1.
    pub share: Share,
    /// Whether a limit stands in the way as well as what is to be had.
    pub limited: bool,
    /// What would meet the rest, one line for each alternative, lightest first.
    pub would: Vec<Vec<Part>>,
}

/// Phosphate that could not be kept off soil at or above its target.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unwanted {
    /// Path of the demand.
    pub path: String,
    /// Phosphate brought by what was chosen for it.
    pub phosphate: Mass,
}

/// Why an offer is on the list: the best list without it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rival {
    /// The offer on the list.
    pub offer: OfferName,
    /// What the part of the list that hangs together with this offer comes to.
    pub with: Measure,
    /// What the same part comes to without the offer; none where needs would go unmet or more
    /// phosphate would fall on soil that has enough.
    pub without: Option<Measure>,
    /// What would be bought instead (packs that the list does not have, or has fewer of).
    pub instead: Vec<Line>,
}

/// The best list that differs from this one by at least one offer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NextBest {
    /// The offer it does without.
    pub without: OfferName,
    /// What the whole list comes to then; a weight where only the part chosen by weight differs.
    pub total: Measure,
}

/// Whether the list is known to be the least.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Proof {
    /// No list costs less (or weighs less where prices are missing).
    Least,
    /// A search limit was reached; at most this much could still be saved.
    Within {
        /// Money that a better list could save at most.
        cost: Money,
        /// Weight that a better list could save at most in the part chosen by weight.
        weight: Mass,
    },
}

/// Something to be said about the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Note {
    /// Prices are missing for packs of these materials, so that they were chosen by least weight
    /// together with all they compete with.
    ByWeight {
        /// Keys of materials with a pack without a price.
        unpriced: Vec<String>,
        /// Keys of all materials chosen by weight.
        chosen: Vec<String>,
    },
    /// Materials were chosen among those in the shed.
    Chosen {
        /// Whether no other choice that feeds the beds as well costs less.
        proven: bool,
        /// What another choice could save at most, where that is known.
        could_save: Option<Money>,
    },
    /// More is bought than the doses need, to reach the least order of a supplier.
    RaisedToMinimum {
        /// Name of the supplier.
        supplier: String,
        /// The least order.
        minimum: Money,
        /// What the packs cost that no dose needs.
        idle: Money,
    },
    /// The order stays below what the supplier asks for, or cannot be held against it for want
    /// of prices.
    BelowMinimum {
        /// Name of the supplier.
        supplier: String,
        /// Sum of known pack prices in the order.
        spent: Money,
        /// The least order.
        minimum: Money,
    },
}

/// A shopping list and what it serves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct List {
    /// What to buy, by material, supplier and pack.
    pub lines: Vec<Line>,
    /// Delivery charges of the suppliers bought from.
    pub deliveries: Vec<(String, Money)>,
    /// Sum of all known prices and delivery charges.
    pub cost: Money,
    /// Weight of packs on the list without a price; zero where the cost is whole.
    pub unpriced: Mass,
    /// What becomes of each material that is used or bought.
    pub materials: Vec<MaterialSum>,
    /// Which demand is met from which material.
    pub met: Vec<Met>,
    /// Demands that nothing to be had meets.
    pub unmet: Vec<Unmet>,
    /// Phosphate that could not be kept off soil that has enough.
    pub unwanted: Vec<Unwanted>,
    /// Whether the list is known to be the least.
    pub proof: Proof,
    /// Why each offer is on the list; empty where the comparison was not asked for.
    pub rivals: Vec<Rival>,
    /// The next best list; none where every offer on the list is needed.
    pub next_best: Option<NextBest>,
    /// What else is to be said.
    pub notes: Vec<Note>,
}

/// The shopping lists of a season and what nutrients cost in each pack on offer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// What to buy for the doses that will be given.
    pub certain: List,
    /// What to buy besides, should every dose that waits for a measurement be given; what the
    /// certain list leaves over is used first.
    pub possible: List,
    /// What a kilogram of each nutrient costs in each pack on offer.
    pub nutrient_costs: Vec<PackCost>,
    /// What a kilogram of each nutrient costs at its cheapest single-nutrient offer.
    pub worth: Npk<Option<Money>>,
}
