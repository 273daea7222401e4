//! One test binary.

mod catalogue;
mod check_cases;
mod check_rates;
mod durability;
mod faults;
mod inseason;
mod plan_cases;
mod sums;
mod sums_wild;
