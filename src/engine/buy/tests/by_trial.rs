//! Lists against every other list, and against themselves written in another order.

use super::*;
use crate::quantity::{Quantity, Share};

/// A small generator, so that every run tries the same sheds.
pub(super) struct Dice(pub(super) u64);

impl Dice {
    pub(super) fn roll(&mut self, sides: u64) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % sides
    }

    fn shuffle<T>(&mut self, all: &mut [T]) {
        for at in (1..all.len()).rev() {
            all.swap(at, usize::try_from(self.roll(at as u64 + 1)).expect("an index"));
        }
    }

    pub(super) fn mass(&mut self, sides: u64) -> Mass {
        Mass::from_kg(Decimal::new(i64::try_from(self.roll(sides)).expect("small") + 1, 1))
    }
}

/// A shed with two materials, two suppliers, at most four packs and six demands.
fn small_shed(dice: &mut Dice) -> (Shed, Vec<Demand>) {
    let names = ["alpha", "beta"];
    let mut shed = Shed::default();
    for (material, supplier) in [(0, "one"), (0, "two"), (1, "one"), (1, "two")] {
        let packs = vec![Pack {
            weight: Positive::new(dice.mass(60) + kg("1.5")).expect("a weight"),
            price: Some(Money::from_units(Decimal::from(dice.roll(12) + 1))),
        }];
        let minimum = (dice.roll(4) == 0).then(|| dice.mass(90));
        let mut made = offer(names[material], supplier, &[]);
        (made.packs, made.minimum) = (packs, minimum);
        shed.offers.push(made);
    }
    for name in ["one", "two"] {
        let delivery = Money::from_units(Decimal::from(dice.roll(3) * 3));
        let minimum = (dice.roll(3) == 0).then(|| Money::from_units(Decimal::from(dice.roll(30))));
        shed.suppliers.push(Supplier { name: name.to_owned(), delivery, minimum });
    }
    for name in names {
        if dice.roll(2) == 0 {
            shed.stock.push(Stock { material: name.to_owned(), on_hand: dice.mass(30) });
        }
    }
    let demands = (0..1 + dice.roll(6))
        .map(|at| {
            let mut alternatives = Vec::new();
            let which = dice.roll(4);
            for (material, name) in names.iter().enumerate() {
                if which != material as u64 {
                    alternatives.push(Alternative::of(*name, dice.mass(30)));
                }
            }
            Demand { path: format!("bed-{at}"), certainty: Certainty::Certain, alternatives }
        })
        .collect();
    (shed, demands)
}

/// Whether doses can be shared out between so much of two materials: the demands with most to gain
/// take the first.
fn enough(demands: &[Demand], mut first: Decimal, mut second: Decimal) -> bool {
    let mut both = Vec::new();
    for demand in demands {
        let weight = |name: &str| {
            let way = demand.alternatives.iter().find(|way| way.parts[0].material == name);
            way.map(|way| way.parts[0].weight.kg())
        };
        match (weight("alpha"), weight("beta")) {
            (Some(alpha), Some(beta)) => both.push((alpha, beta)),
            (Some(alpha), None) => first -= alpha,
            (None, beta) => second -= beta.unwrap_or_default(),
        }
    }
    both.sort_by_key(|(alpha, beta)| *alpha / *beta);
    for (alpha, beta) in both {
        let share = (first.max(Decimal::ZERO) / alpha).min(Decimal::ONE);
        first -= alpha * share;
        second -= beta * (Decimal::ONE - share);
    }
    let tail = d("0.0000000001");
    first >= -tail && second >= -tail
}

/// The least cost by trying every number of packs.
fn tried_all(shed: &Shed, demands: &[Demand]) -> Decimal {
    let (weights, prices): (Vec<Decimal>, Vec<Decimal>) = shed
        .offers
        .iter()
        .map(|offer| {
            (offer.packs[0].weight.get().kg(), offer.packs[0].price.expect("a price").units())
        })
        .unzip();
    let held = |name: &str| -> Decimal {
        shed.stock.iter().filter(|held| held.material == name).map(|held| held.on_hand.kg()).sum()
    };
    let (alpha, beta) = (held("alpha"), held("beta"));
    let most = |at: usize| -> u64 {
        let whole = d("18").max(shed.offers[at].minimum.map_or(Decimal::ZERO, Mass::kg));
        let least = shed.suppliers[at % 2].minimum.map_or(Decimal::ZERO, Money::units);
        let most = (whole / weights[at]).max(least / prices[at]).ceil();
        most.try_into().expect("a count")
    };
    let mut best = None;
    let ranges: Vec<u64> = (0..4).map(most).collect();
    let total: u64 = ranges.iter().map(|most| most + 1).product();
    for mut code in 0..total {
        let mut counts = [0; 4];
        for at in 0..4 {
            counts[at] = code % (ranges[at] + 1);
            code /= ranges[at] + 1;
        }
        let weight = |at: usize| weights[at] * Decimal::from(counts[at]);
        let price = |at: usize| prices[at] * Decimal::from(counts[at]);
        let mut cost = (0..4).map(price).sum::<Decimal>();
        if best.is_some_and(|best| cost >= best) {
            continue;
        }
        let offers_hold = (0..4).all(|at| {
            counts[at] == 0 || shed.offers[at].minimum.is_none_or(|least| weight(at) >= least.kg())
        });
        let mut suppliers_hold = true;
        for (at, supplier) in shed.suppliers.iter().enumerate() {
            if counts[at] + counts[at + 2] > 0 {
                cost += supplier.delivery.units();
                let spent = price(at) + price(at + 2);
                suppliers_hold &= supplier.minimum.is_none_or(|least| spent >= least.units());
            }
        }
        let fits = enough(demands, alpha + weight(0) + weight(1), beta + weight(2) + weight(3));
        if offers_hold && suppliers_hold && fits && best.is_none_or(|best| cost < best) {
            best = Some(cost);
        }
    }
    best.expect("packs can be had without end")
}

#[test]
fn no_list_is_cheaper_by_trying_them_all() {
    let mut dice = Dice(7);
    for seed in 0..120 {
        let (shed, demands) = small_shed(&mut dice);
        let list = least_list(&shed, &demands, &[]);
        assert_eq!(list.cost.units(), tried_all(&shed, &demands), "shed {seed}");
        assert_eq!(list.proof, Proof::Least, "shed {seed}");
        hangs_together(&demands, &list);
    }
}

/// Weights of a list add up, and every demand is met in full or named.
fn hangs_together(demands: &[Demand], list: &List) {
    for demand in demands {
        let of = |path: &str| path == demand.path;
        let met: Share = list.met.iter().filter(|met| of(&met.path)).map(|met| met.share).sum();
        let short: Share =
            list.unmet.iter().filter(|unmet| of(&unmet.path)).map(|unmet| unmet.share).sum();
        let whole = (met + short).fraction();
        assert!((whole - Decimal::ONE).abs() <= d("0.000001"), "{} is met {whole}", demand.path);
    }
    for sum in &list.materials {
        let used: Mass =
            list.met.iter().filter(|met| met.material == sum.material).map(|met| met.weight).sum();
        assert_eq!(used, sum.needed);
        let over = sum.needed.kg() - sum.on_hand.kg() - sum.bought.kg();
        assert!(over <= d("0.00000000001"), "{} is overdrawn by {over}", sum.material);
        let bought: Mass = list
            .lines
            .iter()
            .filter(|line| line.offer.material == sum.material)
            .map(|line| line.pack.get() * Share::from_fraction(line.count.into()))
            .sum();
        assert_eq!(bought, sum.bought);
    }
}

#[test]
fn the_list_does_not_depend_on_the_order_of_what_was_written() {
    let mut dice = Dice(11);
    for _ in 0..25 {
        let (mut shed, mut demands) = small_shed(&mut dice);
        let twin = shed.offers[0].clone();
        shed.offers.push(twin);
        let answer = buy(&shed, &demands, &[]);
        for _ in 0..3 {
            dice.shuffle(&mut shed.offers);
            dice.shuffle(&mut shed.stock);
            dice.shuffle(&mut shed.suppliers);
            dice.shuffle(&mut demands);
            demands.iter_mut().for_each(|demand| dice.shuffle(&mut demand.alternatives));
            assert_eq!(buy(&shed, &demands, &[]), answer);
        }
    }
}

/// A rival is the list of a shed without the offer.
#[test]
fn a_rival_is_the_list_of_a_shed_without_the_offer() {
    let mut dice = Dice(19);
    let mut weighed = 0;
    for seed in 0..40 {
        let (shed, demands) = small_shed(&mut dice);
        let list = buy(&shed, &demands, &[]).certain;
        let mut cheapest = None;
        for rival in &list.rivals {
            let mut without = shed.clone();
            without.offers.retain(|offer| {
                (&offer.material, &offer.supplier) != (&rival.offer.material, &rival.offer.supplier)
            });
            let other = least_list(&without, &demands, &[]);
            let Some(Measure::Cost(cost)) = rival.without else { panic!("shed {seed} has prices") };
            let Measure::Cost(with) = rival.with else { panic!("shed {seed} has prices") };
            assert_eq!(list.cost + (cost - with), other.cost, "shed {seed}");
            cheapest = Some(cheapest.map_or(other.cost, |least: Money| least.at_most(other.cost)));
            weighed += 1;
        }
        let next = list.next_best.map(|next| next.total);
        assert_eq!(next, cheapest.map(Measure::Cost), "shed {seed}");
    }
    assert!(weighed > 40);
}

/// The list taken where the solver cannot answer meets what can be met, and claims nothing.
#[test]
fn the_list_without_a_search_is_whole() {
    let mut dice = Dice(3);
    for _ in 0..60 {
        let (shed, demands) = small_shed(&mut dice);
        let case = Case::new(&shed, &demands, &[]);
        let market = Market { case: &case, forbidden: None };
        let all: Vec<usize> = (0..case.demands.len()).collect();
        let opened = vec![false; case.suppliers.len()];
        let margins = std::collections::BTreeSet::new();
        let blocks = market.groups(&all, None);
        let blocks = blocks
            .iter()
            .map(|block| {
                let setting = model::Setting {
                    case: &case,
                    block,
                    opened: &opened,
                    margins: &margins,
                    decided: &[],
                };
                exact::settle_short(&setting, greedy::first_draft(&setting))
            })
            .collect();
        let chosen = choose::Chosen { blocks, opened: opened.clone() };
        let list = assemble::assemble(&case, &chosen, Vec::new());
        assert!(list.unmet.is_empty());
        assert!(list.cost.units() >= least_list(&shed, &demands, &[]).cost.units());
        hangs_together(&demands, &list);
    }
}

#[test]
fn nothing_wanted_buys_nothing() {
    let answer = buy(&shed(vec![offer("meal", "", &[("5", "9")])]), &[], &[]);
    assert!(answer.certain.lines.is_empty() && answer.certain.cost.is_zero());
    assert_eq!(answer.nutrient_costs.len(), 1);
}

/// What nobody sells is shared out by size; the solver, asked for the fewest doses short, must come to
/// the same.
#[test]
fn what_is_rationed_leaves_no_more_short_than_the_solver_does() {
    for seed in 0..200 {
        let mut dice = Dice(seed);
        let shed = Shed { stock: vec![stock("alpha", "12.5")], ..Shed::default() };
        let doses = 1 + dice.roll(9);
        let demands: Vec<Demand> = (0..doses)
            .map(|at| {
                let mut asked = demand(&format!("bed-{at}"), &[]);
                asked.alternatives = vec![Alternative::of("alpha", dice.mass(60))];
                asked
            })
            .collect();
        let case = Case::new(&shed, &demands, &[]);
        let all: Vec<usize> = (0..case.demands.len()).collect();
        let market = Market { case: &case, forbidden: None };
        let blocks = market.groups(&all, None);
        let margins = std::collections::BTreeSet::new();
        let setting = super::super::model::Setting {
            case: &case,
            block: &blocks[0],
            opened: &[],
            margins: &margins,
            decided: &[],
        };
        let draft = super::super::ration::rationed(&setting).expect("nothing to choose");
        let goal = super::super::model::Goal::Unmet;
        let found = super::super::search::run(&setting, goal, Default::default(), 0);
        let least = found.ok().expect("an answer").objective;
        let short = draft.shares.iter().map(|shares| super::super::exact::shortfall(shares));
        let short = crate::quantity::to_float(short.sum::<Share>().fraction());
        assert!((short - least).abs() < 1e-5, "{seed}: {short} short, not {least}");
    }
}
