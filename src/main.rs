//! The program: everything is in the library.

use std::process::ExitCode;

fn main() -> ExitCode {
    topdress::cli::run(std::env::args_os())
}
