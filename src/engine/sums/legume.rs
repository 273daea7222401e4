//! What a killed cover crop gives.

use super::need::Ground;
use super::page::{Page, Part};
use super::{Ask, InUnit, Refusal, Sum, rules};
use crate::figure::Figure;
use crate::quantity::{Area, Mass, Rate, Share, settle};
use rust_decimal::Decimal;

/// `sum legume --biomass "3000 lb/acre" --nitrogen "3.5 %" --over "1 acre"`.
#[derive(Clone, Debug, Default)]
pub struct Legume {
    /// Dry matter for an area.
    pub biomass: Option<String>,
    /// Or the dry weight of a sample.
    pub sample: Option<String>,
    /// And the ground it was cut from.
    pub sampled: Option<String>,
    /// Water in the sample, where it was weighed fresh.
    pub moisture: Option<String>,
    /// Nitrogen in the dry matter.
    pub nitrogen: String,
    /// The share that becomes available; nothing takes the published line.
    pub release: Option<String>,
    /// The ground.
    pub over: Option<String>,
}

const EXAMPLE: &str =
    "sum legume --biomass \"3000 lb/acre\" --nitrogen \"3.5 %\" --over \"1 acre\"";

/// No crop's dry matter holds more nitrogen than this: protein, 16 % nitrogen, is never all of it.
const MOST_NITROGEN_PERCENT: i64 = 10;

/// What a killed cover crop weighs, holds and gives.
///
/// # Errors
/// Where a text cannot be read, or neither biomass nor a sample is given.
pub fn legume(asked: &Legume, ask: &Ask<'_>) -> Result<Sum, Refusal> {
    let mut page = Page::new(ask, EXAMPLE);
    let rate = rate(&mut page, asked)?;
    let ground = Ground::read(&mut page, asked.over.as_deref(), None, None)?;
    let area = ground.area(&page, "what the crop gives wants the ground it stood on")?;
    let biomass = (&rate * &area).by("biomass", &rules::OVER);
    page.answer(Part::Asked, "biomass", &biomass);
    let content =
        page.asked_positive::<Share>("--nitrogen", "nitrogen in the dry matter", &asked.nitrogen)?;
    if content.value() > Share::from_percent(MOST_NITROGEN_PERCENT.into()) {
        return Err(page.refuse(
            format!("--nitrogen `{}` is more than any plant holds", asked.nitrogen.trim()),
            "write the nitrogen in the dry matter: 3 to 4 % in young legumes, 1 to 2 % in ripe \
             straw; even pure protein holds only about 16 %, so that above 10 % is a slip",
        ));
    }
    let nitrogen = (&biomass * &content).by("nitrogen", &rules::CONTENT);
    page.answer(Part::Asked, "nitrogen", &nitrogen);
    let counts = match &asked.release {
        Some(text) => {
            let release =
                page.asked_positive::<Share>("--release", "share that becomes available", text)?;
            (&nitrogen * &release).by("nitrogen that counts", &rules::RELEASE)
        }
        None => line(&mut page, &biomass, &content),
    };
    page.answer(Part::Asked, "nitrogen that counts", &counts);
    page.done()
}

fn rate(page: &mut Page<'_>, asked: &Legume) -> Result<Figure<Rate>, Refusal> {
    let rate = match (&asked.biomass, &asked.sample, &asked.sampled) {
        (Some(text), None, None) => {
            page.asked_positive::<Rate>("--biomass", "dry matter on the ground", text)?
        }
        (None, Some(sample), Some(sampled)) => {
            let weight = page.asked_positive::<Mass>("--sample", "weight of the sample", sample)?;
            let area = page.asked_positive::<Area>("--sampled", "ground of the sample", sampled)?;
            let rate = weight.over(&area);
            let Some(rate) = rate else {
                return Err(page.refuse(
                    "--sampled is no ground at all",
                    "write it like `--sampled \"8 ft2\"`",
                ));
            };
            rate.by("dry matter on the ground", &rules::SAMPLE)
        }
        (None, Some(_), None) | (None, None, Some(_)) => {
            return Err(page.refuse(
                "a sample wants both its weight and the ground it was cut from",
                "write `--sample \"1.2 lb\" --sampled \"8 ft2\"`",
            ));
        }
        (Some(_), ..) => {
            return Err(page.refuse("both --biomass and a sample are given", "give one of them"));
        }
        (None, None, None) => {
            return Err(page.refuse(
                "there is neither --biomass nor a sample",
                "write `--biomass \"3000 lb/acre\"`, or `--sample \"1.2 lb\" --sampled \"8 ft2\"`",
            ));
        }
    };
    let Some(text) = &asked.moisture else { return Ok(rate) };
    let water = page.asked::<Share>("--moisture", "water in the crop", text)?;
    let whole = Figure::fixed("the whole", Share::WHOLE, &rules::DRY);
    let dry = (&whole - &water).by("dry matter in the crop", &rules::DRY);
    Ok((&rate * &dry).by("dry matter without the water", &rules::DRY))
}

/// The published line, with its floor.
fn line(page: &mut Page<'_>, biomass: &Figure<Mass>, content: &Figure<Share>) -> Figure<Mass> {
    let start = Figure::fixed(
        "nitrogen below which nothing is given",
        Share::from_percent(Decimal::new(15, 1)),
        &rules::LEGUME,
    );
    let slope = Figure::fixed(
        "of what is above, as 17.5 lb per ton for each percent",
        Share::from_fraction(Decimal::new(875, 3)),
        &rules::LEGUME,
    );
    page.units
        .note("of what is above, as 17.5 lb per ton for each percent", InUnit::Count("of it"));
    let above = (content - &start).by("nitrogen above 1.5 %", &rules::LEGUME);
    let share = (&above * &slope).by("share of the dry matter given as nitrogen", &rules::LEGUME);
    let floor = Figure::fixed(
        "most that strawy matter ties up, 10 lb per ton",
        Share::from_fraction(Decimal::new(-5, 3)),
        &rules::LEGUME_FLOOR,
    );
    let share = if share.value() < floor.value() {
        Figure::greatest(&share, &[&floor])
            .by("share of the dry matter, not below the floor", &rules::LEGUME_FLOOR)
    } else {
        share
    };
    if settle(content.value().percent()) > Decimal::from(4) {
        page.note("the published line ends near 4 % nitrogen; above that it is only carried on");
    }
    (biomass * &share).by("nitrogen that counts", &rules::LEGUME)
}
