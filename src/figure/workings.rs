//! Whether figures keep how they were reached.
//!
//! A plan of thousands of beds has some hundred figures a bed, and where only their values are shown,
//! keeping every step of every one takes most of the time and nearly all of the memory. The sums are
//! the same either way, done by the same lines of code; only the noting down is left out.

use std::cell::Cell;

thread_local! {
    static NOW: Cell<Workings> = const { Cell::new(Workings::Kept) };
}

/// What becomes of the workings of figures. No value hangs on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Workings {
    /// Each figure keeps how it was reached.
    Kept,
    /// Figures keep their values and ranges alone.
    Left,
}

impl Workings {
    /// What becomes of them here, on this thread.
    pub fn here() -> Self {
        NOW.get()
    }

    /// Does the work with workings kept or left.
    pub fn during<T>(self, work: impl FnOnce() -> T) -> T {
        /// Puts back what was before, also where the work panics.
        struct Back(Workings);
        impl Drop for Back {
            fn drop(&mut self) {
                NOW.set(self.0);
            }
        }
        let _back = Back(NOW.replace(self));
        work()
    }
}

/// Whether figures made now keep how they were reached.
pub(super) fn kept() -> bool {
    Workings::here() == Workings::Kept
}

#[cfg(test)]
mod tests {
    use super::super::{Figure, Origin, Rule, Status, Why};
    use super::*;
    use crate::quantity::{Mass, Share};

    static SHARE: Rule =
        Rule { key: "test-share", says: "a part", status: Status::Definition, source: None };

    fn dose() -> Figure<Mass> {
        let weight = Figure::asked("weight", Mass::from_kg(7.into()));
        let share = Figure::fixed("share", Share::from_percent(12.into()), &SHARE);
        let part = (&weight * &share).by("part", &SHARE);
        part.between(Mass::ZERO, weight.value())
    }

    #[test]
    fn values_and_ranges_are_the_same_without_workings() {
        let (with, without) = (dose(), Workings::Left.during(dose));
        assert_eq!(with.value(), without.value());
        assert_eq!(with.range(), without.range());
        assert!(matches!(with.step().why, Why::Product(..)));
        assert!(matches!(without.step().why, Why::Given(Origin::Unkept)));
        assert_eq!(without.step().amount, with.step().amount);
    }

    #[test]
    fn workings_are_kept_again_afterwards() {
        Workings::Left.during(|| {
            Workings::Kept.during(|| assert!(kept()));
            assert!(!kept());
        });
        assert!(kept());
        let panicked = std::panic::catch_unwind(|| Workings::Left.during(|| panic!("on purpose")));
        assert!(panicked.is_err() && kept());
    }

    #[test]
    fn names_are_not_written_out_where_they_are_not_kept() {
        struct Never;
        impl std::fmt::Display for Never {
            fn fmt(&self, _: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                unreachable!("nobody reads this name")
            }
        }
        Workings::Left.during(|| Figure::asked(format_args!("{Never}"), Mass::ZERO));
    }
}
