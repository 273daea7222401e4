//! Solves one block: first the fewest doses left short, then the least phosphate where there is
//! enough, then the least cost, and of the doses that this allows those that use up what is on hand and are light.

use std::collections::BTreeSet;

use super::block::Block;
use super::case::Case;
use super::exact::{Draft, Settled, settle_draft, settle_short};
use super::greedy::first_draft;
use super::model::{Goal, Reached, Setting};
use super::ration::rationed;
use super::search::{least_purchase, run};
use crate::quantity::{Share, share_from_float, to_float};

/// How far an exact sum may lie above the solver's bound and still count as least, as a part of it.
const PROVEN: f64 = 1e-6;
/// How often rows that rounding broke are tightened before a dose is cut instead.
const MOST_ROUNDS: usize = 4;

/// Returns the least list for a block; `opened` are the suppliers who ask for nothing more.
pub(super) fn solve_block(case: &Case, block: &Block, opened: &[bool]) -> Settled {
    let mut margins = BTreeSet::new();
    let start = Setting { case, block, opened, margins: &margins, decided: &[] };
    if let Some(Ok(settled)) = rationed(&start).map(|draft| settle_draft(&start, &draft)) {
        return settled;
    }
    let Some(reached) = early_goals(&start) else {
        return certify(settle_short(&start, first_draft(&start)), 0.0);
    };
    let mut last = None;
    for _ in 0..MOST_ROUNDS {
        let setting = Setting { case, block, opened, margins: &margins, decided: &[] };
        let Some(found) = least_purchase(&setting, reached) else { break };
        let lighter = run(&setting, Goal::Spread(&found.counts), reached, 0).ok();
        let mut broken = BTreeSet::new();
        for shares in [lighter.map(|lighter| lighter.shares), Some(found.shares)] {
            let Some(shares) = shares else { continue };
            let draft = Draft { shares, counts: found.counts.clone() };
            match settle_draft(&setting, &draft) {
                Ok(settled) => return certify(settled, found.bound),
                Err(rows) => broken.extend(rows),
            }
            last = Some((draft, found.bound));
        }
        if broken.is_subset(&margins) {
            break;
        }
        margins.extend(broken);
    }
    let setting = Setting { case, block, opened, margins: &margins, decided: &[] };
    let (draft, bound) = last.unwrap_or_else(|| (first_draft(&setting), 0.0));
    certify(settle_short(&setting, draft), bound)
}

/// Writes down how much a better list could still save, given that none comes to less than `bound`.
fn certify(mut settled: Settled, bound: f64) -> Settled {
    let amount = to_float(settled.amount);
    if amount > 0.0 && bound < amount * (1.0 - PROVEN) {
        settled.spare = Share::from_fraction(share_from_float(1.0 - (bound / amount).max(0.0)));
    }
    settled
}

/// Finds how many doses must go short, and how much phosphate must go where there is enough.
fn early_goals(setting: &Setting) -> Option<Reached> {
    let mut reached = Reached::default();
    if setting.block.demands.iter().any(|wanting| wanting.tight) {
        reached.unmet = Some(run(setting, Goal::Unmet, reached, 0).ok()?.objective);
    }
    if setting.block.may_be_unwanted(setting.case) {
        reached.unwanted = Some(run(setting, Goal::Unwanted, reached, 0).ok()?.objective);
    }
    Some(reached)
}
