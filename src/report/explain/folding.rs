//! What a reader need not be told twice: steps that only give a value another name, and steps that
//! are the same step reached by two ways.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use crate::figure::{Rule, Step, Why};
use crate::quantity::Kind;

/// A step without the steps that only rename it.
pub(super) struct Folded {
    /// What it is called, where it has a name.
    pub(super) label: Option<String>,
    /// The step that holds the sum.
    pub(super) core: Arc<Step>,
    /// The rules of all steps folded into it.
    pub(super) rules: Vec<&'static Rule>,
}

/// Folds away steps that change no value, down to the first that `keep` wants told by itself.
pub(super) fn folded(step: &Arc<Step>, keep: impl Fn(&Arc<Step>) -> bool) -> Folded {
    let mut label = step.label.as_ref().map(ToString::to_string);
    let mut rules: Vec<&'static Rule> = step.rule.into_iter().collect();
    let mut core = step.clone();
    while let Some(next) = unchanged(&core).cloned() {
        if keep(&next) {
            break;
        }
        label = label.or_else(|| next.label.as_ref().map(ToString::to_string));
        rules.extend(next.rule);
        core = next;
    }
    Folded { label, core, rules }
}

/// The part whose value a step passes on: one under another name, a sum of one, a whole share.
pub(super) fn unchanged(step: &Step) -> Option<&Arc<Step>> {
    let one = |part: &Step| {
        matches!(part.amount.kind, Kind::Share | Kind::Count) && part.amount.base == Decimal::ONE
    };
    match &step.why {
        Why::Same(of) => Some(of),
        Why::Sum(all) | Why::Least(all) | Why::Greatest(all) if all.len() == 1 => all.first(),
        Why::Product(a, b) | Why::Quotient(a, b) if one(b) => Some(a),
        Why::Product(a, b) if one(a) => Some(b),
        _ => None,
    }
}

/// What a step is: its name, value and way, and the numbers of its parts.
type Content = (Option<String>, Kind, Decimal, String, Vec<usize>);

/// Gives every step a number; steps of equal name, value and parts have the same.
#[derive(Debug, Default)]
pub(super) struct Alike {
    by_address: BTreeMap<*const Step, usize>,
    by_content: BTreeMap<Content, usize>,
    /// Keeps the steps alive, so that no address is used twice.
    kept: Vec<Arc<Step>>,
}

impl Alike {
    pub(super) fn number(&mut self, step: &Arc<Step>) -> usize {
        if let Some(number) = self.by_address.get(&Arc::as_ptr(step)) {
            return *number;
        }
        let parts = step.parts().into_iter().map(|part| self.number(part)).collect();
        let label = step.label.as_ref().map(ToString::to_string);
        let content = (label, step.amount.kind, step.amount.base, way(&step.why), parts);
        let next = self.by_content.len();
        let number = *self.by_content.entry(content).or_insert(next);
        self.by_address.insert(Arc::as_ptr(step), number);
        self.kept.push(step.clone());
        number
    }
}

fn way(why: &Why) -> String {
    match why {
        Why::Given(origin) => format!("{origin:?}"),
        Why::Same(_) => "same".to_owned(),
        Why::Sum(_) => "sum".to_owned(),
        Why::Difference(..) => "difference".to_owned(),
        Why::Product(..) => "product".to_owned(),
        Why::Quotient(..) => "quotient".to_owned(),
        Why::Least(_) => "least".to_owned(),
        Why::Greatest(_) => "greatest".to_owned(),
        Why::Floored(_) => "floored".to_owned(),
        Why::Rounded { to, down, .. } => format!("rounded {} {down}", to.base),
        Why::Chosen { because, .. } => format!("chosen {because}"),
        Why::Computed { .. } => "computed".to_owned(),
    }
}
