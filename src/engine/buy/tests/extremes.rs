//! Sizes at the ends of what may be written, and more suppliers than anyone has.

use super::*;

/// The least and the most weight and price that may be written, in every pairing.
#[test]
fn the_largest_and_smallest_sizes_give_a_list() {
    let weights = ["0.0000000000000000000001", "0.000001", "1", "100000000"];
    let prices = ["0", "0.0000000000001", "1", "1000000000"];
    for weight in weights {
        for price in prices {
            for need in weights {
                let mut shed = shed(vec![
                    offer("meal", "far", &[(weight, price)]),
                    offer("blood", "", &[("25", "30")]),
                ]);
                shed.suppliers = vec![supplier("far", price, Some(price))];
                let demands = [
                    demand("a", &[("meal", need), ("blood", "3")]),
                    demand("b", &[("meal", need)]),
                    demand("c", &[("blood", need)]),
                ];
                let answer = buy(&shed, &demands, &[]);
                assert!(answer.certain.cost >= Money::ZERO, "{weight} at {price} for {need}");
            }
        }
    }
}

/// Twelve suppliers who charge are four thousand ways to buy or not; most are never looked at.
#[test]
fn many_suppliers_who_charge_are_searched_to_the_end() {
    let names: Vec<String> = (0..12).map(|at| format!("supplier {at:02}")).collect();
    let mut shed = Shed::default();
    for (at, name) in names.iter().enumerate() {
        let price = (10 + at % 5).to_string();
        shed.offers.push(offer("meal", name, &[("10", &price)]));
        shed.offers.push(offer("potash", name, &[("5", &price)]));
        shed.suppliers.push(supplier(name, &(at % 4 + 3).to_string(), None));
    }
    let demands = [demand("a", &[("meal", "37")]), demand("b", &[("potash", "8")])];
    let list = least_list(&shed, &demands, &[]);
    // Four packs and two at 10 each from the one whose delivery is 3; no one has both cheaper.
    assert_eq!((list.cost, list.proof), (money("63"), Proof::Least));
}
