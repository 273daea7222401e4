//! What a line just written means: the nutrients it brought, and where its bed now stands.

use serde::Serialize;

use super::list::{LineAnswer, label};
use crate::engine::plan::BedPlan;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{Mass, UnitSystem, units};
use crate::record::Line;
use crate::report::csv::sheet;
use crate::report::document::{Column, Document, Table};
use crate::report::json::{Measured, document};
use crate::report::number::{Scale, Showing, long_date};
use crate::report::text::Text;

/// A line just written or taken back.
#[derive(Clone, Copy, Debug)]
pub struct Echo<'a> {
    /// The line.
    pub line: &'a Line,
    /// Whether it was taken back.
    pub cancelled: bool,
    /// Its weight, where it can be told.
    pub weight: Option<Mass>,
    /// What it holds of each nutrient, where its weight can be told.
    pub brings: Option<Npk<Mass>>,
    /// The bed's plan with the record as it is now; nothing where the bed is not in the season.
    pub bed: Option<&'a BedPlan>,
    /// How amounts are shown.
    pub showing: Showing,
}

/// One nutrient of one crop or bed: needed, fed already, still short.
struct Stand {
    whose: String,
    nutrient: Nutrient,
    need: Mass,
    has: Mass,
    short: Mass,
}

fn stands(bed: &BedPlan) -> Vec<Stand> {
    let nitrogen = bed.plantings.iter().map(|planting| Stand {
        whose: planting.crop.name.clone(),
        nutrient: Nutrient::Nitrogen,
        need: planting.need.value(),
        has: planting.credit.value(),
        short: planting.shortfall.value(),
    });
    let minerals = [Nutrient::Phosphate, Nutrient::Potash].map(|nutrient| {
        let budget = bed.mineral(nutrient);
        Stand {
            whose: "the bed".to_owned(),
            nutrient,
            need: budget.need.value(),
            has: budget.credit.value(),
            short: budget.shortfall.value(),
        }
    });
    nitrogen.chain(minerals).collect()
}

/// The echo in words.
pub fn echo(echo: &Echo<'_>) -> Document {
    let said = &echo.line.application;
    let title = if echo.cancelled { "Taken back" } else { "Written down" };
    let mut out = Document::new(title);
    let mut text = Text::new()
        .plain(format!("Line {}: ", echo.line.number))
        .emphasis(format!("{} of {}", said.amount_text, said.material))
        .plain(format!(" on {}", said.bed));
    if !said.crop.is_empty() {
        text = text.plain(format!(" ({})", said.crop));
    }
    out.paragraph(text.plain(format!(", {}.", long_date(said.on))));
    if let (Some(weight), Some(brings)) = (echo.weight, &echo.brings) {
        let show = echo.showing;
        let parts: Vec<String> = brings
            .iter()
            .filter(|(_, mass)| **mass > Mass::ZERO)
            .map(|(nutrient, mass)| format!("{} {}", show.of(*mass), nutrient.word()))
            .collect();
        let held = if parts.is_empty() { "none of the three".to_owned() } else { parts.join(", ") };
        let by = said.analysis.as_ref().map_or(String::new(), |one| format!(" at {}", label(one)));
        out.paragraph(format!("That is {}{by}: {held}.", show.of(weight)));
    }
    if let Some(bed) = echo.bed {
        out.heading(2, format!("{} now", bed.name));
        bed_table(echo.showing, bed, &mut out);
    }
    if !echo.cancelled {
        out.paragraph(
            Text::new()
                .dim("A mistake is taken back with ")
                .code(format!("topdress record --undo {}", echo.line.number))
                .dim("."),
        );
    }
    out
}

fn bed_table(showing: Showing, bed: &BedPlan, out: &mut Document) {
    let stands = stands(bed);
    let scale = showing.scale_of(stands.iter().flat_map(|one| [one.need, one.has, one.short]));
    let unit = scale.symbol;
    let mut table = Table::new([
        Column::left("for"),
        Column::left("nutrient"),
        Column::right(format!("needs, {unit}")),
        Column::right(format!("fed so far, {unit}")),
        Column::right(format!("short, {unit}")),
    ])
    .caption("soil, earlier years and all that is recorded; for the whole season");
    for one in &stands {
        let number = |mass: Mass| Text::new().value(scale.fixed(mass.base()).number);
        table.row([
            Text::from(one.whose.clone()),
            Text::from(one.nutrient.word()),
            number(one.need),
            number(one.has),
            number(one.short),
        ]);
    }
    out.table(table);
}

#[derive(Serialize)]
struct EchoAnswer<'a> {
    document: &'static str,
    version: u32,
    state: &'static str,
    application: LineAnswer<'a>,
    weight: Option<Measured>,
    brings: Option<BringsAnswer>,
    bed: Vec<StandAnswer>,
}

#[derive(Serialize)]
struct BringsAnswer {
    nitrogen: Measured,
    phosphate: Measured,
    potash: Measured,
}

#[derive(Serialize)]
struct StandAnswer {
    #[serde(rename = "for")]
    whose: String,
    nutrient: &'static str,
    need: Measured,
    fed: Measured,
    short: Measured,
}

fn scale(system: UnitSystem) -> Scale {
    match system {
        UnitSystem::Us => Scale::new(&units::POUND, 3),
        UnitSystem::Metric => Scale::new(&units::KILOGRAM, 3),
    }
}

/// The echo for a program.
///
/// # Errors
/// Never in practice: every key is text.
pub fn echo_json(echo: &Echo<'_>) -> Result<String, serde_json::Error> {
    let scale = scale(echo.showing.system);
    let mass = |mass: Mass| Measured::new(&scale, mass.base());
    document(&EchoAnswer {
        document: "recorded",
        version: 1,
        state: if echo.cancelled { "cancelled" } else { "applied" },
        application: LineAnswer::of(echo.line),
        weight: echo.weight.map(mass),
        brings: echo.brings.map(|brings| BringsAnswer {
            nitrogen: mass(brings.nitrogen),
            phosphate: mass(brings.phosphate),
            potash: mass(brings.potash),
        }),
        bed: echo
            .bed
            .into_iter()
            .flat_map(stands)
            .map(|one| StandAnswer {
                nutrient: one.nutrient.word(),
                need: mass(one.need),
                fed: mass(one.has),
                short: mass(one.short),
                whose: one.whose,
            })
            .collect(),
    })
}

/// The echo as one row for a spreadsheet.
pub fn echo_sheet(echo: &Echo<'_>) -> String {
    let scale = scale(echo.showing.system);
    let unit = scale.symbol;
    let said = &echo.line.application;
    let mass = |mass: Option<Mass>| {
        mass.map_or(String::new(), |mass| crate::report::json::number(scale.value(mass.base())))
    };
    let brings = |nutrient: Nutrient| mass(echo.brings.map(|brings| brings[nutrient]));
    let row = [
        echo.line.number.to_string(),
        if echo.cancelled { "cancelled" } else { "applied" }.to_owned(),
        said.on.to_string(),
        said.bed.clone(),
        said.crop.clone(),
        said.material.clone(),
        said.amount_text.clone(),
        mass(echo.weight),
        brings(Nutrient::Nitrogen),
        brings(Nutrient::Phosphate),
        brings(Nutrient::Potash),
    ];
    let titles = [
        "line".to_owned(),
        "state".to_owned(),
        "date".to_owned(),
        "bed".to_owned(),
        "crop".to_owned(),
        "material".to_owned(),
        "amount".to_owned(),
        format!("weight {unit}"),
        format!("nitrogen {unit}"),
        format!("phosphate {unit}"),
        format!("potash {unit}"),
    ];
    sheet(&titles, [row])
}
