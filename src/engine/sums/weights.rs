//! The weights of the chosen materials, worked so that each step can be followed with a pencil.

use std::collections::BTreeMap;

use super::eliminate::{Row, weigh_first};
use super::from::From;
use super::need::Need;
use super::rules;
use super::solve::Corner;
use crate::figure::Figure;
use crate::nutrient::Nutrient;
use crate::quantity::Mass;

/// The weights so far, and what each material brings, reckoned once.
#[derive(Debug)]
pub struct Weights<'a> {
    needs: &'a [Need],
    materials: &'a [From],
    weights: BTreeMap<usize, Figure<Mass>>,
    brought: BTreeMap<(usize, usize), Figure<Mass>>,
}

impl<'a> Weights<'a> {
    /// Nothing weighed yet.
    pub fn new(needs: &'a [Need], materials: &'a [From]) -> Self {
        Self { needs, materials, weights: BTreeMap::new(), brought: BTreeMap::new() }
    }

    /// Weighs the materials of a corner.
    pub fn at_corner(mut self, corner: &Corner) -> BTreeMap<usize, Figure<Mass>> {
        let (mut needs, mut materials) = (corner.needs.clone(), corner.materials.clone());
        while !materials.is_empty() {
            let (need, material) = match self.alone(&needs, &materials) {
                Some((need, material)) => {
                    let left = self.left(need, true);
                    self.weigh(need, material, &left);
                    (need, material)
                }
                None => match self.together(&needs, &materials) {
                    Some(done) => done,
                    None => break,
                },
            };
            needs.retain(|one| *one != need);
            materials.retain(|one| *one != material);
        }
        self.weights
    }

    /// Weighs as bulletins do: the first need with the first material, then what is left of the
    /// next with the next material that carries it, and so on. Gives back a need that nothing
    /// carries, where there is one.
    pub fn in_order(mut self) -> Result<BTreeMap<usize, Figure<Mass>>, usize> {
        for need in 0..self.needs.len() {
            let left = self.left(need, false);
            if left.is_zero() {
                continue;
            }
            let carries =
                |one: &usize| !self.materials[*one].counts(self.needs[need].nutrient).is_zero();
            let all = 0..self.materials.len();
            let unused = all.clone().filter(|one| !self.weights.contains_key(one)).find(carries);
            let Some(material) = unused.or_else(|| all.clone().find(carries)) else {
                return Err(need);
            };
            self.weigh(need, material, &left);
        }
        Ok(self.weights)
    }

    /// A need that only one of the materials carries, with that material.
    fn alone(&self, needs: &[usize], materials: &[usize]) -> Option<(usize, usize)> {
        needs.iter().find_map(|need| {
            let mut carriers = materials
                .iter()
                .filter(|one| !self.materials[**one].counts(self.needs[*need].nutrient).is_zero());
            let first = carriers.next()?;
            carriers.next().is_none().then_some((*need, *first))
        })
    }

    /// What is left of a need after what has been weighed.
    fn left(&mut self, need: usize, exact: bool) -> Figure<Mass> {
        let weighed: Vec<usize> = self.weights.keys().copied().collect();
        let mut brought: Vec<Figure<Mass>> = Vec::new();
        for material in weighed {
            let one = self.brings(need, material);
            if !one.is_zero() {
                brought.push(one);
            }
        }
        let wanted = &self.needs[need].weight;
        let word = self.needs[need].nutrient.word();
        let left = match brought.as_slice() {
            [] => return wanted.clone(),
            [one] => wanted - one,
            many => wanted - &Figure::total(many),
        };
        let left = if exact { left } else { left.at_least_zero() };
        left.by(format_args!("{word} still needed"), &rules::LEFT)
    }

    /// What a weighed material brings toward a need.
    fn brings(&mut self, need: usize, material: usize) -> Figure<Mass> {
        if let Some(known) = self.brought.get(&(need, material)) {
            return known.clone();
        }
        let nutrient = self.needs[need].nutrient;
        let share = self.materials[material].counts(nutrient);
        let name = &self.materials[material].name;
        let counted = nutrient == Nutrient::Nitrogen && self.materials[material].release.is_some();
        let label = brought_label(nutrient, counted, name);
        let brought = (&self.weights[&material] * &share).by(label, &rules::CONTENT);
        self.brought.insert((need, material), brought.clone());
        brought
    }

    fn weigh(&mut self, need: usize, material: usize, left: &Figure<Mass>) {
        let nutrient = self.needs[need].nutrient;
        let share = self.materials[material].counts(nutrient);
        let name = self.materials[material].name.clone();
        let Some(weight) = left.over(&share) else { return };
        let weight = match self.weights.get(&material) {
            Some(before) => {
                let more = weight.by(format_args!("more {name}"), &rules::PRODUCT);
                (before + &more).by(format_args!("{name} in all"), &rules::PRODUCT)
            }
            None => weight.by(name, &rules::PRODUCT),
        };
        self.brought.retain(|(_, one), _| *one != material);
        self.weights.insert(material, weight);
    }

    /// Weighs the first of two or three materials that all carry what is needed. The need in which
    /// it is strongest is met by it.
    fn together(&mut self, needs: &[usize], materials: &[usize]) -> Option<(usize, usize)> {
        let mut rows: Vec<Row> = Vec::new();
        for need in needs {
            let nutrient = self.needs[*need].nutrient;
            let shares =
                materials.iter().map(|one| self.materials[*one].counts(nutrient)).collect();
            rows.push(Row { word: nutrient.word(), left: self.left(*need, true), shares });
        }
        let names: Vec<&str> =
            materials.iter().map(|one| self.materials[*one].name.as_str()).collect();
        let weight = weigh_first(&names, rows)?;
        let first = *materials.first()?;
        self.weights.insert(first, weight.by(names[0].to_owned(), &rules::TOGETHER));
        // Any need will do to drop, as long as the other materials can be told apart without it.
        let rest = &materials[1..];
        let dropped = needs.iter().find(|need| {
            let kept: Vec<usize> = needs.iter().filter(|one| one != need).copied().collect();
            self.independent(&kept, rest)
        })?;
        Some((*dropped, first))
    }

    /// Whether these materials can be told apart by these needs: one or two of each.
    fn independent(&self, needs: &[usize], materials: &[usize]) -> bool {
        let share = |need: usize, material: usize| {
            self.materials[material].counts(self.needs[need].nutrient).value().base()
        };
        let strength = match (needs, materials) {
            ([need], [material]) => share(*need, *material),
            ([a, b], [x, y]) => share(*a, *x) * share(*b, *y) - share(*b, *x) * share(*a, *y),
            _ => return true,
        };
        !strength.round_dp(16).is_zero()
    }

    /// What a nutrient comes to over all materials, in full or as it counts.
    pub fn total(
        weights: &BTreeMap<usize, Figure<Mass>>,
        materials: &[From],
        nutrient: Nutrient,
        counted: bool,
    ) -> Option<Figure<Mass>> {
        let word = nutrient.word();
        let mut parts: Vec<Figure<Mass>> = Vec::new();
        for (material, weight) in weights {
            let from = &materials[*material];
            let share = if counted { from.counts(nutrient) } else { from.holds[nutrient].clone() };
            if share.is_zero() || weight.is_zero() {
                continue;
            }
            let label = brought_label(nutrient, counted && from.release.is_some(), &from.name);
            parts.push((weight * &share).by(label, &rules::CONTENT));
        }
        let all = if counted { " that counts" } else { "" };
        match parts.as_slice() {
            [] => None,
            [one] => Some(one.clone()),
            many => {
                Some(Figure::total(many).by(format_args!("{word}{all} brought"), &rules::CONTENT))
            }
        }
    }
}

/// What a material brings, as it is told.
fn brought_label(nutrient: Nutrient, counted: bool, name: &str) -> String {
    let all = if counted { " that counts" } else { "" };
    format!("{}{all} brought by {name}", nutrient.word())
}
