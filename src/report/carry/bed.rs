//! One bed of next year's file.

use toml::de::DeValue;

use super::Carried;
use super::tree::{Tree, quoted};
use crate::calendar::Date;
use crate::engine::area::{bed_area, planting_area};
use crate::engine::carry::{Balance, Legacy, Past, REMEMBERED_YEARS, legacy, next_window};
use crate::engine::credit::recorded as spread;
use crate::quantity::{Mass, Unit, UnitSystem, significant, units};
use crate::record::{Applied, analysis_of, find_stuff};
use crate::report::number::Showing;
use crate::season::{Bed, Measure};

/// Years after which a soil test is taken again (common practice).
const TEST_YEARS: i16 = 3;
/// What a line of history may say of a material and its amount.
const STUFF: [&str; 12] = [
    "material",
    "depth",
    "amount",
    "rate",
    "analysis",
    "basis",
    "moisture",
    "release",
    "ammonium",
    "nitrate",
    "carbon_nitrogen",
    "density",
];
/// What is written in anew for each season.
const LEFT_OUT: [&str; 5] = ["planting", "amend", "rain", "soil", "history"];

/// Writes the body of a bed's table.
pub(super) fn write(carried: &Carried<'_>, index: usize, tree: &Tree<'_, '_>) -> String {
    let season = carried.season;
    let Some(bed) = season.beds.get(index) else { return String::new() };
    let applied: Vec<&Applied> = carried.applied.iter().filter(|one| one.bed == index).collect();
    let legacy = legacy(season, bed, &applied);
    let mut out = remarks(carried, bed, &legacy);
    for (key, text) in tree.entries() {
        if !LEFT_OUT.contains(&key.as_str()) {
            out += &format!("{key} = {text}\n");
        }
    }
    if let Some(DeValue::Table(table)) = tree.get("soil") {
        out += &soil(carried, bed, &legacy, &Tree { source: tree.source, table });
    }
    let lines = history(carried, index, &applied, tree);
    if !lines.is_empty() {
        out += &format!("history = [\n{}]\n", lines.concat());
    }
    out + &still_counting(carried, tree) + &super::stand::plantings(bed, tree)
}

/// What grew, what is left, in remarks.
fn remarks(carried: &Carried<'_>, bed: &Bed, legacy: &Legacy) -> String {
    let year = carried.season.garden.year.value;
    let mut out = String::new();
    for planting in &bed.plantings {
        let crop = &planting.crop.value;
        let end = planting.last_harvest.unwrap_or(planting.harvest).value;
        out += &format!(
            "# {year}: {}, {} to {}{}\n",
            crop.name,
            planting.planted.value,
            end,
            if crop.perennial { "; it stands on, and is carried below" } else { "" }
        );
    }
    let show = Showing::new(carried.season.garden.units);
    for balance in &legacy.balances {
        out += &format!("# {year}: {}\n", balance_words(show, balance));
    }
    out += if legacy.nitrate_carried {
        "# nitrogen: the nitrate test was taken after the last crop and is carried\n"
    } else {
        "# nitrogen is not carried over: a nitrate test in spring would tell what is left\n"
    };
    out
}

fn balance_words(show: Showing, balance: &Balance) -> String {
    let (spread, removed) = (balance.spread.value(), balance.removed.value());
    let left = balance.left().value();
    let unknown = if balance.unknown.is_empty() {
        String::new()
    } else {
        format!(" (not counting {})", balance.unknown.join(", "))
    };
    let verdict = if left > Mass::ZERO {
        format!("{} more than left the bed", show.of(left))
    } else if left < Mass::ZERO {
        format!("{} less than left the bed", show.of(-left))
    } else {
        "as much as left the bed".to_owned()
    };
    format!(
        "{} spread {}, carried away about {}{unknown}: {verdict}",
        balance.nutrient.word(),
        show.of(spread),
        show.of(removed)
    )
}

/// The soil test as it stands, without a nitrate that says nothing any more.
fn soil(carried: &Carried<'_>, bed: &Bed, legacy: &Legacy, tree: &Tree<'_, '_>) -> String {
    const OF_NITRATE: [&str; 3] = ["nitrate", "depth", "nitrate_sampled"];
    let kept: Vec<String> = tree
        .entries()
        .into_iter()
        .filter(|(key, _)| legacy.nitrate_carried || !OF_NITRATE.contains(&key.as_str()))
        .map(|(key, text)| format!("{key} = {text}"))
        .collect();
    let says_something = kept.iter().any(|part| !part.starts_with("sampled ="));
    if !says_something {
        return String::new();
    }
    let next = carried.season.garden.year.value + 1;
    let sampled = bed.soil.as_ref().and_then(|test| test.sampled).map(|said| said.value);
    let age = match sampled {
        Some(day) if next - day.year() >= TEST_YEARS => {
            format!(
                "# the soil test is of {day}: after {TEST_YEARS} years it is time for another\n"
            )
        }
        Some(day) => format!("# the soil test is of {day}\n"),
        None => "# the soil test has no date: `sampled` would tell its age\n".to_owned(),
    };
    format!("{age}soil = {{ {} }}\n", kept.join(", "))
}

/// Lines of history: earlier ones not yet forgotten, then what was amended, then what was recorded.
fn history(
    carried: &Carried<'_>,
    index: usize,
    applied: &[&Applied],
    tree: &Tree<'_, '_>,
) -> Vec<String> {
    let year = carried.season.garden.year.value;
    let mut lines: Vec<String> = Vec::new();
    for past in tables(tree, "history") {
        let kept = past.text("year").and_then(|text| text.parse::<i16>().ok());
        if kept.is_some_and(|spread| spread > year - REMEMBERED_YEARS) {
            let parts: Vec<String> =
                past.entries().into_iter().map(|(key, text)| format!("{key} = {text}")).collect();
            lines.push(format!("  {{ {} }},\n", parts.join(", ")));
        }
    }
    for amend in tables(tree, "amend") {
        lines.extend(amended(carried, &amend));
    }
    for one in applied {
        lines.extend(recorded(carried, index, one));
    }
    lines
}

pub(super) fn tables<'t, 's>(tree: &Tree<'t, 's>, key: &str) -> Vec<Tree<'t, 's>> {
    let Some(DeValue::Array(all)) = tree.get(key) else { return Vec::new() };
    all.iter()
        .filter_map(|one| match one.get_ref() {
            DeValue::Table(table) => Some(Tree { source: tree.source, table }),
            _ => None,
        })
        .collect()
}

fn day_of(amend: &Tree<'_, '_>) -> Option<Date> {
    Date::read(&amend.text("on")?)
}

/// An amendment as a line of history; nothing for what feeds only its year, or what the next season
/// still counts itself.
fn amended(carried: &Carried<'_>, amend: &Tree<'_, '_>) -> Option<String> {
    let on = day_of(amend).filter(|on| *on < next_window(carried.season.garden.year.value))?;
    let DeValue::String(name) = amend.get("material")? else { return None };
    let stuff = find_stuff(carried.season, name, None).ok()?;
    let kind = Past::of(stuff.material.kind)?;
    let said: Vec<String> =
        STUFF.iter().filter_map(|key| Some(format!(", {key} = {}", amend.text(key)?))).collect();
    Some(format!("  {{ kind = \"{}\", year = {}{} }},\n", kind.word(), on.year(), said.concat()))
}

fn recorded(carried: &Carried<'_>, index: usize, one: &Applied) -> Option<String> {
    let season = carried.season;
    // The record stays beside the next season file, which counts its lines from then on itself.
    if one.on >= next_window(season.garden.year.value) {
        return None;
    }
    let kind = Past::of(one.stuff.material.kind)?;
    let name = &one.stuff.material.name;
    let usual = find_stuff(season, name, None).ok().map(|stuff| analysis_of(&stuff));
    let label = analysis_of(&one.stuff);
    let analysis = if usual == Some(label) {
        String::new()
    } else {
        let percent = label.map(|share| share.percent().normalize());
        format!(", analysis = \"{}-{}-{}\"", percent.nitrogen, percent.phosphate, percent.potash)
    };
    Some(format!(
        "  {{ kind = \"{}\", year = {}, material = {}, {}{analysis} }}, # recorded {}\n",
        kind.word(),
        one.on.year(),
        quoted(name),
        amount(over_the_bed(&season.beds[index], one), season.garden.units),
        one.on
    ))
}

/// The amount over the whole bed: history knows no part of one.
fn over_the_bed(bed: &Bed, one: &Applied) -> Measure {
    let per_area = matches!(one.amount, Measure::Depth(_) | Measure::Rate(_));
    if one.planting.is_none() || !per_area {
        return one.amount;
    }
    let weight = bed_area(bed).and_then(|ground| {
        let areas: Vec<_> =
            bed.plantings.iter().map(|planting| planting_area(bed, &ground, planting)).collect();
        spread(one, &ground, &areas, one.on.year()).weight
    });
    weight.map_or(one.amount, |weight| Measure::Weight(weight.value()))
}

/// An amount as a field of a season file.
fn amount(measure: Measure, system: UnitSystem) -> String {
    let us = system == UnitSystem::Us;
    let pick = |a: &'static Unit, b: &'static Unit| if us { a } else { b };
    let (key, base, unit) = match measure {
        Measure::Depth(depth) => ("depth", depth.base(), pick(&units::INCH, &units::CENTIMETRE)),
        Measure::Volume(volume) => {
            ("amount", volume.base(), pick(&units::CUBIC_FOOT, &units::LITRE))
        }
        Measure::Weight(weight) => ("amount", weight.base(), pick(&units::POUND, &units::KILOGRAM)),
        Measure::Rate(rate) => {
            let unit = pick(&units::POUND_PER_1000_SQUARE_FEET, &units::KILOGRAM_PER_HECTARE);
            ("rate", rate.base(), unit)
        }
    };
    // As many digits as anyone can measure, and none that conversion leaves behind.
    format!("{key} = \"{} {}\"", significant(unit.of_base(base), 6), unit.symbol)
}

/// Amendments of autumn, which the next season counts by their dates.
fn still_counting(carried: &Carried<'_>, tree: &Tree<'_, '_>) -> String {
    let first = next_window(carried.season.garden.year.value);
    let mut out = String::new();
    for amend in tables(tree, "amend") {
        if day_of(&amend).is_some_and(|on| on >= first) {
            out += "\n[[bed.amend]]\n";
            for (key, text) in amend.entries() {
                out += &format!("{key} = {text}\n");
            }
        }
    }
    out
}
