//! `buy`: the shopping list.

use clap::Args;

use super::common::{About, Look};
use super::plan::{planned_for, write_json};
use super::{Failure, Format};
use crate::engine::shopping;
use crate::report::plan::buy_page;
use crate::report::shopping as lists;

/// Print the shopping list: whole packs at least cost for all doses, less what is on hand.
#[derive(Args, Debug)]
#[command(after_help = "Example: topdress buy --on 2027-04-01")]
#[command(mut_arg("format", |format| format.value_parser(Format::only(FORMATS))))]
pub struct BuyArgs {
    #[command(flatten)]
    about: About,
    #[command(flatten)]
    look: Look,
}

const FORMATS: &[Format] =
    &[Format::Table, Format::Markdown, Format::Json, Format::Csv, Format::Html];

/// Runs `buy`.
pub(super) fn run(args: &BuyArgs) -> Result<(), Failure> {
    let format = args.look.format;
    let planned = planned_for(&args.about, format)?;
    let reported = planned.reported(&args.about);
    let answer = shopping::list(reported.season, reported.plan, reported.today);
    match format {
        Format::Json => write_json(&args.look, lists::json(&answer, reported.showing)),
        Format::Csv => args.look.target().write(&lists::sheet(&answer, reported.showing)),
        Format::Html => args.look.write_document(&buy_page(&reported)),
        _ => {
            let mut document = lists::document(&answer, reported.showing, reported.about());
            reported.tell_stock(&mut document);
            args.look.write_document(&document)
        }
    }
}
