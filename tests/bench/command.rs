//! Whole commands, each measured against a floor in the same run: an empty program of the same
//! argument library for start-up, a program that only parses the file for large gardens, and the same
//! budget arithmetic as a pandas script and as a spreadsheet.
//!
//! `cargo bench --bench command` prints the figures; exit status 1 where one is missed. With
//! `-- others` only the two comparisons are made, which takes seconds. They want `python3` with pandas
//! and LibreOffice's `soffice` on the path, and say so where they are not there. Called with the word
//! `empty` or `parse`, the program is the floor itself.

mod budget;
mod grown;

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Stdio};
use std::time::{Duration, Instant};

use clap::Parser;

const DAY: &str = "2027-04-01";
const PROGRAM: &str = env!("CARGO_BIN_EXE_topdress");
const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/school-garden/season.toml");

/// Does nothing: what any program with this argument library costs.
#[derive(Parser)]
struct Empty {}

fn main() -> io::Result<ExitCode> {
    let words: Vec<String> = std::env::args().skip(1).filter(|word| word != "--bench").collect();
    match words.first().map(String::as_str) {
        Some("empty") => {
            let Empty {} = Empty::parse_from(["empty"]);
            Ok(ExitCode::SUCCESS)
        }
        Some("parse") => {
            let text = fs::read_to_string(&words[1])?;
            let ok = toml::de::DeTable::parse(&text).is_ok();
            Ok(if ok { ExitCode::SUCCESS } else { ExitCode::FAILURE })
        }
        word => figures(&mut io::stdout().lock(), word == Some("others")),
    }
}

/// A command to be timed, with its output thrown away.
struct Timed {
    program: PathBuf,
    words: Vec<String>,
}

impl Timed {
    fn new(program: impl Into<PathBuf>, words: &[&str]) -> Self {
        let words = words.iter().map(ToString::to_string).collect();
        Self { program: program.into(), words }
    }

    fn floor(words: &[&str]) -> io::Result<Self> {
        Ok(Self::new(std::env::current_exe()?, words))
    }

    fn plan(season: &Path, format: &str) -> Self {
        let season = season.to_string_lossy();
        Self::new(PROGRAM, &["plan", "--season", &season, "--on", DAY, "--format", format])
    }

    fn run(&self) -> io::Result<Duration> {
        let start = Instant::now();
        let status = Command::new(&self.program)
            .args(&self.words)
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status()?;
        let took = start.elapsed();
        if status.success() {
            Ok(took)
        } else {
            let line = self.words.join(" ");
            Err(io::Error::other(format!("{} {line}: {status}", self.program.display())))
        }
    }
}

/// The least time of each command over so many rounds, the commands taking turns. The least, since
/// whatever else a machine does can only add.
fn least(commands: &[&Timed], rounds: usize) -> io::Result<Vec<Duration>> {
    let mut best = vec![Duration::MAX; commands.len()];
    for _ in 0..rounds {
        for (at, command) in commands.iter().enumerate() {
            best[at] = best[at].min(command.run()?);
        }
    }
    Ok(best)
}

/// Prints figures and keeps whether all were reached.
struct Sheet<'a, W> {
    out: &'a mut W,
    reached: bool,
}

impl<W: Write> Sheet<'_, W> {
    fn times(&mut self, what: &str, took: Duration, floor: Duration, most: f64) -> io::Result<()> {
        let ratio = took.as_secs_f64() / floor.as_secs_f64();
        let word = if ratio <= most { "reached" } else { "MISSED" };
        self.reached &= ratio <= most;
        let (took, floor) = (millis(took), millis(floor));
        writeln!(
            self.out,
            "{what:<46} {took:>10} against {floor:>10}: {ratio:>6.2} times (at most {most}) {word}"
        )
    }

    /// The other way round: how many times as long the other program takes, and how many it is to be
    /// where anything is asked of that.
    fn quicker(
        &mut self,
        what: &str,
        ours: Duration,
        other: Duration,
        least: Option<f64>,
    ) -> io::Result<()> {
        let ratio = other.as_secs_f64() / ours.as_secs_f64();
        let word = match least {
            None => "only told".to_owned(),
            Some(least) if ratio >= least => format!("at least {least}, reached"),
            Some(least) => format!("at least {least}, MISSED"),
        };
        self.reached &= least.is_none_or(|least| ratio >= least);
        let (ours, other) = (millis(ours), millis(other));
        writeln!(
            self.out,
            "{what:<46} {ours:>10} against {other:>10}: {ratio:>6.1} times quicker ({word})"
        )
    }
}

fn millis(time: Duration) -> String {
    format!("{:.2} ms", time.as_secs_f64() * 1e3)
}

fn figures(out: &mut impl Write, only_others: bool) -> io::Result<ExitCode> {
    let folder = tempfile::tempdir()?;
    let mut sheet = Sheet { out, reached: true };
    if !only_others {
        start_up(&mut sheet)?;
        large(&mut sheet, folder.path())?;
        growth(&mut sheet, folder.path())?;
    }
    budget::compare(&mut sheet, folder.path())?;
    Ok(if sheet.reached { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn start_up<W: Write>(sheet: &mut Sheet<'_, W>) -> io::Result<()> {
    let empty = Timed::floor(&["empty"])?;
    let help = Timed::new(PROGRAM, &["--help"]);
    let plan = Timed::plan(Path::new(DEMO), "table");
    let took = least(&[&empty, &help, &plan], 300)?;
    sheet.times("--help against an empty program", took[1], took[0], 1.3)?;
    sheet.times("plan of ten beds against an empty program", took[2], took[0], 6.0)
}

fn large<W: Write>(sheet: &mut Sheet<'_, W>, folder: &Path) -> io::Result<()> {
    let season = grown::write(folder, 10_000)?;
    let parse = Timed::floor(&["parse", &season.to_string_lossy()])?;
    let json = Timed::plan(&season, "json");
    let table = Timed::plan(&season, "table");
    let took = least(&[&parse, &json, &table], 5)?;
    sheet.times("10,000 beds as JSON against only parsing", took[1], took[0], 5.0)?;
    sheet.times("10,000 beds as a table against only parsing", took[2], took[0], 12.0)
}

/// Time for a bed, and memory, as the garden grows.
fn growth<W: Write>(sheet: &mut Sheet<'_, W>, folder: &Path) -> io::Result<()> {
    let start_up = least(&[&Timed::plan(Path::new(DEMO), "json")], 50)?[0];
    let mut first = None;
    for (beds, rounds) in [(100, 20), (1_000, 10), (10_000, 5), (100_000, 2)] {
        let season = grown::write(folder, beds)?;
        let length = fs::metadata(&season)?.len();
        let command = Timed::plan(&season, "json");
        let took = least(&[&command], rounds)?[0];
        let each = took.saturating_sub(start_up).as_secs_f64() / (beds - 10) as f64;
        let memory = peak_memory(&command)?;
        let first = *first.get_or_insert(each);
        let ratio = each / first;
        let high = 1.2;
        // A bed may become cheaper as the garden grows, never dearer.
        let word = if ratio <= high { "reached" } else { "MISSED" };
        sheet.reached &= ratio <= high;
        let memory = memory.map_or_else(
            || "memory is not measured here".into(),
            |bytes| {
                format!(
                    "{:.1} MB at most, {:.1} times the file",
                    bytes as f64 / 1e6,
                    bytes as f64 / length as f64
                )
            },
        );
        writeln!(
            sheet.out,
            "{beds:>7} beds: {:>8.1} µs a bed, {ratio:.2} times that of 100 (at most {high}) {word}; {memory}",
            each * 1e6
        )?;
    }
    Ok(())
}

/// The most memory a command held, in bytes, read off the kernel's own tally while it runs. `None`
/// where there is no such tally.
fn peak_memory(command: &Timed) -> io::Result<Option<u64>> {
    let mut child = Command::new(&command.program)
        .args(&command.words)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()?;
    let tally = format!("/proc/{}/status", child.id());
    let mut most = None;
    while child.try_wait()?.is_none() {
        let held = fs::read_to_string(&tally).ok().and_then(|text| {
            let line = text.lines().find(|line| line.starts_with("VmHWM:"))?;
            line.split_whitespace().nth(1)?.parse::<u64>().ok()
        });
        most = held.map(|kibibytes| kibibytes * 1024).max(most);
        std::thread::sleep(Duration::from_micros(500));
    }
    Ok(most)
}
