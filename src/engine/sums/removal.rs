//! What a harvest carries away.

use super::from::analysis;
use super::need::Ground;
use super::page::{Page, Part};
use super::{Ask, Refusal, Sum, rules};
use crate::catalogue::{Crop, Removal};
use crate::figure::Figure;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{
    Bounded, Mass, PlantRate, Quantity, Rate, RowRate, Said, Share, UnitKind, Written,
    read_any_said,
};

/// `sum removal cabbage --yield "20 ton/acre" --over "1 acre"`.
#[derive(Clone, Debug, Default)]
pub struct RemovalSum {
    /// The crop.
    pub crop: String,
    /// What is harvested: a weight, or one for an area, a length of row or a plant.
    pub harvest: String,
    /// The ground or the length of row.
    pub over: Option<String>,
    /// Distance between rows.
    pub row_spacing: Option<String>,
    /// How many plants.
    pub plants: Option<String>,
    /// What the harvest holds, where it is not the catalogue's, like an analysis.
    pub content: Option<String>,
}

const EXAMPLE: &str = "sum removal cabbage --yield \"20 ton/acre\" --over \"1 acre\"";

/// What a harvest carries away of each nutrient.
///
/// # Errors
/// Where a text cannot be read, or the crop is not known and its content is not given.
pub fn removal(asked: &RemovalSum, ask: &Ask<'_>) -> Result<Sum, Refusal> {
    let mut page = Page::new(ask, EXAMPLE);
    let content = content(&mut page, asked)?;
    let harvest = harvest(&mut page, asked)?;
    for nutrient in Nutrient::ALL {
        let Some(share) = &content[nutrient] else {
            page.note(format!(
                "what {} holds of {} is not listed",
                asked.crop.trim(),
                nutrient.word()
            ));
            continue;
        };
        let gone = (&harvest * share).by(nutrient.word(), &rules::REMOVAL);
        page.answer(Part::Asked, nutrient.word(), &gone);
    }
    page.done()
}

type Content = Npk<Option<Figure<Share>>>;

fn content(page: &mut Page<'_>, asked: &RemovalSum) -> Result<Content, Refusal> {
    let name = asked.crop.trim();
    if let Some(text) = &asked.content {
        let holds = analysis(page, "--content", text.trim())?;
        page.understood(format!("content {}", text.trim()));
        return Ok(holds.map(Some));
    }
    let Some(crop) = page.catalogue.crop(name) else {
        let near = page.catalogue.nearest_crop(name);
        let mend = near.map_or_else(|| "`topdress catalogue crops` lists them; or write what the harvest holds, like `--content 0.3-0.1-0.4`".to_owned(), |near| format!("did you mean `{near}`?"));
        return Err(page.refuse(format!("`{name}` is not a crop known here"), mend));
    };
    page.understood(crop.name.clone());
    let content = Npk::from_fn(|nutrient| listed(&crop, nutrient));
    if content.iter().all(|(_, share)| share.is_none()) {
        return Err(page.refuse(
            format!("what {} holds is not listed", crop.name),
            "write what the harvest holds, like `--content 0.3-0.1-0.4`",
        ));
    }
    Ok(content)
}

/// The figure of the first set that has one; which sets come first is a rule for each nutrient.
fn listed(crop: &Crop, nutrient: Nutrient) -> Option<Figure<Share>> {
    let order: &[&str] = match nutrient {
        Nutrient::Nitrogen | Nutrient::Phosphate => {
            &["ordinance", "united kingdom", "food composition", "new england"]
        }
        Nutrient::Potash => &["united kingdom", "food composition", "new england", "ordinance"],
    };
    let value = |set: &Removal| match nutrient {
        Nutrient::Nitrogen => set.nitrogen,
        Nutrient::Phosphate => set.phosphate,
        Nutrient::Potash => set.potash,
    };
    order.iter().find_map(|wanted| {
        let set = crop.removals.iter().find(|set| set.set == *wanted && value(set).is_some())?;
        let label = format!("{} in the harvest", nutrient.word());
        Some(Figure::listed(label, value(set)?, "crops", &crop.name, &set.source))
    })
}

fn harvest(page: &mut Page<'_>, asked: &RemovalSum) -> Result<Figure<Mass>, Refusal> {
    let text = &asked.harvest;
    let (_, unit) =
        read_any_said(text, "20 ton/acre").map_err(|fault| page.misread("--yield", &fault))?;
    page.understood(format!("yield {}", text.trim()));
    let ground = Ground::read(
        page,
        asked.over.as_deref(),
        asked.row_spacing.as_deref(),
        asked.plants.as_deref(),
    )?;
    Ok(match unit.kind() {
        Some(UnitKind::MASS) => above_zero::<Mass>(page, "harvest", text)?,
        Some(UnitKind::RATE) => {
            let rate = above_zero::<Rate>(page, "yield", text)?;
            let area = ground.area(page, "a yield for an area wants the ground it grew on")?;
            (&rate * &area).by("harvest", &rules::OVER)
        }
        Some(UnitKind::PER_ROW) => {
            let rate = above_zero::<RowRate>(page, "yield", text)?;
            let Some(row) = &ground.row else {
                return Err(page.refuse("a yield for a length of row wants that length, and there is no --over in feet or metres", "write `--over \"100 ft\"`"));
            };
            (&rate * row).by("harvest", &rules::OVER)
        }
        Some(UnitKind::PER_PLANT) => {
            let each = above_zero::<PlantRate>(page, "yield", text)?;
            let Some(plants) = &ground.plants else {
                return Err(page.refuse(
                    "a yield for each plant wants the number of plants, and there is no --plants",
                    "write `--plants 50`",
                ));
            };
            let each = page.leaf(
                "yield of a plant",
                Said {
                    value: Mass::from_base(each.value().base()),
                    unit: Written::plain(unit.top),
                },
            );
            (&each * plants).by("harvest", &rules::OVER)
        }
        _ => {
            return Err(page.refuse(
                format!("--yield `{}` is no weight harvested", text.trim()),
                "write a weight, or one for an area, like `20 ton/acre`",
            ));
        }
    })
}

fn above_zero<Q: Bounded + Quantity>(
    page: &mut Page<'_>,
    label: &str,
    text: &str,
) -> Result<Figure<Q>, Refusal> {
    page.asked_positive::<Q>("--yield", label, text)
}
