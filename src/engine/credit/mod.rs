//! What already feeds a planting: soil, earlier years, cover crops, residues, water and what is
//! spread this season.

mod amendment;
mod cover_crop;
mod earlier;
mod earlier_doses;
mod nitrate;
mod organic_matter;
mod rain;
mod residues;
mod water;

pub use amendment::{BedAmendment, bed_amendments, nitrogen_content, recorded, released_share};
pub use earlier_doses::earlier_doses;
pub use nitrate::{sampled_in_life, tested_on};
pub use rain::losses;

use super::ceiling;
use super::life::Life;
use super::need::Basis;
use super::release::Release;
use super::rules;
use super::setting::Setting;
use super::soil::{Soil, is_container};
use crate::calendar::Date;
use crate::figure::Figure;
use crate::quantity::{Area, Mass, Share};
use crate::season::{AlreadyCredited, Bed, Planting, slug};

/// What a credit comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CreditKind {
    /// Nitrate in the soil, tested or assumed.
    SoilNitrate,
    /// What the crop before left unused.
    LeftUnused,
    /// Doses given to the crop before.
    EarlierDoses,
    /// Organic matter above the ordinary.
    OrganicMatter,
    /// Compost or manure of earlier years.
    Earlier,
    /// A killed cover crop.
    CoverCrop,
    /// Residues of the crop before.
    Residues,
    /// Irrigation.
    Water,
    /// What is spread this season.
    Amendment,
    /// Nitrate lost to rain: a debt.
    Rain,
}

impl CreditKind {
    /// Whether it is taken off the ceiling too: additions are, what the soil holds is not.
    pub const fn off_ceiling(self) -> bool {
        !matches!(self, Self::SoilNitrate | Self::LeftUnused | Self::OrganicMatter | Self::Rain)
    }
}

/// How a credit comes in over the life of a planting.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// All there at planting.
    AtPlanting,
    /// With soil time, from after a day.
    SoilTime(Date),
    /// The same every day after one day up to and with another.
    Evenly(Date, Date),
    /// As a material releases, spread on a day and counted after another; several by their weight.
    Releasing(Vec<Releasing>),
}

/// One part of a release: what was spread on a day and counts after another.
#[derive(Clone, Debug, PartialEq)]
pub struct Releasing {
    /// How it comes free.
    pub release: Release,
    /// When it was spread.
    pub on: Date,
    /// The last day whose release does not count.
    pub after: Date,
    /// Its nitrogen, for weighing several parts.
    pub nitrogen: Mass,
    /// The share of it that was spread as ammonium, 0 to 1.
    pub ammonium: f64,
}

/// One credit of one planting.
#[derive(Clone, Debug)]
pub struct Credit {
    /// What it comes from.
    pub kind: CreditKind,
    /// Its name in paths.
    pub slug: String,
    /// What a grower calls it.
    pub label: String,
    /// Nitrogen that counts, with its likely range. Below zero where nitrogen is tied up.
    pub nitrogen: Figure<Mass>,
    /// How it comes in.
    pub shape: Shape,
    /// When it was spread, where it was written down as done.
    pub recorded: Option<Date>,
}

impl Credit {
    fn new(
        kind: CreditKind,
        label: impl Into<String>,
        nitrogen: Figure<Mass>,
        shape: Shape,
    ) -> Self {
        let label = label.into();
        Self { kind, slug: slug(&label), label, nitrogen, shape, recorded: None }
    }
}

/// What the crop before leaves to the one that takes over its ground.
#[derive(Clone, Debug)]
pub struct Before<'a> {
    /// The planting.
    pub planting: &'a Planting,
    /// Its life.
    pub life: Life,
    /// Its whole area.
    pub area: Figure<Area>,
    /// The part that is taken over.
    pub taken_over: Area,
    /// Nitrogen it left unused on all its ground; nothing where its ledger is not known.
    pub unused: Option<Figure<Mass>>,
}

/// One planting and all that its credits are reckoned from.
#[derive(Debug)]
pub struct Plot<'a> {
    /// The season's setting.
    pub setting: &'a Setting<'a>,
    /// The bed.
    pub bed: &'a Bed,
    /// Its area.
    pub bed_area: &'a Figure<Area>,
    /// Its soil.
    pub soil: &'a Soil,
    /// What is spread on it.
    pub amendments: &'a [BedAmendment],
    /// Its index within the bed.
    pub index: usize,
    /// The planting.
    pub planting: &'a Planting,
    /// Its life.
    pub life: Life,
    /// Its area.
    pub area: Figure<Area>,
    /// The crops before it on its ground.
    pub before: Vec<Before<'a>>,
    /// The part of its ground that bore nothing before.
    pub fresh: Area,
    /// What its need rests on.
    pub basis: Basis,
    /// Its need.
    pub need: &'a Figure<Mass>,
}

impl Plot<'_> {
    /// The share of the bed it takes.
    pub fn part_of_bed(&self) -> Figure<Share> {
        let part = self.area.ratio_to(self.bed_area);
        part.unwrap_or_else(|| {
            Figure::fixed("share of the bed", Share::WHOLE, &rules::PLANTING_AREA)
        })
        .called("share of the bed")
    }

    /// The parts of its ground, each with the day from which release counts for it.
    pub fn portions(&self) -> Vec<(Area, Option<Date>)> {
        let fresh = (self.fresh > Area::ZERO).then_some((self.fresh, None));
        let after = self.before.iter().map(|before| (before.taken_over, Some(before.life.end)));
        fresh.into_iter().chain(after).collect()
    }

    /// The day a nitrate test replaced the ledger of this planting, where one did.
    pub fn reset(&self) -> Option<Date> {
        nitrate::reset(self)
    }

    /// The last day whose release no longer counts: the eve of planting, or of a nitrate test.
    pub fn life_from(&self) -> Date {
        let eve = self.life.planted - 1;
        self.reset().map_or(eve, |day| day.max(eve))
    }
}

/// All credits of a planting, in the order they are shown.
pub fn all(plot: &Plot<'_>) -> Vec<Credit> {
    let mut credits = Vec::new();
    let container = is_container(plot.bed);
    match plot.basis {
        Basis::Given => {
            let credited = |what| plot.planting.already_credited.contains(&what);
            let sampled = plot.bed.soil.as_ref().and_then(|soil| soil.sampled).map(|day| day.value);
            if !credited(AlreadyCredited::Amendments) {
                credits.extend(amendment::credits(plot, sampled));
            }
            if !credited(AlreadyCredited::Water) {
                credits.extend(water::credit(plot));
            }
            return credits;
        }
        Basis::Supply if !container => {
            credits.extend(nitrate::credits(plot));
            credits.extend(soil_and_earlier(plot));
        }
        Basis::Container => {}
        _ => credits.extend(earlier::credits(plot).into_iter().map(|(credit, _)| credit)),
    }
    if !container {
        credits.extend(cover_crop::credits(plot));
        credits.extend(residues::credits(plot));
    }
    credits.extend(water::credit(plot));
    credits.extend(amendment::credits(plot, None));
    credits
}

/// Organic matter and earlier compost: both, or the larger where the test already holds the compost.
fn soil_and_earlier(plot: &Plot<'_>) -> Vec<Credit> {
    let matter = organic_matter::credit(plot);
    let earlier = earlier::credits(plot);
    let (held, apart): (Vec<_>, Vec<_>) = earlier.into_iter().partition(|(_, held)| *held);
    let held: Vec<Credit> = held.into_iter().map(|(credit, _)| credit).collect();
    let mut out = Vec::new();
    match matter {
        Some(matter) if !held.is_empty() => {
            let sum = Figure::total(held.iter().map(|credit| &credit.nitrogen))
                .called("from earlier years");
            if sum.value() > matter.nitrogen.value() {
                let larger = Figure::greatest(&sum, &[&matter.nitrogen])
                    .by("earlier compost and manure", &rules::LARGER_OF_TWO);
                let (low, high) = sum_range(&held);
                let nitrogen = larger.between(low, high);
                let shape = Shape::SoilTime(plot.life_from());
                out.push(Credit::new(
                    CreditKind::Earlier,
                    "earlier compost and manure",
                    nitrogen,
                    shape,
                ));
            } else {
                let (low, high) = matter.nitrogen.range();
                let larger = Figure::greatest(&matter.nitrogen, &[&sum])
                    .by("organic matter", &rules::LARGER_OF_TWO)
                    .between(low, high);
                let shape = Shape::SoilTime(plot.life_from());
                out.push(Credit::new(CreditKind::OrganicMatter, "organic matter", larger, shape));
            }
        }
        matter => {
            out.extend(matter);
            out.extend(held);
        }
    }
    out.extend(apart.into_iter().map(|(credit, _)| credit));
    out
}

fn sum_range(credits: &[Credit]) -> (Mass, Mass) {
    let ends = credits.iter().map(|credit| credit.nitrogen.range());
    ends.fold((Mass::ZERO, Mass::ZERO), |(low, high), (one_low, one_high)| {
        (low + one_low, high + one_high)
    })
}

/// What is left of a planting's ceiling once its credits that count as additions are taken off. What
/// rain has washed away of them, beyond all that the ground itself gave, leaves room again.
pub fn ceiling_left(gross: &Figure<Mass>, credits: &[Credit]) -> Figure<Mass> {
    let some = |credit: &&Credit| credit.nitrogen.value() > Mass::ZERO;
    let (off, ground): (Vec<&Credit>, Vec<&Credit>) =
        credits.iter().filter(some).partition(|credit| credit.kind.off_ceiling());
    let nitrogen = |credits: &[&Credit]| -> Vec<Figure<Mass>> {
        credits.iter().map(|credit| credit.nitrogen.clone()).collect()
    };
    let rains: Vec<&Credit> =
        credits.iter().filter(|credit| credit.kind == CreditKind::Rain).collect();
    let additions = nitrogen(&off);
    if rains.is_empty() || off.is_empty() {
        return ceiling::left(gross, &additions.iter().collect::<Vec<_>>());
    }
    let none = Figure::fixed("nothing", Mass::ZERO, &rules::RAIN);
    let washed = (&none - &Figure::total(&nitrogen(&rains))).called("washed away by rain");
    let ground = Figure::total(&nitrogen(&ground)).called("given by the ground");
    let of_additions = (&washed - &ground).at_least_zero().called("washed away of what was added");
    let added = Figure::total(&additions).called("given by other additions");
    let still = (&added - &of_additions).at_least_zero().by("still there of it", &rules::CEILING);
    ceiling::left(gross, &[&still])
}

/// Notes a likely range as shares of the value.
fn spread(figure: Figure<Mass>, low: (i64, u32), high: (i64, u32)) -> Figure<Mass> {
    use rust_decimal::Decimal;
    let times = |(digits, places): (i64, u32)| {
        Mass::from_base(figure.value().base() * Decimal::new(digits, places))
    };
    let (a, b) = (times(low), times(high));
    let (low, high) = if a <= b { (a, b) } else { (b, a) };
    figure.between(low, high)
}
