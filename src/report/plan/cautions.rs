//! Cautions of a plan, each told once with the beds that call for it.

use super::Reported;
use crate::catalogue::Source;
use crate::engine::plan::BedPlan;
use crate::report::document::Document;
use crate::report::explain::cite;
use crate::report::text::Text;

pub(super) fn add(reported: &Reported<'_>, document: &mut Document) {
    let beds: Vec<&BedPlan> = reported.plan.beds.iter().collect();
    add_for(reported, &beds, document);
}

/// What a caution is about, such as a material, and the beds it is spread on.
type Places = Vec<(String, Vec<String>)>;

pub(super) fn add_for(reported: &Reported<'_>, beds: &[&BedPlan], document: &mut Document) {
    let mut keys: Vec<(&str, Places)> = Vec::new();
    for bed in beds {
        for (key, about) in &bed.cautions {
            let at = keys.iter().position(|(one, _)| one == key).unwrap_or_else(|| {
                keys.push((key, Vec::new()));
                keys.len() - 1
            });
            let about = if about == &bed.name { "" } else { about.as_str() };
            let places = &mut keys[at].1;
            match places.iter_mut().find(|(one, _)| one == about) {
                Some((_, names)) if names.contains(&bed.name) => {}
                Some((_, names)) => names.push(bed.name.clone()),
                None => places.push((about.to_owned(), vec![bed.name.clone()])),
            }
        }
    }
    if keys.is_empty() {
        return;
    }
    document.heading(2, "Before you spread anything");
    keys.push(("local-rules", Vec::new()));
    for (key, places) in keys {
        let Some(caution) = reported.season.catalogue.caution(key) else { continue };
        let named = named(&places, beds.len());
        let mut text = Text::new();
        if !named.is_empty() {
            text = text.emphasis(format!("{named}: "));
        }
        let text = text.plain(caution.sentence.clone());
        let source = reported.season.catalogue.source(&caution.source);
        let cited = source.map_or_else(|| caution.source.clone(), |source| short(&source));
        document.caution(text, cited);
    }
}

/// "feather meal (north 1, east 2), blood meal (south 1)". Beds are left out where there is one.
fn named(places: &Places, beds: usize) -> String {
    let each = places.iter().filter_map(|(about, names)| {
        let names = if names.len() == beds { "every bed".to_owned() } else { names.join(", ") };
        match (about.is_empty(), beds > 1) {
            (true, true) => Some(names),
            (true, false) => None,
            (false, true) => Some(format!("{about} ({names})")),
            (false, false) => Some(about.clone()),
        }
    });
    each.collect::<Vec<_>>().join(", ")
}

/// Columns that a source may take beside its word on a line of eighty.
const ONE_LINE: usize = 68;

/// Who says so, in one line where that can be; `topdress catalogue sources` tells the rest.
fn short(source: &Source) -> String {
    let whole = cite(source);
    let Some(body) = source.body.clone().filter(|_| whole.chars().count() > ONE_LINE) else {
        return whole;
    };
    let year = source.year.map(|year| year.to_string());
    let parts = [Some(body), source.number.clone(), year];
    let known: Vec<String> = parts.into_iter().flatten().filter(|part| !part.is_empty()).collect();
    // A country or a state alone is no publisher to look for.
    if known[0].contains(' ') {
        format!("{} [{}]", known.join(", "), source.status.words())
    } else {
        whole
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn materials_and_beds_are_named_once() {
        let beds = |names: &[&str]| names.iter().map(ToString::to_string).collect::<Vec<_>>();
        let places = vec![
            ("feather meal".to_owned(), beds(&["north 1", "east 2"])),
            ("blood meal".to_owned(), beds(&["south 1"])),
        ];
        assert_eq!(named(&places, 3), "feather meal (north 1, east 2), blood meal (south 1)");
        assert_eq!(named(&places, 2), "feather meal (every bed), blood meal (south 1)");
        let alone = vec![(String::new(), beds(&["north 1"]))];
        assert_eq!(named(&alone, 2), "north 1");
        assert_eq!(named(&alone, 1), "");
    }
}
