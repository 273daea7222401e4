//! What is known or assumed of a bed's soil: texture, organic matter, classes of phosphorus and
//! potassium, weight.

use rust_decimal::Decimal;

use super::rules;
use super::setting::Setting;
use crate::catalogue::{Class, Limits, Tested};
use crate::figure::Figure;
use crate::nutrient::Nutrient;
use crate::quantity::{Density, Share};
use crate::season::{Bed, Footprint, History, Said, SoilTest, Texture, WordedClass};

/// The soil of one bed.
#[derive(Clone, Debug)]
pub struct Soil {
    /// Texture, said or assumed.
    pub texture: Texture,
    /// Whether the texture was assumed.
    pub texture_assumed: bool,
    /// Organic matter, measured or assumed.
    pub organic_matter: Figure<Share>,
    /// Whether it was measured.
    pub organic_matter_measured: bool,
    /// Phosphorus class, where tested.
    pub phosphorus: Option<WordedClass>,
    /// Potassium class, where tested.
    pub potassium: Option<WordedClass>,
    /// Compost or manure in at least two of the last three years.
    pub long_fed: bool,
    /// Weight of the soil per volume.
    pub bulk_density: Figure<Density>,
    /// Whether nitrate was measured.
    pub nitrate_measured: bool,
}

impl Soil {
    /// Reads the soil of a bed.
    pub fn of(setting: &Setting<'_>, bed: &Bed) -> Self {
        let said = bed.texture.or(setting.season.garden.texture);
        let texture = said.map_or(Texture::Loam, |texture| texture.value);
        let test = bed.soil.as_ref();
        let fed = fed_years(bed, setting.year());
        let measured = test.and_then(|test| test.organic_matter);
        let organic_matter = organic_matter(measured, fed);
        let limits = setting.season.catalogue.limits();
        let class = |nutrient| test.and_then(|test| class_of(limits, test, nutrient, texture));
        Self {
            texture,
            texture_assumed: said.is_none(),
            bulk_density: bulk_density(texture, &organic_matter),
            organic_matter,
            organic_matter_measured: measured.is_some(),
            phosphorus: class(Nutrient::Phosphate),
            potassium: class(Nutrient::Potash),
            long_fed: fed >= 2,
            nitrate_measured: test.is_some_and(|test| test.nitrate.is_some())
                && !matches!(bed.footprint, Footprint::Containers { .. }),
        }
    }

    /// Whether organic matter is at least so many percent.
    pub fn organic_matter_from(&self, percent: i64) -> bool {
        self.organic_matter.value() >= Share::from_percent(Decimal::from(percent))
    }

    /// The class of phosphorus (for phosphate) or potassium (for potash), where tested.
    pub fn class(&self, nutrient: Nutrient) -> Option<&WordedClass> {
        match nutrient {
            Nutrient::Nitrogen => None,
            Nutrient::Phosphate => self.phosphorus.as_ref(),
            Nutrient::Potash => self.potassium.as_ref(),
        }
    }

    /// Whether the soil is tested low or very low in phosphorus.
    pub fn low_in_phosphorus(&self) -> bool {
        self.phosphorus.as_ref().is_some_and(|worded| worded.class <= Class::Low)
    }

    /// Whether the soil changes the plan for want of a nitrate test.
    pub fn rich_untested(&self) -> bool {
        self.organic_matter_from(4) && !self.nitrate_measured
    }
}

/// In how many of the last three years compost or manure was spread.
fn fed_years(bed: &Bed, year: i16) -> usize {
    (1..=3).filter(|back| fed_in(bed, year - back)).count()
}

fn fed_in(bed: &Bed, year: i16) -> bool {
    bed.history.iter().any(|entry| match entry {
        History::Compost(past) | History::Manure(past) => past.year.value == year,
        History::CoverCrop { .. } => false,
    })
}

fn organic_matter(measured: Option<Said<Share>>, fed_years: usize) -> Figure<Share> {
    match measured {
        Some(said) => Figure::said("organic matter", said.value, said.place),
        None => {
            let percent = if fed_years >= 3 { 4 } else { 2 };
            let share = Share::from_percent(Decimal::from(percent));
            Figure::fixed("organic matter, assumed", share, &rules::ORGANIC_MATTER_ASSUMED)
        }
    }
}

fn bulk_density(texture: Texture, organic_matter: &Figure<Share>) -> Figure<Density> {
    let rich = organic_matter.value() >= Share::from_percent(Decimal::from(6));
    let tenths = match (rich, texture) {
        (true, _) => 10,
        (false, Texture::Sand) => 15,
        (false, Texture::Loam) => 13,
        (false, Texture::Clay) => 12,
    };
    let density = Density::from_g_per_cm3(Decimal::new(tenths, 1));
    Figure::fixed("weight of the soil", density, &rules::BULK_DENSITY)
}

/// The class of a tested nutrient: the laboratory's own word where copied, else the highest class
/// whose lower limit the reading reaches.
fn class_of(
    limits: &[Limits],
    test: &SoilTest,
    nutrient: Nutrient,
    texture: Texture,
) -> Option<WordedClass> {
    let (worded, reading) = match nutrient {
        Nutrient::Nitrogen => return None,
        Nutrient::Phosphate => (&test.p_class, test.p),
        Nutrient::Potash => (&test.k_class, test.k),
    };
    if let Some(worded) = worded {
        return Some(worded.value.clone());
    }
    let reading = reading?.value;
    let tested = Tested {
        nutrient: if nutrient == Nutrient::Phosphate { "phosphorus" } else { "potassium" },
        extractant: test.test.map(|test| test.value),
        lab: test.lab.as_ref().map(|lab| lab.value.as_str()),
        texture: Some(texture.word()),
    };
    let table = Limits::pick(limits, &tested, |unit| reading.in_unit(unit).is_some())?;
    table
        .class_of(reading.in_unit(&table.unit)?)
        .map(|limit| WordedClass { class: limit.class, word: limit.word.clone() })
}

/// Whether a bed is containers.
pub fn is_container(bed: &Bed) -> bool {
    matches!(bed.footprint, Footprint::Containers { .. })
}
