//! `carry`: next year's season file.

use clap::{Args, ValueEnum};

use super::Failure;
use super::output::{Color, Output};
use super::plan::applied;
use super::season::SeasonFile;
use crate::fault::render;
use crate::report::carry::{Carried, carry};
use std::path::PathBuf;
use std::sync::Arc;

/// Write next year's season file: beds, soil tests, compost and manure, and what this year leaves.
#[derive(Args, Debug)]
#[command(after_help = "Example: topdress carry --output season-2028.toml")]
pub struct CarryArgs {
    #[command(flatten)]
    season: SeasonFile,
    /// The format: a season file is TOML.
    #[arg(long, value_enum, default_value = "toml")]
    format: OnlyToml,
    /// Write the season file here instead of the screen; it is replaced whole or not at all.
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum OnlyToml {
    /// A season file.
    Toml,
}

/// Runs `carry`.
pub(super) fn run(args: &CarryArgs) -> Result<(), Failure> {
    let OnlyToml::Toml = args.format;
    let season_file = &args.season;
    if let Some(output) = &args.output
        && !season_file.is_stdin()
        && same_file(output, &season_file.path)
    {
        return Err(Failure::wrong(
            format!("`{}` is this year's season file", output.display()),
            "give next year's a name of its own",
        ));
    }
    let loaded = season_file.load()?;
    let applied = applied(season_file, &loaded)?;
    let carried = Carried { season: &loaded.season, source: &loaded.source, applied: &applied };
    let text = carry(&carried).map_err(|_| {
        Failure::wrong(format!("{} cannot be carried", loaded.name), "check that it is TOML")
    })?;
    // What is written must be read next year: a fault now is ours and not the grower's.
    if let Err(faults) = crate::season::read(&text, Arc::new(crate::catalogue::Catalogue::new())) {
        return Err(Failure::Input(render(&faults, &text, "next year's season file", true)));
    }
    Output { file: args.output.clone(), color: Color::Never }.write(&text)
}

fn same_file(one: &std::path::Path, other: &std::path::Path) -> bool {
    match (std::fs::canonicalize(one), std::fs::canonicalize(other)) {
        (Ok(one), Ok(other)) => one == other,
        _ => one == other,
    }
}
