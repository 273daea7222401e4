//! Lines of the record in the season they belong to: beds, plantings and materials found by name.

use std::sync::Arc;

use super::application::Application;
use super::log::Log;
use crate::calendar::Date;
use crate::catalogue::Material;
use crate::catalogue::names::{nearest, normal};
use crate::nutrient::Analysis;
use crate::season::{
    Bed, Feed, Feeding, Measure, Overrides, Placed, Said, Season, Stuff, labelled, slug,
};

/// An application with what its names mean.
#[derive(Clone, Debug)]
pub struct Applied {
    /// Its line in the record.
    pub line: u32,
    /// The day.
    pub on: Date,
    /// The bed, an index into the season's.
    pub bed: usize,
    /// The planting it was given to, an index into the bed's; nothing for the whole bed.
    pub planting: Option<usize>,
    /// The material.
    pub stuff: Stuff,
    /// How much.
    pub amount: Measure,
    /// Where it lies, where the method tells.
    pub placed: Option<Placed>,
}

/// A line of the season that cannot be counted, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unplaced {
    /// Its line in the record.
    pub line: u32,
    /// What is not known.
    pub unknown: Unknown,
}

/// A name that the season does not know.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unknown {
    /// A bed.
    Bed {
        /// As written.
        name: String,
        /// The nearest one, where one is near.
        near: Option<String>,
    },
    /// A material.
    Material {
        /// As written.
        name: String,
        /// The nearest one, where one is near.
        near: Option<String>,
    },
}

impl std::fmt::Display for Unknown {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (what, name, near) = match self {
            Self::Bed { name, near } => ("bed", name, near),
            Self::Material { name, near } => ("material", name, near),
        };
        write!(f, "there is no {what} `{name}` in this season, so the line is not counted")?;
        match near {
            Some(near) => write!(f, "; did you mean `{near}`?"),
            None => Ok(()),
        }
    }
}

/// Finds the applications of a season: those that stand and lie between `first` and `last`. What
/// was spread in other seasons is passed over; a line of this one whose names are not known is told.
pub fn place(season: &Season, log: &Log, first: Date, last: Date) -> (Vec<Applied>, Vec<Unplaced>) {
    let (mut placed, mut unplaced) = (Vec::new(), Vec::new());
    for line in log.standing() {
        let application = &line.application;
        if application.on < first || last < application.on {
            continue;
        }
        match one(season, line.number, application) {
            Ok(applied) => placed.push(applied),
            Err(unknown) => unplaced.push(Unplaced { line: line.number, unknown }),
        }
    }
    placed.sort_by_key(|applied| (applied.on, applied.line));
    (placed, unplaced)
}

fn one(season: &Season, line: u32, application: &Application) -> Result<Applied, Unknown> {
    let bed = find_bed(season, &application.bed)?;
    Ok(Applied {
        line,
        on: application.on,
        bed,
        planting: find_planting(&season.beds[bed], &application.crop, application.on),
        stuff: find_stuff(season, &application.material, application.analysis)?,
        amount: application.amount,
        placed: told_place(&application.method),
    })
}

/// Finds a bed by its name, however it is written.
///
/// # Errors
/// Where there is none of that name.
pub fn find_bed(season: &Season, name: &str) -> Result<usize, Unknown> {
    let wanted = slug(name);
    season.beds.iter().position(|bed| *bed.slug == *wanted).ok_or_else(|| {
        let names = season.beds.iter().map(|bed| bed.name.value.as_str());
        Unknown::Bed { name: name.to_owned(), near: nearest(name, names) }
    })
}

/// Finds the planting that a line names by its crop: the one that stands on the day, else the only
/// one of that name. Nothing where the line names no crop, or several.
pub fn find_planting(bed: &Bed, crop: &str, on: Date) -> Option<usize> {
    let wanted = slug(crop);
    let named: Vec<usize> = (0..bed.plantings.len())
        .filter(|at| {
            let planting = &bed.plantings[*at];
            *planting.slug == *wanted || planting.crop.value.is_called(crop)
        })
        .collect();
    let standing = named.iter().copied().find(|at| {
        let planting = &bed.plantings[*at];
        let end = planting.last_harvest.map_or(planting.harvest.value, |last| last.value);
        planting.planted.value <= on && on <= end
    });
    standing.or(match named.as_slice() {
        [only] => Some(*only),
        _ => None,
    })
}

/// Finds a material by any of its names: as the shed, the feeding or an amendment has it, else as
/// the catalogue has it. A label that differs from what is known stands instead of it; a name that
/// is not known is a bagged fertilizer where a label is given.
///
/// # Errors
/// Where the name is not known and no label is given.
pub fn find_stuff(season: &Season, name: &str, label: Option<Analysis>) -> Result<Stuff, Unknown> {
    let place = crate::figure::Place::default();
    let wanted = normal(name);
    let called = |material: &Material| {
        normal(&material.name) == wanted
            || material.aliases.iter().any(|alias| normal(alias) == wanted)
    };
    let own = all_stuff(season).find(|stuff| called(&stuff.material)).cloned();
    let listed = || {
        let material = season.catalogue.material(name)?;
        let same = |stuff: &&Stuff| normal(&stuff.material.name) == normal(&material.name);
        let shed = season.shed.iter().map(|item| &item.stuff).find(same);
        Some(shed.cloned().unwrap_or(Stuff { material, overrides: Overrides::default(), place }))
    };
    match (own.or_else(listed), label) {
        (Some(stuff), None) => Ok(stuff),
        (Some(stuff), Some(label)) if analysis_of(&stuff) == label => Ok(stuff),
        (Some(stuff), Some(label)) => {
            let overrides =
                Overrides { analysis: Some(Said::new(label, place)), ..Overrides::default() };
            Ok(Stuff { overrides, ..stuff })
        }
        (None, Some(label)) => {
            let material = Arc::new(labelled(name, label, false));
            Ok(Stuff { material, overrides: Overrides::default(), place })
        }
        (None, None) => {
            let names = all_stuff(season).map(|stuff| stuff.material.name.as_str());
            let near = nearest(name, names).or_else(|| season.catalogue.nearest_material(name));
            Err(Unknown::Material { name: name.to_owned(), near })
        }
    }
}

/// The label of a material as the grower has it.
pub fn analysis_of(stuff: &Stuff) -> Analysis {
    let material = &stuff.material;
    stuff.overrides.analysis.map_or(
        Analysis {
            nitrogen: material.nitrogen,
            phosphate: material.phosphate,
            potash: material.potash,
        },
        |said| said.value,
    )
}

/// Everything the season names, the shed first.
fn all_stuff(season: &Season) -> impl Iterator<Item = &Stuff> {
    let shed = season.shed.iter().map(|item| &item.stuff);
    let feeding =
        std::iter::once(&season.feeding).chain(season.beds.iter().map(|bed| &bed.feeding));
    let amended = season.beds.iter().flat_map(|bed| &bed.amendments).map(|one| &one.stuff);
    shed.chain(feeding.flat_map(fed)).chain(amended)
}

fn fed(feeding: &Feeding) -> impl Iterator<Item = &Stuff> {
    let feeds = [&feeding.before_planting, &feeding.side_dress];
    feeds.into_iter().flatten().flat_map(|said| match &said.value {
        Feed::Named(list) => list.as_slice(),
        Feed::Best => &[],
    })
}

/// Where a method puts the material: left on top only where its words say so.
fn told_place(method: &str) -> Option<Placed> {
    let method = method.to_lowercase();
    if ["surface", "mulch", "on top"].iter().any(|word| method.contains(word)) {
        Some(Placed::Surface)
    } else if ["mixed", "worked in", "dug in", "tilled"].iter().any(|word| method.contains(word)) {
        Some(Placed::Mixed)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;
    use crate::nutrient::read_analysis;
    use crate::record::{Action, Heading};

    const SEASON: &str = r#"
[garden]
year = 2027
[feeding]
side_dress = ["feather meal"]
[[shed]]
material = "alder blend"
analysis = "5-3-4"
[[bed]]
name = "North 1"
area = "100 ft2"
[[bed.planting]]
crop = "broccoli"
share = "50 %"
planted = 2027-05-10
harvest = 2027-07-15
[[bed.planting]]
crop = "sweet corn"
share = "50 %"
planted = 2027-05-10
harvest = 2027-08-15
"#;

    fn season() -> Season {
        match crate::season::read(SEASON, Arc::new(Catalogue::new())) {
            Ok(season) => season,
            Err(faults) => panic!("{faults:?}"),
        }
    }

    fn date(text: &str) -> Date {
        Date::read(text).expect("a date")
    }

    fn log(rows: &[&str]) -> Log {
        let heading = Heading::default().text();
        Log::read(format!("{heading}\n{}\n", rows.join("\n")).as_bytes()).expect("a record")
    }

    #[test]
    fn lines_of_the_season_find_their_bed_planting_and_material() {
        let season = season();
        let log = log(&[
            "2027-05-29,north 1,broccoli,Feather Meal,12 oz,,side-dressed,,,,applied",
            "2027-06-05,north-1,,alder blend,2 lb,5-3-4,mulched,,,,applied",
            "2027-06-06,North 1,corn patch,my mix,2 lb,8-8-8,,,,,applied",
            "2026-06-30,north 1,,feather meal,9 lb,,,,,,applied",
            "2028-01-01,north 1,,feather meal,9 lb,,,,,,applied",
            "2027-06-07,nroth 1,,feather meal,1 lb,,,,,,applied",
            "2027-06-08,north 1,,fether meal,1 lb,,,,,,applied",
        ]);
        assert_eq!(log.damaged, []);
        let (placed, unplaced) = place(&season, &log, date("2026-07-01"), date("2027-12-31"));
        let said: Vec<(u32, Option<usize>, &str)> = placed
            .iter()
            .map(|one| (one.line, one.planting, one.stuff.material.name.as_str()))
            .collect();
        let (broccoli, none) = (Some(0), None);
        assert_eq!(
            said,
            [(2, broccoli, "feather meal"), (3, none, "alder blend"), (4, none, "my mix")]
        );
        assert_eq!(placed[1].placed, Some(Placed::Surface));
        assert_eq!(analysis_of(&placed[2].stuff), read_analysis("8-8-8").expect("a label"));
        let near = |name: &str| Some(name.to_owned());
        assert_eq!(
            unplaced.iter().map(|one| &one.unknown).collect::<Vec<_>>(),
            [
                &Unknown::Bed { name: "nroth 1".to_owned(), near: near("North 1") },
                &Unknown::Material { name: "fether meal".to_owned(), near: near("feather meal") },
            ]
        );
    }

    #[test]
    fn a_label_of_its_own_outranks_the_catalogue() {
        let season = season();
        let listed = find_stuff(&season, "feather meal", None).expect("listed");
        let same = find_stuff(&season, "feather-meal", Some(analysis_of(&listed))).expect("same");
        assert_eq!(same.overrides, listed.overrides);
        let label = read_analysis("13-0-0").expect("a label");
        let other = find_stuff(&season, "feather meal", Some(label)).expect("other");
        assert_eq!(analysis_of(&other), label);
        assert_eq!(other.material.name, "feather meal");
    }

    #[test]
    fn the_writing_and_the_reading_of_a_line_agree() {
        let season = season();
        let stuff = find_stuff(&season, "alder blend", None).expect("in the shed");
        let application = Application {
            on: date("2027-05-29"),
            bed: "North 1".to_owned(),
            crop: "broccoli".to_owned(),
            material: stuff.material.name.clone(),
            amount_text: "12 oz".to_owned(),
            amount: crate::record::read_amount("12 oz").expect("a weight"),
            analysis: Some(analysis_of(&stuff)),
            method: String::new(),
            lot: String::new(),
            person: String::new(),
            note: String::new(),
        };
        let heading = Heading::default();
        let text = heading.text() + "\n" + &heading.line(Action::Applied, &application);
        let log = Log::read(text.as_bytes()).expect("a record");
        let (placed, _) = place(&season, &log, date("2026-07-01"), date("2027-12-31"));
        assert_eq!(placed[0].stuff.overrides, stuff.overrides);
        assert_eq!(placed[0].planting, Some(0));
    }
}
