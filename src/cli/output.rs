//! Where answers go: standard output, or a file that is replaced whole or not at all.

use std::fs::File;
use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow};
use clap::ValueEnum;

use super::{Failure, record_file};
use crate::report::json::Part;

/// Whether answers are coloured.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Color {
    /// Coloured on a terminal unless `NO_COLOR` is set.
    #[default]
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

/// Where an answer goes.
#[derive(Clone, Debug)]
pub struct Output {
    /// The file, or standard output.
    pub file: Option<PathBuf>,
    /// Whether it is coloured.
    pub color: Color,
}

impl Output {
    /// Whether the answer may carry colour.
    pub fn coloured(&self) -> bool {
        let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
        match self.color {
            Color::Always => self.file.is_none(),
            Color::Never => false,
            Color::Auto => {
                let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
                self.file.is_none() && io::stdout().is_terminal() && !set("NO_COLOR") && !dumb
            }
        }
    }

    /// The width answers are laid out in: the terminal's, at least 40 and at most 120 columns, or
    /// 80 where there is none.
    pub fn width(&self) -> usize {
        let terminal = self.file.is_none().then(terminal_size::terminal_size).flatten();
        terminal.map_or(80, |(width, _)| usize::from(width.0).clamp(40, 120))
    }

    /// Writes the answer.
    ///
    /// # Errors
    /// Where the file cannot be written; a closed pipe ends quietly.
    pub fn write(&self, text: &str) -> Result<(), Failure> {
        let Some(file) = &self.file else {
            // Consoles that know no escape codes are painted in their own way.
            return match self.coloured() {
                true => put(&mut anstream::AutoStream::always(io::stdout().lock()), text),
                false => to_stdout(text),
            };
        };
        spare(file, text)?;
        replace(file, text.as_bytes())?;
        Ok(())
    }

    /// Writes an answer for a program, part by part as the parts come. A file is replaced whole.
    ///
    /// # Errors
    /// Where a part cannot be put together or the file cannot be written; a closed pipe ends quietly.
    pub fn write_parts(&self, parts: impl Iterator<Item = Part>) -> Result<(), Failure> {
        let mut parts = parts.map(|part| part.map_err(io::Error::from));
        let Some(file) = &self.file else {
            let mut out = io::stdout().lock();
            let written = parts.try_for_each(|part| out.write_all(&part?));
            return told(written.and_then(|()| out.flush()));
        };
        spare(file, "")?;
        replace_with(file, |draft| parts.try_for_each(|part| draft.write_all(&part?)))?;
        Ok(())
    }
}

/// Refuses to write an answer over what a grower cannot get back: the record, or a season file.
fn spare(file: &Path, text: &str) -> Result<(), Failure> {
    let named = |name: &str| file.file_name().is_some_and(|own| own.eq_ignore_ascii_case(name));
    let is_season = |text: &str| text.lines().any(|line| line.trim() == "[garden]");
    let what = if named(record_file::FILE_NAME) {
        "the record of what was spread"
    } else if !is_season(text) && std::fs::read_to_string(file).is_ok_and(|old| is_season(&old)) {
        "a season file"
    } else {
        return Ok(());
    };
    Err(Failure::wrong(
        format!("`{}` is {what}", file.display()),
        "name another file for the answer; nothing was written",
    ))
}

/// Writes to standard output; a closed pipe ends quietly.
///
/// # Errors
/// Where standard output cannot be written.
pub(super) fn to_stdout(text: &str) -> Result<(), Failure> {
    put(&mut io::stdout().lock(), text)
}

fn put(out: &mut impl Write, text: &str) -> Result<(), Failure> {
    told(out.write_all(text.as_bytes()).and_then(|()| out.flush()))
}

fn told(written: io::Result<()>) -> Result<(), Failure> {
    match written {
        Ok(()) => Ok(()),
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Err(Failure::Closed),
        Err(error) => Err(Failure::Files(anyhow!(error).context("could not write the answer"))),
    }
}

/// Replaces a file whole: a crash or a full disk leaves the old one as it was.
///
/// # Errors
/// Where the folder cannot be written.
pub fn replace(file: &Path, bytes: &[u8]) -> Result<()> {
    replace_with(file, |draft| draft.write_all(bytes))
}

/// Replaces a file whole with what is written to a draft.
fn replace_with(file: &Path, write: impl FnOnce(&mut File) -> io::Result<()>) -> Result<()> {
    let said = || format!("could not write `{}`", file.display());
    // A link is followed, so that what it points to is replaced and not the link. Any other name
    // stays as it was given: some systems spell a resolved one in a way no one would know again.
    let link = std::fs::symlink_metadata(file).is_ok_and(|metadata| metadata.is_symlink());
    let target = if link { std::fs::canonicalize(file).ok() } else { None };
    let target = target.unwrap_or_else(|| file.to_owned());
    let folder = match target.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    if target.is_dir() {
        return Err(anyhow!("{}: that is a folder; name a file to write in it", said()));
    }
    // What the system says of the draft names a file that the grower never heard of.
    let draft = |error: io::Error| anyhow!("{}: {}", said(), in_folder(folder, &error));
    let mut draft = builder().tempfile_in(folder).map_err(draft)?;
    write(draft.as_file_mut()).with_context(said)?;
    if let Ok(old) = std::fs::metadata(&target) {
        std::fs::set_permissions(draft.path(), old.permissions()).with_context(said)?;
    }
    draft.as_file().sync_all().with_context(said)?;
    draft.persist(&target).map_err(|kept| kept.error).with_context(said)?;
    if let Ok(folder) = std::fs::File::open(folder) {
        // Not every platform can flush a folder; the file itself is safe by now.
        let _ = folder.sync_all();
    }
    Ok(())
}

/// Why nothing can be written in a folder.
fn in_folder(folder: &Path, error: &io::Error) -> String {
    let name = folder.display();
    match error.kind() {
        io::ErrorKind::NotFound => format!("there is no folder `{name}`"),
        io::ErrorKind::NotADirectory => format!("`{name}` is no folder"),
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
            format!("you may not write in the folder `{name}`")
        }
        io::ErrorKind::StorageFull => format!("no room is left in the folder `{name}`"),
        kind => format!("the folder `{name}` takes no new file ({kind})"),
    }
}

/// Drafts that others may read as they may read any new file here; by itself a draft is private.
#[cfg(unix)]
fn builder() -> tempfile::Builder<'static, 'static> {
    use std::os::unix::fs::PermissionsExt;
    let mut builder = tempfile::Builder::new();
    builder.permissions(std::fs::Permissions::from_mode(0o666));
    builder
}

#[cfg(not(unix))]
fn builder() -> tempfile::Builder<'static, 'static> {
    tempfile::Builder::new()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_written_is_told_in_a_growers_words() {
        let folder = tempfile::tempdir().expect("a folder");
        let told = |file: &Path| format!("{:#}", replace(file, b"x").expect_err("no file"));
        assert!(told(folder.path()).contains("that is a folder; name a file"));
        let missing = told(&folder.path().join("no/such.md"));
        assert!(missing.contains("there is no folder `"), "{missing}");
        let denied = in_folder(Path::new("x"), &io::ErrorKind::PermissionDenied.into());
        assert_eq!(denied, "you may not write in the folder `x`");
        for text in [told(folder.path()), missing] {
            assert!(!text.contains("temporary") && !text.contains("persist"), "{text}");
        }
    }
}
