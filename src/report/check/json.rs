//! A check for a program. Version 1: amounts as text of twelve significant digits with their unit.

use serde::Serialize;

use super::{Checked, words};
use crate::engine::check::{Dose, Evidence, Offer, Verdict};
use crate::quantity::{Mass, Rate, UnitSystem, units};
use crate::report::json::{Measured, document};
use crate::report::number::Scale;

#[derive(Serialize)]
struct CheckAnswer<'a> {
    document: &'static str,
    version: u32,
    bed: &'a str,
    crop: &'a str,
    on: String,
    likely: Option<&'a str>,
    sureness: &'static str,
    causes: Vec<CauseAnswer<'a>>,
    look_at: Vec<&'a str>,
    holds: Vec<HoldAnswer>,
    dose: Option<DoseAnswer<'a>>,
    avoid: Vec<SaidAnswer<'a>>,
    look_again: String,
}

#[derive(Serialize)]
struct CauseAnswer<'a> {
    cause: &'a str,
    name: &'a str,
    points: i32,
    to_begin_with: i32,
    #[serde(rename = "for")]
    speaks_for: Vec<EvidenceAnswer<'a>>,
    against: Vec<EvidenceAnswer<'a>>,
    look: &'a str,
    act: &'a str,
    facts: Vec<SaidAnswer<'a>>,
}

#[derive(Serialize)]
struct EvidenceAnswer<'a> {
    sign: &'a str,
    says: &'a str,
    points: i32,
    #[serde(skip_serializing_if = "Option::is_none")]
    detail: Option<String>,
}

#[derive(Serialize)]
struct SaidAnswer<'a> {
    says: &'a str,
    source: &'a str,
}

#[derive(Serialize)]
struct HoldAnswer {
    hold: &'static str,
    says: String,
    stands: bool,
}

#[derive(Serialize)]
struct DoseAnswer<'a> {
    rate: Option<Measured>,
    nitrogen: Measured,
    basis: &'static str,
    materials: Vec<OfferAnswer<'a>>,
    refused: Vec<RefusedAnswer<'a>>,
}

#[derive(Serialize)]
struct OfferAnswer<'a> {
    material: &'a str,
    speed: &'static str,
    weight: Measured,
    #[serde(skip_serializing_if = "Option::is_none")]
    per_plant: Option<Measured>,
    #[serde(skip_serializing_if = "Option::is_none")]
    per_10_ft_of_row: Option<Measured>,
    #[serde(skip_serializing_if = "Option::is_none")]
    about: Option<Measured>,
    green_from: String,
    green_by: String,
}

#[derive(Serialize)]
struct RefusedAnswer<'a> {
    material: &'a str,
    why: &'static str,
    says: &'static str,
}

/// Writes the answer as JSON.
///
/// # Errors
/// Never in practice: every key is text.
pub fn json(checked: &Checked<'_>) -> Result<String, serde_json::Error> {
    let answer = checked.answer;
    let said = |says, source| SaidAnswer { says, source };
    document(&CheckAnswer {
        document: "check",
        version: 1,
        bed: checked.bed,
        crop: checked.crop,
        on: checked.today.to_string(),
        likely: answer.weighed.first().filter(|_| answer.told()).map(|one| one.cause.key.as_str()),
        sureness: answer.weighed.sureness.word(),
        causes: answer
            .weighed
            .verdicts
            .iter()
            .filter(|_| answer.told())
            .map(|one| cause(checked, one))
            .collect(),
        look_at: answer.looks.iter().map(|look| look.what(checked.containers)).collect(),
        holds: answer
            .holds
            .iter()
            .map(|one| {
                let (hold, says) = words::hold(one);
                HoldAnswer { hold, says, stands: one.stands() }
            })
            .collect(),
        dose: answer.dose.as_ref().map(|one| dose(checked, one)),
        avoid: checked.signs.avoids.iter().map(|one| said(&one.says, &one.source)).collect(),
        look_again: answer.look_again.to_string(),
    })
}

fn cause<'a>(checked: &Checked<'a>, verdict: &'a Verdict<'a>) -> CauseAnswer<'a> {
    let list = |all: &'a [(i32, Evidence<'a>)]| {
        all.iter()
            .map(|(points, one)| EvidenceAnswer {
                sign: &one.sign.key,
                says: &one.sign.name,
                points: *points,
                detail: words::detail(checked, &one.from),
            })
            .collect()
    };
    let facts = verdict.cause.facts.iter();
    CauseAnswer {
        cause: &verdict.cause.key,
        name: &verdict.cause.name,
        points: verdict.score,
        to_begin_with: verdict.cause.prior,
        speaks_for: list(&verdict.speaks_for),
        against: list(&verdict.speaks_against),
        look: verdict.cause.look(checked.containers),
        act: verdict.cause.act(checked.containers),
        facts: facts.map(|fact| SaidAnswer { says: &fact.says, source: &fact.source }).collect(),
    }
}

fn dose<'a>(checked: &Checked<'_>, dose: &'a Dose) -> DoseAnswer<'a> {
    let (weight, area) = match checked.showing.system {
        UnitSystem::Us => (&units::POUND, &units::POUND_PER_ACRE),
        UnitSystem::Metric => (&units::KILOGRAM, &units::KILOGRAM_PER_HECTARE),
    };
    let mass = |value: Mass| Measured::new(&Scale::new(weight, 3), value.base());
    let rate = |value: Rate| Measured::new(&Scale::new(area, 1), value.base());
    let offer = |offer: &'a Offer| {
        let (first, last) = offer.speed.green_after();
        OfferAnswer {
            material: &offer.name,
            speed: offer.speed.words(),
            weight: mass(offer.weight.value()),
            per_plant: offer.per_plant.as_ref().map(|each| mass(each.value())),
            per_10_ft_of_row: offer.per_ten_feet.as_ref().map(|row| mass(row.value())),
            about: offer
                .volume
                .map(|volume| Measured::new(&checked.showing.scale_of([volume]), volume.base())),
            green_from: (checked.today + first).to_string(),
            green_by: (checked.today + last).to_string(),
        }
    };
    let refused = dose.refused.iter().map(|(material, why)| {
        let (why, says) = words::refused(*why);
        RefusedAnswer { material, why, says }
    });
    DoseAnswer {
        rate: dose.rescue.rate.as_ref().map(|figure| rate(figure.value())),
        nitrogen: mass(dose.rescue.nitrogen.value()),
        basis: words::basis(dose.rescue.basis).0,
        materials: dose.offers.iter().map(offer).collect(),
        refused: refused.collect(),
    }
}
