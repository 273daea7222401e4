//! Lines add up to their totals, as reckoned and as printed; every figure reckons back.

use proptest::prelude::*;
use rust_decimal::Decimal;
use topdress::engine::plan::{BedPlan, Plan};
use topdress::engine::shopping;
use topdress::quantity::{Mass, settle};
use topdress::report::markdown;
use topdress::report::number::Showing;
use topdress::report::plan::{Reported, plan as page};
use topdress::season::Season;

use super::draw::garden;
use super::text::{Hand, text};
use super::{day, draws, planned, reckons_back, season};

fn even(one: Mass, parts: impl IntoIterator<Item = Mass>) -> bool {
    let sum: Mass = parts.into_iter().sum();
    settle(one.base()) == settle(sum.base())
}

fn as_reckoned(bed: &BedPlan) -> Result<(), TestCaseError> {
    for planting in &bed.plantings {
        let credits = planting.credits.iter().map(|credit| credit.nitrogen.value());
        let value = |figure: &topdress::figure::Figure<Mass>| figure.value();
        prop_assert!(even(planting.credit.value(), credits));
        let (short, over) = (value(&planting.shortfall), value(&planting.surplus));
        prop_assert!(even(value(&planting.need), [value(&planting.credit), short, -over]));
        prop_assert!(even(short, [value(&planting.planned), value(&planting.not_planned)]));
        let doses = bed.doses.iter().filter(|dose| dose.certain());
        let counts = doses.flat_map(|dose| &dose.counts);
        let mine = counts.filter(|(at, _)| *at == planting.index).map(|(_, mass)| mass.value());
        prop_assert!(even(planting.given.value(), mine));
    }
    for mineral in [&bed.phosphate, &bed.potash] {
        let credits = mineral.credits.iter().map(|(_, _, mass)| mass.value());
        prop_assert!(even(mineral.credit.value(), credits));
        let short = mineral.shortfall.value();
        prop_assert!(even(short, [mineral.planned.value(), mineral.not_planned.value()]));
        let brought = bed.doses.iter().map(|dose| dose.brings[mineral.nutrient].value());
        prop_assert!(even(mineral.given.value(), brought));
    }
    Ok(())
}

/// The number at the end of a cell: "short 2.1", "1,200".
fn number(cell: &str) -> Option<Decimal> {
    cell.trim().rsplit(' ').next()?.replace([',', '\\'], "").parse().ok()
}

/// Reads budgets as they are printed: in each column, the need less the lines beneath it is the
/// balance; where the need is not known, neither is that. Returns how many balances there were.
fn as_printed(markdown: &str) -> Result<usize, TestCaseError> {
    let mut sums = [None::<Option<Decimal>>; 3];
    let mut balances = 0;
    for line in markdown.lines().filter(|line| line.starts_with("| ")) {
        let cells: Vec<&str> = line.trim_matches('|').split(" | ").map(str::trim).collect();
        let [name, columns @ ..] = cells.as_slice() else { continue };
        if columns.len() != 3 {
            continue;
        }
        for (sum, cell) in sums.iter_mut().zip(columns) {
            let shown = number(cell);
            if name.starts_with("need") {
                *sum = (!cell.is_empty()).then_some(shown);
            } else if name.starts_with("less ") {
                *sum = sum.map(|sum| Some(sum? - shown.unwrap_or_default()));
            } else if *name == "balance"
                && let Some(sum) = *sum
            {
                let sign = if cell.starts_with("over") { -Decimal::ONE } else { Decimal::ONE };
                let even = (*cell == "even").then_some(Decimal::ZERO);
                let balance = shown.map(|shown| sign * shown).or(even);
                prop_assert_eq!(sum, balance, "{}", markdown);
                prop_assert!(sum.is_some() || *cell == "not known", "{}", markdown);
                balances += 1;
            }
        }
    }
    Ok(balances)
}

/// Reads the season at a glance: need less credits is what is short, where anything is.
fn at_a_glance(markdown: &str) -> Result<(), TestCaseError> {
    for line in markdown.lines().filter(|line| line.starts_with('|')) {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        let [_, _, need, credits, short, _, _, _] = cells.as_slice() else { continue };
        let (Some(need), Some(credits), Some(short)) =
            (number(need), number(credits), number(short))
        else {
            continue;
        };
        prop_assert!(short.is_zero() || need - credits == short, "{}", line);
    }
    Ok(())
}

fn shopping_adds_up(season: &Season, plan: &Plan) -> Result<(), TestCaseError> {
    let answer = shopping::list(season, plan, Some(day("2027-01-01")));
    for list in [&answer.certain, &answer.possible] {
        let lines = list.lines.iter().filter_map(|line| line.cost).map(|cost| cost.base());
        let charges = list.deliveries.iter().map(|(_, charge)| charge.base());
        prop_assert_eq!(list.cost.base(), lines.chain(charges).sum::<Decimal>());
        for sum in &list.materials {
            prop_assert!(even(sum.on_hand + sum.bought, [sum.needed, sum.left_over]));
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(draws(24))]

    #[test]
    fn lines_add_up_to_their_totals(garden in garden(2)) {
        let season = season(&text(&garden, Hand::US));
        let plan = planned(&season);
        plan.beds.iter().try_for_each(as_reckoned)?;
        let showing = Showing::new(season.garden.units);
        let today = Some(day("2027-01-01"));
        let reported = Reported { season: &season, plan: &plan, showing, today, against: &[] };
        let printed = markdown::render(&page(&reported));
        let plantings: usize = plan.beds.iter().map(|bed| bed.plantings.len() + 2).sum();
        prop_assert_eq!(as_printed(&printed)?, plantings, "{}", printed);
        at_a_glance(&printed)?;
        shopping_adds_up(&season, &plan)?;
    }

    #[test]
    fn every_figure_reckons_back(garden in garden(2)) {
        let plan = planned(&season(&text(&garden, Hand::METRIC)));
        reckons_back(&plan)?;
    }
}
