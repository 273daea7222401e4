//! What was done: the record of applications kept beside the season file.
//!
//! The record is a table of comma-separated values that any spreadsheet opens, with one heading and
//! one line for each application. Lines are only ever added: a mistake is mended by a line that
//! cancels the first one, and the cancelling line repeats what it cancels, so that sorting the
//! table or inserting a row in a spreadsheet breaks nothing. This module reads and writes the text;
//! files and locks are the command line's.

mod amount;
mod application;
mod cells;
mod heading;
mod log;
mod matching;
mod placed;

pub use amount::{BadAmount, read_amount};
pub use application::{Action, Application};
pub use heading::{Column, Heading, Refusal, VERSION};
pub use log::{Damage, Line, Log};
pub use matching::{
    Fate, Matched, PlannedLine, RecordedLine, Standing, Timing, WINDOW_DAYS, match_lines,
};
pub use placed::{
    Applied, Unknown, Unplaced, analysis_of, find_bed, find_planting, find_stuff, place,
};
