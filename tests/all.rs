//! One test binary.

mod catalogue;
mod check_cases;
mod check_rates;
mod demand_cases;
mod durability;
mod examples;
mod faults;
mod house;
mod inseason;
mod plan_cases;
mod readme;
mod sums;
mod sums_wild;
