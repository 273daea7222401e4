//! One test binary.

mod catalogue;
mod check_cases;
mod durability;
mod faults;
mod plan_cases;
