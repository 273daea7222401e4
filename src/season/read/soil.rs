//! A soil test, with the laboratory's words.

use super::super::{Reading, Said, SoilTest, WordedClass};
use super::fields::soil;
use super::garden::{Window, plain};
use super::table::{Field, Findings, Table};
use super::value::Text;
use super::word::OneOf;
use crate::calendar::Date;
use crate::catalogue::names::{nearest, normal, same};
use crate::catalogue::{Catalogue, Class, Extractant, Limits, Tested};
use crate::fault::{dates, names, shape};
use crate::quantity::Concentration;
use rust_decimal::Decimal;

/// Reads a soil test.
pub fn read(
    mut table: Table<'_, '_>,
    window: Option<Window>,
    catalogue: &Catalogue,
    into: &mut Findings,
) -> Option<SoilTest> {
    let t = &mut table;
    let test = t.take(&soil::TEST, into).map(plain);
    let lab = t.text(&soil::LAB, into);
    let known_lab = laboratory(t, lab, catalogue, into);
    let p = t.take(&soil::P, into);
    let k = t.take(&soil::K, into);
    let p_class = class(t, &soil::P_CLASS, "phosphorus", lab, test, catalogue, into);
    let k_class = class(t, &soil::K_CLASS, "potassium", lab, test, catalogue, into);
    if known_lab {
        limits_known(t, p, "phosphorus", "p_class", (test, lab), catalogue, into);
        limits_known(t, k, "potassium", "k_class", (test, lab), catalogue, into);
    }
    let organic_matter = t.take(&soil::ORGANIC_MATTER, into);
    let ph = t.take(&soil::PH, into);
    let nitrate = t.take(&soil::NITRATE, into);
    if let Some(said) = &nitrate
        && said.value.0 > Concentration::from_ppm(Decimal::from(1000))
    {
        let reason = "bare, heavily manured soil seldom passes 200 ppm of nitrate nitrogen";
        let text = format!("{} ppm", crate::quantity::significant(said.value.0.ppm(), 6));
        let fault = shape::out_of_range(said.place, "nitrate", &text, "0 to 1,000 ppm", reason);
        t.fault(fault, into);
    }
    let depth = t.take(&soil::DEPTH, into);
    if let Some(said) = &depth
        && nitrate.is_none()
    {
        let why = "the depth is that of the nitrate sample";
        let fault = shape::needs_other(said.place, "depth", "nitrate", why, "\"18 ppm\"");
        t.lacks(fault, into);
    }
    let sampled = t.take(&soil::SAMPLED, into);
    let nitrate_sampled = t.take(&soil::NITRATE_SAMPLED, into);
    for (said, field) in [(sampled, "sampled"), (nitrate_sampled, "nitrate_sampled")] {
        sampled_in_time(t, said, field, window, into);
    }
    t.sound.then(|| SoilTest {
        test,
        lab: lab.map(|said| Said::new(normal(said.value), said.place)),
        p,
        k,
        p_class,
        k_class,
        organic_matter: organic_matter.map(|said| Said::new(said.value.0, said.place)),
        ph: ph.map(|said| Said::new(said.value.0, said.place)),
        nitrate: nitrate.map(|said| Said::new(said.value.0, said.place)),
        depth: depth.map(|said| Said::new(said.value.0, said.place)),
        sampled,
        nitrate_sampled,
    })
}

/// A sample may be old, but not of another century, and not of the time after the season.
fn sampled_in_time(
    table: &mut Table<'_, '_>,
    said: Option<Said<Date>>,
    field: &str,
    window: Option<Window>,
    into: &mut Findings,
) {
    const OLDEST_SAMPLE_YEARS: i16 = 30;
    let (Some(said), Some(window)) = (said, window) else { return };
    let first = Date::new(window.year - OLDEST_SAMPLE_YEARS, 1, 1).unwrap_or(window.first);
    if said.value < first || said.value > window.last {
        let fault = dates::outside_season(said.place, field, said.value, first, window.last);
        table.fault(fault.note("a soil test older than thirty years says nothing of today"), into);
    }
}

/// Checks that the laboratory is one whose limits are known.
fn laboratory(
    table: &mut Table<'_, '_>,
    lab: Option<Said<&str>>,
    catalogue: &Catalogue,
    into: &mut Findings,
) -> bool {
    let Some(said) = lab else { return true };
    let mut labs: Vec<&str> = catalogue.limits().iter().map(|limits| limits.lab.as_str()).collect();
    labs.sort_unstable();
    labs.dedup();
    if labs.iter().any(|known| same(known, said.value)) {
        return true;
    }
    let near = nearest(said.value, labs.iter().copied());
    table.fault(names::unknown_lab(said.place, said.value, near.as_deref(), labs), into);
    false
}

fn of_lab(limits: &Limits, lab: Option<Said<&str>>) -> bool {
    lab.is_none_or(|said| same(&limits.lab, said.value))
}

/// Reads the laboratory's word for a nutrient.
fn class(
    table: &mut Table<'_, '_>,
    field: &Field<Text>,
    nutrient: &str,
    lab: Option<Said<&str>>,
    test: Option<Said<Extractant>>,
    catalogue: &Catalogue,
    into: &mut Findings,
) -> Option<Said<WordedClass>> {
    let said = table.text(field, into)?;
    let word = normal(said.value);
    let worded = |class| Some(Said::new(WordedClass { class, word: word.clone() }, said.place));
    let lists: Vec<&Limits> =
        catalogue.limits().iter().filter(|one| one.nutrient == nutrient).collect();
    let words_of = |limits: &Limits| -> Option<Class> {
        limits.classes.iter().find(|limit| same(&limit.word, &word)).map(|limit| limit.class)
    };
    if lab.is_some() {
        let of_test = |one: &&&Limits| test.is_none_or(|test| one.extractant == test.value);
        let own: Vec<&&Limits> = lists.iter().filter(|one| of_lab(one, lab)).collect();
        if own.is_empty() {
            // The laboratory is unknown, or prints no such class: the five words here serve.
            return OneOf::<Class>::find(&word).and_then(worded);
        }
        let by_test = own.iter().filter(|one| of_test(one)).find_map(|one| words_of(one));
        if let Some(class) = by_test.or_else(|| own.iter().find_map(|one| words_of(one))) {
            return worded(class);
        }
        let mut known: Vec<&str> =
            own.iter().flat_map(|one| &one.classes).map(|limit| limit.word.as_str()).collect();
        known.dedup();
        let lab = lab.map(|said| said.value);
        table.fault(names::unknown_class(said.place, field.name, &word, lab, known), into);
        return None;
    }
    if let Some(class) = OneOf::<Class>::find(&word) {
        return worded(class);
    }
    let mut labs: Vec<&str> =
        lists.iter().filter(|one| words_of(one).is_some()).map(|one| one.lab.as_str()).collect();
    labs.sort_unstable();
    labs.dedup();
    if labs.is_empty() {
        let known = ["very low", "low", "target", "high", "very high"];
        table.fault(names::unknown_class(said.place, field.name, &word, None, known), into);
    } else {
        table.fault(names::class_needs_lab(said.place, field.name, &word, labs), into);
    }
    None
}

/// A figure needs limits to be read by.
fn limits_known(
    table: &mut Table<'_, '_>,
    figure: Option<Said<Reading>>,
    nutrient: &str,
    class_field: &str,
    by: (Option<Said<Extractant>>, Option<Said<&str>>),
    catalogue: &Catalogue,
    into: &mut Findings,
) {
    let Some(figure) = figure else { return };
    let field = if nutrient == "phosphorus" { "p" } else { "k" };
    let (test, lab) = by;
    let Some(test) = test else {
        if !table.has(&soil::TEST) {
            let why = "a figure means nothing without what the soil was shaken with";
            let fault = shape::needs_other(figure.place, field, "test", why, soil::TEST.example);
            table.lacks(fault, into);
        }
        return;
    };
    let tested = Tested {
        nutrient,
        extractant: Some(test.value),
        lab: lab.map(|said| said.value),
        texture: None,
    };
    let readable = |unit: &str| figure.value.in_unit(unit).is_some();
    let read = Limits::pick(catalogue.limits(), &tested, readable).is_some();
    if !read && !table.has(if field == "p" { &soil::P_CLASS } else { &soil::K_CLASS }) {
        let words = super::word::word_of(test.value);
        table.fault(names::no_limits(figure.place, nutrient, words, class_field), into);
    }
}
