//! The record on disk: read whole, added to one line at a time so that nothing written is ever lost.
//!
//! A writer holds the lock of a side file, adds one line with one write and flushes it to the disk
//! before it says that the line is down. Where an earlier writer was killed halfway, the line end
//! it left out is written first, so that its half line is one damaged line and trips no other.

use std::fs::{File, OpenOptions};
use std::io::{self, ErrorKind, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use anyhow::{Context, anyhow};

use super::Failure;
use super::output::replace;
use crate::record::{Action, Application, Heading, Line, Log, Refusal};

/// The name of the record, beside the season file.
pub const FILE_NAME: &str = "applications.csv";

/// Most bytes a heading may take: far more than any spreadsheet writes.
const HEADING_BYTES: u64 = 64 * 1024;

/// Where the record of a season file lies.
pub fn beside(season: &Path) -> PathBuf {
    season.with_file_name(FILE_NAME)
}

/// Reads the record; one that is not there yet is empty.
///
/// # Errors
/// Where the file cannot be read, or is not a record of this version.
pub fn read(file: &Path) -> Result<Log, Failure> {
    // A writer at work is waited for. Where no one ever wrote here there is nothing to wait for,
    // and a reader leaves no files behind.
    let lock = File::open(lock_path(file)).ok();
    if let Some(lock) = &lock {
        let _ = lock.lock_shared();
    }
    let mut bytes = Vec::new();
    match File::open(file) {
        Ok(mut record) => record.read_to_end(&mut bytes).with_context(|| reading(file))?,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Log::default()),
        Err(error) => return Err(Failure::Files(anyhow!(error).context(reading(file)))),
    };
    Log::read(&bytes).map_err(|refusal| refused(file, &refusal))
}

/// Tells of the lines that cannot be read, on standard error.
pub fn tell_damage(file: &Path, log: &Log) {
    let mut talk = anstream::stderr();
    for one in &log.damaged {
        let (place, what, mend) = (one.number, &one.what, &one.mend);
        // What cannot be said on a closed standard error is not worth failing for.
        let _ = writeln!(talk, "note: {} line {place} {what}; {mend}", file.display());
    }
}

/// Writes an application down. When this returns, the line is on the disk.
///
/// # Errors
/// Where the file cannot be written, or is not a record of this version: nothing is added then.
pub fn append(file: &Path, application: &Application) -> Result<(), Failure> {
    let _lock = lock(file)?;
    let mut record = Open::new(file)?;
    let line = record.heading.line(Action::Applied, application);
    record.add(&line)
}

/// Takes an application back: the last one that stands, or the one on a line. Returns it.
///
/// # Errors
/// Where no such line stands, or as for [`append`].
pub fn cancel(file: &Path, number: Option<u32>) -> Result<Line, Failure> {
    let _lock = lock(file)?;
    let mut record = Open::new(file)?;
    let log = record.log()?;
    let line = match number {
        None => log.standing().last().ok_or_else(|| {
            Failure::wrong("the record holds nothing to take back", "see `record --list`")
        }),
        Some(number) => find(&log, number),
    }?;
    let text = record.heading.line(Action::Cancelled, &line.application);
    record.add(&text)?;
    Ok(line.clone())
}

fn find(log: &Log, number: u32) -> Result<&Line, Failure> {
    let help = "`record --list` shows the lines that stand, by their numbers";
    match log.lines.iter().find(|line| line.number == number) {
        Some(line) => match line.cancelled_by {
            None => Ok(line),
            Some(by) => Err(Failure::wrong(
                format!("line {number} is taken back already, by line {by}"),
                help,
            )),
        },
        None => Err(Failure::wrong(format!("no application stands on line {number}"), help)),
    }
}

/// An open record, under lock.
struct Open {
    path: PathBuf,
    file: File,
    heading: Heading,
    /// Length on opening: what a failed write is cut back to.
    length: u64,
}

impl Open {
    fn new(path: &Path) -> Result<Self, Failure> {
        if std::fs::metadata(path).map_or(0, |metadata| metadata.len()) == 0 {
            // A heading cut short would spoil the whole record, so a new file appears with it.
            let heading = Heading::default();
            replace(path, (heading.text() + heading.line_end()).as_bytes())?;
        }
        let mut file =
            OpenOptions::new().read(true).append(true).open(path).with_context(|| writing(path))?;
        let length = file.metadata().with_context(|| reading(path))?.len();
        let heading = Self::read_heading(&mut file, path)?;
        Ok(Self { path: path.to_owned(), file, heading, length })
    }

    /// Reads only the first line: a record of years is not read through for one more line.
    fn read_heading(file: &mut File, path: &Path) -> Result<Heading, Failure> {
        let mut start = Vec::new();
        file.take(HEADING_BYTES).read_to_end(&mut start).with_context(|| reading(path))?;
        let after_heading = start
            .split_inclusive(|byte| *byte == b'\n')
            .scan(0, |end, line| {
                *end += line.len();
                Some((*end, line.iter().any(|byte| byte.is_ascii_alphabetic())))
            })
            .find_map(|(end, written)| written.then_some(end));
        let log = Log::read(&start[..after_heading.unwrap_or(start.len())]);
        log.map(|log| log.heading).map_err(|refusal| refused(path, &refusal))
    }

    fn log(&mut self) -> Result<Log, Failure> {
        let mut bytes = Vec::new();
        self.file
            .seek(SeekFrom::Start(0))
            .and_then(|_| self.file.read_to_end(&mut bytes))
            .with_context(|| reading(&self.path))?;
        Log::read(&bytes).map_err(|refusal| refused(&self.path, &refusal))
    }

    /// Adds a line and flushes it, or leaves the file as it was.
    fn add(&mut self, line: &str) -> Result<(), Failure> {
        let mut text = String::new();
        if !self.ends_with_line_end().with_context(|| reading(&self.path))? {
            text.push_str(self.heading.line_end());
        }
        text.push_str(line);
        if let Err(error) = self.file.write_all(text.as_bytes()).and_then(|()| self.file.sync_all())
        {
            return Err(self.taken_back(error));
        }
        Ok(())
    }

    fn ends_with_line_end(&mut self) -> io::Result<bool> {
        let mut last = [0];
        self.file.seek(SeekFrom::Start(self.length.saturating_sub(1)))?;
        self.file.read_exact(&mut last)?;
        Ok(last == *b"\n")
    }

    /// Cuts a failed write off again, so that no half line stays behind.
    fn taken_back(&mut self, error: io::Error) -> Failure {
        // Not every system lets a file be cut that is open for adding only.
        let whole = OpenOptions::new().write(true).open(&self.path);
        let cut = whole.and_then(|file| file.set_len(self.length).and_then(|()| file.sync_all()));
        let context = match cut {
            Ok(()) => format!("{}: nothing was written down", writing(&self.path)),
            Err(_) => format!(
                "{}, and its last line may be cut short: `record --list` will tell",
                writing(&self.path)
            ),
        };
        Failure::Files(anyhow!(error).context(context))
    }
}

fn lock_path(file: &Path) -> PathBuf {
    let mut path = file.as_os_str().to_owned();
    path.push(".lock");
    PathBuf::from(path)
}

/// Waits for the side file's lock, which the system gives back however its holder ends. The record
/// itself is not locked: on some systems a locked file cannot be read by others.
fn lock(file: &Path) -> Result<File, Failure> {
    let path = lock_path(file);
    let lock = OpenOptions::new()
        .write(true)
        .create(true)
        .truncate(false)
        .open(&path)
        .with_context(|| writing(file))?;
    lock.lock().with_context(|| format!("could not lock `{}`", path.display()))?;
    Ok(lock)
}

fn refused(file: &Path, refusal: &Refusal) -> Failure {
    Failure::wrong(format!("`{}`: {refusal}", file.display()), refusal.mend())
}

fn reading(file: &Path) -> String {
    format!("could not read `{}`", file.display())
}

fn writing(file: &Path) -> String {
    format!("could not write `{}`", file.display())
}

#[cfg(test)]
#[path = "record_file_tests.rs"]
mod tests;
