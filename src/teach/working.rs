//! The working of a sum as numbered steps, read off the derivations of its answers.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::factors::{Factor, factors};
use super::numbers::{Pencil, WORKING_FIGURES, shown};
use crate::engine::sums::{InUnit, Sum, Units, Value};
use crate::figure::{Origin, Rule, Step, Why};
use crate::quantity::{Written, units};
use crate::report::text::FIXED_SPACE;

/// One step of the working.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What is reckoned.
    pub label: String,
    /// How, with units: "3 lb ÷ 24 % = 3 × 100 ÷ 24 = 12.5 lb".
    pub sum: String,
    /// The id of the source of the rule or of the figure, where there is one.
    pub source: Option<String>,
}

impl Line {
    /// The step in one line of plain text.
    pub fn text(&self) -> String {
        format!("{}: {}", self.label, self.sum).replace(FIXED_SPACE, " ")
    }
}

/// Reads the working off the answers of a sum; each step is told once, before it is used.
pub fn lines(sum: &Sum) -> Vec<Line> {
    lines_of(sum, |_| true)
}

/// Reads the working of some of the answers of a sum, chosen by name.
pub fn lines_of(sum: &Sum, mut is_asked: impl FnMut(&str) -> bool) -> Vec<Line> {
    let mut teller = Teller { units: &sum.units, told: BTreeSet::new(), lines: Vec::new() };
    for answer in sum.answers.iter().filter(|answer| is_asked(&answer.name)) {
        if let Value::Worked(step) = &answer.value {
            teller.tell(step);
        }
    }
    teller.lines
}

struct Teller<'a> {
    units: &'a Units,
    told: BTreeSet<String>,
    lines: Vec<Line>,
}

impl Teller<'_> {
    fn tell(&mut self, step: &Arc<Step>) {
        match &step.why {
            // Of a choice only what was taken is told.
            Why::Chosen { taken, .. } => self.tell(taken),
            _ => step.parts().into_iter().for_each(|part| self.tell(part)),
        }
        let Some(label) = &step.label else { return };
        let line = match &step.why {
            Why::Given(origin) => match self.looked_up(label, step, origin) {
                Some(line) => line,
                None => return,
            },
            _ => self.line(label, step),
        };
        // Told by what it says and not by where it stands, as equal steps are equal news.
        if self.told.insert(line.text()) {
            self.lines.push(line);
        }
    }

    /// A figure that was looked up: worth a line, with its source, where it says anything.
    fn looked_up(&self, label: &str, step: &Arc<Step>, origin: &Origin) -> Option<Line> {
        let (source, how) = match origin {
            Origin::Listed { source, .. } => (Some(source.to_string()), ", as listed"),
            Origin::Fixed => (source(step.rule), ""),
            _ => (None, ""),
        };
        if source.is_none() || step.amount.base.is_zero() {
            return None;
        }
        // A factor such as "P2O5 per P" is its own unit.
        let is_factor = self.units.of_step(step).symbol() == label;
        let value = if is_factor { self.number(step) } else { self.value(step) };
        Some(Line { label: label.to_owned(), sum: format!("{value}{how}"), source })
    }

    fn line(&self, label: &str, step: &Arc<Step>) -> Line {
        let unit = self.units.of_step(step);
        let (with_units, bare) = self.reckon(step, unit);
        let value = self.pencil(step);
        let sign = if value.exact { "=" } else { "≈" };
        let mut sum = with_units;
        if let Some(bare) = bare {
            sum.push_str(" = ");
            sum.push_str(&bare);
        }
        sum.push_str(&format!(" {sign} {}", with_unit(&value.text, unit)));
        Line { label: label.to_owned(), sum, source: source(step.rule) }
    }

    /// How a step was reckoned: with units, and again without where factors are hidden in them.
    fn reckon(&self, step: &Arc<Step>, unit: InUnit) -> (String, Option<String>) {
        match &step.why {
            Why::Same(of) if of.label.is_none() => self.reckon(of, unit),
            Why::Product(..) | Why::Quotient(..) | Why::Same(_) => self.product(step, unit),
            Why::Sum(all) => (self.join(all, " + ", unit), None),
            Why::Difference(a, b) => {
                let several =
                    b.label.is_none() && matches!(b.why, Why::Sum(_) | Why::Difference(..));
                let right = self.term(b, unit);
                let right = if several { format!("({right})") } else { right };
                (format!("{} − {right}", self.term(a, unit)), None)
            }
            Why::Floored(of) => (format!("{}, not below 0", self.bare(of, unit)), None),
            Why::Least(all) => (format!("the least of {}", self.join(all, ", ", unit)), None),
            Why::Greatest(all) => (format!("the larger of {}", self.join(all, ", ", unit)), None),
            Why::Rounded { of, .. } => (format!("{}, rounded", self.term(of, unit)), None),
            Why::Chosen { taken, because, .. } => {
                let label = taken.label.as_deref().unwrap_or_default();
                (format!("{because} ({label})"), None)
            }
            Why::Computed { operands, .. } => {
                (format!("from {}", self.join(operands, ", ", unit)), None)
            }
            Why::Given(_) => (self.term(step, unit), None),
        }
    }

    fn bare(&self, step: &Arc<Step>, unit: InUnit) -> String {
        if step.label.is_some() { self.term(step, unit) } else { self.reckon(step, unit).0 }
    }

    fn join(&self, all: &[Arc<Step>], word: &str, unit: InUnit) -> String {
        let terms: Vec<String> = all.iter().map(|one| self.term(one, unit)).collect();
        terms.join(word)
    }

    /// One term of a sum, turned into the unit of the sum.
    fn term(&self, step: &Arc<Step>, unit: InUnit) -> String {
        if step.label.is_none() && !matches!(step.why, Why::Given(_)) {
            return self.reckon(step, unit).0;
        }
        let mine = self.units.of_step(step);
        let found = match (written(mine), written(unit)) {
            (Some(mine), Some(unit)) if mine != unit => factors(&[mine], &[], Some(unit)),
            _ => Vec::new(),
        };
        found.iter().fold(self.value(step), |text, factor| format!("{text} {}", factor.text()))
    }

    fn value(&self, step: &Arc<Step>) -> String {
        let unit = self.units.of_step(step);
        with_unit(&self.number(step), unit)
    }

    fn number(&self, step: &Arc<Step>) -> String {
        self.pencil(step).text
    }

    fn pencil(&self, step: &Arc<Step>) -> Pencil {
        let unit = self.units.of_step(step);
        shown(unit.of_base(step.amount.base), unit, WORKING_FIGURES)
    }

    fn product(&self, step: &Arc<Step>, unit: InUnit) -> (String, Option<String>) {
        let (mut above, mut below) = (Vec::new(), Vec::new());
        gather(step, true, true, &mut above, &mut below);
        let units_of = |steps: &[Arc<Step>]| -> Vec<Written> {
            steps.iter().filter_map(|one| written(self.units.of_step(one))).collect()
        };
        let found = factors(&units_of(&above), &units_of(&below), written(unit));
        let hidden = found.iter().any(|factor| factor.unit.is_empty());
        let mut with_units = self.chain(&above, &below, true);
        for factor in found.iter().filter(|factor| !factor.unit.is_empty()) {
            with_units.push(' ');
            with_units.push_str(&factor.text());
        }
        let bare = hidden.then(|| {
            let chain = self.chain(&above, &below, false);
            found.iter().fold(chain, |text, factor: &Factor| format!("{text} {}", factor.plain()))
        });
        (with_units, bare)
    }

    fn chain(&self, above: &[Arc<Step>], below: &[Arc<Step>], with_units: bool) -> String {
        let one = |step: &Arc<Step>| {
            if step.label.is_none() && !matches!(step.why, Why::Given(_)) {
                let unit = self.units.of_step(step);
                return format!("({})", self.reckon(step, unit).0);
            }
            if with_units { self.value(step) } else { self.number(step) }
        };
        let mut text = above.iter().map(one).collect::<Vec<_>>().join(" × ");
        for step in below {
            text.push_str(" ÷ ");
            text.push_str(&one(step));
        }
        text
    }
}

/// Gathers what is multiplied and what is divided by, through steps without a name of their own.
fn gather(
    step: &Arc<Step>,
    root: bool,
    up: bool,
    above: &mut Vec<Arc<Step>>,
    below: &mut Vec<Arc<Step>>,
) {
    if root || step.label.is_none() {
        match &step.why {
            Why::Product(a, b) => {
                gather(a, false, up, above, below);
                gather(b, false, up, above, below);
                return;
            }
            Why::Quotient(a, b) => {
                gather(a, false, up, above, below);
                gather(b, false, !up, above, below);
                return;
            }
            Why::Same(of) => return gather(of, false, up, above, below),
            _ => {}
        }
    }
    if up { above.push(step.clone()) } else { below.push(step.clone()) }
}

/// The unit by which factors are found; counts have none.
fn written(unit: InUnit) -> Option<Written> {
    match unit {
        InUnit::Of(unit) => Some(unit),
        InUnit::Count(_) => None,
        InUnit::MoneyPer(_) => Some(Written::plain(&units::CURRENCY)),
        InUnit::Ppm => Some(Written::per(&units::MILLIGRAM, &units::LITRE)),
    }
}

fn with_unit(number: &str, unit: InUnit) -> String {
    let symbol = unit.symbol();
    if symbol.is_empty() {
        return number.to_owned();
    }
    format!("{number}{FIXED_SPACE}{}", symbol.replace(' ', &FIXED_SPACE.to_string()))
}

fn source(rule: Option<&'static Rule>) -> Option<String> {
    rule.and_then(|rule| rule.source).map(str::to_owned)
}
