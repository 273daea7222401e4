//! `plan`, `bed` and `work`: the season, one bed, the dated list.

use std::cell::OnceCell;
use std::io::Write;

use clap::Args;

use super::common::{About, Look};
use super::season::{Loaded, SeasonFile};
use super::{Failure, Format, record_file};
use crate::calendar::Date;
use crate::engine::against::{Against, against};
use crate::engine::plan::{BedPlan, Plan, plan, plan_advised, plan_compared};
use crate::engine::setting::{Trials, window};
use crate::figure::Workings;
use crate::quantity::UnitSystem;
use crate::record::{Applied, place};
use crate::report::explain::Places;
use crate::report::plan as reports;
use crate::report::plan::Reported;
use crate::season::{Season, slug};

/// Plan the whole season: need, credits, what is short, and dated doses for every bed.
#[derive(Args, Debug)]
#[command(
    after_help = "Example: topdress plan --season examples/school-garden/season.toml --on 2027-04-01"
)]
#[command(mut_arg("format", |format| format.value_parser(Format::only(PLAN_FORMATS))))]
pub struct PlanArgs {
    #[command(flatten)]
    about: About,
    #[command(flatten)]
    look: Look,
}

/// Show one bed in full.
#[derive(Args, Debug)]
#[command(after_help = "Example: topdress bed \"north 1\"")]
#[command(mut_arg("format", |format| format.value_parser(Format::only(PLAN_FORMATS))))]
pub struct BedArgs {
    /// The bed's name, as in the season file.
    #[arg(value_name = "BED")]
    bed: String,
    #[command(flatten)]
    about: About,
    #[command(flatten)]
    look: Look,
}

/// List what to spread, day by day, for all beds.
#[derive(Args, Debug)]
#[command(after_help = "Example: topdress work --format html --output work.html")]
#[command(mut_arg("format", |format| format.value_parser(Format::only(WORK_FORMATS))))]
pub struct WorkArgs {
    #[command(flatten)]
    about: About,
    #[command(flatten)]
    look: Look,
}

const PLAN_FORMATS: &[Format] =
    &[Format::Table, Format::Markdown, Format::Json, Format::Csv, Format::Html];
const WORK_FORMATS: &[Format] =
    &[Format::Table, Format::Markdown, Format::Json, Format::Csv, Format::Html, Format::Ics];

/// A season read and planned.
pub(super) struct Planned {
    pub(super) loaded: Loaded,
    pub(super) plan: Plan,
    /// The day it is made on; nothing for a season that is over.
    pub(super) today: Option<Date>,
    /// What has been written down as spread this season.
    pub(super) applied: Vec<Applied>,
    /// The record beside the first plan, reckoned when it is first shown.
    against: OnceCell<Vec<Against>>,
}

/// Reads the season and plans it, each figure with its workings.
pub(super) fn planned(about: &About) -> Result<Planned, Failure> {
    planned_by(about, Workings::Kept, plan)
}

/// Reads the season and plans it for values alone, except where an answer is a page.
pub(super) fn planned_for(about: &About, format: Format) -> Result<Planned, Failure> {
    let workings = if format == Format::Html { Workings::Kept } else { Workings::Left };
    planned_by(about, workings, plan)
}

/// What becomes of the workings of a plan: pages show them, rows for a spreadsheet are named after
/// them, and all other answers show values alone.
fn workings(format: Format) -> Workings {
    if matches!(format, Format::Csv | Format::Html) { Workings::Kept } else { Workings::Left }
}

fn planned_by(
    about: &About,
    workings: Workings,
    plan: impl FnOnce(&Season, UnitSystem, Option<Date>, &[Applied]) -> Plan,
) -> Result<Planned, Failure> {
    let loaded = about.season.load()?;
    let system = about.showing(loaded.season.garden.units).system;
    let applied = applied(&about.season, &loaded)?;
    let today = about.day_of(loaded.season.garden.year.value)?;
    let plan = workings.during(|| plan(&loaded.season, system, today, &applied));
    Ok(Planned { today, loaded, plan, applied, against: OnceCell::new() })
}

/// What has been written down as spread this season, from the record beside the season file. Lines
/// that cannot be counted are told on standard error and passed over.
pub(super) fn applied(file: &SeasonFile, loaded: &Loaded) -> Result<Vec<Applied>, Failure> {
    if file.is_stdin() {
        return Ok(Vec::new());
    }
    let file = record_file::beside(&file.path);
    let log = record_file::read(&file)?;
    let (first, last) = window(loaded.season.garden.year.value);
    let (applied, unplaced) = place(&loaded.season, &log, first, last);
    record_file::tell_damage(&file, &log);
    let mut talk = anstream::stderr();
    for one in &unplaced {
        let _ = writeln!(talk, "note: {} line {}: {}", file.display(), one.line, one.unknown);
    }
    Ok(applied)
}

impl Planned {
    /// What reports are made from.
    pub(super) fn reported(&self, about: &About) -> Reported<'_> {
        let season = &self.loaded.season;
        let showing = about.showing(season.garden.units);
        let against = || {
            let today = self.today.unwrap_or_else(|| window(season.garden.year.value).1);
            Workings::Left.during(|| against(season, showing.system, &self.applied, today))
        };
        Reported {
            season,
            plan: &self.plan,
            showing,
            today: self.today,
            against: self.against.get_or_init(against),
        }
    }

    /// Where what was said stands, for workings.
    pub(super) fn places(&self) -> Places<'_> {
        Places {
            file: &self.loaded.name,
            text: &self.loaded.source,
            catalogue: &self.loaded.season.catalogue,
        }
    }

    /// Finds a bed by its name, however it is written.
    pub(super) fn bed(&self, name: &str) -> Result<&BedPlan, Failure> {
        let wanted = slug(name);
        self.plan.beds.iter().find(|bed| *bed.slug == *wanted).ok_or_else(|| {
            let names: Vec<&str> = self.plan.beds.iter().map(|bed| bed.name.as_str()).collect();
            let near = crate::catalogue::names::nearest(name, names.iter().copied());
            let mend = match near {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("the beds are {}", names.join(", ")),
            };
            Failure::wrong(format!("there is no bed `{name}` in {}", self.loaded.name), mend)
        })
    }
}

/// What is tried where no plan can hold a crop: only an answer for a program shows the doses.
fn trials(format: Format) -> Trials {
    if format == Format::Json { Trials::Planned } else { Trials::Weighed }
}

/// Runs `plan`.
pub(super) fn run_plan(args: &PlanArgs) -> Result<(), Failure> {
    let format = args.look.format;
    let planned = planned_by(&args.about, workings(format), |season, units, today, applied| {
        plan_advised(season, units, today, applied, trials(format))
    })?;
    let reported = planned.reported(&args.about);
    let written = match format {
        Format::Json => reports::json(&reported)
            .map_err(|error| Failure::Files(error.into()))
            .and_then(|parts| args.look.target().write_parts(parts)),
        Format::Csv => {
            let beds: Vec<&BedPlan> = planned.plan.beds.iter().collect();
            args.look.target().write(&reports::sheet(&reported, &beds))
        }
        Format::Html => args.look.write_document(&reports::plan_page(&reported, &planned.places())),
        _ => {
            let document = reports::plan(&reported);
            let written = args.look.write_document(&document);
            std::mem::forget(document);
            written
        }
    };
    // The program ends here. Taking a large plan apart, figure by figure, would be time for nothing.
    std::mem::forget(planned);
    written
}

/// Runs `bed`.
pub(super) fn run_bed(args: &BedArgs) -> Result<(), Failure> {
    let format = args.look.format;
    let planned = planned_by(&args.about, workings(format), |season, units, today, applied| {
        plan_compared(season, units, today, applied, trials(format))
    })?;
    let bed = planned.bed(&args.bed)?;
    let reported = planned.reported(&args.about);
    match format {
        Format::Json => write_json(&args.look, reports::json_bed(&reported, bed)),
        Format::Csv => args.look.target().write(&reports::sheet_bed(&reported, bed)),
        Format::Html => {
            args.look.write_document(&reports::bed_page(&reported, bed, &planned.places()))
        }
        _ => args.look.write_document(&reports::bed(&reported, bed)),
    }
}

/// Runs `work`.
pub(super) fn run_work(args: &WorkArgs) -> Result<(), Failure> {
    let format = args.look.format;
    let planned = planned_for(&args.about, format)?;
    let reported = planned.reported(&args.about);
    match format {
        Format::Json => write_json(&args.look, reports::work_json(&reported)),
        Format::Csv => args.look.target().write(&reports::work_sheet(&reported)),
        Format::Ics => {
            let first = || plan(reported.season, reported.showing.system, None, &[]);
            let first = Workings::Left.during(first);
            args.look.target().write(&reports::calendar(&reported, &first))
        }
        Format::Html => args.look.write_document(&reports::work_page(&reported, &planned.places())),
        _ => args.look.write_document(&reports::work(&reported)),
    }
}

/// Writes an answer for a program.
pub(super) fn write_json(
    look: &Look,
    text: Result<String, serde_json::Error>,
) -> Result<(), Failure> {
    let text = text.map_err(|error| Failure::Files(anyhow::Error::new(error)))?;
    look.target().write(&text)
}
