//! A dose stirred into potting mix, so that a small weight can be shared out evenly.

use rust_decimal::Decimal;

use super::from::read_from;
use super::need::plant_count;
use super::page::{Page, Part};
use super::{Ask, InUnit, Refusal, Sum, rules};
use crate::figure::Figure;
use crate::quantity::{Density, Mass, UnitSystem, Volume, Written, units};

/// `sum mix --dose "12 oz" --from "feather meal" --into "5 gal" --plants 40`.
#[derive(Clone, Debug, Default)]
pub struct Mix {
    /// The dose.
    pub dose: String,
    /// The material.
    pub from: Option<String>,
    /// The volume of mix.
    pub into: String,
    /// How many plants share it.
    pub plants: Option<String>,
}

const EXAMPLE: &str =
    "sum mix --dose \"12 oz\" --from \"feather meal\" --into \"5 gal\" --plants 40";

/// What a dose comes to for each gallon of mix and for each plant.
///
/// # Errors
/// Where a text cannot be read.
pub fn mix(asked: &Mix, ask: &Ask<'_>) -> Result<Sum, Refusal> {
    let mut page = Page::new(ask, EXAMPLE);
    let from = match &asked.from {
        Some(text) => Some(read_from(&mut page, "--from", text)?),
        None => None,
    };
    let dose = page.asked_positive::<Mass>("--dose", "dose", &asked.dose)?;
    let into = page.asked_positive::<Volume>("--into", "mix", &asked.into)?;
    let (name, unit) = match page.units.of_step(&into.step()) {
        InUnit::Of(unit) if unit.system() == Some(UnitSystem::Metric) => {
            ("per litre", &units::LITRE)
        }
        _ => ("per gallon", &units::GALLON),
    };
    if let Some(each) = dose.over(&into) {
        let each = each.by(name, &rules::EACH);
        page.units.note(name, InUnit::Of(Written::per(page.units.weight(), unit)));
        page.answer(Part::Asked, name, &each);
        if let Some(from) = &from {
            from.mind(&mut page);
            let nitrogen =
                (&each * &from.holds.nitrogen).by("nitrogen in the mix", &rules::CONTENT);
            let most = Density::from_base(
                Decimal::ONE / Decimal::ONE_THOUSAND / units::GALLON.to_base(Decimal::ONE),
            );
            if nitrogen.value() > most {
                page.caution_text("this mix is strong: in pots keep to 1 g of nitrogen in a gallon of mix at once; spread it beside plants in a bed, off the stems, and water it in", rules::POTS.source);
            }
        }
    }
    if let Some(text) = &asked.plants {
        let plants = plant_count(&mut page, text)?;
        if let Some(each) = dose.over(&plants) {
            page.answer(Part::Asked, "per plant", &each.by("per plant", &rules::EACH));
        }
        if let Some(each) = into.over(&plants) {
            let handful = if unit.symbol == "gal" { &units::CUP } else { &units::MILLILITRE };
            page.units.note("mix per plant", InUnit::Of(handful.into()));
            let each: Figure<Volume> = each.by("mix per plant", &rules::EACH);
            page.answer(Part::Along, "mix per plant", &each);
        }
    }
    page.done()
}
