//! One way for each demand, against every other choice.

use super::by_trial::Dice;
use super::*;

/// Three materials in odd packs, some on hand, and a few demands with two or three ways each.
fn small(dice: &mut Dice) -> (Shed, Vec<Demand>) {
    let names = ["alpha", "beta", "gamma"];
    let mut shed = Shed::default();
    for name in names {
        let mut made = offer(name, ["one", "two"][usize::from(dice.roll(2) == 0)], &[]);
        for _ in 0..=dice.roll(2) {
            made.packs.push(Pack {
                weight: Positive::new(dice.mass(60) + kg("1")).expect("a weight"),
                price: Some(Money::from_units(Decimal::from(dice.roll(20) + 1))),
            });
        }
        // Now and then there is only what is on hand.
        if dice.roll(4) > 0 {
            shed.offers.push(made);
        }
        if dice.roll(3) == 0 {
            shed.stock.push(Stock { material: name.to_owned(), on_hand: dice.mass(40) });
        }
    }
    if dice.roll(2) == 0 {
        shed.suppliers.push(supplier("one", "3", None));
    }
    let demands = (0..2 + dice.roll(3)).map(|at| {
        let mut alternatives: Vec<Alternative> = Vec::new();
        for name in names {
            if alternatives.is_empty() || dice.roll(3) > 0 {
                let mut way = Alternative::of(name, dice.mass(50));
                if dice.roll(4) == 0 {
                    way.unwanted = dice.mass(5);
                }
                alternatives.push(way);
            }
        }
        Demand { path: format!("bed-{at}"), certainty: Certainty::Certain, alternatives }
    });
    let demands = demands.collect();
    (shed, demands)
}

/// What the list comes to where each demand has this way alone.
fn worth(shed: &Shed, demands: &[Demand], ways: &[usize]) -> (Decimal, Mass, Money) {
    let only = |(demand, way): (&Demand, &usize)| Demand {
        alternatives: vec![demand.alternatives[*way].clone()],
        ..demand.clone()
    };
    let demands: Vec<Demand> = demands.iter().zip(ways).map(only).collect();
    let list = least_list(shed, &demands, &[]);
    let unmet: Decimal = list.unmet.iter().map(|one| one.share.fraction()).sum();
    let unwanted = list.unwanted.iter().map(|one| one.phosphate).sum();
    (unmet.round_dp(5), unwanted, list.cost)
}

#[test]
fn no_other_choice_of_whole_ways_is_better() {
    let mut dice = Dice(11);
    for turn in 0..200 {
        let (shed, demands) = small(&mut dice);
        let found = assign(&shed, &demands, &[]);
        assert!(found.proven, "turn {turn}");
        let mut least: Option<((Decimal, Mass, Money), Vec<usize>)> = None;
        let mut ways = vec![0; demands.len()];
        loop {
            let this = worth(&shed, &demands, &ways);
            if least.as_ref().is_none_or(|(known, _)| this < *known) {
                least = Some((this, ways.clone()));
            }
            let Some(at) =
                (0..ways.len()).find(|at| ways[*at] + 1 < demands[*at].alternatives.len())
            else {
                break;
            };
            ways[at] += 1;
            ways[..at].fill(0);
        }
        let (least, ways) = least.expect("a choice");
        let reached = worth(&shed, &demands, &found.ways);
        assert_eq!(
            reached, least,
            "turn {turn}: {:?} or {ways:?}\n{shed:?}\n{demands:?}",
            found.ways
        );
    }
}

#[test]
fn a_large_garden_is_within_the_gap_that_is_told() {
    let mut shed = shed(vec![
        offer("alpha", "one", &[("20", "30"), ("2", "6")]),
        offer("beta", "one", &[("20", "24")]),
        offer("gamma", "two", &[("5", "10")]),
    ]);
    shed.stock.push(stock("gamma", "4"));
    let mut dice = Dice(3);
    let demands: Vec<Demand> = (0..400)
        .map(|at| Demand {
            path: format!("bed-{at:03}"),
            certainty: Certainty::Certain,
            alternatives: ["alpha", "beta", "gamma"]
                .map(|name| Alternative::of(name, dice.mass(30)))
                .to_vec(),
        })
        .collect();
    let found = assign(&shed, &demands, &[]);
    let cost = worth(&shed, &demands, &found.ways).2;
    // Nothing is cheaper than to share every dose between materials at will.
    let least = least_list(&shed, &demands, &[]).cost;
    assert!(cost <= least + found.could_save, "{cost:?} {least:?} {:?}", found.could_save);
    assert!(found.could_save.units() < cost.units() * d("0.1"), "{cost:?} {:?}", found.could_save);
}
