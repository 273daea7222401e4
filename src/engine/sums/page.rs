//! The page a sum is worked on: what was read, the units, the answers so far.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::units::{InUnit, Units};
use super::{Ask, Refusal};
use crate::catalogue::Catalogue;
use crate::figure::{Figure, Step};
use crate::quantity::{Bounded, Mass, Misread, Quantity, Said, Share, read_said, significant};

/// Beyond this an answer has lost its last digits: 10^24.
const MOST: u128 = 1_000_000_000_000_000_000_000_000;

/// What an answer is.
#[derive(Clone, Debug)]
pub enum Value {
    /// A figure with its derivation.
    Worked(Arc<Step>),
    /// A name.
    Word(String),
}

/// Whether an answer was asked for or comes along.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Asked for.
    Asked,
    /// Comes along.
    Along,
}

/// One answer of a sum.
#[derive(Clone, Debug)]
pub struct Answer {
    /// Its name, as the table in the module's description lists it.
    pub name: String,
    /// What it is.
    pub value: Value,
    /// The unit it is in.
    pub unit: InUnit,
    /// Whether it was asked for.
    pub part: Part,
}

impl Answer {
    /// The exact value in the unit of the answer; nothing for a name.
    pub fn number(&self) -> Option<Decimal> {
        match &self.value {
            Value::Worked(step) => Some(self.unit.of_base(step.amount.base)),
            Value::Word(_) => None,
        }
    }

    /// The value as machines read it: 12 significant digits, or the name.
    pub fn text(&self) -> String {
        match &self.value {
            Value::Word(word) => word.clone(),
            Value::Worked(_) => {
                let value = self.number().unwrap_or_default();
                significant(value, crate::quantity::SIGNIFICANT_DIGITS).to_string()
            }
        }
    }

    /// The unit as it is written; empty for a name or a plain number.
    pub fn unit_text(&self) -> String {
        match self.value {
            Value::Worked(_) => self.unit.symbol(),
            Value::Word(_) => String::new(),
        }
    }
}

/// A note or a caution, with the id of its source where it has one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// What it says.
    pub text: String,
    /// The id of its source.
    pub source: Option<String>,
}

/// A sum that has been done.
#[derive(Clone, Debug)]
pub struct Sum {
    /// The answers, in order.
    pub answers: Vec<Answer>,
    /// The unit each figure is shown in.
    pub units: Units,
    /// What was assumed or left out.
    pub notes: Vec<Remark>,
    /// What to mind before acting on it.
    pub cautions: Vec<Remark>,
}

impl Sum {
    /// Finds an answer by its name.
    pub fn answer(&self, name: &str) -> Option<&Answer> {
        self.answers.iter().find(|answer| answer.name == name)
    }
}

/// The page a sum is worked on.
#[derive(Debug)]
pub struct Page<'a> {
    /// The built-in lists.
    pub catalogue: &'a Catalogue,
    /// The units.
    pub units: Units,
    example: &'static str,
    understood: Vec<String>,
    answers: Vec<Answer>,
    notes: Vec<Remark>,
    cautions: Vec<Remark>,
}

impl<'a> Page<'a> {
    /// Begins a page; the example is a command of this sum that works.
    pub fn new(ask: &Ask<'a>, example: &'static str) -> Self {
        Self {
            catalogue: ask.catalogue,
            units: Units::new(&ask.written, ask.units),
            example,
            understood: Vec::new(),
            answers: Vec::new(),
            notes: Vec::new(),
            cautions: Vec::new(),
        }
    }

    /// Refuses the sum.
    pub fn refuse(&self, what: impl Into<String>, mend: impl Into<String>) -> Refusal {
        Refusal {
            what: what.into(),
            understood: self.understood.join("; "),
            mend: mend.into(),
            example: self.example.to_owned(),
        }
    }

    /// Refuses a text that could not be read.
    pub fn misread(&self, option: &str, fault: &Misread) -> Refusal {
        let what = match fault {
            Misread::Empty { .. } => format!("{option} is not given"),
            _ => format!("{option}: {fault}"),
        };
        self.refuse(what, fault.mend())
    }

    /// Notes what was understood, for the case that something else is not.
    pub fn understood(&mut self, text: impl Into<String>) {
        let text = text.into();
        // What is looked at before it is read is told once.
        if !self.understood.contains(&text) {
            self.understood.push(text);
        }
    }

    /// Reads a quantity from what was written for an option.
    pub fn said<Q: Bounded>(&mut self, option: &str, text: &str) -> Result<Said<Q>, Refusal> {
        let said = read_said::<Q>(text).map_err(|fault| self.misread(option, &fault))?;
        self.understood(format!("{} {}", option.trim_start_matches('-'), text.trim()));
        Ok(said)
    }

    /// Reads a quantity and makes a leaf of it.
    pub fn asked<Q: Bounded>(
        &mut self,
        option: &str,
        label: &str,
        text: &str,
    ) -> Result<Figure<Q>, Refusal> {
        let said = self.said::<Q>(option, text)?;
        Ok(self.leaf(label, said))
    }

    /// Reads a quantity that must be above zero and makes a leaf of it.
    pub fn asked_positive<Q: Bounded>(
        &mut self,
        option: &str,
        label: &str,
        text: &str,
    ) -> Result<Figure<Q>, Refusal> {
        let figure = self.asked::<Q>(option, label, text)?;
        if figure.value() > Q::ZERO {
            return Ok(figure);
        }
        let what = format!("{option} `{}` is nothing, so there is nothing to reckon", text.trim());
        Err(self.refuse(what, format!("write {} above zero, like `{}`", Q::NOUN, Q::EXAMPLE)))
    }

    /// Makes a leaf of what was said.
    pub fn leaf<Q: Quantity>(&mut self, label: &str, said: Said<Q>) -> Figure<Q> {
        self.units.note_written(label, Q::KIND, said.unit);
        Figure::asked(label.to_owned(), said.value)
    }

    /// Makes a leaf of what a rule fixes, told in this unit.
    pub fn leaf_fixed<Q: Quantity>(
        &mut self,
        label: &str,
        said: Said<Q>,
        rule: &'static crate::figure::Rule,
    ) -> Figure<Q> {
        self.units.note(label, InUnit::Of(said.unit));
        Figure::fixed(label.to_owned(), said.value, rule)
    }

    /// Makes a leaf of a count of things, such as "plants".
    pub fn count(&mut self, things: &'static str, number: Decimal) -> Figure<Share> {
        self.units.note(things, InUnit::Count(things));
        Figure::asked(things, Share::from_fraction(number))
    }

    /// Makes a leaf of one unit of weight, by which a price or a rate is told.
    pub fn one(&mut self, unit: &'static crate::quantity::Unit) -> Figure<Mass> {
        let label = format!("one {}", unit.symbol);
        self.units.note(&label, InUnit::Of(unit.into()));
        Figure::fixed(label, Mass::from_unit(Decimal::ONE, unit), &super::rules::UNIT)
    }

    /// Adds an answer in the unit that its figure is shown in.
    pub fn answer<Q: Quantity>(&mut self, part: Part, name: impl Into<String>, figure: &Figure<Q>) {
        let unit = self.units.of_step(&figure.step());
        self.answer_in(part, name, figure, unit);
    }

    /// Adds an answer in another unit than that its figure is worked in.
    pub fn answer_in<Q: Quantity>(
        &mut self,
        part: Part,
        name: impl Into<String>,
        figure: &Figure<Q>,
        unit: InUnit,
    ) {
        let value = Value::Worked(figure.step());
        self.answers.push(Answer { name: name.into(), value, unit, part });
    }

    /// Adds an answer that is a name.
    pub fn word(&mut self, part: Part, name: impl Into<String>, word: impl Into<String>) {
        let unit = InUnit::Count("");
        self.answers.push(Answer {
            name: name.into(),
            value: Value::Word(word.into()),
            unit,
            part,
        });
    }

    /// Notes what was assumed or left out.
    pub fn note(&mut self, text: impl Into<String>) {
        self.notes.push(Remark { text: text.into(), source: None });
    }

    /// Adds a caution of the catalogue, once. A key that is not listed says nothing.
    pub fn caution(&mut self, key: &str) {
        let Some(caution) = self.catalogue.caution(key) else { return };
        let text = caution.sentence.clone();
        self.caution_text(text, Some(&caution.source));
    }

    /// Adds a caution, once.
    pub fn caution_text(&mut self, text: impl Into<String>, source: Option<&str>) {
        let remark = Remark { text: text.into(), source: source.map(str::to_owned) };
        if !self.cautions.contains(&remark) {
            self.cautions.push(remark);
        }
    }

    /// Ends the page.
    ///
    /// # Errors
    /// Where an answer is past anything that can be weighed, and past exact reckoning with it.
    pub fn done(self) -> Result<Sum, Refusal> {
        let most = Decimal::from(MOST);
        let past = |answer: &&Answer| match &answer.value {
            Value::Worked(step) => {
                step.amount.base.abs() > most || answer.number().is_some_and(|one| one.abs() > most)
            }
            Value::Word(_) => false,
        };
        if let Some(answer) = self.answers.iter().find(past) {
            let what = format!("{} would come to more than can be reckoned exactly", answer.name);
            return Err(self.refuse(what, "check the units, and the zeros before the point"));
        }
        let Self { answers, units, notes, cautions, .. } = self;
        Ok(Sum { answers, units, notes, cautions })
    }
}
