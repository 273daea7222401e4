//! Figures and their arithmetic.

use std::ops::{Add, Div, Mul, Sub};
use std::sync::Arc;

use rust_decimal::Decimal;

use super::label::Label;
use super::rule::Rule;
use super::step::{Again, Origin, Place, Step, Why};
use super::workings;
use crate::quantity::{Positive, Quantity, Share, floor_to, over, round_to, settle};

/// A quantity that knows how it was reached, unless it was reckoned [without workings].
///
/// [without workings]: super::Workings::Left
#[derive(Clone, Debug)]
pub struct Figure<Q> {
    value: Q,
    /// The likely low and high end, where one is noted; few figures have one.
    range: Option<Box<(Q, Q)>>,
    step: Option<Arc<Step>>,
}

impl<Q: Quantity> Figure<Q> {
    /// A figure reached so; `why` is asked only where workings are kept.
    fn reached(value: Q, why: impl FnOnce() -> Why) -> Self {
        let amount = value.amount();
        let step = workings::kept()
            .then(|| Arc::new(Step { label: None, rule: None, amount, range: None, why: why() }));
        Self { value, range: None, step }
    }

    fn leaf(
        label: impl Label,
        value: Q,
        origin: impl FnOnce() -> Origin,
        rule: Option<&'static Rule>,
    ) -> Self {
        let step = workings::kept().then(|| Step::leaf(label, value.amount(), origin(), rule));
        Self { value, range: None, step }
    }

    /// A value that the grower said, at this place of the season file.
    pub fn said(label: impl Label, value: Q, place: Place) -> Self {
        Self::leaf(label, value, || Origin::Said(place), None)
    }

    /// A value listed in the catalogue, with the id of its source.
    pub fn listed(
        label: impl Label,
        value: Q,
        list: &'static str,
        entry: &str,
        source: &str,
    ) -> Self {
        let origin = || Origin::Listed { list, entry: entry.into(), source: source.into() };
        Self::leaf(label, value, origin, None)
    }

    /// A value that a rule fixes, such as a default.
    pub fn fixed(label: impl Label, value: Q, rule: &'static Rule) -> Self {
        Self::leaf(label, value, || Origin::Fixed, Some(rule))
    }

    /// A value given on the command line.
    pub fn asked(label: impl Label, value: Q) -> Self {
        Self::leaf(label, value, || Origin::Asked, None)
    }

    /// A value written down in the record, on this line.
    pub fn recorded(label: impl Label, value: Q, line: u32) -> Self {
        Self::leaf(label, value, || Origin::Recorded { line }, None)
    }

    /// The result of a numeric engine; its operands, and how to reckon it again from them, which must
    /// come to the same. The operands are asked for only where workings are kept.
    pub fn computed(
        label: impl Label,
        rule: &'static Rule,
        value: Q,
        operands: impl FnOnce() -> Vec<Arc<Step>>,
        again: Again,
    ) -> Self {
        let why = || {
            let operands = operands();
            debug_assert!(
                {
                    let amounts: Vec<_> = operands.iter().map(|operand| operand.amount).collect();
                    settle(again(&amounts).base) == settle(value.base())
                },
                "{} is not reckoned again as it was",
                rule.key
            );
            Why::Computed { operands, again }
        };
        Self::reached(value, why).by(label, rule)
    }

    /// All of them added up; nothing adds up to zero.
    pub fn total<'a>(all: impl IntoIterator<Item = &'a Self>) -> Self {
        let (mut base, mut parts) = (Decimal::ZERO, Vec::new());
        for part in all {
            base = base.saturating_add(part.value.base());
            if workings::kept() {
                parts.push(part.step());
            }
        }
        Self::reached(Q::from_base(base), || Why::Sum(parts))
    }

    /// The smallest of them, the first among equals. Needs at least one.
    pub fn least(first: &Self, rest: &[&Self]) -> Self {
        let value =
            rest.iter().fold(first.value, |low, one| if one.value < low { one.value } else { low });
        Self::reached(value, || Why::Least(Self::steps(first, rest)))
    }

    /// The largest of them, the first among equals. Needs at least one.
    pub fn greatest(first: &Self, rest: &[&Self]) -> Self {
        let value = rest
            .iter()
            .fold(first.value, |high, one| if one.value > high { one.value } else { high });
        Self::reached(value, || Why::Greatest(Self::steps(first, rest)))
    }

    fn steps(first: &Self, rest: &[&Self]) -> Vec<Arc<Step>> {
        std::iter::once(first).chain(rest.iter().copied()).map(Self::step).collect()
    }

    /// This one, taken among others for a stated reason.
    pub fn chosen(&self, because: &'static str, others: &[&Self]) -> Self {
        Self::reached(self.value, || {
            let others = others.iter().map(|other| other.step()).collect();
            Why::Chosen { taken: self.step(), because, others }
        })
    }

    /// The figure, not below zero. What is already zero or more stays as it is.
    pub fn at_least_zero(&self) -> Self {
        if self.value >= Q::ZERO {
            return self.clone();
        }
        Self::reached(Q::ZERO, || Why::Floored(self.step()))
    }

    /// Rounded to a multiple of the step, halves away from zero.
    pub fn rounded(&self, to: Q) -> Self {
        let value = Q::from_base(round_to(self.value.base(), to.base()));
        let to = to.amount();
        Self::reached(value, || Why::Rounded { of: self.step(), to, down: false })
    }

    /// Rounded down to a multiple of the step.
    pub fn rounded_down(&self, to: Q) -> Self {
        let value = Q::from_base(floor_to(self.value.base(), to.base()));
        let to = to.amount();
        Self::reached(value, || Why::Rounded { of: self.step(), to, down: true })
    }

    /// Names the figure and ties it to the rule that justifies it.
    pub fn by(self, label: impl Label, rule: &'static Rule) -> Self {
        self.named(label, Some(rule))
    }

    /// Names the figure.
    pub fn called(self, label: impl Label) -> Self {
        self.named(label, None)
    }

    fn named(mut self, label: impl Label, rule: Option<&'static Rule>) -> Self {
        if let Some(step) = &mut self.step {
            let label = Some(label.text());
            match Arc::get_mut(step) {
                Some(own) if own.label.is_none() => (own.label, own.rule) = (label, rule),
                _ => {
                    let (amount, range) = (step.amount, step.range.clone());
                    let why = Why::Same(Arc::clone(step));
                    *step = Arc::new(Step { label, rule, amount, range, why });
                }
            }
        }
        self
    }

    /// Notes the likely low and high end.
    pub fn between(mut self, low: Q, high: Q) -> Self {
        self.range = Some(Box::new((low, high)));
        if let Some(step) = &mut self.step {
            Arc::make_mut(step).range = Some(Box::new((low.amount(), high.amount())));
        }
        self
    }

    /// The likely low and high end; the value itself where no range is noted.
    pub fn range(&self) -> (Q, Q) {
        self.range.as_deref().map_or((self.value, self.value), |(low, high)| (*low, *high))
    }

    /// The quotient, or nothing where the divisor is not above zero.
    pub fn over<B>(&self, divisor: &Figure<B>) -> Option<Figure<Q::Output>>
    where
        B: Quantity,
        Q: Div<Positive<B>>,
        Q::Output: Quantity,
    {
        let value = self.value / Positive::new(divisor.value)?;
        Some(Figure::reached(value, || Why::Quotient(self.step(), divisor.step())))
    }

    /// The ratio of two figures of one kind, or nothing where the divisor is not above zero.
    pub fn ratio_to(&self, whole: &Self) -> Option<Figure<Share>> {
        (whole.value > Q::ZERO).then(|| {
            let value = Share::from_fraction(over(self.value.base(), whole.value.base()));
            Figure::reached(value, || Why::Quotient(self.step(), whole.step()))
        })
    }

    /// The value.
    pub fn value(&self) -> Q {
        self.value
    }

    /// Whether it is nothing, to twelve digits.
    pub fn is_zero(&self) -> bool {
        settle(self.value.base()).is_zero()
    }

    /// The step that reached it; where no workings were kept, one that holds its value alone.
    pub fn step(&self) -> Arc<Step> {
        let bare = || Step::leaf("reckoned", self.value.amount(), Origin::Unkept, None);
        self.step.clone().unwrap_or_else(bare)
    }
}

macro_rules! lift {
    ($op:ident, $method:ident, $why:ident) => {
        impl<A, B> $op<&Figure<B>> for &Figure<A>
        where
            A: Quantity + $op<B>,
            B: Quantity,
            A::Output: Quantity,
        {
            type Output = Figure<A::Output>;
            fn $method(self, other: &Figure<B>) -> Self::Output {
                let value = self.value.$method(other.value);
                Figure::reached(value, || Why::$why(self.step(), other.step()))
            }
        }
    };
}
lift!(Sub, sub, Difference);
lift!(Mul, mul, Product);

impl<Q: Quantity + Add<Output = Q>> Add for &Figure<Q> {
    type Output = Figure<Q>;
    fn add(self, other: Self) -> Figure<Q> {
        Figure::total([self, other])
    }
}
