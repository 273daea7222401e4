//! Cups and spoons into weights, and back.

use super::from::read_from;
use super::label::density_of;
use super::page::{Page, Part};
use super::{Ask, InUnit, Refusal, Sum, rules};
use crate::quantity::{Mass, Unit, UnitSystem, Volume, read_said, units};

/// `sum measure "2 cup" --from urea`.
#[derive(Clone, Debug, Default)]
pub struct Measure {
    /// A volume, or a weight.
    pub amount: String,
    /// The material.
    pub from: String,
    /// Weight per volume, where it was measured.
    pub density: Option<String>,
}

const EXAMPLE: &str = "sum measure \"2 cup\" --from urea";

/// What a volume of a material weighs, or what volume a weight of it fills.
///
/// # Errors
/// Where a text cannot be read, or the weight per volume is not known.
pub fn measure(asked: &Measure, ask: &Ask<'_>) -> Result<Sum, Refusal> {
    let mut page = Page::new(ask, EXAMPLE);
    let from = read_from(&mut page, "--from", &asked.from)?;
    if read_said::<Volume>(&asked.amount).is_ok() {
        let volume = page.asked_positive::<Volume>("the amount", "volume", &asked.amount)?;
        let density = density_of(&mut page, &from, asked.density.as_deref(), &asked.amount)?;
        let weight = (&density * &volume).by("weight", &rules::DENSITY);
        page.answer(Part::Asked, "weight", &weight);
    } else {
        let weight = page.asked_positive::<Mass>("the amount", "weight", &asked.amount)?;
        let density = density_of(&mut page, &from, asked.density.as_deref(), &asked.amount)?;
        let mut measures: Vec<(&str, &'static Unit)> = vec![
            ("cup", &units::CUP),
            ("tbsp", &units::TABLESPOON),
            ("tsp", &units::TEASPOON),
            ("pint", &units::PINT),
        ];
        if page.units.system() == UnitSystem::Metric {
            measures.push(("mL", &units::MILLILITRE));
        }
        for (name, unit) in measures {
            if let Some(volume) = weight.over(&density) {
                let label = format!("volume in {name}");
                page.units.note(&label, InUnit::Of(unit.into()));
                page.answer(Part::Asked, name, &volume.by(label, &rules::DENSITY));
            }
        }
    }
    page.note("a filled measure is easily 10 % off: weigh where you can, and read volumes to a quarter cup");
    page.done()
}
