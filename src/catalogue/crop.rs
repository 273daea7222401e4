//! What the catalogue knows of a crop. Every figure names the id of its source.

use rust_decimal::Decimal;
use serde::Deserialize;

use super::names::same;
use crate::quantity::{Concentration, Length, PlantRate, Rate, RowRate, Share, Spread};

/// A figure with the id of its source.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sourced<T> {
    /// The figure.
    pub value: T,
    /// Id of its source.
    pub source: String,
}

/// How hungry a crop is by reputation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FeederClass {
    /// Light feeder.
    Light,
    /// Medium feeder.
    Medium,
    /// Heavy feeder.
    Heavy,
}

impl Crop {
    /// Whether a grower may mean this crop by a name: its own or one of its others.
    pub fn is_called(&self, name: &str) -> bool {
        std::iter::once(&self.name).chain(&self.aliases).any(|one| same(one, name))
    }
}

/// A crop.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "snake_case")]
pub struct Crop {
    /// The name shown.
    pub name: String,
    /// Other names growers use.
    #[serde(default)]
    pub aliases: Vec<String>,
    /// Botanical name.
    #[serde(default)]
    pub latin: Option<String>,
    /// How hungry it is.
    pub feeder: Sourced<FeederClass>,
    /// Whether it is of the cabbage family.
    #[serde(default)]
    pub brassica: bool,
    /// Whether it makes a head or curd (no side-dressing before day 21).
    #[serde(default)]
    pub heading: bool,
    /// Whether it is a legume.
    #[serde(default)]
    pub legume: bool,
    /// Whether a legume gets no nitrogen at all where organic matter is 3 % or more.
    #[serde(default)]
    pub none_on_rich_soil: bool,
    /// Whether it is eaten as leaves (late nitrogen caution).
    #[serde(default)]
    pub leafy: bool,
    /// Whether the eaten part lies on or in the soil (raw manure interval of 120 days, else 90).
    #[serde(default)]
    pub touches_soil: bool,
    /// Whether it is picked over for weeks (needs `last_harvest`, else harvest and 56 days).
    #[serde(default)]
    pub picked_over: bool,
    /// Whether it usually stands over winter (garlic, autumn-sown onion).
    #[serde(default)]
    pub overwintered: bool,
    /// Whether it stands for years.
    #[serde(default)]
    pub perennial: bool,
    /// Usual days from planting to harvest.
    #[serde(default)]
    pub days: Option<Sourced<DayRange>>,
    /// The supply row: what the crop must find in all, soil included.
    #[serde(default)]
    pub supply: Option<Supply>,
    /// The same for single years of a perennial, and for the dressing after its harvest.
    #[serde(default)]
    pub stand: Vec<super::Stand>,
    /// Season rates of fertilizer from bulletins.
    #[serde(default, rename = "recommendation")]
    pub recommendations: Vec<Recommendation>,
    /// Most nitrogen planned as fertilizer on ordinary ground.
    pub ceiling: Sourced<Rate>,
    /// What a harvest carries away, one entry per set of figures.
    #[serde(default, rename = "removal")]
    pub removals: Vec<Removal>,
    /// Garden spacing and yield.
    #[serde(default)]
    pub chart: Option<Chart>,
    /// Share of the planned nitrogen given at planting.
    pub starter: Sourced<Share>,
    /// When side-dressings fall.
    pub side_dress: Timing,
    /// When nitrogen is no longer of use.
    pub last_useful: Sourced<LastUseful>,
    /// Most nitrogen available within 14 days in one side-dressing, where it is not the usual cap.
    #[serde(default)]
    pub cap: Option<Sourced<Rate>>,
    /// How nitrogen uptake runs over its life.
    pub curve: Sourced<Curve>,
    /// Soil nitrate at or above which no side-dressing is needed.
    #[serde(default)]
    pub nitrate_test: Option<NitrateTest>,
    /// Published rescue rate.
    #[serde(default)]
    pub rescue: Option<Rescue>,
    /// Share of the plant's nitrogen that leaves with the harvest.
    #[serde(default)]
    pub harvest_share: Option<Sourced<Share>>,
    /// Nitrogen in its dry matter as a killed cover crop.
    #[serde(default)]
    pub cover_nitrogen: Option<Sourced<Share>>,
}

/// A low and a high count of days.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DayRange {
    /// Low end, days.
    pub low: u16,
    /// High end, days.
    pub high: u16,
}

/// A supply row: total nitrogen the crop must find at a reference yield.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Supply {
    /// Nitrogen demand at the reference yield.
    pub nitrogen: Rate,
    /// Reference yield; nothing for a stand that is not harvested yet.
    pub reference_yield: Rate,
    /// Yield difference of one full step: a share of the reference yield, or a yield.
    pub step: YieldStep,
    /// Change of demand for one full step.
    pub per_step: Rate,
    /// Depth to which its roots find nitrate (sampling depth).
    pub depth: Length,
    /// Nitrogen its residues leave to a crop that follows in the same year.
    #[serde(default)]
    pub residues: Option<Rate>,
    /// Week in which measuring soil nitrate is advised.
    #[serde(default)]
    pub measure_week: Option<u8>,
    /// Id of the source.
    pub source: String,
}

/// The yield difference that one full step stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum YieldStep {
    /// A share of the reference yield.
    Share(Share),
    /// A yield.
    Yield(Rate),
}

/// One rate for each class that a bulletin prints.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Levels {
    /// Low.
    #[serde(default)]
    pub low: Option<Rate>,
    /// Medium.
    #[serde(default)]
    pub medium: Option<Rate>,
    /// High: the source's optimum.
    #[serde(default)]
    pub high: Option<Rate>,
    /// Very high.
    #[serde(default)]
    pub very_high: Option<Rate>,
}

/// A season rate of fertilizer from a bulletin.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Recommendation {
    /// Nitrogen for the season, where the row is a season rate.
    #[serde(default)]
    pub nitrogen: Option<Spread<Rate>>,
    /// Whether `nitrogen` is only part of the season's rate (a starter band or a lower bound).
    #[serde(default)]
    pub part: bool,
    /// Phosphate by soil-test class.
    #[serde(default)]
    pub phosphate: Levels,
    /// Potash by soil-test class.
    #[serde(default)]
    pub potash: Levels,
    /// Region the row names, in lower case, such as "coastal plain".
    #[serde(default)]
    pub region: Option<String>,
    /// The only texture it is for, such as "sand".
    #[serde(default)]
    pub texture: Option<String>,
    /// Soil organic matter it is for: at least this.
    #[serde(default)]
    pub organic_matter_from: Option<Share>,
    /// Soil organic matter it is for: below this.
    #[serde(default)]
    pub organic_matter_below: Option<Share>,
    /// Year of the source, for choosing the latest; nothing where it shows none.
    #[serde(default)]
    pub year: Option<u16>,
    /// When to give it, in a few words of our own.
    #[serde(default)]
    pub note: Option<String>,
    /// Id of the source.
    pub source: String,
}

/// What a harvest carries away: shares of its fresh weight.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Removal {
    /// Nitrogen, as weight per fresh weight.
    #[serde(default)]
    pub nitrogen: Option<Share>,
    /// Phosphate (P2O5), as weight per fresh weight.
    #[serde(default)]
    pub phosphate: Option<Share>,
    /// Potash (K2O), as weight per fresh weight.
    #[serde(default)]
    pub potash: Option<Share>,
    /// Which set: "ordinance", "united kingdom", "food composition", "new england" or "california".
    pub set: String,
    /// Id of the source.
    pub source: String,
}

/// Garden spacing and yield, as a planting chart prints them.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Chart {
    /// Distance in the row.
    #[serde(default)]
    pub in_row: Option<Spread<Length>>,
    /// Distance between rows.
    #[serde(default)]
    pub between_rows: Option<Spread<Length>>,
    /// Yield per length of row.
    #[serde(default)]
    pub per_row: Option<Spread<RowRate>>,
    /// Yield per plant.
    #[serde(default)]
    pub per_plant: Option<Spread<PlantRate>>,
    /// Whether the yield per plant over the spacing may stand for the yield of the supply row
    /// (only cabbage, whose plants stand as close in rows as the chart spaces them).
    #[serde(default)]
    pub per_plant_scales: bool,
    /// Id of the source.
    pub source: String,
}

/// When side-dressings fall.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Timing {
    /// Days after planting (or after regrowth, for overwintered crops).
    #[serde(default)]
    pub days: Vec<i32>,
    /// Days before (negative) or after the first harvest.
    #[serde(default)]
    pub from_harvest: Vec<i32>,
    /// Every so many days from regrowth to the last useful day.
    #[serde(default)]
    pub every: Option<i32>,
    /// Id of the source.
    pub source: String,
}

/// When nitrogen is no longer of use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LastUseful {
    /// So many days before the (last) harvest.
    DaysBeforeHarvest(i32),
    /// After the first two thirds of its life.
    TwoThirdsOfLife,
}

/// How uptake runs over the life of a crop.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Curve {
    /// S-shaped: share = (L(x) - L(0)) / (L(1) - L(0)), L(x) = 1 / (1 + exp(-k (x - m))).
    Logistic {
        /// Where in its life uptake is quickest (m), 0 to 1.
        midpoint: Number,
        /// How steep the rise is (k).
        steepness: Number,
    },
    /// Straight lines between points of (share of life, share taken).
    Points(Vec<(Number, Number)>),
}

/// A plain decimal written as text in the lists, so that it is read exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Number(pub Decimal);

impl<'de> Deserialize<'de> for Number {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = <std::borrow::Cow<'de, str>>::deserialize(from)?;
        text.parse().map(Self).map_err(|_| {
            serde::de::Error::custom(format!("`{text}` is not a number, like \"0.55\""))
        })
    }
}

/// Soil nitrate levels at or above which no side-dressing is needed.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NitrateTest {
    /// The level.
    pub critical: Concentration,
    /// The level on manured ground, where the source prints one apart.
    #[serde(default)]
    pub critical_manured: Option<Concentration>,
    /// A table: nitrogen to give up to each level, not manured.
    #[serde(default)]
    pub steps: Vec<NitrateStep>,
    /// The same on manured ground.
    #[serde(default)]
    pub steps_manured: Vec<NitrateStep>,
    /// An equation: nitrogen for each part per million below the critical level.
    #[serde(default)]
    pub per_ppm: Option<Rate>,
    /// Id of the source.
    pub source: String,
}

/// One line of a published side-dress table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NitrateStep {
    /// Up to and with this level.
    pub up_to: Concentration,
    /// Nitrogen to give.
    pub nitrogen: Rate,
}

/// A published rate for a crop found short of nitrogen.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rescue {
    /// The rate.
    pub nitrogen: Spread<Rate>,
    /// Id of the source.
    pub source: String,
}
