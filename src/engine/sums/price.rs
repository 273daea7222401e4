//! What a pound of each nutrient costs in what is on offer.

use super::from::{From, read_from};
use super::page::{Page, Part};
use super::{Ask, InUnit, Refusal, Sum, rules};
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
    from: From,
    price: Figure<Money>,
    content: Npk<Option<Figure<Mass>>>,
}

/// What each nutrient costs in each offer, and which offer is cheapest.
///
/// The other nutrients of an offer are valued at the cheapest offer that carries nothing else; one
/// that no such offer carries has no value, so that the whole price falls on the rest.
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
        for nutrient in Nutrient::ALL {
            let Some(cost) = cost(&mut page, offer, nutrient, &straight, &one) else { continue };
            let name = if offers.len() == 1 {
                nutrient.word().to_owned()
            } else {
                format!("{} {}", offer.name, nutrient.word())
            };
            page.answer(Part::Asked, name, &cost);
            costs.push((index, nutrient, cost));
        }
    }
    if offers.len() > 1 {
        cheapest(&mut page, &offers, &costs);
    }
    if offers
        .iter()
        .any(|offer| offer.from.holds.iter().filter(|(_, share)| !share.is_zero()).count() > 1)
        && straight.iter().all(|(_, price)| price.is_none())
    {
        page.note("no offer carries one nutrient alone, so the whole price is put on each nutrient in turn");
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
            (&weight * &share).by(format!("{} in {name}", nutrient.word()), &rules::CONTENT)
        })
    });
    Ok(Offer { name, from, price, content })
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

/// What a unit of a nutrient costs in an offer, its other nutrients taken off at their value.
fn cost(
    page: &mut Page<'_>,
    offer: &Offer,
    nutrient: Nutrient,
    straight: &Npk<Option<Figure<Money>>>,
    one: &Figure<Mass>,
) -> Option<Figure<Money>> {
    let content = offer.content[nutrient].as_ref()?;
    let mut left = offer.price.clone();
    for other in Nutrient::ALL {
        if other == nutrient {
            continue;
        }
        let (Some(value), Some(held)) = (&straight[other], &offer.content[other]) else { continue };
        let times = held.ratio_to(one)?;
        let worth = (value * &times)
            .by(format!("worth of the {} in {}", other.word(), offer.name), &rules::VALUE);
        let label = format!(
            "left of the price of {} for {} after {}",
            offer.name,
            nutrient.word(),
            other.word()
        );
        left = (&left - &worth).at_least_zero().by(label, &rules::VALUE);
    }
    let label =
        format!("{} in {}, each {}", nutrient.word(), offer.name, page.units.usual_weight().symbol);
    Some(per_unit(page, &left, content, one, label))
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
