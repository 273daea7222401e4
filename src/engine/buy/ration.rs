//! Shares out what is on hand of a material that nobody sells.

use super::exact::Draft;
use super::model::Setting;
use crate::quantity::{Mass, Positive, Share};

/// Meets the smallest doses first, which leaves the fewest short, those of one weight in the order they
/// were asked for; the last in part. Nothing where there is anything to choose: another material, a
/// pack, a limit, phosphate where there is enough of it.
pub(super) fn rationed(setting: &Setting) -> Option<Draft> {
    let (case, block) = (setting.case, setting.block);
    let ([material], []) = (block.materials.as_slice(), block.packs.as_slice()) else {
        return None;
    };
    let weight = |at: usize| -> Option<Positive<Mass>> {
        let wanting = &block.demands[at];
        let [way] = wanting.ways[..] else { return None };
        let way = &case.demands[wanting.demand].ways[way];
        let plain = way.draws.is_empty() && way.unwanted == Mass::ZERO;
        let (of, weight) = *way.parts.first().filter(|_| plain && way.parts.len() == 1)?;
        Positive::new(weight).filter(|_| of == *material)
    };
    let weights: Vec<Positive<Mass>> =
        (0..block.demands.len()).map(weight).collect::<Option<_>>()?;
    let mut order: Vec<usize> = (0..weights.len()).collect();
    order.sort_by_key(|at| weights[*at]);
    let mut left = case.stock[*material];
    let mut shares = vec![vec![Share::ZERO]; weights.len()];
    for at in order {
        let share = (left / weights[at]).at_most(Share::WHOLE);
        left = left - weights[at].get() * share;
        shares[at] = vec![share];
    }
    Some(Draft { shares, counts: Vec::new() })
}
