//! How much of one or more materials meets one or more needs.

use rust_decimal::Decimal;

use super::from::{From, read_from};
use super::label::density_of;
use super::need::{Ground, Need, read_need};
use super::page::{Page, Part};
use super::solve::choose;
use super::weights::Weights;
use super::{Ask, InUnit, Refusal, Sum, rules};
use crate::figure::Figure;
use crate::nutrient::Nutrient;
use crate::quantity::{Mass, Share, settle};

/// `sum dose --need "n 3 lb/1000 ft2" --from 24-25-4 --over "1000 ft2"`.
#[derive(Clone, Debug, Default)]
pub struct Dose {
    /// The needs, in order.
    pub needs: Vec<String>,
    /// The materials, in order.
    pub from: Vec<String>,
    /// The ground or the length of row.
    pub over: Option<String>,
    /// Distance between rows.
    pub row_spacing: Option<String>,
    /// How many plants share it.
    pub plants: Option<String>,
    /// Whether the first material fills the first need, and so on.
    pub in_order: bool,
    /// Weight per volume of a single material, for an answer by volume.
    pub density: Option<String>,
    /// Weight of a pack of a single material, for an answer in packs.
    pub pack: Option<String>,
}

const EXAMPLE: &str = "sum dose --need \"n 3 lb/1000 ft2\" --from 24-25-4 --over \"1000 ft2\"";
const MOST_MATERIALS: usize = 24;

/// How much of each material meets the needs.
///
/// # Errors
/// Where a text cannot be read, or a need stays open because no material carries it.
pub fn dose(asked: &Dose, ask: &Ask<'_>) -> Result<Sum, Refusal> {
    let mut page = Page::new(ask, EXAMPLE);
    let (needs, ground, materials) = read(&mut page, asked)?;
    let weights = if asked.in_order {
        match Weights::new(&needs, &materials).in_order() {
            Ok(weights) => weights,
            Err(open) => return Err(stays_open(&page, &needs[open], &materials)),
        }
    } else {
        let base: Vec<Decimal> = needs.iter().map(|need| need.weight.value().base()).collect();
        let share = |from: &From| {
            needs.iter().map(|need| from.counts(need.nutrient).value().base()).collect()
        };
        let shares: Vec<Vec<Decimal>> = materials.iter().map(share).collect();
        match choose(&base, &shares) {
            Some(corner) => Weights::new(&needs, &materials).at_corner(&corner),
            None => return Err(stays_open(&page, &needs[0], &materials)),
        }
    };
    let mut weighed: Vec<Figure<Mass>> = Vec::new();
    for (index, from) in materials.iter().enumerate() {
        let weight = weights
            .get(&index)
            .cloned()
            .unwrap_or_else(|| Figure::fixed(from.name.clone(), Mass::ZERO, &rules::LEFT));
        page.answer(Part::Asked, &from.name, &weight);
        weighed.push(weight);
    }
    shared_out(&mut page, asked, &ground, &materials, &weighed)?;
    along(&mut page, &needs, &materials, &weights);
    for (from, _) in materials.iter().zip(&weighed).filter(|(_, weight)| !weight.is_zero()) {
        from.mind(&mut page);
    }
    cap(&mut page, &ground, &materials, &weights);
    page.done()
}

type Read = (Vec<Need>, Ground, Vec<From>);

fn read(page: &mut Page<'_>, asked: &Dose) -> Result<Read, Refusal> {
    if asked.needs.is_empty() {
        return Err(page.refuse("nothing is needed", "write a need, like `--need \"n 3 lb\"`"));
    }
    if asked.from.is_empty() {
        return Err(
            page.refuse("there is no material to meet the need", "name one, like `--from 24-25-4`")
        );
    }
    let mut materials: Vec<From> = Vec::new();
    for text in &asked.from {
        let from = read_from(page, "--from", text)?;
        if materials.iter().any(|known| known.name == from.name) {
            return Err(page.refuse(
                format!("--from `{}` is named twice", from.name),
                "name each material once",
            ));
        }
        materials.push(from);
    }
    if materials.len() > MOST_MATERIALS {
        return Err(page.refuse(
            format!("{} materials are more than one sum can weigh", materials.len()),
            format!("name at most {MOST_MATERIALS}"),
        ));
    }
    let ground = Ground::read(
        page,
        asked.over.as_deref(),
        asked.row_spacing.as_deref(),
        asked.plants.as_deref(),
    )?;
    let mut needs: Vec<Need> = Vec::new();
    for text in &asked.needs {
        let need = read_need(page, &ground, text)?;
        if needs.iter().any(|known| known.nutrient == need.nutrient) {
            let word = need.nutrient.word();
            return Err(page.refuse(format!("{word} is needed twice"), "give each nutrient once"));
        }
        needs.push(need);
    }
    for need in &needs {
        if materials.iter().all(|from| from.counts(need.nutrient).is_zero()) {
            return Err(stays_open(page, need, &materials));
        }
    }
    Ok((needs, ground, materials))
}

fn stays_open(page: &Page<'_>, need: &Need, materials: &[From]) -> Refusal {
    let names: Vec<String> = materials.iter().map(|from| format!("`{}`", from.name)).collect();
    let word = need.nutrient.word();
    let what = match names.as_slice() {
        [one] => format!("{one} carries no {word}, so the need for {word} stays open"),
        many => {
            format!("none of {} carries {word}, so the need for {word} stays open", many.join(", "))
        }
    };
    page.refuse(what, format!("add a material that carries {word} with another --from"))
}

/// The same weights for each plant, by volume and in packs.
fn shared_out(
    page: &mut Page<'_>,
    asked: &Dose,
    ground: &Ground,
    materials: &[From],
    weighed: &[Figure<Mass>],
) -> Result<(), Refusal> {
    if let Some(plants) = &ground.plants {
        let each = |weight: &Figure<Mass>, label: String| {
            weight.over(plants).map(|each| each.by(label, &rules::EACH))
        };
        if let [one] = weighed {
            if let Some(each) = each(one, "per plant".to_owned()) {
                page.answer(Part::Asked, "per plant", &each);
            }
        } else {
            let all = Figure::total(weighed).by("all materials", &rules::EACH);
            if let Some(each) = each(&all, "per plant".to_owned()) {
                page.answer(Part::Asked, "per plant", &each);
            }
            for (from, weight) in materials.iter().zip(weighed) {
                let label = format!("{} per plant", from.name);
                if let Some(each) = each(weight, label.clone()) {
                    page.answer(Part::Asked, label, &each);
                }
            }
        }
    }
    let ([from], [weight]) = (materials, weighed) else {
        let alone = [("--density", &asked.density), ("--pack", &asked.pack)];
        return match alone.into_iter().find(|(_, text)| text.is_some()) {
            Some((option, _)) => Err(page.refuse(
                format!("{option} goes with a single material"),
                "ask for one material at a time",
            )),
            None => Ok(()),
        };
    };
    if asked.density.is_some() {
        let density = density_of(page, from, asked.density.as_deref(), "")?;
        if let Some(volume) = weight.over(&density) {
            let volume = volume.by("volume", &rules::DENSITY);
            let unit = match page.units.of_step(&density.step()) {
                InUnit::Of(unit) => unit.below.map(|(_, unit)| InUnit::Of(unit.into())),
                _ => None,
            };
            if let Some(unit) = unit {
                page.units.note("volume", unit);
            }
            page.answer(Part::Asked, "volume", &volume);
        }
    }
    if let Some(text) = &asked.pack {
        let pack = page.asked_positive::<Mass>("--pack", "one pack", text)?;
        if let Some(packs) = weight.ratio_to(&pack) {
            page.units.note("packs", InUnit::Count("packs"));
            page.answer(Part::Asked, "packs", &packs.by("packs", &rules::EACH));
        }
    }
    Ok(())
}

/// What the materials bring, and what of it is beyond the needs.
fn along(
    page: &mut Page<'_>,
    needs: &[Need],
    materials: &[From],
    weights: &std::collections::BTreeMap<usize, Figure<Mass>>,
) {
    let released = materials.iter().any(|from| from.release.is_some());
    let mut surplus: Vec<(String, Figure<Mass>)> = Vec::new();
    let mut counts = None;
    for nutrient in Nutrient::ALL {
        let Some(brought) = Weights::total(weights, materials, nutrient, false) else {
            let label = format!("{} brought", nutrient.word());
            page.answer(
                Part::Along,
                nutrient.word(),
                &Figure::fixed(label, Mass::ZERO, &rules::CONTENT),
            );
            continue;
        };
        page.answer(Part::Along, nutrient.word(), &brought);
        let counted = if released && nutrient == Nutrient::Nitrogen {
            counts = Weights::total(weights, materials, nutrient, true);
            counts.clone().unwrap_or(brought)
        } else {
            brought
        };
        if let Some(need) = needs.iter().find(|need| need.nutrient == nutrient) {
            let over = counted.value() - need.weight.value();
            let whole = need.weight.value().base();
            if settle(over.base().round_dp(18)) > Decimal::ZERO
                && settle(counted.value().base()) > settle(whole)
            {
                let name = format!("surplus {}", nutrient.word());
                surplus.push((name.clone(), (&counted - &need.weight).by(name, &rules::SURPLUS)));
            }
        }
    }
    if let Some(counts) = counts {
        page.answer(Part::Along, "nitrogen that counts", &counts);
    }
    for (name, over) in &surplus {
        page.answer(Part::Along, name, over);
    }
    if !surplus.is_empty() {
        same_proportion(page, needs, materials);
    }
    for from in materials {
        let Some(material) = &from.material else { continue };
        let Some(release) = &material.release else { continue };
        let whole = release.typical.0 >= Decimal::ONE_HUNDRED;
        if from.release.is_none()
            && !whole
            && needs.iter().any(|need| need.nutrient == Nutrient::Nitrogen)
        {
            let typical = release.typical.0.normalize();
            let source = material.source_of("release").to_owned();
            page.caution_text(
                format!("all nitrogen of {} is counted here, but only about {typical} % of it becomes available in the first season; add `@ {typical} %` to size it on that", from.name),
                Some(&source),
            );
        }
    }
}

/// Says so where no mixture of the materials can meet all needs, as each carries the nutrients in
/// the same proportion.
fn same_proportion(page: &mut Page<'_>, needs: &[Need], materials: &[From]) {
    let ([first, rest @ ..], [one, others @ ..]) = (materials, needs) else { return };
    if rest.is_empty() || others.is_empty() {
        return;
    }
    let share = |from: &From, need: &Need| from.counts(need.nutrient).value().base();
    let alike = |from: &From| {
        others.iter().all(|other| {
            let (here, there) =
                (share(first, one) * share(from, other), share(first, other) * share(from, one));
            settle(here) == settle(there)
        })
    };
    if !rest.iter().all(alike) {
        return;
    }
    let names: Vec<&str> = materials.iter().map(|from| from.name.as_str()).collect();
    let words: Vec<&str> = needs.iter().map(|need| need.nutrient.word()).collect();
    page.note(format!(
        "{} carry {} in the same proportion, so no mixture of them meets every need exactly: the surplus cannot be avoided without another material",
        names.join(" and "),
        words.join(" and ")
    ));
}

/// Says so where more nitrogen goes on at once than one side-dressing should.
fn cap(
    page: &mut Page<'_>,
    ground: &Ground,
    materials: &[From],
    weights: &std::collections::BTreeMap<usize, Figure<Mass>>,
) {
    let Some(area) = &ground.area else { return };
    let quick = |from: &From| {
        let release = from.material.as_ref().and_then(|material| material.release.as_ref());
        release.is_none_or(|release| release.typical.0 >= Decimal::ONE_HUNDRED)
            && from.release.as_ref().is_none_or(|release| release.value() >= Share::WHOLE)
    };
    let quick_nitrogen: Mass = weights
        .iter()
        .filter(|(index, _)| quick(&materials[**index]))
        .map(|(index, weight)| weight.value() * materials[*index].holds.nitrogen.value())
        .sum();
    let most = crate::quantity::Rate::from_lb_per_acre(Decimal::from(50)) * area.value();
    if settle(quick_nitrogen.base()) > settle(most.base()) {
        page.caution("cap-reached");
    }
}
