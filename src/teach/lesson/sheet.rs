//! A sheet of problems as a document.

use super::Problem;
use crate::catalogue::Catalogue;
use crate::quantity::UnitSystem;
use crate::report::{Block, Document, Text};
use crate::teach::numbers::{ANSWER_FIGURES, grouped, shown};
use crate::teach::working::{Line, lines_of};

/// Which parts of the sheet are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    /// The problems alone, for the class.
    Problems,
    /// The answers alone, for the teacher.
    Answers,
    /// Both.
    Both,
}

/// Lays out a sheet. The seed stands in its title, so that a sheet can be made again.
pub fn document(
    seed: u64,
    units: UnitSystem,
    problems: &[Problem],
    shown: Shown,
    catalogue: &Catalogue,
) -> Document {
    let mut document = Document::new(format!("Practice sheet {seed}"));
    let system = match units {
        UnitSystem::Us => "US units",
        UnitSystem::Metric => "metric units",
    };
    let many = if problems.len() == 1 {
        "1 problem".to_owned()
    } else {
        format!("{} problems", problems.len())
    };
    document.about = Text::new().plain(format!("{many}, from easy to hard, in {system}."));
    if shown != Shown::Answers {
        document.heading(2, "Problems");
        let items = problems.iter().map(|problem| Text::from(problem.question.as_str())).collect();
        document.push(Block::List { ordered: true, items });
    }
    if shown != Shown::Problems {
        document.heading(2, "Answers");
        for (index, problem) in problems.iter().enumerate() {
            answer(&mut document, index + 1, problem);
        }
        let sources = problems.iter().flat_map(working).filter_map(|line| line.source);
        crate::teach::sheet::push_sources(&mut document, sources, catalogue);
    }
    document
}

fn answer(document: &mut Document, number: usize, problem: &Problem) {
    document.heading(3, format!("{number}. {}", sentence(problem.kind.words())).as_str());
    let items = working(problem)
        .iter()
        .map(|line| Text::new().emphasis(line.label.clone()).plain(format!(": {}", line.sum)))
        .collect();
    document.push(Block::List { ordered: true, items });
    let mut pairs: Vec<(Text, Text)> = Vec::new();
    for name in &problem.asked {
        let Some(answer) = problem.sum.answer(name) else { continue };
        let value = match (problem.places, answer.number()) {
            (Some(places), Some(number)) => {
                let step = rust_decimal::Decimal::new(1, places);
                let text = grouped(crate::quantity::round_to(number, step).normalize());
                Text::new().value(text).plain("\u{a0}").unit(answer.unit_text())
            }
            (None, Some(number)) => {
                let text = shown(number, answer.unit, ANSWER_FIGURES + 2).text;
                Text::new().value(text).plain("\u{a0}").unit(answer.unit_text())
            }
            (_, None) => Text::from(answer.text().as_str()),
        };
        pairs.push((Text::from(name.as_str()), value));
    }
    document.push(Block::Pairs(pairs));
}

/// The working of what the question asks for, without what comes along.
fn working(problem: &Problem) -> Vec<Line> {
    lines_of(&problem.sum, |name| problem.asked.iter().any(|asked| asked == name))
}

fn sentence(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}
