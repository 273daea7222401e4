//! Small lists whose sums can be done by hand.

use super::*;
use crate::quantity::Share;

/// New Mexico Agronomy CDE Test Bank, 2015: 12 gallons of a solution at 1.15 and 20 lb of 11-52-0
/// at 680 a ton come to 20.60 an acre.
#[test]
fn two_products_by_the_unit_cost_what_the_test_bank_says() {
    let gallon = Positive::new(Mass::from_lb(d("10.67"))).expect("a weight");
    let pound = Positive::new(Mass::from_lb(d("20"))).expect("a weight");
    let mut solution = offer("solution", "", &[]);
    solution.packs = vec![Pack { weight: gallon, price: Some(money("1.15")) }];
    let mut phosphate = offer("11-52-0", "", &[]);
    let price = money("680") * Share::from_fraction(d("20") / d("2000"));
    phosphate.packs = vec![Pack { weight: pound, price: Some(price) }];
    let wanted = |name: &str, weight: Mass| Demand {
        alternatives: vec![Alternative::of(name, weight)],
        ..demand(name, &[])
    };
    let twelve = gallon.get() * Share::from_fraction(d("12"));
    let demands = [wanted("solution", twelve), wanted("11-52-0", pound.get())];
    let list = least_list(&shed(vec![solution, phosphate]), &demands, &[]);
    assert_eq!(list.cost, money("20.60"));
    assert_eq!(list.proof, Proof::Least);
}

#[test]
fn stock_is_used_before_anything_is_bought() {
    let mut shed = shed(vec![offer("meal", "", &[("5", "9"), ("20", "24")])]);
    shed.stock = vec![stock("meal", "3"), stock("meal", "1.5")];
    let demands = [demand("a", &[("meal", "6")]), demand("b", &[("meal", "3")])];
    let list = least_list(&shed, &demands, &[]);
    assert_eq!(lines(&list), ["1 x 5 kg meal"]);
    let meal = sum(&list, "meal");
    let found = (meal.on_hand, meal.needed, meal.bought, meal.left_over);
    assert_eq!(found, (kg("4.5"), kg("9"), kg("5"), kg("0.5")));
    assert_eq!(list.met.len(), 2);
    assert!(list.unmet.is_empty() && list.notes.is_empty());
}

/// A need a millionth above two packs takes three: the check is exact, whatever the solver's
/// tolerance; one that only division's tail puts above takes two.
#[test]
fn a_need_just_above_whole_packs_takes_one_more() {
    let shed = shed(vec![offer("meal", "", &[("50", "10")])]);
    for (need, packs) in
        [("100.000001", 3), ("100.00000001", 3), ("100.000000000001", 2), ("100", 2)]
    {
        let list = least_list(&shed, &[demand("a", &[("meal", need)])], &[]);
        assert_eq!(list.lines[0].count, packs, "{need}");
        assert_eq!(list.proof, Proof::Least);
    }
}

#[test]
fn own_analysis_is_a_material_of_its_own() {
    let mut shed = shed(vec![offer("meal", "", &[("5", "9")])]);
    shed.stock = vec![stock("old meal", "4")];
    let ways = [("meal", "6"), ("old meal", "8")];
    let list = least_list(&shed, &[demand("a", &ways)], &[]);
    // Half from the old, half (3 kg) from one pack of the new.
    assert_eq!(lines(&list), ["1 x 5 kg meal"]);
    assert_eq!(sum(&list, "old meal").needed + sum(&list, "meal").needed, kg("7"));
}

#[test]
fn each_offer_is_weighed_against_the_list_without_it() {
    let offers = vec![
        offer("dear meal", "", &[("10", "30")]),
        offer("meal", "", &[("10", "18")]),
        offer("potash", "", &[("5", "12")]),
    ];
    let ways = [("dear meal", "9"), ("meal", "12")];
    let demands = [demand("a", &ways), demand("b", &[("potash", "4")])];
    let answer = buy(&shed(offers), &demands, &[]);
    let list = answer.certain;
    // 12 kg of meal would take two packs, 36; 9 kg of the dear one takes one, 30.
    assert_eq!(lines(&list), ["1 x 10 kg dear meal", "1 x 5 kg potash"]);
    assert_eq!(list.cost, money("42"));
    let [first, second] = &list.rivals[..] else { panic!("two rivals, not {:?}", list.rivals) };
    assert_eq!(first.with, Measure::Cost(money("30")));
    assert_eq!(first.without, Some(Measure::Cost(money("36"))));
    assert_eq!((first.instead[0].count, first.instead[0].offer.material.as_str()), (2, "meal"));
    assert_eq!(second.offer.material, "potash");
    assert_eq!(second.without, None);
    let next = list.next_best.expect("a next best list");
    assert_eq!(next.total, Measure::Cost(money("48")));
    assert!(answer.possible.lines.is_empty());
}

#[test]
fn one_delivery_serves_all_that_is_bought_there() {
    let mut shed = shed(vec![
        offer("meal", "far", &[("10", "10")]),
        offer("meal", "near", &[("10", "18")]),
        offer("potash", "far", &[("10", "10")]),
        offer("potash", "near", &[("10", "18")]),
    ]);
    shed.suppliers = vec![supplier("far", "12", None)];
    let both = [demand("a", &[("meal", "8")]), demand("b", &[("potash", "8")])];
    let one = least_list(&shed, &both[..1], &[]);
    assert_eq!((one.cost, one.lines[0].offer.supplier.as_str()), (money("18"), "near"));
    let two = least_list(&shed, &both, &[]);
    assert_eq!(two.cost, money("32"));
    assert_eq!(two.deliveries, [("far".to_owned(), money("12"))]);
}

#[test]
fn least_orders_are_reached_or_the_supplier_is_left_alone() {
    let mut shed =
        shed(vec![offer("meal", "far", &[("10", "10")]), offer("meal", "near", &[("10", "25")])]);
    shed.suppliers = vec![supplier("far", "0", Some("30"))];
    let list = least_list(&shed, &[demand("a", &[("meal", "8")])], &[]);
    assert_eq!((list.cost, list.lines[0].offer.supplier.as_str()), (money("25"), "near"));
    let list = least_list(&shed, &[demand("a", &[("meal", "18")])], &[]);
    assert_eq!((list.cost, list.lines[0].count), (money("30"), 3));

    shed.suppliers.clear();
    shed.offers[0].minimum = Some(kg("40"));
    let list = least_list(&shed, &[demand("a", &[("meal", "18")])], &[]);
    assert_eq!((list.cost, list.lines[0].count), (money("40"), 4));
}

#[test]
fn without_prices_the_least_weight_is_bought_and_said() {
    let mut unpriced = offer("meal", "", &[("20", "24")]);
    unpriced.packs.push(pack("5", None));
    let shed = shed(vec![unpriced, offer("potash", "", &[("10", "7"), ("4", "4")])]);
    let demands = [demand("a", &[("meal", "12")]), demand("b", &[("potash", "7")])];
    let answer = buy(&shed, &demands, &[]);
    let list = answer.certain;
    assert_eq!(lines(&list), ["3 x 5 kg meal", "1 x 10 kg potash"]);
    assert_eq!((list.cost, list.unpriced), (money("7"), kg("15")));
    let meal = vec!["meal".to_owned()];
    assert_eq!(list.notes, [Note::ByWeight { unpriced: meal.clone(), chosen: meal }]);
    assert_eq!(list.rivals[0].with, Measure::Weight(kg("15")));
    assert_eq!(list.rivals[0].without, None);
}

#[test]
fn what_nothing_on_offer_meets_is_named_with_what_would() {
    let mut shed = shed(vec![offer("meal", "", &[("5", "9")])]);
    shed.stock = vec![stock("potash", "1")];
    let demands = [
        demand("a", &[("meal", "4")]),
        demand("b", &[("potash", "4"), ("ash", "20")]),
        demand("c", &[("bone", "2")]),
    ];
    let list = least_list(&shed, &demands, &[]);
    assert_eq!(lines(&list), ["1 x 5 kg meal"]);
    let short: Vec<(&str, Share)> =
        list.unmet.iter().map(|unmet| (unmet.path.as_str(), unmet.share)).collect();
    assert_eq!(short, [("b", Share::from_fraction(d("0.75"))), ("c", Share::WHOLE)]);
    let part = |material: &str, weight: &str| {
        vec![Part { material: material.to_owned(), weight: kg(weight) }]
    };
    assert_eq!(list.unmet[0].would, [part("potash", "3"), part("ash", "15")]);
    assert_eq!(list.unmet[1].would, [part("bone", "2")]);
    assert_eq!(sum(&list, "potash").left_over, Mass::ZERO);
}

#[test]
fn phosphate_goes_where_there_is_enough_only_where_unavoidable() {
    let poultry = Alternative { unwanted: kg("0.3"), ..Alternative::of("poultry", kg("10")) };
    let offers = vec![offer("meal", "", &[("5", "50")]), offer("poultry", "", &[("10", "5")])];
    let ask = |ways: Vec<Alternative>| Demand { alternatives: ways, ..demand("a", &[]) };
    let shed = shed(offers);
    let both = [ask(vec![poultry.clone(), Alternative::of("meal", kg("4"))])];
    let list = least_list(&shed, &both, &[]);
    assert_eq!((lines(&list), list.unwanted.len()), (vec!["1 x 5 kg meal".to_owned()], 0));
    let list = least_list(&shed, &[ask(vec![poultry.clone()])], &[]);
    assert_eq!(list.unwanted, [Unwanted { path: "a".to_owned(), phosphate: kg("0.3") }]);

    // Half of the need can be met from stock: the other half is unavoidable.
    let mut some = shed.clone();
    some.stock = vec![stock("blood", "1")];
    let ways = vec![poultry, Alternative::of("blood", kg("2"))];
    let list = least_list(&some, &[ask(ways.clone())], &[]);
    assert_eq!(list.unwanted[0].phosphate, kg("0.15"));
    assert_eq!(lines(&list), ["1 x 10 kg poultry"]);
    assert_eq!(list.proof, Proof::Least);
    // Of a dose of which hardly anything is unavoidable the list is as sure.
    some.stock = vec![stock("blood", "1.999")];
    let list = least_list(&some, &[ask(ways)], &[]);
    assert_eq!((lines(&list), list.proof), (vec!["1 x 10 kg poultry".to_owned()], Proof::Least));
    assert_eq!(list.unwanted[0].phosphate, kg("0.00015"));
}

#[test]
fn limits_are_never_passed() {
    let manure = |weight: &str, nitrogen: &str| Alternative {
        draws: vec![Draw { limit: "north-1".to_owned(), amount: kg(nitrogen) }],
        ..Alternative::of("manure", kg(weight))
    };
    let ask =
        |path: &str, ways: Vec<Alternative>| Demand { alternatives: ways, ..demand(path, &[]) };
    let offers = vec![offer("manure", "", &[("10", "2")]), offer("meal", "", &[("1", "9")])];
    let shed = shed(offers);
    let limits = [Limit { key: "north-1".to_owned(), most: kg("1.5") }];
    let demands = [
        ask("a", vec![manure("30", "1"), Alternative::of("meal", kg("4"))]),
        ask("b", vec![manure("30", "1"), Alternative::of("meal", kg("4"))]),
    ];
    let list = least_list(&shed, &demands, &limits);
    // Three quarters of both doses: 45 kg of manure in five packs, two packs of meal.
    assert_eq!(lines(&list), ["5 x 10 kg manure", "2 x 1 kg meal"]);
    let only = [ask("a", vec![manure("30", "1")]), ask("b", vec![manure("30", "1")])];
    let list = least_list(&shed, &only, &limits);
    let short: Share = list.unmet.iter().map(|unmet| unmet.share).sum();
    assert_eq!(short.fraction().round_dp(6), d("0.5"));
    assert!(list.unmet.iter().all(|unmet| unmet.limited));
}

#[test]
fn possible_doses_are_listed_apart_and_use_what_is_left_over() {
    let shed = shed(vec![offer("meal", "", &[("5", "9")])]);
    let possible = |path: &str, weight: &str| Demand {
        certainty: Certainty::Possible,
        ..demand(path, &[("meal", weight)])
    };
    let demands = [demand("a", &[("meal", "4")]), possible("b", "1"), possible("c", "3")];
    let answer = buy(&shed, &demands, &[]);
    assert_eq!(lines(&answer.certain), ["1 x 5 kg meal"]);
    assert_eq!(lines(&answer.possible), ["1 x 5 kg meal"]);
    assert_eq!(sum(&answer.possible, "meal").on_hand, kg("1"));
    let answer = buy(&shed, &demands[..2], &[]);
    assert!(answer.possible.lines.is_empty());
    assert_eq!(answer.possible.met.len(), 1);
}

/// What is in the shed serves the doses that may be given too: once, and only what is left of it.
#[test]
fn stock_that_certain_doses_leave_alone_is_there_for_possible_ones() {
    let mut shed = shed(vec![offer("meal", "", &[("5", "9")]), offer("salt", "", &[("5", "7")])]);
    shed.stock = vec![stock("meal", "6"), stock("salt", "3")];
    let possible = |path: &str, ways: &[(&str, &str)]| Demand {
        certainty: Certainty::Possible,
        ..demand(path, ways)
    };
    let demands = [
        demand("a", &[("meal", "4")]),
        possible("b", &[("salt", "3")]),
        possible("c", &[("meal", "5")]),
    ];
    let answer = buy(&shed, &demands, &[]);
    assert!(answer.certain.lines.is_empty());
    // All of the salt is there; of the meal 2 kg are, and 5 are wanted.
    assert_eq!(lines(&answer.possible), ["1 x 5 kg meal"]);
    assert_eq!(sum(&answer.possible, "meal").on_hand, kg("2"));
    assert_eq!(sum(&answer.possible, "salt").on_hand, kg("3"));
}

#[test]
fn several_materials_may_meet_a_demand_together() {
    let offers = vec![
        offer("manure", "", &[("10", "4")]),
        offer("meal", "", &[("5", "20")]),
        offer("potash", "", &[("2", "3")]),
    ];
    let mut together = Alternative::of("manure", kg("10"));
    together.parts.push(Part { material: "potash".to_owned(), weight: kg("1") });
    let alternatives = vec![together, Alternative::of("meal", kg("5"))];
    let list = least_list(&shed(offers), &[Demand { alternatives, ..demand("a", &[]) }], &[]);
    assert_eq!((lines(&list).len(), list.cost), (2, money("7")));
}

#[test]
fn beds_that_want_the_same_in_proportion_stand_apart_on_the_list() {
    let offers = vec![offer("meal", "", &[("10", "10")]), offer("blood", "", &[("10", "16")])];
    let demands = [
        demand("a", &[("meal", "6"), ("blood", "4")]),
        demand("b", &[("meal", "3"), ("blood", "2")]),
        demand("c", &[("meal", "9"), ("blood", "6")]),
    ];
    let list = least_list(&shed(offers), &demands, &[]);
    // 18 kg of meal in two packs, 20; one pack of each, 26; 12 kg of blood in two packs, 32.
    assert_eq!(lines(&list), ["2 x 10 kg meal"]);
    let met: Vec<(&str, Mass)> =
        list.met.iter().map(|met| (met.path.as_str(), met.weight)).collect();
    assert_eq!(met, [("a", kg("6")), ("b", kg("3")), ("c", kg("9"))]);
}

#[test]
fn who_delivers_what_was_chosen_by_weight_asks_no_second_charge() {
    let mut unpriced = offer("meal", "far", &[]);
    unpriced.packs = vec![pack("5", None)];
    let offers = vec![
        unpriced,
        offer("potash", "far", &[("10", "10")]),
        offer("potash", "near", &[("10", "18")]),
    ];
    let mut shed = shed(offers);
    shed.suppliers = vec![supplier("far", "12", Some("15"))];
    let demands = [demand("a", &[("meal", "4")]), demand("b", &[("potash", "8")])];
    let list = least_list(&shed, &demands, &[]);
    assert_eq!(list.cost, money("22"));
    assert!(list.lines.iter().all(|line| line.offer.supplier == "far"));
    let below =
        Note::BelowMinimum { supplier: "far".to_owned(), spent: money("10"), minimum: money("15") };
    assert!(list.notes.contains(&below));
}
