//! A value that carries its derivation, built by the arithmetic itself, so that the explanation
//! cannot drift from the sum.
//!
//! Leaves are only what was said, listed, fixed by a rule or asked for; every other step is made by
//! an operator or by one of the named operations. [`Figure::by`] names the steps a grower would
//! recognise; what an engine of floats reckons is reckoned again from its operands (tests do so for every
//! figure); unnamed ones are folded into the step that uses them. Where nobody will ask,
//! [`Workings::Left`] leaves the noting down out.

mod again;
mod label;
mod ops;
mod rule;
mod step;
mod workings;

pub use again::{disagreements, evaluate};
pub use label::Label;
pub use ops::Figure;
pub use rule::{Rule, Status};
pub use step::{Again, Origin, Place, Step, Why};
pub use workings::Workings;
