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

/// What a caution is about, such as a crop or a reading, and the beds in which it is.
type Places = Vec<(String, Vec<String>)>;

/// What a caution is said of.
#[derive(Debug, Default)]
struct About {
    /// Materials, wherever they are spread: the work list says where.
    materials: Vec<String>,
    /// All else.
    places: Places,
}

pub(super) fn add_for(reported: &Reported<'_>, beds: &[&BedPlan], document: &mut Document) {
    let mut keys: Vec<(&str, About)> = Vec::new();
    for bed in beds {
        for (key, about) in &bed.cautions {
            let at = keys.iter().position(|(one, _)| one == key).unwrap_or_else(|| {
                keys.push((key, About::default()));
                keys.len() - 1
            });
            keys[at].1.add(reported, bed, about);
        }
    }
    if keys.is_empty() {
        return;
    }
    document.heading(2, "Before you spread anything");
    // What is said of single beds comes first: the rest is worth reading once a season.
    keys.sort_by_key(|(_, about)| about.rank(beds.len()));
    keys.push(("local-rules", About::default()));
    for (key, about) in keys {
        let Some(caution) = reported.season.catalogue.caution(key) else { continue };
        let (lead, items) = about.told(beds.len());
        let mut text = Text::new();
        if !lead.is_empty() {
            text = text.emphasis(format!("{lead}: "));
        }
        let text = text.plain(caution.sentence.clone());
        let source = reported.season.catalogue.source(&caution.source);
        let cited = source.map_or_else(|| caution.source.clone(), |source| short(&source));
        document.caution_of(text, items, cited);
    }
}

impl About {
    fn add(&mut self, reported: &Reported<'_>, bed: &BedPlan, about: &str) {
        if self.materials.iter().any(|one| one == about) {
            return;
        }
        let dosed = bed.doses.iter().any(|dose| dose.ready.stuff.material.name == about);
        if dosed || reported.season.catalogue.lists_material(about) {
            self.materials.push(about.to_owned());
            return;
        }
        let about = if about == bed.name { "" } else { about };
        match self.places.iter_mut().find(|(one, _)| one == about) {
            // Beds come one after another.
            Some((_, names)) if names.last() == Some(&bed.name) => {}
            Some((_, names)) => names.push(bed.name.clone()),
            None => self.places.push((about.to_owned(), vec![bed.name.clone()])),
        }
    }

    /// Beds first, then materials, then what goes for all the garden.
    fn rank(&self, beds: usize) -> u8 {
        match (&self.materials[..], &self.places[..]) {
            ([], [(about, names)]) if about.is_empty() && names.len() == beds => 2,
            ([], [_, ..]) => 0,
            ([_, ..], _) => 1,
            ([], []) => 2,
        }
    }

    /// The words before the sentence, and the lines after it where one line would not hold them:
    /// "feather meal, blood meal", or "kitchen (9 % organic matter)", or lines of "north 1: broccoli".
    fn told(&self, beds: usize) -> (String, Vec<Text>) {
        let mut lead = self.materials.clone();
        let bare = |names: &[String]| match names.len() == beds {
            true => None,
            false => Some(names.join(", ")),
        };
        match &self.places[..] {
            [] => {}
            [(about, names)] if about.is_empty() => lead.extend(bare(names)),
            [(about, _)] if beds == 1 => lead.push(about.clone()),
            [(about, names)] => lead.push(format!("{} ({about})", names.join(", "))),
            several => {
                let line = |(about, names): &(String, Vec<String>)| match about.is_empty() {
                    true => Text::from(names.join(", ")),
                    false if beds == 1 => Text::from(about.as_str()),
                    false => Text::new().emphasis(names.join(", ")).plain(format!(": {about}")),
                };
                return (lead.join(", "), several.iter().map(line).collect());
            }
        }
        (lead.join(", "), Vec::new())
    }
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

    fn about(materials: &[&str], places: &[(&str, &[&str])]) -> About {
        let owned = |names: &[&str]| names.iter().map(ToString::to_string).collect::<Vec<_>>();
        let places = places.iter().map(|(about, names)| ((*about).to_owned(), owned(names)));
        About { materials: owned(materials), places: places.collect() }
    }

    fn told(about: &About, beds: usize) -> (String, Vec<String>) {
        let (lead, items) = about.told(beds);
        (lead, items.iter().map(Text::words).collect())
    }

    #[test]
    fn materials_are_named_without_their_beds() {
        let about = about(&["feather meal", "blood meal"], &[]);
        assert_eq!(told(&about, 3), ("feather meal, blood meal".to_owned(), Vec::new()));
        assert_eq!(about.rank(3), 1);
    }

    #[test]
    fn one_place_leads_and_several_are_listed_bed_by_bed() {
        let one = about(&[], &[("9 % organic matter", &["kitchen"])]);
        assert_eq!(told(&one, 3).0, "kitchen (9 % organic matter)");
        assert_eq!(told(&one, 1).0, "9 % organic matter");
        let several = about(&[], &[("broccoli", &["north 1", "east 2"]), ("leek", &["south"])]);
        let lines = ["north 1, east 2: broccoli".to_owned(), "south: leek".to_owned()];
        assert_eq!(told(&several, 4), (String::new(), lines.to_vec()));
        assert_eq!(told(&several, 1).1, ["broccoli", "leek"]);
        assert_eq!(several.rank(4), 0);
    }

    #[test]
    fn what_goes_for_every_bed_names_none() {
        let all = about(&[], &[("", &["north 1", "south"])]);
        assert_eq!(told(&all, 2), (String::new(), Vec::new()));
        assert_eq!(told(&all, 3).0, "north 1, south");
        assert_eq!((all.rank(2), all.rank(3)), (2, 0));
    }
}
