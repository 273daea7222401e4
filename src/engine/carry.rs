//! What a year leaves to the next: the phosphate and potash that were spread against what was
//! carried away, the compost and manure that go on feeding, and whether nitrogen is carried.

use super::area::{bed_area, planting_area};
use super::credit::{BedAmendment, bed_amendments, recorded};
use super::minerals::removed;
use crate::calendar::Date;
use crate::catalogue::MaterialKind;
use crate::figure::Figure;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{Area, Mass};
use crate::record::Applied;
use crate::season::{Bed, Season};

/// For how many years compost and manure are remembered: compost goes on feeding for three years,
/// and what was spread in two of the last three tells of the soil where there is no test.
pub const REMEMBERED_YEARS: i16 = 3;

/// Whether something spread goes on as history, and as which kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Past {
    /// As compost.
    Compost,
    /// As manure.
    Manure,
}

impl Past {
    /// What a material becomes in the history; nothing for what only feeds the year it is spread.
    pub const fn of(kind: MaterialKind) -> Option<Self> {
        match kind {
            MaterialKind::Compost => Some(Self::Compost),
            MaterialKind::Manure | MaterialKind::PoultryManure => Some(Self::Manure),
            _ => None,
        }
    }

    /// The word in a season file.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Compost => "compost",
            Self::Manure => "manure",
        }
    }
}

/// Phosphate or potash of one bed and year, all phosphate counted: what is not available in the
/// year builds up.
#[derive(Clone, Debug)]
pub struct Balance {
    /// Which.
    pub nutrient: Nutrient,
    /// Spread, as amended and as recorded.
    pub spread: Figure<Mass>,
    /// Carried away by the harvests whose content is known.
    pub removed: Figure<Mass>,
    /// Crops whose harvest is not known to carry any, by name.
    pub unknown: Vec<String>,
}

impl Balance {
    /// What was spread beyond what was carried away; below zero where it was less.
    pub fn left(&self) -> Figure<Mass> {
        &self.spread - &self.removed
    }
}

/// What one bed leaves to the next year.
#[derive(Clone, Debug)]
pub struct Legacy {
    /// Phosphate and potash; nothing in containers, whose mix is not carried.
    pub balances: Vec<Balance>,
    /// Whether the nitrate of its soil test still says something: it was sampled after the last
    /// crop, in the window of the next season.
    pub nitrate_carried: bool,
}

/// First day of the window of the season after a year: what is spread from then on belongs to both.
pub fn next_window(year: i16) -> Date {
    super::setting::window(year + 1).0
}

/// Returns what a bed leaves, given what was recorded on it this season.
pub fn legacy(season: &Season, bed: &Bed, applied: &[&Applied]) -> Legacy {
    let year = season.garden.year.value;
    Legacy { balances: balances(bed, applied, year), nitrate_carried: nitrate_carried(bed, year) }
}

fn nitrate_carried(bed: &Bed, year: i16) -> bool {
    let Some(test) = bed.soil.as_ref().filter(|test| test.nitrate.is_some()) else { return false };
    let Some(sampled) = test.nitrate_sampled.or(test.sampled) else { return false };
    let ends = bed.plantings.iter().map(|one| one.last_harvest.unwrap_or(one.harvest).value);
    let last = ends.max().unwrap_or(sampled.value);
    sampled.value >= next_window(year) && sampled.value >= last
}

fn balances(bed: &Bed, applied: &[&Applied], year: i16) -> Vec<Balance> {
    let Some(ground) = bed_area(bed).filter(|area| area.value() > Area::ZERO) else {
        return Vec::new();
    };
    let areas: Vec<Figure<Area>> =
        bed.plantings.iter().map(|one| planting_area(bed, &ground, one)).collect();
    let mut spread = bed_amendments(bed, &ground);
    spread.extend(applied.iter().map(|one| recorded(one, &ground, &areas, year)));
    let both = [Nutrient::Phosphate, Nutrient::Potash];
    both.into_iter().map(|nutrient| balance(bed, &spread, &areas, nutrient)).collect()
}

fn balance(
    bed: &Bed,
    spread: &[BedAmendment],
    areas: &[Figure<Area>],
    nutrient: Nutrient,
) -> Balance {
    let brought: Vec<Figure<Mass>> = spread
        .iter()
        .filter_map(|one| {
            let shares: &Npk<_> = &one.content.shares;
            Some((one.weight.as_ref()? * &shares[nutrient]).called(one.label.clone()))
        })
        .collect();
    let (mut taken, mut unknown) = (Vec::new(), Vec::new());
    for (planting, area) in bed.plantings.iter().zip(areas) {
        let name = &planting.crop.value.name;
        match removed(planting, nutrient) {
            Some(rate) => taken.push((&rate * area).called(name.clone())),
            None => unknown.push(name.clone()),
        }
    }
    Balance {
        nutrient,
        spread: Figure::total(&brought).called("spread in the year"),
        removed: Figure::total(&taken).called("carried away by the harvests"),
        unknown,
    }
}
