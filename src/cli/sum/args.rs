//! The arguments of each sum.

use clap::Subcommand;

use super::given::{
    LegumeArgs, LiquidArgs, MeasureArgs, MixArgs, NitrateArgs, PriceArgs, RemovalArgs, WaterArgs,
};
use super::shown::Shown;
use super::spread::{AmendArgs, DoseArgs, LabelArgs, OxideArgs, RateArgs};
use crate::engine::sums::{self, Ask, Refusal, Sum};

/// A sum.
#[derive(Debug, Subcommand)]
pub enum SumCommand {
    Label(LabelArgs),
    Dose(DoseArgs),
    Rate(RateArgs),
    Oxide(OxideArgs),
    Amend(AmendArgs),
    Legume(LegumeArgs),
    Water(WaterArgs),
    Nitrate(NitrateArgs),
    Liquid(LiquidArgs),
    Price(PriceArgs),
    Removal(RemovalArgs),
    Measure(MeasureArgs),
    Mix(MixArgs),
}

impl SumCommand {
    /// How the answer is shown.
    pub fn shown(&self) -> &Shown {
        match self {
            Self::Label(args) => &args.shown,
            Self::Dose(args) => &args.shown,
            Self::Rate(args) => &args.shown,
            Self::Oxide(args) => &args.shown,
            Self::Amend(args) => &args.shown,
            Self::Legume(args) => &args.shown,
            Self::Water(args) => &args.shown,
            Self::Nitrate(args) => &args.shown,
            Self::Liquid(args) => &args.shown,
            Self::Price(args) => &args.shown,
            Self::Removal(args) => &args.shown,
            Self::Measure(args) => &args.shown,
            Self::Mix(args) => &args.shown,
        }
    }

    /// The title of the answer.
    pub const fn title(&self) -> &'static str {
        match self {
            Self::Label(_) => "What the pack holds",
            Self::Dose(_) => "The dose",
            Self::Rate(_) => "The rate",
            Self::Oxide(_) => "Element and oxide",
            Self::Amend(_) => "The amendment",
            Self::Legume(_) => "The cover crop",
            Self::Water(_) => "Nitrogen in the water",
            Self::Nitrate(_) => "The nitrate test",
            Self::Liquid(_) => "The liquid feed",
            Self::Price(_) => "The price of each nutrient",
            Self::Removal(_) => "What the harvest carries away",
            Self::Measure(_) => "Volume and weight",
            Self::Mix(_) => "The dose in mix",
        }
    }

    /// Does the sum.
    pub fn reckon(&self, ask: &Ask<'_>) -> Result<Sum, Refusal> {
        match self {
            Self::Label(args) => sums::label(&args.sum(), ask),
            Self::Dose(args) => sums::dose(&args.sum(), ask),
            Self::Rate(args) => sums::rate(&args.sum(), ask),
            Self::Oxide(args) => sums::oxide(&args.sum(), ask),
            Self::Amend(args) => sums::amend(&args.sum(), ask),
            Self::Legume(args) => sums::legume(&args.sum(), ask),
            Self::Water(args) => sums::water(&args.sum(), ask),
            Self::Nitrate(args) => sums::nitrate(&args.sum(), ask),
            Self::Liquid(args) => sums::liquid(&args.sum(), ask),
            Self::Price(args) => sums::price(&args.sum(), ask),
            Self::Removal(args) => sums::removal(&args.sum(), ask),
            Self::Measure(args) => sums::measure(&args.sum(), ask),
            Self::Mix(args) => sums::mix(&args.sum(), ask),
        }
    }
}
