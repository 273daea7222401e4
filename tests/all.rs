//! One test binary.

mod durability;
