//! Cautions of a plan, each told once with the beds that call for it.

use super::Reported;
use crate::engine::plan::BedPlan;
use crate::report::document::Document;
use crate::report::explain::cite;
use crate::report::text::Text;

pub(super) fn add(reported: &Reported<'_>, document: &mut Document) {
    let beds: Vec<&BedPlan> = reported.plan.beds.iter().collect();
    add_for(reported, &beds, document);
}

pub(super) fn add_for(reported: &Reported<'_>, beds: &[&BedPlan], document: &mut Document) {
    let mut keys: Vec<(&str, Vec<String>)> = Vec::new();
    for bed in beds {
        for (key, about) in &bed.cautions {
            let about = match (about.is_empty(), about == &bed.name) {
                (true, _) => String::new(),
                (false, true) => bed.name.clone(),
                (false, false) if beds.len() > 1 => format!("{} ({about})", bed.name),
                (false, false) => about.clone(),
            };
            match keys.iter_mut().find(|(one, _)| one == key) {
                Some((_, places)) if about.is_empty() || places.contains(&about) => {}
                Some((_, places)) => places.push(about),
                None => keys.push((key, if about.is_empty() { Vec::new() } else { vec![about] })),
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
        let mut text = Text::new();
        if !places.is_empty() {
            text = text.emphasis(format!("{}: ", places.join(", ")));
        }
        let source = reported.season.catalogue.source(&caution.source);
        let cited = source.map_or_else(|| caution.source.clone(), |source| cite(&source));
        document.caution(text.plain(caution.sentence.clone()), cited);
    }
}
