//! `generate`: shell completions and the manual page, written from the same command line that the
//! program reads.

use clap::{Args, CommandFactory, ValueEnum};
use clap_complete::env::{Bash, EnvCompleter, Fish, Powershell, Zsh};

use super::output::to_stdout;
use super::{App, Failure, complete, manual};

/// Print shell completions or the manual page.
///
/// Completions know commands, options and their values, the beds and crops of `season.toml` in the
/// folder you stand in (or of the file that `--season` names), the materials of your shed and of the
/// catalogue, and the signs that `check` takes. Names are offered with `-` for their spaces, so
/// that they need no quotes: `north-1` is the bed "north 1". Names with brackets or quotes in them,
/// and the paths of `explain`, are typed by hand: `topdress explain` lists the paths.
#[derive(Args, Debug)]
#[command(after_help = "Examples:
  bash        topdress generate bash > ~/.local/share/bash-completion/completions/topdress
  zsh         topdress generate zsh > ~/.zfunc/_topdress
              (a folder of your fpath: `fpath=(~/.zfunc $fpath)` before `compinit`)
  fish        topdress generate fish > ~/.config/fish/completions/topdress.fish
  PowerShell  topdress generate powershell >> $PROFILE
  manual      topdress generate man > ~/.local/share/man/man1/topdress.1
The folder must be there, and `topdress` on the PATH; then open a new shell.")]
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

/// Loaded by its name when the key is first pressed, the file must answer that press as well.
const ZSH_FIRST_PRESS: &str = r#"if [[ ${funcstack[1]} = _topdress ]]; then
    _clap_dynamic_completer_topdress "$@"
fi
"#;

/// Runs `generate`.
pub(super) fn run(args: &GenerateArgs) -> Result<(), Failure> {
    // Into memory first: a closed pipe is to end quietly.
    let mut text: Vec<u8> = Vec::new();
    let written = match args.what {
        What::Bash => script(&Bash, &mut text),
        What::Zsh => script(&Zsh, &mut text),
        What::Fish => script(&Fish, &mut text),
        What::Powershell => script(&Powershell, &mut text),
        What::Man => manual::write(App::command(), &mut text),
    };
    written.map_err(|error| Failure::Files(error.into()))?;
    to_stdout(&String::from_utf8_lossy(&text))
}

/// What has a shell ask the program when the completion key is pressed.
fn script(shell: &dyn EnvCompleter, text: &mut Vec<u8>) -> std::io::Result<()> {
    let name = "topdress";
    shell.write_registration(complete::ASKED_BY, name, name, name, text)?;
    if shell.is("zsh") {
        text.extend_from_slice(ZSH_FIRST_PRESS.as_bytes());
    }
    Ok(())
}
