//! The program: everything is in the library.

use std::process::ExitCode;

/// Beds are planned by many hands, each of which takes and gives back memory all the time; the system's
/// own allocator makes them wait for one another.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    topdress::cli::run(std::env::args_os())
}
