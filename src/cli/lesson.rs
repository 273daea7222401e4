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
pub struct LessonArgs {
    /// How many problems, from easy to hard.
    #[arg(long, value_name = "COUNT", default_value_t = 10)]
    problems: usize,
    /// The number that the problems are drawn from.
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
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

/// Writes a sheet.
///
/// # Errors
/// Exit 2 where no sheet can have so many problems, or the format is none of a sheet's.
pub fn run(args: &LessonArgs) -> Result<(), Failure> {
    args.look.format.among("lesson", &[Format::Table, Format::Markdown, Format::Html])?;
    if args.problems == 0 || args.problems > MOST_PROBLEMS {
        return Err(Failure::wrong(
            format!("a sheet cannot have {} problems", args.problems),
            format!("ask for 1 to {MOST_PROBLEMS}, like `topdress lesson --problems 10 --seed 7`"),
        ));
    }
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
