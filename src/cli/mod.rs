//! The command line: arguments, files, terminal and exit code. Nothing imports this layer.

mod buy;
mod carry;
mod catalogue;
mod check;
mod common;
mod complete;
mod explain;
mod failure;
mod format;
mod generate;
mod lesson;
mod manual;
mod output;
mod plan;
mod record;
pub mod record_file;
mod season;
mod start;
pub mod sum;

use std::ffi::OsString;
use std::io::Write;
use std::process::ExitCode;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Parser, Subcommand};

pub use failure::Failure;
pub use format::Format;
pub use output::{Color, Output};
pub use season::{Loaded, SeasonFile, folder_of};

/// Works out what each garden bed needs and turns it into dated weights of fertilizer.
#[derive(Debug, Parser)]
#[command(
    name = "topdress",
    version,
    propagate_version = true,
    max_term_width = 100,
    after_help = "Example, from nothing to a plan:
  topdress start my-garden     a season file to fill in with your beds, crops and shed
  cd my-garden
  topdress plan                need, credits, doses and what to buy
  topdress work                what to spread, day by day
More of a command: `topdress COMMAND --help`. Names at the touch of Tab: `topdress generate --help`."
)]
struct App {
    #[command(subcommand)]
    command: Command,
}

// The arguments of a command are put together once it is called, so its line of the list of commands
// stands here too (a test compares them).
#[derive(Debug, Subcommand)]
#[command(defer = true)]
enum Command {
    /// Write a commented season file to begin from. Nothing is ever overwritten.
    Start(start::StartArgs),
    /// Plan the whole season: need, credits, what is short, and dated doses for every bed.
    Plan(plan::PlanArgs),
    /// Show one bed in full.
    Bed(plan::BedArgs),
    /// List what to spread, day by day, for all beds.
    Work(plan::WorkArgs),
    /// Print the shopping list: whole packs at least cost for all doses, less what is on hand.
    Buy(buy::BuyArgs),
    /// Weigh why a crop looks hungry, and give a dose only where it is short of nitrogen.
    Check(check::CheckArgs),
    /// Write down what was spread, list it, or take a line back.
    Record(record::RecordArgs),
    /// Write next year's season file: beds, soil tests, compost and manure, and what this year leaves.
    Carry(carry::CarryArgs),
    /// Show where a figure comes from; without a path, list what can be asked.
    Explain(explain::ExplainArgs),
    /// Print a built-in list with its sources, or the season file's JSON Schema.
    Catalogue(catalogue::CatalogueArgs),
    /// Print shell completions or the manual page.
    Generate(generate::GenerateArgs),
    /// Do one sum, with its working.
    Sum(Box<sum::SumArgs>),
    /// Make practice problems with an answer sheet that shows the working.
    Lesson(lesson::LessonArgs),
}

/// Runs the program with these arguments and returns its exit code: 0 done, 1 could not (files),
/// 2 the input or the command line is wrong.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments: Vec<OsString> = arguments.into_iter().collect();
    if let Some(answered) = complete::answer(&arguments) {
        return ended(answered);
    }
    let app = match App::try_parse_from(&arguments) {
        Ok(app) => app,
        Err(error) => {
            let Some(amount) = below_nothing(&error, &arguments) else { return clap_exit(&error) };
            let failure = Failure::wrong(
                format!("`{amount}` is less than nothing"),
                "write the amount without a minus, like `3 oz`; what was written down by mistake \
                 is taken back with `topdress record --undo`",
            );
            return ended(Err(failure));
        }
    };
    ended(dispatch(app.command, &arguments))
}

/// Says what failed, where something did, and turns it into an exit code.
fn ended(answered: Result<(), Failure>) -> ExitCode {
    match answered {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            // What cannot even be said leaves the exit code to speak.
            let _ = write!(anstream::stderr(), "{failure}");
            failure.exit_code()
        }
    }
}

fn dispatch(command: Command, arguments: &[OsString]) -> Result<(), Failure> {
    match command {
        Command::Start(args) => start::run(&args),
        Command::Plan(args) => plan::run_plan(&args),
        Command::Bed(args) => plan::run_bed(&args),
        Command::Work(args) => plan::run_work(&args),
        Command::Buy(args) => buy::run(&args),
        Command::Check(args) => check::run(&args),
        Command::Record(args) => record::run(&args),
        Command::Carry(args) => carry::run(&args),
        Command::Explain(args) => explain::run(&args),
        Command::Catalogue(args) => catalogue::run(&args),
        Command::Generate(args) => generate::run(&args),
        Command::Sum(args) => sum::run(&args, arguments),
        Command::Lesson(args) => lesson::run(&args),
    }
}

/// An amount with a minus before it, which is read as an option that no command has.
fn below_nothing(error: &clap::Error, arguments: &[OsString]) -> Option<String> {
    let minus = |text: &str| {
        text.strip_prefix('-').is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
    };
    let Some(ContextValue::String(unknown)) = error.get(ContextKind::InvalidArg) else {
        return None;
    };
    if error.kind() != ErrorKind::UnknownArgument || !minus(unknown) {
        return None;
    }
    let written = arguments.iter().map(|text| text.to_string_lossy().into_owned());
    written.skip(1).find(|text| minus(text))
}

fn clap_exit(error: &clap::Error) -> ExitCode {
    // A closed pipe under --help is no fault.
    let _ = error.print();
    if error.use_stderr() { ExitCode::from(2) } else { ExitCode::SUCCESS }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    /// The command line with the arguments of every command.
    fn whole() -> clap::Command {
        let mut command = super::App::command();
        command.build();
        command
    }

    #[test]
    fn the_command_line_is_well_formed() {
        super::App::command().debug_assert();
    }

    #[test]
    fn the_list_of_commands_says_what_each_says_of_itself() {
        let (listed, whole) = (super::App::command(), whole());
        let about = |command: &clap::Command| command.get_about().map(ToString::to_string);
        for one in listed.get_subcommands() {
            let name = one.get_name();
            assert!(about(one).is_some(), "{name}");
            assert_eq!(about(one), whole.find_subcommand(name).and_then(about), "{name}");
        }
    }

    /// Names of the commands below one that show no example.
    fn without_example(command: &clap::Command) -> Vec<String> {
        let help = command.get_after_help().map(ToString::to_string).unwrap_or_default();
        let own = (!help.contains("Example")).then(|| command.get_name().to_owned());
        let below = command.get_subcommands().filter(|one| one.get_name() != "help");
        let below = below.flat_map(without_example);
        own.into_iter().chain(below).collect()
    }

    #[test]
    fn every_command_shows_an_example() {
        assert_eq!(without_example(&whole()), Vec::<String>::new());
    }
}
