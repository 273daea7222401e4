//! Practice problems with an answer sheet, drawn from a seed and worked by the same sums as
//! `topdress sum`.

mod draw;
mod kinds;
mod materials;
mod sheet;

use self::draw::Draw;
use crate::catalogue::Catalogue;
use crate::engine::sums::Sum;
use crate::quantity::UnitSystem;

pub use kinds::Kind;
pub use sheet::{Shown, document};

/// Most problems on one sheet.
pub const MOST_PROBLEMS: usize = 100;

/// A problem and its answer.
#[derive(Clone, Debug)]
pub struct Problem {
    /// What it practises.
    pub kind: Kind,
    /// The question.
    pub question: String,
    /// The sum that answers it.
    pub sum: Sum,
    /// The names of the answers that the question asks for.
    pub asked: Vec<String>,
    /// Places after the point that the question asks for, where it asks for any.
    pub places: Option<u32>,
}

/// Draws a sheet of problems, from easy to hard; the same seed always gives the same sheet.
pub fn problems(count: usize, seed: u64, units: UnitSystem, catalogue: &Catalogue) -> Vec<Problem> {
    let mut draw = Draw::new(seed);
    let count = count.min(MOST_PROBLEMS);
    (0..count)
        .filter_map(|index| {
            let kind = Kind::ALL[index * Kind::ALL.len() / count.max(1)];
            kind.problem(&mut draw, units, catalogue)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use rust_decimal::Decimal;

    use super::*;
    use crate::quantity::settle;

    fn questions(seed: u64, units: UnitSystem, catalogue: &Catalogue) -> Vec<String> {
        let all = problems(10, seed, units, catalogue);
        all.into_iter().map(|problem| problem.question).collect()
    }

    #[test]
    fn every_problem_is_there_and_the_sheet_is_graded() {
        let catalogue = Catalogue::new();
        for units in [UnitSystem::Us, UnitSystem::Metric] {
            for seed in 0..20 {
                for count in [1, 3, 7, 10, 24] {
                    let sheet = problems(count, seed, units, &catalogue);
                    assert_eq!(sheet.len(), count, "seed {seed}");
                    let grades: Vec<usize> = sheet.iter().map(|one| one.kind as usize).collect();
                    assert!(grades.is_sorted());
                    let kinds: BTreeSet<usize> = grades.into_iter().collect();
                    assert_eq!(kinds.len(), count.min(Kind::ALL.len()));
                }
            }
        }
    }

    #[test]
    fn no_two_seeds_give_the_same_problems() {
        let catalogue = Catalogue::new();
        let seeds: BTreeSet<u64> = (0..120).chain((1..120).map(|seed| u64::MAX / seed)).collect();
        for units in [UnitSystem::Us, UnitSystem::Metric] {
            let sheets: BTreeSet<Vec<String>> =
                seeds.iter().map(|seed| questions(*seed, units, &catalogue)).collect();
            assert_eq!(sheets.len(), seeds.len());
        }
    }

    /// Ten problems draw more choices than there are seeds, and each choice stands in its question.
    #[test]
    fn a_sheet_of_ten_uses_up_the_seed() {
        let catalogue = Catalogue::new();
        for units in [UnitSystem::Us, UnitSystem::Metric] {
            let mut draw = Draw::new(7);
            for index in 0..10 {
                let kind = Kind::ALL[index * Kind::ALL.len() / 10];
                assert!(kind.problem(&mut draw, units, &catalogue).is_some());
            }
            assert!(draw.is_used_up());
        }
    }

    #[test]
    fn numbers_are_fit_for_a_pencil() {
        let catalogue = Catalogue::new();
        for units in [UnitSystem::Us, UnitSystem::Metric] {
            for seed in 0..40 {
                for problem in problems(14, seed, units, &catalogue) {
                    assert!(!problem.asked.is_empty());
                    for name in &problem.asked {
                        let answer = problem.sum.answer(name).unwrap_or_else(|| {
                            panic!("{name} is no answer of {}", problem.question)
                        });
                        let value = settle(answer.number().expect("a number"));
                        assert!(value > Decimal::ZERO, "{}", problem.question);
                        let places = problem.places.map_or(value, |places| value.round_dp(places));
                        assert!(places.normalize().scale() <= 4, "{value}: {}", problem.question);
                        assert!(value < Decimal::from(100_000), "{value}: {}", problem.question);
                    }
                }
            }
        }
    }
}
