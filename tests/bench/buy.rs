//! How long a shopping list takes, and the seeded sheds for `tests/oracle/buy.py`.
//!
//! `cargo bench --bench buy` prints times. `cargo bench --bench buy -- dump 500` writes one shed a
//! line as JSON, with the list found and the seconds it took, for the oracle to solve again.

mod sheds;

use std::io::{self, Write};
use std::time::Instant;

use serde_json::{Value, json};
use sheds::{Made, Shape, make, shape};
use topdress::engine::buy::{Alternative, Demand, List, Proof, buy, least_list};

fn main() -> io::Result<()> {
    let words: Vec<String> = std::env::args().skip(1).filter(|word| word != "--bench").collect();
    let out = &mut io::stdout().lock();
    match words.first().map(String::as_str) {
        Some("dump") => dump(out, words.get(1).and_then(|count| count.parse().ok()).unwrap_or(500)),
        _ => figures(out),
    }
}

/// Writes sheds, one a line.
fn dump(out: &mut impl Write, count: u64) -> io::Result<()> {
    for seed in 0..count {
        let made = make(seed, shape(seed));
        let (list, seconds) = timed(&made);
        writeln!(out, "{}", as_json(seed, &made, &list, seconds))?;
    }
    Ok(())
}

/// The list and the seconds it took, the better of two runs.
fn timed(made: &Made) -> (List, f64) {
    let run = || {
        let start = Instant::now();
        let list = least_list(&made.shed, &made.demands, &made.limits);
        (list, start.elapsed().as_secs_f64())
    };
    let (first, second) = (run(), run());
    assert_eq!(first.0, second.0, "the same shed gives the same list");
    (first.0, first.1.min(second.1))
}

fn as_json(seed: u64, made: &Made, list: &List, seconds: f64) -> Value {
    let way = |way: &Alternative| {
        let parts: Vec<Value> = way
            .parts
            .iter()
            .map(|part| json!([part.material, part.weight.kg().to_string()]))
            .collect();
        let draws: Vec<Value> = way
            .draws
            .iter()
            .map(|draw| json!([draw.limit, draw.amount.kg().to_string()]))
            .collect();
        json!({ "parts": parts, "draws": draws, "unwanted": way.unwanted.kg().to_string() })
    };
    let demand = |demand: &Demand| -> Vec<Value> { demand.alternatives.iter().map(way).collect() };
    let shed = &made.shed;
    let packs: Vec<Value> = shed
        .offers
        .iter()
        .enumerate()
        .flat_map(|(at, offer)| {
            offer.packs.iter().map(move |pack| {
                json!({
                    "offer": at,
                    "material": offer.material,
                    "supplier": offer.supplier,
                    "weight": pack.weight.get().kg().to_string(),
                    "price": pack.price.map(|price| price.units().to_string()),
                })
            })
        })
        .collect();
    let suppliers: Vec<Value> = shed
        .suppliers
        .iter()
        .map(|one| {
            let minimum = one.minimum.map(|money| money.units().to_string());
            json!({ "name": one.name, "delivery": one.delivery.units().to_string(), "minimum": minimum })
        })
        .collect();
    let stock: Vec<Value> = shed
        .stock
        .iter()
        .map(|held| json!([held.material, held.on_hand.kg().to_string()]))
        .collect();
    let limits: Vec<Value> =
        made.limits.iter().map(|limit| json!([limit.key, limit.most.kg().to_string()])).collect();
    let minimums: Vec<Value> = shed
        .offers
        .iter()
        .map(|offer| json!(offer.minimum.map(|mass| mass.kg().to_string())))
        .collect();
    json!({
        "seed": seed,
        "demands": made.demands.iter().map(demand).collect::<Vec<_>>(),
        "packs": packs,
        "offer_minimums": minimums,
        "suppliers": suppliers,
        "stock": stock,
        "limits": limits,
        "found": {
            "cost": list.cost.units().to_string(),
            "unmet": list.unmet.iter().map(|unmet| unmet.share.fraction().to_string()).collect::<Vec<_>>(),
            "unwanted": list.unwanted.iter().map(|one| one.phosphate.kg().to_string()).collect::<Vec<_>>(),
            "lines": list.lines.iter().map(|line| line.count).collect::<Vec<_>>(),
            "proven": list.proof == Proof::Least,
            "seconds": seconds,
        },
    })
}

/// Prints times.
fn figures(out: &mut impl Write) -> io::Result<()> {
    let mut times: Vec<f64> =
        (0..500).map(|seed| timed(&make(seed, shape(seed))).1 * 1e3).collect();
    times.sort_by(f64::total_cmp);
    writeln!(out, "500 seeded sheds: median {:.3} ms, worst {:.3} ms", times[250], times[499])?;
    let garden = Shape {
        demands: 250,
        materials: 8,
        packs: 20,
        suppliers: 3,
        named: 4,
        charges: true,
        ..shape(0)
    };
    for (demands, alike) in [(50, false), (250, false), (250, true), (1000, true)] {
        let made = make(1, Shape { demands, alike, ..garden });
        let start = Instant::now();
        let list = least_list(&made.shed, &made.demands, &made.limits);
        let alone = start.elapsed();
        let start = Instant::now();
        let answer = buy(&made.shed, &made.demands, &made.limits);
        let weighed = start.elapsed();
        writeln!(
            out,
            "{demands} doses{}, 8 materials, 20 packs, 3 suppliers who charge: {alone:.1?}, {:?}; with \
             {} rivals {weighed:.1?}",
            if alike { " on eight days" } else { "" },
            list.proof,
            answer.certain.rivals.len(),
        )?;
    }
    Ok(())
}
