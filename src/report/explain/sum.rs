//! One step's sum in words and numbers.

use std::sync::Arc;

use super::Places;
use crate::figure::{Origin, Step, Why};
use crate::report::number::Showing;

/// What a step is called.
pub fn name(step: &Step) -> String {
    step.label.as_ref().map_or_else(|| "this".to_owned(), ToString::to_string)
}

/// The sum a step came from: its parts with their values, or where a leaf stands.
pub fn sum(step: &Step, showing: Showing, places: &Places<'_>) -> String {
    let term = |part: &Arc<Step>| term(part, showing, places);
    let joined = |parts: &[Arc<Step>], sign: &str| {
        let shown: Vec<String> = parts.iter().map(term).collect();
        shown.join(sign)
    };
    match &step.why {
        Why::Given(origin) => said(origin, places),
        Why::Same(of) => term(of),
        Why::Sum(all) if all.is_empty() => "nothing to add up".to_owned(),
        Why::Sum(all) => joined(all, " + "),
        Why::Difference(a, b) => format!("{} - {}", term(a), term(b)),
        Why::Product(a, b) => format!("{} x {}", term(a), term(b)),
        Why::Quotient(a, b) => format!("{} / {}", term(a), term(b)),
        Why::Least(all) => format!("the least of {}", joined(all, " and ")),
        Why::Greatest(all) => format!("the greatest of {}", joined(all, " and ")),
        Why::Floored(of) => format!("{}, not below zero", term(of)),
        Why::Rounded { of, to, down } => {
            let how = if *down { "down to" } else { "to" };
            format!("{}, rounded {how} the nearest {}", term(of), showing.amount(*to))
        }
        Why::Chosen { taken, because, others } => {
            let left: Vec<String> = others.iter().map(term).collect();
            format!("{}, because {because} (else {})", term(taken), left.join(", "))
        }
        Why::Computed { operands, .. } => format!("from {}", joined(operands, ", ")),
    }
}

/// A part inside the sum that uses it: by name and value where it is named, else its own sum in
/// brackets.
fn term(step: &Arc<Step>, showing: Showing, places: &Places<'_>) -> String {
    match &step.label {
        Some(label) => format!("{label} ({})", showing.amount(step.amount)),
        None => format!("({})", sum(step, showing, places)),
    }
}

fn said(origin: &Origin, places: &Places<'_>) -> String {
    match origin {
        Origin::Said(place) => format!("{}, line {}", places.file, places.line_of(place.start)),
        Origin::Recorded { line } => format!("the record, line {line}"),
        Origin::Listed { list, entry, .. } => format!("{list} list, {entry}"),
        Origin::Asked => "as asked".to_owned(),
        Origin::Fixed | Origin::Calendar | Origin::Unkept => String::new(),
    }
}
