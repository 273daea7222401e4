//! The materials a bed is fed with, read and put in order of preference.

use crate::engine::content::{Content, Handling};
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::Mass;
use crate::season::{Bed, Feed, Feeding, Said, Season, ShedItem, Stuff};

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

    /// Whether it is manure that has not been composted, which must lie for months before a harvest.
    pub fn is_raw_manure(&self) -> bool {
        self.stuff.material.cautions.iter().any(|key| key == "raw-manure")
    }

    /// Whether nitrogen is what it is spread for: no other nutrient outweighs it.
    pub fn is_for_nitrogen(&self) -> bool {
        let shares = &self.content.shares;
        let nitrogen = shares.nitrogen.value();
        self.carries(Nutrient::Nitrogen)
            && nitrogen >= shares.phosphate.value()
            && nitrogen >= shares.potash.value()
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
    /// Whether what is spread before planting is chosen among those of `before`.
    pub choose_before: bool,
    /// Whether what is side-dressed is chosen among those of `side`.
    pub choose_side: bool,
}

impl Feeds {
    /// Reads the materials of a bed: its own feeding, else the garden's, else (where neither names
    /// any) usual ones.
    pub fn of(season: &Season, bed: &Bed) -> Self {
        let before = said(season, bed, |feeding| feeding.before_planting.as_ref());
        let side = said(season, bed, |feeding| feeding.side_dress.as_ref());
        if before.is_none() && side.is_none() {
            let (before, side) = usual(season);
            return Self { before, side, assumed: true, choose_before: false, choose_side: false };
        }
        let chosen = |feed: Option<&Feed>| matches!(feed, Some(Feed::Best));
        let read = |feed: Option<&Feed>| feed.map_or_else(Vec::new, |feed| named(season, feed));
        let mut side_listed = read(side);
        if chosen(side) {
            // Raw manure is never spread on a growing crop unless the grower names it, and what holds
            // more phosphate or potash than nitrogen would heap them up.
            side_listed.retain(|ready| !ready.is_raw_manure() && ready.is_for_nitrogen());
        }
        Self {
            before: read(before),
            side: side_listed,
            assumed: false,
            choose_before: chosen(before),
            choose_side: chosen(side),
        }
    }

    /// Whether a bed has a feeding of its own; else it is fed as the garden is.
    pub fn own(bed: &Bed) -> bool {
        bed.feeding.before_planting.is_some() || bed.feeding.side_dress.is_some()
    }

    /// Whether any material of a bed is to be chosen.
    pub fn any_chosen(season: &Season, bed: &Bed) -> bool {
        let best = |part| matches!(said(season, bed, part), Some(Feed::Best));
        best(|feeding| feeding.before_planting.as_ref())
            || best(|feeding| feeding.side_dress.as_ref())
    }
}

/// What was said of one purpose: of the bed, else of the garden.
fn said<'a>(
    season: &'a Season,
    bed: &'a Bed,
    part: fn(&Feeding) -> Option<&Said<Feed>>,
) -> Option<&'a Feed> {
    part(&bed.feeding).or_else(|| part(&season.feeding)).map(|said| &said.value)
}

/// The materials named, or where the program is to choose all of the shed that are to be had and
/// suit, by name.
fn named(season: &Season, feed: &Feed) -> Vec<Ready> {
    match feed {
        Feed::Named(list) => list.iter().map(Ready::of).collect(),
        Feed::Best => {
            let to_be_had = |item: &&ShedItem| {
                item.on_hand.is_some_and(|held| held.value > Mass::ZERO) || item.offer.is_some()
            };
            let mut all: Vec<Ready> = season
                .shed
                .iter()
                .filter(to_be_had)
                .map(|item| &item.stuff)
                .filter(|stuff| !season.garden.organic || stuff.material.organic)
                .map(Ready::of)
                .collect();
            all.sort_by(|one, other| one.name().cmp(other.name()));
            all.dedup_by(|one, other| one.name() == other.name());
            all
        }
    }
}

/// Usual materials where the grower names none: one for each nutrient.
fn usual(season: &Season) -> (Vec<Ready>, Vec<Ready>) {
    let minerals = [Nutrient::Phosphate, Nutrient::Potash];
    let mut before: Vec<Ready> =
        minerals.into_iter().filter_map(|nutrient| usual_for(season, nutrient)).collect();
    let starter = if season.garden.organic { "feather meal" } else { "ammonium sulfate" };
    before.extend(listed(season, starter));
    (before, usual_for(season, Nutrient::Nitrogen).into_iter().collect())
}

/// The usual material for a nutrient: organic where the garden is.
pub fn usual_for(season: &Season, nutrient: Nutrient) -> Option<Ready> {
    let name = match (nutrient, season.garden.organic) {
        (Nutrient::Phosphate, true) => "bone meal",
        (Nutrient::Phosphate, false) => "triple superphosphate",
        (Nutrient::Potash, _) => "potassium sulfate",
        (Nutrient::Nitrogen, true) => "blood meal",
        (Nutrient::Nitrogen, false) => "ammonium sulfate",
    };
    listed(season, name)
}

/// A material as the catalogue has it.
fn listed(season: &Season, name: &str) -> Option<Ready> {
    let material = season.catalogue.material(name)?;
    let place = crate::figure::Place::default();
    Some(Ready::of(&Stuff { material, overrides: Default::default(), place }))
}

/// The materials that carry a nutrient, those first that bring nothing that is not short, each group
/// in the order listed. `short` tells of each nutrient whether it is still short.
pub fn order<'a>(list: &'a [Ready], wanted: Nutrient, short: &Npk<bool>) -> Vec<&'a Ready> {
    let mut fitting: Vec<&Ready> = list.iter().filter(|ready| ready.carries(wanted)).collect();
    fitting.sort_by_key(|ready| ready.brings_what_is_not_short(wanted, short));
    fitting
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::catalogue::Catalogue;

    #[test]
    fn usual_materials_carry_what_they_are_usual_for() {
        for organic in [false, true] {
            let text = format!(
                "[garden]\nyear = 2027\norganic = {organic}\n[[bed]]\nname = \"a\"\narea = \"9 ft2\"\n"
            );
            let season = crate::season::read(&text, Arc::new(Catalogue::new())).expect("a season");
            for nutrient in Nutrient::ALL {
                let ready = usual_for(&season, nutrient).expect("a material of the catalogue");
                assert!(ready.carries(nutrient), "{} for {}", ready.name(), nutrient.word());
                assert!(!organic || ready.stuff.material.organic, "{}", ready.name());
            }
            let (before, side) = usual(&season);
            assert_eq!((before.len(), side.len()), (3, 1));
        }
    }
}
