//! Feeding, the shed and suppliers.

use toml::de::DeValue;

use super::super::{Feed, Feeding, Offer, Pack, Said, ShedItem, Stuff, Supplier};
use super::fields::{feeding, pack, shed, supplier};
use super::stuff::{Known, overrides, resolve};
use super::table::{Field, Findings, Table};
use super::value::{Names, place_of, wrong};
use crate::catalogue::names::{nearest, normal};
use crate::fault::{names, shape};

/// Reads a feeding table.
pub fn feeding(
    mut table: Table<'_, '_>,
    known: &Known<'_>,
    stocked: bool,
    into: &mut Findings,
) -> Option<Feeding> {
    let t = &mut table;
    let before_planting = feed(t, &feeding::BEFORE_PLANTING, known, into);
    let side_dress = feed(t, &feeding::SIDE_DRESS, known, into);
    let timing = t.take(&feeding::TIMING, into).map(super::garden::plain);
    let mix = t.take(&feeding::MIX, into).map(|said| Said::new(said.value.0, said.place));
    for said in [&before_planting, &side_dress].into_iter().flatten() {
        if matches!(said.value, Feed::Best) && !stocked {
            t.lacks(names::nothing_to_choose_from(said.place), into);
        }
    }
    t.sound.then_some(Feeding { before_planting, side_dress, timing, mix })
}

fn feed(
    table: &mut Table<'_, '_>,
    field: &Field<Names>,
    known: &Known<'_>,
    into: &mut Findings,
) -> Option<Said<Feed>> {
    let item = table.item(field)?;
    let place = place_of(item);
    let all = match item.get_ref() {
        DeValue::String(text) if normal(text) == "best" => {
            return Some(Said::new(Feed::Best, place));
        }
        DeValue::String(_) => std::slice::from_ref(item),
        DeValue::Array(all) => all,
        _ => {
            table.fault(wrong(item, field.name, "a list of materials", field.example), into);
            return None;
        }
    };
    let mut stuff: Vec<Stuff> = Vec::with_capacity(all.len());
    for one in all {
        let at = place_of(one);
        let Some(name) = one.get_ref().as_str() else {
            table.fault(wrong(one, field.name, "names of materials", field.example), into);
            continue;
        };
        match known.named(Said::new(name, at), false) {
            Ok(Some(found)) => {
                let same = |other: &&Stuff| other.material.name == found.material.name;
                if let Some(first) = stuff.iter().find(same) {
                    table.fault(shape::listed_twice(at, name, first.place), into);
                }
                stuff.push(found);
            }
            Ok(None) => table.sound = false,
            Err(fault) => table.fault(fault, into),
        }
    }
    Some(Said::new(Feed::Named(stuff), place))
}

/// Reads one entry of the shed, and remembers it under its name.
pub fn item(
    mut table: Table<'_, '_>,
    suppliers: &[Supplier],
    suppliers_sound: bool,
    known: &mut Known<'_>,
    into: &mut Findings,
) -> Option<ShedItem> {
    let t = &mut table;
    let name = t.require_text(&shed::MATERIAL, into);
    let own = overrides(t, into);
    let on_hand = t.take(&shed::ON_HAND, into).map(|said| Said::new(said.value.0, said.place));
    let packs = t.listed(&shed::PACKS, into);
    let had = packs.len();
    let packs: Vec<Pack> = packs.into_iter().filter_map(|table| one_pack(table, into)).collect();
    t.sound &= packs.len() == had;
    let seller = t.text(&shed::SUPPLIER, into);
    let supplier = seller.map(|said| {
        let found = suppliers.iter().find(|one| normal(&one.name.value) == normal(said.value));
        if found.is_none() && suppliers_sound && !suppliers.is_empty() {
            let all = || suppliers.iter().map(|one| one.name.value.as_str());
            let near = nearest(said.value, all());
            let fault =
                shape::unknown_word(said.place, "supplier", said.value, near.as_deref(), all());
            t.fault(fault, into);
        }
        found.map_or_else(|| said.value.to_owned(), |one| one.name.value.clone())
    });
    let name = name?;
    let stuff = resolve(t, name, own, known, into);
    let Some(stuff) = stuff.filter(|_| t.sound) else {
        known.add_broken(name.value);
        return None;
    };
    if let Some(first) = known.add(name.value, &stuff) {
        t.fault(names::two_labels(stuff.place, name.value, first), into);
        return None;
    }
    let offer = (!packs.is_empty()).then_some(Offer { supplier, packs });
    Some(ShedItem { stuff, on_hand, offer })
}

fn one_pack(mut table: Table<'_, '_>, into: &mut Findings) -> Option<Pack> {
    let weight = table.require(&pack::WEIGHT, into);
    let price = table.take(&pack::PRICE, into).map(|said| Said::new(said.value.0, said.place));
    let weight = weight?;
    table.sound.then_some(Pack { weight: Said::new(weight.value.0, weight.place), price })
}

/// Reads one supplier.
pub fn supplier(mut table: Table<'_, '_>, into: &mut Findings) -> Option<Supplier> {
    let t = &mut table;
    let name = t.require_text(&supplier::NAME, into);
    let delivery = t.take(&supplier::DELIVERY, into);
    let minimum_order = t.take(&supplier::MINIMUM_ORDER, into);
    let name = name?;
    t.sound.then(|| Supplier {
        name: Said::new(name.value.to_owned(), name.place),
        delivery: delivery.map(|said| Said::new(said.value.0, said.place)),
        minimum_order: minimum_order.map(|said| Said::new(said.value.0, said.place)),
    })
}
