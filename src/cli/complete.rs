//! What a shell is told when the completion key is pressed: commands, options, their values, and
//! the names that stand in the season file and in the catalogue.

use std::ffi::OsString;
use std::path::PathBuf;
use std::sync::Arc;

use anyhow::anyhow;
use clap::{Command, CommandFactory};
use clap_complete::engine::{ArgValueCandidates, CompletionCandidate};
use clap_complete::env::{EnvCompleter, Shells};

use super::output::to_stdout;
use super::{App, Failure};
use crate::catalogue::{Catalogue, Signs};
use crate::season::{self, Season};

/// Names the shell that asks; the scripts that `generate` prints set it.
pub(super) const ASKED_BY: &str = "TOPDRESS_COMPLETE";

/// The shell of this name.
fn shell(name: &str) -> Option<&'static dyn EnvCompleter> {
    const SHELLS: Shells<'static> = Shells::builtins();
    SHELLS.0.iter().copied().find(|shell| shell.is(name))
}

/// Answers a shell that asks what could stand where the cursor is; nothing where none asks.
pub(super) fn answer(arguments: &[OsString]) -> Option<Result<(), Failure>> {
    let asked_by = std::env::var_os(ASKED_BY).filter(|name| !name.is_empty())?;
    let Some(shell) = shell(&asked_by.to_string_lossy()) else {
        let what = format!("{ASKED_BY} names no shell that is known");
        return Some(Err(Failure::wrong(what, "write it like `bash`, or leave it out")));
    };
    let mut command = App::command();
    command.build();
    let mut command = with_names(with_help(command));
    let folder = std::env::current_dir().ok();
    let mut text: Vec<u8> = Vec::new();
    let words = typed(arguments).to_vec();
    if words.is_empty() {
        return Some(Ok(()));
    }
    Some(match shell.write_complete(&mut command, words, folder.as_deref(), &mut text) {
        Ok(()) => to_stdout(&String::from_utf8_lossy(&text)),
        Err(error) => Err(Failure::Files(anyhow!(error))),
    })
}

/// The words of the line that is being completed: those after the first `--`.
fn typed(arguments: &[OsString]) -> &[OsString] {
    let line = arguments.iter().position(|word| word == "--").map_or(arguments.len(), |at| at + 1);
    &arguments[line..]
}

/// The command line with what `help` can be asked for: it is put together before the commands beneath
/// others are there.
fn with_help(command: Command) -> Command {
    let below = |one: &Command| -> Vec<Command> {
        one.get_subcommands().filter(|below| below.get_name() != "help").cloned().collect()
    };
    let commands: Vec<(String, Vec<Command>)> = command
        .get_subcommands()
        .map(|one| (one.get_name().to_owned(), below(one)))
        .filter(|(name, below)| name != "help" && !below.is_empty())
        .collect();
    command.mut_subcommand("help", |help| {
        let add = |help: Command, (name, below)| {
            help.mut_subcommand(name, |one: Command| one.subcommands(below))
        };
        commands.into_iter().fold(help, add)
    })
}

/// The command line with the names that each argument takes, by what the argument is called.
fn with_names(command: Command) -> Command {
    let known = matches!(command.get_name(), "check" | "record");
    let command = command.mut_args(|argument| {
        let called = argument.get_value_names().and_then(|names| names.first());
        let names: fn() -> Vec<CompletionCandidate> = match called.map(|name| name.as_str()) {
            Some("BED") => beds,
            Some("CROP") if known => planted_crops,
            Some("CROP") => crops,
            Some("MATERIAL") if known => shed_and_materials,
            Some("MATERIAL") => materials,
            Some("SIGN") => signs,
            _ => return argument,
        };
        argument.add(ArgValueCandidates::new(names))
    });
    command.mut_subcommands(with_names)
}

/// Beds of the season.
fn beds() -> Vec<CompletionCandidate> {
    let season = typed_season();
    candidates(season.iter().flat_map(|season| &season.beds).map(|bed| bed.name.value.clone()))
}

/// Crops that stand in the season's beds.
fn planted_crops() -> Vec<CompletionCandidate> {
    let season = typed_season();
    let beds = season.iter().flat_map(|season| &season.beds);
    candidates(beds.flat_map(|bed| &bed.plantings).map(|planting| planting.crop.value.name.clone()))
}

/// Materials of the shed, then those of the catalogue and the season's own.
fn shed_and_materials() -> Vec<CompletionCandidate> {
    let Some(season) = typed_season() else { return materials() };
    let shed = season.shed.iter().map(|item| item.stuff.material.name.clone());
    candidates(shed.chain(season.catalogue.materials().map(|material| material.name.clone())))
}

/// Materials of the catalogue.
fn materials() -> Vec<CompletionCandidate> {
    let catalogue = Catalogue::new();
    candidates(catalogue.materials().map(|material| material.name.clone()))
}

/// Crops of the catalogue.
fn crops() -> Vec<CompletionCandidate> {
    let catalogue = Catalogue::new();
    candidates(catalogue.crops().map(|crop| crop.name.clone()))
}

/// Signs of hunger, each with what it means.
fn signs() -> Vec<CompletionCandidate> {
    let signs = Signs::built_in();
    let offered = signs.signs.iter().map(|sign| {
        CompletionCandidate::new(sign.key.as_str()).help(Some(sign.name.clone().into()))
    });
    offered.collect()
}

/// Names as they can be typed without quotes, each once, in the order given. A name that would
/// need quotes all the same, such as one with brackets, is left to be typed.
fn candidates(names: impl Iterator<Item = String>) -> Vec<CompletionCandidate> {
    let mut seen: Vec<String> = Vec::new();
    for name in names {
        let word = unquoted(&name);
        if word.chars().all(needs_no_quotes) && !seen.contains(&word) {
            seen.push(word);
        }
    }
    let last = seen.len();
    let ordered = seen.into_iter().zip(0..last);
    ordered.map(|(word, at)| CompletionCandidate::new(word).display_order(Some(at))).collect()
}

/// A name with `-` for its spaces: names are compared with the two alike.
fn unquoted(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join("-")
}

fn needs_no_quotes(letter: char) -> bool {
    letter.is_alphanumeric() || matches!(letter, '-' | '_' | '.' | '/' | ',' | '+')
}

/// The season of the line that is being completed, where it can be read and has no fault.
fn typed_season() -> Option<Season> {
    let arguments: Vec<OsString> = std::env::args_os().collect();
    let text = std::fs::read_to_string(season_file(typed(&arguments))).ok()?;
    season::read(&text, Arc::new(Catalogue::new())).ok()
}

/// The file that `--season` names among these words.
fn season_file(words: &[OsString]) -> PathBuf {
    let mut named = PathBuf::from("season.toml");
    for (at, word) in words.iter().enumerate() {
        let next = words.get(at + 1).filter(|next| !next.is_empty());
        if word == "--season" {
            named = next.map_or(named, PathBuf::from);
        } else if let Some(file) = word.to_str().and_then(|word| word.strip_prefix("--season=")) {
            named = PathBuf::from(file);
        }
    }
    named
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(line: &str) -> Vec<OsString> {
        line.split(' ').map(OsString::from).collect()
    }

    #[test]
    fn the_season_is_the_one_named_on_the_line() {
        let file = |line: &str| season_file(&words(line)).display().to_string();
        assert_eq!(file("topdress bed nor"), "season.toml");
        assert_eq!(file("topdress bed --season a/b.toml nor"), "a/b.toml");
        assert_eq!(file("topdress bed --season=c.toml nor"), "c.toml");
        assert_eq!(file("topdress bed --season"), "season.toml");
    }

    #[test]
    fn only_the_line_itself_is_read() {
        assert_eq!(typed(&words("topdress -- topdress bed n")), words("topdress bed n"));
        assert!(typed(&words("topdress bed n")).is_empty());
    }

    #[test]
    fn names_are_offered_once_and_as_they_can_be_typed() {
        let names = ["North 1", "tomato  tubs", "North 1", "carrot (topped)", "Beet für alle"];
        let offered = candidates(names.iter().map(ToString::to_string));
        let offered: Vec<_> = offered.iter().map(|one| one.get_value().to_owned()).collect();
        assert_eq!(offered, ["North-1", "tomato-tubs", "Beet-für-alle"]);
    }

    #[test]
    fn every_shell_that_scripts_are_printed_for_is_known() {
        for name in ["bash", "zsh", "fish", "powershell"] {
            assert_eq!(shell(name).map(EnvCompleter::name), Some(name));
        }
        assert!(shell("csh").is_none());
    }
}
