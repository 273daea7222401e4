//! Where no side-dress plan can hold a crop: from when, by how much, and which change would do.

use serde::Serialize;

use super::Reported;
use super::json::FigureAnswer;
use crate::calendar::Date;
use crate::engine::dose::{Dose, Purpose};
use crate::engine::plan::{Change, ChangeKind, PlantingPlan};
use crate::engine::side_dress::Shortage;
use crate::quantity::{Mass, share_from_float};
use crate::report::document::Document;
use crate::report::json::Written;
use crate::report::text::Text;
use crate::report::words::{Count, Joined};

/// Adds what is told of a planting that no plan can hold.
pub(super) fn add(reported: &Reported<'_>, planting: &PlantingPlan, document: &mut Document) {
    let Some(shortage) = &planting.shortage else { return };
    let name = &planting.crop.name;
    document.note(
        Text::new()
            .plain(format!(
                "side-dressings alone cannot keep nitrogen five days ahead of {name}: they fall \
                 behind from {}, on {}, by up to ",
                shortage.from.within(reported.year()),
                Count::new(shortage.days, "day")
            ))
            .shown(&reported.showing.of(kilograms(shortage.worst))),
    );
    let (does, rest): (Vec<&Change>, Vec<&Change>) =
        planting.changes.iter().partition(|change| change.left.is_none());
    let (helps, idle): (Vec<&Change>, Vec<&Change>) =
        rest.into_iter().partition(|change| helps(shortage, change));
    if planting.changes.is_empty() {
        return;
    }
    let mut text = match does.as_slice() {
        [] => Text::from("With one thing changed at a time, nothing would do"),
        [one] => Text::from(format!("With one thing changed, this would do: {}", told(&one.kind))),
        many => {
            let many: Vec<String> = many.iter().map(|change| told(&change.kind)).collect();
            Text::from(format!(
                "With one thing changed, any one of these would do: {}",
                many.join("; ")
            ))
        }
    };
    for change in helps {
        let left = change.left.as_ref().unwrap_or(shortage);
        text = text
            .plain(format!(
                ". To {} would help, but leave it behind on {}, by up to ",
                told(&change.kind),
                Count::new(left.days, "day")
            ))
            .shown(&reported.showing.of(kilograms(left.worst)));
    }
    if !idle.is_empty() {
        let idle: Vec<String> = idle.iter().map(|change| told(&change.kind)).collect();
        text = text.plain(format!(". To {} would not help", Joined::or(&idle)));
    }
    document.note(text);
}

/// What would be done, to follow "to".
fn told(kind: &ChangeKind) -> String {
    match kind {
        ChangeKind::Quicker { material, in_shed: true } => {
            format!("side-dress with {material} from the shed")
        }
        ChangeKind::Quicker { material, in_shed: false } => format!("side-dress with {material}"),
        ChangeKind::Earlier(day) => format!("begin side-dressing on {}", day.short()),
        ChangeKind::OneMore(day) => {
            format!("give one more side-dressing, on {}", day.short())
        }
    }
}

/// Whether a change that does not do makes it any better: a tenth less on the worst day, or fewer
/// days with no more on the worst.
fn helps(shortage: &Shortage, change: &Change) -> bool {
    let better = |left: &Shortage| {
        let fewer = left.days < shortage.days && left.worst <= shortage.worst;
        fewer || left.worst < shortage.worst * 0.9
    };
    change.left.as_ref().is_none_or(better)
}

fn kilograms(value: f64) -> Mass {
    Mass::from_kg(share_from_float(value))
}

/// What no plan can hold, for a program; nothing where one can.
#[derive(Serialize)]
pub(super) struct ShortAnswer<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    shortage: Option<ShortageAnswer<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    changes: Vec<ChangeAnswer<'a>>,
}

#[derive(Serialize)]
struct ShortageAnswer<'a> {
    from: Written<Date>,
    days: usize,
    worst: FigureAnswer<'a>,
    worst_on: Written<Date>,
    at_harvest: FigureAnswer<'a>,
}

#[derive(Serialize)]
struct ChangeAnswer<'a> {
    change: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    material: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    in_shed: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    on: Option<Written<Date>>,
    does: bool,
    days: usize,
    worst: FigureAnswer<'a>,
    doses: Vec<DoseAnswer<'a>>,
}

/// A side-dressing of the plan with the change.
#[derive(Serialize)]
struct DoseAnswer<'a> {
    date: Written<Date>,
    material: &'a str,
    weight: FigureAnswer<'a>,
}

impl<'a> ShortAnswer<'a> {
    pub(super) fn of(reported: &Reported<'_>, planting: &'a PlantingPlan) -> Self {
        let weight = |value: f64| FigureAnswer::plain(reported, kilograms(value));
        let shortage = planting.shortage.as_ref().map(|shortage| ShortageAnswer {
            from: Written(shortage.from),
            days: shortage.days,
            worst: weight(shortage.worst),
            worst_on: Written(shortage.worst_on),
            at_harvest: weight(shortage.at_end),
        });
        let dose_answer = |dose: &'a Dose| DoseAnswer {
            date: Written(dose.date),
            material: dose.ready.name(),
            weight: FigureAnswer::plain(reported, dose.weight.value()),
        };
        let answer = |change: &'a Change| {
            let left = change.left.as_ref();
            let dressings = change.doses.iter().filter(|dose| dose.purpose == Purpose::SideDress);
            let (name, material, in_shed, on) = match &change.kind {
                ChangeKind::Quicker { material, in_shed } => {
                    ("quicker material", Some(material.as_str()), Some(*in_shed), None)
                }
                ChangeKind::Earlier(day) => ("earlier date", None, None, Some(Written(*day))),
                ChangeKind::OneMore(day) => ("one more split", None, None, Some(Written(*day))),
            };
            ChangeAnswer {
                change: name,
                material,
                in_shed,
                on,
                does: left.is_none(),
                days: left.map_or(0, |left| left.days),
                worst: weight(left.map_or(0.0, |left| left.worst)),
                doses: dressings.map(dose_answer).collect(),
            }
        };
        Self { shortage, changes: planting.changes.iter().map(answer).collect() }
    }
}
