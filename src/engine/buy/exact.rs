//! From what the solver found, in floating point, to weights that add up exactly.

use std::cmp::Reverse;

use super::block::{Aim, Block};
use super::case::{Stint, Way, times};
use super::model::Setting;
use crate::quantity::{Mass, Money, Positive, Quantity, Share, settle};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

/// Part of a demand that nobody could weigh: less is not spread, and not missed.
const NOTHING: Decimal = Decimal::from_parts(1, 0, 0, false, 6);

/// Shares for each demand and open way of a block, and counts for each of its packs.
#[derive(Clone, Debug)]
pub(super) struct Draft {
    pub shares: Vec<Vec<Share>>,
    pub counts: Vec<u64>,
}

/// A block with its list, checked exactly.
#[derive(Clone, Debug)]
pub(super) struct Settled {
    pub block: Block,
    pub draft: Draft,
    /// Price of packs and delivery in money, or weight of packs in kilograms, as the block aims.
    pub amount: Decimal,
    /// Share of the amount that a better list could save; zero where this is the least.
    pub spare: Share,
    /// Doses left short.
    pub unmet: Decimal,
    /// Phosphate onto soil that has enough.
    pub unwanted: Mass,
}

/// What a draft uses against what there is.
struct Ledger<'a> {
    setting: Setting<'a>,
    draft: Draft,
    /// Left of each material and each limit; below zero where more is used than there is.
    materials: Vec<Mass>,
    limits: Vec<Mass>,
    /// What there is of each, to judge what is left against.
    had: (Vec<Mass>, Vec<Mass>),
}

/// Whether more is used than there is, beyond the tail that division leaves.
pub(super) fn over(left: Mass, had: Mass) -> bool {
    settle((had - left).kg()) > settle(had.kg())
}

/// Checks a draft exactly: moves what rounding misplaced between the ways of a demand, and takes
/// off packs that nothing needs.
///
/// # Errors
/// Names that of which more is used than there is.
pub(super) fn settle_draft(setting: &Setting, draft: &Draft) -> Result<Settled, Vec<Stint>> {
    let mut ledger = Ledger::open(setting, draft.clone());
    ledger.move_excess();
    ledger.fill();
    let broken = ledger.broken();
    if !broken.is_empty() {
        return Err(broken);
    }
    ledger.take_off_packs();
    Ok(ledger.close())
}

/// Settles a draft by cutting doses where more is used than there is.
pub(super) fn settle_short(setting: &Setting, draft: Draft) -> Settled {
    let mut ledger = Ledger::open(setting, draft);
    ledger.move_excess();
    ledger.cut();
    ledger.fill();
    ledger.take_off_packs();
    ledger.close()
}

impl<'a> Ledger<'a> {
    fn open(setting: &Setting<'a>, mut draft: Draft) -> Self {
        for (shares, wanting) in draft.shares.iter_mut().zip(&setting.block.demands) {
            tidy(shares, wanting.tight);
        }
        let mut materials = setting.case.stock.clone();
        for (pack, count) in setting.block.packs.iter().zip(&draft.counts) {
            let pack = setting.case.packs[*pack];
            materials[pack.material] += pack.weight.get() * times(*count);
        }
        let limits = setting.case.limits.clone();
        let had = (materials.clone(), limits.clone());
        let mut ledger = Self { setting: *setting, draft, materials, limits, had };
        for demand in 0..ledger.draft.shares.len() {
            for way in 0..ledger.draft.shares[demand].len() {
                let share = ledger.draft.shares[demand][way];
                ledger.draft.shares[demand][way] = Share::ZERO;
                ledger.spread(demand, way, share);
            }
        }
        ledger
    }

    fn way(&self, demand: usize, way: usize) -> &'a Way {
        let wanting = &self.setting.block.demands[demand];
        &self.setting.case.demands[wanting.demand].ways[wanting.ways[way]]
    }

    /// Meets so much more of a demand in one way.
    fn spread(&mut self, demand: usize, way: usize, share: Share) {
        self.draft.shares[demand][way] += share;
        let way = self.way(demand, way);
        for (material, weight) in &way.parts {
            self.materials[*material] = self.materials[*material] - *weight * share;
        }
        for (limit, draw) in &way.draws {
            self.limits[*limit] = self.limits[*limit] - *draw * share;
        }
    }

    fn left(&self, stint: Stint) -> Mass {
        match stint {
            Stint::Material(at) => self.materials[at],
            Stint::Limit(at) => self.limits[at],
        }
    }

    fn overdrawn(&self, stint: Stint) -> bool {
        let had = match stint {
            Stint::Material(at) => self.had.0[at],
            Stint::Limit(at) => self.had.1[at],
        };
        over(self.left(stint), had)
    }

    /// Everything of which more is used than there is.
    fn broken(&self) -> Vec<Stint> {
        let materials = self.setting.block.materials.iter().map(|at| Stint::Material(*at));
        let limits = (0..self.limits.len()).map(Stint::Limit);
        materials.chain(limits).filter(|stint| self.overdrawn(*stint)).collect()
    }

    /// The ways that use up something, those that use most of it first: of their demands the least
    /// part has to give way.
    fn users(&self, stint: Stint) -> Vec<(usize, usize, Positive<Mass>)> {
        let mut users = Vec::new();
        for (demand, shares) in self.draft.shares.iter().enumerate() {
            for (way, share) in shares.iter().enumerate() {
                if *share > Share::ZERO
                    && let Some(each) = self.way(demand, way).takes(stint)
                {
                    users.push((demand, way, each));
                }
            }
        }
        users.sort_by_key(|(demand, way, each)| (Reverse(*each), *demand, *way));
        users
    }

    /// The share of a demand by which this way may grow.
    fn room(&self, demand: usize, way: usize) -> Share {
        let used = self.way(demand, way);
        let mut most = Share::WHOLE;
        let mut hold = |left: Mass, each: Mass| {
            if let Some(each) = Positive::new(each) {
                most = most.at_most(left.at_least(Mass::ZERO) / each);
            }
        };
        used.parts.iter().for_each(|(at, each)| hold(self.materials[*at], *each));
        used.draws.iter().for_each(|(at, each)| hold(self.limits[*at], *each));
        most
    }

    /// Moves what is overdrawn to other ways of the same demand that have room for it, the harmless
    /// ones first.
    fn move_excess(&mut self) {
        for stint in self.broken() {
            for (demand, from, each) in self.users(stint) {
                let mut others: Vec<usize> = (0..self.draft.shares[demand].len())
                    .filter(|way| self.way(demand, *way).takes(stint).is_none())
                    .collect();
                others.sort_by_key(|way| self.way(demand, *way).unwanted);
                for to in others {
                    if self.overdrawn(stint) {
                        let share = (-self.left(stint) / each)
                            .at_most(self.draft.shares[demand][from])
                            .at_most(self.room(demand, to));
                        self.spread(demand, from, -share);
                        self.spread(demand, to, share);
                    }
                }
            }
        }
    }

    /// Gives demands left short what is still to be had: the solver leaves the slack of its rows.
    fn fill(&mut self) {
        for demand in 0..self.draft.shares.len() {
            for way in 0..self.draft.shares[demand].len() {
                let short = Share::WHOLE - self.draft.shares[demand].iter().copied().sum();
                let share = self.room(demand, way).at_most(short);
                if share > Share::ZERO {
                    self.spread(demand, way, share);
                }
            }
        }
    }

    /// Cuts doses until nothing is overdrawn.
    fn cut(&mut self) {
        for stint in self.broken() {
            for (demand, way, each) in self.users(stint) {
                if self.overdrawn(stint) {
                    let share = -self.left(stint) / each;
                    self.spread(demand, way, -share.at_most(self.draft.shares[demand][way]));
                }
            }
        }
    }

    /// Takes off packs without which everything is met still; the largest first.
    fn take_off_packs(&mut self) {
        let mut order: Vec<usize> = (0..self.draft.counts.len()).collect();
        let pack_at = |at: usize| self.setting.case.packs[self.setting.block.packs[at]];
        order.sort_by_key(|at| Reverse(pack_at(*at).weight));
        for at in order {
            let pack = self.setting.case.packs[self.setting.block.packs[at]];
            let left = (self.materials[pack.material] / pack.weight).fraction().floor();
            let mut fewer = left.to_u64().unwrap_or(0).min(self.draft.counts[at]);
            while fewer > 0 {
                self.draft.counts[at] -= fewer;
                if self.least_orders_hold() {
                    let off = pack.weight.get() * times(fewer);
                    self.materials[pack.material] = self.materials[pack.material] - off;
                    break;
                }
                self.draft.counts[at] += fewer;
                fewer /= 2;
            }
        }
    }

    /// Whether every supplier and offer that is bought from gets its least order.
    fn least_orders_hold(&self) -> bool {
        let (case, block) = (self.setting.case, self.setting.block);
        let bought = || block.packs.iter().map(|pack| case.packs[*pack]).zip(&self.draft.counts);
        let offers_hold = case.offers.iter().enumerate().all(|(at, offer)| {
            let weight: Mass = bought()
                .filter(|(pack, _)| pack.offer == at)
                .map(|(pack, count)| pack.weight.get() * times(*count))
                .sum();
            weight.is_zero() || offer.minimum.is_none_or(|least| weight >= least)
        });
        let suppliers_hold = case.suppliers.iter().enumerate().all(|(at, supplier)| {
            let from = || bought().filter(|(pack, count)| pack.supplier == at && **count > 0);
            let spent: Money =
                from().filter_map(|(pack, count)| Some(pack.price? * times(*count))).sum();
            let least = supplier.minimum.filter(|_| self.setting.asks(at));
            from().next().is_none() || least.is_none_or(|least| spent >= least)
        });
        offers_hold && suppliers_hold
    }

    fn close(self) -> Settled {
        let (case, block) = (self.setting.case, self.setting.block);
        let mut unwanted = Mass::ZERO;
        let mut unmet = Decimal::ZERO;
        for (demand, shares) in self.draft.shares.iter().enumerate() {
            unmet += shortfall(shares).fraction();
            for (way, share) in shares.iter().enumerate() {
                unwanted += self.way(demand, way).unwanted * *share;
            }
        }
        let mut amount = Decimal::ZERO;
        let mut from = vec![false; case.suppliers.len()];
        for (pack, count) in block.packs.iter().zip(&self.draft.counts) {
            let pack = case.packs[*pack];
            amount += match block.aim {
                Aim::Cost => (pack.price.unwrap_or(Money::ZERO) * times(*count)).units(),
                Aim::Weight => (pack.weight.get() * times(*count)).kg(),
            };
            from[pack.supplier] |= *count > 0;
        }
        for (at, supplier) in case.suppliers.iter().enumerate() {
            if from[at] && self.setting.asks(at) {
                amount += supplier.delivery.units();
            }
        }
        let spare = Share::ZERO;
        Settled { block: block.clone(), draft: self.draft, amount, spare, unmet, unwanted }
    }
}

/// The share of a demand that its ways leave unmet, where there is any to speak of.
pub(super) fn shortfall(shares: &[Share]) -> Share {
    let short = Share::WHOLE - shares.iter().copied().sum();
    if short.fraction() <= NOTHING { Share::ZERO } else { short }
}

/// Rounds the shares of a demand so that they add up to the whole, or, where the demand may have
/// to go short, to no more than it. Crumbs are given to the largest share.
fn tidy(shares: &mut [Share], may_be_short: bool) {
    for share in shares.iter_mut() {
        if share.fraction() <= NOTHING {
            *share = Share::ZERO;
        }
    }
    let Some(largest) = (0..shares.len()).max_by_key(|way| (shares[*way], usize::MAX - way)) else {
        return;
    };
    let rest = Share::WHOLE - shares.iter().copied().sum();
    let crumb = rest.fraction() <= NOTHING;
    if crumb || !may_be_short {
        // The solver may meet a demand more than once over where that costs nothing.
        let mut excess = -rest;
        for way in (0..shares.len()).filter(|way| *way != largest) {
            let cut = excess.at_least(Share::ZERO).at_most(shares[way]);
            shares[way] = shares[way] - cut;
            excess = excess - cut;
        }
        shares[largest] = shares[largest] - excess;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shares(texts: &[&str]) -> Vec<Share> {
        let share = |text: &&str| Share::from_fraction(text.parse().expect("a decimal"));
        texts.iter().map(share).collect()
    }

    fn tidied(texts: &[&str], may_be_short: bool) -> Vec<Share> {
        let mut found = shares(texts);
        tidy(&mut found, may_be_short);
        found
    }

    #[test]
    fn shares_add_up_to_the_whole() {
        assert_eq!(
            tidied(&["0.333333333", "0.666666667"], false),
            shares(&["0.333333333", "0.666666667"])
        );
        assert_eq!(tidied(&["0.000000001", "0.999999998"], false), shares(&["0", "1"]));
        assert_eq!(tidied(&["0.5", "1"], false), shares(&["0", "1"]));
        assert_eq!(tidied(&["0.75", "0.75"], false), shares(&["0.75", "0.25"]));
        assert_eq!(tidied(&["0.3", "0.2"], true), shares(&["0.3", "0.2"]));
        assert_eq!(tidied(&["0.3", "0.699999999"], true), shares(&["0.3", "0.7"]));
    }

    #[test]
    fn a_millionth_of_a_dose_is_not_missed() {
        assert_eq!(shortfall(&shares(&["0.9999999"])), Share::ZERO);
        assert_eq!(shortfall(&shares(&["0.9"])), shares(&["0.1"])[0]);
    }
}
