//! `explain buy/<material>`: which beds want a material, and why the offers bought beat the next.

use serde::Serialize;

use super::json::{unit, weight};
use super::{per_unit, told_line, unit_word};
use crate::engine::buy::{Answer, List, Measure, Rival};
use crate::engine::dose::{Dose, Purpose};
use crate::engine::paths::dose_path;
use crate::engine::plan::BedPlan;
use crate::nutrient::Nutrient;
use crate::report::document::{Column, Document, Table};
use crate::report::number::Showing;
use crate::report::plan::Reported;
use crate::report::text::Text;
use crate::report::words::Joined;
use crate::season::slug;

/// The path of every material that is wanted or on offer, in order, with its name.
pub fn paths(answer: &Answer) -> Vec<(String, String)> {
    let lists = [&answer.certain, &answer.possible];
    let summed = lists.iter().flat_map(|list| &list.materials).map(|sum| &sum.material);
    let lacking = lists.iter().flat_map(|list| &list.unmet).flat_map(|unmet| &unmet.would);
    let lacking = lacking.flatten().map(|part| &part.material);
    let offered = answer.nutrient_costs.iter().map(|cost| &cost.offer.material);
    let mut names: Vec<&String> = summed.chain(lacking).chain(offered).collect();
    names.sort();
    names.dedup();
    names.into_iter().map(|name| (format!("buy/{}", slug(name)), name.clone())).collect()
}

/// A dose of the material, with its bed.
type Wanted<'a> = (&'a BedPlan, usize, &'a Dose);

/// The doses of a material from the day of the plan on, by day.
fn wanted<'a>(reported: &Reported<'a>, material: &str) -> Vec<Wanted<'a>> {
    let all = reported
        .plan
        .beds
        .iter()
        .flat_map(|bed| bed.doses.iter().enumerate().map(move |(at, dose)| (bed, at, dose)));
    let mut found: Vec<Wanted<'a>> = all
        .filter(|(.., dose)| dose.ready.name() == material)
        .filter(|(.., dose)| reported.today.is_none_or(|today| dose.date >= today))
        .collect();
    found.sort_by_key(|(bed, at, dose)| (dose.date, bed.index, *at));
    found
}

/// What a bed wants it for.
fn purpose(bed: &BedPlan, dose: &Dose) -> String {
    let crop = bed.plantings.iter().find(|planting| Some(planting.index) == dose.planting);
    match (dose.purpose, crop) {
        (Purpose::SideDress, Some(planting)) => format!("beside {}", planting.crop.name),
        (Purpose::SideDress, None) => "beside the crop".to_owned(),
        (Purpose::BeforePlanting, _) => "before planting".to_owned(),
    }
}

/// Why an offer is on the list.
fn reason(rival: &Rival, showing: Showing) -> String {
    let comes_to = |measure: &Measure| match measure {
        Measure::Cost(cost) => format!("comes to {}", showing.of(*cost)),
        Measure::Weight(weight) => format!("weighs {}", showing.of(*weight)),
    };
    let from = match rival.offer.supplier.as_str() {
        "" => "this offer".to_owned(),
        supplier => format!("the offer of {supplier}"),
    };
    let with = comes_to(&rival.with);
    let Some(without) = &rival.without else {
        return format!(
            "Without {from} these doses could not be given: nothing else to be had would serve, or only by bringing phosphate where there is enough."
        );
    };
    let instead: Vec<String> = rival
        .instead
        .iter()
        .map(|line| {
            let from = match line.offer.supplier.as_str() {
                "" => String::new(),
                supplier => format!(" from {supplier}"),
            };
            format!("{} of {}{from}", told_line(line, showing), line.offer.material)
        })
        .collect();
    let bought = match instead.is_empty() {
        true => String::new(),
        false => format!(", with {} instead", Joined::and(&instead)),
    };
    format!(
        "With {from} its part of the list {with}; without it the best {}{bought}.",
        comes_to(without)
    )
}

/// Why the offers of a material that are on the list are on it, a sentence each.
pub fn reasons(list: &List, material: &str, showing: Showing) -> Vec<String> {
    let of_it = list.rivals.iter().filter(|rival| rival.offer.material == material);
    of_it.map(|rival| reason(rival, showing)).collect()
}

/// A material of the shopping list explained.
pub fn explained(path: &str, material: &str, answer: &Answer, reported: &Reported<'_>) -> Document {
    let showing = reported.showing;
    let mut document = Document::new(format!("Where {path} comes from"));
    document.about = reported.about();
    let doses = wanted(reported, material);
    if doses.is_empty() {
        document.paragraph(format!("No dose of {material} is planned, so none is needed."));
    } else {
        document.paragraph(format!("What is needed of {material} is the sum of these doses."));
        let mut table = Table::new([
            Column::left("day"),
            Column::left("bed"),
            Column::left("for"),
            Column::right("weight"),
            Column::left("path"),
        ]);
        for (bed, at, dose) in &doses {
            let when = if dose.certain() { "" } else { ", if a test asks for it" };
            table.row([
                Text::from(dose.date.short()),
                Text::from(bed.name.as_str()),
                Text::from(format!("{}{when}", purpose(bed, dose))),
                Text::new().shown(&showing.of(dose.weight.value())),
                Text::new().code(dose_path(bed, *at)),
            ]);
        }
        document.table(table);
    }
    for (list, head) in [
        (&answer.certain, "what will be given"),
        (&answer.possible, "what waits for a measurement, besides"),
    ] {
        let Some(sum) = list.materials.iter().find(|sum| sum.material == material) else {
            continue;
        };
        document.paragraph(format!(
            "For {head}: needed {}, on hand {}, bought {}, left over {}.",
            showing.of(sum.needed),
            showing.of(sum.on_hand),
            showing.of(sum.bought),
            showing.of(sum.left_over)
        ));
        for line in list.lines.iter().filter(|line| line.offer.material == material) {
            let cost = line.cost.map_or_else(String::new, |cost| format!(", {}", showing.of(cost)));
            document.paragraph(format!("Bought: {}{cost}.", told_line(line, showing)));
        }
        for reason in reasons(list, material, showing) {
            document.paragraph(reason);
        }
    }
    let short = [&answer.certain, &answer.possible]
        .into_iter()
        .flat_map(super::missing::missing)
        .filter(|one| one.material == material);
    for one in short {
        document.note(Text::from(format!("{}: not on hand and not on offer", one.words(showing))));
    }
    costs(material, answer, showing, &mut document);
    document
}

/// What the nutrients of this material cost, beside the cheapest of the other offers.
fn costs(material: &str, answer: &Answer, showing: Showing, document: &mut Document) {
    let word = unit_word(showing.system);
    let per = |money| showing.of(per_unit(money, showing.system));
    for nutrient in Nutrient::ALL {
        let cost = |of_it: bool| {
            let priced = answer.nutrient_costs.iter().filter_map(|cost| {
                let per_kg = cost.shared.per_kg[nutrient]?;
                ((cost.offer.material == material) == of_it).then_some((per_kg, cost))
            });
            priced.min_by_key(|(per_kg, _)| *per_kg)
        };
        let Some((here, _)) = cost(true) else { continue };
        let other = cost(false).map_or_else(
            || "no other offer carries it".to_owned(),
            |(there, pack)| {
                format!(
                    "the cheapest other is {} of {}, {}",
                    showing.of(pack.pack.get()),
                    pack.offer.material,
                    per(there)
                )
            },
        );
        document.paragraph(format!(
            "A {word} of {} in it costs {} at the least; {other}.",
            nutrient.word(),
            per(here)
        ));
    }
}

#[derive(Serialize)]
struct ExplainedAnswer {
    id: String,
    version: u32,
    material: String,
    unit: &'static str,
    doses: Vec<DoseAnswer>,
    needed: String,
    on_hand: String,
    bought: String,
    left_over: String,
    why: Vec<String>,
}

#[derive(Serialize)]
struct DoseAnswer {
    id: String,
    date: String,
    bed: String,
    weight: String,
    certain: bool,
}

/// A material of the shopping list explained, for a program.
///
/// # Errors
/// None in practice: all keys are text.
pub fn explained_json(
    path: &str,
    material: &str,
    answer: &Answer,
    reported: &Reported<'_>,
) -> Result<String, serde_json::Error> {
    let showing = reported.showing;
    let sums: Vec<_> = [&answer.certain, &answer.possible]
        .into_iter()
        .flat_map(|list| list.materials.iter().filter(|sum| sum.material == material))
        .collect();
    let total = |part: fn(&crate::engine::buy::MaterialSum) -> crate::quantity::Mass| {
        weight(sums.iter().map(|sum| part(sum)).sum(), showing)
    };
    let last = sums.last().map_or_else(Default::default, |sum| sum.left_over);
    let first = sums.first().map_or_else(Default::default, |sum| sum.on_hand);
    crate::report::json::document(&ExplainedAnswer {
        id: path.to_owned(),
        version: 1,
        material: material.to_owned(),
        unit: unit(showing.system).symbol,
        doses: wanted(reported, material)
            .into_iter()
            .map(|(bed, at, dose)| DoseAnswer {
                id: dose_path(bed, at),
                date: dose.date.to_string(),
                bed: bed.name.clone(),
                weight: weight(dose.weight.value(), showing),
                certain: dose.certain(),
            })
            .collect(),
        needed: total(|sum| sum.needed),
        on_hand: weight(first, showing),
        bought: total(|sum| sum.bought),
        left_over: weight(last, showing),
        why: reasons(&answer.certain, material, showing),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::buy::OfferName;
    use crate::quantity::{Money, UnitSystem};

    #[test]
    fn a_reason_names_what_would_be_bought_instead() {
        let offer = OfferName { material: "urea".to_owned(), supplier: "co-op".to_owned() };
        let cost = |text: &str| Measure::Cost(Money::from_units(text.parse().expect("a decimal")));
        let showing = Showing::new(UnitSystem::Us);
        let rival = Rival {
            offer: offer.clone(),
            with: cost("9.5"),
            without: Some(cost("13")),
            instead: Vec::new(),
        };
        let told = reason(&rival, showing);
        assert!(
            told.contains("9.50") && told.contains("13.00") && told.contains("co-op"),
            "{told}"
        );
        let needed = Rival { without: None, ..rival };
        assert!(reason(&needed, showing).contains("could not be given"));
    }
}
