//! How a sum is shown.

use clap::Args;

use super::super::Format;
use super::super::common::{Look, UnitsChoice};

const FORMATS: &[Format] = &[Format::Table, Format::Markdown, Format::Json];

/// How the answer is shown.
#[derive(Args, Clone, Debug)]
#[command(mut_arg("format", |format| format.value_parser(Format::only(FORMATS))))]
pub struct Shown {
    /// Units of the answers; the first weight written settles them where this is not given.
    #[arg(long, value_enum)]
    pub units: Option<UnitsChoice>,
    /// Format and place of the answer.
    #[command(flatten)]
    pub look: Look,
}
