//! What a kilogram of each nutrient costs in a pack.
//!
//! A bag that carries several nutrients has one price. Phosphate and potash in it are valued at
//! what the cheapest offer of nothing else asks for them, and the rest of the price is laid on its
//! nitrogen (or on the one nutrient that no such offer carries, where the others have one), as the Soil Fertility Guide of Manitoba Agriculture (Calculating Fertilizer Rates)
//! does with nitrogen and phosphate the other way about.

use rust_decimal::Decimal;

use super::list::OfferName;
use super::shed::Offer;
use crate::nutrient::{Analysis, Npk, Nutrient};
use crate::quantity::{Mass, Money, Positive};

/// What a kilogram of each nutrient costs in one pack of one offer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackCost {
    /// Whose offer of what.
    pub offer: OfferName,
    /// Weight of the pack.
    pub pack: Positive<Mass>,
    /// Price of the pack.
    pub price: Money,
    /// Cost per kilogram and how it was laid out.
    pub shared: SharedCost,
}

/// A price laid out over the nutrients of a pack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SharedCost {
    /// Money per kilogram of each nutrient; none where the pack does not carry it, or carries it
    /// beside another and no single-nutrient offer says what it is worth.
    pub per_kg: Npk<Option<Money>>,
    /// The nutrient that the rest of the price was laid on; none where the pack carries a single
    /// nutrient or none.
    pub rest_on: Option<Nutrient>,
    /// Nutrients counted as worth nothing because no single-nutrient offer has a price.
    pub valued_at_nothing: Vec<Nutrient>,
    /// By how much the valued nutrients alone are worth more than the whole pack; the rest then
    /// costs nothing.
    pub worth_above_price: Money,
}

/// Returns what a kilogram of each nutrient costs at its cheapest single-nutrient offer.
pub fn single_nutrient_worth(offers: &[Offer]) -> Npk<Option<Money>> {
    Npk::from_fn(|nutrient| {
        priced(offers)
            .filter(|(offer, ..)| {
                offer
                    .analysis
                    .iter()
                    .all(|(other, share)| (other == nutrient) != share_is_zero(share))
            })
            .filter_map(|(offer, weight, price)| {
                per_kg(price, weight.get() * offer.analysis[nutrient])
            })
            .min()
    })
}

/// Returns the cost per kilogram of each nutrient in every pack that has a price, by material,
/// supplier and pack.
pub fn pack_costs(offers: &[Offer], worth: &Npk<Option<Money>>) -> Vec<PackCost> {
    let mut sorted: Vec<&Offer> = offers.iter().collect();
    sorted.sort_by(|one, other| one.order(other));
    let mut costs = Vec::new();
    for offer in sorted {
        let mut packs = offer.packs.clone();
        packs.sort();
        let rest_on = rest_bearer(&carried(&offer.analysis), worth);
        for pack in packs {
            let Some(price) = pack.price else { continue };
            costs.push(PackCost {
                offer: OfferName {
                    material: offer.material.clone(),
                    supplier: offer.supplier.clone(),
                },
                pack: pack.weight,
                price,
                shared: share_price(price, pack.weight, &offer.analysis, worth, rest_on),
            });
        }
    }
    costs
}

/// The nutrients that a material carries, nitrogen first.
fn carried(analysis: &Analysis) -> Vec<Nutrient> {
    Nutrient::ALL.into_iter().filter(|nutrient| !share_is_zero(&analysis[*nutrient])).collect()
}

/// Returns the nutrient that the rest of a price is laid on, once the others are taken off at their
/// worth: the one that has no worth where all others have, else nitrogen. Money is so counted
/// once. Without nitrogen phosphate bears it where potash has a worth, and potash otherwise.
pub fn rest_bearer(carried: &[Nutrient], worth: &Npk<Option<Money>>) -> Nutrient {
    let open: Vec<Nutrient> =
        carried.iter().copied().filter(|nutrient| worth[*nutrient].is_none()).collect();
    match open[..] {
        [only] => only,
        _ if carried.contains(&Nutrient::Nitrogen) => Nutrient::Nitrogen,
        _ if carried.contains(&Nutrient::Phosphate)
            && (worth.potash.is_some() || !carried.contains(&Nutrient::Potash)) =>
        {
            Nutrient::Phosphate
        }
        _ => Nutrient::Potash,
    }
}

/// Lays a price out over the nutrients of a pack: all but `rest_on` are valued at their `worth`,
/// and `rest_on` bears what is left.
///
/// Where the pack does not carry `rest_on`, phosphate bears the rest if potash has a worth, and
/// potash otherwise. A pack with a single nutrient lays the whole price on it.
pub fn share_price(
    price: Money,
    weight: Positive<Mass>,
    analysis: &Analysis,
    worth: &Npk<Option<Money>>,
    rest_on: Nutrient,
) -> SharedCost {
    let carried = carried(analysis);
    let mut shared = SharedCost {
        per_kg: Npk::default(),
        rest_on: None,
        valued_at_nothing: Vec::new(),
        worth_above_price: Money::ZERO,
    };
    let bearer = match carried[..] {
        [] => return shared,
        [only] => only,
        _ if carried.contains(&rest_on) => rest_on,
        _ if worth.potash.is_some() && carried.contains(&Nutrient::Phosphate) => {
            Nutrient::Phosphate
        }
        [.., last] => last,
    };
    let mut valued = Money::ZERO;
    for nutrient in carried.iter().copied().filter(|nutrient| *nutrient != bearer) {
        match worth[nutrient] {
            Some(money) => {
                let kilograms = (weight.get() * analysis[nutrient]).kg();
                valued += money * crate::quantity::Share::from_fraction(kilograms);
                shared.per_kg[nutrient] = Some(money);
            }
            None => shared.valued_at_nothing.push(nutrient),
        }
    }
    shared.worth_above_price = (valued - price).at_least(Money::ZERO);
    shared.rest_on = (carried.len() > 1).then_some(bearer);
    shared.per_kg[bearer] =
        per_kg((price - valued).at_least(Money::ZERO), weight.get() * analysis[bearer]);
    shared
}

/// Every pack that has a price.
fn priced(offers: &[Offer]) -> impl Iterator<Item = (&Offer, Positive<Mass>, Money)> {
    offers.iter().flat_map(|offer| {
        offer.packs.iter().filter_map(move |pack| Some((offer, pack.weight, pack.price?)))
    })
}

/// Money per kilogram; none for a weight of nothing, or one too small to divide by.
fn per_kg(price: Money, nutrient: Mass) -> Option<Money> {
    price.base().checked_div(nutrient.kg()).map(Money::from_units)
}

fn share_is_zero(share: &crate::quantity::Share) -> bool {
    share.fraction() == Decimal::ZERO
}

#[cfg(test)]
mod tests {
    use super::super::shed::Pack;
    use super::*;
    use crate::nutrient::read_analysis;
    use crate::quantity::Quantity;

    fn d(text: &str) -> Decimal {
        text.parse().expect("a decimal")
    }

    fn pounds(text: &str) -> Positive<Mass> {
        Positive::new(Mass::from_lb(d(text))).expect("a weight")
    }

    fn kilograms(text: &str) -> Positive<Mass> {
        Positive::new(Mass::from_kg(d(text))).expect("a weight")
    }

    fn offer(label: &str, weight: Positive<Mass>, price: &str) -> Offer {
        Offer {
            material: label.to_owned(),
            supplier: String::new(),
            analysis: read_analysis(label).expect("a label"),
            packs: vec![Pack { weight, price: Some(Money::from_units(d(price))) }],
            minimum: None,
        }
    }

    /// Money per pound from money per kilogram.
    fn per_lb(money: Option<Money>) -> Decimal {
        money.expect("a cost").units() * Mass::from_lb(Decimal::ONE).kg()
    }

    fn nitrogen_per_lb(label: &str, weight: Positive<Mass>, price: &str) -> Decimal {
        let offers = [offer(label, weight, price)];
        let worth = single_nutrient_worth(&offers);
        per_lb(pack_costs(&offers, &worth)[0].shared.per_kg.nitrogen)
    }

    /// New Mexico State University Guide A-133: urea at 567 a ton is 0.62 a pound of nitrogen.
    /// Noble Research Institute, June 2007: urea at 412 and 34-0-0 at 370 a ton are 45 and 54
    /// cents. Manitoba Agriculture, Soil Fertility Guide: urea at 367 for 2204 lb is 0.362.
    #[test]
    fn single_nutrient_prices_match_the_bulletins() {
        assert_eq!(nitrogen_per_lb("46-0-0", pounds("2000"), "567").round_dp(2), d("0.62"));
        assert_eq!(nitrogen_per_lb("46-0-0", pounds("2000"), "412").round_dp(2), d("0.45"));
        assert_eq!(nitrogen_per_lb("34-0-0", pounds("2000"), "370").round_dp(2), d("0.54"));
        assert_eq!(nitrogen_per_lb("46-0-0", pounds("2204"), "367").round_dp(3), d("0.362"));
    }

    /// Manitoba Agriculture, Soil Fertility Guide: in 11-52-0 at 391 a tonne (2204 lb), nitrogen at
    /// 0.362 a pound is worth 88, and 303 is left for 1146 lb of phosphate.
    #[test]
    fn the_rest_of_a_price_is_laid_on_one_nutrient() {
        let weight = pounds("2204");
        let nitrogen = per_lb(Some(Money::from_units(d("0.362"))));
        let per_kg = d("0.362") * d("0.362") / nitrogen;
        let worth = Npk { nitrogen: Some(Money::from_units(per_kg)), ..Npk::default() };
        let analysis = read_analysis("11-52-0").expect("a label");
        let price = Money::from_units(d("391"));
        let shared = share_price(price, weight, &analysis, &worth, Nutrient::Phosphate);
        assert_eq!(shared.rest_on, Some(Nutrient::Phosphate));
        let pounds_of_phosphate = (weight.get() * analysis.phosphate).lb();
        assert_eq!(pounds_of_phosphate.round_dp(0), d("1146"));
        let left = per_lb(shared.per_kg.phosphate) * pounds_of_phosphate;
        assert_eq!(left.round_dp(0), d("303"));
        assert_eq!((price.units() - left).round_dp(0), d("88"));
    }

    /// Examination answers on soil management, Malaysia, October 2004: on nitrogen alone 15-15-15
    /// at 60 for 50 kg costs 8 a kilogram and 10-8-8 at 22.50 for 20 kg 11.25.
    #[test]
    fn without_single_nutrient_offers_nitrogen_bears_the_whole_price() {
        let offers =
            [offer("15-15-15", kilograms("50"), "60"), offer("10-8-8", kilograms("20"), "22.50")];
        let worth = single_nutrient_worth(&offers);
        let costs = pack_costs(&offers, &worth);
        let nitrogen = |index: usize| costs[index].shared.per_kg.nitrogen.expect("a cost").units();
        assert_eq!((nitrogen(0), nitrogen(1)), (d("11.25"), d("8")));
        let both = vec![Nutrient::Phosphate, Nutrient::Potash];
        assert_eq!(costs[0].shared.valued_at_nothing, both);
    }

    #[test]
    fn phosphate_and_potash_are_valued_at_the_cheapest_single_nutrient_offer() {
        let offers = [
            offer("10-10-10", kilograms("10"), "8"),
            offer("0-20-0", kilograms("10"), "5"),
            offer("0-45-0", kilograms("10"), "9"),
            offer("0-0-50", kilograms("10"), "6"),
            offer("0-10-20", kilograms("10"), "4"),
            offer("1-10-10", kilograms("10"), "2"),
        ];
        let worth = single_nutrient_worth(&offers);
        assert_eq!(worth.phosphate.map(Money::units), Some(d("2")));
        assert_eq!(worth.potash.map(Money::units), Some(d("1.2")));
        assert!(worth.nitrogen.is_none());
        let costs = pack_costs(&offers, &worth);
        let shared = |material: &str| {
            let found = costs.iter().find(|cost| cost.offer.material == material);
            found.expect("an offer").shared.clone()
        };
        // 8 - 1 kg x 2 - 1 kg x 1.2 = 4.8 for one kilogram of nitrogen.
        assert_eq!(shared("10-10-10").per_kg.nitrogen.map(Money::units), Some(d("4.8")));
        // No nitrogen: 4 - 2 kg x 1.2 = 1.6 for one kilogram of phosphate.
        assert_eq!(shared("0-10-20").per_kg.phosphate.map(Money::units), Some(d("1.6")));
        // Phosphate and potash alone are worth 3.2, the bag costs 2.
        assert_eq!(shared("1-10-10").worth_above_price.units(), d("1.2"));
        assert!(shared("1-10-10").per_kg.nitrogen.expect("a cost").is_zero());
    }
}
