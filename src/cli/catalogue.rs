//! `catalogue`: the built-in figures and their sources.

use clap::{Args, ValueEnum};

use super::common::{Look, UnitsChoice};
use super::plan::write_json;
use super::{Failure, Format};
use crate::catalogue::{Catalogue, Signs};
use crate::quantity::UnitSystem;
use crate::report::catalogue as lists;
use crate::report::number::Showing;

/// Print a built-in list with its sources, or the season file's JSON Schema.
#[derive(Args, Debug)]
#[command(after_help = "Example: topdress catalogue materials --format csv --output materials.csv")]
#[command(mut_arg("format", |format| format.value_parser(Format::only(FORMATS))))]
pub struct CatalogueArgs {
    /// Which list.
    #[arg(value_enum)]
    list: List,
    /// Units of the list.
    #[arg(long, value_enum, default_value = "us")]
    units: UnitsChoice,
    #[command(flatten)]
    look: Look,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum List {
    /// Crops.
    Crops,
    /// Materials.
    Materials,
    /// Soil-test limits.
    SoilTests,
    /// Signs that `check` takes.
    Signs,
    /// Where every figure comes from.
    Sources,
    /// The season file's JSON Schema.
    Schema,
}

const FORMATS: &[Format] = &[Format::Table, Format::Json, Format::Csv];

/// Runs `catalogue`.
pub(super) fn run(args: &CatalogueArgs) -> Result<(), Failure> {
    if args.list == List::Schema {
        // A schema is JSON whatever is asked.
        args.look.format.among("catalogue schema", &[Format::Table, Format::Json])?;
        return args.look.target().write(&crate::season::schema());
    }
    let format = args.look.format;
    let catalogue = Catalogue::new();
    let showing = Showing::new(UnitSystem::from(args.units));
    let listing = match args.list {
        List::Crops => lists::crops(&catalogue, showing),
        List::Materials => lists::materials(&catalogue, showing),
        List::SoilTests => lists::soil_tests(&catalogue),
        List::Signs => lists::signs(&Signs::built_in()),
        List::Sources | List::Schema => lists::sources(&catalogue),
    };
    match format {
        Format::Json => write_json(&args.look, listing.json()),
        Format::Csv => args.look.target().write(&listing.sheet()),
        _ => args.look.write_document(&listing.document()),
    }
}
