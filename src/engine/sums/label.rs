//! What a pack holds.

use super::from::{From, read_from};
use super::page::{Page, Part};
use super::{Ask, Refusal, Sum, rules};
use crate::figure::Figure;
use crate::nutrient::Nutrient;
use crate::quantity::{Density, Mass, Volume, read_said};

/// `sum label 16-4-8 --weight "100 lb"`.
#[derive(Clone, Debug, Default)]
pub struct Label {
    /// An analysis or a material.
    pub from: String,
    /// The weight of the pack, or a volume of a liquid.
    pub weight: String,
    /// Weight per volume, where the pack is told by volume.
    pub density: Option<String>,
}

const EXAMPLE: &str = "sum label 16-4-8 --weight \"100 lb\"";

/// What a pack holds of each nutrient, and what is left of it.
///
/// # Errors
/// Where a text cannot be read, or a volume has no density.
pub fn label(asked: &Label, ask: &Ask<'_>) -> Result<Sum, Refusal> {
    let mut page = Page::new(ask, EXAMPLE);
    let from = read_from(&mut page, "the analysis", &asked.from)?;
    let weight = weight_of(&mut page, "--weight", &from, &asked.weight, asked.density.as_deref())?;
    let mut parts: Vec<Figure<Mass>> = Vec::new();
    for nutrient in Nutrient::ALL {
        let part = (&weight * &from.holds[nutrient]).by(nutrient.word(), &rules::CONTENT);
        page.answer(Part::Asked, nutrient.word(), &part);
        parts.push(part);
    }
    let filler = (&weight - &Figure::total(&parts)).by("filler", &rules::FILLER);
    page.answer(Part::Along, "filler", &filler);
    if let Some(release) = &from.release {
        let counts = (&parts[0] * release).by("nitrogen that counts", &rules::RELEASE);
        page.answer(Part::Asked, "nitrogen that counts", &counts);
    }
    page.done()
}

/// Reads a weight, or a volume that is turned into a weight.
pub fn weight_of(
    page: &mut Page<'_>,
    option: &str,
    from: &From,
    text: &str,
    density: Option<&str>,
) -> Result<Figure<Mass>, Refusal> {
    let Ok(volume) = read_said::<Volume>(text) else {
        return page.asked_positive::<Mass>(option, "weight", text);
    };
    page.understood(format!("{} {}", option.trim_start_matches('-'), text.trim()));
    let volume = page.leaf("volume", volume);
    if volume.is_zero() {
        let what = format!("{option} `{}` is nothing, so there is nothing to reckon", text.trim());
        return Err(page.refuse(what, "write an amount above zero"));
    }
    let density = density_of(page, from, density, text)?;
    Ok((&density * &volume).by("weight", &rules::DENSITY))
}

/// The weight per volume: as given, else the catalogue's.
pub fn density_of(
    page: &mut Page<'_>,
    from: &From,
    density: Option<&str>,
    volume: &str,
) -> Result<Figure<Density>, Refusal> {
    let listed = match density {
        Some(text) => {
            return page.asked_positive::<Density>("--density", "weight per volume", text);
        }
        None => from.density(page),
    };
    if let Some(listed) = listed {
        page.note(format!(
            "weight per volume of {} as listed; weighing a measure of yours is surer",
            from.name
        ));
        return Ok(listed);
    }
    let (name, volume) = (&from.name, volume.trim());
    Err(page.refuse(
        format!("`{volume}` is a volume, and what a volume of `{name}` weighs is not known"),
        "write it, like `--density \"1000 lb/yd3\"` or `--density \"0.4 lb/cup\"`",
    ))
}
