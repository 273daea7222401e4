//! Signs of hunger, the causes they speak for or against, the questions that ask for them, and what
//! to look at before feeding.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::names::{nearest, normal};

const SIGNS: &str = include_str!(concat!(env!("OUT_DIR"), "/signs.json"));

/// A kind of crop that a sign or a cause is known of only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OnlyOf {
    /// Cabbages and their kin.
    CabbageFamily,
    /// Maize, sweet or not.
    Corn,
}

/// A fact read of a cause, with where it was read.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fact {
    /// The fact, in words of our own.
    pub says: String,
    /// Id of its source.
    pub source: String,
}

/// Why a crop may look hungry.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cause {
    /// Its key.
    pub key: String,
    /// What it is called, to follow "looks".
    pub name: String,
    /// The score it starts from.
    pub prior: i32,
    /// The crops it is known of, where not of all.
    #[serde(default)]
    pub only: Option<OnlyOf>,
    /// What to look at to tell it from the others.
    pub look: String,
    /// The same for a crop in containers, where the usual words speak of ground.
    #[serde(default)]
    pub look_in_containers: Option<String>,
    /// What to do about it.
    pub act: String,
    /// The same for a crop in containers.
    #[serde(default)]
    pub act_in_containers: Option<String>,
    /// In how many days to look again.
    pub again_after: i32,
    /// What is known of it.
    pub facts: Vec<Fact>,
    /// Id of the source of its prior.
    pub source: String,
}

/// A question that asks for signs.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Question {
    /// Its key, as signs name it.
    pub key: String,
    /// The question.
    pub asks: String,
}

/// Something that can be seen, felt or measured.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sign {
    /// Its key, as typed.
    pub key: String,
    /// What it is called.
    pub name: String,
    /// The question whose answer it is; nothing for what is only measured.
    #[serde(default)]
    pub question: Option<String>,
    /// How it is worded as an answer.
    #[serde(default)]
    pub answer: Option<String>,
    /// The crops it is known of, where not of all.
    #[serde(default)]
    pub only: Option<OnlyOf>,
    /// Signs that cannot be true at once with it.
    #[serde(default)]
    pub excludes: Vec<String>,
    /// Whether it comes from a test or a sum and is never typed as a sign.
    #[serde(default)]
    pub measured: bool,
    /// Whether it is only part of the setting: by itself it settles nothing about the plants.
    #[serde(default)]
    pub background: bool,
    /// What it adds to the score of each cause, by key.
    pub weights: BTreeMap<String, i32>,
    /// Id of the source of the weights.
    pub source: String,
}

/// Something to look at before feeding.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Look {
    /// Its key.
    pub key: String,
    /// What to look at, and how.
    pub what: String,
    /// The same for a crop in containers, where the usual words speak of ground.
    #[serde(default)]
    pub what_in_containers: Option<String>,
    /// The causes it tells apart, by key.
    pub tells: Vec<String>,
    /// The signs any of which means that it has been looked at.
    pub settled_by: Vec<String>,
    /// Id of its source.
    pub source: String,
}

impl Cause {
    /// What to look at to tell it from the others, on open ground or in containers.
    pub fn look(&self, containers: bool) -> &str {
        self.look_in_containers.as_deref().filter(|_| containers).unwrap_or(&self.look)
    }

    /// What to do about it, on open ground or in containers.
    pub fn act(&self, containers: bool) -> &str {
        self.act_in_containers.as_deref().filter(|_| containers).unwrap_or(&self.act)
    }
}

impl Look {
    /// What to look at, on open ground or in containers.
    pub fn what(&self, containers: bool) -> &str {
        self.what_in_containers.as_deref().filter(|_| containers).unwrap_or(&self.what)
    }
}

/// The whole list, in its order.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Signs {
    /// The causes.
    #[serde(rename = "cause")]
    pub causes: Vec<Cause>,
    /// The questions.
    #[serde(rename = "question")]
    pub questions: Vec<Question>,
    /// The signs.
    #[serde(rename = "sign")]
    pub signs: Vec<Sign>,
    /// What to look at before feeding, most useful first.
    #[serde(rename = "look")]
    pub looks: Vec<Look>,
    /// What not to do where a dose is given.
    #[serde(rename = "avoid")]
    pub avoids: Vec<Fact>,
}

impl Signs {
    /// Reads the built-in list.
    pub fn built_in() -> Self {
        serde_json::from_str(SIGNS).unwrap_or_else(|fault| panic!("signs: {fault}"))
    }

    /// Finds a sign by its key.
    pub fn sign(&self, key: &str) -> Option<&Sign> {
        let wanted = normal(key);
        self.signs.iter().find(|sign| normal(&sign.key) == wanted)
    }

    /// Finds a cause by its key.
    pub fn cause(&self, key: &str) -> Option<&Cause> {
        self.causes.iter().find(|cause| cause.key == key)
    }

    /// Returns the key nearest to one that was not found, among the signs that may be typed.
    pub fn nearest(&self, key: &str) -> Option<String> {
        let typed = self.signs.iter().filter(|sign| !sign.measured);
        nearest(key, typed.map(|sign| sign.key.as_str()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_in_the_list_is_known() {
        let list = Signs::built_in();
        for sign in &list.signs {
            for cause in sign.weights.keys() {
                assert!(list.cause(cause).is_some(), "{}: {cause}", sign.key);
            }
            for other in &sign.excludes {
                let other = list.sign(other).unwrap_or_else(|| panic!("{}: {other}", sign.key));
                assert!(other.excludes.contains(&sign.key), "{} and {}", sign.key, other.key);
            }
            assert_eq!(sign.measured, sign.question.is_none(), "{}", sign.key);
            assert_eq!(sign.question.is_some(), sign.answer.is_some(), "{}", sign.key);
            let asked = |question: &String| list.questions.iter().any(|one| one.key == *question);
            assert!(sign.question.as_ref().is_none_or(asked), "{}", sign.key);
        }
        for look in &list.looks {
            assert!(look.tells.iter().all(|cause| list.cause(cause).is_some()), "{}", look.key);
            assert!(look.settled_by.iter().all(|sign| list.sign(sign).is_some()), "{}", look.key);
        }
    }

    #[test]
    fn every_cause_has_facts_and_a_sign_that_speaks_for_it() {
        let list = Signs::built_in();
        for cause in &list.causes {
            assert!(!cause.facts.is_empty(), "{}", cause.key);
            let strongest = list.signs.iter().filter_map(|sign| sign.weights.get(&cause.key)).max();
            assert!(strongest.is_some_and(|weight| *weight >= 3), "{}", cause.key);
        }
        assert_eq!(list.nearest("oldest-frist").as_deref(), Some("oldest-first"));
        assert_eq!(list.nearest("nitrate-lo"), None);
    }

    /// The points proposed for the ten causes first weighed, kept from drifting by a slip of the
    /// pen: rows are signs, columns causes.
    #[test]
    fn the_proposed_points_stand_as_proposed() {
        let list = Signs::built_in();
        let columns = [
            "nitrogen",
            "sulfur",
            "magnesium",
            "potassium",
            "iron-manganese",
            "waterlogged",
            "drought",
            "root-disease",
            "senescence",
            "herbicide",
        ];
        for (key, row) in [
            ("oldest-first", [3, -3, 3, 3, -4, 1, 1, 1, 3, -3]),
            ("newest-first", [-4, 3, -3, -3, 4, 0, 0, 0, -5, 2]),
            ("whole-plant", [2, 3, -1, -1, 0, 2, 0, 1, -4, 0]),
            ("lowest-only", [-2, -2, 0, 0, -2, -2, 0, -2, 5, -2]),
            ("uniform", [2, 2, -3, -3, -3, 1, 0, 0, 2, -1]),
            ("between-veins", [-3, -1, 4, -1, 4, 0, 0, 0, -2, 0]),
            ("edges-scorched", [-2, -2, 0, 4, -1, 0, 3, 0, -1, 0]),
            ("twisted", [-3, 0, -2, -2, 0, 0, 0, 0, -4, 6]),
            ("wilts-at-noon", [-1, -1, -1, 0, -1, 2, 4, 4, -1, 0]),
            ("galled-roots", [-3, -2, -1, -1, -1, 2, -2, 8, -2, -1]),
            // Drowned roots cannot take nitrogen up, so that color says nothing of it.
            ("saturated", [0, 0, 0, 0, 1, 5, -5, 2, 0, 0]),
            ("leaching-rain", [4, 2, 1, 1, 0, -1, -3, 0, 0, 0]),
            ("soil-dry", [-1, 0, 0, 1, 0, -5, 5, 0, 0, 0]),
            ("soil-cold", [2, 2, 0, 0, 1, 1, 0, 0, -1, 0]),
            ("raw-straw", [3, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
            ("hay-or-manure", [0, 0, 0, 0, 0, 0, 0, 0, 0, 3]),
            ("nitrate-enough", [-6, 1, 0, 0, 0, 2, 0, 1, 1, 0]),
            ("nitrate-low", [4, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
            ("budget-short", [3, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
            ("near-harvest", [-1, 0, 0, 0, 0, 0, 0, 0, 3, 0]),
        ] {
            let sign = list.sign(key).unwrap_or_else(|| panic!("{key}"));
            for (cause, points) in columns.into_iter().zip(row) {
                let written = sign.weights.get(cause).copied().unwrap_or(0);
                assert_eq!(written, points, "{key}, {cause}");
            }
        }
    }
}
