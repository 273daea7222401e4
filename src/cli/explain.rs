//! `explain`: where a figure comes from.

use clap::Args;

use super::common::{About, Look};
use super::plan::{Planned, planned, write_json};
use super::{Failure, Format};
use crate::engine::{paths, shopping};
use crate::report::document::Document;
use crate::report::explain;
use crate::report::shopping as lists;

/// Show where a figure comes from; without a path, list what can be asked.
#[derive(Args, Debug)]
#[command(after_help = "Examples:
  topdress explain north-1/broccoli/nitrogen/need
  topdress explain buy/feather-meal")]
#[command(mut_arg("format", |format| format.value_parser(Format::only(FORMATS))))]
pub struct ExplainArgs {
    /// The figure's path, as `plan --format json` prints it and `explain` lists it.
    #[arg(value_name = "PATH")]
    figure: Option<String>,
    /// How many steps deep to go; all of them where not given.
    #[arg(long, value_name = "N")]
    depth: Option<usize>,
    #[command(flatten)]
    about: About,
    #[command(flatten)]
    look: Look,
}

const FORMATS: &[Format] = &[Format::Table, Format::Markdown, Format::Json];

/// Runs `explain`.
pub(super) fn run(args: &ExplainArgs) -> Result<(), Failure> {
    let format = args.look.format;
    let planned = planned(&args.about)?;
    let all = paths::all(&planned.plan);
    let wanted = args.figure.as_ref().map(|path| path.trim().trim_matches('/'));
    let found = wanted.and_then(|wanted| all.iter().find(|one| one.path == wanted));
    let (Some(wanted), Some(found)) = (wanted, found) else {
        return bought(args, &planned, wanted, all.iter().map(|one| one.path.clone()).collect());
    };
    let showing = args.about.showing(planned.loaded.season.garden.units);
    let places = planned.places();
    if format == Format::Json {
        let told = explain::tell(&found.step, showing, &places, args.depth);
        return write_json(&args.look, explain::json(wanted, &told));
    }
    let document = explain::document(wanted, &found.step, showing, &places, args.depth, &all);
    args.look.write_document(&document)
}

/// Tells of a material on the shopping list; or lists what can be asked.
fn bought(
    args: &ExplainArgs,
    planned: &Planned,
    wanted: Option<&str>,
    mut all: Vec<String>,
) -> Result<(), Failure> {
    let reported = planned.reported(&args.about);
    let answer = shopping::list(reported.season, reported.plan, reported.today);
    let materials = lists::paths(&answer);
    all.extend(materials.iter().map(|(path, _)| path.clone()));
    let Some(wanted) = wanted else { return list(args, &all) };
    let Some((path, material)) = materials.iter().find(|(path, _)| path == wanted) else {
        return Err(no_such_path(wanted, &all));
    };
    if args.look.format == Format::Json {
        let told = lists::explained_json(path, material, &answer, &reported);
        return write_json(&args.look, told);
    }
    args.look.write_document(&lists::explained(path, material, &answer, &reported))
}

fn list(args: &ExplainArgs, all: &[String]) -> Result<(), Failure> {
    if args.look.format == Format::Json {
        return write_json(&args.look, crate::report::json::document(&all));
    }
    let mut document = Document::new("What can be explained");
    document.push(crate::report::document::Block::List {
        ordered: false,
        items: all.iter().map(|path| crate::report::text::Text::new().code(path.clone())).collect(),
    });
    args.look.write_document(&document)
}

fn no_such_path(wanted: &str, all: &[String]) -> Failure {
    let below: Vec<&str> = all
        .iter()
        .map(String::as_str)
        .filter(|path| path.strip_prefix(wanted).is_some_and(|tail| tail.starts_with('/')))
        .collect();
    let mend = if let [first, ..] = below.as_slice() {
        format!("go one step further, such as `{first}`")
    } else {
        match crate::catalogue::names::nearest(wanted, all.iter().map(String::as_str)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "`topdress explain` without a path lists what can be asked".to_owned(),
        }
    };
    Failure::wrong(format!("there is no figure `{wanted}`"), mend)
}
