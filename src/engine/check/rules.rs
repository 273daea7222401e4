//! The rules of weighing signs and of the rescue dose.

use crate::figure::{Rule, Status};

macro_rules! rules {
    ($($name:ident = $key:literal, $status:ident, $source:expr, $says:literal;)*) => {
        $(
            #[doc = $says]
            pub static $name: Rule = Rule { key: $key, says: $says, status: Status::$status, source: $source };
        )*
        /// All of them.
        pub static ALL: &[&Rule] = &[$(&$name),*];
    };
}

rules! {
    BUDGET_TODAY = "budget-today", Derived, Some("rule-curve"), "what the crop has needed by today less what has come free for it by today; doses that are only planned do not count";
    SOIL_FOOT = "soil-foot", Published, Some("psnt-generic"), "the top foot of soil weighs about 4 million lb per acre, so 1 ppm of nitrate nitrogen in it is about 4 lb per acre";
    RESCUE_BY_TEST = "rescue-by-test", Published, Some("psnt-generic"), "the dose lifts the soil's nitrate to the level at which the crop needs no more";
    LEAST_RESCUE = "least-rescue", Proposed, Some("rule-rescue"), "no dose below 20 lb nitrogen per acre: less than the least that is published for a crop found short";
    RESCUE = "rescue", Proposed, Some("rule-rescue"), "a dose is never above what is published for a crop found short, nor above the cap for one time";
    RESCUE_IN_MIX = "rescue-in-mix", Proposed, Some("rule-container"), "a container is given at most 1 g of nitrogen for each gallon of mix at once";
    TEN_FEET = "ten-feet", Definition, None, "10 ft of row take the ground from row to row";
    RESCUE_WEIGHT = "rescue-weight", Definition, None, "the weight is the nitrogen wanted over the share that comes free within 21 days at today's soil temperature";
}
