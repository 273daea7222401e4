//! The shopping list as documents, JSON and rows.

mod explain;
mod json;
mod missing;
pub mod stock;

pub use explain::{explained, explained_json, paths, reasons};
pub use json::{json, sheet};

use super::document::{Column, Document, Table};
use super::number::Showing;
use super::text::Text;
use super::words::Joined;
use crate::engine::buy::{Answer, Line, List, Measure, Note, Proof};
use crate::nutrient::Nutrient;
use crate::quantity::{Mass, Money, Quantity, Share, UnitSystem};
use missing::missing;

/// Adds the lists to a document: what to buy, what is left over, what cannot be had.
pub fn add(certain: &List, possible: &List, showing: Showing, document: &mut Document) {
    document.heading(2, "What to buy");
    one_list(certain, showing, document);
    if !possible.met.is_empty() || !possible.unmet.is_empty() {
        document.heading(3, "Besides, if every dose that waits for a measurement is given");
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
            "Nothing of what is still needed is on offer."
        });
    } else {
        document.table(packs(list, showing));
    }
    if !list.materials.is_empty() {
        document.table(sums(list, showing));
    }
    let lacking = missing(list);
    if list.materials.is_empty() && lacking.len() > 1 {
        // Where there is no shed, one line is enough for the garden.
        let all: Vec<String> = lacking.iter().map(|one| one.words(showing)).collect();
        document.note(Text::from(format!(
            "{}: none of it is on hand or on offer; list it under [[shed]] with a price",
            all.join("; ")
        )));
    } else {
        for one in lacking {
            let more = if list.materials.iter().any(|sum| sum.material == one.material) {
                "no more is on hand or on offer"
            } else {
                "nothing is on hand or on offer"
            };
            document.note(Text::from(format!(
                "{}: {more}; list it under [[shed]] with a price",
                one.words(showing)
            )));
        }
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
        let masses = [sum.needed, sum.on_hand, sum.bought, sum.left_over];
        let scale = showing.scale_of(masses);
        let total = sum.on_hand + sum.bought;
        // Two ways to part the same whole, in one unit: what came and where it goes.
        let parted = |one: Mass, other: Mass| {
            let lines = scale.apportioned(total.base(), &[one.base(), other.base()]).1;
            lines.into_iter().map(|shown| Text::new().shown(&shown)).collect::<Vec<_>>()
        };
        let (goes, came) = (parted(sum.needed, sum.left_over), parted(sum.on_hand, sum.bought));
        let row = goes.iter().take(1).chain(&came).chain(goes.iter().skip(1)).cloned();
        table.row(std::iter::once(Text::from(sum.material.as_str())).chain(row));
    }
    table
}

fn told_note(note: &Note, showing: Showing) -> Text {
    match note {
        Note::ByWeight { unpriced, chosen } => Text::from(format!(
            "{} without a price, so {} chosen by least weight",
            Joined::and(unpriced),
            Joined::and(chosen)
        )),
        Note::Chosen { proven: true, .. } => Text::from(
            "Chosen from the shed: no other choice of materials that feeds every bed as well costs less",
        ),
        Note::Chosen { could_save: Some(most), .. } => Text::from(format!(
            "Chosen from the shed: another choice of materials could save at most {}",
            showing.of(*most)
        )),
        Note::Chosen { .. } => {
            Text::from("Chosen from the shed: another choice of materials may cost a little less")
        }
        Note::RaisedToMinimum { supplier, minimum, idle } => Text::from(format!(
            "{supplier} takes no order below {}: {} of this one buys what no dose needs; ask for \
             less, share the order, or take that offer out of the file",
            showing.of(*minimum),
            showing.of(*idle)
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
        Proof::Least if !list.unpriced.is_zero() => {
            Text::from("No list costs less, or weighs less where a price is missing.")
        }
        Proof::Least
            if list.notes.iter().any(|note| matches!(note, Note::Chosen { proven: false, .. })) =>
        {
            Text::from("No list with these materials costs less.")
        }
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
