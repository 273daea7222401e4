//! The side-dress plan solved for the whole garden: what each planting asks of it, and what it gets.

use std::collections::BTreeMap;

use crate::calendar::Date;
use crate::engine::dose::Ready;
use crate::engine::dose::caps::Caps;
use crate::engine::dose::dress::{self, Dressed};
use crate::engine::release::Release;
use crate::engine::setting::Setting;
use crate::engine::side_dress::{self, Material, Problem, Shortage};
use crate::engine::timeline::{self, LEAD_DAYS};
use crate::engine::trifle;
use crate::hands::each;
use crate::quantity::to_float;
use crate::season::How;

use super::planting::Ledger;

/// Days after planting up to which a dressing is one at about three weeks: a week of visits from
/// day 21 on.
const LATEST_FIRST_DAY: i32 = 27;

/// What one planting asks of the solved plan.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Request {
    /// Bed within the season.
    pub bed: usize,
    /// Planting within the bed.
    pub planting: usize,
    /// What it is dressed with, as it releases.
    pub release: Release,
    /// The last day of its life.
    pub end: Date,
    /// Its first usual visit, where it has one.
    pub first_visit: Option<Date>,
    /// The earliest day it could be dressed on at all.
    pub earliest: Date,
    /// The last day on which nitrogen is of use to it.
    pub last_useful: Date,
    /// Kilograms that it is no news to be short by.
    pub trifle: f64,
    /// The planting as the solver takes it; its material is filled in later.
    pub wanted: side_dress::Planting,
}

/// A change in how one planting is dressed, to be tried.
#[derive(Clone, Debug, Default)]
pub(super) struct Trial {
    /// The planting, as an index within the bed.
    pub planting: usize,
    /// What it is dressed with.
    pub material: Option<Ready>,
    /// Days it may be dressed on besides the garden's visits, rising.
    pub days: Vec<Date>,
    /// The day it may be dressed from, where that is not the usual one.
    pub first: Option<Date>,
    /// Visits on which it is not dressed.
    pub closed: Vec<Date>,
}

/// For whom, and from when, a request is drawn up.
pub(super) struct Asked<'a> {
    /// Bed within the season.
    pub bed: usize,
    /// The usual first day of a dressing.
    pub first: Date,
    /// The earliest day on which one could be given at all.
    pub earliest: Date,
    /// What is tried.
    pub trial: Option<&'a Trial>,
}

/// What one planting gets: total nitrogen in kilograms on each day; and where that cannot hold.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Turn {
    /// Doses by day.
    pub doses: Vec<(Date, f64)>,
    /// Where no plan can hold.
    pub shortage: Option<Shortage>,
}

/// What the plantings of one bed get.
pub(super) type Schedule = BTreeMap<usize, Turn>;

/// The days of the season's year on which a garden can be visited, and those that are tried.
pub(super) fn visits(setting: &Setting<'_>, trial: Option<&Trial>) -> Vec<Date> {
    let first = setting.today.map_or(setting.new_year(), |today| today.max(setting.new_year()));
    let (first, last) = (first.next_on_or_after(setting.visit_day()), setting.year_end());
    let mut days: Vec<Date> =
        (first.number()..=last.number()).step_by(7).map(Date::from_number).collect();
    if let Some(trial) = trial {
        days.extend(&trial.days);
        days.sort_unstable();
        days.dedup();
    }
    days
}

/// Draws up what a planting asks: by the end of each day what demand, five days ahead, leaves over
/// what feeds it already, no more than is still planned.
pub(super) fn request(
    asked: &Asked<'_>,
    dressed: &Dressed<'_>,
    ready: &Ready,
    ledger: &Ledger,
    given: Vec<Vec<f64>>,
) -> Request {
    let setting = dressed.setting;
    let (climate, crop, life) = (&setting.climate, &dressed.planting.crop.value, dressed.life);
    let rest = to_float(dressed.nitrogen.value().kg());
    let mut need = timeline::demand(climate, crop, life, ledger.need.value(), LEAD_DAYS);
    let credits = ledger
        .credits
        .iter()
        .map(|credit| timeline::shaped(climate, life, &credit.shape, credit.nitrogen.value()));
    for source in credits.chain(given) {
        for (wanted, there) in need.iter_mut().zip(source) {
            *wanted -= there;
        }
    }
    let last_useful = dress::last_day(dressed);
    let share = to_float(ready.content.shares.nitrogen.value().fraction());
    let days = visits(setting, asked.trial);
    let tried = asked.trial.filter(|trial| trial.planting == dressed.index);
    let first_possible = tried.and_then(|trial| trial.first).unwrap_or(asked.first);
    let usual = |day: Date| day.weekday() == setting.visit_day();
    let caps_of = Caps::of(dressed, ready);
    let cap_on = |day: Date| {
        let open = tried.map_or(usual(day), |trial| !trial.closed.contains(&day));
        if !open || day < first_possible || day > last_useful {
            return 0.0;
        }
        caps_of.weighed(day) * share
    };
    let caps: Vec<f64> = days.iter().map(|day| cap_on(*day)).collect();
    // What is asked does not change with the days that are tried: its first usual visit counts even
    // where it is closed.
    let usual_days = days.iter().copied().filter(|day| usual(*day));
    let mut to_come = usual_days.filter(|day| (asked.first..=last_useful).contains(day));
    let usual_cap = |day: Date| caps_of.weighed(day) * share;
    let first_visit = to_come.find(|day| usual_cap(*day) > 0.0);
    // A crop that stood over winter gets nothing before its first spring visit, so nothing is asked
    // until then.
    let asleep = life.regrowth.and(first_visit).map_or(0, |day| day - life.planted);
    // What was wanted before today cannot be given any more.
    let past = setting.today.map_or(0, |today| today - life.planted);
    for (day, wanted) in (0..).zip(&mut need) {
        *wanted = if day < asleep.max(past) { 0.0 } else { wanted.clamp(0.0, rest) };
    }
    if let Some(first) = first_visit.filter(|day| early(dressed, ledger, *day)) {
        // What a dose of a usual part on that day makes available can be had in no other way.
        let release = &ready.content.release.typical;
        let all = release.by(climate, first, life.end);
        let cap = usual_cap(first);
        let whole = if all > 0.0 { rest / all } else { 0.0 };
        let parts = (whole / cap).ceil().max(crop.side_dress.days.len() as f64).max(1.0);
        let dose = (whole / parts).min(cap);
        for (day, wanted) in (0..).zip(&mut need) {
            let there = dose * release.by(climate, first, life.planted + day);
            *wanted = wanted.max(there.min(rest));
        }
    }
    // The budget says how much in all: the curves only say when.
    if let Some(last) = need.last_mut() {
        *last = rest;
    }
    let pounds = 1.0 / 0.453_592_37;
    let wanted = side_dress::Planting {
        material: 0,
        first: life.planted,
        need: need.into(),
        caps: caps.into(),
        weight: pounds,
        bulk: if share > 0.0 { 1.0 / share } else { 0.0 },
    };
    Request {
        bed: asked.bed,
        planting: dressed.index,
        release: ready.content.release.typical,
        end: life.end,
        first_visit,
        earliest: asked.earliest,
        last_useful,
        trifle: trifle::of_float(to_float(ledger.need.value().kg())),
        wanted,
    }
}

/// Whether the first visit is one on which a heading brassica that was set out gets its first dressing,
/// about three weeks after (common practice): not for other crops, where that time has passed, or where
/// it has been dressed already.
fn early(dressed: &Dressed<'_>, ledger: &Ledger, first_visit: Date) -> bool {
    let (planting, planted) = (dressed.planting, dressed.life.planted);
    let sown = planting.how.is_some_and(|how| how.value == How::Seed);
    let dressed_already = |day: Option<Date>| day.is_some_and(|day| day > planted);
    planting.crop.value.heading
        && !sown
        && !ledger.credits.iter().any(|credit| dressed_already(credit.recorded))
        && first_visit - planted <= LATEST_FIRST_DAY
}

/// Solves the garden, or one bed of it with something tried; nothing where nothing is asked.
pub(super) fn solve(
    setting: &Setting<'_>,
    requests: &[Request],
    trial: Option<&Trial>,
) -> BTreeMap<usize, Schedule> {
    let mut schedules: BTreeMap<usize, Schedule> = BTreeMap::new();
    if requests.is_empty() {
        return schedules;
    }
    let problem = problem(setting, requests, trial);
    let solved = side_dress::solve(&problem);
    let turns = each(requests.len(), |at| {
        let (planting, kept) = (&problem.plantings[at], &solved.plantings[at]);
        let doses =
            kept.doses.iter().map(|(visit, amount)| (problem.visits[*visit], *amount)).collect();
        let short = || side_dress::shortage(&problem, planting, requests[at].trifle);
        Turn { doses, shortage: kept.shortage.as_ref().and_then(|_| short()) }
    });
    for (request, turn) in requests.iter().zip(turns) {
        schedules.entry(request.bed).or_default().insert(request.planting, turn);
    }
    schedules
}

/// Solves for one planting as if the garden were its own.
pub(super) fn alone(setting: &Setting<'_>, request: &Request) -> Turn {
    let schedules = solve(setting, std::slice::from_ref(request), None);
    let turn = schedules.into_values().flat_map(BTreeMap::into_values).next();
    turn.unwrap_or_default()
}

/// Puts what is asked into the numbers that the solver takes.
pub(super) fn problem(
    setting: &Setting<'_>,
    requests: &[Request],
    trial: Option<&Trial>,
) -> Problem {
    let visits = visits(setting, trial);
    let mut kinds: Vec<Kind> = Vec::new();
    let plantings = requests
        .iter()
        .map(|request| {
            let known = kinds.iter().position(|kind| kind.release == request.release);
            let material = known.unwrap_or_else(|| {
                let (release, end) = (request.release, request.end);
                kinds.push(Kind { release, of_use: vec![false; visits.len()], end });
                kinds.len() - 1
            });
            kinds[material].serve(request);
            side_dress::Planting { material, ..request.wanted.clone() }
        })
        .collect();
    let climate = &setting.climate;
    let material =
        |kind: &Kind| Material::of_release(&kind.release, climate, &visits, &kind.of_use, kind.end);
    let materials = kinds.iter().map(material).collect();
    Problem { visits, materials, plantings }
}

/// What some plantings are dressed with.
struct Kind {
    release: Release,
    /// The visits on which any of them may be.
    of_use: Vec<bool>,
    /// The last day that any of them lives.
    end: Date,
}

impl Kind {
    fn serve(&mut self, request: &Request) {
        for (of_use, cap) in self.of_use.iter_mut().zip(request.wanted.caps.iter()) {
            *of_use |= *cap > 0.0;
        }
        self.end = self.end.max(request.end);
    }
}
