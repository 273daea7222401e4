//! Figures and their arithmetic.

use std::borrow::Cow;
use std::ops::{Add, Div, Mul, Sub};
use std::rc::Rc;

use rust_decimal::Decimal;

use super::rule::Rule;
use super::step::{Again, Origin, Place, Step, Why};
use crate::quantity::{Amount, Positive, Quantity, Share, floor_to, over, round_to, settle};

/// A quantity that knows how it was reached.
#[derive(Clone, Debug)]
pub struct Figure<Q> {
    value: Q,
    step: Rc<Step>,
}

impl<Q: Quantity> Figure<Q> {
    fn unnamed(value: Q, why: Why) -> Self {
        let step = Step { label: None, rule: None, amount: value.amount(), range: None, why };
        Self { value, step: Rc::new(step) }
    }

    fn leaf(
        label: impl Into<Cow<'static, str>>,
        value: Q,
        origin: Origin,
        rule: Option<&'static Rule>,
    ) -> Self {
        Self { value, step: Step::leaf(label, value.amount(), origin, rule) }
    }

    /// A value that the grower said, at this place of the season file.
    pub fn said(label: impl Into<Cow<'static, str>>, value: Q, place: Place) -> Self {
        Self::leaf(label, value, Origin::Said(place), None)
    }

    /// A value listed in the catalogue, with the id of its source.
    pub fn listed(
        label: impl Into<Cow<'static, str>>,
        value: Q,
        list: &'static str,
        entry: &str,
        source: &str,
    ) -> Self {
        let origin = Origin::Listed { list, entry: entry.into(), source: source.into() };
        Self::leaf(label, value, origin, None)
    }

    /// A value that a rule fixes, such as a default.
    pub fn fixed(label: impl Into<Cow<'static, str>>, value: Q, rule: &'static Rule) -> Self {
        Self::leaf(label, value, Origin::Fixed, Some(rule))
    }

    /// A value given on the command line.
    pub fn asked(label: impl Into<Cow<'static, str>>, value: Q) -> Self {
        Self::leaf(label, value, Origin::Asked, None)
    }

    /// A value written down in the record, on this line.
    pub fn recorded(label: impl Into<Cow<'static, str>>, value: Q, line: u32) -> Self {
        Self::leaf(label, value, Origin::Recorded { line }, None)
    }

    /// The result of a numeric engine, with its operands and how to reckon it again.
    pub fn computed(
        label: impl Into<Cow<'static, str>>,
        rule: &'static Rule,
        operands: Vec<Rc<Step>>,
        again: Again,
    ) -> Self {
        let amounts: Vec<Amount> = operands.iter().map(|operand| operand.amount).collect();
        let value = Q::from_base(again(&amounts).base);
        let why = Why::Computed { operands, again };
        Self::unnamed(value, why).by(label, rule)
    }

    /// The result of a numeric engine reckoned by a quicker way than `again`, which must agree.
    pub fn reckoned(
        label: impl Into<Cow<'static, str>>,
        rule: &'static Rule,
        value: Q,
        operands: Vec<Rc<Step>>,
        again: Again,
    ) -> Self {
        Self::unnamed(value, Why::Computed { operands, again }).by(label, rule)
    }

    /// All of them added up; nothing adds up to zero.
    pub fn total<'a>(all: impl IntoIterator<Item = &'a Self>) -> Self {
        let parts: Vec<&Self> = all.into_iter().collect();
        let bases = parts.iter().map(|part| part.value.base());
        let base = bases.fold(Decimal::ZERO, Decimal::saturating_add);
        Self::unnamed(
            Q::from_base(base),
            Why::Sum(parts.iter().map(|part| part.step.clone()).collect()),
        )
    }

    /// The smallest of them, the first among equals. Needs at least one.
    pub fn least(first: &Self, rest: &[&Self]) -> Self {
        let value =
            rest.iter().fold(first.value, |low, one| if one.value < low { one.value } else { low });
        Self::unnamed(value, Why::Least(Self::steps(first, rest)))
    }

    /// The largest of them, the first among equals. Needs at least one.
    pub fn greatest(first: &Self, rest: &[&Self]) -> Self {
        let value = rest
            .iter()
            .fold(first.value, |high, one| if one.value > high { one.value } else { high });
        Self::unnamed(value, Why::Greatest(Self::steps(first, rest)))
    }

    fn steps(first: &Self, rest: &[&Self]) -> Vec<Rc<Step>> {
        std::iter::once(first).chain(rest.iter().copied()).map(|one| one.step.clone()).collect()
    }

    /// This one, taken among others for a stated reason.
    pub fn chosen(&self, because: &'static str, others: &[&Self]) -> Self {
        let others = others.iter().map(|other| other.step.clone()).collect();
        Self::unnamed(self.value, Why::Chosen { taken: self.step.clone(), because, others })
    }

    /// The figure, not below zero. What is already zero or more stays as it is.
    pub fn at_least_zero(&self) -> Self {
        if self.value >= Q::ZERO {
            return self.clone();
        }
        Self::unnamed(Q::ZERO, Why::Floored(self.step.clone()))
    }

    /// Rounded to a multiple of the step, halves away from zero.
    pub fn rounded(&self, to: Q) -> Self {
        let value = Q::from_base(round_to(self.value.base(), to.base()));
        Self::unnamed(value, Why::Rounded { of: self.step.clone(), to: to.amount(), down: false })
    }

    /// Rounded down to a multiple of the step.
    pub fn rounded_down(&self, to: Q) -> Self {
        let value = Q::from_base(floor_to(self.value.base(), to.base()));
        Self::unnamed(value, Why::Rounded { of: self.step.clone(), to: to.amount(), down: true })
    }

    /// Names the figure and ties it to the rule that justifies it.
    pub fn by(self, label: impl Into<Cow<'static, str>>, rule: &'static Rule) -> Self {
        self.named(label, Some(rule))
    }

    /// Names the figure.
    pub fn called(self, label: impl Into<Cow<'static, str>>) -> Self {
        self.named(label, None)
    }

    fn named(self, label: impl Into<Cow<'static, str>>, rule: Option<&'static Rule>) -> Self {
        let label = Some(label.into());
        let mut step = self.step;
        match Rc::get_mut(&mut step) {
            Some(own) if own.label.is_none() => (own.label, own.rule) = (label, rule),
            _ => step = Self::wrapped(label, rule, step),
        }
        Self { value: self.value, step }
    }

    fn wrapped(
        label: Option<Cow<'static, str>>,
        rule: Option<&'static Rule>,
        step: Rc<Step>,
    ) -> Rc<Step> {
        let (amount, range) = (step.amount, step.range.clone());
        Rc::new(Step { label, rule, amount, range, why: Why::Same(step) })
    }

    /// Notes the likely low and high end.
    pub fn between(mut self, low: Q, high: Q) -> Self {
        Rc::make_mut(&mut self.step).range = Some(Box::new((low.amount(), high.amount())));
        self
    }

    /// The likely low and high end; the value itself where no range is noted.
    pub fn range(&self) -> (Q, Q) {
        self.step.range.as_deref().map_or((self.value, self.value), |(low, high)| {
            (Q::from_base(low.base), Q::from_base(high.base))
        })
    }

    /// The quotient, or nothing where the divisor is not above zero.
    pub fn over<B>(&self, divisor: &Figure<B>) -> Option<Figure<Q::Output>>
    where
        B: Quantity,
        Q: Div<Positive<B>>,
        Q::Output: Quantity,
    {
        let value = self.value / Positive::new(divisor.value)?;
        Some(Figure::unnamed(value, Why::Quotient(self.step.clone(), divisor.step.clone())))
    }

    /// The ratio of two figures of one kind, or nothing where the divisor is not above zero.
    pub fn ratio_to(&self, whole: &Self) -> Option<Figure<Share>> {
        (whole.value > Q::ZERO).then(|| {
            let value = Share::from_fraction(over(self.value.base(), whole.value.base()));
            Figure::unnamed(value, Why::Quotient(self.step.clone(), whole.step.clone()))
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

    /// The step that reached it.
    pub fn step(&self) -> &Rc<Step> {
        &self.step
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
                let why = Why::$why(self.step.clone(), other.step.clone());
                Figure::unnamed(self.value.$method(other.value), why)
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
