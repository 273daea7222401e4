//! The shopping list as documents, JSON and rows.

mod json;

pub use json::{json, sheet};

use super::document::{Column, Document, Table};
use super::number::Showing;
use super::text::Text;
use super::words::Joined;
use crate::engine::buy::{Answer, Line, List, Measure, Note, Proof, Unmet};
use crate::nutrient::Nutrient;
use crate::quantity::{Mass, Money, Share, UnitSystem};

/// Adds the lists to a document: what to buy, what is left over, what cannot be had.
pub fn add(certain: &List, possible: &List, showing: Showing, document: &mut Document) {
    document.heading(2, "What to buy");
    one_list(certain, showing, document);
    if !possible.met.is_empty() || !possible.unmet.is_empty() {
        document.heading(3, "If every dose that waits for a measurement is given");
        one_list(possible, showing, document);
    }
}

/// The whole answer of `buy`.
pub fn document(answer: &Answer, showing: Showing, about: Text) -> Document {
    let mut document = Document::new("Shopping list");
    document.about = about;
    add(&answer.certain, &answer.possible, showing, &mut document);
    costs(answer, showing, &mut document);
    document
}

fn one_list(list: &List, showing: Showing, document: &mut Document) {
    if list.lines.is_empty() {
        let enough = list.unmet.is_empty();
        document.paragraph(if enough {
            "Nothing: what is on hand is enough."
        } else {
            "Nothing on offer serves."
        });
    } else {
        document.table(packs(list, showing));
    }
    if !list.materials.is_empty() {
        document.table(sums(list, showing));
    }
    for unmet in &list.unmet {
        document.note(told_unmet(unmet, showing));
    }
    for note in &list.notes {
        document.note(told_note(note, showing));
    }
    if !list.lines.is_empty() {
        document.paragraph(told_proof(list, showing));
    }
}

fn packs(list: &List, showing: Showing) -> Table {
    let mut table = Table::new([
        Column::left("material"),
        Column::right("packs"),
        Column::right("of"),
        Column::right("cost"),
        Column::left("from"),
    ]);
    for line in &list.lines {
        table.row([
            Text::from(line.offer.material.as_str()),
            Text::new().value(line.count.to_string()),
            Text::new().shown(&showing.of(line.pack.get())),
            money(line.cost, showing),
            Text::from(line.offer.supplier.as_str()),
        ]);
    }
    for (supplier, charge) in &list.deliveries {
        table.row([
            Text::from("delivery"),
            Text::new(),
            Text::new(),
            money(Some(*charge), showing),
            Text::from(supplier.as_str()),
        ]);
    }
    table.total = Some(vec![
        Text::from("total"),
        Text::new(),
        Text::new(),
        money(Some(list.cost), showing),
        Text::new(),
    ]);
    table
}

fn money(cost: Option<Money>, showing: Showing) -> Text {
    cost.map_or_else(|| Text::from("?"), |cost| Text::new().shown(&showing.of(cost)))
}

fn sums(list: &List, showing: Showing) -> Table {
    let mut table = Table::new([
        Column::left("material"),
        Column::right("needed"),
        Column::right("on hand"),
        Column::right("bought"),
        Column::right("left over"),
    ]);
    for sum in &list.materials {
        let cell = |mass: Mass| Text::new().shown(&showing.of(mass));
        table.row([
            Text::from(sum.material.as_str()),
            cell(sum.needed),
            cell(sum.on_hand),
            cell(sum.bought),
            cell(sum.left_over),
        ]);
    }
    table
}

fn told_unmet(unmet: &Unmet, showing: Showing) -> Text {
    let share = if unmet.share >= Share::WHOLE { "all" } else { "part" };
    let would: Vec<String> = unmet
        .would
        .iter()
        .map(|parts| {
            let parts: Vec<String> = parts
                .iter()
                .map(|part| format!("{} of {}", showing.of(part.weight), part.material))
                .collect();
            Joined::and(&parts).to_string()
        })
        .collect();
    Text::new()
        .plain(format!("nothing on hand or on offer meets {share} of "))
        .code(unmet.path.clone())
        .plain(format!("; {} would: list it under [[shed]]", Joined::or(&would)))
}

fn told_note(note: &Note, showing: Showing) -> Text {
    match note {
        Note::ByWeight { unpriced, chosen } => Text::from(format!(
            "{} without a price, so {} chosen by least weight",
            Joined::and(unpriced),
            Joined::and(chosen)
        )),
        Note::BelowMinimum { supplier, spent, minimum } => Text::from(format!(
            "{supplier} takes no order below {}; this one comes to {}",
            showing.of(*minimum),
            showing.of(*spent)
        )),
    }
}

fn told_proof(list: &List, showing: Showing) -> Text {
    let mut text = match list.proof {
        Proof::Least => Text::from("No list costs less."),
        Proof::Within { cost, weight } => Text::from(format!(
            "A better list could save at most {} and {}.",
            showing.of(cost),
            showing.of(weight)
        )),
    };
    if let Some(next) = &list.next_best {
        let total = match next.total {
            Measure::Cost(cost) => format!("comes to {}", showing.of(cost)),
            Measure::Weight(weight) => format!("weighs {}", showing.of(weight)),
        };
        text =
            text.plain(format!(" The next best, without this {}, {total}.", next.without.material));
    }
    text
}

/// What a pound (kilogram) of each nutrient costs in each pack on offer.
fn costs(answer: &Answer, showing: Showing, document: &mut Document) {
    if answer.nutrient_costs.is_empty() {
        return;
    }
    let word = unit_word(showing.system);
    document.heading(3, format!("What a {word} of each nutrient costs"));
    let mut table = Table::new([
        Column::left("pack"),
        Column::right("price"),
        Column::right("N"),
        Column::right("P2O5"),
        Column::right("K2O"),
    ]);
    for cost in &answer.nutrient_costs {
        let each = |nutrient: Nutrient| match cost.shared.per_kg[nutrient] {
            Some(money) => Text::new().shown(&showing.of(per_unit(money, showing.system))),
            None => Text::new(),
        };
        table.row([
            Text::from(format!("{} of {}", showing.of(cost.pack.get()), cost.offer.material)),
            Text::new().shown(&showing.of(cost.price)),
            each(Nutrient::Nitrogen),
            each(Nutrient::Phosphate),
            each(Nutrient::Potash),
        ]);
    }
    document.table(table);
}

/// The unit that nutrient costs are told in.
pub(super) const fn unit_word(system: UnitSystem) -> &'static str {
    match system {
        UnitSystem::Us => "pound",
        UnitSystem::Metric => "kilogram",
    }
}

/// Money per kilogram as money per pound or kilogram.
pub(super) fn per_unit(per_kg: Money, system: UnitSystem) -> Money {
    match system {
        UnitSystem::Us => per_kg * Share::from_fraction(Mass::from_lb(1.into()).kg()),
        UnitSystem::Metric => per_kg,
    }
}

/// "2 packs of 50 lb".
pub(super) fn told_line(line: &Line, showing: Showing) -> String {
    let packs = if line.count == 1 { "pack" } else { "packs" };
    format!("{} {packs} of {}", line.count, showing.of(line.pack.get()))
}
