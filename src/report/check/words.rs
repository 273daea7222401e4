//! Evidence, reasons and bases in plain words.

use super::Checked;
use crate::engine::check::{Basis, Evidence, From, Hold, NotARescue};
use crate::quantity::Rate;
use crate::report::number::long_date;

/// "7 points", "1 point", "-2 points".
pub(super) fn points(score: i32) -> String {
    if score.abs() == 1 { format!("{score} point") } else { format!("{score} points") }
}

/// A sign with where it comes from.
pub(super) fn evidence(checked: &Checked<'_>, one: &Evidence<'_>) -> String {
    let name = &one.sign.name;
    match detail(checked, &one.from) {
        Some(detail) => format!("{name} ({detail})"),
        None => name.clone(),
    }
}

/// What a piece of evidence rests on; nothing for what was seen.
pub(super) fn detail(checked: &Checked<'_>, from: &From) -> Option<String> {
    let show = checked.showing;
    Some(match from {
        From::Seen => return None,
        From::Nitrate { found, critical } => {
            format!("found {}, enough is {}", show.of(*found), show.of(*critical))
        }
        From::Acidity(ph) => format!("pH {}", ph.normalize()),
        From::Phosphorus(class) => format!("tested {}", class.words()),
        From::SoilTemperature(soil) => {
            format!("about {} by the garden's climate", show.of(*soil))
        }
        From::Rain(depth) => format!("{} fell", show.of(*depth)),
        From::Spread { material, on } => format!("{material}, {}", long_date(*on)),
        From::Harvest(0) => "harvest is today".to_owned(),
        From::Harvest(days) => format!("{days} days to harvest"),
        From::Budget(short) if *short > Rate::ZERO => {
            format!("{} short", show.field_rate(*short))
        }
        From::Budget(short) => {
            format!("{} more than was needed so far", show.field_rate(-*short))
        }
    })
}

/// A key for programs, and why in words.
pub(super) fn hold(hold: &Hold) -> (&'static str, String) {
    let (key, words) = match hold {
        Hold::Saturated => (
            "saturated",
            "the soil is saturated: roots cannot take nitrogen up and it would be lost; let it \
             drain first",
        ),
        Hold::Roots => (
            "roots",
            "the roots are galled or rotten: no feeding mends them, and salts hurt them more",
        ),
        Hold::Dry => ("dry", "the soil is dry: water first, and look again"),
        Hold::Salt => {
            ("salt", "there are signs of salt: more fertilizer would burn more; wash it down first")
        }
        Hold::OtherCause { name } => {
            return ("other-cause", format!("the likely cause is another: {name}"));
        }
        Hold::Unsettled => {
            ("unsettled", "the cause is not settled: look first, and feed a small part at most")
        }
        Hold::NitrateEnough => (
            "nitrate-enough",
            "the soil's nitrate is enough for this crop; a test outranks any sum",
        ),
        Hold::NotShort => ("not-short", "by its budget the bed is not short of nitrogen now"),
        Hold::TooLate => {
            ("too-late", "the last useful day for nitrogen is past: it would not reach the harvest")
        }
    };
    (key, words.to_owned())
}

/// A key for programs, and what a dose is sized on.
pub(super) const fn basis(basis: Basis) -> (&'static str, &'static str) {
    match basis {
        Basis::Nitrate => ("nitrate", "what the nitrate test lacks to the level that is enough"),
        Basis::Budget => ("budget", "what the bed's budget is short of today"),
        Basis::Least => {
            ("least", "the least dose worth giving, as nothing measures what is lacking")
        }
        Basis::Container => ("container", "the most a container may be given at once"),
    }
}

/// A key for programs, and why a material is no rescue.
pub(super) const fn refused(why: NotARescue) -> (&'static str, &'static str) {
    match why {
        NotARescue::FeedsTheSoil => {
            ("feeds-the-soil", "it feeds the soil over years, not a hungry crop this month")
        }
        NotARescue::NoNitrogen => ("no-nitrogen", "it carries no nitrogen"),
        NotARescue::TooPoor => ("too-poor", "it holds too little nitrogen to act in time"),
        NotARescue::TooSlowNow => {
            ("too-slow-now", "at today's soil temperature it frees too little within three weeks")
        }
    }
}
