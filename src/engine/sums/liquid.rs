//! Liquid feeds: how much to dissolve for a strength, or how strong a solution is.

use rust_decimal::Decimal;

use super::from::{From, oxide_factor, read_from};
use super::need::split_nutrient;
use super::page::{Page, Part};
use super::solve::choose;
use super::water::dissolved;
use super::{Ask, InUnit, Refusal, Sum, rules};
use crate::figure::Figure;
use crate::nutrient::Nutrient;
use crate::quantity::{Density, Mass, Share, Volume};

/// `sum liquid --target "200 ppm n" --from 20-10-20 --volume "100 gal" --injector 1:100`.
#[derive(Clone, Debug, Default)]
pub struct Liquid {
    /// The strengths wanted.
    pub targets: Vec<String>,
    /// Or the weight dissolved, for the strength it gives.
    pub weight: Option<String>,
    /// The materials.
    pub from: Vec<String>,
    /// The volume of feed, or of stock with an injector.
    pub volume: String,
    /// How an injector thins the stock, such as 1:100.
    pub injector: Option<String>,
}

const EXAMPLE: &str =
    "sum liquid --target \"200 ppm n\" --from 20-10-20 --volume \"100 gal\" --injector 1:100";

/// How much to dissolve, and what strength that gives.
///
/// # Errors
/// Where a text cannot be read, or no material carries what is wanted.
pub fn liquid(asked: &Liquid, ask: &Ask<'_>) -> Result<Sum, Refusal> {
    let mut page = Page::new(ask, EXAMPLE);
    if asked.from.is_empty() {
        return Err(
            page.refuse("there is no material to dissolve", "name one, like `--from 20-10-20`")
        );
    }
    let mut materials: Vec<From> = Vec::new();
    for text in &asked.from {
        materials.push(read_from(&mut page, "--from", text)?);
    }
    let volume = page.asked_positive::<Volume>("--volume", "volume to make up", &asked.volume)?;
    let feed = match &asked.injector {
        Some(text) => {
            let times = injector(&mut page, text)?;
            let feed = (&volume * &times).by("volume of feed", &rules::INJECTOR);
            if let InUnit::Of(unit) = page.units.of_step(&volume.step()) {
                page.units.note("volume of feed", InUnit::Of(unit));
            }
            feed
        }
        None => volume,
    };
    let weights = match (&asked.weight, asked.targets.as_slice()) {
        (Some(_), [_, ..]) => {
            return Err(page.refuse(
                "both a strength and a weight are given",
                "give --target for the weight, or --weight for the strength",
            ));
        }
        (Some(text), []) => {
            let [_] = materials.as_slice() else {
                return Err(page.refuse(
                    "--weight goes with a single material",
                    "ask for one material at a time",
                ));
            };
            vec![page.asked_positive::<Mass>("--weight", "weight dissolved", text)?]
        }
        (None, []) => {
            return Err(
                page.refuse("no strength is wanted", "write it, like `--target \"200 ppm n\"`")
            );
        }
        (None, targets) => for_targets(&mut page, targets, &materials, &feed)?,
    };
    if asked.weight.is_none() {
        for (from, weight) in materials.iter().zip(&weights) {
            let name = if materials.len() == 1 { "weight" } else { from.name.as_str() };
            page.answer(Part::Asked, name, weight);
        }
    }
    strengths(&mut page, asked, &materials, &weights, &feed);
    for from in &materials {
        from.mind(&mut page);
    }
    page.done()
}

/// Reads "1:100" or "100".
fn injector(page: &mut Page<'_>, text: &str) -> Result<Figure<Share>, Refusal> {
    let clean = text.replace([' ', ','], "");
    let (one, many) = clean.split_once(':').unwrap_or(("1", &clean));
    let number = |text: &str| {
        (text.len() <= 9)
            .then(|| text.parse::<Decimal>().ok())
            .flatten()
            .filter(|n| *n > Decimal::ZERO)
    };
    let times = match (number(one), number(many)) {
        (Some(one), Some(many)) if many >= one => many / one,
        _ => {
            let what = format!("--injector `{}` is not a ratio of stock to feed", text.trim());
            return Err(page.refuse(what, "write it like `--injector 1:100`"));
        }
    };
    page.understood(format!("injector {}", text.trim()));
    Ok(page.count("volumes of feed from each of stock", times))
}

/// What is wanted of one nutrient: its strength, as the label counts it and as it was written.
struct Target {
    nutrient: Nutrient,
    strength: Figure<Density>,
}

fn read_target(page: &mut Page<'_>, text: &str) -> Result<Target, Refusal> {
    let how = "write a strength and a nutrient, like `200 ppm n`, `50 ppm p` or `100 mg/L k2o`";
    let Some((nutrient, is_element, amount)) = split_nutrient(text) else {
        return Err(page.refuse(format!("--target `{}` names no nutrient", text.trim()), how));
    };
    let word = if is_element { super::from::element(nutrient) } else { nutrient.word() };
    let strength = dissolved(page, "--target", &format!("{word} wanted in the feed"), &amount)?;
    let strength = if is_element {
        let factor = oxide_factor(page, nutrient);
        let unit = page.units.of_step(&strength.step());
        let label = format!("{} wanted in the feed", nutrient.word());
        page.units.note(&label, unit);
        (&strength * &factor).by(label, &rules::ELEMENT)
    } else {
        strength
    };
    Ok(Target { nutrient, strength })
}

fn for_targets(
    page: &mut Page<'_>,
    texts: &[String],
    materials: &[From],
    feed: &Figure<Volume>,
) -> Result<Vec<Figure<Mass>>, Refusal> {
    let mut needs: Vec<super::need::Need> = Vec::new();
    for text in texts {
        let target = read_target(page, text)?;
        let word = target.nutrient.word();
        if materials.iter().all(|from| from.counts(target.nutrient).is_zero()) {
            let names: Vec<&str> = materials.iter().map(|from| from.name.as_str()).collect();
            return Err(page.refuse(
                format!(
                    "`{}` carries no {word}, so the strength of {word} cannot be reached",
                    names.join("`, `")
                ),
                format!("add a material that carries {word} with another --from"),
            ));
        }
        let weight =
            (&target.strength * feed).by(format_args!("{word} in all the feed"), &rules::FEED);
        needs.push(super::need::Need { nutrient: target.nutrient, weight });
    }
    let base: Vec<Decimal> = needs.iter().map(|need| need.weight.value().base()).collect();
    let shares: Vec<Vec<Decimal>> = materials
        .iter()
        .map(|from| needs.iter().map(|need| from.counts(need.nutrient).value().base()).collect())
        .collect();
    let Some(corner) = choose(&base, &shares) else {
        return Err(
            page.refuse("these materials cannot reach these strengths", "add another --from")
        );
    };
    let weights = super::weights::Weights::new(&needs, materials).at_corner(&corner);
    Ok(materials
        .iter()
        .enumerate()
        .map(|(index, from)| {
            weights
                .get(&index)
                .cloned()
                .unwrap_or_else(|| Figure::fixed(from.name.clone(), Mass::ZERO, &rules::LEFT))
        })
        .collect())
}

/// The strength of the feed, first of the nutrient asked for, then of each.
fn strengths(
    page: &mut Page<'_>,
    asked: &Liquid,
    materials: &[From],
    weights: &[Figure<Mass>],
    feed: &Figure<Volume>,
) {
    let weights = weights.iter().cloned().enumerate().collect();
    let target = asked.targets.first().and_then(|text| split_nutrient(text));
    let is_element = target.as_ref().is_some_and(|(_, is_element, _)| *is_element);
    let first = target.map(|(nutrient, ..)| nutrient).or_else(|| {
        Nutrient::ALL
            .into_iter()
            .find(|one| materials.iter().any(|from| !from.holds[*one].is_zero()))
    });
    let unit = crate::quantity::Written::per(
        &crate::quantity::units::MILLIGRAM,
        &crate::quantity::units::LITRE,
    );
    let mut strengths = Vec::new();
    for nutrient in Nutrient::ALL {
        let Some(brought) = super::weights::Weights::total(&weights, materials, nutrient, false)
        else {
            continue;
        };
        let label = format!("{} in the feed", nutrient.word());
        page.units.note(&label, InUnit::Of(unit));
        if let Some(strength) = brought.over(feed) {
            strengths.push((nutrient, strength.by(label, &rules::FEED)));
        }
    }
    if let Some((nutrient, strength)) = strengths.iter().find(|(one, _)| Some(*one) == first) {
        let strength =
            if is_element { as_element(page, *nutrient, strength) } else { strength.clone() };
        page.answer_in(Part::Asked, "concentration", &strength, InUnit::Ppm);
    }
    for (nutrient, strength) in &strengths {
        page.answer_in(Part::Along, nutrient.word(), strength, InUnit::Ppm);
    }
}

/// The strength counted as the element, where that was asked for.
fn as_element(
    page: &mut Page<'_>,
    nutrient: Nutrient,
    strength: &Figure<Density>,
) -> Figure<Density> {
    let factor = oxide_factor(page, nutrient);
    let unit = page.units.of_step(&strength.step());
    let label = format!("{} in the feed", super::from::element(nutrient));
    page.units.note(&label, unit);
    match strength.over(&factor) {
        Some(strength) => strength.by(label, &rules::ELEMENT),
        None => strength.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;

    /// 50 ppm P is 114.57 ppm P2O5: of 10-52-10 a hundred litres take 22.03 g.
    #[test]
    fn a_target_in_the_element_is_answered_in_the_element() {
        let catalogue = Catalogue::new();
        let asked = Liquid {
            targets: vec!["50 ppm p".to_owned()],
            from: vec!["10-52-10".to_owned()],
            volume: "100 L".to_owned(),
            ..Liquid::default()
        };
        let sum = liquid(&asked, &Ask::new(&catalogue, &["50 ppm p", "100 L"])).expect("a sum");
        let text = |name: &str| {
            let answer = sum.answer(name).expect("an answer");
            (answer.text(), answer.unit_text())
        };
        assert_eq!(text("concentration"), ("50".to_owned(), "ppm".to_owned()));
        assert!(text("phosphate").0.starts_with("114.56"));
        assert!(text("weight").0.starts_with("0.022032") && text("weight").1 == "kg");
    }
}
