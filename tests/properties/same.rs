//! One garden told in two ways is one garden.

use proptest::prelude::*;

use super::draw::garden;
use super::text::Hand;
use super::units::Written;
use super::{differences, draws, figures, plan_of};

proptest! {
    #![proptest_config(draws(24))]

    #[test]
    fn feet_and_metres_give_the_same_plan(garden in garden(2)) {
        let us = figures(&plan_of(&garden, Hand::US));
        let metric = figures(&plan_of(&garden, Hand::METRIC));
        prop_assert_eq!(differences(&us, &metric), Vec::<String>::new());
    }

    #[test]
    fn the_order_of_tables_does_not_matter(garden in garden(3), stir in 1_u64..) {
        let as_drawn = figures(&plan_of(&garden, Hand::US));
        let stirred = Hand { written: Written::Us, stir };
        prop_assert_eq!(differences(&as_drawn, &figures(&plan_of(&garden, stirred))), Vec::<String>::new());
    }
}
