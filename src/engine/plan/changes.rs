//! Where no side-dress plan can hold a crop: which change would do. Each is weighed with every visit at
//! its cap, which tells how short any plan leaves the crop; where its doses are asked for, the bed is
//! planned with it and solved again.

use crate::calendar::Date;
use crate::catalogue::{Material, MaterialKind};
use crate::engine::dose::before::QUICK_DAYS;
use crate::engine::dose::{Dose, Ready};
use crate::engine::release::Release;
use crate::engine::setting::{Setting, Trials};
use crate::engine::side_dress::{self, Problem, Shortage};
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::Mass;
use crate::record::Applied;
use crate::season::Stuff;

use super::BedPlan;
use super::bed::{Manner, Planned};
use super::choice::Choices;
use super::open::DAYS_APART;
use super::prepared::Prepared;
use super::solved::{self, Request, Schedule, Trial};

/// A material is quicker where its share at once is larger by this part (proposed).
const QUICKER: f64 = 1.05;
/// What is spread beside a growing crop.
const BESIDE_CROPS: [MaterialKind; 3] =
    [MaterialKind::Mineral, MaterialKind::AnimalMeal, MaterialKind::PlantMeal];
/// Least nitrogen, in percent, of a material that is proposed from the catalogue (proposed): of what
/// holds less too much would have to be carried.
const LEAST_PERCENT: i64 = 5;
/// Of two days that leave as much lacking, up to rounding, the later is taken.
const SAME: f64 = 1.0 - 1e-9;

/// A change that was tried, and what came of it.
#[derive(Clone, Debug)]
pub struct Change {
    /// What was changed.
    pub kind: ChangeKind,
    /// Where it is still short; nothing where the change does.
    pub left: Option<Shortage>,
    /// All doses that serve the planting then, in order of date, where they were asked for.
    pub doses: Vec<Dose>,
}

/// What can be changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ChangeKind {
    /// Dressed with something quicker.
    Quicker {
        /// Its name.
        material: String,
        /// Whether it is in the shed.
        in_shed: bool,
    },
    /// Dressed from an earlier day on.
    Earlier(Date),
    /// Dressed on one more day, between two visits.
    OneMore(Date),
}

/// The best day of those tried, and where the planting is still short with it.
struct Best {
    day: Date,
    left: Option<Shortage>,
}

/// A bed that is planned again.
pub(super) struct Again<'a> {
    pub setting: &'a Setting<'a>,
    pub index: usize,
    pub applied: &'a [&'a Applied],
    pub schedule: &'a Schedule,
    pub choices: Option<&'a Choices>,
    /// The bed planned up to its dressings.
    pub prepared: &'a Prepared<'a>,
}

impl Again<'_> {
    /// Tries the changes for every planting of the bed that no plan can hold.
    pub fn try_changes(&self, plan: &mut BedPlan, requests: &[Request]) {
        let short = Npk {
            nitrogen: true,
            phosphate: plan.phosphate.still_short.value() > Mass::ZERO,
            potash: plan.potash.still_short.value() > Mass::ZERO,
        };
        for planting in &mut plan.plantings {
            let asked = requests.iter().find(|one| one.planting == planting.index);
            let Some(asked) = asked.filter(|_| planting.shortage.is_some()) else { continue };
            let own;
            let stage = if self.prepared.serves_all() {
                self.prepared
            } else {
                let bed = &self.setting.season.beds[self.index];
                let (manner, at) = (self.manner(self.schedule, None), Some(planting.index));
                own = Prepared::of(self.setting, self.index, bed, self.applied, manner, at);
                &own
            };
            let wide = self.wide(asked, stage);
            let earlier = wide.as_ref().and_then(|wide| self.earlier(asked, wide));
            let one_more = wide.as_ref().and_then(|wide| self.one_more(asked, wide));
            let tried = [self.quicker(asked, &short, stage), earlier, one_more];
            planting.changes = tried.into_iter().flatten().collect();
        }
    }

    /// Dressed with the quickest material in the shed; where that does not do or there is none, with
    /// the quickest in the catalogue.
    fn quicker(&self, asked: &Request, short: &Npk<bool>, stage: &Prepared<'_>) -> Option<Change> {
        // Where no visit is open, nothing is given, quick or slow.
        asked.first_visit?;
        let season = self.setting.season;
        let organic = season.garden.organic;
        let shed = season.shed.iter().filter(|item| suits(&item.stuff.material, organic));
        let mut shed = shed.map(|item| Ready::of(&item.stuff));
        let listed = |material| Stuff {
            material,
            overrides: Default::default(),
            place: crate::figure::Place::default(),
        };
        let strong = |ready: &Ready| {
            let least = rust_decimal::Decimal::from(LEAST_PERCENT);
            ready.content.shares.nitrogen.value().percent() >= least
        };
        let tried = |all: &mut dyn Iterator<Item = Ready>, in_shed: bool| {
            let ready = self.quickest(all, asked, short)?;
            let material = ready.name().to_owned();
            let trial =
                Trial { planting: asked.planting, material: Some(ready), ..Trial::default() };
            let left = self.problem(&trial, stage)?.left(|_| true);
            Some(self.change(ChangeKind::Quicker { material, in_shed }, left, &trial))
        };
        let from_shed = tried(&mut shed, true);
        if from_shed.as_ref().is_some_and(|change| change.left.is_none()) {
            return from_shed;
        }
        let all = season.catalogue.materials_of(&BESIDE_CROPS).filter(|one| suits(one, organic));
        let mut all = all.map(|one| Ready::of(&listed(one))).filter(strong);
        let from_catalogue = tried(&mut all, false);
        let worst = |change: &Change| change.left.as_ref().map_or(0.0, |left| left.worst);
        match (from_shed, from_catalogue) {
            (Some(shed), Some(other)) => {
                Some(if worst(&other) < worst(&shed) { other } else { shed })
            }
            (shed, other) => shed.or(other),
        }
    }

    /// The quickest of some materials that is quicker than the one in use: of those that bring
    /// nothing that is not short, where there are any, and the first of equally quick ones.
    fn quickest(
        &self,
        all: &mut dyn Iterator<Item = Ready>,
        asked: &Request,
        short: &Npk<bool>,
    ) -> Option<Ready> {
        let now = self.quickness(&asked.release, asked);
        let (mut plain, mut mixed) = (None, None);
        for ready in all.filter(|ready| ready.carries(Nutrient::Nitrogen)) {
            let quickness = self.quickness(&ready.content.release.typical, asked);
            let brings_more = ready.brings_what_is_not_short(Nutrient::Nitrogen, short);
            let best = if brings_more { &mut mixed } else { &mut plain };
            let before = best.as_ref().map_or(now * QUICKER, |(most, _)| *most);
            if quickness > before {
                *best = Some((quickness, ready));
            }
            // Nothing is quicker than at once.
            if plain.as_ref().is_some_and(|(most, _)| *most >= 1.0) {
                break;
            }
        }
        plain.or(mixed).map(|(_, ready)| ready)
    }

    /// How much of what becomes available by harvest does so in two weeks, given on the first visit.
    fn quickness(&self, release: &Release, asked: &Request) -> f64 {
        let climate = &self.setting.climate;
        let Some(day) = asked.first_visit else { return 0.0 };
        let all = release.by(climate, day, asked.end);
        if all > 0.0 { release.by(climate, day, day + QUICK_DAYS) / all } else { 0.0 }
    }

    /// Dressed from an earlier day on: the latest visit day that does, else the latest day of any
    /// kind, else the one that helps most. The visits from that day on are open.
    fn earlier(&self, asked: &Request, wide: &Wide) -> Option<Change> {
        let days = earlier_days(asked);
        // A visit within half a week of it gives way.
        let near = |day: Date, visit: Date| visit > day && visit - day < DAYS_APART;
        let open = |day: Date, visit: Date| {
            visit == day || (visit > day && wide.visits.contains(&visit) && !near(day, visit))
        };
        let on_visits = days.iter().copied().filter(|day| wide.visits.contains(day)).collect();
        let best = wide.tried.best(on_visits, open).filter(|best| best.left.is_none());
        let Best { day, left } = best.or_else(|| wide.tried.best(days, open))?;
        let closed = wide.visits.iter().copied().filter(|visit| near(day, *visit)).collect();
        let planting = asked.planting;
        let trial =
            Trial { planting, days: vec![day], first: Some(day), closed, ..Trial::default() };
        Some(self.change(ChangeKind::Earlier(day), left, &trial))
    }

    /// Dressed on one more day, midway between two visits: the latest that does, else the one that
    /// helps most.
    fn one_more(&self, asked: &Request, wide: &Wide) -> Option<Change> {
        let first = asked.first_visit?;
        let open = |day: Date, visit: Date| {
            visit == day || (visit >= first && wide.visits.contains(&visit))
        };
        let Best { day, left } = wide.tried.best(days_between(asked, &wide.visits), open)?;
        let trial = Trial { planting: asked.planting, days: vec![day], ..Trial::default() };
        Some(self.change(ChangeKind::OneMore(day), left, &trial))
    }

    /// The planting with every day open that is tried as an earlier one or as one more.
    fn wide(&self, asked: &Request, stage: &Prepared<'_>) -> Option<Wide> {
        let visits = solved::visits(self.setting, None);
        let mut days = earlier_days(asked);
        days.extend(days_between(asked, &visits));
        // A crop that stood over winter has its first visit on the very day it sprouts.
        let first = asked.first_visit.into_iter().chain([asked.earliest]).min();
        let trial = Trial { planting: asked.planting, days, first, ..Trial::default() };
        Some(Wide { visits, tried: self.problem(&trial, stage)? })
    }

    /// What a planting asks with something tried.
    fn problem(&self, trial: &Trial, stage: &Prepared<'_>) -> Option<Tried> {
        let requests = stage.asks(self.manner(self.schedule, Some(trial)));
        let request = requests.into_iter().find(|one| one.planting == trial.planting)?;
        let trifle = request.trifle;
        Some(Tried { problem: solved::problem(self.setting, &[request], Some(trial)), trifle })
    }

    fn change(&self, kind: ChangeKind, weighed: Option<Shortage>, trial: &Trial) -> Change {
        if self.setting.trials == Trials::Planned {
            let (left, doses) = self.solved(trial);
            return Change { kind, left, doses };
        }
        Change { kind, left: weighed, doses: Vec::new() }
    }

    /// Plans the bed with something tried, and solves it: where the planting is still short, and the
    /// doses that serve it.
    fn solved(&self, trial: &Trial) -> (Option<Shortage>, Vec<Dose>) {
        let asked = self.planned(self.schedule, trial).requests;
        let mut schedules = solved::solve(self.setting, &asked, Some(trial));
        let schedule = schedules.remove(&self.index).unwrap_or_default();
        let mut again = self.planned(&schedule, trial).plan;
        again.doses.retain(|dose| dose.counts.iter().any(|(at, _)| *at == trial.planting));
        let planting = again.plantings.into_iter().find(|one| one.index == trial.planting);
        (planting.and_then(|planting| planting.shortage), again.doses)
    }

    fn planned(&self, schedule: &Schedule, trial: &Trial) -> Planned {
        let manner = self.manner(schedule, Some(trial));
        if self.prepared.serves_all() {
            self.prepared.planned(manner, None)
        } else {
            self.prepared.planned_anew(manner)
        }
    }

    fn manner<'b>(&'b self, schedule: &'b Schedule, trial: Option<&'b Trial>) -> Manner<'b> {
        Manner { schedule: Some(schedule), choices: self.choices, survey: false, trial }
    }
}

/// Whether a material is of a kind that is spread beside a growing crop in this garden.
fn suits(material: &Material, organic: bool) -> bool {
    BESIDE_CROPS.contains(&material.kind) && (material.organic || !organic)
}

/// The days from the earliest possible one to the eve of the first visit; where no visit is open at
/// all, to the last useful day.
fn earlier_days(asked: &Request) -> Vec<Date> {
    let end = asked.first_visit.unwrap_or(asked.last_useful + 1);
    (asked.earliest.number()..end.number()).map(Date::from_number).collect()
}

/// The days midway between two visits, from the first visit to the last useful day.
fn days_between(asked: &Request, visits: &[Date]) -> Vec<Date> {
    let Some(first) = asked.first_visit else { return Vec::new() };
    let from = visits.iter().filter(|visit| **visit >= first).map(|visit| *visit + DAYS_APART);
    from.take_while(|day| *day <= asked.last_useful).collect()
}

/// A planting that may be dressed on many days, to see which of them are of use.
struct Wide {
    /// The usual visits.
    visits: Vec<Date>,
    /// With the days tried beside them.
    tried: Tried,
}

/// One planting as the solver takes it.
struct Tried {
    problem: Problem,
    trifle: f64,
}

impl Tried {
    /// How short the planting stays with the visits that are open all at their caps, which is as
    /// short as any solution leaves it.
    fn left(&self, open: impl Fn(Date) -> bool) -> Option<Shortage> {
        let planting = self.problem.plantings.first()?;
        let visits = self.problem.visits.iter().zip(planting.caps.iter()).enumerate();
        let visits = visits.filter(|(_, (visit, _))| open(**visit));
        let visits = visits.map(|(at, (_, cap))| (at, *cap));
        side_dress::shortage_on(&self.problem, planting, visits, self.trifle)
    }

    /// The best of some days, rising: tells for each of them which visits are open.
    fn best(&self, days: Vec<Date>, open: impl Fn(Date, Date) -> bool) -> Option<Best> {
        let tried = days
            .into_iter()
            .rev()
            .map(|day| Best { day, left: self.left(|visit| open(day, visit)) });
        let short =
            |best: &Best| best.left.as_ref().map_or((0, 0.0), |left| (left.days, left.worst));
        tried.reduce(|best, one| {
            let ((days, worst), (least_days, least)) = (short(&one), short(&best));
            let fewer = days < least_days || (days == least_days && worst < least * SAME);
            if fewer { one } else { best }
        })
    }
}
