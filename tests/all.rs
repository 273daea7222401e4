//! One test binary.

mod check_cases;
mod durability;
