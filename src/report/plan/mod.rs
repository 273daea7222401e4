//! A season's plan as documents, JSON and CSV.

mod budget;
mod calendar;
mod cautions;
mod changes;
mod curves;
mod doses;
mod glance;
mod json;
mod page;
mod record;
mod sheet;
#[cfg(test)]
mod tests;
mod work;

pub use calendar::calendar;
pub use json::{json, json_bed};
pub use page::{bed_page, buy_page, plan_page, work_page};
pub use sheet::{sheet, sheet_bed, work_sheet};
pub use work::{work, work_json};

use super::document::Document;
use super::number::{Showing, long_date};
use super::text::{Text, Tone};
use super::words::Joined;
use crate::calendar::Date;
use crate::engine::against::Against;
use crate::engine::plan::{BedPlan, Plan};
use crate::engine::shopping;
use crate::hands::each;
use crate::quantity::Quantity;
use crate::season::Season;

/// What stands where a need, and with it a balance, is not known.
const NOT_KNOWN: &str = "not known";

/// What every report of a plan is made from.
#[derive(Clone, Copy, Debug)]
pub struct Reported<'a> {
    /// What was said.
    pub season: &'a Season,
    /// The plan.
    pub plan: &'a Plan,
    /// How amounts are shown.
    pub showing: Showing,
    /// The day it is made on, where one matters.
    pub today: Option<Date>,
    /// What was recorded, beside the season's first plan.
    pub against: &'a [Against],
}

impl Reported<'_> {
    /// Says of what stock some has been spread.
    pub fn tell_stock(&self, document: &mut Document) {
        super::shopping::stock::add(self.season, self.against, self.showing, document);
    }

    /// The season's year: a day of another year is shown with its own.
    fn year(&self) -> i16 {
        self.season.garden.year.value
    }

    /// "Sat 8 May to Sat 10 Jul", with the years where it begins in another.
    fn span(&self, first: Date, last: Date) -> String {
        let year = if first.year() == last.year() { self.year() } else { 0 };
        format!("{} to {}", first.within(year), last.within(year))
    }

    /// Whose plan it is, for the line beneath a title.
    pub fn about(&self) -> Text {
        let garden = &self.season.garden;
        let name = garden.name.clone().unwrap_or_else(|| "Garden".to_owned());
        let text = Text::new().plain(format!("{name}, season {}", garden.year.value));
        match self.today {
            Some(today) => text.plain(format!(", as of {}", long_date(today))),
            None => text,
        }
    }
}

/// The whole season.
pub fn plan(reported: &Reported<'_>) -> Document {
    let mut document = Document::new("Season plan");
    document.about = reported.about();
    glance::add(reported, &mut document);
    let beds = &reported.plan.beds;
    let parts = each(beds.len(), |at| {
        let mut part = Document::default();
        bed_blocks(reported, &beds[at], &mut part);
        part.blocks
    });
    document.blocks.extend(parts.into_iter().flatten());
    record::add(reported, None, &mut document);
    let (certain, possible) = shopping::short_list(reported.season, reported.plan, reported.today);
    super::shopping::add(&certain, &possible, reported.showing, &mut document);
    reported.tell_stock(&mut document);
    cautions::add(reported, &mut document);
    document
}

/// One bed in full.
pub fn bed(reported: &Reported<'_>, bed: &BedPlan) -> Document {
    let mut document = Document::new(format!("Bed {}", bed.name));
    document.about = reported.about();
    bed_blocks(reported, bed, &mut document);
    curves::add(reported, bed, &mut document);
    record::add(reported, Some(bed.index), &mut document);
    cautions::add_for(reported, &[bed], &mut document);
    document
}

fn bed_blocks(reported: &Reported<'_>, bed: &BedPlan, document: &mut Document) {
    document.heading(2, title(reported, bed));
    budget::add(reported, bed, document);
    doses::add(reported, bed, document);
    for note in &bed.notes {
        document.note(capital(note));
    }
    if let Some(line) = assumptions(bed) {
        document.paragraph(line.toned(Tone::Plain, Tone::Dim));
    }
}

/// "north 1: 96 ft2, broccoli then lettuce".
fn title(reported: &Reported<'_>, bed: &BedPlan) -> Text {
    let size = match (&bed.area, &bed.mix) {
        (Some(area), None) => reported.showing.of(area.value()).to_string(),
        (_, Some(mix)) => format!("{} of mix", reported.showing.of(mix.value())),
        (None, None) => String::new(),
    };
    let crops: Vec<&str> =
        bed.plantings.iter().map(|planting| planting.crop.name.as_str()).collect();
    let grown = if crops.is_empty() {
        "nothing planted".to_owned()
    } else {
        Joined::and(&crops).to_string()
    };
    Text::new().emphasis(bed.name.clone()).plain(format!(": {size}, {grown}"))
}

/// The one line that tells what was assumed and what would settle it.
fn assumptions(bed: &BedPlan) -> Option<Text> {
    if bed.assumptions.is_empty() {
        return None;
    }
    let mut settle: Vec<&str> = Vec::new();
    for assumption in &bed.assumptions {
        if !settle.contains(&assumption.settle) {
            settle.push(assumption.settle);
        }
    }
    let assumed: Vec<&str> = bed.assumptions.iter().map(|one| one.assumed.as_str()).collect();
    let said = Text::with_code(&format!("Assumed: {}. ", assumed.join("; ")));
    Some(said.and(Text::with_code(&format!("What would settle it: {}.", settle.join("; ")))))
}

fn capital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Whether a weight shows as nothing.
fn nothing(quantity: impl Quantity) -> bool {
    crate::quantity::settle(quantity.base()).is_zero()
}
