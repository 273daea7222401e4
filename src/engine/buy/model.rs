//! A block as a mixed-integer programme: shares of doses continuous, packs whole.
//!
//! Every row is divided by its largest coefficient and every aim by its largest cost, so that the
//! solver's absolute tolerance is a relative one here.

use std::collections::BTreeSet;

use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

use super::block::Block;
use super::case::{Case, Stint, Way, times};
use super::exact::over;
use super::packs::Switch;
use crate::quantity::{Mass, to_float};

/// How far a tightened row keeps away from its bound, as a part of its largest coefficient. It is
/// above the tolerance of the solver, so that what rounding broke once is not broken again.
const MARGIN: f64 = 1e-8;
/// How far an earlier aim may be missed, for the same reason.
const SLACK: f64 = 2e-9;
/// What a kilogram of a material on hand counts for beside one that must be bought.
const ON_HAND: f64 = 0.01;

/// What is made least, one after the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Goal<'a> {
    /// Demands left short, in doses. Packs can be had without end, so they do not matter.
    Unmet,
    /// Phosphate onto soil that has enough. Packs do not matter either.
    Unwanted,
    /// The cost or weight of packs, whole or, for a bound that none can pass, parted.
    Purchase(Packs),
    /// The weight spread from these packs; what is on hand counts for little, to be used up first.
    Spread(&'a [u64]),
}

/// Whether packs may be parted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Packs {
    Whole,
    Parted,
}

/// What earlier goals reached and later ones keep to.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Reached {
    /// Doses left short.
    pub unmet: Option<f64>,
    /// Kilograms of phosphate onto soil that has enough.
    pub unwanted: Option<f64>,
}

/// A block with what surrounds it.
#[derive(Clone, Copy)]
pub(super) struct Setting<'a> {
    pub case: &'a Case,
    pub block: &'a Block,
    /// Suppliers already bought from, who ask for nothing more.
    pub opened: &'a [bool],
    /// Materials and limits whose rows keep a margin.
    pub margins: &'a BTreeSet<Stint>,
    /// Which suppliers and offers are bought from, as far as that is decided.
    pub decided: &'a [(Switch, bool)],
}

/// The programme and where its variables went.
pub(super) struct Model {
    pub problem: Problem,
    /// For each demand of the block and each way open to it.
    pub shares: Vec<Vec<Option<Variable>>>,
    /// For each pack of the block.
    pub packs: Vec<Option<Variable>>,
    /// What the aim was divided by.
    pub scale: f64,
    /// Kilograms of phosphate onto soil that has enough from demands without a choice.
    pub unwanted_fixed: f64,
    /// Charges of suppliers that are decided to be bought from.
    pub charges: f64,
    /// Whether doses without a choice take more of a material than there can be.
    pub impossible: bool,
}

pub(super) type Row = Vec<(Variable, f64)>;

/// Kilograms as the solver takes them.
pub(super) fn kilograms(mass: Mass) -> f64 {
    to_float(mass.kg())
}

/// Adds `row <comparison> bound`, divided by the largest coefficient.
pub(super) fn add(
    problem: &mut Problem,
    row: Row,
    comparison: ComparisonOp,
    bound: f64,
    margin: f64,
) {
    let largest = row.iter().fold(0.0_f64, |most, (_, factor)| most.max(factor.abs()));
    if largest > 0.0 {
        let row: Row =
            row.into_iter().map(|(variable, factor)| (variable, factor / largest)).collect();
        problem.add_constraint(row.as_slice(), comparison, bound / largest - margin);
    }
}

impl Setting<'_> {
    /// Builds the programme for one goal.
    pub fn model(&self, goal: Goal, reached: Reached) -> Model {
        let mut model = Model {
            problem: Problem::new(OptimizationDirection::Minimize),
            shares: Vec::new(),
            packs: vec![None; self.block.packs.len()],
            scale: 1.0,
            unwanted_fixed: 0.0,
            charges: 0.0,
            impossible: false,
        };
        let mut use_of: Vec<(Row, Mass)> =
            vec![(Vec::new(), Mass::ZERO); self.case.materials.len()];
        let mut draw_on: Vec<(Row, Mass)> = vec![(Vec::new(), Mass::ZERO); self.case.limits.len()];
        let early = matches!(goal, Goal::Unmet | Goal::Unwanted);
        let (mut unmet, mut unwanted): (Row, Row) = (Vec::new(), Vec::new());
        let mut unwanted_fixed = Mass::ZERO;
        model.scale = match goal {
            Goal::Unmet => 1.0,
            Goal::Unwanted => self.largest_way(|way| kilograms(way.unwanted)),
            Goal::Purchase(_) => self.largest_pack_cost(),
            Goal::Spread(_) => self.largest_way(|way| self.weight(way)),
        };
        if model.scale <= 0.0 {
            model.scale = 1.0;
        }
        for wanting in &self.block.demands {
            let all = &self.case.demands[wanting.demand].ways;
            let ways = wanting.ways.iter().map(|way| &all[*way]);
            let harmless = ways.clone().all(|way| way.unwanted == Mass::ZERO);
            if early && !wanting.tight && (goal == Goal::Unmet || harmless) {
                model.shares.push(vec![None; wanting.ways.len()]);
                continue;
            }
            let short = wanting.tight && (goal == Goal::Unmet || reached.unmet.is_some());
            if let [way] = wanting.ways[..]
                && !short
            {
                let way = &all[way];
                way.parts.iter().for_each(|(material, mass)| use_of[*material].1 += *mass);
                way.draws.iter().for_each(|(limit, mass)| draw_on[*limit].1 += *mass);
                unwanted_fixed += way.unwanted;
                model.shares.push(vec![None]);
                continue;
            }
            let mut row = Row::new();
            let mut shares = Vec::new();
            for way in ways {
                let cost = match goal {
                    Goal::Unwanted => kilograms(way.unwanted) / model.scale,
                    Goal::Spread(_) => self.weight(way) / model.scale,
                    Goal::Unmet | Goal::Purchase(_) => 0.0,
                };
                let share = model.problem.add_var(cost, (0.0, 1.0));
                for (material, mass) in &way.parts {
                    use_of[*material].0.push((share, kilograms(*mass)));
                }
                for (limit, mass) in &way.draws {
                    draw_on[*limit].0.push((share, kilograms(*mass)));
                }
                if way.unwanted > Mass::ZERO {
                    unwanted.push((share, kilograms(way.unwanted)));
                }
                row.push((share, 1.0));
                shares.push(Some(share));
            }
            if short {
                let cost = if goal == Goal::Unmet { 1.0 } else { 0.0 };
                let missing = model.problem.add_var(cost, (0.0, 1.0));
                row.push((missing, 1.0));
                unmet.push((missing, 1.0));
            }
            add(&mut model.problem, row, ComparisonOp::Ge, 1.0, 0.0);
            model.shares.push(shares);
        }
        model.unwanted_fixed = kilograms(unwanted_fixed);
        if let Some(most) = reached.unmet {
            add(&mut model.problem, unmet, ComparisonOp::Le, most + SLACK, 0.0);
        }
        if let Some(most) = reached.unwanted {
            let bound = most * (1.0 + SLACK) - model.unwanted_fixed;
            add(&mut model.problem, unwanted, ComparisonOp::Le, bound, -SLACK);
        }
        match goal {
            Goal::Purchase(packs) => self.add_packs(packs, &mut model, &mut use_of),
            Goal::Spread(counts) => {
                for (pack, count) in self.block.packs.iter().zip(counts) {
                    let pack = self.case.packs[*pack];
                    let bought = pack.weight.get() * times(*count);
                    use_of[pack.material].1 = use_of[pack.material].1 - bought;
                }
            }
            Goal::Unmet | Goal::Unwanted => {}
        }
        let sold = |material| {
            self.block.packs.iter().any(|pack| self.case.packs[*pack].material == material)
        };
        for material in &self.block.materials {
            if early && sold(*material) {
                continue;
            }
            let (row, fixed) = std::mem::take(&mut use_of[*material]);
            let margin =
                if self.margins.contains(&Stint::Material(*material)) { MARGIN } else { 0.0 };
            let stock = self.case.stock[*material];
            model.impossible |= row.is_empty() && over(stock - fixed, stock);
            let held = kilograms(stock - fixed);
            add(&mut model.problem, row, ComparisonOp::Le, held, margin);
        }
        for (limit, (row, fixed)) in draw_on.into_iter().enumerate() {
            let left = kilograms(self.case.limits[limit] - fixed);
            let margin = if self.margins.contains(&Stint::Limit(limit)) { MARGIN } else { 0.0 };
            add(&mut model.problem, row, ComparisonOp::Le, left, margin);
        }
        model
    }

    /// Kilograms spread where a demand is met in this way alone, what is on hand counting little.
    fn weight(&self, way: &Way) -> f64 {
        let each = |(material, mass): &(usize, Mass)| {
            let held = self.case.stock[*material] > Mass::ZERO;
            kilograms(*mass) * if held { ON_HAND } else { 1.0 }
        };
        way.parts.iter().map(each).sum()
    }

    fn largest_way(&self, size: impl Fn(&Way) -> f64) -> f64 {
        let ways = self.block.demands.iter().flat_map(|wanting| {
            let all = &self.case.demands[wanting.demand].ways;
            wanting.ways.iter().map(|way| &all[*way])
        });
        ways.map(size).fold(0.0, f64::max)
    }
}
