//! `start`: a commented season file to begin from.

use std::fs::OpenOptions;
use std::io::Write;
use std::path::PathBuf;

use anyhow::Context;
use clap::Args;

use super::Failure;
use super::common::today;

/// Write a commented season file to begin from. Nothing is ever overwritten.
#[derive(Args, Debug)]
#[command(after_help = "Example: topdress start my-garden")]
pub struct StartArgs {
    /// The folder to write `season.toml` in; it is made where it is not there.
    #[arg(value_name = "DIR", default_value = ".")]
    folder: PathBuf,
}

const TEMPLATE: &str = include_str!("start.toml");
/// The year that the template is written for.
const TEMPLATE_YEAR: &str = "2027";

/// Runs `start`.
pub(super) fn run(args: &StartArgs) -> Result<(), Failure> {
    let file = args.folder.join("season.toml");
    std::fs::create_dir_all(&args.folder)
        .with_context(|| format!("could not make the folder `{}`", args.folder.display()))?;
    // The season one plans in late autumn is the next one.
    let day = today();
    let year = if day.month() >= 10 { day.year() + 1 } else { day.year() };
    let text = TEMPLATE.replace(TEMPLATE_YEAR, &year.to_string());
    let mut out =
        OpenOptions::new().write(true).create_new(true).open(&file).with_context(|| {
            format!("could not begin `{}`; nothing there is overwritten", file.display())
        })?;
    out.write_all(text.as_bytes())
        .and_then(|()| out.sync_all())
        .with_context(|| format!("could not write `{}`", file.display()))?;
    let mut talk = anstream::stderr();
    // What cannot be said on a closed standard error is not worth failing for.
    let _ = writeln!(
        talk,
        "wrote {}\nnow: edit it, then `topdress plan --season {}`",
        file.display(),
        file.display()
    );
    Ok(())
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::TEMPLATE;
    use crate::catalogue::Catalogue;
    use crate::season;

    #[test]
    fn the_template_reads_as_it_stands_and_with_every_line_in_use() {
        let read = |text: &str| season::read(text, Arc::new(Catalogue::new()));
        assert!(read(TEMPLATE).is_ok());
        let used: String = TEMPLATE
            .lines()
            .map(|line| {
                let bare = line.strip_prefix("# ").unwrap_or(line);
                let setting = bare.starts_with('[') || bare.contains(" = ");
                let line = if setting { bare } else { line };
                format!("{line}\n")
            })
            .collect();
        assert!(read(&used).is_ok(), "{:?}", read(&used).err());
    }
}
