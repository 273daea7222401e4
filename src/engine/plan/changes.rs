//! Where no side-dress plan can hold a crop: which change would do, each tried by solving again.

use crate::calendar::Date;
use crate::catalogue::MaterialKind;
use crate::engine::dose::before::QUICK_DAYS;
use crate::engine::dose::{Dose, Ready};
use crate::engine::release::Release;
use crate::engine::setting::Setting;
use crate::engine::side_dress::{self, Problem, Shortage};
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::Mass;
use crate::record::Applied;
use crate::season::Stuff;

use super::bed::{self, Planned};
use super::choice::Choices;
use super::solved::{self, Request, Schedule, Trial};

/// Days that must lie between a dressing tried and the visits around it (proposed): half a week.
const DAYS_APART: i32 = 3;
/// A material is quicker where its share at once is larger by this part (proposed).
const QUICKER: f64 = 1.05;
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
    /// All doses that serve the planting then, in order of date.
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

/// The best day of those tried.
struct Best {
    day: Date,
    does: bool,
}

/// A bed that is planned again.
pub(super) struct Again<'a> {
    pub setting: &'a Setting<'a>,
    pub index: usize,
    pub applied: &'a [&'a Applied],
    pub schedule: &'a Schedule,
    pub choices: &'a Choices,
}

impl Again<'_> {
    /// Tries the changes for every planting of the bed that no plan can hold.
    pub fn try_changes(&self, planned: &mut Planned) {
        let plan = &planned.plan;
        let short = Npk {
            nitrogen: true,
            phosphate: plan.phosphate.still_short.value() > Mass::ZERO,
            potash: plan.potash.still_short.value() > Mass::ZERO,
        };
        for planting in &mut planned.plan.plantings {
            let asked = planned.requests.iter().find(|one| one.planting == planting.index);
            let Some(asked) = asked.filter(|_| planting.shortage.is_some()) else { continue };
            let tried = [self.quicker(asked, &short), self.earlier(asked), self.one_more(asked)];
            planting.changes = tried.into_iter().flatten().collect();
        }
    }

    /// Dressed with the quickest material in the shed; where that does not do or there is none, with
    /// the quickest in the catalogue.
    fn quicker(&self, asked: &Request, short: &Npk<bool>) -> Option<Change> {
        // Where no visit is open, nothing is given, quick or slow.
        asked.first_visit?;
        let season = self.setting.season;
        let shed = season.shed.iter().map(|item| Ready::of(&item.stuff)).collect();
        let listed = |material| Stuff {
            material,
            overrides: Default::default(),
            place: crate::figure::Place::default(),
        };
        let strong = |ready: &Ready| {
            let least = rust_decimal::Decimal::from(LEAST_PERCENT);
            ready.content.shares.nitrogen.value().percent() >= least
        };
        let tried = |all: Vec<Ready>, in_shed: bool| {
            let ready = self.quickest(all, asked, short)?;
            let material = ready.name().to_owned();
            let trial =
                Trial { planting: asked.planting, material: Some(ready), ..Trial::default() };
            Some(self.solved(ChangeKind::Quicker { material, in_shed }, &trial))
        };
        let from_shed = tried(shed, true);
        if from_shed.as_ref().is_some_and(|change| change.left.is_none()) {
            return from_shed;
        }
        let all = season.catalogue.materials().map(|one| Ready::of(&listed(one)));
        let from_catalogue = tried(all.filter(strong).collect(), false);
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
    fn quickest(&self, all: Vec<Ready>, asked: &Request, short: &Npk<bool>) -> Option<Ready> {
        let organic = self.setting.season.garden.organic;
        let quick = |ready: &Ready| self.quickness(&ready.content.release.typical, asked);
        let now = self.quickness(&asked.release, asked);
        let fits = |ready: &Ready| {
            let material = &ready.stuff.material;
            let kind = matches!(
                material.kind,
                MaterialKind::Mineral | MaterialKind::AnimalMeal | MaterialKind::PlantMeal
            );
            kind && ready.carries(Nutrient::Nitrogen)
                && (material.organic || !organic)
                && quick(ready) > now * QUICKER
        };
        let (plain, mixed): (Vec<Ready>, Vec<Ready>) = all
            .into_iter()
            .filter(fits)
            .partition(|ready| !ready.brings_what_is_not_short(Nutrient::Nitrogen, short));
        let quickest = |list: Vec<Ready>| {
            list.into_iter().reduce(|best, one| if quick(&one) > quick(&best) { one } else { best })
        };
        quickest(plain).or_else(|| quickest(mixed))
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
    fn earlier(&self, asked: &Request) -> Option<Change> {
        // Where no visit is open at all, a day before the last useful one may still be.
        let usual = asked.first_visit.unwrap_or(asked.last_useful + 1);
        let visits = solved::visits(self.setting, None);
        let days: Vec<Date> =
            (asked.earliest.number()..usual.number()).map(Date::from_number).collect();
        let first = *days.first()?;
        let trial = Trial {
            planting: asked.planting,
            days: days.clone(),
            first: Some(first),
            ..Trial::default()
        };
        // A visit within half a week of it gives way.
        let near = |day: Date, visit: Date| visit > day && visit - day < DAYS_APART;
        let open = |day: Date, visit: Date| {
            visit == day || (visit > day && visits.contains(&visit) && !near(day, visit))
        };
        let on_visits = days.iter().copied().filter(|day| visits.contains(day)).collect();
        let wide = self.wide(trial)?;
        let best = wide.best(on_visits, open).filter(|best| best.does);
        let day = best.or_else(|| wide.best(days, open))?.day;
        let closed = visits.iter().copied().filter(|visit| near(day, *visit)).collect();
        let planting = asked.planting;
        let trial =
            Trial { planting, days: vec![day], first: Some(day), closed, ..Trial::default() };
        Some(self.solved(ChangeKind::Earlier(day), &trial))
    }

    /// Dressed on one more day, midway between two visits: the latest that does, else the one that
    /// helps most.
    fn one_more(&self, asked: &Request) -> Option<Change> {
        let first = asked.first_visit?;
        let visits = solved::visits(self.setting, None);
        let days: Vec<Date> = visits
            .iter()
            .filter(|visit| **visit >= first)
            .map(|visit| *visit + DAYS_APART)
            .take_while(|day| *day <= asked.last_useful)
            .collect();
        let planting = asked.planting;
        let trial = Trial { planting, days: days.clone(), ..Trial::default() };
        let open = |day: Date, visit: Date| visit == day || visits.contains(&visit);
        let day = self.wide(trial)?.best(days, open)?.day;
        let trial = Trial { planting, days: vec![day], ..Trial::default() };
        Some(self.solved(ChangeKind::OneMore(day), &trial))
    }

    /// The planting with all days of a trial open at once.
    fn wide(&self, trial: Trial) -> Option<Wide> {
        let requests = self.planned(self.schedule, &trial).requests;
        let request = requests.into_iter().find(|one| one.planting == trial.planting)?;
        let trifle = request.trifle;
        let problem = solved::problem(self.setting, &[request], Some(&trial));
        Some(Wide { problem, trifle })
    }

    /// Plans the bed with something tried, solves it, and tells where it is still short.
    fn solved(&self, kind: ChangeKind, trial: &Trial) -> Change {
        let asked = self.planned(self.schedule, trial).requests;
        let mut schedules = solved::solve(self.setting, &asked, Some(trial));
        let schedule = schedules.remove(&self.index).unwrap_or_default();
        let mut again = self.planned(&schedule, trial).plan;
        let planting = again.plantings.into_iter().find(|one| one.index == trial.planting);
        again.doses.retain(|dose| dose.counts.iter().any(|(at, _)| *at == trial.planting));
        let left = planting.and_then(|planting| planting.shortage);
        Change { kind, left, doses: again.doses }
    }

    fn planned(&self, schedule: &Schedule, trial: &Trial) -> Planned {
        let bed = &self.setting.season.beds[self.index];
        let manner = bed::Manner {
            schedule: Some(schedule),
            choices: Some(self.choices),
            survey: false,
            trial: Some(trial),
        };
        bed::plan(self.setting, self.index, bed, self.applied, manner)
    }
}

/// A planting that may be dressed on many days, to see which of them are of use.
struct Wide {
    problem: Problem,
    trifle: f64,
}

impl Wide {
    /// The best of some days, rising: tells for each of them which visits are open, and looks how
    /// short the planting stays with all those at their caps.
    fn best(&self, days: Vec<Date>, open: impl Fn(Date, Date) -> bool) -> Option<Best> {
        let problem = &self.problem;
        let left = |day: Date| {
            let mut planting = problem.plantings.first()?.clone();
            for (cap, visit) in planting.caps.iter_mut().zip(&problem.visits) {
                if !open(day, *visit) {
                    *cap = 0.0;
                }
            }
            let left = side_dress::shortage(problem, &planting, self.trifle);
            Some(left.map_or((0, 0.0), |left| (left.days, left.worst)))
        };
        let tried = days.into_iter().rev().filter_map(|day| Some((left(day)?, day)));
        let better = |best: ((usize, f64), Date), one: ((usize, f64), Date)| {
            let ((days, worst), (least_days, least)) = (one.0, best.0);
            let fewer = days < least_days || (days == least_days && worst < least * SAME);
            if fewer { one } else { best }
        };
        tried.reduce(better).map(|((days, _), day)| Best { day, does: days == 0 })
    }
}
