//! A garden as drawn: what a season file says, before it is written down.

use super::units::Amount;

/// A season of one garden.
#[derive(Clone, Debug)]
pub struct Garden {
    /// `supply` or `recommendation`.
    pub basis: &'static str,
    /// `solved` or `weeks`.
    pub timing: &'static str,
    /// Mean of the coldest and the warmest month.
    pub climate: Option<(Amount, Amount)>,
    /// Materials spread before planting, and side-dressed.
    pub feeding: (Vec<&'static str>, Vec<&'static str>),
    pub shed: Vec<Item>,
    pub beds: Vec<Bed>,
}

/// A material in the shed.
#[derive(Clone, Debug)]
pub struct Item {
    pub material: &'static str,
    pub on_hand: Option<Amount>,
    /// Weight and price of each pack.
    pub packs: Vec<(Amount, i64)>,
}

/// How large a bed is.
#[derive(Clone, Copy, Debug)]
pub enum Shape {
    Sides(Amount, Amount),
    Area(Amount),
    /// Mix in each, and how many.
    Pots(Amount, i64),
}

/// A bed.
#[derive(Clone, Debug)]
pub struct Bed {
    pub name: String,
    pub shape: Shape,
    pub texture: Option<&'static str>,
    pub soil: Option<Soil>,
    pub history: Vec<Past>,
    pub amended: Vec<Amended>,
    pub plantings: Vec<Planting>,
    /// Nitrate in parts per million, and depth.
    pub water: Option<(i64, Amount)>,
}

/// A soil test.
#[derive(Clone, Copy, Debug)]
pub struct Soil {
    pub phosphorus: i64,
    pub potassium: i64,
    /// Tenths of a percent.
    pub organic_matter: Option<i64>,
    /// Parts per million, on 20 April.
    pub nitrate: Option<i64>,
}

/// What happened on a bed before.
#[derive(Clone, Copy, Debug)]
pub enum Past {
    /// Kind, year, and depth.
    Spread(&'static str, i64, Amount),
    /// Crop, dry matter, and day killed.
    Cover(&'static str, Amount, &'static str),
}

/// What is spread on a bed this season.
#[derive(Clone, Copy, Debug)]
pub struct Amended {
    pub material: &'static str,
    pub how_much: HowMuch,
    pub on: &'static str,
    pub density: Option<Amount>,
}

/// An amount over a bed.
#[derive(Clone, Copy, Debug)]
pub enum HowMuch {
    Depth(Amount),
    Amount(Amount),
    Rate(Amount),
}

/// How much of a bed a crop takes.
#[derive(Clone, Copy, Debug)]
pub enum Extent {
    Whole,
    /// Percent.
    Share(i64),
    /// How many, and the distance in the row and between rows.
    Plants(i64, Amount, Amount),
    /// How many, their length, and their distance.
    Rows(i64, Amount, Amount),
}

/// A crop on a bed.
#[derive(Clone, Copy, Debug)]
pub struct Planting {
    pub crop: &'static str,
    pub extent: Extent,
    pub planted: &'static str,
    pub days: i64,
    pub transplanted: bool,
    pub yielding: Option<Amount>,
    pub residues_left: bool,
    /// A rate of nitrogen that an adviser gave.
    pub given: Option<Amount>,
}

impl Garden {
    /// The same on twice the ground: rows twice as long, twice as many plants and pots, what is
    /// spread over a whole bed twice as much. What is in the shed stays.
    pub fn doubled(&self) -> Self {
        Self { beds: self.beds.iter().map(Bed::doubled).collect(), ..self.clone() }
    }
}

impl Bed {
    fn doubled(&self) -> Self {
        let shape = match self.shape {
            Shape::Sides(length, width) => Shape::Sides(length.doubled(), width),
            Shape::Area(area) => Shape::Area(area.doubled()),
            Shape::Pots(volume, count) => Shape::Pots(volume, count * 2),
        };
        let amended = self.amended.iter().map(|one| {
            let how_much = match one.how_much {
                HowMuch::Amount(amount) => HowMuch::Amount(amount.doubled()),
                other => other,
            };
            Amended { how_much, ..*one }
        });
        let plantings = self.plantings.iter().map(|one| {
            let extent = match one.extent {
                Extent::Plants(plants, along, across) => Extent::Plants(plants * 2, along, across),
                Extent::Rows(rows, length, across) => Extent::Rows(rows, length.doubled(), across),
                other => other,
            };
            Planting { extent, ..*one }
        });
        Self { shape, amended: amended.collect(), plantings: plantings.collect(), ..self.clone() }
    }
}
