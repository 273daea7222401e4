//! Reading the season file that a command is given.

use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use anyhow::{Context, anyhow};
use clap::Args;

use super::Failure;
use crate::catalogue::Catalogue;
use crate::fault::{self, Fault};
use crate::figure::Place;
use crate::season::{self, Season};

/// Which season file to read.
#[derive(Args, Clone, Debug)]
pub struct SeasonFile {
    /// The season file; `-` reads it from standard input.
    #[arg(long = "season", value_name = "FILE", default_value = "season.toml")]
    pub path: PathBuf,
}

/// A season as read, with the text it was read from.
#[derive(Debug)]
pub struct Loaded {
    /// The season.
    pub season: Season,
    /// The text of its file: places in the season are byte offsets into it.
    pub source: String,
    /// The name of the file as faults and explanations show it.
    pub name: String,
}

impl SeasonFile {
    /// Whether the season comes from standard input.
    pub fn is_stdin(&self) -> bool {
        self.path.as_os_str() == "-"
    }

    /// The name shown to people.
    pub fn name(&self) -> String {
        if self.is_stdin() { "standard input".to_owned() } else { self.path.display().to_string() }
    }

    /// Reads the season.
    ///
    /// # Errors
    /// Exit 1 where the file cannot be read, exit 2 with every fault where it is wrong.
    pub fn load(&self) -> Result<Loaded, Failure> {
        let name = self.name();
        let source = text(self.bytes()?, &name)?;
        match season::read(&source, Arc::new(Catalogue::new())) {
            Ok(season) => Ok(Loaded { season, source, name }),
            Err(faults) => Err(wrong(&faults, &source, &name)),
        }
    }

    fn bytes(&self) -> Result<Vec<u8>, Failure> {
        if self.is_stdin() {
            let mut bytes = Vec::new();
            let read = std::io::stdin().lock().read_to_end(&mut bytes);
            read.context("could not read standard input")?;
            return Ok(bytes);
        }
        match std::fs::read(&self.path) {
            Ok(bytes) => Ok(bytes),
            Err(error) => {
                let mut error =
                    anyhow!(error).context(format!("could not read `{}`", self.path.display()));
                if !self.path.exists() {
                    error = anyhow!(
                        "{error:#}\n  = help: `topdress start` writes a season file to begin \
                         from; `--season FILE` names another"
                    );
                }
                Err(Failure::Files(error))
            }
        }
    }
}

fn wrong(faults: &[Fault], source: &str, name: &str) -> Failure {
    // Colours are taken out again where standard error is no terminal.
    Failure::Input(fault::render(faults, source, name, true))
}

/// Reads bytes as text.
fn text(bytes: Vec<u8>, name: &str) -> Result<String, Failure> {
    let bad = match std::str::from_utf8(&bytes) {
        Ok(text) => text.find('\0'),
        Err(error) => Some(error.valid_up_to()),
    };
    let Some(at) = bad else {
        // Checked just above, so that the bytes need not be copied.
        return String::from_utf8(bytes).map_err(|error| Failure::Files(anyhow!(error)));
    };
    let start = u32::try_from(at).unwrap_or(u32::MAX);
    let place = Place { start, end: start.saturating_add(1) };
    let shown = String::from_utf8_lossy(&bytes);
    Err(wrong(&[fault::syntax::not_text(place)], &shown, name))
}

/// The folder a season file stands in, where other files of the season lie beside it.
pub fn folder_of(file: &Path) -> &Path {
    match file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(failure: &Failure) -> String {
        anstream::adapter::strip_str(&failure.to_string()).to_string()
    }

    #[test]
    fn what_is_no_text_is_told_by_its_line() {
        let bytes = b"[garden]\nname = \"b\xe9chamel\"\n".to_vec();
        let failure = text(bytes, "season.toml").expect_err("a fault");
        assert!(said(&failure).contains("season.toml:2:10"), "{}", said(&failure));
        let failure = text(vec![0x7f, b'E', 0, 0, 7], "x").expect_err("a fault");
        assert!(said(&failure).contains("x:1:3"), "{}", said(&failure));
        assert!(matches!(failure, Failure::Input(_)));
    }

    #[test]
    fn a_file_that_is_not_there_is_no_fault_of_input() {
        let file = SeasonFile { path: "no/such/season.toml".into() };
        let failure = file.load().expect_err("a failure");
        assert!(matches!(failure, Failure::Files(_)));
        assert!(said(&failure).contains("topdress start"), "{}", said(&failure));
    }
}
