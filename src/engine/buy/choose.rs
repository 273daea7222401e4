//! Chooses for a set of demands: splits them, solves each part, and asks what the list would be
//! without an offer.

use super::block::{Aim, Block, Market};
use super::case::{Case, times};
use super::exact::{Settled, shortfall};
use super::list::{Line, Measure, Rival};
use super::solve::solve_block;
use crate::quantity::{Mass, Money, Share};
use rust_decimal::Decimal;

/// How much more may go short or astray in a list without an offer for it to be as good, as a
/// part of a dose and of the phosphate.
const AS_GOOD: Decimal = Decimal::from_parts(1, 0, 0, false, 6);

/// The parts of a list, and the suppliers that are bought from by weight.
pub(super) struct Chosen {
    pub blocks: Vec<Settled>,
    pub opened: Vec<bool>,
}

/// Returns the least lists for the demands, part by part. Parts with a pack without a price are
/// chosen first, by weight; their suppliers then deliver to the others as well.
pub(super) fn choose(
    market: &Market,
    demands: &[usize],
    aim: Option<Aim>,
    opened: &[bool],
) -> Chosen {
    let case = market.case;
    let mut opened = opened.to_vec();
    let (by_cost, by_weight): (Vec<Block>, Vec<Block>) =
        market.groups(demands, aim).into_iter().partition(|block| block.aim == Aim::Cost);
    let mut blocks: Vec<Settled> =
        by_weight.iter().map(|block| solve_block(case, block, &opened)).collect();
    for settled in &blocks {
        for (pack, count) in settled.block.packs.iter().zip(&settled.draft.counts) {
            opened[case.packs[*pack].supplier] |= *count > 0;
        }
    }
    let asks: Vec<bool> = case
        .suppliers
        .iter()
        .zip(&opened)
        .map(|(supplier, opened)| {
            !opened && (supplier.delivery > Money::ZERO || supplier.minimum.is_some())
        })
        .collect();
    let joined = market.join_by_supplier(by_cost, &asks);
    blocks.extend(joined.iter().map(|block| solve_block(case, block, &opened)));
    Chosen { blocks, opened }
}

/// Says of each offer bought in a block what the block would come to without it.
pub(super) fn rivals(case: &Case, settled: &Settled, opened: &[bool]) -> Vec<Rival> {
    let demands: Vec<usize> = settled.block.demands.iter().map(|wanting| wanting.demand).collect();
    let bought = settled.block.packs.iter().zip(&settled.draft.counts);
    let mut offers: Vec<usize> =
        bought.filter(|(_, count)| **count > 0).map(|(pack, _)| case.packs[*pack].offer).collect();
    offers.dedup();
    let measure = |amount: Decimal| match settled.block.aim {
        Aim::Cost => Measure::Cost(Money::from_units(amount)),
        Aim::Weight => Measure::Weight(Mass::from_kg(amount)),
    };
    // By weight, suppliers ask for nothing; by cost, those bought from by weight do not.
    let rival = |offer: usize| {
        let market = Market { case, forbidden: Some(offer) };
        let other = choose(&market, &demands, Some(settled.block.aim), opened).blocks;
        let as_good = short(&other, &demands) <= settled.unmet + AS_GOOD
            && astray(&other) <= settled.unwanted * Share::from_fraction(Decimal::ONE + AS_GOOD);
        let amount = other.iter().map(|block| block.amount).sum();
        Rival {
            offer: case.offer_name(offer),
            with: measure(settled.amount),
            without: as_good.then(|| measure(amount)),
            instead: if as_good { instead(case, settled, &other) } else { Vec::new() },
        }
    };
    offers.into_iter().map(rival).collect()
}

/// Doses left short; a demand in no block is short as a whole.
fn short(blocks: &[Settled], demands: &[usize]) -> Decimal {
    let met: usize = blocks.iter().map(|block| block.block.demands.len()).sum();
    let within = blocks.iter().flat_map(|block| &block.draft.shares);
    let within: Decimal = within.map(|shares| shortfall(shares).fraction()).sum();
    within + Decimal::from(demands.len().saturating_sub(met))
}

/// Phosphate onto soil that has enough.
fn astray(blocks: &[Settled]) -> Mass {
    blocks.iter().map(|block| block.unwanted).sum()
}

/// Packs that the other list has more of.
fn instead(case: &Case, settled: &Settled, other: &[Settled]) -> Vec<Line> {
    let mut more = vec![0_u64; case.packs.len()];
    for block in other {
        for (pack, count) in block.block.packs.iter().zip(&block.draft.counts) {
            more[*pack] += count;
        }
    }
    for (pack, count) in settled.block.packs.iter().zip(&settled.draft.counts) {
        more[*pack] = more[*pack].saturating_sub(*count);
    }
    let counts = more.into_iter().enumerate().filter(|(_, count)| *count > 0);
    counts.map(|(pack, count)| line(case, pack, count)).collect()
}

/// A line of a list.
pub(super) fn line(case: &Case, pack: usize, count: u64) -> Line {
    let at = case.packs[pack];
    Line {
        offer: case.offer_name(at.offer),
        pack: at.weight,
        count,
        price: at.price,
        cost: at.price.map(|price| price * times(count)),
    }
}
