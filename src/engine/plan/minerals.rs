//! The phosphate and potash budget of a bed.

use crate::calendar::Date;
use crate::engine::content::phosphate_available;
use crate::engine::credit::BedAmendment;
use crate::engine::dose::before::Room;
use crate::engine::ground::Strip;
use crate::engine::minerals::{self, MineralBasis, MineralRate};
use crate::engine::rules;
use crate::engine::soil::Soil;
use crate::figure::Figure;
use crate::nutrient::Nutrient;
use crate::quantity::{Area, Mass, Share};

/// Phosphate or potash of one bed and year.
#[derive(Clone, Debug)]
pub struct MineralBudget {
    /// Which.
    pub nutrient: Nutrient,
    /// Why each planting needs what it does, by index within the bed.
    pub bases: Vec<MineralBasis>,
    /// The need.
    pub need: Figure<Mass>,
    /// What is spread on the bed this season: path name, label, weight that counts this year.
    pub credits: Vec<(String, String, Figure<Mass>)>,
    /// All credits added up.
    pub credit: Figure<Mass>,
    /// What is short.
    pub shortfall: Figure<Mass>,
    /// What is over: with all phosphate counted, since what is not available now builds up.
    pub surplus: Figure<Mass>,
    /// What is planned.
    pub planned: Figure<Mass>,
    /// What is above the yearly limit.
    pub not_planned: Figure<Mass>,
    /// What the doses bring.
    pub given: Figure<Mass>,
    /// What stays short after the doses.
    pub still_short: Figure<Mass>,
    /// By how much what is spread and dosed passes the need, as it counts this year.
    pub past_need: Figure<Mass>,
}

impl MineralBudget {
    /// What comes free only after this year of what is spread, where nothing is short: it is counted
    /// in the surplus, since it builds up. Zero elsewhere.
    pub fn free_later(&self) -> Mass {
        if self.surplus.is_zero() || !self.shortfall.is_zero() {
            return Mass::ZERO;
        }
        self.surplus.value() - (self.credit.value() - self.need.value())
    }

    /// What some of the ground misses, and the part of it that is filled up now: that of the ground
    /// which bears its first crop of the year.
    pub(super) fn of_ground(&self, part: Option<&Figure<Share>>, ground: &Figure<Share>) -> Room {
        let word = self.nutrient.word();
        let of = |whole: &Figure<Mass>, part: &Figure<Share>, label: &str| {
            if part.value() == Share::WHOLE {
                return whole.clone();
            }
            (whole * part).by(format_args!("{word} {label} this ground"), &rules::BEFORE_PLANTING)
        };
        let missing = of(&self.still_short, part.unwrap_or(ground), "short on");
        let short = match part {
            Some(_) => missing.clone(),
            None => Figure::fixed("for this ground", Mass::ZERO, &rules::BEFORE_PLANTING),
        };
        let missing = match of(&self.past_need, ground, "past the need of") {
            past if past.is_zero() => missing,
            past => (&missing - &past).called(format_args!("{word} the ground still misses")),
        };
        Room { short, missing }
    }

    /// Counts what a day before planting changed on some of the ground.
    pub(super) fn count(&mut self, before: &Room, after: &Room) {
        let brought = (&before.missing - &after.missing).called("brought to this ground");
        if before.short.is_zero() {
            self.take(&brought);
        } else {
            let served = (&before.short - &after.short).called("given to this ground");
            self.served(&served);
            self.passed(&(&brought - &served).at_least_zero());
        }
    }

    /// Counts what a dose brings: first against what is short, the rest as past the need.
    pub(super) fn take(&mut self, brought: &Figure<Mass>) {
        let rest = (brought - &self.still_short).at_least_zero();
        self.served(brought);
        self.passed(&rest);
    }

    fn served(&mut self, amount: &Figure<Mass>) {
        if !amount.is_zero() && !self.still_short.is_zero() {
            self.still_short = (&self.still_short - amount)
                .at_least_zero()
                .called(format_args!("{} still short", self.nutrient.word()));
        }
    }

    fn passed(&mut self, amount: &Figure<Mass>) {
        if !amount.is_zero() {
            self.past_need = (&self.past_need + amount)
                .called(format_args!("{} past the need", self.nutrient.word()));
        }
    }
}

/// What the budget of a bed is drawn up from.
#[derive(Debug)]
pub struct Given<'a> {
    /// Its soil.
    pub soil: &'a Soil,
    /// Its strips.
    pub strips: &'a [Strip],
    /// What each planting needs.
    pub rates: &'a [MineralRate],
    /// What each harvest carries away, without factor.
    pub removals: &'a [Option<Figure<crate::quantity::Rate>>],
    /// The whole bed.
    pub bed_area: &'a Figure<Area>,
    /// The ground that bears something this year.
    pub planted: &'a Figure<Area>,
    /// What is spread on it.
    pub amendments: &'a [BedAmendment],
    /// The last harvest of the year, where anything is grown: what is spread after it feeds no crop
    /// of this year.
    pub last_harvest: Option<Date>,
}

/// Draws up the budget of open ground.
pub fn budget(nutrient: Nutrient, given: &Given<'_>) -> MineralBudget {
    let need = minerals::bed_need(given.soil, nutrient, given.strips, given.rates, given.removals);
    let mut credits: Vec<(String, String, Figure<Mass>)> = Vec::new();
    let mut whole: Vec<Figure<Mass>> = Vec::new();
    for amendment in given.amendments {
        let Some(weight) =
            amendment.weight.as_ref().filter(|_| amendment.content.carries(nutrient))
        else {
            continue;
        };
        let all =
            (weight * &amendment.content.shares[nutrient]).by("in what is spread", &rules::CONTENT);
        let here = match given.planted.ratio_to(given.bed_area) {
            Some(part)
                if given.planted.value() != given.bed_area.value()
                    && amendment.planting.is_none() =>
            {
                (&all * &part.called("share of the bed planted")).called("on the ground planted")
            }
            _ => all,
        };
        whole.push(here.clone());
        if given.last_harvest.is_some_and(|last| amendment.on > last) {
            continue;
        }
        let low = given.soil.low_in_phosphorus();
        let counted = match phosphate_available(&amendment.stuff, low)
            .filter(|_| nutrient == Nutrient::Phosphate)
        {
            Some(share) => &here * &share,
            None => here,
        };
        let counted = counted.by(amendment.label.clone(), &rules::CONTENT);
        credits.push((amendment.slug.clone(), amendment.label.clone(), counted));
    }
    let bases = given.rates.iter().map(|rate| rate.basis).collect();
    let cap = minerals::yearly_cap(nutrient, given.planted);
    finish(nutrient, bases, need, credits, &whole, Some(&cap))
}

/// Puts a budget together from need and credits; `whole` is what is spread with all of it counted.
pub fn finish(
    nutrient: Nutrient,
    bases: Vec<MineralBasis>,
    need: Figure<Mass>,
    credits: Vec<(String, String, Figure<Mass>)>,
    whole: &[Figure<Mass>],
    cap: Option<&Figure<Mass>>,
) -> MineralBudget {
    let credit = Figure::total(credits.iter().map(|(_, _, figure)| figure)).called("credits");
    let shortfall = (&need - &credit).at_least_zero().by("shortfall", &rules::SHORTFALL);
    let all = Figure::total(whole).called("spread in all");
    let surplus = (&all - &need).at_least_zero().by("surplus", &rules::SURPLUS);
    let planned = match cap {
        Some(cap) if cap.value() < shortfall.value() => {
            Figure::least(&shortfall, &[cap]).by("planned", &rules::YEARLY_CAP)
        }
        _ => shortfall.clone().by("planned", &rules::PLANNED),
    };
    let not_planned = (&shortfall - &planned).at_least_zero().by("not planned", &rules::YEARLY_CAP);
    let none = Figure::fixed("given", Mass::ZERO, &rules::BEFORE_PLANTING);
    let past_need =
        (&credit - &need).at_least_zero().called(format_args!("{} past the need", nutrient.word()));
    MineralBudget {
        nutrient,
        bases,
        need,
        credits,
        credit,
        shortfall,
        surplus,
        still_short: planned.clone(),
        planned,
        not_planned,
        given: none,
        past_need,
    }
}
