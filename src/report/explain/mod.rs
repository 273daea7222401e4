//! Where a figure comes from, told as a list of steps: each with its sum, its rule and its source.
//! Steps that are used more than once are told once and named after.

mod decimals;
mod folding;
mod legend;
mod sum;
mod teach;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::sync::Arc;

pub use sum::{name, sum};
pub use teach::Teacher;

use super::document::{Block, Document};
use super::number::Showing;
use super::text::Text;
use crate::catalogue::{Catalogue, Source};
use crate::engine::paths::Located;
use crate::figure::{Origin, Step, Why};

/// What is needed to tell where a leaf stands.
#[derive(Clone, Copy, Debug)]
pub struct Places<'a> {
    /// The season file's name.
    pub file: &'a str,
    /// Its text.
    pub text: &'a str,
    /// The catalogue, for sources.
    pub catalogue: &'a Catalogue,
}

impl Places<'_> {
    /// The line on which a byte stands, from 1.
    pub fn line_of(&self, byte: u32) -> usize {
        let end = usize::try_from(byte).unwrap_or(0).min(self.text.len());
        self.text.as_bytes()[..end].iter().filter(|byte| **byte == b'\n').count() + 1
    }

    /// How a source is cited: title, body, number, year, table and what it is.
    pub fn cite(&self, id: &str) -> String {
        self.catalogue.source(id).map_or_else(|| id.to_owned(), |source| cite(&source))
    }
}

/// How a source is cited.
pub fn cite(source: &Source) -> String {
    let parts = [
        Some(source.title.clone()),
        source.body.clone(),
        source.number.clone(),
        source.year.map(|year| year.to_string()),
        source.table.clone(),
    ];
    let known: Vec<String> = parts.into_iter().flatten().filter(|part| !part.is_empty()).collect();
    format!("{} [{}]", known.join(", "), source.status.words())
}

/// One told step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// Its number in the telling, from 1.
    pub number: usize,
    /// How deep it lies: 0 for the figure asked about.
    pub depth: usize,
    /// What it is called.
    pub name: String,
    /// Its value as shown.
    pub value: String,
    /// The sum it came from, in words and numbers.
    pub sum: String,
    /// The rule, where one justifies it.
    pub rule: Option<String>,
    /// The source, where it has one.
    pub source: Option<String>,
    /// The number of the step that told it first, where it was told before.
    pub again: Option<usize>,
}

/// Tells a figure down to `depth` steps below it; nothing tells all.
pub fn tell(
    root: &Arc<Step>,
    showing: Showing,
    places: &Places<'_>,
    depth: Option<usize>,
) -> Vec<Told> {
    let mut teller = Teller {
        showing,
        places,
        most: depth.unwrap_or(usize::MAX),
        seen: BTreeMap::new(),
        out: Vec::new(),
    };
    teller.tell(root, 0);
    teller.out
}

struct Teller<'a> {
    showing: Showing,
    places: &'a Places<'a>,
    most: usize,
    seen: BTreeMap<*const Step, usize>,
    out: Vec<Told>,
}

impl Teller<'_> {
    fn tell(&mut self, step: &Arc<Step>, depth: usize) {
        if step.label.is_none() && depth > 0 {
            // An unnamed step is told inside the step that uses it.
            self.tell_parts(step, depth);
            return;
        }
        let number = self.out.len() + 1;
        let before = self.seen.get(&Arc::as_ptr(step)).copied();
        let leaf = matches!(step.why, Why::Given(_));
        self.out.push(Told {
            number,
            depth,
            name: name(step),
            value: self.showing.amount(step.amount).to_string(),
            sum: before.map_or_else(
                || sum(step, self.showing, self.places),
                |at| format!("see step {at}"),
            ),
            rule: step.rule.filter(|_| before.is_none()).map(|rule| rule.says.to_owned()),
            source: self.source(step).filter(|_| before.is_none()),
            again: before,
        });
        if before.is_some() {
            return;
        }
        if !leaf {
            self.seen.insert(Arc::as_ptr(step), number);
        }
        if depth < self.most {
            self.tell_parts(step, depth + 1);
        }
    }

    fn tell_parts(&mut self, step: &Arc<Step>, depth: usize) {
        for part in step.parts() {
            self.tell(part, depth);
        }
    }

    fn source(&self, step: &Step) -> Option<String> {
        if let Why::Given(Origin::Listed { source, .. }) = &step.why {
            return Some(self.places.cite(source));
        }
        let rule = step.rule?;
        match rule.source {
            Some(id) => Some(self.places.cite(id)),
            None => Some(rule.status.words().to_owned()),
        }
    }
}

/// Steps beyond which a telling points to figures with a path of their own instead of telling them.
const LONG: usize = 16;

/// A figure's working as a document: steps to follow with a pencil, then what they rest on. A long
/// one without a depth stops at the figures of `others` and names their paths.
pub fn document(
    path: &str,
    root: &Arc<Step>,
    showing: Showing,
    places: &Places<'_>,
    depth: Option<usize>,
    others: &[Located],
) -> Document {
    let mut document = Document::new(format!("Where {path} comes from"));
    let mut teacher = Teacher::new(showing, *places);
    let mut lines = teacher.teach(None, root, depth);
    if depth.is_none() && lines.len() > LONG {
        teacher = Teacher::new(showing, *places);
        for other in others {
            teacher.elsewhere(&other.path, &other.step);
        }
        lines = teacher.teach(Some(path), root, depth);
    }
    document.push(Block::Steps(lines.clone()));
    if let Some(&(low, high)) = root.range.as_deref().filter(|(low, high)| low != high) {
        let text = Text::from("Likely between ").shown(&showing.amount(low)).plain(" and ");
        document.paragraph(text.shown(&showing.amount(high)).plain("."));
    }
    let pointed = Teacher::pointed_to(&lines);
    if !pointed.is_empty() {
        document.paragraph("Figures above that have a working of their own:");
        let items = pointed.into_iter().map(|path| Text::new().code(path)).collect();
        document.push(Block::List { ordered: false, items });
    }
    legend(&teacher, places, 2, &mut document);
    document
}

/// The rules and sources that some tellings referred to, under a heading.
pub fn legend(teacher: &Teacher<'_>, places: &Places<'_>, level: u8, document: &mut Document) {
    let entries = teacher.legend();
    if entries.is_empty() && !teacher.names_lines() {
        return;
    }
    document.heading(level, "Rules and sources");
    if teacher.names_lines() {
        document.paragraph(Text::from("Lines are those of ").code(places.file).plain("."));
    }
    if !entries.is_empty() {
        document.push(Block::Steps(entries));
    }
}

/// The same sentence with a capital at its start and a full stop at its end.
fn capital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    let start = letters.next().map(|first| first.to_uppercase().collect::<String>());
    format!("{}{}.", start.unwrap_or_default(), letters.as_str().trim_end_matches('.'))
}

#[derive(serde::Serialize)]
struct ToldAnswer<'a> {
    id: &'a str,
    version: u32,
    steps: Vec<StepAnswer<'a>>,
}

#[derive(serde::Serialize)]
struct StepAnswer<'a> {
    number: usize,
    depth: usize,
    name: &'a str,
    value: &'a str,
    sum: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    rule: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    same_as: Option<usize>,
}

/// The telling for a program.
///
/// # Errors
/// None in practice: all keys are text.
pub fn json(path: &str, told: &[Told]) -> Result<String, serde_json::Error> {
    let steps = told.iter().map(|step| StepAnswer {
        number: step.number,
        depth: step.depth,
        name: &step.name,
        value: &step.value,
        sum: &step.sum,
        rule: step.rule.as_deref(),
        source: step.source.as_deref(),
        same_as: step.again,
    });
    super::json::document(&ToldAnswer { id: path, version: 1, steps: steps.collect() })
}
