//! Chooses one way for each demand, where a dose is not to be shared between materials.
//!
//! What the shared list comes to is a bound from below: no choice of whole ways costs less. So the
//! shared list is solved first, each demand given the way with most of it, and where that costs more,
//! demands are settled one by one. The search ends by a count of turns, never by the clock.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::block::{Aim, Market};
use super::by_price::Prospect;
use super::case::Case;
use super::choose::choose;
use super::demand::{Alternative, Demand, Limit};
use super::exact::{Settled, shortfall};
use super::shed::Shed;
use crate::quantity::{Mass, Money, Share};

/// Most turns of the search over one part of the garden.
const MOST_TURNS: usize = 150;
/// Turns times the square of the demands of a part: large gardens get fewer turns.
const MOST_WORK: usize = 30_000;
/// Most demands with several ways that are searched; of more each takes what is cheapest by weight.
const MOST_OPEN: usize = 150;
/// How far two sums may lie apart and still be the same.
const SAME: Decimal = Decimal::from_parts(1, 0, 0, false, 7);

/// One way chosen for each demand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assigned {
    /// For each demand, in the order given, an index into its alternatives.
    pub ways: Vec<usize>,
    /// Whether no other choice is better.
    pub proven: bool,
    /// Money that a better choice could save at most: zero where none is better.
    pub could_save: Money,
}

/// Returns the way of each demand with which the list is least. Paths of demands with several ways
/// differ from each other.
pub fn assign(shed: &Shed, demands: &[Demand], limits: &[Limit]) -> Assigned {
    let mut sorted: Vec<Demand> = demands.to_vec();
    for demand in &mut sorted {
        demand.alternatives.sort();
        demand.alternatives.dedup();
    }
    let search = Search { shed, limits, demands: &sorted };
    let (mut chosen, mut proven, mut spare) = (vec![0; demands.len()], true, Decimal::ZERO);
    for (aim, part) in search.parts() {
        let settled = search.settle(&part, aim);
        for (demand, way) in part.iter().zip(settled.ways) {
            chosen[*demand] = way;
        }
        proven &= settled.spare.is_none();
        spare += settled.spare.filter(|_| aim == Aim::Cost).unwrap_or_default();
    }
    let original = |(at, way): (usize, usize)| {
        let wanted = sorted[at].alternatives.get(way);
        let found = |one: &Alternative| Some(one) == wanted;
        demands[at].alternatives.iter().position(found).unwrap_or(0)
    };
    let ways = chosen.into_iter().enumerate().map(original).collect();
    Assigned { ways, proven, could_save: Money::from_units(spare) }
}

/// What a list comes to: doses short, phosphate where there is enough, money or weight.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Score {
    unmet: Decimal,
    unwanted: Decimal,
    amount: Decimal,
}

impl Score {
    fn of(blocks: &[Settled], missing: usize) -> (Self, Self) {
        let shares = blocks.iter().flat_map(|block| &block.draft.shares);
        let unmet: Decimal = shares.map(|shares| shortfall(shares).fraction()).sum();
        let reached = Self {
            unmet: unmet + Decimal::from(missing),
            unwanted: blocks.iter().map(|block| block.unwanted).sum::<Mass>().kg(),
            amount: blocks.iter().map(|block| block.amount).sum(),
        };
        let least = |block: &Settled| block.amount * (Share::WHOLE - block.spare).fraction();
        (reached, Self { amount: blocks.iter().map(least).sum(), ..reached })
    }

    /// Whether this is better than another by more than a tail.
    fn better_than(&self, other: &Self) -> bool {
        let pairs = [
            (self.unmet, other.unmet),
            (self.unwanted, other.unwanted),
            (self.amount, other.amount),
        ];
        for (one, two) in pairs {
            if (one - two).abs() > SAME * two.abs().max(Decimal::ONE) {
                return one < two;
            }
        }
        false
    }
}

/// A list with some demands settled and the others shared.
struct Relaxed {
    score: Score,
    bound: Score,
    /// Shares of each demand's ways.
    shares: Vec<Vec<Share>>,
}

/// The ways of a part's demands; and, where the search was cut short, what a better choice could save.
struct Part {
    ways: Vec<usize>,
    spare: Option<Decimal>,
}

struct Search<'a> {
    shed: &'a Shed,
    limits: &'a [Limit],
    demands: &'a [Demand],
}

impl Search<'_> {
    /// The demands that hang together, with what is made least for them.
    fn parts(&self) -> Vec<(Aim, Vec<usize>)> {
        let case = Case::new(self.shed, self.demands, self.limits);
        let market = Market { case: &case, forbidden: None };
        let all: Vec<usize> = (0..case.demands.len()).collect();
        let asks: Vec<bool> = case.suppliers.iter().map(|_| true).collect();
        let (by_cost, by_weight): (Vec<_>, Vec<_>) =
            market.groups(&all, None).into_iter().partition(|block| block.aim == Aim::Cost);
        let mut at: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        for (index, demand) in self.demands.iter().enumerate() {
            at.entry(&demand.path).or_default().push(index);
        }
        let members = |block: &super::block::Block| {
            let asks = block.demands.iter().flat_map(|one| &case.demands[one.demand].members);
            let mut found: Vec<usize> =
                asks.filter_map(|member| at.get(member.path.as_str())).flatten().copied().collect();
            found.sort_unstable();
            found.dedup();
            found
        };
        let joined = market.join_by_supplier(by_cost, &asks);
        joined.iter().chain(&by_weight).map(|block| (block.aim, members(block))).collect()
    }

    /// Settles the demands of one part.
    fn settle(&self, part: &[usize], aim: Aim) -> Part {
        let several = |at: &&usize| self.demands[**at].alternatives.len() > 1;
        let open = part.iter().filter(several).count();
        let first = || vec![0; part.len()];
        if open == 0 {
            return Part { ways: first(), spare: None };
        }
        if open > MOST_OPEN {
            return self.settle_by_price(part, aim);
        }
        let mut least: Option<Decimal> = None;
        let turns = (MOST_WORK / (open * open)).clamp(2, MOST_TURNS);
        let mut best: Option<(Score, Vec<usize>)> = None;
        let mut waiting: Vec<Vec<Option<usize>>> = vec![vec![None; part.len()]];
        let mut taken = 0;
        while let Some(settled) = waiting.pop() {
            if taken >= turns {
                let amount = best.as_ref().map_or(Decimal::ZERO, |(score, _)| score.amount);
                let spare = (amount - least.unwrap_or_default()).max(Decimal::ZERO);
                return Part {
                    ways: best.map_or_else(first, |(_, ways)| ways),
                    spare: Some(spare),
                };
            }
            taken += 1;
            let relaxed = self.relax(part, &settled, aim);
            least.get_or_insert(relaxed.bound.amount);
            if best.as_ref().is_some_and(|(score, _)| !relaxed.bound.better_than(score)) {
                continue;
            }
            let ways = round(&self.sizes(part), &relaxed.shares);
            let whole: Vec<Option<usize>> = ways.iter().copied().map(Some).collect();
            let score =
                if whole == settled { relaxed.score } else { self.relax(part, &whole, aim).score };
            if best.as_ref().is_none_or(|(known, _)| score.better_than(known)) {
                best = Some((score, ways.clone()));
            }
            if best.as_ref().is_some_and(|(known, _)| !relaxed.bound.better_than(known)) {
                continue;
            }
            let Some(demand) = self.most_shared(part, &settled, &relaxed.shares) else { continue };
            // The likeliest way is looked at first.
            let mut order: Vec<usize> = (0..relaxed.shares[demand].len()).collect();
            order.sort_by_key(|way| relaxed.shares[demand][*way]);
            for way in order {
                let mut next = settled.clone();
                next[demand] = Some(way);
                waiting.push(next);
            }
        }
        Part { ways: best.map_or_else(first, |(_, ways)| ways), spare: None }
    }

    /// Settles the demands of a part too large to search.
    fn settle_by_price(&self, part: &[usize], aim: Aim) -> Part {
        let demands: Vec<&Demand> = part.iter().map(|at| &self.demands[*at]).collect();
        let prospect = Prospect::new(self.shed, aim);
        let score = |ways: &[usize]| {
            let whole: Vec<Option<usize>> = ways.iter().copied().map(Some).collect();
            self.relax(part, &whole, aim).score
        };
        let mut without = BTreeSet::new();
        let mut ways = prospect.pick(&demands, &without);
        let mut best = score(&ways);
        // A pack for a little of one material may cost more than that little in another.
        for material in Prospect::taken(&demands, &ways) {
            without.insert(material);
            let other = prospect.pick(&demands, &without);
            let reached = score(&other);
            if reached.better_than(&best) {
                (best, ways) = (reached, other);
            } else {
                without.remove(material);
            }
        }
        let spare = (best.amount - prospect.bound(&demands)).max(Decimal::ZERO);
        Part { ways, spare: Some(spare).filter(|spare| !spare.is_zero()) }
    }

    /// Solves a part with some of its demands settled.
    fn relax(&self, part: &[usize], settled: &[Option<usize>], aim: Aim) -> Relaxed {
        let asked: Vec<Demand> = part
            .iter()
            .zip(settled)
            .map(|(at, way)| {
                let demand = &self.demands[*at];
                let kept = way.and_then(|way| demand.alternatives.get(way));
                let alternatives =
                    kept.map_or_else(|| demand.alternatives.clone(), |way| vec![way.clone()]);
                Demand { alternatives, ..demand.clone() }
            })
            .collect();
        let case = Case::new(self.shed, &asked, self.limits);
        let market = Market { case: &case, forbidden: None };
        let all: Vec<usize> = (0..case.demands.len()).collect();
        let blocks = choose(&market, &all, Some(aim), &vec![false; case.suppliers.len()]).blocks;
        let met: usize = blocks.iter().map(|block| block.block.demands.len()).sum();
        let (score, bound) = Score::of(&blocks, all.len().saturating_sub(met));
        let mut by_path: BTreeMap<&str, Vec<Share>> = BTreeMap::new();
        for block in &blocks {
            for (wanting, shares) in block.block.demands.iter().zip(&block.draft.shares) {
                let ask = &case.demands[wanting.demand];
                let mut whole = vec![Share::ZERO; ask.ways.len()];
                for (way, share) in wanting.ways.iter().zip(shares) {
                    whole[*way] = *share;
                }
                for member in &ask.members {
                    by_path.insert(&member.path, whole.clone());
                }
            }
        }
        let shares = part
            .iter()
            .zip(settled)
            .map(|(at, way)| {
                let count = self.demands[*at].alternatives.len();
                let mut shares = vec![Share::ZERO; count];
                match (way, by_path.get(self.demands[*at].path.as_str())) {
                    (Some(way), _) => shares[*way] = Share::WHOLE,
                    (None, Some(found)) if found.len() == count => shares.clone_from(found),
                    (None, _) => {}
                }
                shares
            })
            .collect();
        Relaxed { score, bound, shares }
    }

    /// How much each demand weighs beside the others of its kind.
    fn sizes(&self, part: &[usize]) -> Vec<Mass> {
        let size = |at: &usize| {
            let first = self.demands[*at].alternatives.first();
            first.map_or(Mass::ZERO, |way| way.parts.iter().map(|part| part.weight).sum())
        };
        part.iter().map(size).collect()
    }

    /// The open demand that is most shared between ways; any open one where none is shared.
    fn most_shared(
        &self,
        part: &[usize],
        settled: &[Option<usize>],
        shares: &[Vec<Share>],
    ) -> Option<usize> {
        let sizes = self.sizes(part);
        let open = (0..part.len()).filter(|at| settled[*at].is_none() && shares[*at].len() > 1);
        let shared = |at: &usize| {
            let most = shares[*at].iter().copied().max().unwrap_or(Share::ZERO);
            sizes[*at] * (Share::WHOLE - most)
        };
        open.max_by_key(|at| (shared(at), std::cmp::Reverse(*at)))
    }
}

/// Gives each demand one way so that demands with the same shares keep to them on the whole.
fn round(sizes: &[Mass], shares: &[Vec<Share>]) -> Vec<usize> {
    let mut owed: BTreeMap<&Vec<Share>, Vec<Mass>> = BTreeMap::new();
    let mut ways = Vec::with_capacity(shares.len());
    for (size, shares) in sizes.iter().zip(shares) {
        let owed = owed.entry(shares).or_insert_with(|| vec![Mass::ZERO; shares.len()]);
        for (owed, share) in owed.iter_mut().zip(shares) {
            *owed += *size * *share;
        }
        let most = (0..shares.len()).max_by_key(|way| (owed[*way], std::cmp::Reverse(*way)));
        let way = most.unwrap_or(0);
        if let Some(owed) = owed.get_mut(way) {
            *owed = *owed - *size;
        }
        ways.push(way);
    }
    ways
}
