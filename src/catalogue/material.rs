//! What the catalogue knows of a material. Every figure names the id of its source.

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::quantity::{Density, Share};

/// What a material is, as far as the rules tell them apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum MaterialKind {
    /// Mineral salt or blend of salts.
    Mineral,
    /// Meal of animal origin (blood, feather, fish, bone, horn) or guano.
    AnimalMeal,
    /// Meal of plant origin (seed meals, alfalfa, kelp).
    PlantMeal,
    /// Compost of any kind, vermicompost and composted manure with it.
    Compost,
    /// Manure that has not been composted, fresh or dried.
    Manure,
    /// Poultry manure, litter and pellets made of it.
    PoultryManure,
    /// Fresh or dry plant matter (clippings, straw, sawdust, grounds).
    PlantMatter,
    /// Ash, lime, gypsum and other minerals that carry no nitrogen.
    SoilMineral,
}

impl MaterialKind {
    /// The words the lists have for them.
    pub const WORDS: [(&'static str, Self); 8] = [
        ("mineral", Self::Mineral),
        ("animal-meal", Self::AnimalMeal),
        ("plant-meal", Self::PlantMeal),
        ("compost", Self::Compost),
        ("manure", Self::Manure),
        ("poultry-manure", Self::PoultryManure),
        ("plant-matter", Self::PlantMatter),
        ("soil-mineral", Self::SoilMineral),
    ];

    /// Whether it is manure that has not been composted, of any animal.
    pub const fn is_manure(self) -> bool {
        matches!(self, Self::Manure | Self::PoultryManure)
    }
}

/// Whether an analysis counts the water.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Basis {
    /// Of dry matter.
    Dry,
    /// As it comes, water and all.
    AsIs,
}

/// Which two-pool parameters a material's organic nitrogen follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PoolClass {
    /// Blood, feather, fish, guano, slaughter meals.
    Meal,
    /// Alfalfa, seed meals, legume residue.
    Plant,
    /// Poultry litter and pellets.
    Poultry,
    /// Manure of other animals.
    Manure,
    /// Compost.
    Compost,
}

/// What a compost was made of, for the formula on its carbon to nitrogen ratio.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Feedstock {
    /// Poultry manure.
    Poultry,
    /// Other manure, or a mixture.
    Mixed,
    /// Plant residues.
    Plant,
}

/// Share of total nitrogen that becomes available in the first season (about 120 days at 20 C).
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Release {
    /// Low end; below zero where nitrogen is tied up. In percent, such as "-5".
    pub low: super::crop::Number,
    /// Typical, in percent.
    pub typical: super::crop::Number,
    /// High end, in percent.
    pub high: super::crop::Number,
}

/// A material.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "snake_case")]
pub struct Material {
    /// The name shown.
    pub name: String,
    /// Other names growers use.
    #[serde(default)]
    pub aliases: Vec<String>,
    /// What it is.
    pub kind: MaterialKind,
    /// Total nitrogen, on `basis`.
    pub nitrogen: Share,
    /// Phosphate (P2O5), on `basis`.
    pub phosphate: Share,
    /// Potash (K2O), on `basis`.
    pub potash: Share,
    /// Whether the analysis counts the water.
    pub basis: Basis,
    /// Water as a share of the wet weight.
    #[serde(default)]
    pub moisture: Option<Share>,
    /// Of the total nitrogen, the share that is nitrate.
    #[serde(default)]
    pub nitrate_share: Option<Share>,
    /// Of the total nitrogen, the share that is ammonium (urea counts as ammonium).
    #[serde(default)]
    pub ammonium_share: Option<Share>,
    /// Carbon to nitrogen ratio.
    #[serde(default)]
    pub carbon_nitrogen: Option<super::crop::Number>,
    /// Weight per volume: "1000 lb/yd3", "0.38 lb/cup" or "11.65 lb/gal".
    #[serde(default)]
    pub density: Option<Density>,
    /// First-season release of total nitrogen; nothing for what carries none.
    #[serde(default)]
    pub release: Option<Release>,
    /// Pools its organic nitrogen follows; nothing for mineral nitrogen.
    #[serde(default)]
    pub pools: Option<PoolClass>,
    /// What a compost was made of; a mixture where not said.
    #[serde(default)]
    pub feedstock: Option<Feedstock>,
    /// Share of phosphate available in the year where the soil is low or very low.
    #[serde(default)]
    pub phosphate_available_on_low_soil: Option<Share>,
    /// Whether it may be used in organic growing by common rules (the certifier decides).
    #[serde(default)]
    pub organic: bool,
    /// Salt index (sodium nitrate = 100, equal weights).
    #[serde(default)]
    pub salt_index: Option<super::crop::Number>,
    /// Keys of the cautions it calls for, such as "dust", "oxidizer", "raw-manure".
    #[serde(default)]
    pub cautions: Vec<String>,
    /// A few words of our own.
    #[serde(default)]
    pub note: Option<String>,
    /// Id of the source of each field above that holds a figure, by field name.
    pub sources: BTreeMap<String, String>,
}

impl Material {
    /// The id of the source of a field, or of the whole entry where the field names none.
    pub fn source_of(&self, field: &str) -> &str {
        self.sources.get(field).or_else(|| self.sources.get("all")).map_or("", String::as_str)
    }
}
