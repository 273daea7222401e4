//! Decimals chosen so that a printed sum, reckoned with a pencil from what is printed, comes to
//! what is printed.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::folding::{Alike, folded};
use crate::figure::{Step, Why};
use crate::quantity::{Amount, Kind, floor_to, round_to, settle};
use crate::report::number::{Showing, Shown};

/// Places beyond the usual that a value may be shown with.
const MOST: u32 = 6;

/// How many places beyond the usual the parts of one sum are shown with. The result keeps the usual
/// ones, so that closer parts of one sum do not ask for closer parts of all sums beneath.
#[derive(Debug, Default)]
pub(super) struct Decimals {
    more: BTreeMap<usize, u32>,
}

impl Decimals {
    /// Finds the places for the parts of the sum that this step holds.
    pub(super) fn of(core: &Arc<Step>, showing: Showing, alike: &mut Alike) -> Self {
        let mut decimals = Self::default();
        while !decimals.agrees(core, showing, alike) && decimals.widen(core, showing, alike) {}
        decimals
    }

    /// The value of a part as it is shown.
    pub(super) fn shown(&self, number: usize, amount: Amount, showing: Showing) -> Shown {
        self.seen(number, amount, showing).0
    }

    fn seen(&self, number: usize, amount: Amount, showing: Showing) -> (Shown, Decimal) {
        showing.closer(amount, self.more.get(&number).copied().unwrap_or_default())
    }

    /// Whether the sum of the values shown comes to the value shown.
    fn agrees(&self, core: &Arc<Step>, showing: Showing, alike: &mut Alike) -> bool {
        let Some(base) = self.pencil(core, showing, alike) else { return true };
        let again = Amount { kind: core.amount.kind, base };
        showing.as_if(core.amount, again) == showing.closer(core.amount, 0).0
    }

    /// What a sum comes to from the values shown; nothing where it is no plain sum.
    fn pencil(&self, step: &Step, showing: Showing, alike: &mut Alike) -> Option<Decimal> {
        let mut base = |part: &Arc<Step>| self.base(part, showing, alike);
        Some(match &step.why {
            Why::Given(_) | Why::Computed { .. } => return None,
            Why::Same(of) | Why::Chosen { taken: of, .. } => base(of)?,
            Why::Sum(all) => all.iter().map(base).sum::<Option<Decimal>>()?,
            Why::Difference(a, b) => base(a)? - base(b)?,
            Why::Product(a, b) => base(a)?.checked_mul(base(b)?)?,
            Why::Quotient(a, b) => base(a)?.checked_div(base(b)?)?,
            Why::Least(all) => {
                all.iter().map(base).collect::<Option<Vec<_>>>()?.into_iter().min()?
            }
            Why::Greatest(all) => {
                all.iter().map(base).collect::<Option<Vec<_>>>()?.into_iter().max()?
            }
            Why::Floored(of) => base(of)?.max(Decimal::ZERO),
            Why::Rounded { of, to, down: true } => floor_to(base(of)?, to.base),
            Why::Rounded { of, to, down: false } => round_to(base(of)?, to.base),
        })
    }

    /// A part's value as shown, or what an unnamed part comes to.
    fn base(&self, part: &Arc<Step>, showing: Showing, alike: &mut Alike) -> Option<Decimal> {
        let folded = folded(part, |_| false);
        if folded.label.is_none() {
            return self.pencil(&folded.core, showing, alike);
        }
        let number = alike.number(part);
        Some(self.seen(number, part.amount, showing).1)
    }

    /// Shows the parts of a sum closer where they are rounded; whether any could be.
    fn widen(&mut self, step: &Step, showing: Showing, alike: &mut Alike) -> bool {
        let mut changed = false;
        for part in step.parts() {
            let folded = folded(part, |_| false);
            if folded.label.is_none() {
                changed |= self.widen(&folded.core, showing, alike);
                continue;
            }
            let number = alike.number(part);
            let rounded = settle(self.seen(number, part.amount, showing).1)
                != settle(part.amount.base)
                && !matches!(part.amount.kind, Kind::Date | Kind::Temperature);
            let more = self.more.entry(number).or_default();
            if rounded && *more < MOST {
                *more += 1;
                changed = true;
            }
        }
        changed
    }
}
