//! The whole answer: causes, what to look at, and a dose or why there is none.

use super::evidence::{Evidence, Situation, gather};
use super::offer::{Candidate, NotARescue, Offer, offers};
use super::rescue::{Ground, Hold, Rescue, RescueNeed, dose, holds};
use super::weigh::{Weighed, weigh};
use crate::calendar::Date;
use crate::catalogue::{Look, Sign, Signs};
use crate::quantity::UnitSystem;

/// How many causes an answer dwells on.
pub const SHOWN_CAUSES: usize = 3;

/// What was asked.
#[derive(Debug)]
pub struct Asked<'a> {
    /// The list of signs.
    pub signs: &'a Signs,
    /// The signs seen.
    pub seen: Vec<&'a Sign>,
    /// What is known of the bed.
    pub situation: Situation,
    /// What a dose is reckoned from.
    pub need: RescueNeed,
    /// The ground the crop stands on.
    pub ground: Ground,
    /// Materials that may be given, the grower's choice first.
    pub candidates: Vec<Candidate>,
    /// Whether a dose is wanted against advice.
    pub anyway: bool,
    /// The units that doses are weighed in.
    pub units: UnitSystem,
}

/// Two signs that cannot both be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Conflict {
    /// One of them, by key.
    pub one: String,
    /// The other, by key.
    pub other: String,
}

/// A dose of an answer.
#[derive(Clone, Debug)]
pub struct Dose {
    /// How much nitrogen, and what that is sized on.
    pub rescue: Rescue,
    /// The materials that bring it, at different speeds.
    pub offers: Vec<Offer>,
    /// Materials of the grower's that are no rescue, and why.
    pub refused: Vec<(String, NotARescue)>,
}

/// The answer.
#[derive(Debug)]
pub struct Answer<'a> {
    /// The causes in order.
    pub weighed: Weighed<'a>,
    /// What was weighed.
    pub evidence: Vec<Evidence<'a>>,
    /// What to look at before feeding, in order: what tells the first causes apart and has not been
    /// looked at.
    pub looks: Vec<&'a Look>,
    /// Why no dose should be given.
    pub holds: Vec<Hold>,
    /// The dose, where there is one.
    pub dose: Option<Dose>,
    /// When to look again.
    pub look_again: Date,
}

impl Answer<'_> {
    /// Whether anything was seen or measured on the plants or their soil; what only the setting
    /// tells settles nothing by itself, and no cause is put before another.
    pub fn told(&self) -> bool {
        self.evidence.iter().any(|one| !one.sign.background)
    }
}

/// Weighs what was seen and what is known, and gives a dose only where nitrogen is the likely
/// cause, the bed is short and the roots can work; or, where asked for anyway, unless the soil is
/// saturated or the roots are sick.
///
/// # Errors
/// Where two of the signs seen exclude each other.
pub fn answer<'a>(asked: Asked<'a>) -> Result<Answer<'a>, Conflict> {
    for (at, one) in asked.seen.iter().enumerate() {
        if let Some(other) = asked.seen[..at].iter().find(|other| one.excludes.contains(&other.key))
        {
            return Err(Conflict { one: other.key.clone(), other: one.key.clone() });
        }
    }
    let evidence = gather(asked.signs, &asked.seen, &asked.situation);
    let weighed = weigh(asked.signs, asked.situation.kin, &evidence);
    let found = |key: &str| evidence.iter().any(|one| one.sign.key == key);
    let holds = holds(&weighed, found, &asked.need);
    let given = holds.is_empty() || asked.anyway && !holds.iter().any(Hold::stands);
    let rescue = if given { dose(&asked.need, &asked.ground) } else { None };
    let dose = rescue.map(|rescue| {
        let offers = offers(&rescue, &asked.ground, &asked.candidates, asked.units);
        let own = asked.candidates.iter().filter(|one| one.own);
        let refused = own.filter_map(|one| Some((one.name.clone(), one.speed().err()?))).collect();
        Dose { rescue, offers, refused }
    });
    let again = weighed.first().map_or(7, |first| first.cause.again_after);
    let looks = looks(asked.signs, &weighed, &evidence);
    let look_again = asked.situation.today + again;
    Ok(Answer { weighed, evidence, looks, holds, dose, look_again })
}

fn looks<'a>(signs: &'a Signs, weighed: &Weighed<'a>, evidence: &[Evidence<'a>]) -> Vec<&'a Look> {
    let told = evidence.iter().any(|one| !one.sign.background);
    // Where nothing was seen no cause comes first, and everything is worth a look.
    let first = || weighed.verdicts.iter().take(if told { SHOWN_CAUSES } else { usize::MAX });
    let useful = |look: &&Look| {
        let tells = first().any(|verdict| look.tells.contains(&verdict.cause.key));
        let settled = evidence.iter().any(|one| look.settled_by.contains(&one.sign.key));
        tells && !settled
    };
    signs.looks.iter().filter(useful).collect()
}
