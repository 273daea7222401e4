//! Materials, soil-test limits, signs and sources.

use super::Listing;
use crate::catalogue::{Catalogue, Material, MaterialKind, Signs};
use crate::quantity::{Share, UnitSystem, units};
use crate::report::number::Showing;

/// Every material with its analysis, release and cautions.
pub fn materials(catalogue: &Catalogue, showing: Showing) -> Listing {
    let columns = vec![
        "material",
        "N",
        "P2O5",
        "K2O",
        "of",
        "first season",
        "organic",
        "kind",
        "also called",
        "water",
        "weight",
        "salt index",
        "cautions",
        "note",
        "sources",
    ];
    let rows = catalogue.materials().map(|material| row(&material, showing)).collect();
    Listing { title: "Materials", columns, shown: 7, rows }
}

fn row(material: &Material, showing: Showing) -> Vec<String> {
    let percent = |share: Share| showing.of(share).to_string();
    let release = material.release.as_ref().map(|release| {
        format!("{} % ({} to {})", release.typical.0, release.low.0, release.high.0)
    });
    let kind = match material.kind {
        MaterialKind::Mineral => "mineral",
        MaterialKind::AnimalMeal => "animal meal",
        MaterialKind::PlantMeal => "plant meal",
        MaterialKind::Compost => "compost",
        MaterialKind::Manure => "manure",
        MaterialKind::PoultryManure => "poultry manure",
        MaterialKind::PlantMatter => "plant matter",
        MaterialKind::SoilMineral => "soil mineral",
    };
    let basis = match material.basis {
        crate::catalogue::Basis::Dry => "dry matter",
        crate::catalogue::Basis::AsIs => "as it comes",
    };
    let sources: Vec<String> =
        material.sources.iter().map(|(field, source)| format!("{field}: {source}")).collect();
    let weight = material.density.map(|density| {
        // A heap is weighed by the yard, a bag by the cup.
        let heap = matches!(
            material.kind,
            MaterialKind::Compost
                | MaterialKind::Manure
                | MaterialKind::PoultryManure
                | MaterialKind::PlantMatter
        );
        let unit = match (showing.system, heap) {
            (UnitSystem::Metric, _) => &units::KILOGRAM_PER_CUBIC_METRE,
            (UnitSystem::Us, true) => &units::POUND_PER_CUBIC_YARD,
            (UnitSystem::Us, false) => &units::POUND_PER_CUP,
        };
        showing.in_unit(density, unit).to_string()
    });
    vec![
        material.name.clone(),
        percent(material.nitrogen),
        percent(material.phosphate),
        percent(material.potash),
        basis.to_owned(),
        release.unwrap_or_default(),
        if material.organic { "yes" } else { "" }.to_owned(),
        kind.to_owned(),
        material.aliases.join(", "),
        material.moisture.map(percent).unwrap_or_default(),
        weight.unwrap_or_default(),
        material.salt_index.map(|index| index.0.to_string()).unwrap_or_default(),
        material.cautions.join(", "),
        material.note.clone().unwrap_or_default(),
        sources.join("; "),
    ]
}

/// Every table of soil-test limits, a row for each class.
pub fn soil_tests(catalogue: &Catalogue) -> Listing {
    let columns = vec![
        "laboratory",
        "extractant",
        "nutrient",
        "from",
        "unit",
        "its word",
        "class",
        "texture",
        "source",
    ];
    let rows = catalogue
        .limits()
        .iter()
        .flat_map(|table| {
            table.classes.iter().map(|limit| {
                vec![
                    table.lab.clone(),
                    table.extractant.word().to_owned(),
                    table.nutrient.clone(),
                    limit.from.0.to_string(),
                    table.unit.clone(),
                    limit.word.clone(),
                    limit.class.words().to_owned(),
                    table.texture.clone().unwrap_or_default(),
                    table.source.clone(),
                ]
            })
        })
        .collect();
    Listing { title: "Soil-test limits", columns, shown: 7, rows }
}

/// Every sign that `check` takes.
pub fn signs(signs: &Signs) -> Listing {
    let columns = vec!["sign", "what it is"];
    let rows = signs.signs.iter().map(|sign| vec![sign.key.clone(), sign.name.clone()]).collect();
    Listing { title: "Signs", columns, shown: 2, rows }
}

/// Every source, with what it is and how much of it was read.
pub fn sources(catalogue: &Catalogue) -> Listing {
    let columns = vec![
        "id",
        "what it is",
        "title",
        "body",
        "number",
        "year",
        "table",
        "read",
        "derived from",
    ];
    let rows = catalogue
        .sources()
        .map(|source| {
            vec![
                source.id.clone(),
                source.status.words().to_owned(),
                source.title.clone(),
                source.body.clone().unwrap_or_default(),
                source.number.clone().unwrap_or_default(),
                source.year.map(|year| year.to_string()).unwrap_or_default(),
                source.table.clone().unwrap_or_default(),
                source.read.clone().unwrap_or_default(),
                source.from.join(", "),
            ]
        })
        .collect();
    Listing { title: "Sources", columns, shown: 4, rows }
}
