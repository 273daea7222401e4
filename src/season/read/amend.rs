//! What is spread on a bed this season.

use super::super::{Amendment, Measure, Said};
use super::bed::Around;
use super::fields::amend;
use super::fields::amount::{Amount, PerArea};
use super::garden::{in_season, plain};
use super::stuff::{overrides, resolve};
use super::table::{Field, Findings, Table};
use super::value::Above;
use crate::fault::shape;
use crate::quantity::Length;
use rust_decimal::Decimal;

/// Reads one `[[bed.amend]]`.
pub fn read(
    mut table: Table<'_, '_>,
    around: &Around<'_>,
    into: &mut Findings,
) -> Option<Amendment> {
    let t = &mut table;
    let name = t.require_text(&amend::MATERIAL, into);
    let own = overrides(t, into);
    let amount = measure(t, &amend::DEPTH, &amend::AMOUNT, &amend::RATE, into);
    if amount.is_none() && !t.has(&amend::DEPTH) && !t.has(&amend::AMOUNT) && !t.has(&amend::RATE) {
        let ways = "`depth = \"0.5 in\"`, `amount = \"6 ft3\"` or `\"150 lb\"`, or `rate = \"3 \
                    yd3/1000 ft2\"`";
        t.lacks(shape::none_of(t.place, t.heading, "how much is spread", ways), into);
    }
    let placed = t.take(&amend::PLACED, into).map(plain);
    let worked_in = t.take(&amend::WORKED_IN, into);
    let on = t.require(&amend::ON, into);
    if let Some(on) = on {
        in_season(t, on, "on", around.window, into);
    }
    let stuff = resolve(t, name?, own, around.known, into)?;
    let (amount, on) = (amount?, on?);
    t.sound.then_some(Amendment { stuff, amount, placed, worked_in, on })
}

/// Reads how much was spread, said in one of three ways.
pub fn measure(
    table: &mut Table<'_, '_>,
    depth: &Field<Above<Length>>,
    amount: &Field<Amount>,
    rate: &Field<PerArea>,
    into: &mut Findings,
) -> Option<Said<Measure>> {
    let there: Vec<(&str, crate::figure::Place)> = [
        (table.has(depth), depth.name, table.key(depth)),
        (table.has(amount), amount.name, table.key(amount)),
        (table.has(rate), rate.name, table.key(rate)),
    ]
    .into_iter()
    .filter(|(there, ..)| *there)
    .map(|(_, name, place)| (name, place))
    .collect();
    if let [first, second, ..] = there[..] {
        let why = "say how much in one way only";
        table.fault(shape::either_or(second.1, second.0, first.0, first.1, why), into);
        return None;
    }
    if let Some(said) = table.take(depth, into) {
        return deep_enough(table, Said::new(Measure::Depth(said.value.0), said.place), into);
    }
    if let Some(said) = table.take(amount, into) {
        return Some(Said::new(said.value.0, said.place));
    }
    let said = table.take(rate, into)?;
    deep_enough(table, Said::new(said.value.0, said.place), into)
}

/// A layer thicker than a metre is a heap.
fn deep_enough(
    table: &mut Table<'_, '_>,
    said: Said<Measure>,
    into: &mut Findings,
) -> Option<Said<Measure>> {
    let Measure::Depth(depth) = said.value else { return Some(said) };
    if depth > Length::from_m(Decimal::ONE) {
        let reason = "a layer thicker than 1 m is a heap, not a dressing";
        let text = format!("{} m", crate::quantity::significant(depth.m(), 3));
        let range = "up to 1 m (3.28 ft)";
        table.fault(shape::out_of_range(said.place, "depth", &text, range, reason), into);
        return None;
    }
    Some(said)
}
