//! The materials a bed is fed with, read and put in order of preference.

use crate::engine::content::{Content, Handling};
use crate::nutrient::{Npk, Nutrient};
use crate::season::{Bed, Feed, Feeding, Season, Stuff};

/// A material ready to be dosed.
#[derive(Clone, Debug)]
pub struct Ready {
    /// The material as the grower has it.
    pub stuff: Stuff,
    /// What it holds.
    pub content: Content,
}

impl Ready {
    /// Reads a material that is worked in on the day it is spread.
    pub fn of(stuff: &Stuff) -> Self {
        Self { stuff: stuff.clone(), content: Content::of(stuff, Handling::default()) }
    }

    /// Its name.
    pub fn name(&self) -> &str {
        &self.stuff.material.name
    }

    /// Whether it carries a nutrient.
    pub fn carries(&self, nutrient: Nutrient) -> bool {
        self.content.carries(nutrient)
    }

    /// Whether it carries another nutrient that is not short.
    pub(in crate::engine) fn brings_what_is_not_short(
        &self,
        wanted: Nutrient,
        short: &Npk<bool>,
    ) -> bool {
        Nutrient::ALL
            .into_iter()
            .any(|other| other != wanted && self.carries(other) && !short[other])
    }
}

/// The materials of one bed for each purpose.
#[derive(Clone, Debug)]
pub struct Feeds {
    /// Spread before planting, in the order listed.
    pub before: Vec<Ready>,
    /// Side-dressed, in the order listed.
    pub side: Vec<Ready>,
    /// Whether nothing was listed and the usual mineral or organic materials were assumed.
    pub assumed: bool,
}

impl Feeds {
    /// Reads the materials of a bed: its own feeding, else the garden's, else (where neither names
    /// any) usual ones.
    pub fn of(season: &Season, bed: &Bed) -> Self {
        let pick = |part: fn(&Feeding) -> Option<&Feed>| {
            part(&bed.feeding).or_else(|| part(&season.feeding)).map(|feed| named(season, feed))
        };
        let before = pick(|feeding| feeding.before_planting.as_ref().map(|said| &said.value));
        let side = pick(|feeding| feeding.side_dress.as_ref().map(|said| &said.value));
        if before.is_none() && side.is_none() {
            let (before, side) = usual(season);
            return Self { before, side, assumed: true };
        }
        Self { before: before.unwrap_or_default(), side: side.unwrap_or_default(), assumed: false }
    }
}

/// The materials named, or all in the shed where the program is to choose.
fn named(season: &Season, feed: &Feed) -> Vec<Ready> {
    match feed {
        Feed::Named(list) => list.iter().map(Ready::of).collect(),
        Feed::Best => season
            .shed
            .iter()
            .map(|item| &item.stuff)
            .filter(|stuff| !season.garden.organic || stuff.material.organic)
            .map(Ready::of)
            .collect(),
    }
}

/// Usual materials where the grower names none: one for each nutrient.
fn usual(season: &Season) -> (Vec<Ready>, Vec<Ready>) {
    let (before, side): (&[&str], &[&str]) = if season.garden.organic {
        (&["bone meal, steamed", "potassium sulfate", "feather meal"], &["blood meal"])
    } else {
        (&["triple superphosphate", "potassium sulfate", "ammonium sulfate"], &["ammonium sulfate"])
    };
    let read = |names: &[&str]| {
        let found = names.iter().filter_map(|name| season.catalogue.material(name));
        found
            .map(|material| {
                let place = crate::figure::Place::default();
                Ready::of(&Stuff { material, overrides: Default::default(), place })
            })
            .collect()
    };
    (read(before), read(side))
}

/// The materials that carry a nutrient, those first that bring nothing that is not short, each group
/// in the order listed. `short` tells of each nutrient whether it is still short.
pub fn order<'a>(list: &'a [Ready], wanted: Nutrient, short: &Npk<bool>) -> Vec<&'a Ready> {
    let mut fitting: Vec<&Ready> = list.iter().filter(|ready| ready.carries(wanted)).collect();
    fitting.sort_by_key(|ready| ready.brings_what_is_not_short(wanted, short));
    fitting
}
