//! Sheds made up from a seed: the same on every run and machine.

use rust_decimal::Decimal;
use topdress::engine::buy::{
    Alternative, Certainty, Demand, Draw, Limit, Offer, Pack, Part, Shed, Stock, Supplier,
};
use topdress::nutrient::read_analysis;
use topdress::quantity::{Mass, Money, Positive};

/// A made-up problem.
pub struct Made {
    /// What is on hand and on offer.
    pub shed: Shed,
    /// What the beds ask for.
    pub demands: Vec<Demand>,
    /// Bounds over several demands.
    pub limits: Vec<Limit>,
}

/// How a shed is made up.
#[derive(Clone, Copy, Debug)]
pub struct Shape {
    /// How many demands.
    pub demands: u64,
    /// How many materials, each of which may meet any demand.
    pub materials: u64,
    /// How many sizes of pack, over all materials.
    pub packs: u64,
    /// How many suppliers.
    pub suppliers: u64,
    /// One demand in so many has no choice; 0 for none.
    pub named: u64,
    /// Whether suppliers ask for delivery charges and least orders.
    pub charges: bool,
    /// Whether prices, weights and needs are drawn from few round figures, so that many lists tie.
    pub round: bool,
    /// Whether some materials are not on offer, so that doses go short.
    pub scarce: bool,
    /// Whether a material's release is one of few, as on the few days that a garden is dressed.
    pub alike: bool,
    /// Whether there are limits, unwanted phosphate and ways of two materials.
    pub limits: bool,
}

/// The shapes the 500 sheds go through in turn. None has more than 200 variables or 20 whole ones.
pub fn shape(seed: u64) -> Shape {
    let plain = Shape {
        demands: 6,
        materials: 3,
        packs: 6,
        suppliers: 2,
        named: 3,
        charges: false,
        round: false,
        scarce: false,
        alike: false,
        limits: false,
    };
    match seed % 10 {
        0 => Shape { demands: 12, materials: 5, packs: 10, ..plain },
        1 => Shape { demands: 30, materials: 6, packs: 18, named: 0, ..plain },
        2 => Shape { demands: 28, materials: 6, packs: 14, suppliers: 3, charges: true, ..plain },
        3 => Shape { demands: 45, materials: 4, packs: 15, suppliers: 4, charges: true, ..plain },
        4 => Shape { round: true, packs: 8, ..plain },
        5 => Shape {
            demands: 25,
            materials: 7,
            packs: 16,
            suppliers: 2,
            charges: true,
            round: true,
            named: 5,
            ..plain
        },
        6 => Shape { demands: 20, materials: 6, packs: 12, scarce: true, ..plain },
        7 => Shape { demands: 10, materials: 4, packs: 10, scarce: true, limits: true, ..plain },
        8 => Shape {
            demands: 24,
            materials: 6,
            packs: 14,
            suppliers: 3,
            charges: true,
            limits: true,
            ..plain
        },
        _ => Shape {
            demands: 1 + seed % 7,
            materials: 1 + seed % 4,
            charges: seed.is_multiple_of(3),
            ..plain
        },
    }
}

/// A linear congruential generator.
pub struct Dice(u64);

impl Dice {
    /// Starts it from a seed.
    pub fn new(seed: u64) -> Self {
        let mut dice = Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x5851_f42d_4c95_7f2d);
        dice.roll(2);
        dice
    }

    fn roll(&mut self, sides: u64) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % sides
    }

    /// A number from `low` to `high` with so many places.
    fn number(&mut self, low: u64, high: u64, places: u32) -> Decimal {
        let scale = 10_u64.pow(places);
        let digits = low * scale + self.roll((high - low) * scale + 1);
        Decimal::new(i64::try_from(digits).expect("small"), places)
    }
}

fn name(word: &str, at: u64) -> String {
    format!("{word}-{at:02}")
}

/// Makes up a shed.
pub fn make(seed: u64, shape: Shape) -> Made {
    let mut dice = Dice::new(seed);
    let scarce: Vec<bool> =
        (0..shape.materials).map(|_| shape.scarce && dice.roll(5) < 2).collect();
    let mut shed = Shed::default();
    // Pounds of each material that do what one kilogram of nitrogen does, and its usual price.
    let strength: Vec<Decimal> = (0..shape.materials)
        .map(|_| if shape.round { Decimal::from(dice.roll(2) + 1) } else { dice.number(2, 20, 2) })
        .collect();
    for at in 0..shape.packs {
        let material = if at < shape.materials { at } else { dice.roll(shape.materials) };
        if scarce[material as usize] {
            continue;
        }
        let weight = match (shape.round, dice.roll(4)) {
            (true, size) => Decimal::from([1, 5, 5, 10][size as usize]),
            (false, 0) => dice.number(20, 60, 1),
            (false, _) => dice.number(1, 25, 1),
        };
        let price = if shape.round {
            weight * Decimal::from(dice.roll(3))
        } else {
            let each = dice.number(1, 3, 2) * Decimal::from(6) / strength[material as usize];
            (weight * each).round_dp(2)
        };
        let supplier = name("supplier", dice.roll(shape.suppliers));
        let pack = Pack {
            weight: Positive::new(Mass::from_kg(weight)).expect("a weight"),
            price: Some(Money::from_units(price)),
        };
        let material = name("material", material);
        let known = |offer: &&mut Offer| offer.material == material && offer.supplier == supplier;
        if let Some(offer) = shed.offers.iter_mut().find(known) {
            offer.packs.push(pack);
            continue;
        }
        // A least weight takes one more whole variable; few sheds have room for more than one.
        let minimum = (shape.charges && at == 0).then(|| Mass::from_kg(dice.number(5, 60, 0)));
        let analysis = read_analysis("10-0-0").expect("a label");
        shed.offers.push(Offer { material, supplier, analysis, packs: vec![pack], minimum });
    }
    for at in (0..shape.suppliers).filter(|_| shape.charges) {
        let delivery = Money::from_units(dice.number(0, 30, if shape.round { 0 } else { 2 }));
        let minimum = (dice.roll(2) == 0).then(|| Money::from_units(dice.number(10, 80, 0)));
        shed.suppliers.push(Supplier { name: name("supplier", at), delivery, minimum });
    }
    for (at, scarce) in (0..shape.materials).zip(&scarce) {
        if *scarce || dice.roll(3) == 0 {
            let on_hand = Mass::from_kg(dice.number(0, 15, if shape.round { 0 } else { 1 }));
            shed.stock.push(Stock { material: name("material", at), on_hand });
        }
    }
    let demands = (0..shape.demands).map(|at| demand(&mut dice, shape, &strength, at)).collect();
    let limits = if shape.limits {
        (0..3)
            .map(|at| Limit { key: name("limit", at), most: Mass::from_kg(dice.number(0, 2, 2)) })
            .collect()
    } else {
        Vec::new()
    };
    Made { shed, demands, limits }
}

fn demand(dice: &mut Dice, shape: Shape, strength: &[Decimal], at: u64) -> Demand {
    let nitrogen = if shape.round {
        Decimal::from(dice.roll(4) + 1)
    } else {
        dice.number(0, 1, 3) + Decimal::new(5, 2)
    };
    let mut ways = Vec::new();
    for material in 0..shape.materials {
        // Materials differ from bed to bed in how much of them is released in time.
        let release = match (shape.round, shape.alike) {
            (true, _) => Decimal::ONE,
            (_, true) => {
                Decimal::ONE
                    + Decimal::new(i64::try_from(at % 8 * (material + 1)).expect("small"), 2)
            }
            _ => dice.number(1, 2, 2),
        };
        let weight = Mass::from_kg(nitrogen * strength[material as usize] * release);
        let mut way = Alternative::of(name("material", material), weight);
        if shape.limits {
            if dice.roll(3) == 0 {
                way.unwanted = Mass::from_kg(dice.number(0, 1, 2));
            }
            if dice.roll(3) == 0 {
                let limit = name("limit", dice.roll(3));
                way.draws.push(Draw { limit, amount: Mass::from_kg(dice.number(0, 1, 2)) });
            }
            if dice.roll(6) == 0 {
                let other = name("material", dice.roll(shape.materials));
                way.parts
                    .push(Part { material: other, weight: Mass::from_kg(dice.number(0, 3, 2)) });
            }
        }
        ways.push(way);
    }
    if shape.named > 0 && dice.roll(shape.named) == 0 {
        let only = dice.roll(shape.materials) as usize;
        ways = vec![ways.swap_remove(only)];
    }
    Demand { path: name("bed", at), certainty: Certainty::Certain, alternatives: ways }
}
