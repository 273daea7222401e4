//! Runs the solver, and searches over which suppliers and offers are bought from at all.
//!
//! A charge asked once whatever is bought makes a weak bound inside one programme: a small part of
//! a charge lets in many packs. So the search decides first who is bought from, bounded by packs
//! that may be parted, and leaves only whole packs to the solver.

use microlp::{Error, SolveOptions, SolveOutcome, TerminationReason, Variable};
use rust_decimal::prelude::ToPrimitive;

use super::model::{Goal, Packs, Reached, Setting};
use super::packs::Switch;
use crate::quantity::{Share, share_from_float};

/// Search nodes after which the best list so far is taken. A limit in seconds would give other
/// lists on other machines.
const MOST_NODES: u64 = 20_000;
/// Tolerance of the solver on rows whose largest coefficient is 1.
const TOLERANCE: f64 = 1e-9;
/// The part of a cost by which a list must be cheaper to be worth looking for.
const WORTH: f64 = 1e-9;

/// What the solver found for one goal.
pub(super) struct Found {
    pub shares: Vec<Vec<Share>>,
    pub counts: Vec<u64>,
    /// What was made least.
    pub objective: f64,
    /// What no other answer comes below.
    pub bound: f64,
    /// Nodes it took.
    pub nodes: u64,
}

/// Why the solver has no answer.
pub(super) enum Fault {
    /// There is none.
    Impossible,
    /// It could not tell.
    Unknown,
}

/// The state of a search.
struct Search<'a> {
    setting: Setting<'a>,
    reached: Reached,
    switches: Vec<Switch>,
    nodes_left: u64,
    best: Option<Found>,
    /// The least that what was left unsearched could come to.
    unsearched: f64,
}

/// Returns the cheapest packs that meet the demands; none where the solver could not answer, which
/// the caller makes up for.
pub(super) fn least_purchase(setting: &Setting, reached: Reached) -> Option<Found> {
    let mut search = Search {
        setting: *setting,
        reached,
        switches: setting.switches(),
        nodes_left: MOST_NODES,
        best: None,
        unsearched: f64::INFINITY,
    };
    search.visit(&mut Vec::new());
    let mut best = search.best?;
    best.bound = best.objective.min(search.unsearched);
    Some(best)
}

impl Search<'_> {
    /// Searches what is left open by the decisions so far.
    fn visit(&mut self, decided: &mut Vec<(Switch, bool)>) {
        let setting = Setting { decided, ..self.setting };
        let bound = match run(&setting, Goal::Purchase(Packs::Parted), self.reached, 0) {
            Ok(parted) => parted.objective,
            Err(Fault::Impossible) => return,
            Err(Fault::Unknown) => 0.0,
        };
        let worth = |best: &Found| best.objective - WORTH * best.objective.abs().max(1.0);
        if self.best.as_ref().is_some_and(|best| bound >= worth(best)) {
            return;
        }
        if self.nodes_left == 0 {
            self.unsearched = self.unsearched.min(bound);
            return;
        }
        self.nodes_left -= 1;
        if let Some(switch) = self.switches.get(decided.len()).copied() {
            for open in [false, true] {
                decided.push((switch, open));
                self.visit(decided);
                decided.pop();
            }
            return;
        }
        match run(&setting, Goal::Purchase(Packs::Whole), self.reached, self.nodes_left) {
            Ok(found) => {
                self.nodes_left = self.nodes_left.saturating_sub(found.nodes);
                self.unsearched = self.unsearched.min(found.bound);
                if self.best.as_ref().is_none_or(|best| found.objective < best.objective) {
                    self.best = Some(found);
                }
            }
            Err(Fault::Impossible) => {}
            Err(Fault::Unknown) => {
                self.nodes_left = 0;
                self.unsearched = self.unsearched.min(bound);
            }
        }
    }
}

/// Runs the solver for one goal, with at most so many nodes.
///
/// # Errors
/// Where there is no answer, or the solver could not find one.
pub(super) fn run(
    setting: &Setting,
    goal: Goal,
    reached: Reached,
    nodes: u64,
) -> Result<Found, Fault> {
    let model = setting.model(goal, reached);
    if model.impossible {
        return Err(Fault::Impossible);
    }
    let mut options = SolveOptions::default();
    options.node_limit = Some(nodes);
    options.tolerances.feasibility = TOLERANCE;
    let solution = match model.problem.solve_with(options) {
        Ok(SolveOutcome::Solution(solution)) => solution,
        Err(Error::Infeasible) => return Err(Fault::Impossible),
        _ => return Err(Fault::Unknown),
    };
    let value = |variable: &Option<Variable>| variable.map(|variable| solution.var_value(variable));
    let fixed = if goal == Goal::Unwanted { model.unwanted_fixed } else { model.charges };
    let objective = solution.objective() * model.scale + fixed;
    let stats = solution.stats();
    let bound = match solution.termination_reason() {
        TerminationReason::ProvenOptimal => objective,
        _ => stats.best_bound.map_or(0.0, |bound| bound * model.scale + fixed),
    };
    let share = |variable: &Option<Variable>| {
        // A demand without a variable has one way, which meets all of it.
        Share::from_fraction(share_from_float(value(variable).unwrap_or(1.0).clamp(0.0, 1.0)))
    };
    Ok(Found {
        shares: model.shares.iter().map(|ways| ways.iter().map(share).collect()).collect(),
        counts: model.packs.iter().map(|pack| whole(value(pack).unwrap_or(0.0))).collect(),
        objective,
        bound,
        nodes: stats.nodes_solved,
    })
}

/// Turns a count reckoned in floating point into a whole number.
fn whole(count: f64) -> u64 {
    share_from_float(count).round().to_u64().unwrap_or(0)
}
