//! Whatever is asked, a sum answers or says why not.

use proptest::prelude::*;
use topdress::cli::sum;

fn number() -> impl Strategy<Value = String> {
    prop_oneof![
        1 => Just("0".to_owned()),
        2 => Just("0.000000000000000001".to_owned()),
        2 => Just("999999999999999999".to_owned()),
        1 => Just("1/999999999999999999".to_owned()),
        2 => Just("99999999".to_owned()),
        4 => "[0-9]{1,9}",
        4 => "[0-9]{1,4}\\.[0-9]{1,6}",
        1 => "-[0-9]{1,3}",
    ]
}

const UNITS: &[&str] = &[
    "lb",
    "oz",
    "kg",
    "mg",
    "t",
    "ton",
    "g",
    "lb/acre",
    "lb/1000 ft2",
    "kg/ha",
    "g/m2",
    "oz/ft2",
    "t/0.000001 ft2",
    "lb/100 ft",
    "g/plant",
    "ft2",
    "acre",
    "ha",
    "in",
    "ft",
    "cm",
    "m",
    "mi",
    "km",
    "yd3",
    "gal",
    "tsp",
    "L",
    "m3",
    "acre-foot",
    "lb/yd3",
    "g/cm3",
    "lb/gal",
    "mg/tsp",
    "%",
    "ppm",
    "mg/L",
    "lb/ton",
    "mg/t",
    "m3/ha",
    "gal/acre",
    "",
];

fn amount() -> impl Strategy<Value = String> {
    in_units(UNITS)
}

fn in_units(units: &'static [&'static str]) -> impl Strategy<Value = String> {
    (number(), prop::sample::select(units)).prop_map(|(number, unit)| format!("{number} {unit}"))
}

/// What an option most likely takes.
fn fitting(option: &str) -> BoxedStrategy<String> {
    let units: &[&str] = match option {
        "--weight" | "--sample" | "--dose" | "--pack" => &["lb", "oz", "kg", "mg", "t", "ton"],
        "--over" | "--sampled" => &["ft2", "acre", "ha", "mi", "in2", "cm2", "ft", "km"],
        "--row-spacing" | "--depth" => &["in", "ft", "mm", "km", "mi"],
        "--volume" | "--into" => &["gal", "tsp", "mL", "m3", "acre-foot"],
        "--density" => &["lb/yd3", "g/cm3", "mg/tsp", "lb/gal", "mg/m3"],
        "--release" | "--moisture" | "--nitrogen" => &["%", "lb/ton", "mg/t"],
        "--ammonium" => &["%", "lb/ton", "mg/t", "kg/1000 L"],
        "--critical" | "--nitrate" => &["ppm", "mg/L"],
        "--biomass" | "--per-ppm" | "--yield" => {
            &["lb/acre", "kg/ha", "t/ft2", "mg/km2", "mg/ha", "lb"]
        }
        "--amount" => &["lb", "t", "m3", "tsp", "kg/ha", "m3/ha", "gal/ft2"],
        "--from" | "--analysis" | "--content" => return material().boxed(),
        "--need" => {
            let units = &["lb", "t", "mg", "lb/1000 ft2", "kg/ha", "t/in2", "lb/100 ft", "g/plant"];
            return (in_units(units), prop::sample::select(vec!["n", "p", "k2o", "P2O5"]))
                .prop_map(|(amount, nutrient)| format!("{nutrient} {amount}"))
                .boxed();
        }
        "--target" => {
            return (in_units(&["ppm", "mg/L"]), prop::sample::select(vec!["n", "p", "k2o"]))
                .prop_map(|(amount, nutrient)| format!("{amount} {nutrient}"))
                .boxed();
        }
        "--offer" => {
            return (in_units(&["lb", "mg", "t"]), material(), number())
                .prop_map(|(weight, material, price)| format!("{weight} {material} {price}"))
                .boxed();
        }
        "--price" | "--plants" => return number().boxed(),
        "--to" => return prop::sample::select(&UNITS[..41]).prop_map(str::to_owned).boxed(),
        "" => {
            return prop_oneof![
                amount(),
                material(),
                in_units(&["lb P", "t K2O", "ppm", "mg S", "cup"])
            ]
            .boxed();
        }
        _ => return value().boxed(),
    };
    in_units(units).boxed()
}

fn material() -> impl Strategy<Value = String> {
    let name = prop_oneof![
        prop::sample::select(vec![
            "urea",
            "feather meal",
            "yard compost",
            "broiler litter",
            "10-10-10",
            "46-0-0",
            "0-0-60",
            "18-46-0",
            "0.000001-0-0",
            "0-8.8-0 elemental",
            "20 % P2O5",
            "sawdust",
        ])
        .prop_map(str::to_owned),
        "[0-9]{1,2}-[0-9]{1,2}-[0-9]{1,2}",
    ];
    let release = prop::sample::select(vec!["", "", " @ 60 %", " @ 0.000001 %"]);
    (name, release).prop_map(|(name, release)| format!("{name}{release}"))
}

fn value() -> impl Strategy<Value = String> {
    prop_oneof![
        6 => amount(),
        3 => (prop::sample::select(vec!["n", "p", "k2o", "P2O5", "K"]), amount())
            .prop_map(|(nutrient, amount)| format!("{nutrient} {amount}")),
        2 => (amount(), prop::sample::select(vec!["n", "P", "K2O", "SO3"]))
            .prop_map(|(amount, nutrient)| format!("{amount} {nutrient}")),
        3 => material(),
        2 => (amount(), material(), "[0-9]{1,9}(\\.[0-9]{1,3})?")
            .prop_map(|(weight, material, price)| format!("{weight} {material} {price}")),
        1 => prop::sample::select(vec![
            "dry", "injected", "2 days", "1:100", "1:999999999", "P2O5", "nitrate", "sweet corn",
            "cabbage", "lb/1000 ft2", "oz/mi", "warm-dry", "2", "3", "50", "4 ft x 25 ft",
        ])
        .prop_map(str::to_owned),
        1 => "\\PC{0,12}",
    ]
}

/// Options that each sum has, most needed first; an empty name is the bare argument.
const SUMS: &[(&str, &[&str])] = &[
    ("label", &["", "--weight", "--density"]),
    ("dose", &["--need", "--from", "--over", "--need", "--from", "--row-spacing", "--plants"]),
    ("dose", &["--need", "--need", "--need", "--from", "--from", "--from", "--pack"]),
    ("rate", &["", "--to", "--row-spacing"]),
    ("oxide", &["", "--to"]),
    ("amend", &["", "--amount", "--over", "--density", "--analysis", "--ammonium", "--release"]),
    ("amend", &["", "--depth", "--over", "--moisture", "--basis", "--worked-in", "--year"]),
    ("legume", &["--biomass", "--nitrogen", "--over", "--release"]),
    ("legume", &["--sample", "--sampled", "--nitrogen", "--over", "--moisture"]),
    ("water", &["--nitrate", "--depth", "--over", "--as", "--volume"]),
    ("nitrate", &["", "--depth", "--density", "--crop", "--critical", "--per-ppm"]),
    ("liquid", &["--target", "--from", "--volume", "--injector", "--target", "--from"]),
    ("price", &["--offer", "--offer", "--offer", "--weight", "--price", "--from"]),
    ("removal", &["", "--yield", "--over", "--content", "--row-spacing", "--plants"]),
    ("measure", &["", "--from", "--density"]),
    ("mix", &["--dose", "--into", "--from", "--plants"]),
];

fn request() -> impl Strategy<Value = Vec<String>> {
    let units = prop::sample::select(vec!["", "--units=us", "--units=metric"]);
    let sum = prop::sample::select(SUMS).prop_flat_map(|(name, options)| {
        let values: Vec<BoxedStrategy<(bool, String)>> = options
            .iter()
            .map(|option| {
                let value = prop_oneof![8 => fitting(option), 1 => value()];
                (prop::bool::weighted(0.85), value).boxed()
            })
            .collect();
        values.prop_map(move |values| {
            let mut words = vec![name.to_owned()];
            for (option, (given, value)) in options.iter().zip(values) {
                if given && option.is_empty() {
                    words.push(value);
                } else if given {
                    words.push(format!("{option}={value}"));
                }
            }
            words
        })
    });
    (sum, units, any::<bool>()).prop_map(|(mut words, units, json)| {
        words.extend([units, if json { "--format=json" } else { "" }].map(str::to_owned));
        words.retain(|word| !word.is_empty());
        words
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]
    #[test]
    fn no_request_is_a_crash(words in request()) {
        if let Err(message) = sum::answer(&words) {
            prop_assert!(message.contains("error"), "{message}");
        }
    }
}
