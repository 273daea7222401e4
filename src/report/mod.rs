//! Documents and their formats.
//!
//! A [`Document`] says what is shown and what each piece of text means; the
//! renderers decide how it looks. Each renderer is a pure function from a document to a string, and
//! none of them knows anything about growing: units, decimals and totals are settled before, in
//! [`number`] and [`mod@apportion`].

pub mod apportion;
pub mod carry;
pub mod catalogue;
pub mod chart;
pub mod check;
pub mod csv;
#[cfg(test)]
mod demo;
pub mod document;
pub mod explain;
pub mod html;
pub mod json;
pub mod kitchen;
pub mod markdown;
pub mod number;
pub mod plan;
pub mod record;
mod scales;
pub mod shopping;
pub mod terminal;
pub mod text;
pub mod words;

pub use apportion::{Apportioned, apportion};
pub use chart::{Bar, Bars, Curve, DoseMark, Look, Series};
pub use document::{
    Align, Block, Column, Day, Document, Fold, Note, NoteKind, StepLine, Table, Task, WorkList,
};
pub use number::{Scale, Showing, Shown};
pub use text::{Span, Text, Tone};
pub use words::{Count, Joined};
