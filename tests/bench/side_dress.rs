//! Measures the side-dress plan on seeded gardens: how quick, how many visits, how much unused.
//!
//! `cargo bench --bench side_dress` prints the figures; exit status 1 where one is missed. Where a
//! Python with SciPy is on the path (`PYTHON` names another), HiGHS solves the same gardens after that,
//! in `tests/oracle/side_dress.py`; where there is none, that is said.
//! `cargo bench --bench side_dress -- dump 200` writes gardens and their plans, one a line as JSON,
//! for that script.

mod gardens;

use std::collections::BTreeSet;
use std::io::{self, BufWriter, Write};
use std::process::{Command, ExitCode, Stdio};
use std::time::{Duration, Instant};

use gardens::garden;
use serde_json::json;
use topdress::calendar::Date;
use topdress::engine::dose::{Dose, Purpose};
use topdress::engine::plan::{self, PlantingPlan};
use topdress::engine::setting::{Setting, Trials};
use topdress::engine::side_dress::{Kept, Plan, Planting, Problem, solve, supply};
use topdress::engine::timeline::{Balance, Timeline};
use topdress::quantity::UnitSystem;
use topdress::season::Season;

const GARDENS: u64 = 1_000;
const MEDIAN: Duration = Duration::from_millis(5);
const WORST: Duration = Duration::from_millis(250);
const MANY_BEDS: usize = 10_000;
const MANY: Duration = Duration::from_secs(3);
const KILOGRAMS_PER_POUND: f64 = 0.453_592_37;
/// The script that solves gardens again with HiGHS.
const ORACLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/oracle/side_dress.py");

fn beds_of(seed: u64) -> usize {
    1 + (seed % 12) as usize
}

fn units_of(seed: u64) -> UnitSystem {
    if seed.is_multiple_of(3) { UnitSystem::Metric } else { UnitSystem::Us }
}

fn today() -> Option<Date> {
    Date::new(2027, 1, 2)
}

fn main() -> io::Result<ExitCode> {
    let words: Vec<String> = std::env::args().skip(1).filter(|word| word != "--bench").collect();
    let out = &mut io::stdout().lock();
    match words.first().map(String::as_str) {
        Some("dump") => {
            for seed in 0..words.get(1).and_then(|count| count.parse().ok()).unwrap_or(200) {
                let (problem, solved, time) = solved(seed);
                let again = timed(&problem);
                assert_eq!(solved, again.0, "the same garden has the same plan");
                write_down(out, seed, &problem, &solved, time.min(again.1))?;
            }
            Ok(ExitCode::SUCCESS)
        }
        _ => figures(out),
    }
}

fn problem(seed: u64, season: &Season) -> Problem {
    plan::side_dress_problem(season, units_of(seed), today())
}

fn timed(problem: &Problem) -> (Plan, Duration) {
    let start = Instant::now();
    let solved = solve(problem);
    (solved, start.elapsed())
}

/// A garden in numbers, its plan, and how long the plan took.
fn solved(seed: u64) -> (Problem, Plan, Duration) {
    let problem = problem(seed, &garden(seed, beds_of(seed)));
    let (plan, time) = timed(&problem);
    (problem, plan, time)
}

/// Crop-days on which a planting that could have been held is short.
fn avoidable(problem: &Problem, planting: &Planting, kept: &Kept) -> usize {
    let slack = 1e-6 * planting.need.iter().copied().fold(0.0, f64::max);
    let supply = supply(problem, planting, &kept.doses);
    let short =
        supply.iter().zip(planting.need.iter()).filter(|(supply, need)| *supply + slack < **need);
    short.count().saturating_sub(kept.shortage.as_ref().map_or(0, |shortage| shortage.days))
}

/// What one way of dressing came to, over all gardens, as weighed out.
#[derive(Default)]
struct Sums {
    visits: usize,
    days_short: usize,
    unused: f64,
}

impl Sums {
    fn add(&mut self, doses: &[&Dose], balances: &[Balance]) {
        let dressings = doses.iter().filter(|dose| dose.purpose == Purpose::SideDress);
        self.visits += dressings.map(|dose| dose.date).collect::<BTreeSet<_>>().len();
        self.days_short += balances.iter().map(|balance| balance.days_short).sum::<usize>();
        self.unused += balances.iter().map(|balance| balance.unused).sum::<f64>();
    }
}

fn balance(setting: &Setting<'_>, planting: &PlantingPlan, doses: &[Dose]) -> Balance {
    let serving: Vec<_> = doses
        .iter()
        .flat_map(|dose| dose.counts.iter().map(move |(at, counts)| (*at, dose, counts)))
        .filter(|(at, ..)| *at == planting.index)
        .map(|(_, dose, counts)| (dose, counts))
        .collect();
    let (need, credits) = (planting.need.value(), &planting.credits);
    let (crop, life) = (&planting.crop, &planting.life);
    Timeline::of(&setting.climate, crop, life, need, credits, &serving).balance()
}

/// Kilogram-days unused on plantings that the published weeks leave short on no more days than the
/// solved plan: where they leave a crop short for longer, they leave less lying for that very reason.
#[derive(Default)]
struct HeldAlike {
    plantings: usize,
    solved: f64,
    by_weeks: f64,
}

/// Both ways of dressing one garden, the whole season's reckoning around them.
fn compare(
    seed: u64,
    season: &Season,
    solved: &mut Sums,
    by_weeks: &mut Sums,
    alike: &mut HeldAlike,
) {
    let setting = Setting::new(season, units_of(seed), today());
    let planned = plan::plan_compared(season, units_of(seed), today(), &[], Trials::None);
    let (mut ours, mut theirs) = ((Vec::new(), Vec::new()), (Vec::new(), Vec::new()));
    for bed in &planned.beds {
        let weeks = bed.by_weeks.as_ref().unwrap_or(&bed.doses);
        for planting in &bed.plantings {
            let one = balance(&setting, planting, &bed.doses);
            let other = balance(&setting, planting, weeks);
            if other.days_short <= one.days_short {
                alike.plantings += 1;
                alike.solved += one.unused;
                alike.by_weeks += other.unused;
            }
            ours.1.push(one);
            theirs.1.push(other);
        }
        ours.0.extend(&bed.doses);
        theirs.0.extend(weeks);
    }
    solved.add(&ours.0, &ours.1);
    by_weeks.add(&theirs.0, &theirs.1);
}

fn figures(out: &mut impl Write) -> io::Result<ExitCode> {
    let mut times = Vec::new();
    let (mut solved, mut by_weeks) = (Sums::default(), Sums::default());
    let (mut held, mut alike) = (0, HeldAlike::default());
    for seed in 0..GARDENS {
        let season = garden(seed, beds_of(seed));
        let problem = problem(seed, &season);
        let (plan, time) = timed(&problem);
        times.push((time, seed));
        let plantings = problem.plantings.iter().zip(&plan.plantings);
        held +=
            plantings.map(|(planting, kept)| avoidable(&problem, planting, kept)).sum::<usize>();
        compare(seed, &season, &mut solved, &mut by_weeks, &mut alike);
    }
    let by_seed: Vec<Duration> = times.iter().map(|(time, _)| *time).collect();
    times.sort_unstable();
    let (median, worst) = (times[times.len() / 2].0, times[times.len() - 1]);
    writeln!(out, "{GARDENS} gardens of 1 to 12 beds, one thread")?;
    writeln!(out, "  median {median:.2?}, worst {:.2?} (garden {})", worst.0, worst.1)?;
    writeln!(out, "  crop-days short that could have been held: {held}")?;
    let mean = |sum: f64| sum / GARDENS as f64;
    for (name, sums) in [("solved", &solved), ("published weeks", &by_weeks)] {
        let (visits, unused) = (mean(sums.visits as f64), mean(sums.unused / KILOGRAMS_PER_POUND));
        let short = mean(sums.days_short as f64);
        writeln!(
            out,
            "  {name}: {visits:.2} visits, {unused:.3} pound-days unused, {short:.1} crop-days short a garden"
        )?;
    }
    writeln!(
        out,
        "  on {} plantings that the published weeks hold no worse: solved {:.3}, published weeks {:.3} \
         pound-days unused a garden",
        alike.plantings,
        mean(alike.solved / KILOGRAMS_PER_POUND),
        mean(alike.by_weeks / KILOGRAMS_PER_POUND),
    )?;
    whole_plans(out)?;
    let many = problem(7, &garden(7, MANY_BEDS));
    let (plan, time) = timed(&many);
    let (visits, plantings) = (plan.visits.len(), many.plantings.len());
    writeln!(out, "{MANY_BEDS} beds, {plantings} plantings to dress: {time:.2?}, {visits} visits")?;
    let highs = against_highs(out, &by_seed)?;
    let figures = [
        ("the median", median < MEDIAN),
        ("the worst", worst.0 < WORST),
        ("many beds", time < MANY),
        ("crop-days that could have been held", held == 0),
        ("fewer visits than the published weeks", solved.visits < by_weeks.visits),
        ("less unused than the published weeks", solved.unused < by_weeks.unused),
        ("HiGHS", highs != Some(false)),
    ];
    let missed: Vec<&str> =
        figures.iter().filter(|(_, reached)| !reached).map(|(name, _)| *name).collect();
    if !missed.is_empty() {
        writeln!(out, "missed: {}", missed.join(", "))?;
        return Ok(ExitCode::FAILURE);
    }
    let but = if highs.is_none() { " but those of HiGHS, which was not asked" } else { "" };
    writeln!(out, "all figures reached{but}")?;
    Ok(ExitCode::SUCCESS)
}

/// How long whole plans take, and what it adds to try changes where no plan can hold a crop.
fn whole_plans(out: &mut impl Write) -> io::Result<()> {
    let (mut plain, mut advised, mut short) = (Duration::ZERO, Duration::ZERO, 0);
    for seed in 0..GARDENS {
        let season = garden(seed, beds_of(seed));
        let start = Instant::now();
        plan::plan(&season, units_of(seed), today(), &[]);
        plain += start.elapsed();
        let start = Instant::now();
        let planned = plan::plan_advised(&season, units_of(seed), today(), &[], Trials::Planned);
        advised += start.elapsed();
        let plantings = planned.beds.iter().flat_map(|bed| &bed.plantings);
        short += plantings.filter(|planting| planting.shortage.is_some()).count();
    }
    let gardens = u32::try_from(GARDENS).unwrap_or(1);
    let added = advised.saturating_sub(plain);
    let each = added / u32::try_from(short).unwrap_or(1).max(1);
    writeln!(
        out,
        "  whole plans: {:.2?} a garden; changes tried for {short} plantings: {each:.2?} each",
        plain / gardens
    )
}

/// Has HiGHS solve the same gardens; tells whether all is as it should be, nothing where it cannot be
/// asked.
fn against_highs(out: &mut impl Write, times: &[Duration]) -> io::Result<Option<bool>> {
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let mut look = Command::new(&python);
    let look = look.args(["-c", "import scipy"]).stderr(Stdio::null()).status();
    if !look.is_ok_and(|status| status.success()) {
        writeln!(out, "HiGHS: not asked, because `{python}` with SciPy is not there")?;
        return Ok(None);
    }
    writeln!(out, "HiGHS, through scipy.optimize.milp on the same gardens:")?;
    out.flush()?;
    let mut child = Command::new(&python).arg(ORACLE).stdin(Stdio::piped()).spawn()?;
    if let Some(pipe) = child.stdin.take() {
        let mut pipe = BufWriter::new(pipe);
        for (seed, time) in (0..).zip(times) {
            let (problem, solved, _) = solved(seed);
            write_down(&mut pipe, seed, &problem, &solved, *time)?;
        }
        pipe.flush()?;
    }
    Ok(Some(child.wait()?.success()))
}

/// One line of JSON: the garden in numbers, its plan, and how many seconds the plan took.
fn write_down(
    out: &mut impl Write,
    seed: u64,
    problem: &Problem,
    solved: &Plan,
    time: Duration,
) -> io::Result<()> {
    let Some(start) = problem.visits.first() else { return Ok(()) };
    let plantings: Vec<_> = problem
        .plantings
        .iter()
        .zip(&solved.plantings)
        .map(|(planting, kept)| {
            json!({
                "material": planting.material,
                "first": planting.first - *start,
                "need": &planting.need[..],
                "caps": &planting.caps[..],
                "weight": planting.weight,
                "doses": kept.doses,
                "short": kept.shortage.as_ref().map(|shortage| shortage.worst),
            })
        })
        .collect();
    // Curves are written as far as the longest life goes.
    let last = problem.plantings.iter().map(Planting::last).max().unwrap_or(*start);
    let curve = |(visit, curve): (&Date, &Vec<f64>)| -> Vec<f64> {
        let days = usize::try_from(last - *visit + 1).unwrap_or(0);
        curve.iter().take(days).copied().collect()
    };
    let materials: Vec<Vec<Vec<f64>>> = problem
        .materials
        .iter()
        .map(|material| problem.visits.iter().zip(&material.released).map(curve).collect())
        .collect();
    let line = json!({
        "seed": seed,
        "visits": problem.visits.iter().map(|visit| *visit - *start).collect::<Vec<i32>>(),
        "materials": materials,
        "plantings": plantings,
        "plan": {
            "visits": solved.visits.iter().map(|visit| *visit - *start).collect::<Vec<i32>>(),
            "unused": solved.unused,
            "seconds": time.as_secs_f64(),
        },
    });
    writeln!(out, "{line}")
}
