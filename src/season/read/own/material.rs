//! A material of the grower's own. What it does not say is taken from the material it is said to be
//! like, or from an ordinary one of its kind.

use std::collections::BTreeMap;

use super::super::super::Said;
use super::super::fields::{self, material};
use super::super::garden::plain;
use super::super::stuff;
use super::super::table::{Findings, Table};
use super::OWN_SOURCE;
use crate::catalogue::names::nearest;
use crate::catalogue::{Basis, Catalogue, Material, MaterialKind, Number, PoolClass, Release};
use crate::fault::{names, shape};
use crate::figure::Place;
use crate::nutrient::Npk;
use crate::quantity::{Quantity, Share};
use rust_decimal::Decimal;

/// The ordinary material of a kind, whose release and moisture stand for those not said.
const fn ordinary(kind: MaterialKind) -> Option<&'static str> {
    match kind {
        MaterialKind::Mineral | MaterialKind::SoilMineral => None,
        MaterialKind::AnimalMeal => Some("feather meal"),
        MaterialKind::PlantMeal => Some("alfalfa meal"),
        MaterialKind::Compost => Some("mixed compost"),
        MaterialKind::Manure => Some("cattle manure"),
        MaterialKind::PoultryManure => Some("pelleted poultry manure"),
        MaterialKind::PlantMatter => Some("grass clippings"),
    }
}

const fn pools(kind: MaterialKind) -> Option<PoolClass> {
    match kind {
        MaterialKind::Mineral | MaterialKind::SoilMineral => None,
        MaterialKind::AnimalMeal => Some(PoolClass::Meal),
        MaterialKind::PlantMeal | MaterialKind::PlantMatter => Some(PoolClass::Plant),
        MaterialKind::Compost => Some(PoolClass::Compost),
        MaterialKind::Manure => Some(PoolClass::Manure),
        MaterialKind::PoultryManure => Some(PoolClass::Poultry),
    }
}

/// Reads one `[[material]]` and where its name stands.
pub fn read(
    mut table: Table<'_, '_>,
    catalogue: &Catalogue,
    into: &mut Findings,
) -> Option<(Material, Place)> {
    let t = &mut table;
    let name = t.require_text(&material::NAME, into);
    let aliases = t.take(&material::ALIASES, into);
    let like = t.text(&material::LIKE, into);
    let base = like.and_then(|said| {
        let found = catalogue.material(said.value);
        if found.is_none() {
            let near = catalogue.nearest_material(said.value);
            t.fault(names::unknown_material(said.place, said.value, near.as_deref(), false), into);
        }
        found
    });
    let kind = t.take(&material::KIND, into).map(plain);
    let said = stuff::overrides(t, into);
    let parts = [&material::NITROGEN, &material::PHOSPHATE, &material::POTASH];
    let has_parts = parts.iter().any(|field| t.has(field));
    if !has_parts && like.is_none() {
        t.must_have(&fields::stuff::ANALYSIS, into);
    }
    let parts = parts.map(|field| t.take(field, into).map(|said| said.value.0));
    let analysis = said.analysis.map(|said| said.value).or_else(|| {
        let [nitrogen, phosphate, potash] = parts.map(|part| part.unwrap_or(Share::ZERO));
        has_parts.then_some(Npk { nitrogen, phosphate, potash })
    });
    let organic = t.take(&material::ORGANIC, into);
    let cautions = t.take(&material::CAUTIONS, into);
    if let Some(said) = &cautions
        && let Some(odd) = said.value.0.iter().find(|key| catalogue.caution(key).is_none())
    {
        let keys: Vec<String> = catalogue.cautions().map(|caution| caution.key.clone()).collect();
        let keys = || keys.iter().map(String::as_str);
        let near = nearest(odd, keys());
        let fault = shape::unknown_word(said.place, "cautions", odd, near.as_deref(), keys());
        t.fault(fault, into);
    }
    let note = t.text(&material::NOTE, into);
    if !t.sound {
        into.is_broken(name);
        return None;
    }
    let name = name?;
    let kind = kind.map(|said| said.value).or(base.as_ref().map(|base| base.kind));
    let kind = kind.unwrap_or(if said.release.is_some() {
        MaterialKind::PlantMeal
    } else {
        MaterialKind::Mineral
    });
    let model = base.or_else(|| ordinary(kind).and_then(|name| catalogue.material(name)));
    let model = model.as_deref();
    let nitrogen = analysis.map_or(model.map_or(Share::ZERO, |m| m.nitrogen), |a| a.nitrogen);
    let part = |share: Option<Said<Share>>| {
        share
            .filter(|_| !nitrogen.is_zero())
            .map(|share| Share::from_fraction(share.value.fraction() / nitrogen.fraction()))
    };
    let mineral = pools(kind).is_none().then_some(Share::WHOLE);
    let ammonium_share = part(said.ammonium)
        .or_else(|| model.and_then(|m| m.ammonium_share))
        .or(mineral.filter(|_| said.nitrate.is_none()));
    let nitrate_share = part(said.nitrate).or_else(|| model.and_then(|m| m.nitrate_share));
    let released = said.release.map(|said| {
        let typical = said.value.percent();
        let near = |times: Decimal| Number((typical * times).min(Decimal::ONE_HUNDRED));
        // As far to each side as a soil test of release commonly misses: a quarter.
        let (low, high) = (Decimal::new(75, 2), Decimal::new(125, 2));
        Release { low: near(low), typical: Number(typical), high: near(high) }
    });
    let mut sources = BTreeMap::from([("all".to_owned(), OWN_SOURCE.to_owned())]);
    let mut taken = |field: &str, is_own: bool| {
        if let Some(model) = model.filter(|_| !is_own) {
            sources.insert(field.to_owned(), model.source_of(field).to_owned());
        }
    };
    taken("release", said.release.is_some());
    taken("moisture", said.moisture.is_some());
    taken("density", said.density.is_some());
    for field in ["nitrogen", "phosphate", "potash"] {
        taken(field, analysis.is_some());
    }
    let own = Material {
        name: name.value.to_owned(),
        aliases: aliases.map(|said| said.value.0).unwrap_or_default(),
        kind,
        nitrogen,
        phosphate: analysis.map_or(model.map_or(Share::ZERO, |m| m.phosphate), |a| a.phosphate),
        potash: analysis.map_or(model.map_or(Share::ZERO, |m| m.potash), |a| a.potash),
        basis: said.basis.map(|said| said.value).unwrap_or_else(|| {
            // An analysis of its own without a word on water is the label's: as it comes.
            if analysis.is_some() { Basis::AsIs } else { model.map_or(Basis::AsIs, |m| m.basis) }
        }),
        moisture: said.moisture.map(|said| said.value).or_else(|| model.and_then(|m| m.moisture)),
        nitrate_share,
        ammonium_share,
        carbon_nitrogen: said.carbon_nitrogen.map(|said| Number(said.value)),
        density: said.density.map(|said| said.value).or_else(|| model.and_then(|m| m.density)),
        release: released.or_else(|| model.and_then(|m| m.release.clone())),
        pools: pools(kind),
        feedstock: model.and_then(|m| m.feedstock),
        phosphate_available_on_low_soil: model.and_then(|m| m.phosphate_available_on_low_soil),
        organic: organic
            .map_or(model.is_some_and(|m| like.is_some() && m.organic), |said| said.value.0),
        salt_index: model.filter(|_| like.is_some()).and_then(|m| m.salt_index),
        cautions: cautions.map_or_else(
            || model.map(|m| m.cautions.clone()).unwrap_or_default(),
            |said| said.value.0,
        ),
        note: note.map(|said| said.value.to_owned()),
        sources,
    };
    Some((own, name.place))
}
