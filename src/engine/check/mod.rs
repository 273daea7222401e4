//! A crop looks hungry: is it nitrogen, and if so, how much.
//!
//! What is seen and what is known of the bed are turned into signs ([`Situation`]), the signs are
//! weighed against causes ([`weigh()`]), and only where nitrogen comes out clearly, the bed is
//! short and the roots can work is a dose reckoned (`rescue`).

mod answer;
mod bedside;
mod budget;
mod evidence;
mod offer;
mod questions;
mod rescue;
pub mod rules;
mod weigh;

pub use answer::{Answer, Asked, Conflict, Dose, SHOWN_CAUSES, answer};
pub use bedside::{Bedside, kin_of};
pub use budget::budget_today;
pub use evidence::{Evidence, From, Recent, Situation, gather};
pub use offer::{Candidate, NotARescue, Offer, Speed, offers};
pub use questions::{Asking, Choice};
pub use rescue::{Basis, Ground, Hold, Rescue, RescueNeed, dose, holds, rate};
pub use weigh::{Kin, Sureness, Verdict, Weighed, weigh};
