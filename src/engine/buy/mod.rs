//! What to buy: whole packs at least total cost for all doses of all beds, less what is on hand.
//!
//! A dose may be shared between the materials that could give it, in any proportion; packs are
//! whole. First as few doses as possible go short, then as little phosphate as possible goes onto
//! soil that has enough, then the cost of packs and delivery is made least (the weight of packs
//! where prices are missing). What hangs together by material, limit or supplier is solved
//! together, the rest apart. The search ends by a count of nodes, never by the clock, so that the
//! same beds and shed give the same list everywhere, in whatever order they were written.

mod assemble;
mod assign;
mod block;
mod by_price;
mod case;
mod choose;
mod demand;
mod exact;
mod greedy;
mod list;
mod merge;
mod model;
mod nutrient_cost;
mod packs;
mod ration;
mod search;
mod shed;
mod solve;
#[cfg(test)]
mod tests;

pub use assign::{Assigned, assign};
pub use demand::{Alternative, Certainty, Demand, Draw, Limit, Part};
pub use list::{
    Answer, Line, List, MaterialSum, Measure, Met, NextBest, Note, OfferName, Proof, Rival, Unmet,
    Unwanted,
};
pub use nutrient_cost::{
    PackCost, SharedCost, pack_costs, rest_bearer, share_price, single_nutrient_worth,
};
pub use shed::{Offer, Pack, Shed, Stock, Supplier};

use block::Market;
use case::Case;
use choose::{choose, rivals};

/// Returns what to buy for the doses that will be given, what to buy besides for those that may
/// be, why each offer is on the list and what the next best list costs.
pub fn buy(shed: &Shed, demands: &[Demand], limits: &[Limit]) -> Answer {
    let of = |certainty: Certainty| -> Vec<Demand> {
        demands.iter().filter(|demand| demand.certainty == certainty).cloned().collect()
    };
    let (certain, limits) = compared_list(shed, &of(Certainty::Certain), limits);
    let mut later = shed.clone();
    later.stock.retain(|held| certain.materials.iter().all(|sum| sum.material != held.material));
    later.stock.extend(
        certain
            .materials
            .iter()
            .map(|sum| Stock { material: sum.material.clone(), on_hand: sum.left_over }),
    );
    let (possible, _) = compared_list(&later, &of(Certainty::Possible), &limits);
    let worth = single_nutrient_worth(&shed.offers);
    Answer { certain, possible, nutrient_costs: pack_costs(&shed.offers, &worth), worth }
}

/// Returns the least list for all the demands, without asking what each offer was weighed against.
pub fn least_list(shed: &Shed, demands: &[Demand], limits: &[Limit]) -> List {
    let case = Case::new(shed, demands, limits);
    let chosen = choose_all(&case);
    assemble::assemble(&case, &chosen, Vec::new())
}

/// The least list with its rivals, and what it leaves of the limits.
fn compared_list(shed: &Shed, demands: &[Demand], limits: &[Limit]) -> (List, Vec<Limit>) {
    let case = Case::new(shed, demands, limits);
    let chosen = choose_all(&case);
    let mut weighed: Vec<Rival> =
        chosen.blocks.iter().flat_map(|settled| rivals(&case, settled, &chosen.opened)).collect();
    weighed.sort_by(|one, other| one.offer.cmp(&other.offer));
    let list = assemble::assemble(&case, &chosen, weighed);
    (list, assemble::limits_left(&case, &chosen.blocks))
}

fn choose_all(case: &Case) -> choose::Chosen {
    let market = Market { case, forbidden: None };
    let demands: Vec<usize> = (0..case.demands.len()).collect();
    choose(&market, &demands, None, &vec![false; case.suppliers.len()])
}
