//! One step of a derivation.

use std::borrow::Cow;
use std::sync::Arc;

use super::label::Label;
use super::rule::Rule;
use crate::quantity::Amount;

/// A place in the text that was read: byte offsets, start and end.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// First byte.
    pub start: u32,
    /// First byte after.
    pub end: u32,
}

/// Where a leaf comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Said by the grower, at this place of the season file.
    Said(Place),
    /// Written down in the record of applications, on this line.
    Recorded {
        /// Line number, from 1.
        line: u32,
    },
    /// Listed in the catalogue.
    Listed {
        /// Which list, such as "crops".
        list: &'static str,
        /// Which entry of it.
        entry: Arc<str>,
        /// The id of the source of this figure.
        source: Arc<str>,
    },
    /// Fixed by the rule named on the step.
    Fixed,
    /// Given on the command line.
    Asked,
    /// The calendar: a date or a count of days.
    Calendar,
    /// Reckoned without workings.
    Unkept,
}

/// Reckons the value of a computed step again from its operands.
pub type Again = fn(&[Amount]) -> Amount;

/// How a step was reached.
#[derive(Clone, Debug)]
pub enum Why {
    /// A leaf.
    Given(Origin),
    /// The same value as another step, under a name of its own.
    Same(Arc<Step>),
    /// All added up.
    Sum(Vec<Arc<Step>>),
    /// The first less the second.
    Difference(Arc<Step>, Arc<Step>),
    /// One times the other.
    Product(Arc<Step>, Arc<Step>),
    /// The first divided by the second.
    Quotient(Arc<Step>, Arc<Step>),
    /// The smallest of them.
    Least(Vec<Arc<Step>>),
    /// The largest of them.
    Greatest(Vec<Arc<Step>>),
    /// Not below zero.
    Floored(Arc<Step>),
    /// Rounded to a multiple of a weighing step.
    Rounded {
        /// What was rounded.
        of: Arc<Step>,
        /// The step, of the same kind.
        to: Amount,
        /// Whether always downward.
        down: bool,
    },
    /// Taken among several, for a stated reason.
    Chosen {
        /// The one taken.
        taken: Arc<Step>,
        /// Why.
        because: &'static str,
        /// Those not taken.
        others: Vec<Arc<Step>>,
    },
    /// The result of a numeric engine; its operands, and how to reckon it again.
    Computed {
        /// What went in.
        operands: Vec<Arc<Step>>,
        /// The engine.
        again: Again,
    },
}

/// One step: what it is called, which rule justifies it, its value and how it was reached.
#[derive(Clone, Debug)]
pub struct Step {
    /// What a grower would call it, where it has a name.
    pub label: Option<Cow<'static, str>>,
    /// The rule that justifies it.
    pub rule: Option<&'static Rule>,
    /// Its value.
    pub amount: Amount,
    /// The likely low and high end, where one is known; few steps have one.
    pub range: Option<Box<(Amount, Amount)>>,
    /// How it was reached.
    pub why: Why,
}

impl Step {
    /// Makes a leaf.
    pub fn leaf(
        label: impl Label,
        amount: Amount,
        origin: Origin,
        rule: Option<&'static Rule>,
    ) -> Arc<Self> {
        Arc::new(Self {
            label: Some(label.text()),
            rule,
            amount,
            range: None,
            why: Why::Given(origin),
        })
    }

    /// The steps this one was reached from, in order.
    pub fn parts(&self) -> Vec<&Arc<Self>> {
        match &self.why {
            Why::Given(_) => Vec::new(),
            Why::Same(of) | Why::Floored(of) | Why::Rounded { of, .. } => vec![of],
            Why::Sum(all) | Why::Least(all) | Why::Greatest(all) => all.iter().collect(),
            Why::Computed { operands, .. } => operands.iter().collect(),
            Why::Difference(a, b) | Why::Product(a, b) | Why::Quotient(a, b) => vec![a, b],
            Why::Chosen { taken, others, .. } => std::iter::once(taken).chain(others).collect(),
        }
    }
}
