//! Materials as they are named on the command line: "24-25-4", "24-25-4 elemental", "urea",
//! "20 % P2O5", each perhaps with "@ 60 %".

use std::sync::Arc;

use rust_decimal::Decimal;

use super::page::Page;
use super::{Refusal, rules};
use crate::catalogue::{Basis, Material, MaterialKind};
use crate::figure::Figure;
use crate::nutrient::{Npk, Nutrient, read_analysis};
use crate::quantity::{Density, Share, read_said, units};

/// A material that a sum works with.
#[derive(Clone, Debug)]
pub struct From {
    /// The name it was asked by.
    pub name: String,
    /// What it holds as it is spread, oxides for phosphate and potash.
    pub holds: Npk<Figure<Share>>,
    /// The share of its nitrogen that counts, where that was said.
    pub release: Option<Figure<Share>>,
    /// Its entry in the catalogue, where it has one.
    pub material: Option<Arc<Material>>,
}

impl From {
    /// The share of a nutrient that counts toward a need.
    pub fn counts(&self, nutrient: Nutrient) -> Figure<Share> {
        match &self.release {
            Some(release) if nutrient == Nutrient::Nitrogen => (&self.holds.nitrogen * release)
                .by(format_args!("nitrogen that counts in {}", self.name), &rules::RELEASE),
            _ => self.holds[nutrient].clone(),
        }
    }

    /// Says what to mind with it. The caution on salts is for what is spread by the inch.
    pub fn mind(&self, page: &mut Page<'_>) {
        let Some(material) = &self.material else { return };
        let mineral = material.kind == MaterialKind::Mineral;
        for key in material.cautions.iter().filter(|key| !(mineral && *key == "salts")) {
            page.caution(key);
        }
    }

    /// Its weight per volume, where the catalogue knows it.
    pub fn density(&self, page: &mut Page<'_>) -> Option<Figure<Density>> {
        let material = self.material.as_ref()?;
        let value = material.density?;
        let label = format!("weight per volume of {}", self.name);
        let unit = if value > Density::from_lb_per_gal(Decimal::from(3)) || !is_dry(material) {
            &units::CUP
        } else {
            &units::CUBIC_YARD
        };
        let unit = crate::quantity::Written::per(page.units.usual_weight(), unit);
        page.units.note(&label, super::InUnit::Of(unit));
        Some(Figure::listed(
            label,
            value,
            "materials",
            &material.name,
            material.source_of("density"),
        ))
    }
}

/// Bulk goods are told by the cubic yard, what comes in bags by the cup.
fn is_dry(material: &Material) -> bool {
    use crate::catalogue::MaterialKind::{Compost, Manure, PlantMatter, PoultryManure};
    matches!(material.kind, Compost | Manure | PlantMatter | PoultryManure)
}

const HOW: &str = "write an analysis like `24-25-4`, `24-25-4 elemental`, a material like `feather meal`, \
                   or either with the share of its nitrogen that counts, like `12-0-0 @ 60 %`";

/// Reads a material.
pub fn read_from(page: &mut Page<'_>, option: &str, text: &str) -> Result<From, Refusal> {
    let (body, release) = match text.split_once('@') {
        Some((body, share)) => (body.trim(), Some(share.trim())),
        None => (text.trim(), None),
    };
    if body.is_empty() {
        return Err(page.refuse(format!("{option} names no material"), HOW));
    }
    let (holds, material) = holds(page, option, body)?;
    let name = body.to_owned();
    if holds.iter().all(|(_, share)| share.is_zero()) {
        let what = format!("{option} `{name}` carries no nitrogen, phosphate or potash");
        return Err(page.refuse(what, HOW));
    }
    let release = match release {
        Some(share) => Some(release_of(page, option, &name, share)?),
        None => None,
    };
    page.understood(format!("{} {}", option.trim_start_matches('-'), text.trim()));
    Ok(From { name, holds, release, material })
}

fn release_of(
    page: &mut Page<'_>,
    option: &str,
    name: &str,
    text: &str,
) -> Result<Figure<Share>, Refusal> {
    let text = text.trim_end_matches("release").trim();
    let said = read_said::<Share>(text).map_err(|fault| page.misread(option, &fault))?;
    if said.value <= Share::ZERO {
        let what =
            format!("{option} `{name} @ {text}` releases nothing, so no weight of it would do");
        return Err(page.refuse(what, "write the share of its nitrogen that counts, like `@ 60 %`"));
    }
    Ok(page.leaf(&format!("share of the nitrogen of {name} that counts"), said))
}

type Holds = (Npk<Figure<Share>>, Option<Arc<Material>>);

fn holds(page: &mut Page<'_>, option: &str, body: &str) -> Result<Holds, Refusal> {
    let is_analysis =
        body.starts_with(|c: char| c.is_ascii_digit() || c == '.') && body.contains('-');
    if is_analysis && page.catalogue.material(body).is_none() {
        return Ok((analysis(page, option, body)?, None));
    }
    if let Some(material) = page.catalogue.material(body) {
        let holds =
            if is_analysis { analysis(page, option, body)? } else { listed(page, &material, body) };
        return Ok((holds, Some(material)));
    }
    if let Some(single) = single_nutrient(page, body) {
        return Ok((single, None));
    }
    let near = page.catalogue.nearest_material(body);
    let mend = near.map_or(HOW.to_owned(), |near| format!("did you mean `{near}`? {HOW}"));
    Err(page.refuse(
        format!("{option} `{body}` is neither an analysis nor a material known here"),
        mend,
    ))
}

/// Reads an analysis, elements turned into oxides as a step of the sum.
pub fn analysis(
    page: &mut Page<'_>,
    option: &str,
    body: &str,
) -> Result<Npk<Figure<Share>>, Refusal> {
    let refuse = |page: &Page<'_>, fault: crate::nutrient::BadAnalysis| {
        page.refuse(format!("{option}: {fault}"), fault.mend())
    };
    let oxides = read_analysis(body).map_err(|fault| refuse(page, fault))?;
    let lower = body.to_ascii_lowercase();
    let Some(numbers) = lower.strip_suffix("elemental") else {
        return Ok(Npk::from_fn(|nutrient| {
            Figure::asked(format_args!("{} in {body}", nutrient.word()), oxides[nutrient])
        }));
    };
    let elements = read_analysis(numbers.trim()).map_err(|fault| refuse(page, fault))?;
    Ok(Npk::from_fn(|nutrient| {
        let label = format!("{} in {body}", nutrient.word());
        if nutrient == Nutrient::Nitrogen || elements[nutrient] == Share::ZERO {
            return Figure::asked(label, elements[nutrient]);
        }
        let share =
            Figure::asked(format_args!("{} in {body}", element(nutrient)), elements[nutrient]);
        (&share * &oxide_factor(page, nutrient)).by(label, &rules::ELEMENT)
    }))
}

/// The element a nutrient is counted as, where its label counts the oxide.
pub const fn element(nutrient: Nutrient) -> &'static str {
    match nutrient {
        Nutrient::Nitrogen => "nitrogen",
        Nutrient::Phosphate => "phosphorus",
        Nutrient::Potash => "potassium",
    }
}

/// The factor from element to oxide, as a leaf.
pub fn oxide_factor(page: &mut Page<'_>, nutrient: Nutrient) -> Figure<Share> {
    let label = match nutrient {
        Nutrient::Nitrogen => "N per N",
        Nutrient::Phosphate => "P2O5 per P",
        Nutrient::Potash => "K2O per K",
    };
    page.units.note(label, super::InUnit::Count(label));
    Figure::fixed(label, nutrient.oxide_per_element(), &rules::ELEMENT)
}

/// What a listed material holds as it is spread.
pub fn listed(page: &mut Page<'_>, material: &Material, name: &str) -> Npk<Figure<Share>> {
    let all =
        Npk { nitrogen: material.nitrogen, phosphate: material.phosphate, potash: material.potash };
    let field = |nutrient: Nutrient| nutrient.word();
    let dry = material.moisture.filter(|_| material.basis == Basis::Dry).map(|moisture| {
        let water = Figure::listed(
            format_args!("water in {name}"),
            moisture,
            "materials",
            &material.name,
            material.source_of("moisture"),
        );
        dry_share(page, &water, name)
    });
    Npk::from_fn(|nutrient| {
        let source = material.source_of(field(nutrient));
        let label = format!("{} in {name}", nutrient.word());
        let share = |label: String| {
            Figure::listed(label, all[nutrient], "materials", &material.name, source)
        };
        match &dry {
            Some(dry) if all[nutrient] > Share::ZERO => {
                (&share(format!("{} in the dry matter of {name}", nutrient.word())) * dry)
                    .by(label, &rules::DRY)
            }
            _ => share(label),
        }
    })
}

/// The share that is dry matter.
pub fn dry_share(page: &mut Page<'_>, water: &Figure<Share>, name: &str) -> Figure<Share> {
    let _ = page;
    let whole = Figure::fixed("the whole", Share::WHOLE, &rules::DRY);
    (&whole - water).by(format_args!("dry matter in {name}"), &rules::DRY)
}

/// Reads "20 % P2O5" or "P2O5 20 %": a material that is known by one nutrient only.
fn single_nutrient(page: &mut Page<'_>, body: &str) -> Option<Npk<Figure<Share>>> {
    let (first, rest) = body.split_once(' ')?;
    let (head, last) = body.rsplit_once(' ')?;
    let (word, amount) = match Nutrient::read(first) {
        Some(read) => (read, rest),
        None => (Nutrient::read(last)?, head),
    };
    let said = read_said::<Share>(amount).ok()?;
    let (nutrient, is_element) = word;
    Some(Npk::from_fn(|each| {
        let label = format!("{} in {body}", each.word());
        if each != nutrient {
            return Figure::asked(label, Share::ZERO);
        }
        if !is_element {
            return page.leaf(&label, said);
        }
        let share = page.leaf(&format!("{} in {body}", element(nutrient)), said);
        (&share * &oxide_factor(page, nutrient)).by(label, &rules::ELEMENT)
    }))
}
