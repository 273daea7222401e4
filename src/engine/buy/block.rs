//! Parts of the problem that hang together and are solved apart from each other.
//!
//! Demands hang together where they share a material or a limit, and such groups where they share a
//! supplier who asks for a delivery charge or a least order. A search over all of them at once
//! would find the same list, but much later, or not at all.

use super::case::{Case, Way};
use crate::quantity::{Mass, Quantity};

/// What is made least in a block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Aim {
    Cost,
    Weight,
}

/// Demands that hang together, with the ways and packs open to them.
#[derive(Clone, Debug)]
pub(super) struct Block {
    pub aim: Aim,
    pub demands: Vec<Wanting>,
    pub materials: Vec<usize>,
    pub packs: Vec<usize>,
}

/// One demand and the ways that are open to it.
#[derive(Clone, Debug)]
pub(super) struct Wanting {
    pub demand: usize,
    pub ways: Vec<usize>,
    /// Whether it may have to go short: no way is open that can be bought without end.
    pub tight: bool,
}

/// What may be bought: one offer may be forbidden.
#[derive(Clone, Copy)]
pub(super) struct Market<'a> {
    pub case: &'a Case,
    pub forbidden: Option<usize>,
}

impl Market<'_> {
    fn packs(&self) -> impl Iterator<Item = usize> {
        (0..self.case.packs.len())
            .filter(|pack| Some(self.case.packs[*pack].offer) != self.forbidden)
    }

    /// Whether anything of every part can be had.
    fn open(&self, way: &Way, buyable: &[bool]) -> bool {
        way.parts
            .iter()
            .all(|(material, _)| buyable[*material] || !self.case.stock[*material].is_zero())
    }

    /// Keeps the ways that are open, and of those the harmless ones where that leaves no demand
    /// short: phosphate goes onto soil that has enough only where nothing else will do.
    fn wanting(&self, demand: usize, buyable: &[bool]) -> Wanting {
        let ways = &self.case.demands[demand].ways;
        let endless = |way: &Way| {
            way.draws.is_empty() && way.parts.iter().all(|(material, _)| buyable[*material])
        };
        let mut open: Vec<usize> =
            (0..ways.len()).filter(|way| self.open(&ways[*way], buyable)).collect();
        if open.iter().any(|way| endless(&ways[*way]) && ways[*way].unwanted.is_zero()) {
            open.retain(|way| ways[*way].unwanted.is_zero());
        }
        let tight = !open.iter().any(|way| endless(&ways[*way]));
        Wanting { demand, ways: open, tight }
    }

    /// Splits demands into groups that share no material and no limit. A group with a pack without
    /// a price is to be chosen by weight, unless `aim` says otherwise. Demands that nothing to be
    /// had can meet are left out.
    pub fn groups(&self, demands: &[usize], aim: Option<Aim>) -> Vec<Block> {
        let case = self.case;
        let mut buyable = vec![false; case.materials.len()];
        for pack in self.packs() {
            buyable[case.packs[pack].material] = true;
        }
        let wanting: Vec<Wanting> = demands
            .iter()
            .map(|demand| self.wanting(*demand, &buyable))
            .filter(|wanting| !wanting.ways.is_empty())
            .collect();
        let mut sets = Sets::new(case.materials.len() + case.limits.len() + wanting.len());
        let (limits_at, wanting_at) =
            (case.materials.len(), case.materials.len() + case.limits.len());
        for (at, one) in wanting.iter().enumerate() {
            for way in &one.ways {
                let way = &case.demands[one.demand].ways[*way];
                for (material, _) in &way.parts {
                    sets.join(wanting_at + at, *material);
                }
                for (limit, _) in &way.draws {
                    sets.join(wanting_at + at, limits_at + *limit);
                }
            }
        }
        let mut blocks: Vec<(usize, Block)> = Vec::new();
        for (at, one) in wanting.into_iter().enumerate() {
            let root = sets.root(wanting_at + at);
            match blocks.iter_mut().find(|(other, _)| *other == root) {
                Some((_, block)) => block.demands.push(one),
                None => {
                    let block = Block {
                        aim: Aim::Cost,
                        demands: vec![one],
                        materials: (0..case.materials.len())
                            .filter(|material| sets.root(*material) == root)
                            .collect(),
                        packs: self
                            .packs()
                            .filter(|pack| sets.root(case.packs[*pack].material) == root)
                            .collect(),
                    };
                    blocks.push((root, block));
                }
            }
        }
        let mut blocks: Vec<Block> = blocks.into_iter().map(|(_, block)| block).collect();
        for block in &mut blocks {
            let unpriced = block.packs.iter().any(|pack| case.packs[*pack].price.is_none());
            block.aim = aim.unwrap_or(if unpriced { Aim::Weight } else { Aim::Cost });
        }
        blocks
    }

    /// Joins blocks that buy from one supplier who `asks` for a charge or a least order.
    pub fn join_by_supplier(&self, blocks: Vec<Block>, asks: &[bool]) -> Vec<Block> {
        let case = self.case;
        let mut sets = Sets::new(case.suppliers.len() + blocks.len());
        for (at, block) in blocks.iter().enumerate() {
            for pack in &block.packs {
                let supplier = case.packs[*pack].supplier;
                if asks[supplier] {
                    sets.join(case.suppliers.len() + at, supplier);
                }
            }
        }
        let mut joined: Vec<(usize, Block)> = Vec::new();
        for (at, block) in blocks.into_iter().enumerate() {
            let root = sets.root(case.suppliers.len() + at);
            match joined.iter_mut().find(|(other, _)| *other == root) {
                Some((_, whole)) => {
                    whole.demands.extend(block.demands);
                    whole.materials.extend(block.materials);
                    whole.packs.extend(block.packs);
                }
                None => joined.push((root, block)),
            }
        }
        let sorted = |(_, mut block): (usize, Block)| {
            block.demands.sort_by_key(|wanting| wanting.demand);
            block.materials.sort_unstable();
            block.packs.sort_unstable();
            block
        };
        joined.into_iter().map(sorted).collect()
    }
}

/// Disjoint sets; the least member stands for each.
struct Sets(Vec<usize>);

impl Sets {
    fn new(count: usize) -> Self {
        Self((0..count).collect())
    }

    fn root(&mut self, mut at: usize) -> usize {
        while self.0[at] != at {
            self.0[at] = self.0[self.0[at]];
            at = self.0[at];
        }
        at
    }

    fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.root(one), self.root(other));
        self.0[one.max(other)] = one.min(other);
    }
}

impl Block {
    /// Whether a way of this block brings phosphate onto soil that has enough.
    pub fn may_be_unwanted(&self, case: &Case) -> bool {
        self.demands.iter().any(|wanting| {
            let ways = &case.demands[wanting.demand].ways;
            wanting.ways.iter().any(|way| ways[*way].unwanted > Mass::ZERO)
        })
    }
}
