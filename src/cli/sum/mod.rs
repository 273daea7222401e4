//! `sum`: one sum at a time, with its working.

mod args;
mod given;
mod shown;
mod spread;

use std::ffi::OsString;

use clap::{Args, Parser};

use self::args::SumCommand;
use super::{Failure, Format};
use crate::catalogue::Catalogue;
use crate::engine::sums::{Ask, Refusal, Sum};
use crate::report::{markdown, terminal};
use crate::teach;

/// Do one sum, with its working.
#[derive(Args, Debug)]
#[command(
    subcommand_required = true,
    arg_required_else_help = true,
    after_help = "\
Example: topdress sum label 16-4-8 --weight \"100 lb\"
Amounts carry their units, US or metric, as you would write them: \"3 lb/1000 ft2\", \"40 kg/ha\".
A material is an analysis (24-25-4, or \"24-25-4 elemental\" where the label counts P and K), a name
(\"feather meal\"), or either with the share of its nitrogen that counts (\"12-0-0 @ 60 %\").
Answers are in the unit of the first weight written, unless --units says otherwise."
)]
pub struct SumArgs {
    #[command(subcommand)]
    command: SumCommand,
}

/// A sum on its own, for those who call the library.
#[derive(Parser, Debug)]
#[command(name = "topdress sum", no_binary_name = true, disable_version_flag = true)]
struct Alone {
    #[command(subcommand)]
    command: SumCommand,
}

/// Does a sum and writes it.
///
/// # Errors
/// Exit 2 where the sum cannot be done as it was asked.
pub fn run(args: &SumArgs, arguments: &[OsString]) -> Result<(), Failure> {
    let written = texts(arguments);
    let shown = args.command.shown();
    let text = text_of(&args.command, &written)?;
    shown.look.target().write(&text)
}

/// Does the sum that these arguments ask for (without the words `topdress sum`), as the command
/// does it.
///
/// # Errors
/// The whole message that the command would print, where the sum cannot be done.
pub fn reckon(arguments: &[String]) -> Result<Sum, String> {
    let alone = Alone::try_parse_from(arguments).map_err(|error| error.to_string())?;
    let catalogue = Catalogue::new();
    sum_of(&alone.command, arguments, &catalogue).map_err(|refusal| refusal.to_string())
}

/// Writes the answer to the sum that these arguments ask for, as the command writes it.
///
/// # Errors
/// The whole message that the command would print, where the sum cannot be done.
pub fn answer(arguments: &[String]) -> Result<String, String> {
    let alone = Alone::try_parse_from(arguments).map_err(|error| error.to_string())?;
    text_of(&alone.command, arguments).map_err(|failure| failure.to_string())
}

fn sum_of(command: &SumCommand, written: &[String], catalogue: &Catalogue) -> Result<Sum, Refusal> {
    let units = command.shown().units.map(Into::into);
    let ask = Ask { catalogue, units, written: values(written) };
    command.reckon(&ask)
}

fn text_of(command: &SumCommand, written: &[String]) -> Result<String, Failure> {
    let shown = command.shown();
    let format = shown.look.format;
    let catalogue = Catalogue::new();
    let sum = sum_of(command, written, &catalogue)
        .map_err(|refusal| Failure::Input(refusal.to_string()))?;
    if format == Format::Json {
        return Ok(teach::json(&sum, &catalogue));
    }
    let document = teach::document(command.title(), &sum, &catalogue);
    if format == Format::Markdown {
        return Ok(markdown::render(&document));
    }
    let output = shown.look.target();
    let terminal = terminal::Terminal {
        width: output.width(),
        color: output.coloured(),
        unicode: true,
        folds: false,
    };
    Ok(terminal::render(&document, &terminal))
}

/// The arguments as text.
fn texts(arguments: &[OsString]) -> Vec<String> {
    arguments.iter().map(|text| text.to_string_lossy().into_owned()).collect()
}

/// What was written for options, without their names: what `--to` asks for is no weight written.
fn values(written: &[String]) -> Vec<String> {
    let mut values = Vec::new();
    let mut skip = false;
    for text in written {
        let (name, value) = match text.strip_prefix("--").and_then(|rest| rest.split_once('=')) {
            Some((name, value)) => (name, Some(value)),
            None => (text.strip_prefix("--").unwrap_or_default(), None),
        };
        let wanted = !matches!(name, "to" | "units" | "format" | "output" | "color");
        match value {
            Some(value) if wanted => values.push(value.to_owned()),
            Some(_) => {}
            None if text.starts_with("--") => skip = !wanted,
            None if skip => skip = false,
            None => values.push(text.clone()),
        }
    }
    values
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(text: &[&str]) -> Vec<String> {
        text.iter().map(|word| (*word).to_owned()).collect()
    }

    #[test]
    fn the_unit_wanted_is_no_weight_written() {
        let written = words(&["rate", "--to", "lb/1000 ft2", "--need=n 3 kg/ha", "264 oz/acre"]);
        assert_eq!(values(&written), words(&["rate", "n 3 kg/ha", "264 oz/acre"]));
    }

    #[test]
    fn other_formats_are_refused_by_name() {
        let asked = words(&["label", "16-4-8", "--weight", "100 lb", "--format", "ics"]);
        let said = answer(&asked).expect_err("no such format");
        assert!(said.contains("table, markdown, json"), "{said}");
    }
}
