//! Reading a season file: syntax, then the shape of every table, then what it means. Each table
//! whose shape is sound is looked at for its meaning, so that all faults that do not depend on one
//! another are told together.

mod amend;
mod bed;
mod fields;
mod fit;
mod garden;
mod history;
mod life;
mod measure;
mod own;
mod planting;
mod schema;
mod shed;
mod soil;
mod stuff;
mod syntax;
mod table;
mod value;
mod words;

pub use schema::schema;
pub use stuff::labelled;

use std::collections::BTreeMap;
use std::rc::Rc;

use toml::de::DeTable;

use super::{Bed, Feeding, Season, ShedItem, Supplier};
use crate::catalogue::Catalogue;
use crate::fault::{Fault, in_order, names, shape};
use crate::figure::Place;
use fields::file;
use stuff::Known;
use table::{Findings, Table};

/// Reads a season from the text of its file.
///
/// # Errors
/// Every fault found, in the order of their places. Places are byte offsets into `source`.
pub fn read(source: &str, catalogue: Rc<Catalogue>) -> Result<Season, Vec<Fault>> {
    let mut into = Findings { faults: Vec::new(), damage: Vec::new(), headings: Vec::new() };
    if says_nothing(source) {
        return Err(vec![crate::fault::syntax::empty_file()]);
    }
    let (text, trusted) = syntax::clean(source, &mut into);
    if !trusted {
        return Err(in_order(into.faults));
    }
    let (tree, _) = DeTable::parse_recoverable(&text);
    let season = whole(tree.get_ref(), catalogue, &mut into);
    match season {
        Some(season) if into.faults.is_empty() => Ok(season),
        _ => Err(in_order(into.faults)),
    }
}

/// Whether a file holds nothing but blanks and remarks.
fn says_nothing(source: &str) -> bool {
    let text = source.trim_start_matches('\u{feff}');
    text.lines().all(|line| line.trim().is_empty() || line.trim_start().starts_with('#'))
}

fn whole(tree: &DeTable<'_>, catalogue: Rc<Catalogue>, into: &mut Findings) -> Option<Season> {
    let mut root = Table::open::<file::Here>(tree, Place::default(), into);
    let garden = match root.table(&file::GARDEN, into) {
        Some(table) => Some(garden::read(table, into)),
        None => {
            if !root.has(&file::GARDEN) {
                root.lacks(shape::missing_part("[garden]", "year = 2027"), into);
            }
            None
        }
    };
    let window = garden.as_ref().and_then(|garden| garden.window);
    let mut known = Known::new(&catalogue);
    let (suppliers, suppliers_sound) = suppliers(&mut root, into);
    let entries = root.headed(&file::SHED, into);
    let shed: Vec<ShedItem> = entries
        .into_iter()
        .filter_map(|table| shed::item(table, &suppliers, suppliers_sound, &mut known, into))
        .collect();
    let feeding = root.table(&file::FEEDING, into);
    let feeding =
        feeding.map_or(Some(Feeding::default()), |table| shed::feeding(table, &known, into));
    let rain = garden.as_ref().map_or(&[][..], |garden| &garden.rain);
    let around = bed::Around { catalogue: &catalogue, known: &known, window, rain };
    let tables = root.headed(&file::BED, into);
    if tables.is_empty() && !root.has(&file::BED) {
        let example = "name = \"north 1\"\nlength = \"24 ft\"\nwidth = \"4 ft\"";
        root.lacks(shape::missing_part("[[bed]]", example), into);
    }
    let mut taken = BTreeMap::new();
    let beds: Vec<Bed> = tables
        .into_iter()
        .filter_map(|table| bed::read(table, &around, &mut taken, into))
        .collect();
    Some(Season { garden: garden?.garden?, feeding: feeding?, shed, suppliers, beds, catalogue })
}

fn suppliers(root: &mut Table<'_, '_>, into: &mut Findings) -> (Vec<Supplier>, bool) {
    let tables = root.headed(&file::SUPPLIER, into);
    let had = tables.len();
    let mut all: Vec<Supplier> = Vec::with_capacity(had);
    for table in tables {
        let Some(supplier) = shed::supplier(table, into) else { continue };
        let same =
            |one: &&Supplier| super::slug(&one.name.value) == super::slug(&supplier.name.value);
        if let Some(first) = all.iter().find(same) {
            let (name, first) = (&supplier.name, first.name.place);
            into.push(names::said_twice(name.place, "suppliers", &name.value, first));
        }
        all.push(supplier);
    }
    let sound = all.len() == had;
    (all, sound)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::{Extent, Footprint, Measure, WorkedIn};

    const WHOLE: &str = r#"
[garden]
name = "Alder Rise school garden"
year = 2027
units = "us"
basis = "supply"
texture = "loam"
coldest = { month = 1, mean = "24 F" }
warmest = { month = 7, mean = "68 F" }
visit_day = "Saturday"
rain = [{ on = 2027-06-01, depth = "3 in" }]

[feeding]
before_planting = ["house blend", "potassium sulfate"]
side_dress = ["feather-meal"]
timing = "weeks"
mix = "5 gal"

[[supplier]]
name = "co-op"
delivery = 15

[[shed]]
material = "Feather Meal"
analysis = "11-0-0"
on_hand = "4 lb"
packs = [{ weight = "50 lb", price = "62.00" }, { weight = "5 lb", price = 13.50 }]
supplier = "Co-op"

[[shed]]
material = "house blend"
analysis = "5-3-2"
release = "60 %"

[[bed]]
name = "north 1"
length = "24 ft"
width = "4 ft"
soil = { test = "mehlich-3", p = "41 ppm", p_class = "high", organic_matter = "4.2 %", ph = 6.6, sampled = 2027-03-20, nitrate = "18 ppm", depth = "12 in" }
history = [{ kind = "compost", material = "yard compost", year = 2026, depth = "1 in" }]
water = { nitrate = "10 ppm", depth = "12 in" }
feeding = { side_dress = "best" }

[[bed.amend]]
material = "yard compost"
depth = "0.5 in"
worked_in = "1 day"
on = 2027-04-28

[[bed.planting]]
crop = "broccoli"
share = "60 %"
planted = 2027-05-10
how = "transplant"
days = 67
yield = "150 lb per 100 ft2"
need = { n = "2-4 lb/1000 ft2" }

[[bed.planting]]
crop = "Sweet_Corn"
rows = 2
row_spacing = "1 ft"
row_length = "5 ft"
planted = 2027-05-12
harvest = "2027-08-20"

[[bed.planting]]
crop = "broccoli"
planted = 2027-08-20
harvest = 2027-10-20
residues = "left"

[[bed]]
name = "balcony"
container = true
volume = "10 gal"
count = 12
"#;

    fn good(source: &str) -> Season {
        read(source, Rc::new(Catalogue::new())).unwrap_or_else(|faults| {
            panic!("{}", crate::fault::render(&faults, source, "season.toml", false))
        })
    }

    #[test]
    fn a_whole_season_is_read() {
        let season = good(WHOLE);
        assert_eq!(season.garden.year.value, 2027);
        let bed = &season.beds[0];
        let slugs: Vec<&str> = bed.plantings.iter().map(|one| &*one.slug).collect();
        assert_eq!(slugs, ["broccoli", "sweet-corn", "broccoli-2"]);
        assert_eq!(bed.plantings[0].harvest.value.to_string(), "2027-07-15");
        assert!(matches!(bed.plantings[1].extent, Extent::Rows { .. }));
        assert!(matches!(bed.amendments[0].amount.value, Measure::Depth(_)));
        let worked = bed.amendments[0].worked_in.map(|said| said.value);
        assert_eq!(worked, Some(WorkedIn::Days(1)));
        assert_eq!(bed.rain.len(), 1);
        assert_eq!(bed.plantings[0].water.len(), 1);
        assert!(matches!(season.beds[1].footprint, Footprint::Containers { .. }));
        let on = &bed.amendments[0].stuff.place;
        assert_eq!(&WHOLE[on.start as usize..on.end as usize], "\"yard compost\"");
    }

    #[test]
    fn what_the_shed_says_of_a_material_holds_wherever_it_is_named() {
        let season = good(WHOLE);
        let Some(crate::season::Feed::Named(side)) = season.feeding.side_dress.map(|it| it.value)
        else {
            panic!("named materials")
        };
        let label = side[0].overrides.analysis.expect("the shed's label").value;
        assert_eq!(label.nitrogen.percent(), 11.into());
    }

    #[test]
    fn marks_of_windows_and_order_of_tables_make_no_difference() {
        let windows = format!("\u{feff}{}", WHOLE.replace('\n', "\r\n").replace(" = ", "\t=\t"));
        assert_eq!(good(&windows).beds.len(), 2);
        let at = WHOLE.find("[[supplier]]").unwrap_or(0);
        let turned = format!("{}\n{}", &WHOLE[at..], &WHOLE[..at]);
        assert_eq!(good(&turned).beds[0].plantings.len(), 3);
    }

    #[test]
    fn the_smallest_season_works() {
        good(crate::fault::syntax::SMALLEST_SEASON);
    }
}
