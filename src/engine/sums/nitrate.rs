//! What a soil nitrate test means: nitrogen on hand, and the side-dressing it calls for.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::page::{Page, Part};
use super::{Ask, InUnit, Refusal, Sum, rules};
use crate::catalogue::{Crop, NitrateTest};
use crate::figure::Figure;
use crate::quantity::{Concentration, Density, Length, Rate, Said, Share, Written, settle, units};

/// `sum nitrate "18 ppm" --depth "12 in" --crop "sweet corn" --manured`.
#[derive(Clone, Debug, Default)]
pub struct Nitrate {
    /// Nitrate-nitrogen in the soil.
    pub test: String,
    /// Depth of the sample; nothing takes 12 in.
    pub depth: Option<String>,
    /// Weight of the soil for its volume; nothing takes that of a loam.
    pub density: Option<String>,
    /// The crop, for the side-dressing.
    pub crop: Option<String>,
    /// Whether the ground was manured.
    pub manured: bool,
    /// The level at or above which nothing is given, where it is not the catalogue's.
    pub critical: Option<String>,
    /// Nitrogen for each part per million below it, where it is not the catalogue's.
    pub per_ppm: Option<String>,
}

const EXAMPLE: &str = "sum nitrate \"18 ppm\" --depth \"12 in\" --crop \"sweet corn\"";

/// Nitrogen in the sampled layer, the critical level and the side-dressing.
///
/// # Errors
/// Where a text cannot be read, or the crop is not known.
pub fn nitrate(asked: &Nitrate, ask: &Ask<'_>) -> Result<Sum, Refusal> {
    let mut page = Page::new(ask, EXAMPLE);
    let test = page.asked::<Concentration>("the test", "soil nitrate-nitrogen", &asked.test)?;
    let depth = match &asked.depth {
        Some(text) => page.asked_positive::<Length>("--depth", "depth of the sample", text)?,
        None => {
            page.note("sampled 12 in deep, as no --depth was given");
            let label = "depth of the sample";
            page.units.note(label, InUnit::Of((&units::INCH).into()));
            Figure::fixed(label, Length::from_inch(Decimal::from(12)), &rules::DEPTH)
        }
    };
    let density = match &asked.density {
        Some(text) => page.asked_positive::<Density>("--density", "weight of the soil", text)?,
        None => {
            page.note("the soil is taken to weigh 1.3 g/cm3, as a loam does; sand weighs about 1.5 and clay 1.2");
            let label = "weight of the soil";
            let unit = Written::per(&units::GRAM, &units::CUBIC_CENTIMETRE);
            page.units.note(label, InUnit::Of(unit));
            Figure::fixed(label, Density::from_g_per_cm3(Decimal::new(13, 1)), &rules::BULK)
        }
    };
    let layer = (&density * &depth).by("weight of the sampled layer", &rules::SOIL);
    let nitrogen = (&test * &layer).by("nitrogen", &rules::SOIL);
    page.answer(Part::Asked, "nitrogen", &nitrogen);
    let crop = match &asked.crop {
        Some(name) => Some(find(&mut page, name)?),
        None => None,
    };
    if crop.is_none() && asked.critical.is_none() {
        if asked.manured {
            page.note("--manured changes the side-dressing only, which wants a --crop");
        }
        return page.done();
    }
    side_dress(&mut page, asked, crop.as_deref(), &test)?;
    if settle(depth.value().inch()) != Decimal::from(12) {
        page.note("critical levels are for samples of the top 12 in; at another depth they are a guide only");
    }
    page.note("local advice for the crop and the soil comes before a table from elsewhere");
    page.done()
}

fn find(page: &mut Page<'_>, name: &str) -> Result<Arc<Crop>, Refusal> {
    if let Some(crop) = page.catalogue.crop(name) {
        page.understood(format!("crop {}", crop.name));
        return Ok(crop);
    }
    let mend = page.catalogue.nearest_crop(name).map_or_else(
        || "`topdress catalogue crops` lists them".to_owned(),
        |near| format!("did you mean `{near}`?"),
    );
    Err(page.refuse(format!("--crop `{}` is not a crop known here", name.trim()), mend))
}

fn side_dress(
    page: &mut Page<'_>,
    asked: &Nitrate,
    crop: Option<&Crop>,
    test: &Figure<Concentration>,
) -> Result<(), Refusal> {
    let known = crop.and_then(|crop| crop.nitrate_test.as_ref());
    let name = crop.map_or("", |crop| crop.name.as_str());
    let critical = match (&asked.critical, known) {
        (Some(text), _) => page.asked::<Concentration>("--critical", "critical level", text)?,
        (None, Some(known)) => {
            let level = if asked.manured { known.critical_manured } else { None };
            let level = level.unwrap_or(known.critical);
            Figure::listed("critical level", level, "crops", name, &known.source)
        }
        (None, None) => {
            page.note(format!("no level is printed for {name}; 25 ppm serves most crops"));
            let level = Concentration::from_ppm(Decimal::from(25));
            Figure::fixed("critical level", level, &rules::CRITICAL_USUAL)
        }
    };
    page.answer(Part::Asked, "critical level", &critical);
    let table = known.filter(|_| asked.critical.is_none() && asked.per_ppm.is_none());
    let steps = table.map(|known| if asked.manured { &known.steps_manured } else { &known.steps });
    if let (Some(known), Some(steps)) = (table, steps)
        && !steps.is_empty()
    {
        from_table(page, known, steps, name, test);
        return Ok(());
    }
    let each = match (
        &asked.per_ppm,
        known.and_then(|known| known.per_ppm.map(|rate| (rate, known))),
    ) {
        (Some(text), _) => {
            page.asked_positive::<Rate>("--per-ppm", "for each ppm below it", text)?
        }
        (None, Some((rate, known))) => {
            Figure::listed("for each ppm below it", rate, "crops", name, &known.source)
        }
        (None, None) => {
            page.note("4 lb of nitrogen an acre for each ppm is the general rule; no table is printed for this crop");
            let label = "for each ppm below it";
            let unit = Written::per(&units::POUND, &units::ACRE);
            page.units.note(label, InUnit::Of(unit));
            Figure::fixed(label, Rate::from_lb_per_acre(Decimal::from(4)), &rules::RAISE)
        }
    };
    let short = (&critical - test).at_least_zero();
    let one = page.leaf(
        "one ppm",
        Said {
            value: Concentration::from_ppm(Decimal::ONE),
            unit: (&units::PART_PER_MILLION).into(),
        },
    );
    page.units.note("parts per million short", InUnit::Count("ppm"));
    let count: Figure<Share> = match short.ratio_to(&one) {
        Some(count) => count.by("parts per million short", &rules::CRITICAL),
        None => return Ok(()),
    };
    let dose = (&each * &count).by("side-dress", &rules::RAISE);
    page.answer(Part::Asked, "side-dress", &dose);
    Ok(())
}

fn from_table(
    page: &mut Page<'_>,
    known: &NitrateTest,
    steps: &[crate::catalogue::NitrateStep],
    crop: &str,
    test: &Figure<Concentration>,
) {
    let line =
        |rate: Rate, label: String| Figure::listed(label, rate, "crops", crop, &known.source);
    // Tables are printed in whole parts per million: 10.4 reads as 10, 10.5 as 11.
    let whole = test
        .value()
        .ppm()
        .round_dp_with_strategy(0, rust_decimal::RoundingStrategy::MidpointAwayFromZero);
    let found = steps.iter().find(|step| whole <= settle(step.up_to.ppm()));
    let (rate, label) = match found {
        Some(step) => (step.nitrogen, format!("up to {} ppm", settle(step.up_to.ppm()))),
        None => {
            let last = steps.last().map_or(Decimal::ZERO, |step| settle(step.up_to.ppm()));
            (Rate::ZERO, format!("above {last} ppm"))
        }
    };
    let others: Vec<Figure<Rate>> = steps
        .iter()
        .filter(|step| Some(*step) != found)
        .map(|step| line(step.nitrogen, format!("up to {} ppm", settle(step.up_to.ppm()))))
        .collect();
    let others: Vec<&Figure<Rate>> = others.iter().collect();
    let dose =
        line(rate, label).chosen("the line of the published table that the test falls in", &others);
    page.answer(Part::Asked, "side-dress", &dose.by("side-dress", &rules::TABLE));
}
