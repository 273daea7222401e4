//! Many hands: work on many things alike, shared out among the processor's cores.
//!
//! Each piece of work is done alone and the results stand in the order of what was asked, so that the
//! answer is the same however many hands there are.

use std::panic::resume_unwind;
use std::sync::{Mutex, OnceLock, PoisonError};
use std::thread::{self, Builder, available_parallelism};

use crate::figure::Workings;

/// How many pieces a hand takes at a time.
const AT_ONCE: usize = 8;
/// Bytes of stack for each hand: what the first one mostly has. Derivations are long chains, and fall one
/// link within the other.
const STACK: usize = 8 << 20;
/// Fewer pieces than these are done by one hand: to call another takes longer.
const FEW: usize = 64;

/// Does `work` for each number below `count`, and returns the results in order.
pub fn each<T: Send>(count: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    of_each((0..count).collect(), |_, at| work(at))
}

/// Does `work` for each thing and its place among them, and returns the results in order.
pub fn of_each<A: Send, T: Send>(all: Vec<A>, work: impl Fn(usize, A) -> T + Sync) -> Vec<T> {
    static HANDS: OnceLock<usize> = OnceLock::new();
    let hands = || *HANDS.get_or_init(|| available_parallelism().map_or(1, usize::from));
    by_hands(if all.len() < FEW { 1 } else { hands() }, all, work)
}

fn by_hands<A: Send, T: Send>(
    hands: usize,
    all: Vec<A>,
    work: impl Fn(usize, A) -> T + Sync,
) -> Vec<T> {
    let count = all.len();
    let mut numbered = all.into_iter().enumerate();
    if hands < 2 {
        return numbered.map(|(at, one)| work(at, one)).collect();
    }
    let next = Mutex::new(&mut numbered);
    let take = || -> Vec<(usize, A)> {
        // Where another hand broke down, its panic is passed on in the end.
        let mut next = next.lock().unwrap_or_else(PoisonError::into_inner);
        next.by_ref().take(AT_ONCE).collect()
    };
    let workings = Workings::here();
    let share = || {
        let mut done: Vec<(usize, Vec<T>)> = Vec::new();
        loop {
            let taken = take();
            let Some(from) = taken.first().map(|(at, _)| *at) else { return done };
            let results = || taken.into_iter().map(|(at, one)| work(at, one)).collect();
            done.push((from, workings.during(results)));
        }
    };
    let mut done = thread::scope(|scope| {
        // Where the system has no more threads to give, fewer hands do the work.
        let others: Vec<_> = (1..hands.min(count.div_ceil(AT_ONCE)))
            .map_while(|_| Builder::new().stack_size(STACK).spawn_scoped(scope, share).ok())
            .collect();
        let mut done = share();
        for other in others {
            done.extend(other.join().unwrap_or_else(|panic| resume_unwind(panic)));
        }
        done
    });
    done.sort_unstable_by_key(|(from, _)| *from);
    let mut results = Vec::with_capacity(count);
    for (_, mut some) in done {
        results.append(&mut some);
    }
    results
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::{Figure, Origin, Why};
    use crate::quantity::Mass;

    #[test]
    fn results_stand_in_order_for_any_number_of_hands() {
        for count in [0, 1, 7, 8, 9, 64, 1_000] {
            let expected: Vec<usize> = (0..count).map(|at| at * at).collect();
            assert_eq!(each(count, |at| at * at), expected);
            for hands in [1, 2, 3, 7, 100] {
                let all: Vec<usize> = (0..count).rev().collect();
                let result = by_hands(hands, all, |at, one| (at, one));
                let expected: Vec<_> = (0..count).map(|at| (at, count - 1 - at)).collect();
                assert_eq!(result, expected, "{hands} {count}");
            }
        }
    }

    #[test]
    fn every_hand_keeps_workings_or_leaves_them_as_the_first() {
        let kept = |_: usize, ()| {
            matches!(Figure::asked("dose", Mass::ZERO).step().why, Why::Given(Origin::Asked))
        };
        assert!(by_hands(4, vec![(); 500], kept).into_iter().all(|kept| kept));
        let left = Workings::Left.during(|| by_hands(4, vec![(); 500], kept));
        assert!(left.into_iter().all(|kept| !kept));
    }

    #[test]
    fn a_panic_is_passed_on() {
        let work = |at, ()| assert_ne!(at, 400, "on purpose");
        assert!(std::panic::catch_unwind(|| by_hands(3, vec![(); 500], work)).is_err());
    }
}
