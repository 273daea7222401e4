//! An amount in other units.

use super::page::{Page, Part};
use super::{Ask, InUnit, Refusal, Sum, rules};
use crate::figure::Figure;
use crate::quantity::{
    Area, Bounded, Concentration, Density, Length, Mass, PlantRate, Rate, RowRate, Share,
    Temperature, UnitKind, Volume, Written, read_any_said,
};

/// `sum rate "264 lb/acre" --to "lb/1000 ft2"`.
#[derive(Clone, Debug, Default)]
pub struct RateSum {
    /// The amount.
    pub rate: String,
    /// The unit wanted; nothing takes the usual one of the other system.
    pub to: Option<String>,
    /// Distance between rows, between a rate for an area and one for a length of row.
    pub row_spacing: Option<String>,
}

const EXAMPLE: &str = "sum rate \"264 lb/acre\" --to \"lb/1000 ft2\"";

/// The same amount in another unit.
///
/// # Errors
/// Where a text cannot be read, or the two units measure different things.
pub fn rate(asked: &RateSum, ask: &Ask<'_>) -> Result<Sum, Refusal> {
    let mut page = Page::new(ask, EXAMPLE);
    let (_, unit) = read_any_said(&asked.rate, "264 lb/acre")
        .map_err(|fault| page.misread("the rate", &fault))?;
    page.understood(asked.rate.trim());
    let to = match &asked.to {
        Some(to) => {
            Written::read(to, "lb/1000 ft2").map_err(|fault| page.misread("--to", &fault))?
        }
        None => usual(&page, unit)?,
    };
    let (have, want) = (unit.kind(), to.kind());
    if have == want {
        same_kind(&mut page, &asked.rate, have, to)?;
    } else if let (Some(UnitKind::RATE), Some(UnitKind::PER_ROW), Some(spacing)) =
        (have, want, &asked.row_spacing)
    {
        let rate = page.asked::<Rate>("the rate", "rate over the ground", &asked.rate)?;
        let spacing = page.asked_positive::<Length>("--row-spacing", "row spacing", spacing)?;
        let per_row = (&rate * &spacing).by("rate", &rules::ROWS);
        page.units.note("rate", InUnit::Of(to));
        page.answer(Part::Asked, "rate", &per_row);
    } else if let (Some(UnitKind::PER_ROW), Some(UnitKind::RATE), Some(spacing)) =
        (have, want, &asked.row_spacing)
    {
        let per_row = page.asked::<RowRate>("the rate", "rate along the row", &asked.rate)?;
        let spacing = page.asked_positive::<Length>("--row-spacing", "row spacing", spacing)?;
        if let Some(rate) = per_row.over(&spacing) {
            page.units.note("rate", InUnit::Of(to));
            page.answer(Part::Asked, "rate", &rate.by("rate", &rules::ROWS));
        }
    } else {
        return Err(mixed(&page, unit, to));
    }
    page.done()
}

/// Refuses units that measure different things.
fn mixed(page: &Page<'_>, have: Written, want: Written) -> Refusal {
    let rows = |one: Option<UnitKind>, other: Option<UnitKind>| {
        one == Some(UnitKind::RATE) && other == Some(UnitKind::PER_ROW)
    };
    let (a, b) = (have.kind(), want.kind());
    let mend = if rows(a, b) || rows(b, a) {
        "between ground and rows add the distance between rows, like `--row-spacing \"3 ft\"`"
            .to_owned()
    } else {
        let said = noun(a).map_or_else(|| "the same thing".to_owned(), str::to_owned);
        format!("write a unit of {said} after --to")
    };
    let name = |kind: Option<UnitKind>, unit: Written| {
        noun(kind).map_or_else(|| format!("`{unit}`"), |noun| format!("{noun} (`{unit}`)"))
    };
    page.refuse(format!("{} cannot be turned into {}", name(a, have), name(b, want)), mend)
}

/// What a kind is called, with its article.
pub fn noun(kind: Option<UnitKind>) -> Option<&'static str> {
    Some(match kind? {
        UnitKind::MASS => Mass::NOUN,
        UnitKind::AREA => Area::NOUN,
        UnitKind::LENGTH => Length::NOUN,
        UnitKind::VOLUME => Volume::NOUN,
        UnitKind::RATE => Rate::NOUN,
        UnitKind::PER_ROW => RowRate::NOUN,
        UnitKind::PER_PLANT => PlantRate::NOUN,
        UnitKind::DENSITY => Density::NOUN,
        UnitKind::Share => Share::NOUN,
        UnitKind::Concentration => Concentration::NOUN,
        UnitKind::Temperature => Temperature::NOUN,
        UnitKind::Money | UnitKind::Time | UnitKind::Physical { .. } => return None,
    })
}

fn same_kind(
    page: &mut Page<'_>,
    text: &str,
    kind: Option<UnitKind>,
    to: Written,
) -> Result<(), Refusal> {
    match kind {
        Some(UnitKind::MASS) => turn::<Mass>(page, text, to),
        Some(UnitKind::AREA) => turn::<Area>(page, text, to),
        Some(UnitKind::LENGTH) => turn::<Length>(page, text, to),
        Some(UnitKind::VOLUME) => turn::<Volume>(page, text, to),
        Some(UnitKind::RATE) => turn::<Rate>(page, text, to),
        Some(UnitKind::PER_ROW) => turn::<RowRate>(page, text, to),
        Some(UnitKind::PER_PLANT) => turn::<PlantRate>(page, text, to),
        Some(UnitKind::DENSITY) => turn::<Density>(page, text, to),
        Some(UnitKind::Share) => turn::<Share>(page, text, to),
        Some(UnitKind::Concentration) => turn::<Concentration>(page, text, to),
        _ => Err(page.refuse(
            format!("`{}` is no amount that is turned into other units here", text.trim()),
            "write a weight, a length, an area, a volume or one for another, like `264 lb/acre`",
        )),
    }
}

fn turn<Q: Bounded>(page: &mut Page<'_>, text: &str, to: Written) -> Result<(), Refusal> {
    let amount: Figure<Q> = page.asked("the rate", "amount", text)?;
    page.units.note("rate", InUnit::Of(to));
    let same = amount.called("rate");
    page.answer(Part::Asked, "rate", &same);
    Ok(())
}

/// The usual unit of the other system for the same thing.
fn usual(page: &Page<'_>, unit: Written) -> Result<Written, Refusal> {
    use crate::quantity::{UnitSystem, units};
    let us = unit.system() == Some(UnitSystem::Us);
    let pick = |metric: Written, us_unit: Written| if us { metric } else { us_unit };
    Ok(match unit.kind() {
        Some(UnitKind::MASS) => {
            pick(Written::plain(&units::KILOGRAM), Written::plain(&units::POUND))
        }
        Some(UnitKind::AREA) => pick(Written::plain(&units::HECTARE), Written::plain(&units::ACRE)),
        Some(UnitKind::RATE) => pick(
            Written::per(&units::KILOGRAM, &units::HECTARE),
            Written::per(&units::POUND, &units::ACRE),
        ),
        _ => {
            return Err(page.refuse(
                "there is no --to, so it is not known what unit is wanted",
                "write one, like `--to \"lb/1000 ft2\"`",
            ));
        }
    })
}
