//! The seven kinds of problems, from easy to hard.

use rust_decimal::Decimal;

use super::Problem;
use super::draw::Draw;
use super::materials::{
    AREA_NITROGEN, AREAS_METRIC, AREAS_US, BED_METRIC, BED_US, COMPOST_BEDS_METRIC,
    COMPOST_BEDS_US, COMPOST_NITROGEN, CROPS, DEPTHS_METRIC, DEPTHS_US, ELEMENTS, HEAPS_METRIC,
    HEAPS_US, LABELS, MEAL_WEIGHTS, MEALS, NITROGEN, PACKS, PRODUCT, RELEASES, STARTERS,
    TWO_WEIGHTS, WANTED_METRIC, WANTED_US,
};
use crate::catalogue::Catalogue;
use crate::engine::sums::{Amend, Ask, Dose, Label, Refusal, Sum, amend, dose, label};
use crate::quantity::UnitSystem;

/// A kind of problem.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// What is in a bag.
    Label,
    /// Weight of a fertilizer for a rate.
    Rate,
    /// The area of a bed first.
    Area,
    /// Two materials for two needs.
    TwoMaterials,
    /// Compost by depth.
    Compost,
    /// An organic material, of which a part counts.
    Release,
    /// A label that counts elements.
    Elements,
}

impl Kind {
    /// All of them, from easy to hard.
    pub const ALL: [Self; 7] = [
        Self::Label,
        Self::Rate,
        Self::Area,
        Self::TwoMaterials,
        Self::Compost,
        Self::Release,
        Self::Elements,
    ];

    /// What it is called.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Label => "reading a label",
            Self::Rate => "weight for a rate",
            Self::Area => "the area of a bed",
            Self::TwoMaterials => "two materials",
            Self::Compost => "compost by depth",
            Self::Release => "nitrogen that counts",
            Self::Elements => "labels that count elements",
        }
    }

    /// Draws a problem of this kind. Nothing where the sum refuses it, which no drawing does.
    pub fn problem(
        self,
        draw: &mut Draw,
        units: UnitSystem,
        catalogue: &Catalogue,
    ) -> Option<Problem> {
        let drawn = match self {
            Self::Label => reading(draw, units, catalogue),
            Self::Rate => rate(draw, units, catalogue),
            Self::Area => area(draw, units, catalogue),
            Self::TwoMaterials => two(draw, units, catalogue),
            Self::Compost => compost(draw, units, catalogue),
            Self::Release => release(draw, units, catalogue),
            Self::Elements => elements(draw, units, catalogue),
        };
        let Drawn { question, sum, asked, places } = drawn;
        let asked = asked.iter().map(|name| (*name).to_owned()).collect();
        sum.ok().map(|sum| Problem { kind: self, question, sum, asked, places })
    }
}

struct Drawn {
    question: String,
    sum: Result<Sum, Refusal>,
    asked: Vec<String>,
    places: Option<u32>,
}

impl Drawn {
    fn new(question: String, sum: Result<Sum, Refusal>, asked: &[&str]) -> Self {
        let asked = asked.iter().map(|name| (*name).to_owned()).collect();
        Self { question, sum, asked, places: None }
    }
}

/// The weight unit and its word in a question.
const fn weight(units: UnitSystem) -> (&'static str, &'static str) {
    match units {
        UnitSystem::Us => ("lb", "pounds"),
        UnitSystem::Metric => ("kg", "kilograms"),
    }
}

/// So many hundredths, without closing zeros.
fn hundredths(value: u32) -> String {
    Decimal::new(i64::from(value), 2).normalize().to_string()
}

fn asking<'a>(catalogue: &'a Catalogue, texts: &[&String]) -> Ask<'a> {
    let texts: Vec<&str> = texts.iter().map(|text| text.as_str()).collect();
    Ask::new(catalogue, &texts)
}

fn reading(draw: &mut Draw, units: UnitSystem, catalogue: &Catalogue) -> Drawn {
    let (unit, words) = weight(units);
    let (grade, pack) = (draw.of(&LABELS), draw.of(&PACKS));
    let sum = Label { from: grade.to_owned(), weight: format!("{pack} {unit}"), density: None };
    let question = format!(
        "A bag of {pack} {unit} is labelled {grade}. How many {words} of nitrogen, of phosphate and \
         of potash are in it, and what is left of the bag?"
    );
    let answer = label(&sum, &asking(catalogue, &[&sum.weight]));
    Drawn::new(question, answer, &["nitrogen", "phosphate", "potash", "filler"])
}

fn rate(draw: &mut Draw, units: UnitSystem, catalogue: &Catalogue) -> Drawn {
    let (unit, words) = weight(units);
    let (crop, percent, product) = (draw.of(&CROPS), draw.of(&NITROGEN), draw.of(&PRODUCT));
    let (area, for_each, area_unit) = match units {
        UnitSystem::Us => (draw.of(&AREAS_US), 1000, "ft2"),
        UnitSystem::Metric => (draw.of(&AREAS_METRIC), 100, "m2"),
    };
    let need = hundredths(product * percent);
    let grade = format!("{percent}-0-0");
    let question = format!(
        "A soil test asks for {need} {unit} of nitrogen for each {for_each} {area_unit} of {crop}. \
         How many {words} of {grade} does a plot of {area} {area_unit} get?"
    );
    let sum = Dose {
        needs: vec![format!("n {need} {unit}/{for_each} {area_unit}")],
        from: vec![grade.clone()],
        over: Some(format!("{area} {area_unit}")),
        ..Dose::default()
    };
    let answer = dose(&sum, &asking(catalogue, &[&sum.needs[0]]));
    Drawn::new(question, answer, &[&grade])
}

fn area(draw: &mut Draw, units: UnitSystem, catalogue: &Catalogue) -> Drawn {
    let (crop, percent) = (draw.of(&CROPS), draw.of(&AREA_NITROGEN));
    let (over, need, shown) = match units {
        UnitSystem::Us => {
            let (long, wide) = (draw.of(&BED_US.0), draw.of(&BED_US.1));
            let need = hundredths(draw.of(&WANTED_US));
            (
                format!("{long} ft x {wide} ft"),
                format!("{need} lb/100 ft2"),
                format!("{need} lb of nitrogen for each 100 ft2"),
            )
        }
        UnitSystem::Metric => {
            let (long, wide) = (draw.of(&BED_METRIC.0), draw.of(&BED_METRIC.1));
            let (wide, need) = (hundredths(wide), draw.of(&WANTED_METRIC));
            (
                format!("{long} m x {wide} m"),
                format!("{need} g/m2"),
                format!("{need} g of nitrogen for each square metre"),
            )
        }
    };
    let grade = format!("{percent}-0-0");
    let bed = over.replace(" x ", " by ");
    let question = format!(
        "A bed of {crop} measures {bed}. It is to get {shown}. What is its area, and how much \
         {grade} does it get?"
    );
    let sum = Dose {
        needs: vec![format!("n {need}")],
        from: vec![grade.clone()],
        over: Some(over),
        ..Dose::default()
    };
    let answer = dose(&sum, &asking(catalogue, &[&sum.needs[0]]));
    Drawn::new(question, answer, &[&grade])
}

fn two(draw: &mut Draw, units: UnitSystem, catalogue: &Catalogue) -> Drawn {
    let (unit, words) = weight(units);
    let (crop, starter, straight) = (draw.of(&CROPS), draw.of(&STARTERS), draw.of(&NITROGEN));
    let (first, second) = (draw.of(&TWO_WEIGHTS), draw.of(&TWO_WEIGHTS));
    let phosphate = hundredths(first * starter.1);
    let nitrogen = hundredths(first * starter.0 + second * straight);
    let grades = [format!("{}-{}-0", starter.0, starter.1), format!("{straight}-0-0")];
    let question = format!(
        "A plot of {crop} needs {nitrogen} {unit} of nitrogen and {phosphate} {unit} of phosphate. \
         In the shed are {} and {}. How many {words} of each meet both needs exactly?",
        grades[0], grades[1]
    );
    let sum = Dose {
        needs: vec![format!("p2o5 {phosphate} {unit}"), format!("n {nitrogen} {unit}")],
        from: grades.to_vec(),
        ..Dose::default()
    };
    let answer = dose(&sum, &asking(catalogue, &[&sum.needs[0]]));
    Drawn::new(question, answer, &[&grades[0], &grades[1]])
}

fn compost(draw: &mut Draw, units: UnitSystem, catalogue: &Catalogue) -> Drawn {
    let crop = draw.of(&CROPS);
    let percent = Decimal::new(i64::from(draw.of(&COMPOST_NITROGEN)), 1).normalize();
    let (depth, over, density) = match units {
        UnitSystem::Us => {
            let ((long, wide), depth) = (draw.of(&COMPOST_BEDS_US), draw.of(&DEPTHS_US));
            let heap = draw.of(&HEAPS_US);
            (format!("{depth} in"), format!("{long} ft x {wide} ft"), format!("{heap} lb/yd3"))
        }
        UnitSystem::Metric => {
            let ((long, wide), depth) = (draw.of(&COMPOST_BEDS_METRIC), draw.of(&DEPTHS_METRIC));
            let heap = draw.of(&HEAPS_METRIC);
            (format!("{depth} cm"), format!("{long} m x {wide} m"), format!("{heap} kg/m3"))
        }
    };
    let bed = over.replace(" x ", " by ");
    let (heap, for_each) = density.split_once('/').unwrap_or((&density, ""));
    let each = if for_each == "yd3" { "cubic yard" } else { "cubic metre" };
    let question = format!(
        "Compost is spread {depth} deep on a bed of {crop} of {bed}. A {each} of it weighs {heap} \
         and it holds {percent} % nitrogen as it comes. What volume is needed, what does it weigh, \
         and how much nitrogen is in it?"
    );
    let sum = Amend {
        material: "compost of the problem".to_owned(),
        depth: Some(depth),
        over: Some(over),
        density: Some(density.clone()),
        analysis: Some(format!("{percent}-0-0")),
        basis: Some("as-is".to_owned()),
        ..Amend::default()
    };
    let answer = amend(&sum, &asking(catalogue, &[&density]));
    Drawn::new(question, answer, &["volume", "weight", "nitrogen"])
}

fn release(draw: &mut Draw, units: UnitSystem, catalogue: &Catalogue) -> Drawn {
    let (unit, words) = weight(units);
    let (crop, meal) = (draw.of(&CROPS), draw.of(&MEALS));
    let (counts, comes_to) = (draw.of(&RELEASES), draw.of(&MEAL_WEIGHTS));
    let need = Decimal::new(i64::from(meal * counts * comes_to), 4).normalize();
    let question = format!(
        "A plot of {crop} needs {need} {unit} of nitrogen. A meal of {meal}-0-0 gives {counts} % of \
         its nitrogen in the first season. How many {words} of the meal does the plot get?"
    );
    let sum = Dose {
        needs: vec![format!("n {need} {unit}")],
        from: vec![format!("{meal}-0-0 @ {counts} %")],
        ..Dose::default()
    };
    let answer = dose(&sum, &asking(catalogue, &[&sum.needs[0]]));
    Drawn::new(question, answer, &[&format!("{meal}-0-0")])
}

fn elements(draw: &mut Draw, units: UnitSystem, catalogue: &Catalogue) -> Drawn {
    let (unit, words) = weight(units);
    let (percent, pack) = (draw.of(&ELEMENTS), draw.of(&PACKS));
    let phosphorus = draw.below(2) == 0;
    let (element, oxide, factor, grade) = if phosphorus {
        ("phosphorus", "phosphate", "2.2913", format!("0-{percent}-0 elemental"))
    } else {
        ("potassium", "potash", "1.2046", format!("0-0-{percent} elemental"))
    };
    let question = format!(
        "A bag of {pack} {unit} counts elements: {percent} % {element}. One part of {element} makes \
         {factor} parts of {oxide}. How many {words} of {oxide} does the bag stand for, to the \
         nearest tenth?"
    );
    let sum = Label { from: grade, weight: format!("{pack} {unit}"), density: None };
    let answer = label(&sum, &asking(catalogue, &[&sum.weight]));
    Drawn { places: Some(1), ..Drawn::new(question, answer, &[oxide]) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::round_to;

    /// The factors that questions give must lead to the tenth that the exact ones do.
    #[test]
    fn rounded_factors_lead_to_the_same_tenth() {
        let tenth = Decimal::new(1, 1);
        let exact = |phosphorus: bool| {
            use crate::nutrient::Nutrient::{Phosphate, Potash};
            let nutrient = if phosphorus { Phosphate } else { Potash };
            nutrient.oxide_per_element().fraction()
        };
        for (phosphorus, given) in [(true, "2.2913"), (false, "1.2046")] {
            let given: Decimal = given.parse().expect("a decimal");
            for (percent, pack) in ELEMENTS.iter().flat_map(|e| PACKS.iter().map(move |p| (e, p))) {
                let element = Decimal::new(i64::from(percent * pack), 2);
                let told = round_to(element * given, tenth);
                assert_eq!(
                    told,
                    round_to(element * exact(phosphorus), tenth),
                    "{percent} % of {pack}"
                );
            }
        }
    }
}
