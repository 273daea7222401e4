//! `lesson`: practice problems and an answer sheet.

use clap::{Args, ValueEnum};

use super::common::{Look, UnitsChoice};
use super::{Failure, Format};
use crate::catalogue::Catalogue;
use crate::quantity::UnitSystem;
use crate::teach::lesson::{self, MOST_PROBLEMS, Shown};

/// Make practice problems with an answer sheet that shows the working.
#[derive(Args, Debug)]
#[command(
    after_help = "Example: topdress lesson --problems 10 --seed 7 --part problems --format html -o sheet.html
The same seed always gives the same sheet, and no two seeds give the same one."
)]
#[command(mut_arg("format", |format| format.value_parser(Format::only(FORMATS))))]
pub struct LessonArgs {
    /// How many problems, from easy to hard.
    #[arg(long, value_name = "COUNT", default_value_t = 10, value_parser = count, allow_negative_numbers = true)]
    problems: usize,
    /// The number that the problems are drawn from.
    #[arg(long, value_name = "NUMBER", default_value_t = 1, value_parser = seed, allow_negative_numbers = true)]
    seed: u64,
    /// Which part of the sheet to show.
    #[arg(long, value_enum, default_value = "both")]
    part: Part,
    /// Units of the problems.
    #[arg(long, value_enum, default_value = "us")]
    units: UnitsChoice,
    #[command(flatten)]
    look: Look,
}

/// A part of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Part {
    /// The problems alone.
    Problems,
    /// The answers alone.
    Answers,
    /// Both.
    Both,
}

const FORMATS: &[Format] = &[Format::Table, Format::Markdown, Format::Html];

fn seed(text: &str) -> Result<u64, String> {
    text.trim()
        .parse()
        .map_err(|_| format!("a seed is a whole number from 0 to {}, like 7", u64::MAX))
}

fn count(text: &str) -> Result<usize, String> {
    match text.trim().parse() {
        Ok(count) if (1..=MOST_PROBLEMS).contains(&count) => Ok(count),
        _ => Err(format!("a sheet has 1 to {MOST_PROBLEMS} problems")),
    }
}

/// Writes a sheet.
///
/// # Errors
/// Where the sheet cannot be written.
pub fn run(args: &LessonArgs) -> Result<(), Failure> {
    let units = UnitSystem::from(args.units);
    let catalogue = Catalogue::new();
    let problems = lesson::problems(args.problems, args.seed, units, &catalogue);
    let shown = match args.part {
        Part::Problems => Shown::Problems,
        Part::Answers => Shown::Answers,
        Part::Both => Shown::Both,
    };
    let document = lesson::document(args.seed, units, &problems, shown, &catalogue);
    args.look.write_document(&document)
}
