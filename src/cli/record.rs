//! `record`: what was spread, written down beside the season file.

use std::io::Write;

use clap::Args;

use super::common::{About, Look};
use super::plan::{planned_for, write_json};
use super::{Failure, Format, record_file};
use crate::calendar::Date;
use crate::catalogue::Crop;
use crate::engine::area::{bed_area, container_volume, planting_area};
use crate::engine::content::{Content, Handling, weight};
use crate::engine::excess::{Where, excess};
use crate::engine::setting::window;
use crate::figure::{Figure, Place};
use crate::nutrient::{Analysis, Npk, read_analysis};
use crate::quantity::{Area, Mass};
use crate::record::{
    Application, Line, Log, Unknown, analysis_of, find_bed, find_planting, find_stuff, read_amount,
};
use crate::report::record::{
    Echo, echo, echo_json, echo_sheet, far_above, list, list_json, list_sheet, twice,
};
use crate::season::{Bed, Measure, Said, Season, Stuff, slug};

/// Write down what was spread, list it, or take a line back.
#[derive(Args, Debug)]
#[command(after_help = "\
Example: topdress record \"north 1\" \"feather meal\" \"12 oz\" --note \"before rain\"
         topdress record --list
         topdress record --undo
The record is the file applications.csv beside the season file. It opens in any spreadsheet; lines
are only ever added, and a mistake is mended by a line that cancels it.")]
#[command(mut_arg("format", |format| format.value_parser(Format::only(FORMATS))))]
pub struct RecordArgs {
    /// The bed's name, as in the season file.
    #[arg(value_name = "BED", required_unless_present_any = ["list", "undo"])]
    bed: Option<String>,
    /// What was spread: a name from the shed or the catalogue.
    #[arg(value_name = "MATERIAL", required_unless_present_any = ["list", "undo"], conflicts_with_all = ["list", "undo"])]
    material: Option<String>,
    /// How much in all: "12 oz", "2 cup", "0.5 in" or "3 lb/1000 ft2".
    #[arg(value_name = "AMOUNT", required_unless_present_any = ["list", "undo"], conflicts_with_all = ["list", "undo"])]
    amount: Option<String>,
    /// List what is written down.
    #[arg(long, conflicts_with = "undo")]
    list: bool,
    /// Take back the last line, or the line of this number.
    #[arg(long, value_name = "LINE", num_args = 0..=1)]
    undo: Option<Option<u32>>,
    /// The crop it was given to, where several stand in the bed.
    #[arg(long, value_name = "CROP")]
    crop: Option<String>,
    /// The label's analysis, such as 5-3-4, where it differs from the shed or the catalogue.
    #[arg(long, value_name = "N-P-K", value_parser = label)]
    analysis: Option<Analysis>,
    /// How it was spread, such as "mixed in" or "on top".
    #[arg(long, value_name = "WORDS", default_value = "")]
    method: String,
    /// Lot or batch number.
    #[arg(long, value_name = "LOT", default_value = "")]
    lot: String,
    /// Who spread it.
    #[arg(long, value_name = "NAME", default_value = "")]
    person: String,
    /// Anything else worth keeping.
    #[arg(long, value_name = "WORDS", default_value = "")]
    note: String,
    #[command(flatten)]
    about: About,
    #[command(flatten)]
    look: Look,
}

const FORMATS: &[Format] = &[Format::Table, Format::Json, Format::Csv];

fn label(text: &str) -> Result<Analysis, String> {
    read_analysis(text).map_err(|bad| format!("{bad}; {}", bad.mend()))
}

/// Runs `record`.
pub(super) fn run(args: &RecordArgs) -> Result<(), Failure> {
    let format = args.look.format;
    if args.about.season.is_stdin() {
        return Err(Failure::wrong(
            "a season from standard input has no record beside it",
            "name its file with --season FILE",
        ));
    }
    let file = record_file::beside(&args.about.season.path);
    if args.list {
        return run_list(args, format, &file);
    }
    if let Some(number) = args.undo {
        // A season file that cannot be read is told before anything is taken back.
        args.about.season.load()?;
        let line = record_file::cancel(&file, number)?;
        return tell(args, format, &line, true);
    }
    let (Some(bed), Some(material), Some(amount)) = (&args.bed, &args.material, &args.amount)
    else {
        return Err(Failure::wrong(
            "a bed, a material and an amount are needed",
            "write it like `topdress record \"north 1\" \"feather meal\" \"12 oz\"`",
        ));
    };
    let loaded = args.about.season.load()?;
    let application = application(args, &loaded.season, bed, material, amount)?;
    record_file::append(&file, &application)?;
    let log = record_file::read(&file)?;
    let written = log.lines.iter().rev().find(|line| line.application.same_as(&application));
    match written {
        Some(line) => {
            tell(args, format, line, false)?;
            remark(args, &loaded.season, &log, line);
            Ok(())
        }
        // Only another program that rewrites the file at this instant can hide the line.
        None => Ok(()),
    }
}

fn application(
    args: &RecordArgs,
    season: &Season,
    bed: &str,
    material: &str,
    amount: &str,
) -> Result<Application, Failure> {
    let not_known = |unknown| not_known(season, &unknown);
    let bed = &season.beds[find_bed(season, bed).map_err(not_known)?];
    let stuff = find_stuff(season, material, args.analysis).map_err(not_known)?;
    let on = args.about.today();
    let (first, last) = window(season.garden.year.value);
    if on < first || last < on {
        return Err(Failure::wrong(
            format!("{on} is outside the season {}", season.garden.year.value),
            format!("the season runs from {first} to {last}; give the day with --on"),
        ));
    }
    let measure = read_amount(amount).map_err(|bad| Failure::wrong(bad.to_string(), bad.mend()))?;
    let crop = crop(args.crop.as_deref(), bed, on)?;
    let application = Application {
        on,
        bed: bed.name.value.clone(),
        crop,
        material: stuff.material.name.clone(),
        amount_text: amount.split_whitespace().collect::<Vec<_>>().join(" "),
        amount: measure,
        analysis: Some(analysis_of(&stuff)),
        method: args.method.clone(),
        lot: args.lot.clone(),
        person: args.person.clone(),
        note: args.note.clone(),
    };
    if weigh(bed, &stuff, &application).is_none() {
        if per_area(application.amount) && container_volume(bed).is_some() {
            return Err(Failure::wrong(
                format!(
                    "{} is grown in containers, which have no area to spread over",
                    bed.name.value
                ),
                "write the weight for all of them, like `12 oz`",
            ));
        }
        return Err(Failure::wrong(
            format!("the weight of `{amount}` of {} cannot be told", stuff.material.name),
            "give a weight, like `12 oz`; or its `density` in the shed, or the bed's area",
        ));
    }
    Ok(application)
}

fn not_known(season: &Season, unknown: &Unknown) -> Failure {
    let (what, name, near) = match unknown {
        Unknown::Bed { name, near } => ("bed", name, near),
        Unknown::Material { name, near } => ("material", name, near),
    };
    let mend = match (near, what) {
        (Some(near), _) => format!("did you mean `{near}`?"),
        (None, "material") => {
            "see `topdress catalogue materials`, or add the label: --analysis 10-10-10".to_owned()
        }
        (None, _) => {
            let names: Vec<&str> = season.beds.iter().map(|bed| bed.name.value.as_str()).collect();
            if names.is_empty() {
                "the season file has no bed yet".to_owned()
            } else {
                format!("the beds are {}", names.join(", "))
            }
        }
    };
    Failure::wrong(format!("there is no {what} `{name}`"), mend)
}

/// The crops the line is written to: the one named, or all that stand in the bed on the day.
fn crop(named: Option<&str>, bed: &Bed, on: Date) -> Result<String, Failure> {
    if let Some(name) = named {
        let Some(at) = find_planting(bed, name, on) else {
            let all: Vec<&str> = bed.plantings.iter().map(|one| &*one.slug).collect();
            return Err(Failure::wrong(
                format!("{} has no planting of {name}", bed.name.value),
                format!(
                    "it has {}",
                    if all.is_empty() { "none".to_owned() } else { all.join(", ") }
                ),
            ));
        };
        return Ok(bed.plantings[at].slug.to_string());
    }
    let standing = bed.plantings.iter().filter(|one| {
        let end = one.last_harvest.map_or(one.harvest.value, |last| last.value);
        one.planted.value <= on && on <= end
    });
    let names: Vec<&str> = standing.map(|one| &*one.slug).collect();
    Ok(names.join(" + "))
}

/// The ground that an application was spread on, where its area is known.
fn ground(bed: &Bed, application: &Application) -> Option<Figure<Area>> {
    let whole = bed_area(bed)?;
    Some(match find_planting(bed, &application.crop, application.on) {
        Some(at) => planting_area(bed, &whole, &bed.plantings[at]),
        None => whole,
    })
}

/// Whether an amount is given for an area.
const fn per_area(amount: Measure) -> bool {
    matches!(amount, Measure::Depth(_) | Measure::Rate(_))
}

/// The weight of an application, over the ground it was spread on.
fn weigh(bed: &Bed, stuff: &Stuff, application: &Application) -> Option<Figure<Mass>> {
    let ground = ground(bed, application);
    if per_area(application.amount) && ground.is_none() {
        return None;
    }
    let ground = ground.unwrap_or_else(|| Figure::asked("area", Area::ZERO));
    weight(stuff, Said::new(application.amount, Place::default()), &ground)
}

/// Remarks, on standard error, on a line that looks like a slip: an amount far above any rate, or
/// the same thing written twice for one day.
fn remark(args: &RecordArgs, season: &Season, log: &Log, line: &Line) {
    let said = &line.application;
    let mut remarks = Vec::new();
    if let (Ok(at), Ok(stuff)) =
        (find_bed(season, &said.bed), find_stuff(season, &said.material, said.analysis))
    {
        let bed = &season.beds[at];
        let area = ground(bed, said).map(|area| area.value());
        let mix = container_volume(bed).map(|mix| mix.value());
        let there: Vec<&Crop> = match find_planting(bed, &said.crop, said.on) {
            Some(at) => vec![&bed.plantings[at].crop.value],
            None => bed.plantings.iter().map(|one| &*one.crop.value).collect(),
        };
        if let Some(weight) = weigh(bed, &stuff, said).map(|weight| weight.value())
            && let Some(excess) = excess(&stuff, weight, Where { area, mix }, &there)
        {
            let showing = args.about.showing(season.garden.units);
            remarks.push(far_above(line, weight, area, &excess, showing));
        }
    }
    let same = |one: &&Line| one.number != line.number && one.application.same_as(said);
    if let Some(before) = log.standing().find(same) {
        remarks.push(twice(line, before));
    }
    let mut talk = anstream::stderr();
    for one in remarks {
        // What cannot be said on a closed standard error is not worth failing for.
        let _ = writeln!(talk, "note: {one}");
    }
}

/// Says what was written down or taken back, and where the bed stands with it.
fn tell(args: &RecordArgs, format: Format, line: &Line, cancelled: bool) -> Result<(), Failure> {
    let planned = planned_for(&args.about, format)?;
    let season = &planned.loaded.season;
    let said = &line.application;
    let bed = season.beds.iter().position(|bed| *bed.slug == *slug(&said.bed));
    let stuff = find_stuff(season, &said.material, said.analysis).ok();
    let weight = bed.zip(stuff.as_ref()).and_then(|(bed, stuff)| {
        weigh(&season.beds[bed], stuff, said).map(|figure| figure.value())
    });
    let brings = weight.zip(stuff.as_ref()).map(|(weight, stuff)| {
        let shares = Content::of(stuff, Handling::default()).shares;
        Npk::from_fn(|nutrient| weight * shares[nutrient].value())
    });
    let told = Echo {
        line,
        cancelled,
        weight,
        brings,
        bed: bed.and_then(|bed| planned.plan.beds.iter().find(|plan| plan.index == bed)),
        showing: args.about.showing(season.garden.units),
    };
    match format {
        Format::Json => write_json(&args.look, echo_json(&told)),
        Format::Csv => args.look.target().write(&echo_sheet(&told)),
        _ => args.look.write_document(&echo(&told)),
    }
}

fn run_list(args: &RecordArgs, format: Format, file: &std::path::Path) -> Result<(), Failure> {
    let log = record_file::read(file)?;
    let wanted = args.bed.as_deref().map(slug);
    let of_bed =
        |line: &&Line| wanted.as_ref().is_none_or(|bed| slug(&line.application.bed) == *bed);
    let lines: Vec<&Line> = log.lines.iter().filter(of_bed).collect();
    match format {
        Format::Json => write_json(&args.look, list_json(&log, &lines)),
        Format::Csv => {
            record_file::tell_damage(file, &log);
            args.look.target().write(&list_sheet(&lines))
        }
        _ => args.look.write_document(&list(&log, &lines)),
    }
}
