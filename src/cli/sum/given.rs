//! Arguments of the other sums: what ground, water, crops and offers give or take.

use clap::Args;

use super::shown::Shown;
use crate::engine::sums;

/// Reckon what a killed cover crop gives.
#[derive(Args, Debug)]
#[command(
    after_help = r#"Example: topdress sum legume --biomass "3000 lb/acre" --nitrogen "3.5 %" --over "1 acre"
         topdress sum legume --sample "1.2 lb" --sampled "8 ft2" --nitrogen "3 %" --over "500 ft2"
Answers: biomass, nitrogen, nitrogen that counts"#
)]
pub struct LegumeArgs {
    /// Dry matter for an area.
    #[arg(long, value_name = "RATE")]
    biomass: Option<String>,
    /// Or the dry weight of a sample.
    #[arg(long, value_name = "WEIGHT")]
    sample: Option<String>,
    /// And the ground it was cut from.
    #[arg(long, value_name = "GROUND")]
    sampled: Option<String>,
    /// Water in it, where it was weighed fresh.
    #[arg(long, value_name = "PERCENT")]
    moisture: Option<String>,
    /// Nitrogen in the dry matter.
    #[arg(long, value_name = "PERCENT")]
    nitrogen: Option<String>,
    /// The share that becomes available; the published line where not given.
    #[arg(long, value_name = "PERCENT")]
    release: Option<String>,
    /// The ground.
    #[arg(long, value_name = "GROUND")]
    over: Option<String>,
    #[command(flatten)]
    pub(super) shown: Shown,
}

impl LegumeArgs {
    pub(super) fn sum(&self) -> sums::Legume {
        sums::Legume {
            biomass: self.biomass.clone(),
            sample: self.sample.clone(),
            sampled: self.sampled.clone(),
            moisture: self.moisture.clone(),
            nitrogen: self.nitrogen.clone().unwrap_or_default(),
            release: self.release.clone(),
            over: self.over.clone(),
        }
    }
}

/// Reckon the nitrogen in irrigation water.
#[derive(Args, Debug)]
#[command(
    after_help = r#"Example: topdress sum water --nitrate "10 ppm" --as nitrogen --depth "12 in" --over "1 acre"
Answers: nitrogen"#
)]
pub struct WaterArgs {
    /// What the water holds.
    #[arg(long, value_name = "PPM")]
    nitrate: Option<String>,
    /// Whether that counts nitrogen or nitrate.
    #[arg(long = "as", value_name = "FORM")]
    counted_as: Option<String>,
    /// The depth of water, with --over.
    #[arg(long, value_name = "DEPTH")]
    depth: Option<String>,
    /// Or its volume.
    #[arg(long, value_name = "VOLUME")]
    volume: Option<String>,
    /// The ground.
    #[arg(long, value_name = "GROUND")]
    over: Option<String>,
    #[command(flatten)]
    pub(super) shown: Shown,
}

impl WaterArgs {
    pub(super) fn sum(&self) -> sums::Water {
        sums::Water {
            nitrate: self.nitrate.clone().unwrap_or_default(),
            counted_as: self.counted_as.clone(),
            depth: self.depth.clone(),
            volume: self.volume.clone(),
            over: self.over.clone(),
        }
    }
}

/// Read a soil nitrate test: nitrogen on hand, critical level, side-dressing.
#[derive(Args, Debug)]
#[command(
    after_help = r#"Example: topdress sum nitrate "18 ppm" --depth "12 in" --density "1.3 g/cm3" --crop "sweet corn" --manured
Answers: nitrogen, critical level, side-dress"#
)]
pub struct NitrateArgs {
    /// Nitrate-nitrogen in the soil.
    #[arg(value_name = "PPM")]
    test: Option<String>,
    /// Depth of the sample.
    #[arg(long, value_name = "DEPTH")]
    depth: Option<String>,
    /// What a volume of the soil weighs.
    #[arg(long, value_name = "DENSITY")]
    density: Option<String>,
    /// The crop, for the side-dressing.
    #[arg(long, value_name = "CROP")]
    crop: Option<String>,
    /// The ground was manured.
    #[arg(long)]
    manured: bool,
    /// The level at or above which nothing is given, where yours differs.
    #[arg(long, value_name = "PPM")]
    critical: Option<String>,
    /// Nitrogen for each ppm below it, where yours differs.
    #[arg(long, value_name = "RATE")]
    per_ppm: Option<String>,
    #[command(flatten)]
    pub(super) shown: Shown,
}

impl NitrateArgs {
    pub(super) fn sum(&self) -> sums::Nitrate {
        sums::Nitrate {
            test: self.test.clone().unwrap_or_default(),
            depth: self.depth.clone(),
            density: self.density.clone(),
            crop: self.crop.clone(),
            manured: self.manured,
            critical: self.critical.clone(),
            per_ppm: self.per_ppm.clone(),
        }
    }
}

/// Make up a liquid feed, or tell its strength.
#[derive(Args, Debug)]
#[command(
    after_help = r#"Example: topdress sum liquid --target "200 ppm n" --from 20-10-20 --volume "100 gal" --injector 1:100
         topdress sum liquid --weight "1 oz" --from 15-0-0 --volume "100 gal"
Answers: weight (or one per material), concentration; then nitrogen, phosphate, potash"#
)]
pub struct LiquidArgs {
    /// A strength and a nutrient, like "200 ppm n"; repeat it for more.
    #[arg(long = "target", value_name = "STRENGTH")]
    targets: Vec<String>,
    /// Or the weight dissolved.
    #[arg(long, value_name = "WEIGHT")]
    weight: Option<String>,
    /// An analysis or a material; repeat it for more.
    #[arg(long = "from", value_name = "MATERIAL")]
    from: Vec<String>,
    /// The volume of feed; of stock with an injector.
    #[arg(long, value_name = "VOLUME")]
    volume: Option<String>,
    /// How an injector thins the stock, like 1:100.
    #[arg(long, value_name = "RATIO")]
    injector: Option<String>,
    #[command(flatten)]
    pub(super) shown: Shown,
}

impl LiquidArgs {
    pub(super) fn sum(&self) -> sums::Liquid {
        sums::Liquid {
            targets: self.targets.clone(),
            weight: self.weight.clone(),
            from: self.from.clone(),
            volume: self.volume.clone().unwrap_or_default(),
            injector: self.injector.clone(),
        }
    }
}

/// Compare what a pound of each nutrient costs.
#[derive(Args, Debug)]
#[command(
    after_help = r#"Example: topdress sum price --offer "50 lb 10-10-10 24.00" --offer "50 lb urea 31.50"
         topdress sum price --weight "50 lb" --price 24.00 --from 10-10-10
Answers: nitrogen, phosphate, potash for each lb or kg (with several offers after the name
         of the offer), cheapest, cheapest phosphate, cheapest potash"#
)]
pub struct PriceArgs {
    /// Weight, material and price, like "50 lb 10-10-10 24.00"; repeat it for more.
    #[arg(long = "offer", value_name = "OFFER")]
    offers: Vec<String>,
    /// The weight of a single offer.
    #[arg(long, value_name = "WEIGHT")]
    weight: Option<String>,
    /// Its price.
    #[arg(long, value_name = "PRICE")]
    price: Option<String>,
    /// Its material.
    #[arg(long, value_name = "MATERIAL")]
    from: Option<String>,
    #[command(flatten)]
    pub(super) shown: Shown,
}

impl PriceArgs {
    pub(super) fn sum(&self) -> sums::Price {
        sums::Price {
            offers: self.offers.clone(),
            weight: self.weight.clone(),
            price: self.price.clone(),
            from: self.from.clone(),
        }
    }
}

/// Reckon what a harvest carries away.
#[derive(Args, Debug)]
#[command(
    after_help = r#"Example: topdress sum removal cabbage --yield "20 ton/acre" --over "1 acre"
Answers: nitrogen, phosphate, potash"#
)]
pub struct RemovalArgs {
    /// The crop; one that is not listed wants --content.
    #[arg(value_name = "CROP")]
    crop: Option<String>,
    /// A weight, or one for an area, a length of row or a plant.
    #[arg(long = "yield", value_name = "YIELD")]
    harvest: Option<String>,
    /// The ground, or the length of row.
    #[arg(long, value_name = "GROUND")]
    over: Option<String>,
    /// Distance between rows.
    #[arg(long, value_name = "LENGTH")]
    row_spacing: Option<String>,
    /// How many plants.
    #[arg(long, value_name = "COUNT")]
    plants: Option<String>,
    /// What the harvest holds, like an analysis: 0.3-0.1-0.4.
    #[arg(long, value_name = "ANALYSIS")]
    content: Option<String>,
    #[command(flatten)]
    pub(super) shown: Shown,
}

impl RemovalArgs {
    pub(super) fn sum(&self) -> sums::RemovalSum {
        sums::RemovalSum {
            crop: self.crop.clone().unwrap_or_default(),
            harvest: self.harvest.clone().unwrap_or_default(),
            over: self.over.clone(),
            row_spacing: self.row_spacing.clone(),
            plants: self.plants.clone(),
            content: self.content.clone(),
        }
    }
}

/// Turn cups and spoons into weights, or back.
#[derive(Args, Debug)]
#[command(after_help = r#"Example: topdress sum measure "2 cup" --from urea
Answers: weight; or cup, tbsp, tsp, pint (and mL)"#)]
pub struct MeasureArgs {
    /// A volume or a weight.
    #[arg(value_name = "AMOUNT")]
    amount: Option<String>,
    /// An analysis or a material.
    #[arg(long, value_name = "MATERIAL")]
    from: Option<String>,
    /// What a volume of it weighs, like "0.4 lb/cup".
    #[arg(long, value_name = "DENSITY")]
    density: Option<String>,
    #[command(flatten)]
    pub(super) shown: Shown,
}

impl MeasureArgs {
    pub(super) fn sum(&self) -> sums::Measure {
        sums::Measure {
            amount: self.amount.clone().unwrap_or_default(),
            from: self.from.clone().unwrap_or_default(),
            density: self.density.clone(),
        }
    }
}

/// Stir a dose into potting mix, so that it can be shared out evenly.
#[derive(Args, Debug)]
#[command(
    after_help = r#"Example: topdress sum mix --dose "12 oz" --from "feather meal" --into "5 gal" --plants 40
Answers: per gallon (or per litre), per plant, mix per plant"#
)]
pub struct MixArgs {
    /// The dose.
    #[arg(long, value_name = "WEIGHT")]
    dose: Option<String>,
    /// The material.
    #[arg(long, value_name = "MATERIAL")]
    from: Option<String>,
    /// The volume of mix.
    #[arg(long, value_name = "VOLUME")]
    into: Option<String>,
    /// How many plants share it.
    #[arg(long, value_name = "COUNT")]
    plants: Option<String>,
    #[command(flatten)]
    pub(super) shown: Shown,
}

impl MixArgs {
    pub(super) fn sum(&self) -> sums::Mix {
        sums::Mix {
            dose: self.dose.clone().unwrap_or_default(),
            from: self.from.clone(),
            into: self.into.clone().unwrap_or_default(),
            plants: self.plants.clone(),
        }
    }
}
