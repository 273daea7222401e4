//! A good season is read whole; places point at what was written.

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

const OWN: &str = r#"
[[source]]
id = "seed packet"
title = "On the packet"

[[material]]
name = "barn blend"
analysis = "2-1-2"
kind = "compost"

[[material]]
name = "my pellets"
like = "feather meal"
analysis = "10-0-0"
release = "60 %"

[[crop]]
name = "oca"
aliases = ["oka"]
feeder = "light"
touches_soil = true

[[crop]]
name = "red broccoli"
like = "broccoli"
supply = { nitrogen = "250 kg/ha", reference_yield = "12 t/ha", step = { share = "20 %" }, per_step = "20 kg/ha", depth = "60 cm", source = "seed packet" }

[[crop]]
name = "pak soi"
need = { n = "60-80 lb/acre" }
brassica = true
leafy = true
removal = { nitrogen = "4 kg/t" }

[garden]
year = 2027

[[bed]]
name = "a"
area = "9 m2"
[[bed.amend]]
material = "Barn_Blend"
rate = "2 kg/m2"
on = 2027-04-01
[[bed.planting]]
crop = "Oka"
planted = 2027-05-01
days = 120
"#;

#[test]
fn own_entries_stand_in_front_of_the_catalogue() {
    let season = good(OWN);
    let oca = &season.beds[0].plantings[0].crop.value;
    assert_eq!(oca.name, "oca");
    assert_eq!(oca.feeder.value, crate::catalogue::FeederClass::Light);
    let own = |name: &str| season.catalogue.crop(name).expect("an own crop");
    let red = own("red broccoli");
    assert!(red.heading && red.recommendations.is_empty());
    assert_eq!(red.supply.as_ref().map(|row| row.source.as_str()), Some("seed packet"));
    let pak = own("pak soi");
    assert_eq!(pak.feeder.value, crate::catalogue::FeederClass::Light);
    assert_eq!(pak.starter.source, "starter-brassica");
    assert_eq!(pak.recommendations[0].source, "season-file");
    let blend = &season.beds[0].amendments[0].stuff.material;
    assert_eq!(blend.pools, Some(crate::catalogue::PoolClass::Compost));
    assert_ne!(blend.source_of("release"), "season-file");
    assert!(season.catalogue.source(blend.source_of("release")).is_some());
    let pellets = season.catalogue.material("my pellets").expect("an own material");
    assert_eq!(pellets.release.as_ref().map(|it| it.typical.0), Some(60.into()));
}

#[test]
fn defaults_of_own_crops_name_sources_that_exist() {
    let flags =
        ["", "brassica", "heading", "leafy", "picked_over", "legume", "perennial", "overwintered"];
    for one in flags {
        for other in flags {
            let line = |flag: &str| {
                if flag.is_empty() { String::new() } else { format!("{flag} = true\n") }
            };
            let second = if one == other { String::new() } else { line(other) };
            let source = format!(
                "{}\n[[crop]]\nname = \"x\"\nfeeder = \"heavy\"\n{}{second}",
                crate::fault::syntax::SMALLEST_SEASON,
                line(one)
            );
            let season = good(&source);
            let crop = season.catalogue.crop("x").expect("the own crop");
            let ids = [
                &crop.starter.source,
                &crop.side_dress.source,
                &crop.last_useful.source,
                &crop.curve.source,
                &crop.ceiling.source,
                &crop.feeder.source,
            ];
            for id in ids {
                assert!(season.catalogue.source(id).is_some(), "{id}");
            }
        }
    }
}
