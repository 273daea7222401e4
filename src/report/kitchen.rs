//! Volumes as they are scooped: cups and spoons, or millilitres, rounded to what a scoop can do.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::quantity::{Unit, UnitSystem, Volume, round_to, units};

/// Words for a volume as it would be scooped: "1 1/2 cups", "2 tbsp", "250 mL". The caller says
/// "about" before it, since heaped and level scoops differ by more than this rounding.
pub fn scooped(volume: Volume, system: UnitSystem) -> String {
    match system {
        UnitSystem::Us => us(volume),
        UnitSystem::Metric => metric(volume),
    }
}

/// A step: the unit, the fewest of it, the parts of it that are told apart, and its names.
type Step = (&'static Unit, u32, u32, &'static str, &'static str);

const STEPS: [Step; 5] = [
    (&units::GALLON, 2, 2, "gallon", "gallons"),
    (&units::CUP, 4, 2, "cup", "cups"),
    (&units::TABLESPOON, 4, 4, "cup", "cups"),
    (&units::TABLESPOON, 1, 2, "tbsp", "tbsp"),
    (&units::TEASPOON, 0, 4, "tsp", "tsp"),
];

fn us(volume: Volume) -> String {
    let enough = |step: &&Step| volume.in_unit(step.0) >= Decimal::from(step.1);
    let (unit, _, parts, one, many) = *STEPS.iter().find(enough).unwrap_or(&STEPS[4]);
    // A quarter cup is four tablespoons: below four cups, quarters are what a cup is marked with.
    let unit = if one == "cup" { &units::CUP } else { unit };
    let count = round_to(volume.in_unit(unit) * Decimal::from(parts), Decimal::ONE);
    let count = count.to_u64().unwrap_or_default();
    if count == 0 {
        return format!("less than 1/{parts} {one}");
    }
    let (whole, rest) = (count / u64::from(parts), count % u64::from(parts));
    let fraction = match (rest, parts) {
        (0, _) => String::new(),
        (2, 4) => "1/2".to_owned(),
        (rest, parts) => format!("{rest}/{parts}"),
    };
    let number = match (whole, rest) {
        (0, _) => fraction,
        (_, 0) => whole.to_string(),
        _ => format!("{whole} {fraction}"),
    };
    let name = if count > u64::from(parts) { many } else { one };
    format!("{number} {name}")
}

fn metric(volume: Volume) -> String {
    let millilitres = volume.litre() * Decimal::ONE_THOUSAND;
    let step = match millilitres {
        few if few < Decimal::from(20) => 1,
        some if some < Decimal::from(100) => 5,
        many if many < Decimal::from(1000) => 10,
        _ => 100,
    };
    let rounded = round_to(millilitres, Decimal::from(step));
    if rounded.is_zero() {
        "less than 1 mL".to_owned()
    } else if rounded < Decimal::ONE_THOUSAND {
        format!("{} mL", rounded.normalize())
    } else {
        format!("{} L", (rounded / Decimal::ONE_THOUSAND).normalize())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scoops_of_every_size() {
        let cup = |text: &str| Volume::from_cup(text.parse().expect("a decimal"));
        for (cups, us, metric) in [
            ("40", "2 1/2 gallons", "9.5 L"),
            ("17.2", "17 cups", "4.1 L"),
            ("2", "2 cups", "470 mL"),
            ("1.04", "1 cup", "250 mL"),
            ("0.8", "3/4 cup", "190 mL"),
            ("0.25", "1/4 cup", "60 mL"),
            ("0.1", "1 1/2 tbsp", "25 mL"),
            ("0.0625", "1 tbsp", "15 mL"),
            ("0.04", "2 tsp", "9 mL"),
            ("0.001", "less than 1/4 tsp", "less than 1 mL"),
        ] {
            assert_eq!(scooped(cup(cups), UnitSystem::Us), us, "{cups}");
            assert_eq!(scooped(cup(cups), UnitSystem::Metric), metric, "{cups}");
        }
        assert_eq!(
            scooped(Volume::from_litre("0.996".parse().expect("a decimal")), UnitSystem::Metric),
            "1 L"
        );
    }
}
