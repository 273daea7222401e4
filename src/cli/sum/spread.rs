//! Arguments of the sums on what is spread: label, dose, rate, oxide, amend.

use clap::Args;

use super::shown::Shown;
use crate::engine::sums;

/// Read a label: what a pack holds of each nutrient, and what is left of it.
#[derive(Args, Debug)]
#[command(after_help = r#"Example: topdress sum label 16-4-8 --weight "100 lb"
Answers: nitrogen, phosphate, potash, filler"#)]
pub struct LabelArgs {
    /// An analysis or a material.
    #[arg(value_name = "ANALYSIS")]
    from: Option<String>,
    /// The weight of the pack; a volume of a liquid goes with --density.
    #[arg(long, value_name = "WEIGHT")]
    weight: Option<String>,
    /// What a volume weighs, like "10.69 lb/gal".
    #[arg(long, value_name = "DENSITY")]
    density: Option<String>,
    #[command(flatten)]
    pub(super) shown: Shown,
}

impl LabelArgs {
    pub(super) fn sum(&self) -> sums::Label {
        sums::Label {
            from: self.from.clone().unwrap_or_default(),
            weight: self.weight.clone().unwrap_or_default(),
            density: self.density.clone(),
        }
    }
}

/// Weigh one or more materials for one or more needs.
#[derive(Args, Debug)]
#[command(
    after_help = r#"Example: topdress sum dose --need "n 3 lb/1000 ft2" --from 24-25-4 --over "1000 ft2"
         topdress sum dose --need "n 3.5 lb" --need "p2o5 1.75 lb" --from 21-22-4 --from 32-0-4
         topdress sum dose --need "n 40 lb/acre" --from 16-0-0 --over "100 ft" --row-spacing "3 ft" --plants 50
Answers: one per material under its own name, per plant, volume, packs; then nitrogen,
         phosphate, potash brought, nitrogen that counts, surplus nitrogen (phosphate, potash)"#
)]
pub struct DoseArgs {
    /// A nutrient and an amount: "n 3 lb/1000 ft2", "p 20 kg/ha" (the element), "k2o 2 lb"; repeat it for more.
    #[arg(long = "need", value_name = "NEED")]
    needs: Vec<String>,
    /// An analysis or a material, perhaps with "@ 60 %"; repeat it for more.
    #[arg(long = "from", value_name = "MATERIAL")]
    from: Vec<String>,
    /// The ground: "1000 ft2", "4 ft x 25 ft", or a length of row.
    #[arg(long, value_name = "GROUND")]
    over: Option<String>,
    /// Distance between rows, where --over is a length of row.
    #[arg(long, value_name = "LENGTH")]
    row_spacing: Option<String>,
    /// How many plants share the dose.
    #[arg(long, value_name = "COUNT")]
    plants: Option<String>,
    /// Fill the first need with the first material, then the rest, as bulletins do it.
    #[arg(long)]
    in_order: bool,
    /// What a volume of the material weighs, for an answer by volume.
    #[arg(long, value_name = "DENSITY")]
    density: Option<String>,
    /// The weight of a pack, for an answer in packs.
    #[arg(long, value_name = "WEIGHT")]
    pack: Option<String>,
    #[command(flatten)]
    pub(super) shown: Shown,
}

impl DoseArgs {
    pub(super) fn sum(&self) -> sums::Dose {
        sums::Dose {
            needs: self.needs.clone(),
            from: self.from.clone(),
            over: self.over.clone(),
            row_spacing: self.row_spacing.clone(),
            plants: self.plants.clone(),
            in_order: self.in_order,
            density: self.density.clone(),
            pack: self.pack.clone(),
        }
    }
}

/// Turn an amount into other units.
#[derive(Args, Debug)]
#[command(after_help = r#"Example: topdress sum rate "264 lb/acre" --to "lb/1000 ft2"
Answers: rate"#)]
pub struct RateArgs {
    /// Any amount with a unit.
    #[arg(value_name = "AMOUNT")]
    rate: Option<String>,
    /// The unit wanted.
    #[arg(long, value_name = "UNIT")]
    to: Option<String>,
    /// Distance between rows, between a rate for the ground and one for a length of row.
    #[arg(long, value_name = "LENGTH")]
    row_spacing: Option<String>,
    #[command(flatten)]
    pub(super) shown: Shown,
}

impl RateArgs {
    pub(super) fn sum(&self) -> sums::RateSum {
        sums::RateSum {
            rate: self.rate.clone().unwrap_or_default(),
            to: self.to.clone(),
            row_spacing: self.row_spacing.clone(),
        }
    }
}

/// Turn an element into the oxide a label counts it as, or back.
#[derive(Args, Debug)]
#[command(after_help = r#"Example: topdress sum oxide "20 lb P" --to P2O5
Answers: weight"#)]
pub struct OxideArgs {
    /// An amount of P, P2O5, K, K2O, N, NO3, Ca, CaO, Mg, MgO, S, SO3 or SO4.
    #[arg(value_name = "AMOUNT")]
    amount: Option<String>,
    /// What it is to be counted as.
    #[arg(long, value_name = "FORM")]
    to: Option<String>,
    #[command(flatten)]
    pub(super) shown: Shown,
}

impl OxideArgs {
    pub(super) fn sum(&self) -> sums::Oxide {
        sums::Oxide { amount: self.amount.clone().unwrap_or_default(), to: self.to.clone() }
    }
}

/// Reckon a compost or manure: weight, nutrients, nitrogen that counts.
#[derive(Args, Debug)]
#[command(
    after_help = r#"Example: topdress sum amend "yard compost" --depth "1 in" --over "500 ft2" --density "1000 lb/yd3" \
           --analysis 1.5-0.5-1 --basis dry --moisture "40 %" --release "10 %"
         topdress sum amend "dairy manure" --amount "5 ton" --ammonium "8 lb/ton" --worked-in "1 day"
Answers: volume, weight, dry weight, nitrogen, phosphate, potash, organic nitrogen, ammonium
         nitrogen, organic nitrogen that counts, ammonium nitrogen kept, nitrogen that counts,
         nitrogen that counts in year 2 (3)"#
)]
pub struct AmendArgs {
    /// A material; one that is not listed wants --analysis.
    #[arg(value_name = "MATERIAL")]
    material: Option<String>,
    /// How deep it is spread, with --over.
    #[arg(long, value_name = "DEPTH")]
    depth: Option<String>,
    /// Or how much: a weight, a volume, or either for an area with --over.
    #[arg(long, value_name = "AMOUNT")]
    amount: Option<String>,
    /// The ground.
    #[arg(long, value_name = "GROUND")]
    over: Option<String>,
    /// What a volume of it weighs.
    #[arg(long, value_name = "DENSITY")]
    density: Option<String>,
    /// Its analysis.
    #[arg(long, value_name = "ANALYSIS")]
    analysis: Option<String>,
    /// Whether the analysis counts dry matter ("dry") or the stuff as it comes ("as-is").
    #[arg(long, value_name = "BASIS")]
    basis: Option<String>,
    /// Its water.
    #[arg(long, value_name = "PERCENT")]
    moisture: Option<String>,
    /// The share of its nitrogen that becomes available; of its organic nitrogen with --ammonium.
    #[arg(long, value_name = "PERCENT")]
    release: Option<String>,
    /// Its ammonium nitrogen, like "8 lb/ton".
    #[arg(long, value_name = "CONTENT")]
    ammonium: Option<String>,
    /// Its nitrate nitrogen, like "0.5 lb/ton".
    #[arg(long, value_name = "CONTENT")]
    nitrate: Option<String>,
    /// How soon it is worked in: "1 day", injected or never.
    #[arg(long, value_name = "WHEN")]
    worked_in: Option<String>,
    /// Until then: average, cool-wet, cool-dry, warm-wet or warm-dry.
    #[arg(long, value_name = "WEATHER")]
    weather: Option<String>,
    /// Which year the nitrogen is asked for: 1, 2 or 3.
    #[arg(long, value_name = "YEAR")]
    year: Option<String>,
    #[command(flatten)]
    pub(super) shown: Shown,
}

impl AmendArgs {
    pub(super) fn sum(&self) -> sums::Amend {
        sums::Amend {
            material: self.material.clone().unwrap_or_default(),
            depth: self.depth.clone(),
            amount: self.amount.clone(),
            over: self.over.clone(),
            density: self.density.clone(),
            analysis: self.analysis.clone(),
            basis: self.basis.clone(),
            moisture: self.moisture.clone(),
            release: self.release.clone(),
            ammonium: self.ammonium.clone(),
            nitrate: self.nitrate.clone(),
            worked_in: self.worked_in.clone(),
            weather: self.weather.clone(),
            year: self.year.clone(),
        }
    }
}
