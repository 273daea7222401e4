//! Drafts: what is taken where the solver cannot answer, and what is taken off again.

use std::collections::BTreeSet;

use super::super::{block, case, exact, greedy, model};
use super::*;
use crate::quantity::Share;

/// Hands the setting of the only block to a test.
fn in_setting<T>(shed: &Shed, demands: &[Demand], test: impl Fn(&model::Setting) -> T) -> T {
    let case = case::Case::new(shed, demands, &[]);
    let market = block::Market { case: &case, forbidden: None };
    let all: Vec<usize> = (0..case.demands.len()).collect();
    let blocks = market.groups(&all, None);
    let [block] = blocks.as_slice() else { panic!("{} blocks", blocks.len()) };
    let (opened, margins) = (vec![false; case.suppliers.len()], BTreeSet::new());
    test(&model::Setting { case: &case, block, opened: &opened, margins: &margins, decided: &[] })
}

/// 4 kg of old meal serve one dose; the other wants a pack.
#[test]
fn stock_is_given_out_once() {
    let mut shed = shed(vec![offer("meal", "", &[("5", "9")])]);
    shed.stock = vec![stock("old meal", "4")];
    // Not in one proportion, or they would be reckoned as one dose.
    let demands = [
        demand("a", &[("old meal", "4"), ("meal", "3")]),
        demand("b", &[("old meal", "4"), ("meal", "2")]),
    ];
    let draft = in_setting(&shed, &demands, greedy::first_draft);
    let (all, none) = (Share::WHOLE, Share::ZERO);
    // Ways stand by name: meal, old meal.
    assert_eq!(draft.shares, [vec![none, all], vec![all, none]]);
    assert_eq!(draft.counts, [1]);
}

/// Three packs where one is enough: a least order elsewhere, where nothing is bought, is no reason
/// to keep them; one where they are bought is.
#[test]
fn packs_that_nothing_needs_are_taken_off() {
    let mut shed =
        shed(vec![offer("meal", "near", &[("10", "10")]), offer("meal", "far", &[("10", "9")])]);
    shed.suppliers = vec![supplier("far", "0", Some("25"))];
    let demands = [demand("a", &[("meal", "8")])];
    let left_of = |from: &str, count: u64| {
        in_setting(&shed, &demands, |setting| {
            let supplier =
                setting.case.suppliers.iter().position(|one| one.name == from).expect("known");
            let counts: Vec<u64> = setting
                .block
                .packs
                .iter()
                .map(|at| if setting.case.packs[*at].supplier == supplier { count } else { 0 })
                .collect();
            let draft = exact::Draft { shares: vec![vec![Share::WHOLE]], counts };
            let settled = exact::settle_draft(setting, &draft).expect("enough of all");
            settled.draft.counts.iter().sum::<u64>()
        })
    };
    assert_eq!(left_of("near", 3), 1);
    // 27 reach the least order of 25; 18 would not.
    assert_eq!(left_of("far", 3), 3);
    assert_eq!(left_of("far", 5), 3);
}
