//! A sum as a document: the working, the answer, what else comes along, what to mind.

use super::numbers::{ANSWER_FIGURES, pencil, shown};
use super::working::lines;
use crate::catalogue::{Catalogue, Source};
use crate::engine::sums::{Answer, InUnit, Part, Remark, Sum, Value};
use crate::quantity::{Unit, Written, units};
use crate::report::{Block, Document, Text};

/// Lays out a sum.
pub fn document(title: &str, sum: &Sum, catalogue: &Catalogue) -> Document {
    let mut document = Document::new(title);
    blocks(&mut document, 2, sum, catalogue);
    document
}

/// Adds the blocks of a sum below headings of this level.
pub fn blocks(document: &mut Document, level: u8, sum: &Sum, catalogue: &Catalogue) {
    let working = lines(sum);
    let ids = unique(sources(sum));
    if !working.is_empty() {
        document.heading(level, "Working");
        let items = working
            .iter()
            .map(|line| {
                let text =
                    Text::new().emphasis(line.label.clone()).plain(format!(": {}", line.sum));
                let mark = line.source.as_ref().and_then(|id| ids.iter().position(|one| one == id));
                match mark {
                    Some(mark) => text.dim(format!(" [{}]", mark + 1)),
                    None => text,
                }
            })
            .collect();
        document.push(Block::List { ordered: true, items });
    }
    for (part, title) in [(Part::Asked, "Answer"), (Part::Along, "What else comes along")] {
        let pairs: Vec<(Text, Text)> = sum
            .answers
            .iter()
            .filter(|answer| answer.part == part)
            .map(|answer| (Text::from(answer.name.as_str()), value(answer)))
            .collect();
        if !pairs.is_empty() {
            document.heading(level, title);
            document.push(Block::Pairs(pairs));
        }
    }
    let rounded = sum
        .answers
        .iter()
        .filter_map(Answer::number)
        .any(|number| !pencil(number, ANSWER_FIGURES).exact);
    if rounded {
        document.paragraph(Text::new().dim(format!(
            "Answers are rounded to {ANSWER_FIGURES} figures, halves up; the working keeps every digit and shows 6."
        )));
    }
    for note in &sum.notes {
        document.note(sentence(&note.text));
    }
    for caution in &sum.cautions {
        let cited = caution.source.as_deref().and_then(|id| catalogue.source(id));
        let source = cited.map_or_else(|| "common practice".to_owned(), |source| cite(&source));
        document.caution(sentence(&caution.text), source);
    }
    push_sources(document, ids, catalogue);
}

/// The ids of the sources that the working names, in its order.
pub fn sources(sum: &Sum) -> Vec<String> {
    lines(sum).into_iter().filter_map(|line| line.source).collect()
}

fn unique(ids: impl IntoIterator<Item = String>) -> Vec<String> {
    let mut seen = Vec::new();
    for id in ids {
        if !seen.contains(&id) {
            seen.push(id);
        }
    }
    seen
}

/// Adds the list of sources, numbered in the order they were named.
pub fn push_sources(
    document: &mut Document,
    ids: impl IntoIterator<Item = String>,
    catalogue: &Catalogue,
) {
    let named = |id: &String| catalogue.source(id).map_or_else(|| id.clone(), |one| cite(&one));
    let items: Vec<Text> =
        unique(ids).iter().map(|id| Text::new().dim(sentence(&named(id)))).collect();
    if !items.is_empty() {
        document.heading(2, "Sources");
        document.push(Block::List { ordered: true, items });
    }
}

/// The value of an answer as it is read on screen.
pub fn value(answer: &Answer) -> Text {
    let Some(number) = answer.number() else {
        let Value::Word(word) = &answer.value else { return Text::new() };
        return Text::new().value(word.clone());
    };
    let text = Text::new().value(shown(number, answer.unit, ANSWER_FIGURES).text);
    let unit = answer.unit_text();
    let text = if unit.is_empty() { text } else { text.plain("\u{a0}").unit(unit) };
    match also(answer) {
        Some(also) => text.dim(format!(" ({also})")),
        None => text,
    }
}

/// The same weight in a handier unit, where the number is awkward.
fn also(answer: &Answer) -> Option<String> {
    let number = crate::quantity::settle(answer.number()?);
    let InUnit::Of(unit) = answer.unit else { return None };
    let small = number.abs() < rust_decimal::Decimal::ONE && !number.is_zero();
    let other: &'static Unit = match (unit.top.symbol, unit.below.is_none(), small) {
        ("lb", true, true) => &units::OUNCE,
        ("kg", true, true) => &units::GRAM,
        ("ton", true, true) => &units::POUND,
        ("t", true, true) => &units::KILOGRAM,
        _ => return None,
    };
    let base = unit.to_base(number);
    let shown = pencil(Written::plain(other).of_base(base), ANSWER_FIGURES);
    Some(format!("{} {}", shown.text, other.symbol))
}

/// A remark with its source, in one line.
pub fn remark(remark: &Remark, catalogue: &Catalogue) -> String {
    let source = remark.source.as_deref().and_then(|id| catalogue.source(id));
    match source {
        Some(source) => format!("{} [{}]", sentence(&remark.text), cite(&source)),
        None => sentence(&remark.text),
    }
}

/// Names a source: body, title, number, year, table; or what it rests on, where it is no
/// publication.
pub fn cite(source: &Source) -> String {
    use crate::figure::Status;
    let mut parts: Vec<String> = Vec::new();
    if source.status != Status::Published {
        parts.push(source.status.words().to_owned());
    }
    parts.extend(source.body.clone());
    parts.push(source.title.clone());
    parts.extend(source.number.clone());
    parts.extend(source.year.map(|year| year.to_string()));
    parts.extend(source.table.clone());
    parts.join(", ")
}

/// Begins with a capital and ends with a full stop.
fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    let Some(first) = chars.next() else { return String::new() };
    let body: String = first.to_uppercase().chain(chars).collect();
    if body.ends_with(['.', '!', '?']) { body } else { format!("{body}.") }
}
