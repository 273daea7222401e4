//! The dose, or why there is none.

use rust_decimal::Decimal;

use super::{Checked, words};
use crate::catalogue::MaterialKind;
use crate::engine::check::{Basis, Dose, Offer};
use crate::quantity::{Length, UnitSystem};
use crate::report::document::{Block, Column, Document, Table};
use crate::report::kitchen::scooped;
use crate::report::text::Text;

pub(super) fn add(checked: &Checked<'_>, document: &mut Document) {
    let holds = &checked.answer.holds;
    let reasons =
        || -> Vec<Text> { holds.iter().map(|hold| Text::from(words::hold(hold).1)).collect() };
    let Some(dose) = &checked.answer.dose else {
        document.heading(2, "No dose");
        document.push(Block::List { ordered: false, items: reasons() });
        if !holds.iter().any(crate::engine::check::Hold::stands) && !holds.is_empty() {
            document.paragraph(
                Text::new()
                    .plain("To see what a dose would be all the same, ask with ")
                    .code("--anyway")
                    .plain("."),
            );
        }
        return;
    };
    document.heading(2, if holds.is_empty() { "Dose" } else { "Dose, against advice" });
    if !holds.is_empty() {
        document.push(Block::List {
            ordered: false,
            items: reasons()
                .into_iter()
                .map(|text| Text::new().warning("against: ").and(text))
                .collect(),
        });
    }
    amounts(checked, dose, document);
    cautions(checked, dose, document);
    document.heading(3, "What not to do");
    let avoids = checked.signs.avoids.iter().map(|avoid| {
        Text::new().plain(avoid.says.clone()).dim(format!(" – {}", checked.cite(&avoid.source)))
    });
    document.push(Block::List { ordered: false, items: avoids.collect() });
}

fn amounts(checked: &Checked<'_>, dose: &Dose, document: &mut Document) {
    let show = checked.showing;
    let mut text = Text::new().plain("Nitrogen that counts: ");
    if let Some(rate) = &dose.rescue.rate {
        text = text.value(show.both_rates(rate.value())).plain(", ");
    }
    text = text.shown(&show.of(dose.rescue.nitrogen.value())).plain(" for the planting, sized on ");
    let mut text = text.plain(words::basis(dose.rescue.basis).1);
    if measured(dose.rescue.basis) && dose.rescue.nitrogen.value() >= dose.rescue.most.value() {
        text = text.plain(", but held to the most this crop is given at once");
    }
    document.paragraph(text.plain("."));
    if dose.offers.is_empty() {
        document.paragraph(
            "No material at hand acts in time at today's soil temperature; a soluble one would.",
        );
    } else {
        let mut table = Table::new([
            Column::left("either"),
            Column::right("weight"),
            Column::left("that is"),
            Column::left("expect green"),
        ])
        .caption("one of these, not all");
        for offer in &dose.offers {
            table.row([
                Text::from(offer.name.clone()),
                Text::new().shown(&show.of(offer.weight.value())),
                Text::from(in_other_words(checked, offer)),
                Text::from(green(checked, offer)),
            ]);
        }
        document.table(table);
    }
    for (name, why) in &dose.refused {
        document.paragraph(
            Text::new()
                .emphasis(name.clone())
                .plain(format!(" is no rescue: {}.", words::refused(*why).1)),
        );
    }
    document.paragraph(
        "No green within ten days of a soluble dose, in warm moist soil, means that it was not \
         nitrogen or that the roots do not work: do not feed again, look again.",
    );
}

fn in_other_words(checked: &Checked<'_>, offer: &Offer) -> String {
    let show = checked.showing;
    let mut parts = Vec::new();
    if let Some(each) = &offer.per_plant {
        parts.push(format!("{} a plant", show.of(each.value())));
    }
    if let Some(row) = &offer.per_ten_feet {
        parts.push(match show.system {
            UnitSystem::Us => format!("{} per 10 ft of row", show.of(row.value())),
            UnitSystem::Metric => {
                let ten_feet = Length::from_ft(Decimal::TEN).base();
                let three = Length::from_m(Decimal::from(3)).base();
                let share = crate::quantity::Share::from_fraction(three / ten_feet);
                format!("{} per 3 m of row", show.of(row.value() * share))
            }
        });
    }
    if let Some(volume) = offer.volume {
        parts.push(format!("about {}", scooped(volume, show.system)));
    }
    parts.join("; ")
}

/// The days on which green is to be expected, in warm moist soil.
fn green(checked: &Checked<'_>, offer: &Offer) -> String {
    let (first, last) = offer.speed.green_after();
    let (from, to) = (checked.today + first, checked.today + last);
    format!("{} to {}, {}", from.short(), to.short(), offer.speed.words())
}

/// The usual cautions of the materials offered, each with its source.
fn cautions(checked: &Checked<'_>, dose: &Dose, document: &mut Document) {
    let catalogue = &checked.season.catalogue;
    let mut keys: Vec<String> = Vec::new();
    for offer in &dose.offers {
        let Some(material) = catalogue.material(&offer.name) else { continue };
        let mut called = material.cautions.clone();
        if material.kind == MaterialKind::AnimalMeal {
            called.push("animal-meal".to_owned());
        }
        for key in called {
            if !keys.contains(&key) {
                keys.push(key);
            }
        }
    }
    keys.push("local-rules".to_owned());
    for key in keys {
        if let Some(caution) = catalogue.caution(&key) {
            document.caution(caution.sentence.clone(), checked.cite(&caution.source));
        }
    }
}

/// Whether a dose is sized on something measured or reckoned, which may ask for more than is given.
const fn measured(basis: Basis) -> bool {
    matches!(basis, Basis::Nitrate | Basis::Budget)
}
