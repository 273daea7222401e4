//! The questions asked where no sign was named: a script without a terminal, so that it can be read
//! and tested like any other text. "Not sure" is always an answer.

use crate::catalogue::{Question, Sign, Signs};

use super::weigh::Kin;

/// One answer that may be chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice<'a> {
    /// The sign it stands for.
    pub sign: &'a Sign,
}

/// The questions for one crop, in order.
#[derive(Clone, Debug)]
pub struct Asking<'a> {
    signs: &'a Signs,
    kin: Kin,
    at: usize,
    seen: Vec<&'a Sign>,
}

impl<'a> Asking<'a> {
    /// Begins with the first question.
    pub fn new(signs: &'a Signs, kin: Kin) -> Self {
        Self { signs, kin, at: 0, seen: Vec::new() }
    }

    /// The question to ask now with its answers; nothing once all are asked. Answers that what was
    /// seen so far excludes are not offered, and a question left with none is passed over.
    pub fn question(&mut self) -> Option<(&'a Question, Vec<Choice<'a>>)> {
        loop {
            let question = self.signs.questions.get(self.at)?;
            let choices = self.choices(question);
            if !choices.is_empty() {
                return Some((question, choices));
            }
            self.at += 1;
        }
    }

    fn choices(&self, question: &Question) -> Vec<Choice<'a>> {
        let offered = |sign: &&Sign| {
            sign.question.as_ref() == Some(&question.key)
                && self.kin.fits(sign.only)
                && !self.seen.iter().any(|seen| seen.excludes.contains(&sign.key))
        };
        self.signs.signs.iter().filter(offered).map(|sign| Choice { sign }).collect()
    }

    /// Takes the answers to the question asked: numbers from 1, as listed; none for "not sure".
    /// Goes on to the next question.
    ///
    /// # Errors
    /// Says what is wrong where a number is not listed or two answers exclude each other; the
    /// question then stands.
    pub fn take(&mut self, numbers: &[usize]) -> Result<(), String> {
        let Some((_, choices)) = self.question() else { return Ok(()) };
        let mut taken: Vec<&'a Sign> = Vec::new();
        for number in numbers {
            let choice = number.checked_sub(1).and_then(|index| choices.get(index));
            let Some(choice) = choice else {
                return Err(format!("there is no answer {number}; choose 1 to {}", choices.len()));
            };
            if let Some(other) = taken.iter().find(|one| one.excludes.contains(&choice.sign.key)) {
                return Err(format!(
                    "\"{}\" and \"{}\" cannot both be",
                    other.name, choice.sign.name
                ));
            }
            if !taken.iter().any(|one| one.key == choice.sign.key) {
                taken.push(choice.sign);
            }
        }
        self.seen.extend(taken);
        self.at += 1;
        Ok(())
    }

    /// What was seen, in the order of the answers.
    pub fn seen(&self) -> &[&'a Sign] {
        &self.seen
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sign_that_may_be_typed_is_asked_for() {
        let signs = Signs::built_in();
        let kin = Kin { cabbage_family: true, corn: true };
        let mut asking = Asking::new(&signs, kin);
        let mut offered = 0;
        while let Some((_, choices)) = asking.question() {
            offered += choices.len();
            asking.take(&[]).expect("not sure is an answer");
        }
        assert_eq!(offered, signs.signs.iter().filter(|sign| !sign.measured).count());
        assert!(asking.seen().is_empty());
    }

    #[test]
    fn answers_that_exclude_each_other_are_not_taken_or_not_offered() {
        let signs = Signs::built_in();
        let mut asking = Asking::new(&signs, Kin::default());
        assert!(asking.take(&[1, 2]).expect_err("old and new").contains("cannot both be"));
        assert!(asking.take(&[9]).expect_err("no such answer").contains("choose 1 to 4"));
        asking.take(&[4]).expect("only the lowest");
        asking.take(&[]).expect("pattern not known");
        let (question, choices) = asking.question().expect("growth");
        assert_eq!(question.key, "growth");
        assert!(choices.iter().all(|choice| choice.sign.key != "stunted"));
    }

    #[test]
    fn a_question_left_without_an_answer_is_passed_over() {
        let mut signs = Signs::built_in();
        let keys: Vec<String> = signs.questions.iter().map(|one| one.key.clone()).collect();
        signs.signs.retain(|sign| {
            ![&keys[0], &keys[2]].into_iter().any(|key| sign.question.as_ref() == Some(key))
        });
        let mut asking = Asking::new(&signs, Kin { cabbage_family: true, corn: true });
        let mut asked = Vec::new();
        while let Some((question, _)) = asking.question() {
            asked.push(question.key.clone());
            asking.take(&[]).expect("not sure is an answer");
        }
        let wanted = [&keys[1..2], &keys[3..]].concat();
        assert_eq!(asked, wanted);
    }
}
