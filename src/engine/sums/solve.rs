//! Which materials, and which needs met exactly, give the least weight: small and exact.
//!
//! A least-weight answer lies on a corner: as many materials as there are needs met exactly. With
//! three nutrients at most there are few corners, so all are looked at; no floats, no iteration.

use rust_decimal::Decimal;

use crate::quantity::{over, settle, times};

/// A corner: the materials used and the needs that they meet exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Corner {
    /// Which materials, by their place in the list.
    pub materials: Vec<usize>,
    /// Which needs, by their place in the list.
    pub needs: Vec<usize>,
}

/// Chooses the corner of least total weight: among those that meet every need exactly where there
/// are any, else among those that meet every need. Nothing where no corner does.
///
/// `needs` are weights above zero; `shares[material][need]` is what a material holds of each.
pub fn choose(needs: &[Decimal], shares: &[Vec<Decimal>]) -> Option<Corner> {
    let mut best: Option<(bool, Decimal, Corner)> = None;
    for size in 1..=needs.len().min(shares.len()) {
        for materials in subsets(shares.len(), size) {
            for tight in subsets(needs.len(), size) {
                let Some(weights) = corner_weights(needs, shares, &materials, &tight) else {
                    continue;
                };
                let Some(exact) = meets(needs, shares, &materials, &weights) else { continue };
                let total = weights
                    .iter()
                    .copied()
                    .map(settle)
                    .fold(Decimal::ZERO, Decimal::saturating_add);
                let better = best.as_ref().is_none_or(|(was_exact, was_total, _)| {
                    (exact && !was_exact) || (exact == *was_exact && total < *was_total)
                });
                if better {
                    let corner = Corner { materials: materials.clone(), needs: tight.clone() };
                    best = Some((exact, total, corner));
                }
            }
        }
    }
    best.map(|(_, _, corner)| corner)
}

/// Whether the weights meet every need, and if so, whether each exactly.
fn meets(
    needs: &[Decimal],
    shares: &[Vec<Decimal>],
    materials: &[usize],
    weights: &[Decimal],
) -> Option<bool> {
    let mut exact = true;
    for (index, need) in needs.iter().enumerate() {
        let brought = materials
            .iter()
            .zip(weights)
            .map(|(material, weight)| times(shares[*material][index], *weight))
            .fold(Decimal::ZERO, Decimal::saturating_add);
        let (brought, need) = (settle(brought), settle(*need));
        if brought < need {
            return None;
        }
        exact &= brought == need;
    }
    Some(exact)
}

/// The weights at a corner, where there are any and none is below zero.
fn corner_weights(
    needs: &[Decimal],
    shares: &[Vec<Decimal>],
    materials: &[usize],
    tight: &[usize],
) -> Option<Vec<Decimal>> {
    let mut rows: Vec<Vec<Decimal>> = tight
        .iter()
        .map(|need| {
            let mut row: Vec<Decimal> = materials.iter().map(|one| shares[*one][*need]).collect();
            row.push(needs[*need]);
            row
        })
        .collect();
    let size = materials.len();
    for column in 0..size {
        let pivot = (column..size).max_by_key(|row| rows[*row][column].abs())?;
        if rows[pivot][column].round_dp(16).is_zero() {
            return None;
        }
        rows.swap(column, pivot);
        for row in 0..size {
            if row == column {
                continue;
            }
            let factor = over(rows[row][column], rows[column][column]);
            let taken: Vec<Decimal> =
                rows[column].iter().map(|value| times(factor, *value)).collect();
            for (value, taken) in rows[row].iter_mut().zip(taken) {
                *value = value.saturating_sub(taken);
            }
        }
    }
    let weights: Vec<Decimal> = (0..size).map(|at| over(rows[at][size], rows[at][at])).collect();
    weights.iter().all(|weight| settle(weight.round_dp(20)) >= Decimal::ZERO).then_some(weights)
}

/// All ways to take `size` of `count` things, in order.
fn subsets(count: usize, size: usize) -> Vec<Vec<usize>> {
    if size == 0 {
        return vec![Vec::new()];
    }
    (0..count)
        .flat_map(|last| {
            subsets(last, size - 1).into_iter().map(move |mut rest| {
                rest.push(last);
                rest
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn d(text: &str) -> Decimal {
        text.parse().expect("a decimal")
    }

    #[test]
    fn every_subset_once() {
        assert_eq!(subsets(3, 2), vec![vec![0, 1], vec![0, 2], vec![1, 2]]);
        assert_eq!(subsets(4, 4).len(), 1);
        assert!(subsets(2, 3).is_empty());
    }

    #[test]
    fn needs_that_can_be_met_exactly_are() {
        let shares = [vec![d("0.21"), d("0.22")], vec![d("0.32"), d("0")]];
        let corner = choose(&[d("3.5"), d("1.75")], &shares).expect("a corner");
        assert_eq!(corner, Corner { materials: vec![0, 1], needs: vec![0, 1] });
    }

    #[test]
    fn else_the_least_weight_meets_all() {
        // One material with too much phosphate for its nitrogen: sized on nitrogen.
        let corner = choose(&[d("3"), d("0.5")], &[vec![d("0.1"), d("0.1")]]).expect("a corner");
        assert_eq!(corner, Corner { materials: vec![0], needs: vec![0] });
        // A second one that is richer in nitrogen takes over what it can.
        let shares = [vec![d("0.1"), d("0.1")], vec![d("0.4"), d("0.01")]];
        let corner = choose(&[d("3"), d("0.5")], &shares).expect("a corner");
        assert_eq!(corner.materials, vec![0, 1]);
    }

    #[test]
    fn a_need_that_nothing_carries_has_no_corner() {
        assert_eq!(choose(&[d("3"), d("1")], &[vec![d("0.46"), d("0")]]), None);
    }
}
