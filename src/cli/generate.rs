//! `generate`: shell completions and the manual page, written from the same command line that the
//! program reads.

use clap::{Args, CommandFactory, ValueEnum};
use clap_complete::Shell;

use super::output::to_stdout;
use super::{App, Failure};

/// Print shell completions or the manual page.
///
/// Completions know commands, options and their values. They do not know the names of beds and
/// materials: those stand in the season file, and a completion that reads it on every key would
/// have to run the program each time.
#[derive(Args, Debug)]
#[command(
    after_help = "Example: topdress generate bash > ~/.local/share/bash-completion/completions/topdress
Example: topdress generate man > ~/.local/share/man/man1/topdress.1"
)]
pub struct GenerateArgs {
    /// What to print.
    #[arg(value_enum)]
    what: What,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum What {
    /// Completions for bash.
    Bash,
    /// Completions for zsh.
    Zsh,
    /// Completions for fish.
    Fish,
    /// Completions for PowerShell.
    Powershell,
    /// The manual page, all commands in it.
    Man,
}

/// Runs `generate`.
pub(super) fn run(args: &GenerateArgs) -> Result<(), Failure> {
    let mut command = App::command();
    let mut text: Vec<u8> = Vec::new();
    let shell = match args.what {
        What::Bash => Some(Shell::Bash),
        What::Zsh => Some(Shell::Zsh),
        What::Fish => Some(Shell::Fish),
        What::Powershell => Some(Shell::PowerShell),
        What::Man => None,
    };
    // Into memory first: the library takes a closed pipe for a reason to crash.
    match shell {
        Some(shell) => clap_complete::generate(shell, &mut command, "topdress", &mut text),
        None => manual(&mut command, &mut text).map_err(|error| Failure::Files(error.into()))?,
    }
    to_stdout(&String::from_utf8_lossy(&text))
}

/// The page of the program, then each command's own part.
fn manual(command: &mut clap::Command, text: &mut Vec<u8>) -> std::io::Result<()> {
    command.build();
    clap_mangen::Man::new(command.clone()).render(text)?;
    for part in command.get_subcommands().filter(|part| !part.is_hide_set()) {
        let page = clap_mangen::Man::new(part.clone());
        let mut own: Vec<u8> = Vec::new();
        page.render_description_section(&mut own)?;
        page.render_options_section(&mut own)?;
        let heading = format!(".SH TOPDRESS {}\n", part.get_name().to_uppercase());
        let own = String::from_utf8_lossy(&own)
            .replace(".SH DESCRIPTION", "")
            .replace(".SH OPTIONS", ".PP");
        text.extend_from_slice(heading.as_bytes());
        text.extend_from_slice(own.trim_start().as_bytes());
    }
    Ok(())
}
