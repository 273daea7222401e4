//! Puts the parts of a list together.

use super::Supplier;
use super::block::Aim;
use super::case::{Case, Member, Way, times};
use super::choose::{Chosen, line};
use super::demand::{Limit, Part};
use super::exact::{Settled, shortfall};
use super::list::{
    Line, List, MaterialSum, Measure, Met, NextBest, Note, Proof, Rival, Unmet, Unwanted,
};
use crate::quantity::{Mass, Money, Quantity, Share};

/// How a demand is met: shares of the ways open to it; none where nothing is open.
type Ways<'a> = Option<(&'a [usize], &'a [Share])>;

/// Puts a list together from its parts.
pub(super) fn assemble(case: &Case, chosen: &Chosen, rivals: Vec<Rival>) -> List {
    let counts = counts(case, &chosen.blocks);
    let bought: Vec<(usize, u64)> =
        counts.iter().copied().enumerate().filter(|(_, count)| *count > 0).collect();
    let lines: Vec<Line> = bought.iter().map(|(pack, count)| line(case, *pack, *count)).collect();
    let mut deliveries = Vec::new();
    for (at, supplier) in case.suppliers.iter().enumerate() {
        let from = bought.iter().any(|(pack, _)| case.packs[*pack].supplier == at);
        if from && supplier.delivery > Money::ZERO {
            deliveries.push((supplier.name.clone(), supplier.delivery));
        }
    }
    let packs: Money = lines.iter().filter_map(|line| line.cost).sum();
    let unpriced = lines.iter().filter(|line| line.cost.is_none());
    let mut list = List {
        cost: packs + deliveries.iter().map(|(_, charge)| *charge).sum(),
        unpriced: unpriced.map(|line| line.pack.get() * times(line.count)).sum(),
        lines,
        deliveries,
        materials: Vec::new(),
        met: Vec::new(),
        unmet: Vec::new(),
        unwanted: Vec::new(),
        proof: proof(&chosen.blocks),
        rivals,
        next_best: None,
        notes: notes(case, chosen, &bought),
    };
    let mut needed = vec![Mass::ZERO; case.materials.len()];
    for (demand, ways) in met_ways(case, &chosen.blocks).into_iter().enumerate() {
        for member in &case.demands[demand].members {
            serve(case, member, ways, &mut list, &mut needed);
        }
    }
    for (at, needed) in needed.into_iter().enumerate() {
        let weight = |(pack, count): &(usize, u64)| {
            let pack = case.packs[*pack];
            if pack.material == at { pack.weight.get() * times(*count) } else { Mass::ZERO }
        };
        let bought: Mass = bought.iter().map(weight).sum();
        if !needed.is_zero() || !bought.is_zero() {
            let on_hand = case.stock[at];
            // Division leaves a tail far below anything that can be weighed.
            let left_over = (on_hand + bought - needed).at_least(Mass::ZERO);
            let material = case.materials[at].clone();
            list.materials.push(MaterialSum { material, on_hand, needed, bought, left_over });
        }
    }
    let raised = raised(case, &bought, &list.materials);
    list.notes.extend(raised);
    // Demands that were met as one stand apart again.
    list.met.sort_by(|one, other| (&one.path, &one.material).cmp(&(&other.path, &other.material)));
    list.unmet.sort_by(|one, other| one.path.cmp(&other.path));
    list.unwanted.sort_by(|one, other| one.path.cmp(&other.path));
    list.next_best = next_best(&list, &chosen.blocks);
    list
}

/// Packs bought, by pack of the case.
fn counts(case: &Case, blocks: &[Settled]) -> Vec<u64> {
    let mut counts = vec![0; case.packs.len()];
    for settled in blocks {
        for (pack, count) in settled.block.packs.iter().zip(&settled.draft.counts) {
            counts[*pack] += count;
        }
    }
    counts
}

/// How each demand is met.
fn met_ways<'a>(case: &Case, blocks: &'a [Settled]) -> Vec<Ways<'a>> {
    let mut met: Vec<Ways> = vec![None; case.demands.len()];
    for settled in blocks {
        for (wanting, shares) in settled.block.demands.iter().zip(&settled.draft.shares) {
            met[wanting.demand] = Some((&wanting.ways, shares));
        }
    }
    met
}

/// Writes down what one demand is met from, and what it goes short of.
fn serve(case: &Case, ask: &Member, ways: Ways, list: &mut List, needed: &mut [Mass]) {
    let (ways, shares) = ways.unwrap_or((&[], &[]));
    let mut phosphate = Mass::ZERO;
    for (way, share) in ways.iter().zip(shares).filter(|(_, share)| !share.is_zero()) {
        let way = &ask.ways[*way];
        phosphate += way.unwanted * *share;
        for (material, weight) in &way.parts {
            let weight = *weight * *share;
            needed[*material] += weight;
            let material = case.materials[*material].clone();
            list.met.push(Met { path: ask.path.clone(), material, weight, share: *share });
        }
    }
    if !phosphate.is_zero() {
        list.unwanted.push(Unwanted { path: ask.path.clone(), phosphate });
    }
    let short = shortfall(shares);
    if short.is_zero() {
        return;
    }
    let parts = |way: &Way| -> Vec<Part> {
        let part = |(material, weight): &(usize, Mass)| Part {
            material: case.materials[*material].clone(),
            weight: *weight * short,
        };
        way.parts.iter().map(part).collect()
    };
    let mut would: Vec<Vec<Part>> = ask.ways.iter().map(parts).collect();
    would.sort_by_key(|parts| parts.iter().map(|part| part.weight).sum::<Mass>());
    let limited = ways.iter().any(|way| !ask.ways[*way].draws.is_empty());
    list.unmet.push(Unmet { path: ask.path.clone(), share: short, limited, would });
}

/// What could still be saved, over all parts.
fn proof(blocks: &[Settled]) -> Proof {
    let spare = |aim: Aim| {
        let of_aim = blocks.iter().filter(move |settled| settled.block.aim == aim);
        of_aim.map(|settled| settled.amount * settled.spare.fraction())
    };
    let cost: Money = spare(Aim::Cost).map(Money::from_units).sum();
    let weight: Mass = spare(Aim::Weight).map(Mass::from_kg).sum();
    if cost.is_zero() && weight.is_zero() { Proof::Least } else { Proof::Within { cost, weight } }
}

/// What is to be said about missing prices and least orders.
fn notes(case: &Case, chosen: &Chosen, bought: &[(usize, u64)]) -> Vec<Note> {
    let mut notes = Vec::new();
    for settled in chosen.blocks.iter().filter(|settled| settled.block.aim == Aim::Weight) {
        let names = |all: bool| -> Vec<String> {
            let of_packs = settled.block.packs.iter().map(|pack| &case.packs[*pack]);
            let of_packs = of_packs.filter(|pack| all || pack.price.is_none());
            let mut materials: Vec<usize> = of_packs.map(|pack| pack.material).collect();
            materials.dedup();
            materials.iter().map(|at| case.materials[*at].clone()).collect()
        };
        notes.push(Note::ByWeight { unpriced: names(false), chosen: names(true) });
    }
    for (at, supplier) in case.suppliers.iter().enumerate() {
        let from = || bought.iter().filter(|(pack, _)| case.packs[*pack].supplier == at);
        let known = |(pack, count): &(usize, u64)| Some(case.packs[*pack].price? * times(*count));
        let spent: Money = from().filter_map(known).sum();
        let supplier_name = supplier.name.clone();
        if let Some(minimum) = supplier.minimum
            && from().next().is_some()
            && spent < minimum
        {
            notes.push(Note::BelowMinimum { supplier: supplier_name, spent, minimum });
        }
    }
    notes
}

/// Orders that were made larger than the doses need, to reach the least that a supplier takes.
fn raised(case: &Case, bought: &[(usize, u64)], sums: &[MaterialSum]) -> Vec<Note> {
    let idle_packs = |pack: usize, count: u64| {
        let pack = case.packs[pack];
        let name = &case.materials[pack.material];
        let left =
            sums.iter().find(|sum| sum.material == *name).map_or(Mass::ZERO, |sum| sum.left_over);
        (1..=count).take_while(|idle| pack.weight.get() * times(*idle) <= left).count() as u64
    };
    let note = |(at, supplier): (usize, &Supplier)| {
        let minimum = supplier.minimum?;
        let from = bought.iter().filter(|(pack, _)| case.packs[*pack].supplier == at);
        let idle: Money = from
            .filter_map(|(pack, count)| {
                Some(case.packs[*pack].price? * times(idle_packs(*pack, *count)))
            })
            .sum();
        (idle > Money::ZERO).then(|| Note::RaisedToMinimum {
            supplier: supplier.name.clone(),
            minimum,
            idle,
        })
    };
    case.suppliers.iter().enumerate().filter_map(note).collect()
}

/// The cheapest list without one of the offers on this one.
fn next_best(list: &List, blocks: &[Settled]) -> Option<NextBest> {
    let of = |aim: Aim| blocks.iter().filter(move |settled| settled.block.aim == aim);
    let costs = list.rivals.iter().filter_map(|rival| match (rival.with, rival.without?) {
        (Measure::Cost(with), Measure::Cost(without)) => Some((without - with, rival)),
        _ => None,
    });
    let weights = list.rivals.iter().filter_map(|rival| match (rival.with, rival.without?) {
        (Measure::Weight(with), Measure::Weight(without)) => Some((without - with, rival)),
        _ => None,
    });
    if let Some((more, rival)) = costs.min_by_key(|(more, _)| *more) {
        let total = Measure::Cost(list.cost + more);
        return Some(NextBest { without: rival.offer.clone(), total });
    }
    let (more, rival) = weights.min_by_key(|(more, _)| *more)?;
    let weight: Mass = of(Aim::Weight).map(|settled| Mass::from_kg(settled.amount)).sum();
    Some(NextBest { without: rival.offer.clone(), total: Measure::Weight(weight + more) })
}

/// What is left of each limit when the list is spread.
pub(super) fn limits_left(case: &Case, blocks: &[Settled]) -> Vec<Limit> {
    let mut left = case.limits.clone();
    for (demand, ways) in met_ways(case, blocks).into_iter().enumerate() {
        let (ways, shares) = ways.unwrap_or((&[], &[]));
        for (way, share) in ways.iter().zip(shares) {
            for (limit, draw) in &case.demands[demand].ways[*way].draws {
                left[*limit] = left[*limit] - *draw * *share;
            }
        }
    }
    let limits = case.limit_keys.iter().zip(left);
    limits.map(|(key, most)| Limit { key: key.clone(), most: most.at_least(Mass::ZERO) }).collect()
}
