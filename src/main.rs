//! The program: everything is in the library.

use std::process::ExitCode;

#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    topdress::cli::run(std::env::args_os())
}
