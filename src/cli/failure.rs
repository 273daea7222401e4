//! Why a command could not be done, and the exit code that says so.

use std::fmt;
use std::process::ExitCode;

/// Why a command could not be done.
#[derive(Debug)]
pub enum Failure {
    /// A file could not be read or written: exit 1.
    Files(anyhow::Error),
    /// The input or the command line is wrong: exit 2. The text is already fit to be shown.
    Input(String),
    /// Whoever read the answer has closed the pipe: a quiet end.
    Closed,
}

impl Failure {
    /// A wrong command line: what is wrong, and how to mend it.
    pub fn wrong(what: impl fmt::Display, mend: impl fmt::Display) -> Self {
        Self::Input(format!("error: {what}\n  = help: {mend}\n"))
    }

    /// The exit code that stands for it.
    pub fn exit_code(&self) -> ExitCode {
        match self {
            Self::Files(_) => ExitCode::from(1),
            Self::Input(_) => ExitCode::from(2),
            Self::Closed => ExitCode::SUCCESS,
        }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Files(error) => writeln!(f, "error: {error:#}"),
            Self::Input(text) => f.write_str(text),
            Self::Closed => Ok(()),
        }
    }
}

impl From<anyhow::Error> for Failure {
    fn from(error: anyhow::Error) -> Self {
        Self::Files(error)
    }
}
