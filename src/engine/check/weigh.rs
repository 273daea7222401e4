//! Weighing signs against causes.

use crate::catalogue::{Cause, OnlyOf, Signs};

use super::evidence::Evidence;

/// A cause is clear from this lead over the next one on (proposed).
const CLEAR_LEAD: i32 = 4;
/// Below this lead two causes cannot be told apart (proposed).
const LEAST_LEAD: i32 = 2;
/// The least score that speaks for a cause at all: what one strong sign gives (proposed).
const LEAST_SCORE: i32 = 4;

/// How sure the first cause is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sureness {
    /// Far ahead of the others.
    Clear,
    /// Ahead of the others.
    Likely,
    /// Not to be told from the next, or too little was seen.
    Unsettled,
}

impl Sureness {
    /// Its word for programs.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Clear => "clear",
            Self::Likely => "likely",
            Self::Unsettled => "unsettled",
        }
    }
}

/// What kin a crop is of, as far as signs and causes look.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Kin {
    /// Of the cabbage family.
    pub cabbage_family: bool,
    /// Maize.
    pub corn: bool,
}

impl Kin {
    /// Whether something known only of some crops is known of this one.
    pub fn fits(self, only: Option<OnlyOf>) -> bool {
        match only {
            None => true,
            Some(OnlyOf::CabbageFamily) => self.cabbage_family,
            Some(OnlyOf::Corn) => self.corn,
        }
    }
}

/// A cause with what speaks for and against it.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict<'a> {
    /// The cause.
    pub cause: &'a Cause,
    /// Its score: the prior and the points of every sign.
    pub score: i32,
    /// What speaks for it, the strongest first: points and evidence.
    pub speaks_for: Vec<(i32, Evidence<'a>)>,
    /// What speaks against it, the strongest first.
    pub speaks_against: Vec<(i32, Evidence<'a>)>,
}

/// The causes in order, and how sure the first is.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighed<'a> {
    /// All causes known of the crop, the likeliest first.
    pub verdicts: Vec<Verdict<'a>>,
    /// How sure the first is.
    pub sureness: Sureness,
}

impl<'a> Weighed<'a> {
    /// The likeliest cause; nothing where the list of causes is empty.
    pub fn first(&self) -> Option<&Verdict<'a>> {
        self.verdicts.first()
    }

    /// The causes that cannot be told from the first, itself among them.
    pub fn close(&self) -> impl Iterator<Item = &Verdict<'a>> {
        let first = self.first().map_or(0, |first| first.score);
        self.verdicts.iter().filter(move |verdict| first - verdict.score < LEAST_LEAD)
    }

    /// The verdict on one cause.
    pub fn of(&self, cause: &str) -> Option<&Verdict<'a>> {
        self.verdicts.iter().find(|verdict| verdict.cause.key == cause)
    }
}

/// Weighs the evidence against every cause known of the crop. Equal scores stand in the order of
/// the list.
pub fn weigh<'a>(signs: &'a Signs, kin: Kin, evidence: &[Evidence<'a>]) -> Weighed<'a> {
    let mut verdicts: Vec<Verdict<'a>> = signs
        .causes
        .iter()
        .filter(|cause| kin.fits(cause.only))
        .map(|cause| verdict(cause, evidence))
        .collect();
    verdicts.sort_by_key(|verdict| std::cmp::Reverse(verdict.score));
    let sureness = sureness(&verdicts, evidence);
    Weighed { verdicts, sureness }
}

fn verdict<'a>(cause: &'a Cause, evidence: &[Evidence<'a>]) -> Verdict<'a> {
    let points = |one: &Evidence<'a>| one.sign.weights.get(&cause.key).copied().unwrap_or(0);
    let mut weighed: Vec<(i32, Evidence<'a>)> =
        evidence.iter().map(|one| (points(one), one.clone())).collect();
    let score = cause.prior + weighed.iter().map(|(points, _)| points).sum::<i32>();
    weighed.retain(|(points, _)| *points != 0);
    weighed.sort_by_key(|(points, _)| std::cmp::Reverse(points.abs()));
    let (speaks_for, speaks_against) = weighed.into_iter().partition(|(points, _)| *points > 0);
    Verdict { cause, score, speaks_for, speaks_against }
}

/// Where nothing was seen or measured, the setting alone settles nothing.
fn sureness(verdicts: &[Verdict<'_>], evidence: &[Evidence<'_>]) -> Sureness {
    let seen = evidence.iter().any(|one| !one.sign.background);
    let (Some(first), Some(next)) = (verdicts.first(), verdicts.get(1)) else {
        return Sureness::Unsettled;
    };
    match first.score - next.score {
        _ if !seen || first.score < LEAST_SCORE => Sureness::Unsettled,
        lead if lead >= CLEAR_LEAD => Sureness::Clear,
        lead if lead >= LEAST_LEAD => Sureness::Likely,
        _ => Sureness::Unsettled,
    }
}
