//! Packs in the programme of a block, and what suppliers and offers ask for besides.

use microlp::{ComparisonOp, Variable};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use super::block::Aim;
use super::model::{Model, Packs, Row, Setting, add, kilograms};
use crate::quantity::{Mass, Money, to_float};

/// The most packs of one size that are considered.
const MOST_PACKS: i32 = 1_000_000_000;

/// Something that is bought from or not at all: a supplier who asks for a charge or a least order,
/// or an offer with a least weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Switch {
    Supplier(usize),
    Offer(usize),
}

/// What belongs to a switch in a programme.
struct Switched {
    switch: Switch,
    /// Each pack with its price, or its weight.
    sizes: Row,
    /// Each pack with the most of it.
    most: Row,
}

impl Setting<'_> {
    /// The cost of a pack in the aim of the block.
    fn pack_cost(&self, pack: usize) -> f64 {
        let pack = self.case.packs[pack];
        match self.block.aim {
            Aim::Cost => to_float(pack.price.unwrap_or(Money::ZERO).units()),
            Aim::Weight => kilograms(pack.weight.get()),
        }
    }

    /// The largest cost of a pack.
    pub fn largest_pack_cost(&self) -> f64 {
        self.block.packs.iter().map(|pack| self.pack_cost(*pack)).fold(0.0, f64::max)
    }

    /// Whether the supplier asks for a charge or a least order in this block.
    pub fn asks(&self, supplier: usize) -> bool {
        let asked = &self.case.suppliers[supplier];
        self.block.aim == Aim::Cost
            && !self.opened[supplier]
            && (asked.delivery > Money::ZERO
                || asked.minimum.is_some_and(|least| least > Money::ZERO))
    }

    /// The switches that a pack hangs on.
    fn switches_of(&self, pack: usize) -> impl Iterator<Item = Switch> {
        let pack = self.case.packs[pack];
        let supplier = self.asks(pack.supplier).then_some(Switch::Supplier(pack.supplier));
        let least = self.case.offers[pack.offer].minimum;
        let offer =
            least.is_some_and(|least| least > Mass::ZERO).then_some(Switch::Offer(pack.offer));
        supplier.into_iter().chain(offer)
    }

    /// The switches of the block, suppliers first.
    pub fn switches(&self) -> Vec<Switch> {
        let mut all: Vec<Switch> =
            self.block.packs.iter().flat_map(|pack| self.switches_of(*pack)).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    fn decision(&self, switch: Switch) -> Option<bool> {
        self.decided.iter().find(|(other, _)| *other == switch).map(|(_, open)| *open)
    }

    /// The most packs of one size that any least list has.
    fn most_packs(&self, pack: usize) -> i32 {
        let pack = self.case.packs[pack];
        let mut wanted = Mass::ZERO;
        for wanting in &self.block.demands {
            let ways = &self.case.demands[wanting.demand].ways;
            let of_material = wanting.ways.iter().flat_map(|way| &ways[*way].parts);
            let most = of_material.filter(|part| part.0 == pack.material).map(|part| part.1).max();
            wanted += most.unwrap_or(Mass::ZERO);
        }
        wanted = (wanted - self.case.stock[pack.material]).at_least(Mass::ZERO);
        wanted = wanted.at_least(self.case.offers[pack.offer].minimum.unwrap_or(Mass::ZERO));
        let mut most = ratio(wanted.kg(), pack.weight.get().kg());
        if self.asks(pack.supplier)
            && let (Some(least), Some(price)) =
                (self.case.suppliers[pack.supplier].minimum, pack.price)
            && price > Money::ZERO
        {
            most = most.saturating_add(ratio(least.units(), price.units()));
        }
        most.min(MOST_PACKS)
    }

    /// Adds packs, the charges and least orders of suppliers, and the least weights of offers.
    pub fn add_packs(&self, packs: Packs, model: &mut Model, use_of: &mut [(Row, Mass)]) {
        let mut switched: Vec<Switched> = Vec::new();
        for (at, index) in self.block.packs.iter().enumerate() {
            let most = self.most_packs(*index);
            let shut = self.switches_of(*index).any(|switch| self.decision(switch) == Some(false));
            if most == 0 || shut {
                continue;
            }
            let pack = self.case.packs[*index];
            let cost = self.pack_cost(*index) / model.scale;
            let count = match packs {
                Packs::Whole => model.problem.add_integer_var(cost, (0, most)),
                Packs::Parted => model.problem.add_var(cost, (0.0, f64::from(most))),
            };
            model.packs[at] = Some(count);
            let weight = kilograms(pack.weight.get());
            use_of[pack.material].0.push((count, -weight));
            for switch in self.switches_of(*index) {
                let size = match switch {
                    Switch::Supplier(_) => to_float(pack.price.unwrap_or(Money::ZERO).units()),
                    Switch::Offer(_) => weight,
                };
                let known = switched.iter().position(|other| other.switch == switch);
                let known = known.unwrap_or_else(|| {
                    switched.push(Switched { switch, sizes: Row::new(), most: Row::new() });
                    switched.len() - 1
                });
                switched[known].sizes.push((count, size));
                switched[known].most.push((count, f64::from(most)));
            }
        }
        for one in switched {
            self.add_switch(packs, model, one);
        }
    }

    /// Adds what a switch asks for: shut, none of its packs; open, its charge and so much of them.
    fn add_switch(&self, packs: Packs, model: &mut Model, switched: Switched) {
        let (charge, least) = match switched.switch {
            Switch::Supplier(supplier) => {
                let asked = &self.case.suppliers[supplier];
                let least = asked.minimum.unwrap_or(Money::ZERO);
                (to_float(asked.delivery.units()), to_float(least.units()))
            }
            Switch::Offer(offer) => (0.0, self.case.offers[offer].minimum.map_or(0.0, kilograms)),
        };
        // A least order cannot be reached with packs that cost nothing; the list says so.
        let reachable = switched.sizes.iter().any(|(_, size)| *size > 0.0);
        let least = if reachable { least } else { 0.0 };
        if self.decision(switched.switch) == Some(true) {
            model.charges += charge;
            if least > 0.0 {
                add(&mut model.problem, switched.sizes, ComparisonOp::Ge, least, 0.0);
            }
            return;
        }
        let cost = charge / model.scale;
        let open: Variable = match packs {
            Packs::Whole => model.problem.add_binary_var(cost),
            Packs::Parted => model.problem.add_var(cost, (0.0, 1.0)),
        };
        for (count, most) in switched.most {
            add(&mut model.problem, vec![(count, 1.0), (open, -most)], ComparisonOp::Le, 0.0, 0.0);
        }
        if least > 0.0 {
            let mut row = switched.sizes;
            row.push((open, -least));
            add(&mut model.problem, row, ComparisonOp::Ge, 0.0, 0.0);
        }
    }
}

/// How many of `each` it takes to reach `whole`, rounded up.
fn ratio(whole: Decimal, each: Decimal) -> i32 {
    let count = whole.checked_div(each).and_then(|count| count.ceil().to_i32());
    count.unwrap_or(MOST_PACKS)
}
