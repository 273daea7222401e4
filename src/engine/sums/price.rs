//! What a pound of each nutrient costs in what is on offer.

use super::from::read_from;
use super::page::{Page, Part};
use super::{Ask, InUnit, Refusal, Sum, rules};
use crate::engine::buy::rest_bearer;
use crate::figure::Figure;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{Mass, Money, Share, read_said, settle};

/// `sum price --offer "50 lb 10-10-10 24.00" --offer …`, or `--weight --price --from` for one.
#[derive(Clone, Debug, Default)]
pub struct Price {
    /// Offers: weight, material and price.
    pub offers: Vec<String>,
    /// The weight of a single offer.
    pub weight: Option<String>,
    /// Its price.
    pub price: Option<String>,
    /// Its material.
    pub from: Option<String>,
}

const EXAMPLE: &str = "sum price --offer \"50 lb 10-10-10 24.00\" --offer \"50 lb urea 31.50\"";

/// One offer, read.
struct Offer {
    name: String,
    price: Figure<Money>,
    content: Npk<Option<Figure<Mass>>>,
}

/// What each nutrient costs in each offer, and which offer is cheapest.
///
/// Each price is counted once: nutrients of an offer are valued at the cheapest offer that carries
/// nothing else, and the rest of the price is laid on the one that no such offer carries, or on
/// nitrogen; what has no value beside it counts as nothing, and that is said.
///
/// # Errors
/// Where an offer cannot be read, or there is none.
pub fn price(asked: &Price, ask: &Ask<'_>) -> Result<Sum, Refusal> {
    let mut page = Page::new(ask, EXAMPLE);
    let offers = read_offers(&mut page, asked)?;
    let one = page.one(page.units.usual_weight());
    let straight = Npk::from_fn(|nutrient| straight_price(&mut page, &offers, nutrient, &one));
    let mut costs: Vec<(usize, Nutrient, Figure<Money>)> = Vec::new();
    for (index, offer) in offers.iter().enumerate() {
        for (nutrient, cost, bears) in costs_of(&mut page, offer, &straight, &one) {
            let name = if offers.len() == 1 {
                nutrient.word().to_owned()
            } else {
                format!("{} {}", offer.name, nutrient.word())
            };
            page.answer(Part::Asked, name, &cost);
            if bears {
                costs.push((index, nutrient, cost));
            }
        }
    }
    if offers.len() > 1 {
        cheapest(&mut page, &offers, &costs);
    }
    page.done()
}

fn read_offers(page: &mut Page<'_>, asked: &Price) -> Result<Vec<Offer>, Refusal> {
    let single = [&asked.weight, &asked.price, &asked.from];
    let mut offers: Vec<Offer> = Vec::new();
    for text in &asked.offers {
        let (weight, material, price) = split(page, text)?;
        offers.push(offer(page, &offers, &weight, &material, &price)?);
    }
    match (&asked.weight, &asked.price, &asked.from) {
        (Some(weight), Some(price), Some(from)) => {
            offers.push(offer(page, &offers, weight, from, price)?);
        }
        _ if single.iter().any(|one| one.is_some()) => {
            return Err(page.refuse(
                "a single offer wants --weight, --price and --from together",
                "write `--weight \"50 lb\" --price 24.00 --from 10-10-10`",
            ));
        }
        _ => {}
    }
    if offers.is_empty() {
        return Err(
            page.refuse("there is no offer", "write one, like `--offer \"50 lb 10-10-10 24.00\"`")
        );
    }
    Ok(offers)
}

fn offer(
    page: &mut Page<'_>,
    before: &[Offer],
    weight: &str,
    material: &str,
    price: &str,
) -> Result<Offer, Refusal> {
    let from = read_from(page, "the offer", material)?;
    let taken = |name: &str| before.iter().any(|offer| offer.name == name);
    let name = if taken(&from.name) {
        format!("{} {}", weight.trim(), from.name)
    } else {
        from.name.clone()
    };
    if taken(&name) {
        return Err(page.refuse(format!("`{name}` is offered twice"), "give each offer once"));
    }
    let label = |what: &str| format!("{what} of {name}");
    let weight = page.asked_positive::<Mass>("the weight", &label("weight"), weight)?;
    let price = page.asked_positive::<Money>("the price", &label("price"), &bare(price))?;
    let content = Npk::from_fn(|nutrient| {
        let share = from.counts(nutrient);
        (!share.is_zero()).then(|| {
            (&weight * &share).by(format_args!("{} in {name}", nutrient.word()), &rules::CONTENT)
        })
    });
    Ok(Offer { name, price, content })
}

/// A price without its currency sign: "$24.00", "EUR 24", "24.00 USD".
fn bare(text: &str) -> String {
    text.trim().trim_matches(|c: char| !c.is_ascii_digit() && c != '.' && c != '-').to_owned()
}

/// Splits "50 lb 10-10-10 24.00" into weight, material and price.
fn split(page: &Page<'_>, text: &str) -> Result<(String, String, String), Refusal> {
    let how = "write weight, material and price, like `50 lb 10-10-10 24.00`";
    let refuse = || {
        page.refuse(
            format!("--offer `{}` is not a weight, a material and a price", text.trim()),
            how,
        )
    };
    let mut words: Vec<&str> = text.split_whitespace().collect();
    let mut price = words.pop().ok_or_else(refuse)?;
    if !price.contains(|c: char| c.is_ascii_digit()) {
        // "24.00 USD"
        price = words.pop().ok_or_else(refuse)?;
    }
    if matches!(words.last(), Some(&("at" | "for" | "@" | "$"))) {
        words.pop();
    }
    let longest = (1..words.len().min(4))
        .rev()
        .find(|end| read_said::<Mass>(&words[..*end].join(" ")).is_ok());
    let Some(end) = longest else { return Err(refuse()) };
    let mut material = &words[end..];
    while let [first, rest @ ..] = material
        && matches!(*first, "of" | "bag" | "bags" | "sack" | "pack")
    {
        material = rest;
    }
    if material.is_empty() {
        return Err(refuse());
    }
    Ok((words[..end].join(" "), material.join(" "), price.to_owned()))
}

/// What a unit of a nutrient costs in the cheapest offer that carries nothing else.
fn straight_price(
    page: &mut Page<'_>,
    offers: &[Offer],
    nutrient: Nutrient,
    one: &Figure<Mass>,
) -> Option<Figure<Money>> {
    let alone = |offer: &&Offer| {
        offer.content.iter().all(|(each, content)| content.is_some() == (each == nutrient))
    };
    let prices: Vec<Figure<Money>> = offers
        .iter()
        .filter(alone)
        .filter_map(|offer| {
            let content = offer.content[nutrient].as_ref()?;
            Some(per_unit(
                page,
                &offer.price,
                content,
                one,
                format!("{} from {}", nutrient.word(), offer.name),
            ))
        })
        .collect();
    let refs: Vec<&Figure<Money>> = prices.iter().collect();
    match refs.as_slice() {
        [] => None,
        [only] => Some((*only).clone()),
        [first, rest @ ..] => {
            let label = format!("{} at its cheapest", nutrient.word());
            note_price(page, &label);
            Some(Figure::least(first, rest).by(label, &rules::VALUE))
        }
    }
}

fn note_price(page: &mut Page<'_>, label: &str) {
    let unit = page.units.usual_weight().symbol;
    page.units.note(label, InUnit::MoneyPer(unit));
}

fn per_unit(
    page: &mut Page<'_>,
    money: &Figure<Money>,
    content: &Figure<Mass>,
    one: &Figure<Mass>,
    label: String,
) -> Figure<Money> {
    note_price(page, &label);
    let share: Figure<Share> = one
        .ratio_to(content)
        .unwrap_or_else(|| Figure::fixed("nothing", Share::ZERO, &rules::VALUE));
    (money * &share).by(label, &rules::VALUE)
}

/// What a unit of each nutrient costs in an offer: the others at their value, and what is left of
/// the price on one of them. Beside it whether it bears the price, and is no value from elsewhere.
fn costs_of(
    page: &mut Page<'_>,
    offer: &Offer,
    straight: &Npk<Option<Figure<Money>>>,
    one: &Figure<Mass>,
) -> Vec<(Nutrient, Figure<Money>, bool)> {
    let carried: Vec<Nutrient> =
        Nutrient::ALL.into_iter().filter(|each| offer.content[*each].is_some()).collect();
    if carried.is_empty() {
        return Vec::new();
    }
    let worth = Npk::from_fn(|each| straight[each].as_ref().map(Figure::value));
    let bearer = rest_bearer(&carried, &worth);
    let mut costs = Vec::new();
    let mut left = offer.price.clone();
    let mut valued: Vec<Figure<Money>> = Vec::new();
    let mut open: Vec<&str> = Vec::new();
    for other in carried.iter().copied().filter(|each| *each != bearer) {
        let (Some(value), Some(held)) = (&straight[other], &offer.content[other]) else {
            open.push(other.word());
            continue;
        };
        let Some(times) = held.ratio_to(one) else { continue };
        let worth = (value * &times)
            .by(format_args!("worth of the {} in {}", other.word(), offer.name), &rules::VALUE);
        let label = format!(
            "left of the price of {} for {} after {}",
            offer.name,
            bearer.word(),
            other.word()
        );
        left = (&left - &worth).at_least_zero().by(label, &rules::VALUE);
        valued.push(worth);
        costs.push((other, value.clone(), false));
    }
    let total: Money = valued.iter().map(Figure::value).sum();
    if settle(total.base()) > settle(offer.price.value().base()) {
        page.note(format!(
            "at their cheapest alone the other nutrients in {} are worth more than its whole price, so its {} comes free",
            offer.name,
            bearer.word()
        ));
    }
    if !open.is_empty() {
        page.note(format!(
            "no offer carries {} alone, so the {} in {} counts as worth nothing and its {} bears the price",
            open.join(" or "),
            open.join(" and "),
            offer.name,
            bearer.word()
        ));
    }
    if let Some(content) = &offer.content[bearer] {
        let unit = page.units.usual_weight().symbol;
        let label = format!("{} in {}, each {unit}", bearer.word(), offer.name);
        costs.push((bearer, per_unit(page, &left, content, one, label), true));
    }
    costs.sort_by_key(|(nutrient, ..)| *nutrient);
    costs
}

/// The cheapest offer of each nutrient; the plain answer is for nitrogen where any carries it.
fn cheapest(page: &mut Page<'_>, offers: &[Offer], costs: &[(usize, Nutrient, Figure<Money>)]) {
    let mut said_plain = false;
    for nutrient in Nutrient::ALL {
        let of_this: Vec<&(usize, Nutrient, Figure<Money>)> =
            costs.iter().filter(|(_, each, _)| *each == nutrient).collect();
        let Some(best) =
            of_this.iter().min_by_key(|(index, _, cost)| (settle(cost.value().base()), *index))
        else {
            continue;
        };
        let name = &offers[best.0].name;
        if !said_plain {
            page.word(Part::Asked, "cheapest", name.clone());
            said_plain = true;
            if nutrient != Nutrient::Nitrogen {
                page.note(format!(
                    "cheapest means {} here, as no offer carries nitrogen",
                    nutrient.word()
                ));
            }
        } else if of_this.len() > 1 {
            page.word(Part::Along, format!("cheapest {}", nutrient.word()), name.clone());
        }
    }
}
