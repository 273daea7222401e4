//! What each offer on the list was weighed against, where materials were chosen: the best list without
//! it, the materials chosen anew.

use rust_decimal::Decimal;

use crate::calendar::Date;
use crate::engine::buy::{
    Certainty, Demand, Line, List, Measure, NextBest, OfferName, Rival, Shed, assign, least_list,
};
use crate::engine::plan::{self, Plan};
use crate::quantity::{Mass, Quantity};

/// How much more may go short without an offer, in doses and in kilograms of phosphate astray.
const AS_GOOD: Decimal = Decimal::from_parts(1, 0, 0, false, 6);

/// Weighs each offer of the certain list against the best list without it.
pub(super) fn weigh_choices(shed: &Shed, plan: &Plan, today: Option<Date>, list: &mut List) {
    let (fixed, places) = plan::demands(today, plan, &plan.chosen.open);
    let certain = |demand: &Demand| demand.certainty == Certainty::Certain;
    let fixed: Vec<Demand> = fixed.into_iter().filter(certain).collect();
    let open = plan.chosen.open.iter().zip(&places).filter(|(_, demand)| certain(demand));
    let as_chosen = open.clone().filter_map(|(open, demand)| {
        let way = demand.alternatives.get(open.chosen(&plan.chosen.choices)?)?;
        Some(Demand { alternatives: vec![way.clone()], ..demand.clone() })
    });
    let base = least_list(shed, &as_chosen.chain(fixed.iter().cloned()).collect::<Vec<_>>(), &[]);
    let asked: Vec<Demand> = open.map(|(_, demand)| demand.clone()).chain(fixed.clone()).collect();
    let mut offers: Vec<OfferName> = list.lines.iter().map(|line| line.offer.clone()).collect();
    offers.dedup();
    list.rivals = offers
        .into_iter()
        .map(|offer| {
            let mut without = shed.clone();
            let same = |material: &str, supplier: &str| {
                material == offer.material && supplier == offer.supplier
            };
            without.offers.retain(|one| !same(&one.material, &one.supplier));
            let other = chosen_list(&without, &asked);
            let as_good = short(&other) <= short(&base) + AS_GOOD
                && astray(&other).kg() <= astray(&base).kg() + AS_GOOD;
            Rival {
                with: measure(list, list),
                without: as_good.then(|| measure(list, &other)),
                instead: if as_good { instead(list, &other) } else { Vec::new() },
                offer,
            }
        })
        .collect();
    let known = list.rivals.iter().filter_map(|rival| Some((rival.without?, rival.offer.clone())));
    // What seems to cost less was not planned again, and does not feed the beds as well.
    let known = known.filter(|(total, _)| *total >= measure(list, list));
    list.next_best = known.min().map(|(total, without)| NextBest { without, total });
}

/// The least list with every choice open.
fn chosen_list(shed: &Shed, asked: &[Demand]) -> List {
    let ways = assign(shed, asked, &[]).ways;
    let settled = asked.iter().zip(ways).map(|(demand, way)| Demand {
        alternatives: demand.alternatives.get(way).cloned().into_iter().collect(),
        ..demand.clone()
    });
    least_list(shed, &settled.collect::<Vec<_>>(), &[])
}

/// What a list comes to: by weight where the list to be compared with has packs without a price.
fn measure(compared: &List, list: &List) -> Measure {
    if compared.unpriced.is_zero() && list.unpriced.is_zero() {
        return Measure::Cost(list.cost);
    }
    Measure::Weight(list.materials.iter().map(|sum| sum.bought).sum())
}

fn short(list: &List) -> Decimal {
    list.unmet.iter().map(|unmet| unmet.share.fraction()).sum()
}

fn astray(list: &List) -> Mass {
    list.unwanted.iter().map(|one| one.phosphate).sum()
}

/// Packs that the other list has more of.
fn instead(list: &List, other: &List) -> Vec<Line> {
    let had = |line: &Line| {
        let same = list.lines.iter().filter(|one| one.offer == line.offer && one.pack == line.pack);
        same.map(|one| one.count).sum::<u64>()
    };
    let more = other.lines.iter().filter_map(|line| {
        let count = line.count.checked_sub(had(line)).filter(|count| *count > 0)?;
        let cost = line.price.map(|price| price * super::share_of(count));
        Some(Line { count, cost, ..line.clone() })
    });
    more.collect()
}
