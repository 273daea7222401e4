//! A bed's budget: need, what feeds it already, what is short.

use rust_decimal::Decimal;

use super::{NOT_KNOWN, Reported, changes, nothing};
use crate::engine::need::Basis;
use crate::engine::plan::{BedPlan, MineralBudget, PlantingPlan};
use crate::engine::trifle;
use crate::quantity::{Kind, Mass};
use crate::report::document::{Column, Document, Table};
use crate::report::number::Scale;
use crate::report::text::Text;

pub(super) fn add(reported: &Reported<'_>, bed: &BedPlan, document: &mut Document) {
    let largest = bed.plantings.iter().map(|planting| planting.need.value().base());
    let minerals = [&bed.phosphate, &bed.potash];
    let largest = largest.chain(
        minerals.iter().flat_map(|one| [one.need.value().base(), one.credit.value().base()]),
    );
    let scale = reported.showing.scale(Kind::Mass, largest);
    let mut table = Table::new([
        Column::left(""),
        Column::right(format!("N {}", scale.symbol)),
        Column::right(format!("P2O5 {}", scale.symbol)),
        Column::right(format!("K2O {}", scale.symbol)),
    ]);
    let columns = Columns::of(bed, &scale);
    for (at, planting) in bed.plantings.iter().enumerate() {
        let life = reported.span(planting.life.planted, planting.life.end);
        let name = format!("{}, {life}", planting.crop.name);
        table.row([Text::new().emphasis(name), Text::new(), Text::new(), Text::new()]);
        columns.planting(at, bed, planting, &mut table);
    }
    columns.minerals(bed, &mut table);
    document.table(table);
    for planting in &bed.plantings {
        remarks(reported, planting, document);
    }
    for budget in minerals {
        if !nothing(budget.not_planned.value()) {
            let shown = reported.showing.of(budget.not_planned.value());
            document.note(Text::new().shown(&shown).plain(format!(
                " of {} is above the yearly limit and is not planned",
                budget.nutrient.word()
            )));
        }
    }
}

/// Lines of one column that add up to its last line: need less credits is what is short, or over.
struct Lines {
    need: String,
    credits: Vec<String>,
    balance: Text,
}

impl Lines {
    /// Where the need is not known, neither is the balance.
    fn or_unknown(self, known: bool) -> Self {
        if known {
            return self;
        }
        Self { need: NOT_KNOWN.to_owned(), balance: Text::from(NOT_KNOWN), ..self }
    }
}

struct Columns {
    nitrogen: Vec<Lines>,
    phosphate: Lines,
    potash: Lines,
}

impl Columns {
    fn of(bed: &BedPlan, scale: &Scale) -> Self {
        let nitrogen = bed
            .plantings
            .iter()
            .map(|planting| {
                let credits: Vec<Mass> =
                    planting.credits.iter().map(|one| one.nitrogen.value()).collect();
                lines(scale, planting.need.value(), &credits).or_unknown(planting.need_known())
            })
            .collect();
        let mineral = |budget: &MineralBudget| {
            let credits = budget.credits.iter().map(|(_, _, figure)| figure.value());
            let later = Some(budget.free_later()).filter(|later| !nothing(*later));
            let credits: Vec<Mass> = credits.chain(later).collect();
            lines(scale, budget.need.value(), &credits)
                .or_unknown(bed.mineral_known(budget.nutrient))
        };
        Self { nitrogen, phosphate: mineral(&bed.phosphate), potash: mineral(&bed.potash) }
    }

    fn planting(&self, at: usize, bed: &BedPlan, planting: &PlantingPlan, table: &mut Table) {
        let link = |figure: &str| format!("{}/{}/nitrogen/{figure}", bed.slug, planting.slug);
        let lines = &self.nitrogen[at];
        let basis = format!("  need, {}", rests_on(planting.basis));
        let need = number(&lines.need).linked(&link("need"));
        table.row([Text::from(basis), need, Text::new(), Text::new()]);
        for (credit, shown) in planting.credits.iter().zip(&lines.credits) {
            let label = format!("  less {}", credit.label);
            let shown = number(shown).linked(&link(&format!("credits/{}", credit.slug)));
            table.row([Text::from(label), shown, Text::new(), Text::new()]);
        }
        let balance = lines.balance.clone().linked(&link(ends_in(planting.shortfall.value())));
        table.row([Text::from("  balance"), balance, Text::new(), Text::new()]);
    }

    fn minerals(&self, bed: &BedPlan, table: &mut Table) {
        let link = |budget: &MineralBudget, figure: &str| {
            format!("{}/{}/{figure}", bed.slug, budget.nutrient.word())
        };
        let name = Text::new().emphasis("the bed, this year");
        table.row([name, Text::new(), Text::new(), Text::new()]);
        table.row([
            Text::from("  need"),
            Text::new(),
            number(&self.phosphate.need).linked(&link(&bed.phosphate, "need")),
            number(&self.potash.need).linked(&link(&bed.potash, "need")),
        ]);
        let mut names: Vec<&str> = Vec::new();
        for (_, label, _) in bed.phosphate.credits.iter().chain(&bed.potash.credits) {
            if !names.contains(&label.as_str()) {
                names.push(label);
            }
        }
        for label in names {
            let cell = |budget: &MineralBudget, lines: &Lines| {
                let mut found = Text::new();
                for ((name, one, _), shown) in budget.credits.iter().zip(&lines.credits) {
                    if one == label {
                        found = number(shown).linked(&link(budget, &format!("credits/{name}")));
                    }
                }
                found
            };
            table.row([
                Text::from(format!("  less {label}")),
                Text::new(),
                cell(&bed.phosphate, &self.phosphate),
                cell(&bed.potash, &self.potash),
            ]);
        }
        let later = |budget: &MineralBudget, lines: &Lines| {
            // It stands behind the credits, where there is any.
            lines.credits.get(budget.credits.len()).map(|shown| number(shown))
        };
        let later = [later(&bed.phosphate, &self.phosphate), later(&bed.potash, &self.potash)];
        if later.iter().any(Option::is_some) {
            let [phosphate, potash] = later.map(Option::unwrap_or_default);
            table.row([Text::from("  less what comes free later"), Text::new(), phosphate, potash]);
        }
        table.row([
            Text::from("  balance"),
            Text::new(),
            self.phosphate
                .balance
                .clone()
                .linked(&link(&bed.phosphate, ends_in(bed.phosphate.shortfall.value()))),
            self.potash
                .balance
                .clone()
                .linked(&link(&bed.potash, ends_in(bed.potash.shortfall.value()))),
        ]);
    }
}

/// What a need rests on, to follow it.
const fn rests_on(basis: Basis) -> &'static str {
    match basis {
        Basis::Given => "as advised",
        Basis::Supply => "soil included",
        Basis::Recommendation => "by bulletins",
        Basis::Feeder => "by reputation",
        Basis::Container => "by its harvest",
    }
}

/// The figure that a budget ends in.
fn ends_in(shortfall: Mass) -> &'static str {
    if nothing(shortfall) { "surplus" } else { "shortfall" }
}

fn number(shown: &str) -> Text {
    Text::new().value(shown)
}

fn lines(scale: &Scale, need: Mass, credits: &[Mass]) -> Lines {
    let total: Mass = need - credits.iter().copied().sum();
    let parts: Vec<Decimal> =
        std::iter::once(need.base()).chain(credits.iter().map(|credit| -credit.base())).collect();
    let (balance, shown) = scale.apportioned(total.base(), &parts);
    let plain =
        |text: &str| text.strip_prefix('-').map_or_else(|| format!("-{text}"), str::to_owned);
    let mut shown = shown.into_iter().map(|one| one.number);
    let need = shown.next().unwrap_or_default();
    let credits = shown
        .map(|text| {
            if text.trim_start_matches(['-', '0', '.']).is_empty() {
                text.trim_start_matches('-').to_owned()
            } else {
                plain(&text)
            }
        })
        .collect();
    let figure = balance.number.trim_start_matches('-').to_owned();
    let balance = if nothing(total) || figure.trim_start_matches(['0', '.']).is_empty() {
        Text::from("even")
    } else if total > Mass::ZERO {
        Text::new().plain("short ").value(figure)
    } else {
        Text::new().plain("over ").value(figure)
    };
    Lines { need, credits, balance }
}

/// What the table cannot hold: range, ceiling, what waits, what cannot be given.
fn remarks(reported: &Reported<'_>, planting: &PlantingPlan, document: &mut Document) {
    let showing = reported.showing;
    let name = &planting.crop.name;
    let (low, high) = planting.shortfall.range();
    if low != high {
        let range = showing.range(low, high);
        document.paragraph(
            Text::new()
                .plain(format!("{name}: likely short by "))
                .shown(&range)
                .plain(" of nitrogen, counting what is not certain"),
        );
    }
    if let Some(taken) = &planting.already_taken {
        document.note(
            Text::new()
                .shown(&showing.of(taken.value()))
                .plain(format!(" of nitrogen is already in {name}, before the nitrate test")),
        );
    }
    if !nothing(planting.not_planned.value()) {
        let why = if planting.crop.legume {
            "is left to the crop, which takes nitrogen from the air"
        } else {
            "is above the highest rate in any bulletin read, and is not planned"
        };
        let shown = showing.of(planting.not_planned.value());
        document.note(Text::new().shown(&shown).plain(format!(" of nitrogen for {name} {why}")));
    }
    if let Some(held) = &planting.held_back {
        document.note(Text::new().shown(&showing.of(held.value())).plain(format!(
            " of nitrogen for {name} is held back: soil this rich should carry it through"
        )));
    }
    changes::add(reported, planting, document);
    // What weighing leaves over is no news.
    if planting.not_given.value() > trifle::of(planting.need.value()) {
        document.note(
            Text::new()
                .shown(&showing.of(planting.not_given.value()))
                .plain(format!(" of nitrogen for {name} cannot be given safely or in time")),
        );
    }
}
