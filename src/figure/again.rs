//! Reckoning a derivation again from its leaves, to show that every step is what it says it is.

use std::collections::BTreeSet;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::step::{Step, Why};
use crate::quantity::{Amount, floor_to, over, round_to, settle, times};

/// Returns what a step comes to when it is reckoned again from the values of its parts.
pub fn evaluate(step: &Step) -> Decimal {
    let base = |part: &Arc<Step>| part.amount.base;
    match &step.why {
        Why::Given(_) => step.amount.base,
        Why::Same(of) => base(of),
        Why::Sum(all) => all.iter().map(base).fold(Decimal::ZERO, Decimal::saturating_add),
        Why::Difference(a, b) => base(a).saturating_sub(base(b)),
        Why::Product(a, b) => times(base(a), base(b)),
        Why::Quotient(a, b) => over(base(a), base(b)),
        Why::Least(all) => all.iter().map(base).min().unwrap_or_default(),
        Why::Greatest(all) => all.iter().map(base).max().unwrap_or_default(),
        Why::Floored(of) => base(of).max(Decimal::ZERO),
        Why::Rounded { of, to, down: true } => floor_to(base(of), to.base),
        Why::Rounded { of, to, down: false } => round_to(base(of), to.base),
        Why::Chosen { taken, .. } => base(taken),
        Why::Computed { operands, again } => {
            let amounts: Vec<Amount> = operands.iter().map(|operand| operand.amount).collect();
            again(&amounts).base
        }
    }
}

/// Returns every step below (and with) this one whose value differs, to twelve digits, from what it
/// comes to when reckoned again.
pub fn disagreements(root: &Arc<Step>) -> Vec<Arc<Step>> {
    let mut seen = BTreeSet::new();
    let mut open = vec![root.clone()];
    let mut wrong = Vec::new();
    while let Some(step) = open.pop() {
        if !seen.insert(Arc::as_ptr(&step)) {
            continue;
        }
        if settle(evaluate(&step)) != settle(step.amount.base) {
            wrong.push(step.clone());
        }
        open.extend(step.parts().into_iter().cloned());
    }
    wrong
}

#[cfg(test)]
mod tests {
    use super::super::{Figure, Rule, Status};
    use super::*;
    use crate::quantity::{Area, Kind, Mass, Rate, Share};

    static NEED: Rule = Rule {
        key: "test-need",
        says: "a rate over an area is a weight",
        status: Status::Definition,
        source: None,
    };

    fn d(text: &str) -> Decimal {
        text.parse().expect("a decimal")
    }

    #[test]
    fn a_derivation_reckons_back_to_itself() {
        let rate = Figure::asked("rate", Rate::from_lb_per_acre(d("150")));
        let area = Figure::asked("area", Area::from_ft2(d("96")));
        let need = (&rate * &area).by("need", &NEED);
        let credit = Figure::asked("credit", Mass::from_lb(d("0.1")));
        let short = (&need - &credit).at_least_zero().by("short", &NEED);
        let share = Figure::asked("analysis", Share::from_percent(d("12")));
        let product = short.over(&share).expect("a share above zero");
        let weighed = product.rounded(Mass::from_oz(d("1"))).by("dose", &NEED);
        assert_eq!(weighed.value(), Mass::from_oz(d("31")));
        assert!(disagreements(&weighed.step()).is_empty());
    }

    #[test]
    fn a_wrong_step_is_found() {
        let part = Figure::asked("part", Mass::from_kg(d("2")));
        let mut step = (*Figure::total([&part, &part]).step()).clone();
        step.amount.base = d("5");
        assert_eq!(disagreements(&Arc::new(step)).len(), 1);
    }

    #[test]
    fn naming_a_shared_step_wraps_it() {
        let part = Figure::asked("part", Mass::from_kg(d("2")));
        let again = part.clone().by("the same, renamed", &NEED);
        assert_eq!(part.step().label.as_deref(), Some("part"));
        assert_eq!(again.step().label.as_deref(), Some("the same, renamed"));
        assert!(disagreements(&again.step()).is_empty());
    }

    #[test]
    fn engines_are_reckoned_again_from_their_operands() {
        let half = |amounts: &[Amount]| Amount {
            kind: Kind::Share,
            base: amounts[0].base / Decimal::from(2),
        };
        let whole = Figure::asked("whole", Share::WHOLE);
        let value = Share::from_percent(d("50"));
        let figure = Figure::computed("half", &NEED, value, || vec![whole.step()], half);
        assert!(disagreements(&figure.step()).is_empty());
    }
}
