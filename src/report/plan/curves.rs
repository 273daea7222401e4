//! A bed's nitrogen by the day: a chart for each planting, how well supply keeps up, and what equal
//! doses at the published weeks would have done.

use rust_decimal::Decimal;
use serde::Serialize;

use super::Reported;
use crate::calendar::Date;
use crate::engine::dose::Dose;
use crate::engine::plan::{BedPlan, PlantingPlan};
use crate::engine::setting::Setting;
use crate::engine::timeline::{Balance, Timeline};
use crate::engine::trifle;
use crate::figure::Figure;
use crate::quantity::{Kind, Mass, share_from_float};
use crate::report::chart::{Curve, DoseMark, Look, Series};
use crate::report::document::{Block, Document};
use crate::report::json::number;
use crate::report::number::Scale;
use crate::report::text::Text;

pub(super) fn add(reported: &Reported<'_>, bed: &BedPlan, document: &mut Document) {
    let setting = Setting::new(reported.season, reported.showing.system, reported.today);
    for planting in &bed.plantings {
        if planting.need.is_zero() {
            continue;
        }
        let timeline = timeline(&setting, planting, &bed.doses);
        let name = &planting.crop.name;
        document.heading(3, format!("Nitrogen of {name}, day by day"));
        document.push(Block::Curve(chart(reported, planting, &timeline, &bed.doses)));
        document.paragraph(told(reported, "This plan", &timeline));
        if let Some(by_weeks) = &bed.by_weeks {
            let other = self::timeline(&setting, planting, by_weeks);
            let what = "Equal doses at the published weeks";
            document.paragraph(told(reported, what, &other));
        }
    }
}

/// The curves of a planting under some doses.
fn timeline(setting: &Setting<'_>, planting: &PlantingPlan, doses: &[Dose]) -> Timeline {
    let serving: Vec<(&Dose, &Figure<Mass>)> = doses
        .iter()
        .filter(|dose| dose.certain())
        .flat_map(|dose| dose.counts.iter().map(move |(at, counts)| (*at, dose, counts)))
        .filter(|(at, ..)| *at == planting.index)
        .map(|(_, dose, counts)| (dose, counts))
        .collect();
    let need = planting.need.value();
    Timeline::of(
        &setting.climate,
        &planting.crop,
        &planting.life,
        need,
        &planting.credits,
        &serving,
    )
}

fn kilograms(value: f64) -> Mass {
    Mass::from_kg(share_from_float(value))
}

fn chart(
    reported: &Reported<'_>,
    planting: &PlantingPlan,
    timeline: &Timeline,
    doses: &[Dose],
) -> Curve {
    let supply = timeline.supply();
    let largest = supply.iter().chain(&timeline.demand).copied().fold(0.0, f64::max);
    let scale = reported.showing.scale(Kind::Mass, [kilograms(largest).base()]);
    let soil = timeline.credits.iter().fold(vec![0.0; supply.len()], |mut sum, source| {
        for (total, value) in sum.iter_mut().zip(&source.by_day) {
            *total += value;
        }
        sum
    });
    let series = |name: &str, look, values: &[f64]| Series {
        name: name.to_owned(),
        look,
        points: points(timeline.first, &scale, values),
    };
    let marks = doses.iter().filter(|dose| dose.counts.iter().any(|(at, _)| *at == planting.index));
    Curve {
        title: format!("What {} has needed and had by each day", planting.crop.name),
        description: format!(
            "Added up from {}.",
            reported.span(planting.life.planted, planting.life.end)
        ),
        unit: scale.symbol.to_owned(),
        series: vec![
            series("available", Look::Area, &supply),
            series("needed", Look::Line, &timeline.demand),
            series("without doses", Look::Line, &soil),
        ],
        doses: marks
            .map(|dose| DoseMark {
                date: dose.date.max(timeline.first),
                label: format!(
                    "{} {}",
                    reported.showing.of(dose.weight.value()),
                    dose.ready.name()
                ),
            })
            .collect(),
    }
}

fn points(first: Date, scale: &Scale, values: &[f64]) -> Vec<(Date, Decimal)> {
    (0..)
        .zip(values)
        .map(|(day, value)| (first + day, scale.value(kilograms(*value).base())))
        .collect()
}

/// "This plan: behind on 3 days, most on Tue 22 Jun, by 0.2 oz; on an average day 0.5 oz lies unused,
/// and 0.3 oz is left at the end".
fn told(reported: &Reported<'_>, what: &str, timeline: &Timeline) -> Text {
    let showing = reported.showing;
    let balance = timeline.balance();
    let text = Text::new().emphasis(format!("{what}: "));
    let trifle = trifle::of_float(timeline.demand.last().copied().unwrap_or_default());
    let text = match (balance.days_short, balance.worst) {
        (0, _) | (_, None) => text.plain("never behind the need"),
        (_, Some((on, lack))) if lack <= trifle => text
            .plain("keeps up with the need, but for ")
            .shown(&showing.of(kilograms(lack)))
            .plain(format!(" on {}", on.within(reported.year()))),
        (days, Some((on, lack))) => text
            .plain("behind the need on ")
            .value(days.to_string())
            .plain(if days == 1 { " day, " } else { " days, most on " })
            .plain(format!("{}, by ", on.within(reported.year())))
            .shown(&showing.of(kilograms(lack))),
    };
    let days = u32::try_from(timeline.demand.len()).map_or(1.0, f64::from).max(1.0);
    text.plain("; on an average day ")
        .shown(&showing.of(kilograms(balance.unused / days)))
        .plain(" lies unused, and ")
        .shown(&showing.of(kilograms(balance.left)))
        .plain(" is left at the end")
}

/// The curves of a planting for a program.
#[derive(Serialize)]
pub(super) struct CurvesAnswer {
    id: String,
    unit: &'static str,
    first: String,
    needed: Vec<String>,
    credits: Vec<SourceAnswer>,
    doses: Vec<SourceAnswer>,
    balance: BalanceAnswer,
    #[serde(skip_serializing_if = "Option::is_none")]
    balance_by_published_weeks: Option<BalanceAnswer>,
}

#[derive(Serialize)]
struct SourceAnswer {
    name: String,
    by_day: Vec<String>,
}

#[derive(Serialize)]
struct BalanceAnswer {
    days_short: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    worst_on: Option<String>,
    worst: String,
    unused_weight_days: String,
    left_at_end: String,
}

/// The curves of every planting of a bed for a program.
pub(super) fn answers(reported: &Reported<'_>, bed: &BedPlan) -> Vec<CurvesAnswer> {
    let setting = Setting::new(reported.season, reported.showing.system, reported.today);
    let unit = super::json::unit_of::<Mass>(reported.showing.system);
    let shown = |value: f64| number(unit.of_base(kilograms(value).base()));
    let balance = |balance: &Balance| BalanceAnswer {
        days_short: balance.days_short,
        worst_on: balance.worst.map(|(on, _)| on.to_string()),
        worst: shown(balance.worst.map_or(0.0, |(_, lack)| lack)),
        unused_weight_days: shown(balance.unused),
        left_at_end: shown(balance.left),
    };
    let sources = |sources: &[crate::engine::timeline::Source]| {
        sources
            .iter()
            .map(|source| SourceAnswer {
                name: source.label.clone(),
                by_day: source.by_day.iter().map(|value| shown(*value)).collect(),
            })
            .collect()
    };
    bed.plantings
        .iter()
        .map(|planting| {
            let timeline = timeline(&setting, planting, &bed.doses);
            let by_weeks = bed.by_weeks.as_ref();
            CurvesAnswer {
                id: format!("{}/{}/nitrogen/curves", bed.slug, planting.slug),
                unit: unit.symbol,
                first: timeline.first.to_string(),
                needed: timeline.demand.iter().map(|value| shown(*value)).collect(),
                credits: sources(&timeline.credits),
                doses: sources(&timeline.doses),
                balance: balance(&timeline.balance()),
                balance_by_published_weeks: by_weeks
                    .map(|doses| balance(&self::timeline(&setting, planting, doses).balance())),
            }
        })
        .collect()
}

/// Rows of the curves for a spreadsheet: path, series, date, value, unit.
pub(super) fn rows(reported: &Reported<'_>, bed: &BedPlan) -> Vec<[String; 6]> {
    let setting = Setting::new(reported.season, reported.showing.system, reported.today);
    let unit = super::json::unit_of::<Mass>(reported.showing.system);
    let mut rows = Vec::new();
    for planting in &bed.plantings {
        let timeline = timeline(&setting, planting, &bed.doses);
        let supply = timeline.supply();
        let id = format!("{}/{}/nitrogen/curves", bed.slug, planting.slug);
        for (name, values) in [("needed", &timeline.demand), ("available", &supply)] {
            for (day, value) in (0..).zip(values) {
                let shown = number(unit.of_base(kilograms(*value).base()));
                let figure = format!("{name} by {}", timeline.first + day);
                rows.push([
                    id.clone(),
                    figure,
                    shown,
                    unit.symbol.to_owned(),
                    String::new(),
                    String::new(),
                ]);
            }
        }
    }
    rows
}
