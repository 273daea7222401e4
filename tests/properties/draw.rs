//! Gardens, drawn.

use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

use super::garden::{Amended, Bed, Extent, Garden, HowMuch, Item, Past, Planting, Shape, Soil};
use super::units::{Amount, Unit};

/// A crop with the day it usually goes in, how long it stands, and whether it is set out.
type Habit = (&'static str, &'static str, i64, bool);

/// What stands first, or all season.
const SPRING: &[Habit] = &[
    ("broccoli", "2027-05-10", 66, true),
    ("cabbage", "2027-05-03", 80, true),
    ("lettuce", "2027-04-28", 50, true),
    ("spinach", "2027-04-10", 45, false),
    ("carrot", "2027-04-20", 90, false),
    ("beet", "2027-05-01", 60, false),
    ("onion", "2027-04-15", 110, true),
    ("potato", "2027-04-25", 90, false),
    ("pea", "2027-04-05", 70, false),
    ("tomato", "2027-05-20", 75, true),
    ("sweet corn", "2027-05-12", 85, false),
    ("zucchini", "2027-05-25", 50, false),
    ("leek", "2027-05-05", 120, true),
    ("garlic", "2026-10-10", 275, false),
];

/// What may follow in high summer.
const SUMMER: &[Habit] = &[
    ("kale", "2027-08-05", 70, true),
    ("spinach", "2027-08-20", 45, false),
    ("bean", "2027-08-01", 60, false),
    ("turnip", "2027-08-10", 60, false),
    ("lettuce", "2027-08-15", 50, true),
    ("radish", "2027-08-25", 30, false),
];

fn feet(least: i64, most: i64) -> impl Strategy<Value = Amount> {
    (least * 4..=most * 4).prop_map(|quarters| Unit::Foot.hundredths(quarters * 25))
}

fn shape() -> impl Strategy<Value = Shape> {
    prop_oneof![
        4 => (feet(4, 60), feet(2, 5)).prop_map(|(length, width)| Shape::Sides(length, width)),
        2 => (16_i64..2_000).prop_map(|area| Shape::Area(Unit::SquareFoot.of(area))),
        1 => (2_i64..20, 1_i64..12)
            .prop_map(|(volume, count)| Shape::Pots(Unit::Gallon.of(volume), count)),
    ]
}

fn soil() -> impl Strategy<Value = Soil> {
    let tenths = option::of(prop_oneof![3 => 5_i64..39, 1 => 40_i64..90]);
    (1_i64..150, 20_i64..300, tenths, option::weighted(0.3, 0_i64..40)).prop_map(
        |(phosphorus, potassium, organic_matter, nitrate)| Soil {
            phosphorus,
            potassium,
            organic_matter,
            nitrate,
        },
    )
}

fn past() -> impl Strategy<Value = Past> {
    let spread = (select(vec!["compost", "manure"]), 2023_i64..=2026, 10_i64..200);
    let cover = (
        select(vec!["hairy vetch", "clover", "rye"]),
        500_i64..6_000,
        select(vec!["2027-03-25", "2027-04-15", "2027-05-01"]),
    );
    prop_oneof![
        3 => spread.prop_map(|(kind, year, depth)| {
            Past::Spread(kind, year, Unit::Inch.hundredths(depth))
        }),
        1 => cover.prop_map(|(crop, biomass, killed)| {
            Past::Cover(crop, Unit::PoundsPerAcre.of(biomass), killed)
        }),
    ]
}

/// Something spread on a bed in spring.
pub fn amended() -> impl Strategy<Value = Amended> {
    let material = select(vec![
        "yard compost",
        "mixed compost",
        "composted dairy manure",
        "mushroom compost",
        "broiler litter",
        "dairy manure",
        "blood meal",
        "10-10-10",
    ]);
    let on = select(vec!["2026-10-20", "2027-03-15", "2027-04-24", "2027-05-01"]);
    (material, 1_i64..120, 0_usize..4, on, option::weighted(0.3, 600_i64..1_400)).prop_map(
        |(material, much, way, on, density)| {
            let bagged = matches!(material, "blood meal" | "10-10-10");
            let how_much = match way {
                _ if bagged => HowMuch::Rate(Unit::PoundsPer1000SquareFeet.hundredths(much * 20)),
                0 => HowMuch::Depth(Unit::Inch.hundredths(much)),
                1 => HowMuch::Amount(Unit::CubicFoot.hundredths(much * 10)),
                2 => HowMuch::Amount(Unit::Pound.of(much)),
                _ => HowMuch::Rate(Unit::YardsPer1000SquareFeet.hundredths(much * 3)),
            };
            let density = density.filter(|_| !bagged).map(|one| Unit::PoundsPerCubicYard.of(one));
            Amended { material, how_much, on, density }
        },
    )
}

fn planting(habits: &'static [Habit]) -> impl Strategy<Value = Planting> {
    let goal = prop_oneof![
        (20_i64..300).prop_map(|much| Unit::PoundsPer100SquareFeet.of(much)),
        (5_i64..40).prop_map(|tenths| Unit::PoundsPerPlant.hundredths(tenths * 10)),
    ];
    let given =
        (1_i64..60).prop_map(|tenths| Unit::PoundsPer1000SquareFeet.hundredths(tenths * 10));
    (select(habits), option::weighted(0.3, goal), any::<bool>(), option::weighted(0.15, given))
        .prop_map(|((crop, planted, days, transplanted), yielding, residues_left, given)| {
            let extent = Extent::Whole;
            Planting { crop, extent, planted, days, transplanted, yielding, residues_left, given }
        })
}

/// One crop, two beside one another, or one after another, in rows or counted plants.
fn plantings(shape: Shape) -> BoxedStrategy<Vec<Planting>> {
    if let Shape::Pots(_, count) = shape {
        let one = planting(SPRING).prop_map(move |one| {
            let feet = Unit::Foot.of(1);
            vec![Planting { extent: Extent::Plants(count, feet, feet), ..one }]
        });
        return one.boxed();
    }
    let in_part = |extent: Extent| move |one: Planting| Planting { extent, ..one };
    let inches = Unit::Inch.of(12);
    let counted = (1_i64..7)
        .prop_flat_map(move |plants| {
            planting(SPRING).prop_map(in_part(Extent::Plants(plants, inches, inches)))
        })
        .prop_map(|one| vec![one]);
    let in_rows = planting(SPRING).prop_map(move |one| {
        vec![Planting { extent: Extent::Rows(1, Unit::Foot.of(4), inches), ..one }]
    });
    let halves = (planting(SPRING), planting(SPRING), 10_i64..60)
        .prop_filter("the same crop twice", |(one, other, _)| one.crop != other.crop)
        .prop_map(|(one, other, part)| {
            let whole = |one, part| Planting { extent: Extent::Share(part), ..one };
            vec![whole(one, part), whole(other, 90 - part)]
        });
    let one_after_another = (planting(SPRING), planting(SUMMER), 20_i64..=100)
        .prop_filter("still standing", |(one, ..)| {
            !matches!(one.crop, "onion" | "leek" | "tomato" | "sweet corn")
        })
        .prop_map(|(one, other, part)| {
            vec![one, Planting { extent: Extent::Share(part), ..other }]
        });
    prop_oneof![
        4 => planting(SPRING).prop_map(|one| vec![one]),
        2 => halves,
        3 => one_after_another,
        1 => counted,
        1 => in_rows,
    ]
    .boxed()
}

/// A bed, whatever may be known of it.
pub fn bed() -> impl Strategy<Value = Bed> {
    let fixed = shape().prop_flat_map(|shape| (Just(shape), plantings(shape)));
    let texture = option::of(select(vec!["sand", "loam", "clay"]));
    let known = (
        option::of(soil()),
        prop::collection::vec(past(), 0..3),
        prop::collection::vec(amended(), 0..2),
        option::weighted(0.2, (1_i64..20, 2_i64..14)),
    );
    (fixed, texture, known).prop_map(|((shape, plantings), texture, known)| {
        let (soil, history, amended, water) = known;
        let pots = matches!(shape, Shape::Pots(..));
        let amended = amended.into_iter().filter(|one| !pots || !per_area(*one)).collect();
        let history = if pots { Vec::new() } else { distinct(history) };
        let water = water.map(|(nitrate, depth)| (nitrate, Unit::Inch.of(depth)));
        let water = water.filter(|_| !pots);
        let name = String::new();
        Bed { name, shape, texture, soil, history, amended, plantings, water }
    })
}

/// Two lines of one name would be told apart by their order alone.
fn distinct(mut history: Vec<Past>) -> Vec<Past> {
    let name = |one: &Past| match one {
        Past::Spread(kind, year, _) => format!("{kind} {year}"),
        Past::Cover(crop, ..) => (*crop).to_owned(),
    };
    history.sort_by_key(name);
    history.dedup_by_key(|one| name(one));
    history
}

const fn per_area(one: Amended) -> bool {
    matches!(one.how_much, HowMuch::Depth(_) | HowMuch::Rate(_))
}

fn item() -> impl Strategy<Value = Item> {
    let material = select(vec!["feather meal", "blood meal", "urea", "pelleted poultry manure"]);
    let pack = (1_i64..50, 3_i64..90).prop_map(|(weight, price)| (Unit::Pound.of(weight), price));
    let on_hand = option::of((1_i64..2_000).prop_map(|much| Unit::Pound.hundredths(much)));
    (material, on_hand, prop::collection::vec(pack, 1..3))
        .prop_map(|(material, on_hand, packs)| Item { material, on_hand, packs })
}

/// A garden of one to so many beds.
pub fn garden(most_beds: usize) -> impl Strategy<Value = Garden> {
    let degrees = |ninths| Unit::NineFahrenheit.of(ninths);
    let climate = option::of((-1_i64..=1, 3_i64..=5))
        .prop_map(move |pair| pair.map(|(cold, warm)| (degrees(cold), degrees(warm))));
    let before = select(vec![
        vec!["pelleted poultry manure", "potassium sulfate"],
        vec!["bone meal", "potassium sulfate", "feather meal"],
        vec!["10-10-10"],
        vec![],
    ]);
    let side = select(vec![vec!["feather meal"], vec!["urea"], vec!["blood meal", "urea"], vec![]]);
    (
        select(vec!["supply", "recommendation"]),
        select(vec!["solved", "weeks"]),
        climate,
        (before, side),
        prop::collection::vec(item(), 0..3),
        prop::collection::vec(bed(), 1..=most_beds),
    )
        .prop_map(|(basis, timing, climate, feeding, mut shed, mut beds)| {
            shed.sort_by_key(|item| item.material);
            shed.dedup_by_key(|item| item.material);
            for (at, bed) in beds.iter_mut().enumerate() {
                bed.name = format!("bed {}", at + 1);
            }
            Garden { basis, timing, climate, feeding, shed, beds }
        })
}
