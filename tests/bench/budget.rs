//! The budget arithmetic of a season done by others: a pandas script and a sheet of LibreOffice Calc.
//! They get areas and rates ready made and give shortfalls and weights; the program reads the season,
//! reckons credits by the day, solves the visits, buys and explains. Their shortfalls must be its own.

use std::fmt::Write as _;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;

use topdress::calendar::Date;
use topdress::catalogue::Catalogue;
use topdress::engine::plan::{self, PlantingPlan};
use topdress::quantity::UnitSystem;
use topdress::season;

use super::{Sheet, Timed, grown, least};

const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/bench/budget.py");
/// The most credits that a planting of the season has.
const CREDITS: usize = 6;
/// What counts of a pound of feather meal: 12 % nitrogen, of which 65 % comes free.
const COUNTS: f64 = 0.12 * 0.65;

/// A planting as the others take it, rates in pounds per square foot.
struct Row {
    planting: String,
    area: f64,
    rate: f64,
    credits: [f64; CREDITS],
    short: f64,
}

pub fn compare<W: Write>(sheet: &mut Sheet<'_, W>, folder: &Path) -> io::Result<()> {
    // The whole of a garden's plan beside the bare arithmetic; of a large one it is only told, since the
    // others read none of its season.
    for (beds, asked) in [(10, true), (10_000, false)] {
        let season = grown::write(folder, beds)?;
        let rows = rows(&season)?;
        let ours = Timed::plan(&season, "json");
        let rounds = if beds > 100 { 3 } else { 10 };
        if there("python3", &["-c", "import pandas"]) {
            let (rates, out) = (folder.join("rates.csv"), folder.join("budget.csv"));
            fs::write(&rates, as_csv(&rows))?;
            let other = Timed::new("python3", &[SCRIPT, &text(&rates), &text(&out)]);
            let took = least(&[&ours, &other], rounds)?;
            agree(&rows, &out, 3)?;
            sheet.quicker(
                &format!("{beds} beds against pandas"),
                took[0],
                took[1],
                asked.then_some(2.0),
            )?;
        } else {
            writeln!(sheet.out, "{beds} beds against pandas: not measured, pandas is not here")?;
        }
        if there("soffice", &["--version"]) {
            let calc = folder.join("calc.fods");
            fs::write(&calc, as_sheet(&rows))?;
            let profile = format!("-env:UserInstallation=file://{}", text(&folder.join("office")));
            let words = ["--headless", &profile, "--convert-to", "csv", "--outdir"];
            let words: Vec<String> = words.iter().map(ToString::to_string).collect();
            let words = [words, vec![text(folder), text(&calc)]].concat();
            let other = Timed { program: "soffice".into(), words };
            other.run()?; // its first start sets a profile up, which is not counted
            let took = least(&[&ours, &other], rounds)?;
            agree(&rows, &folder.join("calc.csv"), 9)?;
            sheet.quicker(
                &format!("{beds} beds against a Calc sheet"),
                took[0],
                took[1],
                asked.then_some(5.0),
            )?;
        } else {
            writeln!(sheet.out, "{beds} beds against Calc: not measured, soffice is not here")?;
        }
    }
    Ok(())
}

fn text(path: &Path) -> String {
    path.to_string_lossy().into_owned()
}

fn there(program: &str, words: &[&str]) -> bool {
    let mut command = Command::new(program);
    command.args(words).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    command.status().is_ok_and(|status| status.success())
}

fn rows(season: &PathBuf) -> io::Result<Vec<Row>> {
    let text = fs::read_to_string(season)?;
    let season = season::read(&text, Arc::new(Catalogue::new()))
        .map_err(|faults| io::Error::other(format!("{} faults", faults.len())))?;
    let plan = plan::plan(&season, UnitSystem::Us, Date::new(2027, 4, 1), &[]);
    let mut rows = Vec::new();
    for bed in &plan.beds {
        rows.extend(bed.plantings.iter().map(|planting| row(&bed.slug, planting)));
    }
    Ok(rows)
}

fn row(bed: &str, planting: &PlantingPlan) -> Row {
    let pounds = |figure: &topdress::figure::Figure<topdress::quantity::Mass>| {
        figure.value().lb().to_string().parse::<f64>().expect("a number")
    };
    let area = planting
        .area
        .as_ref()
        .map_or(1.0, |area| area.value().ft2().to_string().parse::<f64>().expect("a number"));
    let mut credits = [0.0; CREDITS];
    for (at, credit) in planting.credits.iter().enumerate() {
        credits[at.min(CREDITS - 1)] += pounds(&credit.nitrogen) / area;
    }
    Row {
        planting: format!("{bed}/{}", planting.slug),
        area,
        rate: pounds(&planting.need) / area,
        credits,
        short: pounds(&planting.shortfall),
    }
}

fn as_csv(rows: &[Row]) -> String {
    let mut text = String::from("planting,area,rate,counts");
    for at in 1..=CREDITS {
        write!(text, ",credit {at}").expect("text takes all");
    }
    text.push('\n');
    for row in rows {
        write!(text, "{},{},{},{COUNTS}", row.planting, row.area, row.rate)
            .expect("text takes all");
        for credit in row.credits {
            write!(text, ",{credit}").expect("text takes all");
        }
        text.push('\n');
    }
    text
}

/// The same as a flat sheet with formulas: A planting, B area, C rate, D to I credits, J short, K weight.
fn as_sheet(rows: &[Row]) -> String {
    let mut text = String::from(
        r#"<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" office:version="1.2" office:mimetype="application/vnd.oasis.opendocument.spreadsheet">
<office:body><office:spreadsheet><table:table table:name="budget">
"#,
    );
    let number = |value: f64| {
        format!(r#"<table:table-cell office:value-type="float" office:value="{value}"/>"#)
    };
    let formula = |said: String| {
        format!(r#"<table:table-cell table:formula="of:={said}" office:value-type="float"/>"#)
    };
    for (at, row) in rows.iter().enumerate() {
        let line = at + 1;
        write!(
            text,
            r#"<table:table-row><table:table-cell office:value-type="string"><text:p>{}</text:p></table:table-cell>"#,
            row.planting
        )
        .expect("text takes all");
        for value in [row.area, row.rate].into_iter().chain(row.credits) {
            text.push_str(&number(value));
        }
        let short = format!("MAX(0;[.B{line}]*[.C{line}]-[.B{line}]*SUM([.D{line}:.I{line}]))");
        text.push_str(&formula(short));
        text.push_str(&formula(format!("[.J{line}]/{COUNTS}")));
        text.push_str("</table:table-row>\n");
    }
    text.push_str("</table:table></office:spreadsheet></office:body></office:document>\n");
    text
}

/// Whether another's shortfalls, in a column of its CSV file, add up to ours. Calc prints what a cell
/// shows, which is why the sum need not agree further than it does.
fn agree(rows: &[Row], path: &Path, column: usize) -> io::Result<()> {
    let written = fs::read_to_string(path)?;
    let cells = written.lines().filter_map(|line| line.split(',').nth(column)?.parse::<f64>().ok());
    let (ours, theirs) = (rows.iter().map(|row| row.short).sum::<f64>(), cells.sum::<f64>());
    if (ours - theirs).abs() <= 1e-3 * ours {
        Ok(())
    } else {
        Err(io::Error::other(format!("{}: {theirs} lb short, not {ours}", path.display())))
    }
}
