//! A good season is read whole; places point at what was written.

use super::*;
use crate::season::{Extent, Footprint, Measure, WorkedIn};

const WHOLE: &str = include_str!("../../../tests/cases/season/whole.toml");

fn good(source: &str) -> Season {
    read(source, Arc::new(Catalogue::new())).unwrap_or_else(|faults| {
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

const OWN: &str = include_str!("../../../tests/cases/season/own.toml");

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
