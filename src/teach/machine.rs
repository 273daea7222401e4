//! A sum for machines.

use serde::Serialize;

use super::sheet::{cite, remark};
use super::working::{Line, lines};
use crate::catalogue::Catalogue;
use crate::engine::sums::Sum;

#[derive(Serialize)]
struct Machine {
    answers: Vec<MachineAnswer>,
    working: Vec<String>,
    cautions: Vec<String>,
}

#[derive(Serialize)]
struct MachineAnswer {
    name: String,
    value: String,
    unit: String,
}

/// Writes a sum as JSON: `answers` with name, value (12 significant digits, as text) and unit, then
/// `working` and `cautions` as sentences.
pub fn json(sum: &Sum, catalogue: &Catalogue) -> String {
    let answers = sum
        .answers
        .iter()
        .map(|answer| MachineAnswer {
            name: answer.name.clone(),
            value: answer.text(),
            unit: answer.unit_text(),
        })
        .collect();
    let cited = |line: &Line| {
        let source = line.source.as_deref().and_then(|id| catalogue.source(id));
        source.map_or_else(|| line.text(), |source| format!("{} [{}]", line.text(), cite(&source)))
    };
    let mut working: Vec<String> = lines(sum).iter().map(cited).collect();
    working.extend(sum.notes.iter().map(|note| remark(note, catalogue)));
    let cautions = sum.cautions.iter().map(|caution| remark(caution, catalogue)).collect();
    let machine = Machine { answers, working, cautions };
    let mut text = serde_json::to_string_pretty(&machine).unwrap_or_default();
    text.push('\n');
    text
}
