//! Where the program is to choose a material: the places, and the ways found to feed each of them.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::survey::above_trifle;
use crate::calendar::Date;
use crate::engine::dose::{Dose, Purpose, Ready};
use crate::engine::trifle;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::Mass;

/// A place whose material is chosen: what is spread before planting, or beside one planting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Slot {
    /// The bed, an index into the season's.
    pub bed: usize,
    /// What for.
    pub purpose: Purpose,
    /// The planting within the bed; before planting, the first of those fed on that day.
    pub planting: usize,
}

/// A weight of a material on a day.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Portion {
    /// The day.
    pub date: Date,
    /// The material.
    pub material: Arc<str>,
    /// The weight.
    pub weight: Mass,
}

/// How far a way falls behind what is wanted. The first that differs decides.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Lacking {
    /// Days on which the crop is short, however often it is dressed.
    pub days: usize,
    /// What of the nitrogen needs is not met, as a sum of shares.
    pub share: Decimal,
    /// What of the phosphate and potash needs is not met, as a sum of shares.
    pub minerals: Decimal,
}

/// One way to feed one slot, by itself.
#[derive(Clone, Debug)]
pub(super) struct Found {
    /// Materials in order of preference, as indices into what the bed may be fed with.
    pub recipe: Vec<usize>,
    /// The doses.
    pub portions: Vec<Portion>,
    /// What it falls behind in nitrogen.
    pub lacking: Lacking,
    /// Phosphate and potash that stay short.
    pub left: Npk<Mass>,
    /// What the doses bring.
    pub brings: Npk<Mass>,
}

/// A slot with every way to feed it that was looked at.
#[derive(Clone, Debug)]
pub(super) struct Surveyed {
    /// The slot.
    pub slot: Slot,
    /// Whether its doses are given whatever a measurement says.
    pub certain: bool,
    /// The bed's needs.
    pub needs: Npk<Mass>,
    /// Phosphate short before this slot is fed, where the soil has enough of it.
    pub enough: Option<Mass>,
    /// The ways.
    pub ways: Vec<Found>,
}

/// One way to feed a place: for each of its slots materials in order of preference.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// For each slot its materials, as indices into what the bed may be fed with.
    pub recipes: Vec<Vec<usize>>,
    /// The doses.
    pub portions: Vec<Portion>,
    /// What it falls behind.
    pub lacking: Lacking,
    /// Phosphate it brings, beyond what is short, onto soil that has enough.
    pub unwanted: Mass,
}

/// Slots that are chosen for together (what a bed gets before planting and beside the crop), and the
/// ways to feed them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Open {
    /// The slots, of one bed.
    pub slots: Vec<Slot>,
    /// Whether its doses are given whatever a measurement says.
    pub certain: bool,
    /// The ways that serve as well as any.
    pub ways: Vec<Way>,
}

/// What has been chosen: for each slot a recipe.
pub type Choices = BTreeMap<Slot, Vec<usize>>;

impl Open {
    /// The ways to feed one slot.
    pub(super) fn alone(of: &Surveyed) -> Self {
        let ways = of.ways.iter().map(|found| Way {
            recipes: vec![found.recipe.clone()],
            portions: found.portions.clone(),
            lacking: found.lacking.and(&found.left, &of.needs),
            unwanted: of.unwanted(found.brings.phosphate),
        });
        Self { slots: vec![of.slot], certain: of.certain, ways: kept(ways.collect()) }
    }

    /// The ways to feed a bed before planting and beside its crop: what the one leaves short the other
    /// may bring.
    pub(super) fn together(before: &Surveyed, side: &Surveyed) -> Self {
        let pair = |first: &Found, then: &Found| {
            let left = Npk::from_fn(|nutrient| {
                (first.left[nutrient] - then.brings[nutrient]).at_least(Mass::ZERO)
            });
            let lacking = Lacking {
                days: first.lacking.days + then.lacking.days,
                share: first.lacking.share + then.lacking.share,
                minerals: Decimal::ZERO,
            };
            let mut portions = [first.portions.clone(), then.portions.clone()].concat();
            portions.sort();
            Way {
                recipes: vec![first.recipe.clone(), then.recipe.clone()],
                portions,
                lacking: lacking.and(&left, &before.needs),
                unwanted: before.unwanted(first.brings.phosphate + then.brings.phosphate),
            }
        };
        let ways = before
            .ways
            .iter()
            .flat_map(|first| side.ways.iter().map(move |then| pair(first, then)))
            .collect();
        Self { slots: vec![before.slot, side.slot], certain: before.certain, ways: kept(ways) }
    }

    /// The bed.
    pub fn bed(&self) -> usize {
        self.slots.first().map_or(0, |slot| slot.bed)
    }

    /// The way that was chosen.
    pub fn chosen(&self, choices: &Choices) -> Option<usize> {
        let recipes: Option<Vec<&Vec<usize>>> =
            self.slots.iter().map(|slot| choices.get(slot)).collect();
        let recipes = recipes?;
        self.ways.iter().position(|way| way.recipes.iter().eq(recipes.iter().copied()))
    }

    /// Whether a dose of its bed is one of its doses.
    pub fn serves(&self, dose: &Dose) -> bool {
        self.slots.iter().any(|slot| {
            let mut portions = self.ways.iter().flat_map(|way| &way.portions);
            dose.purpose == slot.purpose
                && match slot.purpose {
                    Purpose::SideDress => dose.planting == Some(slot.planting),
                    Purpose::BeforePlanting => portions.any(|portion| portion.date == dose.date),
                }
        })
    }
}

impl Surveyed {
    /// Phosphate beyond what is short, where the soil has enough; what weighing leaves is nothing.
    fn unwanted(&self, brought: Mass) -> Mass {
        let Some(short) = self.enough else { return Mass::ZERO };
        let over = brought - short.at_least(Mass::ZERO);
        if above_trifle(over, self.needs.phosphate).is_zero() { Mass::ZERO } else { over }
    }
}

/// What a day on which a crop is short weighs, as a share of its need (proposed).
const OF_A_DAY: Decimal = Decimal::from_parts(1, 0, 0, false, 2);

impl Lacking {
    /// Nitrogen left open and days in one measure, so that neither outweighs any amount of the other.
    pub fn of_nitrogen(&self) -> Decimal {
        self.share + Decimal::from(self.days) * OF_A_DAY
    }

    /// The same with the phosphate and potash left open.
    pub fn in_all(&self) -> Decimal {
        self.of_nitrogen() + self.minerals
    }

    /// With the phosphate and potash that stay short.
    fn and(self, left: &Npk<Mass>, needs: &Npk<Mass>) -> Self {
        let minerals = [Nutrient::Phosphate, Nutrient::Potash];
        let shares = minerals.map(|nutrient| above_trifle(left[nutrient], needs[nutrient]));
        Self { minerals: self.minerals + shares.into_iter().sum::<Decimal>(), ..self }
    }
}

/// How much more a way may leave unmet, as a share of the need, to keep phosphate off soil that has
/// no room for it (proposed).
const SERVES: Decimal = Decimal::from_parts(25, 0, 0, false, 2);
/// Keeps the ways that bring no more phosphate than any that serves, that hold the crop every day where
/// one does, and that leave as little open as any; and of those none that takes as much of every material as another and more of some: it cannot
/// cost less.
fn kept(mut ways: Vec<Way>) -> Vec<Way> {
    let serves = |way: &Way, least: Decimal| way.lacking.of_nitrogen() <= least + SERVES;
    if let Some(least) = ways.iter().map(|way| way.lacking.of_nitrogen()).min()
        && let Some(unwanted) =
            ways.iter().filter(|way| serves(way, least)).map(|way| way.unwanted).min()
    {
        ways.retain(|way| serves(way, least) && way.unwanted <= unwanted);
    }
    let holds = |way: &Way| way.lacking.days == 0;
    if ways.iter().any(holds) {
        ways.retain(holds);
    }
    if let Some(least) = ways.iter().map(|way| way.lacking.in_all()).min() {
        ways.retain(|way| way.lacking.in_all() <= least + trifle::SHARE);
    }
    let mut weighed: Vec<(BTreeMap<Arc<str>, Mass>, Way)> =
        ways.into_iter().map(|way| (weights(&way), way)).collect();
    weighed.sort_by(|(_, one), (_, other)| {
        let key = |way: &Way| (way.unwanted, way.recipes.concat().len(), way.recipes.clone());
        key(one).cmp(&key(other))
    });
    let mut kept: Vec<(BTreeMap<Arc<str>, Mass>, Way)> = Vec::new();
    for (weights, way) in weighed {
        let within = |less: &BTreeMap<Arc<str>, Mass>, more: &BTreeMap<Arc<str>, Mass>| {
            less.iter().all(|(name, weight)| more.get(name).is_some_and(|most| weight <= most))
        };
        if kept
            .iter()
            .any(|(known, other)| within(known, &weights) && other.unwanted <= way.unwanted)
        {
            continue;
        }
        kept.retain(|(known, other)| !(within(&weights, known) && way.unwanted <= other.unwanted));
        kept.push((weights, way));
    }
    kept.into_iter().map(|(_, way)| way).collect()
}

/// What a way takes of each material.
fn weights(way: &Way) -> BTreeMap<Arc<str>, Mass> {
    let mut all: BTreeMap<Arc<str>, Mass> = BTreeMap::new();
    for portion in &way.portions {
        *all.entry(portion.material.clone()).or_default() += portion.weight;
    }
    all
}

/// The doses as portions, in a fixed order.
pub(super) fn portions<'a>(doses: impl IntoIterator<Item = &'a Dose>) -> Vec<Portion> {
    let portion = |dose: &Dose| Portion {
        date: dose.date,
        material: dose.ready.name().into(),
        weight: dose.weight.value(),
    };
    let mut all: Vec<Portion> = doses.into_iter().map(portion).collect();
    all.sort();
    all
}

/// Picks a recipe's materials out of all that may be used.
pub(super) fn pick(all: &[Ready], recipe: &[usize]) -> Vec<Ready> {
    recipe.iter().filter_map(|at| all.get(*at)).cloned().collect()
}
