//! Nitrogen in irrigation water.

use rust_decimal::Decimal;

use super::need::Ground;
use super::page::{Page, Part};
use super::{Ask, InUnit, Refusal, Sum, rules};
use crate::figure::Figure;
use crate::quantity::{
    Concentration, Density, Length, Said, Share, UnitSystem, Volume, Written, read_said, units,
};

/// `sum water --nitrate "10 ppm" --as nitrogen --depth "12 in" --over "1 acre"`.
#[derive(Clone, Debug, Default)]
pub struct Water {
    /// What the water holds.
    pub nitrate: String,
    /// Whether that is counted as nitrogen or as nitrate.
    pub counted_as: Option<String>,
    /// The depth of water.
    pub depth: Option<String>,
    /// Or its volume.
    pub volume: Option<String>,
    /// The ground.
    pub over: Option<String>,
}

const EXAMPLE: &str =
    "sum water --nitrate \"10 ppm\" --as nitrogen --depth \"12 in\" --over \"1 acre\"";

/// The nitrogen that irrigation water brings.
///
/// # Errors
/// Where a text cannot be read, or the amount of water is missing.
pub fn water(asked: &Water, ask: &Ask<'_>) -> Result<Sum, Refusal> {
    let mut page = Page::new(ask, EXAMPLE);
    let strength = dissolved(&mut page, "--nitrate", "in the water", &asked.nitrate)?;
    let strength = match as_nitrogen(&page, asked.counted_as.as_deref())? {
        true => strength,
        false => {
            let share = nitrate_share(&mut page);
            (&strength * &share).by("nitrogen in the water", &rules::NITRATE)
        }
    };
    if asked.counted_as.is_none() {
        page.note("the figure is read as nitrate-nitrogen; add `--as nitrate` where the report counts nitrate itself");
    }
    let volume = match (&asked.depth, &asked.volume) {
        (Some(depth), None) => {
            let depth = page.asked_positive::<Length>("--depth", "depth of water", depth)?;
            let ground = Ground::read(&mut page, asked.over.as_deref(), None, None)?;
            let area = ground.area(&page, "a depth of water wants the ground it falls on")?;
            let unit = match page.units.system() {
                UnitSystem::Us => &units::GALLON,
                UnitSystem::Metric => &units::LITRE,
            };
            page.units.note("volume of water", InUnit::Of(unit.into()));
            (&depth * &area).by("volume of water", &rules::VOLUME)
        }
        (None, Some(volume)) => {
            page.asked_positive::<Volume>("--volume", "volume of water", volume)?
        }
        _ => {
            return Err(page.refuse(
                "the amount of water is not known",
                "write `--depth \"12 in\"` with --over, or `--volume \"500 gal\"`",
            ));
        }
    };
    let nitrogen = (&strength * &volume).by("nitrogen", &rules::WATER);
    page.answer(Part::Asked, "nitrogen", &nitrogen);
    page.note(
        "count no more than the crop takes up: water that runs through takes its nitrate along",
    );
    page.done()
}

/// Whether `--as` says nitrogen (the default) or nitrate.
fn as_nitrogen(page: &Page<'_>, text: Option<&str>) -> Result<bool, Refusal> {
    let Some(text) = text else { return Ok(true) };
    match text.trim().to_ascii_lowercase().as_str() {
        "nitrogen" | "n" | "no3-n" | "nitrate-n" | "nitrate-nitrogen" => Ok(true),
        "nitrate" | "no3" => Ok(false),
        _ => Err(page.refuse(
            format!("--as `{}` is neither nitrogen nor nitrate", text.trim()),
            "write `--as nitrogen` or `--as nitrate`, as the report counts it",
        )),
    }
}

/// The share of nitrate that is nitrogen, 14.007 parts in 62.004.
pub fn nitrate_share(page: &mut Page<'_>) -> Figure<Share> {
    let label = "N in NO3";
    page.units.note(label, InUnit::Count("of it is nitrogen"));
    let share = Decimal::new(14_007, 3) / Decimal::new(62_004, 3);
    Figure::fixed(label, Share::from_fraction(share), &rules::NITRATE)
}

/// Reads "10 ppm" or "10 mg/L" as weight per volume of water.
pub fn dissolved(
    page: &mut Page<'_>,
    option: &str,
    label: &str,
    text: &str,
) -> Result<Figure<Density>, Refusal> {
    let said = read_said::<Concentration>(text).map_err(|fault| page.misread(option, &fault))?;
    page.understood(format!("{} {}", option.trim_start_matches('-'), text.trim()));
    let thousand = Decimal::ONE_THOUSAND;
    let value = Density::from_kg_per_m3(said.value.base() * thousand);
    if value <= Density::ZERO {
        let what = format!("{option} `{}` is nothing, so there is nothing to reckon", text.trim());
        return Err(page.refuse(what, "write it above zero, like `10 ppm`"));
    }
    let unit = Written::per(&units::MILLIGRAM, &units::LITRE);
    Ok(page.leaf(label, Said { value, unit }))
}
