//! What `best` chooses in a garden of one bed, and what is said of it.

use rust_decimal::Decimal;
use topdress::engine::dose::{Dose, Purpose};
use topdress::engine::plan::plan;
use topdress::engine::shopping;
use topdress::quantity::{Money, UnitSystem};
use topdress::report::markdown;
use topdress::report::number::Showing;
use topdress::report::plan::Reported;
use topdress::report::shopping as lists;

use super::best::{lacking, on, read, weights};

/// A garden of one bed, fed with what is best of a shed.
fn one_bed(more: &str, shed: &str, planting: &str) -> String {
    format!(
        "[garden]\nyear = 2027\ntexture = \"loam\"\ncoldest = {{ month = 1, mean = \"26 F\" }}\n\
         warmest = {{ month = 7, mean = \"71 F\" }}\n{more}\n[feeding]\nbefore_planting = \"best\"\n\
         side_dress = \"best\"\n{shed}\n[[bed]]\nname = \"a\"\nlength = \"24 ft\"\nwidth = \"4 ft\"\n\
         soil = {{ test = \"mehlich-3\", p = \"11 ppm\", k = \"50 ppm\", organic_matter = \"2.5 %\", \
         ph = 6.5, sampled = 2027-03-13 }}\n[[bed.planting]]\n{planting}\n"
    )
}

fn item(material: &str, pack: &str, price: &str) -> String {
    format!(
        "[[shed]]\nmaterial = \"{material}\"\npacks = [{{ weight = \"{pack}\", price = \"{price}\" }}]\n"
    )
}

/// A quick and a slower nitrogen material, phosphate and potash.
fn four_materials() -> String {
    item("urea", "5 lb", "9")
        + &item("blood meal", "5 lb", "12")
        + &item("triple superphosphate", "5 lb", "11")
        + &item("potassium sulfate", "5 lb", "14")
}

const BROCCOLI: &str =
    "crop = \"broccoli\"\nplanted = 2027-05-08\nhow = \"transplant\"\nharvest = 2027-07-10";
const GARLIC: &str = "crop = \"garlic\"\nplanted = 2026-10-15\nharvest = 2027-07-10";

fn used(text: &str) -> Vec<String> {
    let season = read(text);
    weights(&plan(&season, UnitSystem::Us, on(), &[]).beds[0]).into_keys().collect()
}

#[test]
fn a_slow_meal_is_not_chosen_where_a_quicker_one_keeps_up() {
    let shed = item("alfalfa meal", "50 lb", "1") + &item("calcium nitrate", "50 lb", "90");
    let text = one_bed("", &shed, GARLIC);
    assert_eq!(used(&text), ["calcium nitrate"]);
    // Named, it would be spread, and leave days short.
    let named = text.replace("side_dress = \"best\"", "side_dress = [\"alfalfa meal\"]");
    let bed = &plan(&read(&named), UnitSystem::Us, on(), &[]).beds[0];
    assert!(lacking(bed) > (0, Decimal::ZERO), "{:?}", lacking(bed));
}

#[test]
fn an_organic_garden_is_fed_with_what_is_marked_so() {
    let shed = item("urea", "5 lb", "1")
        + &item("triple superphosphate", "5 lb", "1")
        + &item("blood meal", "5 lb", "30")
        + &item("bone meal", "5 lb", "30")
        + &item("potassium sulfate", "5 lb", "30");
    let organic = used(&one_bed("organic = true", &shed, BROCCOLI));
    assert_eq!(organic, ["blood meal", "bone meal", "potassium sulfate"]);
    let any = used(&one_bed("", &shed, BROCCOLI));
    assert_eq!(any, ["potassium sulfate", "triple superphosphate", "urea"]);
}

#[test]
fn the_order_of_the_shed_changes_nothing() {
    let parts = [
        item("blood meal", "5 lb", "14"),
        item("urea", "5 lb", "14"),
        item("pelleted poultry manure", "40 lb", "14"),
        item("blended fertilizer 10-10-10", "20 lb", "14"),
        item("potassium sulfate", "5 lb", "14"),
    ];
    let doses = |shed: String| {
        let season = read(&one_bed("", &shed, BROCCOLI));
        let bed = plan(&season, UnitSystem::Us, on(), &[]).beds.remove(0);
        let dose = |dose: &Dose| (dose.date, dose.ready.name().to_owned(), dose.weight.value());
        bed.doses.iter().map(dose).collect::<Vec<_>>()
    };
    let mut other = parts.clone();
    other.reverse();
    assert_eq!(doses(parts.concat()), doses(other.concat()));
}

/// A hungry crop gets a material in which nitrogen dominates (common practice), and soil that has
/// phosphate enough gets none.
#[test]
fn bone_meal_is_no_side_dressing() {
    let shed = item("urea", "5 lb", "90") + &item("bone meal", "5 lb", "1");
    let rich = one_bed("", &shed, BROCCOLI).replace("p = \"11 ppm\"", "p = \"120 ppm\"");
    assert_eq!(used(&rich), ["urea"]);
    let poor = one_bed("", &shed, BROCCOLI);
    let season = read(&poor);
    let bed = plan(&season, UnitSystem::Us, on(), &[]).beds.remove(0);
    let side = bed.doses.iter().filter(|dose| dose.purpose == Purpose::SideDress);
    let names: Vec<&str> = side.map(|dose| dose.ready.name()).collect();
    assert!(!names.is_empty() && names.iter().all(|name| *name == "urea"), "{names:?}");
}

/// Of many materials those are looked at that are cheapest by what they hold, and those of which a
/// pack costs least; the list is not called the least where some were not looked at.
#[test]
fn a_small_bag_is_not_lost_among_many_large_ones() {
    let large = (1..=9).map(|at| {
        item(&format!("bulk feed {at}"), "2000 lb", "400")
            .replace("packs", "analysis = \"20-0-0\"\npacks")
    });
    let small = item("small feed", "5 lb", "10").replace("packs", "analysis = \"20-0-0\"\npacks");
    let text = one_bed("", &(large.collect::<String>() + &small), BROCCOLI);
    let text = text
        .replace("p = \"11 ppm\"", "p = \"120 ppm\"")
        .replace("k = \"50 ppm\"", "k = \"400 ppm\"");
    let season = read(&text);
    let planned = plan(&season, UnitSystem::Us, on(), &[]);
    assert_eq!(used(&text), ["small feed"]);
    assert!(!planned.chosen.proven);
}

/// Of three equal beds the stock serves two: the same two in whatever order they stand.
#[test]
fn the_order_of_the_beds_changes_nothing() {
    let head = "[garden]\nyear = 2027\ncoldest = { month = 1, mean = \"26 F\" }\n\
                warmest = { month = 7, mean = \"71 F\" }\n[feeding]\nbefore_planting = \"best\"\n\
                side_dress = \"best\"\n[[shed]]\nmaterial = \"urea\"\non_hand = \"1 lb\"\n";
    let shed = item("blood meal", "2 lb", "13") + &item("calcium nitrate", "2 lb", "7");
    let bed = |name: &str| {
        format!(
            "[[bed]]\nname = \"{name}\"\narea = \"100 ft2\"\nsoil = {{ p_class = \"very high\", \
             k_class = \"very high\", organic_matter = \"3 %\", sampled = 2027-03-01 }}\n\
             [[bed.planting]]\ncrop = \"cabbage\"\nplanted = 2027-05-08\nharvest = 2027-08-10\n"
        )
    };
    let doses = |names: [&str; 3]| {
        let season = read(&(head.to_owned() + &shed + &names.map(bed).concat()));
        let mut beds = plan(&season, UnitSystem::Us, on(), &[]).beds;
        beds.sort_by(|one, other| one.slug.cmp(&other.slug));
        let told = |dose: &Dose| (dose.date, dose.ready.name().to_owned(), dose.weight.value());
        beds.iter().map(|bed| bed.doses.iter().map(told).collect()).collect::<Vec<Vec<_>>>()
    };
    let first = doses(["x", "y", "z"]);
    assert!(first[0] != first[1] || first[1] != first[2], "the stock serves not all alike");
    assert_eq!(first, doses(["z", "y", "x"]));
    assert_eq!(first, doses(["y", "z", "x"]));
}

#[test]
fn what_nothing_in_the_shed_gives_is_named_with_what_would() {
    let season = read(&one_bed("", &item("urea", "5 lb", "9"), BROCCOLI));
    let planned = plan(&season, UnitSystem::Us, on(), &[]);
    let bed = &planned.beds[0];
    assert_eq!(weights(bed).into_keys().collect::<Vec<_>>(), ["urea"]);
    assert!(bed.notes.iter().any(|note| note.starts_with("potash stays short")), "{:?}", bed.notes);
    let answer = shopping::list(&season, &planned, on());
    let would: Vec<&str> = answer
        .certain
        .unmet
        .iter()
        .flat_map(|unmet| unmet.would.iter().flatten())
        .map(|part| part.material.as_str())
        .collect();
    assert_eq!(would, ["triple superphosphate", "potassium sulfate"]);
    assert_eq!(answer.certain.cost, Money::from_units(9.into()));
}

#[test]
fn the_next_best_list_chooses_anew() {
    let season = read(&one_bed("", &four_materials(), BROCCOLI));
    let planned = plan(&season, UnitSystem::Us, on(), &[]);
    let list = shopping::list(&season, &planned, on()).certain;
    let rival = list.rivals.iter().find(|rival| rival.offer.material == "urea").expect("a rival");
    let instead: Vec<&str> =
        rival.instead.iter().map(|line| line.offer.material.as_str()).collect();
    assert_eq!(instead, ["blood meal"]);
    assert!(rival.without > Some(rival.with), "{rival:?}");
    assert!(list.next_best.is_some());
}

#[test]
fn a_material_on_the_list_tells_who_wants_it_and_why_it_was_bought() {
    let season = read(&one_bed("", &four_materials(), BROCCOLI));
    let planned = plan(&season, UnitSystem::Us, on(), &[]);
    let answer = shopping::list(&season, &planned, on());
    let showing = Showing::new(UnitSystem::Us);
    let reported = Reported { season: &season, plan: &planned, showing, today: on(), against: &[] };
    let paths = lists::paths(&answer);
    let all: Vec<&str> = paths.iter().map(|(path, _)| path.as_str()).collect();
    assert_eq!(
        all,
        ["buy/blood-meal", "buy/potassium-sulfate", "buy/triple-superphosphate", "buy/urea"]
    );
    for (path, material) in &paths {
        let text = markdown::render(&lists::explained(path, material, &answer, &reported));
        let json = lists::explained_json(path, material, &answer, &reported).expect("JSON");
        let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
        let bought = answer.certain.lines.iter().any(|line| line.offer.material == *material);
        assert_eq!(
            text.contains("without it the best") || text.contains("could not be given"),
            bought,
            "{text}"
        );
        let weights: Decimal = json["doses"]
            .as_array()
            .expect("doses")
            .iter()
            .map(|dose| {
                dose["weight"].as_str().expect("a weight").parse::<Decimal>().expect("a number")
            })
            .sum();
        let needed: Decimal = json["needed"].as_str().expect("needed").parse().expect("a number");
        assert_eq!(weights, needed, "{json}");
        assert_eq!(!weights.is_zero(), bought);
    }
}
