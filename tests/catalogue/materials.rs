//! Materials: analyses that fit into the bag, and figures that all name a source.

use rust_decimal::Decimal;
use topdress::catalogue::{Catalogue, MaterialKind};

use super::no_name_twice;

#[test]
fn no_two_materials_answer_to_one_name() {
    let materials: Vec<_> = Catalogue::new().materials().collect();
    no_name_twice(materials.iter().map(|one| (one.name.as_str(), one.aliases.as_slice())));
}

#[test]
fn analyses_fit_into_the_bag() {
    for material in Catalogue::new().materials() {
        let name = &material.name;
        let sum =
            material.nitrogen.percent() + material.phosphate.percent() + material.potash.percent();
        assert!(sum < Decimal::ONE_HUNDRED, "{name} adds up to {sum} %");
        let mineral = [material.nitrate_share, material.ammonium_share];
        let mineral: Decimal = mineral.iter().flatten().map(|share| share.percent()).sum();
        assert!(mineral <= Decimal::ONE_HUNDRED, "{name}");
        if let Some(release) = &material.release {
            assert!(
                release.low.0 <= release.typical.0 && release.typical.0 <= release.high.0,
                "{name}"
            );
            assert!(release.high.0 <= Decimal::ONE_HUNDRED, "{name}");
        }
    }
}

#[test]
fn what_carries_nitrogen_says_how_it_comes_free() {
    for material in Catalogue::new().materials() {
        let name = &material.name;
        let carries = !material.nitrogen.percent().is_zero();
        assert_eq!(material.release.is_some(), carries, "{name}");
        if !carries {
            continue;
        }
        if material.kind == MaterialKind::Mineral {
            let split = material.nitrate_share.zip(material.ammonium_share);
            let (nitrate, ammonium) = split.unwrap_or_else(|| panic!("{name} is not parted"));
            assert_eq!(nitrate.percent() + ammonium.percent(), Decimal::ONE_HUNDRED, "{name}");
        } else {
            assert!(material.pools.is_some(), "{name}");
        }
    }
}

#[test]
fn every_figure_of_a_material_names_its_source_and_every_caution_exists() {
    let catalogue = Catalogue::new();
    for material in catalogue.materials() {
        for (field, present) in [
            ("nitrogen", true),
            ("phosphate", true),
            ("potash", true),
            ("moisture", material.moisture.is_some()),
            ("nitrate_share", material.nitrate_share.is_some()),
            ("ammonium_share", material.ammonium_share.is_some()),
            ("carbon_nitrogen", material.carbon_nitrogen.is_some()),
            ("density", material.density.is_some()),
            ("release", material.release.is_some()),
            ("phosphate_available_on_low_soil", material.phosphate_available_on_low_soil.is_some()),
            ("salt_index", material.salt_index.is_some()),
        ] {
            let id = material.source_of(field);
            assert!(catalogue.source(id).is_some(), "{}: {field} has no source", material.name);
            let own = material.sources.contains_key(field);
            assert!(present || !own, "{}: source of {field}, which is not there", material.name);
        }
        for key in &material.cautions {
            assert!(catalogue.caution(key).is_some(), "{}: no caution `{key}`", material.name);
        }
    }
}

/// Grades as the Fertiliser Manual (RB209, 8th edition, 2010) and Auburn ANR-174 print them.
#[test]
fn salts_hold_what_is_printed() {
    let catalogue = Catalogue::new();
    for (name, nitrogen, phosphate, potash) in [
        ("urea", "46", "0", "0"),
        ("sulphate of ammonia", "21", "0", "0"),
        ("DAP", "18", "46", "0"),
        ("calcium nitrate", "15.5", "0", "0"),
        ("muriate of potash", "0", "0", "60"),
        ("sulfate of potash", "0", "0", "50"),
        ("TSP", "0", "45", "0"),
        ("10-10-10", "10", "10", "10"),
    ] {
        let material = catalogue.material(name).unwrap_or_else(|| panic!("no material `{name}`"));
        let holds = [material.nitrogen, material.phosphate, material.potash];
        let holds = holds.map(|share| share.percent().normalize().to_string());
        assert_eq!(holds, [nitrogen, phosphate, potash], "{name}");
    }
}

#[test]
fn names_growers_use_are_known() {
    let catalogue = Catalogue::new();
    for (said, meant) in [
        ("compost", "mixed compost"),
        ("yard compost", "yard-trimmings compost"),
        ("layer manure pellets", "pelleted poultry manure"),
        ("chicken manure", "laying-hen manure"),
        ("leaf mold", "leaf compost"),
        ("Worm Castings", "vermicompost"),
    ] {
        assert_eq!(catalogue.material(said).map(|one| one.name.clone()).as_deref(), Some(meant));
    }
    assert_eq!(catalogue.nearest_material("feahter meal").as_deref(), Some("feather meal"));
}
