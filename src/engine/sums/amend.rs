//! Compost, manure and the like: what is spread, what it holds, what of its nitrogen counts.

use std::sync::Arc;

use super::amend_years::{Kind, Nitrogen, counts};
use super::from::{From, analysis, dry_share};
use super::need::Ground;
use super::page::{Page, Part};
use super::{Ask, InUnit, Refusal, Sum, label, rules};
use crate::catalogue::{Basis, Material};
use crate::figure::Figure;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{
    Density, Length, Mass, Rate, Share, UnitKind, Volume, Written, read_any_said,
};

/// `sum amend "yard compost" --depth "1 in" --over "500 ft2" --density "1000 lb/yd3" …`.
#[derive(Clone, Debug, Default)]
pub struct Amend {
    /// The material; one that is not listed wants its analysis.
    pub material: String,
    /// How deep it is spread.
    pub depth: Option<String>,
    /// Or how much: a weight, a volume, or either for an area.
    pub amount: Option<String>,
    /// The ground.
    pub over: Option<String>,
    /// Its weight per volume.
    pub density: Option<String>,
    /// Its analysis.
    pub analysis: Option<String>,
    /// Whether the analysis is of the dry matter ("dry") or of the stuff as it comes ("as-is").
    pub basis: Option<String>,
    /// Its water.
    pub moisture: Option<String>,
    /// The share of its nitrogen that becomes available; of its organic nitrogen where ammonium is
    /// given.
    pub release: Option<String>,
    /// Its ammonium nitrogen.
    pub ammonium: Option<String>,
    /// Its nitrate nitrogen.
    pub nitrate: Option<String>,
    /// How soon it is worked in.
    pub worked_in: Option<String>,
    /// The weather between spreading and working in.
    pub weather: Option<String>,
    /// Which year the nitrogen is asked for.
    pub year: Option<String>,
}

const EXAMPLE: &str = "sum amend \"yard compost\" --depth \"1 in\" --over \"500 ft2\" --density \"1000 lb/yd3\" \
                       --analysis 1.5-0.5-1 --basis dry --moisture \"40 %\" --release \"10 %\"";

/// What an amendment weighs, what it holds and what of its nitrogen counts.
///
/// # Errors
/// Where a text cannot be read, or a figure is missing that neither the request nor the catalogue
/// has.
pub fn amend(asked: &Amend, ask: &Ask<'_>) -> Result<Sum, Refusal> {
    let mut page = Page::new(ask, EXAMPLE);
    let name = asked.material.trim().to_owned();
    let material = page.catalogue.material(&name);
    if material.is_none() && asked.analysis.is_none() {
        let near = page.catalogue.nearest_material(&name);
        let mend = near.map_or_else(
            || {
                "write its analysis, like `--analysis 1.5-0.5-1 --basis dry --moisture \"40 %\"`"
                    .to_owned()
            },
            |near| format!("did you mean `{near}`?"),
        );
        return Err(page.refuse(
            format!("`{name}` is not a material known here, and there is no --analysis"),
            mend,
        ));
    }
    page.understood(name.clone());
    let spread = spread(&mut page, asked, &name, material.as_deref())?;
    if let Some(volume) = &spread.volume {
        page.answer(Part::Asked, "volume", volume);
    }
    page.answer(Part::Asked, "weight", &spread.weight);
    let water = water(&mut page, asked, &name, material.as_deref())?;
    let dry = water.map(|water| {
        let share = dry_share(&mut page, &water, &name);
        (&spread.weight * &share).by("dry weight", &rules::DRY)
    });
    if let Some(dry) = &dry {
        page.answer(Part::Asked, "dry weight", dry);
    }
    let basis = basis(&mut page, asked, material.as_deref())?;
    let holds = match &asked.analysis {
        Some(text) => {
            page.understood(format!("analysis {}", text.trim()));
            analysis(&mut page, "--analysis", text.trim())?
        }
        None => as_listed(material.as_deref(), &name),
    };
    let body = match (basis, &dry) {
        (Basis::Dry, Some(dry)) => dry,
        (Basis::Dry, None) => {
            return Err(page.refuse(
                "an analysis of the dry matter wants the water, and there is no --moisture",
                "write it, like `--moisture \"40 %\"`",
            ));
        }
        (Basis::AsIs, _) => &spread.weight,
    };
    let content =
        Npk::from_fn(|nutrient| (body * &holds[nutrient]).by(nutrient.word(), &rules::CONTENT));
    for nutrient in Nutrient::ALL {
        page.answer(Part::Asked, nutrient.word(), &content[nutrient]);
    }
    let nitrogen = Nitrogen { total: &content.nitrogen, spread: &spread, body };
    let freed = counts(&mut page, asked, material.as_deref(), &nitrogen)?;
    mind(&mut page, asked, material.as_deref(), &name, freed)?;
    page.done()
}

/// What is spread.
#[derive(Debug)]
pub struct Spread {
    /// Its volume, where that is known.
    pub volume: Option<Figure<Volume>>,
    /// Its weight, water and all.
    pub weight: Figure<Mass>,
}

fn spread(
    page: &mut Page<'_>,
    asked: &Amend,
    name: &str,
    material: Option<&Material>,
) -> Result<Spread, Refusal> {
    let amount = match (&asked.depth, &asked.amount) {
        (Some(depth), None) => depth,
        (None, Some(amount)) => amount,
        (Some(_), Some(_)) => {
            return Err(page.refuse("both --depth and --amount are given", "give one of them"));
        }
        (None, None) => {
            return Err(page.refuse(
                "it is not said how much is spread",
                "write `--depth \"1 in\"` with --over, or `--amount \"5 ton\"`",
            ));
        }
    };
    let option = if asked.depth.is_some() { "--depth" } else { "--amount" };
    let (_, unit) = read_any_said(amount, "1 in").map_err(|fault| page.misread(option, &fault))?;
    let ground = Ground::read(page, asked.over.as_deref(), None, None)?;
    let kind = unit.kind();
    if asked.depth.is_some() && kind != Some(UnitKind::LENGTH) {
        page.said::<Length>("--depth", amount)?;
    }
    Ok(match kind {
        Some(UnitKind::LENGTH) => {
            let depth = page.asked_positive::<Length>(option, "depth", amount)?;
            let area = ground.area(page, "a depth wants the ground it is spread on")?;
            let volume = (&depth * &area).by("volume", &rules::VOLUME);
            let density = density(page, asked, name, material, amount)?;
            note_volume(page, unit, &density);
            weighed(volume, &density)
        }
        Some(UnitKind::VOLUME) => {
            let volume = page.asked_positive::<Volume>(option, "volume", amount)?;
            let density = density(page, asked, name, material, amount)?;
            weighed(volume, &density)
        }
        Some(UnitKind::MASS) => {
            let weight = page.asked_positive::<Mass>(option, "weight", amount)?;
            let known =
                asked.density.is_some() || material.is_some_and(|one| one.density.is_some());
            let volume = if known {
                let density = density(page, asked, name, material, amount)?;
                note_volume(page, unit, &density);
                weight.over(&density).map(|volume| volume.by("volume", &rules::DENSITY))
            } else {
                None
            };
            Spread { volume, weight }
        }
        Some(UnitKind::RATE) => {
            let rate = page.asked_positive::<Rate>(option, "rate", amount)?;
            let area =
                ground.area(page, "a weight for an area wants the ground it is spread on")?;
            Spread { volume: None, weight: (&rate * &area).by("weight", &rules::OVER) }
        }
        _ => {
            return Err(page.refuse(
                format!("{option} `{}` is no amount that can be spread", amount.trim()),
                "write a depth, a weight or a volume, like `--amount \"5 ton\"`",
            ));
        }
    })
}

fn weighed(volume: Figure<Volume>, density: &Figure<Density>) -> Spread {
    let weight = (density * &volume).by("weight", &rules::DENSITY);
    Spread { volume: Some(volume), weight }
}

/// A volume is told in the measure that its density, or the amount for an area, was written in.
fn note_volume(page: &mut Page<'_>, amount: Written, density: &Figure<Density>) {
    if amount.top.kind == UnitKind::VOLUME {
        page.units.note("volume", InUnit::Of(amount.top.into()));
        return;
    }
    let measure = match page.units.of_step(&density.step()) {
        InUnit::Of(unit) => unit.below.map(|(_, unit)| unit),
        _ => None,
    };
    let same_system = |unit: &&'static crate::quantity::Unit| {
        Written::plain(unit).system() == Some(page.units.system())
    };
    if let Some(unit) =
        measure.filter(same_system).filter(|unit| unit.symbol != "cm3" && unit.symbol != "cup")
    {
        page.units.note("volume", InUnit::Of(unit.into()));
    }
}

fn density(
    page: &mut Page<'_>,
    asked: &Amend,
    name: &str,
    material: Option<&Material>,
    amount: &str,
) -> Result<Figure<Density>, Refusal> {
    let from = From {
        name: name.to_owned(),
        holds: Npk::from_fn(|_| Figure::fixed("nothing", Share::ZERO, &rules::CONTENT)),
        release: None,
        material: material.cloned().map(Arc::new),
    };
    label::density_of(page, &from, asked.density.as_deref(), amount)
}

fn water(
    page: &mut Page<'_>,
    asked: &Amend,
    name: &str,
    material: Option<&Material>,
) -> Result<Option<Figure<Share>>, Refusal> {
    let listed = match &asked.moisture {
        Some(text) => {
            return page.asked::<Share>("--moisture", &format!("water in {name}"), text).map(Some);
        }
        None => material.and_then(|material| material.moisture.map(|water| (material, water))),
    };
    Ok(listed.map(|(material, water)| {
        let source = material.source_of("moisture");
        Figure::listed(format_args!("water in {name}"), water, "materials", &material.name, source)
    }))
}

fn basis(
    page: &mut Page<'_>,
    asked: &Amend,
    material: Option<&Material>,
) -> Result<Basis, Refusal> {
    if let Some(text) = &asked.basis {
        return match text.trim().to_ascii_lowercase().replace(['_', ' '], "-").as_str() {
            "dry" | "dry-matter" | "dry-weight" => Ok(Basis::Dry),
            "as-is" | "asis" | "wet" | "fresh" | "as-received" | "as-spread" => Ok(Basis::AsIs),
            _ => Err(page.refuse(
                format!("--basis `{}` is neither dry nor as-is", text.trim()),
                "write `--basis dry` for an analysis of the dry matter, or `--basis as-is`",
            )),
        };
    }
    if asked.analysis.is_some() {
        page.note("the analysis is read as of the stuff as it comes, water and all; add `--basis dry` where the report counts dry matter");
        return Ok(Basis::AsIs);
    }
    Ok(material.map_or(Basis::AsIs, |material| material.basis))
}

/// What the catalogue says it holds, on the basis of the entry.
fn as_listed(material: Option<&Material>, name: &str) -> Npk<Figure<Share>> {
    Npk::from_fn(|nutrient| {
        let label = format!("{} in {name}", nutrient.word());
        let Some(material) = material else {
            return Figure::fixed(label, Share::ZERO, &rules::CONTENT);
        };
        let value = match nutrient {
            Nutrient::Nitrogen => material.nitrogen,
            Nutrient::Phosphate => material.phosphate,
            Nutrient::Potash => material.potash,
        };
        Figure::listed(
            label,
            value,
            "materials",
            &material.name,
            material.source_of(nutrient.word()),
        )
    })
}

/// Cautions that go with the material and the amount.
fn mind(
    page: &mut Page<'_>,
    asked: &Amend,
    material: Option<&Material>,
    name: &str,
    freed: Option<Mass>,
) -> Result<(), Refusal> {
    let compost = Kind::of(material, name) == Some(Kind::Compost);
    let mut thick = None;
    if let Some(depth) = asked.depth.as_deref().filter(|_| compost) {
        let depth = page.said::<Length>("--depth", depth)?;
        thick = Some(depth.value > Length::from_inch(rust_decimal::Decimal::ONE));
    }
    for key in material.iter().flat_map(|material| &material.cautions) {
        let holds = match key.as_str() {
            "compost-limit" => thick != Some(false),
            // What gives nitrogen ties none up.
            "tie-up" => freed.is_none_or(|freed| freed <= Mass::ZERO),
            // A limit for an area says nothing where no area is told.
            "manure-nitrogen" => asked.over.is_some(),
            _ => true,
        };
        if holds {
            page.caution(key);
        }
    }
    if thick == Some(true) {
        page.caution("compost-limit");
    }
    let manure = material.is_some_and(|one| one.kind.is_manure());
    if manure || Kind::of(material, name) == Some(Kind::Manure) {
        page.caution("raw-manure");
    }
    Ok(())
}
