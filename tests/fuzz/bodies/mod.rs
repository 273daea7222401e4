//! What is done with the bytes that a fuzzer draws, and what must hold of the answer. The fuzzer and
//! the replay of the kept corpus run the same code.

mod applications;
mod quantity;
mod season;
mod sum;

pub use applications::applications;
pub use quantity::quantity;
pub use season::season;
pub use sum::sum;
