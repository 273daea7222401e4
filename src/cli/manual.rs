//! The manual page: the program, then each command's own part with its example.

use std::io::{Result, Write};

use clap::Command;
use clap_mangen::Man;

/// Writes the manual page of a command line, all its commands in it.
///
/// # Errors
/// Where the text cannot be written to.
pub(super) fn write(mut command: Command, text: &mut Vec<u8>) -> Result<()> {
    command.build();
    let page = Man::new(command.clone());
    page.render_title(text)?;
    page.render_name_section(text)?;
    page.render_synopsis_section(text)?;
    writeln!(text, ".SH COMMANDS")?;
    for part in shown(&command) {
        let about = part.get_about().map(ToString::to_string).unwrap_or_default();
        writeln!(text, ".TP\n\\fBtopdress {}\\fR\n{}", part.get_name(), escaped(&about))?;
    }
    examples(&command, "EXAMPLES", text)?;
    for part in shown(&command) {
        own_part(part, "TOPDRESS", text)?;
    }
    page.render_version_section(text)
}

fn shown(command: &Command) -> impl Iterator<Item = &Command> {
    command.get_subcommands().filter(|part| !part.is_hide_set() && part.get_name() != "help")
}

/// The part of one command, then those of the commands beneath it.
fn own_part(part: &Command, above: &str, text: &mut Vec<u8>) -> Result<()> {
    let name = format!("{above} {}", part.get_name().to_uppercase());
    // Said once at the head of the page.
    let hidden = ["help", "version"];
    let quiet = part.clone().mut_args(|argument| {
        let hide = hidden.contains(&argument.get_id().as_str());
        argument.hide(hide)
    });
    let page = Man::new(quiet);
    let mut own: Vec<u8> = Vec::new();
    page.render_description_section(&mut own)?;
    if part.get_arguments().any(|argument| !hidden.contains(&argument.get_id().as_str())) {
        page.render_options_section(&mut own)?;
    }
    let own = String::from_utf8_lossy(&own);
    let own = own.replace(".SH DESCRIPTION", "").replace(".SH OPTIONS", ".PP");
    writeln!(text, ".SH \"{name}\"\n{}", own.trim())?;
    examples(part, "", text)?;
    for below in shown(part) {
        own_part(below, &name, text)?;
    }
    Ok(())
}

/// What stands beneath a command's help, its lines kept as they are.
fn examples(command: &Command, heading: &str, text: &mut Vec<u8>) -> Result<()> {
    let Some(help) = command.get_after_help() else { return Ok(()) };
    let begin = if heading.is_empty() { ".PP".to_owned() } else { format!(".SH {heading}") };
    writeln!(text, "{begin}\n.nf\n{}\n.fi", escaped(&help.to_string()))
}

/// Plain text as a manual page has it: nothing in it is taken for a request.
fn escaped(text: &str) -> String {
    let line = |line: &str| {
        let line = line.replace('\\', "\\e").replace('-', "\\-");
        let request = line.starts_with(['.', '\'']);
        if request { format!("\\&{line}") } else { line }
    };
    text.lines().map(line).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn every_command_has_its_part_and_its_example() {
        let mut text = Vec::new();
        write(crate::cli::App::command(), &mut text).expect("memory can be written to");
        let text = String::from_utf8(text).expect("text");
        for part in ["TOPDRESS PLAN", "TOPDRESS GENERATE", "TOPDRESS SUM DOSE"] {
            assert_eq!(text.matches(&format!(".SH \"{part}\"\n")).count(), 1, "{part}");
        }
        assert!(text.contains("topdress sum dose \\-\\-need"));
        // There are no pages but this one to look up.
        assert!(!text.contains("(1)") && !text.contains(".SH EXTRA"));
    }

    #[test]
    fn no_line_is_taken_for_a_request() {
        assert_eq!(escaped(".5 lb\n'quoted'\na\\b --to"), "\\&.5 lb\n\\&'quoted'\na\\eb \\-\\-to");
    }
}
