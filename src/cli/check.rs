//! `check`: is this crop hungry?

use std::io::{BufRead, IsTerminal, Write};

use clap::Args;
use rust_decimal::Decimal;

use super::common::{About, Look};
use super::plan::{planned, write_json};
use super::{Failure, Format};
use crate::calendar::Date;
use crate::catalogue::{Sign, Signs};
use crate::engine::check::{Asking, Bedside, Conflict, answer, budget_today, kin_of};
use crate::engine::plan::{BedPlan, PlantingPlan};
use crate::engine::setting::Setting;
use crate::quantity::{Concentration, read};
use crate::record::Applied;
use crate::report::check::{Checked, document, json};
use crate::season::slug;

/// Weigh why a crop looks hungry, and give a dose only where it is short of nitrogen.
#[derive(Args, Debug)]
#[command(after_help = "\
Example: topdress check \"north 1\" --sign oldest-first --sign uniform --soil-nitrate \"8 ppm\"
`topdress catalogue signs` lists the signs. Without any on a terminal, short questions are asked.")]
#[command(mut_arg("format", |format| format.value_parser(Format::only(FORMATS))))]
pub struct CheckArgs {
    /// The bed's name, as in the season file.
    #[arg(value_name = "BED")]
    bed: String,
    /// Something seen, such as oldest-first; may be given several times.
    #[arg(long = "sign", value_name = "SIGN")]
    signs: Vec<String>,
    /// The crop, where several stand in the bed.
    #[arg(long, value_name = "CROP")]
    crop: Option<String>,
    /// Nitrate nitrogen in the top 12 inches of soil, such as "18 ppm".
    #[arg(long, value_name = "PPM", value_parser = read_nitrate)]
    soil_nitrate: Option<Concentration>,
    /// The soil's pH, where measured since the soil test.
    #[arg(long, value_name = "PH", value_parser = read_ph)]
    soil_ph: Option<Decimal>,
    /// Give a dose against advice; not on saturated soil or sick roots.
    #[arg(long)]
    anyway: bool,
    /// Never ask questions.
    #[arg(long)]
    no_input: bool,
    #[command(flatten)]
    about: About,
    #[command(flatten)]
    look: Look,
}

const FORMATS: &[Format] = &[Format::Table, Format::Markdown, Format::Json, Format::Html];

/// The range of the season file: bare, heavily manured soil seldom passes 200 ppm.
const MOST_NITRATE_PPM: i64 = 1000;

fn read_nitrate(text: &str) -> Result<Concentration, String> {
    let (nitrate, _) =
        read::<Concentration>(text).map_err(|bad| format!("{bad}; {}", bad.mend()))?;
    if nitrate > Concentration::from_ppm(MOST_NITRATE_PPM.into()) {
        return Err(
            "it may be 0 to 1,000 ppm: bare, heavily manured soil seldom passes 200 ppm of \
                    nitrate nitrogen"
                .to_owned(),
        );
    }
    Ok(nitrate)
}

fn read_ph(text: &str) -> Result<Decimal, String> {
    let ph: Decimal = text.trim().parse().map_err(|_| "write it like 6.2".to_owned())?;
    let (low, high) = (Decimal::from(3), Decimal::from(10));
    if ph < low || ph > high {
        return Err("a soil's pH lies between 3 and 10".to_owned());
    }
    Ok(ph)
}

/// Runs `check`.
pub(super) fn run(args: &CheckArgs) -> Result<(), Failure> {
    let format = args.look.format;
    let signs = Signs::built_in();
    let named = named(&signs, &args.signs)?;
    let planned = planned(&args.about)?;
    let bed = planned.bed(&args.bed)?;
    let today = args.about.today();
    let planting = planting(bed, args.crop.as_deref(), today)?;
    let kin = kin_of(&planting.crop);
    let asks = named.is_empty()
        && !args.no_input
        && !args.about.season.is_stdin()
        && std::io::stdin().is_terminal();
    let seen = if asks {
        let mut talk = anstream::stderr();
        ask(Asking::new(&signs, kin), &mut std::io::stdin().lock(), &mut talk)?
    } else {
        named
    };
    if let Some(sign) = seen.iter().find(|sign| !kin.fits(sign.only)) {
        return Err(Failure::wrong(
            format!("`{}` is no sign of {}", sign.key, planting.crop.name),
            "leave it out, or name the crop with --crop",
        ));
    }
    let season = &planned.loaded.season;
    let showing = args.about.showing(season.garden.units);
    let setting = Setting::new(season, showing.system, Some(today));
    let here = planned.applied.iter().filter(|one| one.bed == bed.index);
    let applied: Vec<Applied> = here.cloned().collect();
    let bedside = Bedside {
        setting: &setting,
        plan: bed,
        planting,
        applied: &applied,
        today,
        nitrate: args.soil_nitrate,
        acidity: args.soil_ph,
        budget: budget_today(&setting, planting, today),
    };
    let answer = answer(bedside.ask(&signs, seen, args.anyway)).map_err(conflict)?;
    let checked = Checked {
        season,
        signs: &signs,
        bed: &bed.name,
        crop: &planting.crop.name,
        containers: bed.mix.is_some(),
        today,
        showing,
        answer: &answer,
    };
    match format {
        Format::Json => write_json(&args.look, json(&checked)),
        _ => args.look.write_document(&document(&checked)),
    }
}

fn conflict(Conflict { one, other }: Conflict) -> Failure {
    Failure::wrong(
        format!("`{one}` and `{other}` cannot both be true of one plant"),
        "give the one you are sure of",
    )
}

fn named<'a>(signs: &'a Signs, keys: &[String]) -> Result<Vec<&'a Sign>, Failure> {
    let mut found: Vec<&Sign> = Vec::new();
    for key in keys {
        let sign = signs.sign(key).ok_or_else(|| {
            let mend = match signs.nearest(key) {
                Some(near) => format!("did you mean `{near}`?"),
                None => "`topdress catalogue signs` lists them".to_owned(),
            };
            Failure::wrong(format!("there is no sign `{key}`"), mend)
        })?;
        if sign.measured {
            return Err(Failure::wrong(
                format!("`{}` is measured or reckoned, not seen", sign.key),
                "give a nitrate test with --soil-nitrate; the rest comes from the season file",
            ));
        }
        if !found.iter().any(|one| one.key == sign.key) {
            found.push(sign);
        }
    }
    Ok(found)
}

/// Finds the planting: the one named, or the one that stands in the bed on the day.
fn planting<'a>(
    bed: &'a BedPlan,
    crop: Option<&str>,
    today: Date,
) -> Result<&'a PlantingPlan, Failure> {
    let standing: Vec<&PlantingPlan> = bed
        .plantings
        .iter()
        .filter(|one| {
            // A perennial stands on after its harvest.
            one.life.planted <= today && (one.crop.perennial || today <= one.life.end)
        })
        .collect();
    let all: Vec<String> = bed
        .plantings
        .iter()
        .map(|one| format!("{} from {} to {}", one.crop.name, one.life.planted, one.life.end))
        .collect();
    if let Some(name) = crop {
        let wanted = slug(name);
        let named = |one: &&&PlantingPlan| *one.slug == *wanted || one.crop.is_called(name);
        return standing.iter().find(named).copied().ok_or_else(|| {
            Failure::wrong(format!("no {name} stands in {} on {today}", bed.name), grown(&all))
        });
    }
    match standing.as_slice() {
        [only] => Ok(only),
        [] => Err(Failure::wrong(
            format!("nothing stands in {} on {today}", bed.name),
            format!("{}; `--on DATE` asks about another day", grown(&all)),
        )),
        several => {
            let names: Vec<&str> = several.iter().map(|one| &*one.slug).collect();
            Err(Failure::wrong(
                format!("{} crops stand in {} on {today}", several.len(), bed.name),
                format!("name one: --crop {}", names.join(", or --crop ")),
            ))
        }
    }
}

fn grown(all: &[String]) -> String {
    if all.is_empty() {
        "the season file plants nothing there".to_owned()
    } else {
        format!("the season file has {}", all.join(", "))
    }
}

/// Asks the questions and returns the signs seen. An answer that cannot be taken is asked again; the
/// end of the input leaves the rest not sure.
///
/// # Errors
/// Where the terminal cannot be read.
fn ask<'a>(
    mut asking: Asking<'a>,
    input: &mut dyn BufRead,
    talk: &mut dyn Write,
) -> Result<Vec<&'a Sign>, Failure> {
    let failed = |error: std::io::Error| {
        Failure::Files(anyhow::Error::new(error).context("could not ask on the terminal"))
    };
    writeln!(
        talk,
        "A few questions. Type the number of an answer, several with commas between; \
         Enter alone for not sure."
    )
    .map_err(failed)?;
    while let Some((question, choices)) = asking.question() {
        writeln!(talk, "\n{}", question.asks).map_err(failed)?;
        for (number, choice) in (1..).zip(&choices) {
            let words = choice.sign.answer.as_deref().unwrap_or(&choice.sign.name);
            writeln!(talk, "  {number}  {words}").map_err(failed)?;
        }
        writeln!(talk, "  0  not sure, or none of these").map_err(failed)?;
        loop {
            write!(talk, "> ").and_then(|()| talk.flush()).map_err(failed)?;
            let mut line = String::new();
            if input.read_line(&mut line).map_err(failed)? == 0 {
                writeln!(talk).map_err(failed)?;
                return Ok(asking.seen().to_vec());
            }
            match numbers(&line).and_then(|numbers| asking.take(&numbers)) {
                Ok(()) => break,
                Err(why) => writeln!(talk, "{why}").map_err(failed)?,
            }
        }
    }
    writeln!(talk).map_err(failed)?;
    Ok(asking.seen().to_vec())
}

/// Reads "1, 3" or "1 3"; 0, "?" and nothing are "not sure".
fn numbers(line: &str) -> Result<Vec<usize>, String> {
    let words = line.split([',', ' ', '\t', '\n', '\r']).filter(|word| !word.is_empty());
    let mut numbers = Vec::new();
    for word in words.filter(|word| !matches!(*word, "0" | "?")) {
        numbers.push(word.parse().map_err(|_| format!("`{word}` is not a number from the list"))?);
    }
    Ok(numbers)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::check::Kin;

    fn asked(kin: Kin, typed: &str) -> (Vec<String>, String) {
        let signs = Signs::built_in();
        let mut talk = Vec::new();
        let seen = ask(Asking::new(&signs, kin), &mut typed.as_bytes(), &mut talk).expect("asked");
        let keys = seen.iter().map(|sign| sign.key.clone()).collect();
        (keys, String::from_utf8(talk).expect("text"))
    }

    #[test]
    fn answers_become_signs_and_not_sure_is_an_answer() {
        let (seen, talk) = asked(Kin::default(), "1\n1\n\n?\n0\n\n3\n\n\n\n");
        assert_eq!(seen, ["oldest-first", "uniform", "healthy-roots"]);
        assert!(talk.contains("Which leaves turned first?"), "{talk}");
        assert_eq!(talk.matches("not sure, or none of these").count(), 10, "{talk}");
    }

    #[test]
    fn what_cannot_be_taken_is_asked_again_and_an_ended_input_ends_the_asking() {
        let (seen, talk) = asked(Kin::default(), "old\n1 2\n42\n1\n");
        assert_eq!(seen, ["oldest-first"]);
        assert!(talk.contains("`old` is not a number"), "{talk}");
        assert!(talk.contains("cannot both be"), "{talk}");
        assert!(talk.contains("there is no answer 42"), "{talk}");
        assert_eq!(asked(Kin::default(), "").0, Vec::<String>::new());
    }

    #[test]
    fn ranges_of_tests_are_told() {
        assert!(read_nitrate("18 ppm").is_ok());
        assert!(read_nitrate("18").expect_err("no unit").contains("ppm"));
        assert!(read_nitrate("9000 ppm").expect_err("too much").contains("1,000 ppm"));
        assert!(read_nitrate("2 lb").is_err());
        assert!(read_ph("6.2").is_ok() && read_ph("62").is_err() && read_ph("acid").is_err());
    }
}
