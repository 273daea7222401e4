//! A figure's working as steps that a beginner can follow with a pencil: one line for each named
//! step, what was said or looked up standing inside the sum that uses it.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Places;
use super::decimals::Decimals;
use super::folding::{Alike, folded, unchanged};
use super::legend::Legend;
use crate::figure::{Origin, Step, Why};
use crate::report::document::StepLine;
use crate::report::number::Showing;
use crate::report::text::Text;

/// Where a step was told.
#[derive(Clone, Debug)]
struct Spot {
    /// The anchor of the figure under which it was told, where it has one.
    anchor: Option<String>,
    number: usize,
}

/// Tells figures, the rules and sources of all of them named once.
#[derive(Debug)]
pub struct Teacher<'a> {
    showing: Showing,
    places: Places<'a>,
    legend: Legend,
    alike: Alike,
    told: BTreeMap<usize, Spot>,
    roots: BTreeMap<usize, String>,
}

/// One line of a telling: whose it is and how the values of its sum are shown.
struct Telling<'a> {
    anchor: Option<&'a str>,
    decimals: Decimals,
}

/// A step to be told.
struct Line {
    step: Arc<Step>,
    core: Arc<Step>,
    rules: Vec<&'static crate::figure::Rule>,
    depth: usize,
}

impl<'a> Teacher<'a> {
    /// Makes a teacher who has told nothing yet.
    pub fn new(showing: Showing, places: Places<'a>) -> Self {
        Self {
            showing,
            places,
            legend: Legend::default(),
            alike: Alike::default(),
            told: BTreeMap::new(),
            roots: BTreeMap::new(),
        }
    }

    /// Says that a figure is told under its own anchor, so that others only point to it.
    pub fn elsewhere(&mut self, anchor: &str, step: &Arc<Step>) {
        let number = self.alike.number(step);
        self.roots.entry(number).or_insert_with(|| anchor.to_owned());
    }

    /// Tells a figure down to `depth` steps below it; nothing tells all that was not told before.
    pub fn teach(
        &mut self,
        anchor: Option<&str>,
        root: &Arc<Step>,
        depth: Option<usize>,
    ) -> Vec<StepLine> {
        let mut lines = Vec::new();
        self.gather(anchor, root, 0, depth.unwrap_or(usize::MAX), &mut lines);
        let told = |(at, line): (usize, &Line)| StepLine {
            depth: line.depth,
            number: at + 1,
            text: self.line(anchor, line),
            anchor: None,
        };
        lines.iter().enumerate().map(told).collect()
    }

    /// The rules and sources that the tellings so far referred to.
    pub fn legend(&self) -> Vec<StepLine> {
        self.legend.told()
    }

    /// The anchors of figures that these lines only point to.
    pub fn pointed_to(lines: &[StepLine]) -> Vec<&str> {
        let mut found: Vec<&str> = Vec::new();
        let spans = lines.iter().flat_map(|line| &line.text.spans);
        for link in spans.filter_map(|span| span.link.as_deref()) {
            if !Legend::is_anchor(link) && !found.contains(&link) {
                found.push(link);
            }
        }
        found
    }

    /// Whether lines of the season file were named.
    pub fn names_lines(&self) -> bool {
        self.legend.lines
    }

    /// Puts down a step and those beneath it, each once.
    fn gather(
        &mut self,
        anchor: Option<&str>,
        step: &Arc<Step>,
        depth: usize,
        most: usize,
        lines: &mut Vec<Line>,
    ) {
        let folded = self.folded(step);
        let numbers = [self.alike.number(step), self.alike.number(&folded.core)];
        let leaf = matches!(folded.core.why, Why::Given(_));
        let named = folded.label.is_some();
        if depth > 0 && named {
            let known = numbers.iter().any(|number| self.told.contains_key(number));
            if leaf || known || self.roots.contains_key(&numbers[0]) || depth > most {
                return;
            }
        }
        let mut below = depth;
        let core = folded.core.clone();
        if depth == 0 || named {
            let spot = Spot { anchor: anchor.map(str::to_owned), number: lines.len() + 1 };
            for number in numbers {
                self.told.entry(number).or_insert_with(|| spot.clone());
            }
            below += 1;
            let (step, core) = (step.clone(), folded.core);
            lines.push(Line { step, core, rules: folded.rules, depth });
        }
        for part in core.parts() {
            self.gather(anchor, part, below, most, lines);
        }
    }

    fn folded(&mut self, step: &Arc<Step>) -> super::folding::Folded {
        let (roots, alike) = (&self.roots, std::cell::RefCell::new(&mut self.alike));
        folded(step, |next| roots.contains_key(&alike.borrow_mut().number(next)))
    }

    fn line(&mut self, anchor: Option<&str>, line: &Line) -> Text {
        let decimals = Decimals::of(&line.core, self.showing, &mut self.alike);
        let telling = &Telling { anchor, decimals };
        let (shown, _) = self.showing.closer(line.step.amount, 0);
        let text = Text::new().emphasis(super::name(&line.step)).plain(" = ").shown(&shown);
        let sum = self.sum(telling, &line.core);
        let text = if sum.is_empty() { text } else { text.plain(" = ").and(sum) };
        let mut refs: Vec<usize> = Vec::new();
        for rule in &line.rules {
            let number = self.legend.rule(rule, &self.places);
            if !refs.contains(&number) {
                refs.push(number);
            }
        }
        text.and(references(&refs))
    }

    fn sum(&mut self, telling: &Telling<'_>, step: &Arc<Step>) -> Text {
        if let Some(next) = unchanged(step) {
            return self.term(telling, next);
        }
        match &step.why {
            Why::Given(origin) => self.origin(origin),
            Why::Sum(all) if all.is_empty() => Text::from("nothing to add up"),
            Why::Sum(all) => self.joined(telling, all, " + "),
            Why::Difference(a, b) => self.pair(telling, a, " − ", b),
            Why::Product(a, b) => self.pair(telling, a, " × ", b),
            Why::Quotient(a, b) => self.pair(telling, a, " ÷ ", b),
            Why::Least(all) => {
                let word = if all.len() == 2 { "the smaller of " } else { "the smallest of " };
                Text::from(word).and(self.listed(telling, all))
            }
            Why::Greatest(all) => {
                let word = if all.len() == 2 { "the larger of " } else { "the largest of " };
                Text::from(word).and(self.listed(telling, all))
            }
            Why::Same(of) => self.term(telling, of),
            Why::Floored(of) => self.term(telling, of).plain(", not below zero"),
            Why::Rounded { of, to, down } => {
                let how = if *down { ", rounded down to " } else { ", rounded to " };
                self.term(telling, of).plain(how).shown(&self.showing.amount(*to))
            }
            Why::Chosen { taken, because, others } => {
                let text = self.term(telling, taken).plain(format!(", because {because}"));
                if others.is_empty() {
                    return text;
                }
                text.plain("; otherwise ").and(self.joined(telling, others, " or "))
            }
            Why::Computed { operands, .. } => {
                Text::from("worked out from ").and(self.listed(telling, operands))
            }
        }
    }

    fn pair(&mut self, telling: &Telling<'_>, a: &Arc<Step>, sign: &str, b: &Arc<Step>) -> Text {
        self.term(telling, a).plain(sign).and(self.term(telling, b))
    }

    fn joined(&mut self, telling: &Telling<'_>, all: &[Arc<Step>], sign: &str) -> Text {
        let mut text = Text::new();
        for (at, part) in all.iter().enumerate() {
            text = if at > 0 { text.plain(sign) } else { text };
            text = text.and(self.term(telling, part));
        }
        text
    }

    /// "a, b and c".
    fn listed(&mut self, telling: &Telling<'_>, all: &[Arc<Step>]) -> Text {
        let mut text = Text::new();
        for (at, part) in all.iter().enumerate() {
            text = match at {
                0 => text,
                at if at + 1 == all.len() => text.plain(" and "),
                _ => text.plain(", "),
            };
            text = text.and(self.term(telling, part));
        }
        text
    }

    /// A part inside the sum that uses it: its name and value, and where it is told or comes from;
    /// an unnamed one is its own sum in brackets.
    fn term(&mut self, telling: &Telling<'_>, part: &Arc<Step>) -> Text {
        let folded = self.folded(part);
        let Some(label) = folded.label else {
            return Text::from("(").and(self.sum(telling, &folded.core)).plain(")");
        };
        let number = self.alike.number(part);
        let shown = telling.decimals.shown(number, part.amount, self.showing);
        let text = Text::from(format!("{label} (")).shown(&shown);
        if let Some(anchor) =
            self.roots.get(&number).filter(|anchor| telling.anchor != Some(anchor))
        {
            return text.plain(")").linked(anchor);
        }
        let core = self.alike.number(&folded.core);
        let spot = self.told.get(&number).or_else(|| self.told.get(&core));
        match (spot, &folded.core.why) {
            (_, Why::Given(origin)) => {
                let mut refs: Vec<usize> = Vec::new();
                for rule in &folded.rules {
                    refs.push(self.legend.rule(rule, &self.places));
                }
                refs.extend(self.legend.listed(origin, &self.places));
                refs.dedup();
                let said = self.said(origin);
                let text = if said.is_empty() { text } else { text.dim(format!(", {said}")) };
                text.and(references(&refs)).plain(")")
            }
            (Some(spot), _) if spot.anchor.as_deref() == telling.anchor => {
                text.dim(format!(", step {}", spot.number)).plain(")")
            }
            (Some(Spot { anchor: Some(anchor), .. }), _) => text.plain(")").linked(anchor),
            _ => text.plain(")"),
        }
    }

    /// Where a figure that is no sum comes from, when it is asked about itself.
    fn origin(&mut self, origin: &Origin) -> Text {
        if let Some(number) = self.legend.listed(origin, &self.places) {
            return Text::from("looked up").and(references(&[number]));
        }
        let said = self.said(origin);
        match origin {
            Origin::Said(_) => Text::from(format!("{} {said}", self.places.file)),
            Origin::Asked => Text::from("as asked"),
            _ => Text::from(said),
        }
    }

    fn said(&mut self, origin: &Origin) -> String {
        match origin {
            Origin::Said(place) => {
                self.legend.lines = true;
                format!("line {}", self.places.line_of(place.start))
            }
            Origin::Recorded { line } => format!("record line {line}"),
            Origin::Listed { .. }
            | Origin::Fixed
            | Origin::Asked
            | Origin::Calendar
            | Origin::Unkept => String::new(),
        }
    }
}

/// " [1] [4]", each leading to its rule or source.
fn references(numbers: &[usize]) -> Text {
    let mut text = Text::new();
    for number in numbers {
        let mark = Text::new().dim(format!("[{number}]")).linked(&Legend::anchor(*number));
        text = text.plain(" ").and(mark);
    }
    text
}
