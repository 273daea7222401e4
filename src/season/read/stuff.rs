//! Materials by name, with what the grower says against the catalogue.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::super::{Overrides, Said, Stuff};
use super::fields::stuff;
use super::table::{Findings, Table};
use super::value::Any;
use crate::catalogue::names::normal;
use crate::catalogue::{Basis, Catalogue, Material, MaterialKind, PoolClass};
use crate::fault::{Fault, names, sums};
use crate::figure::Place;
use crate::nutrient::Analysis;
use crate::quantity::Share;

/// The materials a name may mean: those of the shed first, then the catalogue's.
pub struct Known<'c> {
    catalogue: &'c Catalogue,
    shed: BTreeMap<String, Stuff>,
    /// Names of the shed that could not be read: what they mean is not known, so using them is no
    /// further fault.
    broken: Vec<String>,
}

impl<'c> Known<'c> {
    /// Begins with the catalogue alone, and the own entries of it that have a fault.
    pub const fn new(catalogue: &'c Catalogue, broken: Vec<String>) -> Self {
        Self { catalogue, shed: BTreeMap::new(), broken }
    }

    /// Finds what a name means here.
    pub fn find(&self, name: &str) -> Option<Stuff> {
        let wanted = normal(name);
        if let Some(stuff) = self.shed.get(&wanted) {
            return Some(stuff.clone());
        }
        let material = self.catalogue.material(name)?;
        // A shed entry under another name of the same material speaks for it too.
        if let Some(stuff) = self.shed.get(&normal(&material.name)) {
            return Some(stuff.clone());
        }
        Some(Stuff { material, overrides: Overrides::default(), place: Place::default() })
    }

    /// Finds a name written in the file, or tells why not. Nothing without a fault where the name
    /// stands in a shed entry that has a fault of its own.
    pub fn named(&self, said: Said<&str>, may_label: bool) -> Result<Option<Stuff>, Fault> {
        if let Some(stuff) = self.find(said.value) {
            return Ok(Some(Stuff { place: said.place, ..stuff }));
        }
        if self.broken.contains(&normal(said.value)) {
            return Ok(None);
        }
        let near = self.nearest(said.value);
        Err(names::unknown_material(said.place, said.value, near.as_deref(), may_label))
    }

    fn nearest(&self, name: &str) -> Option<String> {
        let own = self.shed.values().map(|stuff| stuff.material.name.as_str());
        crate::catalogue::names::nearest(name, own)
            .or_else(|| self.catalogue.nearest_material(name))
    }

    /// Remembers what the shed says of a material. Where it has said something else of the same
    /// material before, returns where.
    pub fn add(&mut self, written: &str, stuff: &Stuff) -> Option<Place> {
        for name in [normal(&stuff.material.name), normal(written)] {
            match self.shed.get(&name) {
                // A second entry, such as another seller's, need not repeat what the first says.
                Some(_) if stuff.overrides == Overrides::default() => {}
                Some(first) if first.overrides != Overrides::default() => {
                    let same = without_places(&first.overrides) == without_places(&stuff.overrides);
                    if !same {
                        return Some(first.place);
                    }
                }
                _ => {
                    self.shed.insert(name, stuff.clone());
                }
            }
        }
        None
    }

    /// Remembers a name whose entry has a fault.
    pub fn add_broken(&mut self, written: &str) {
        self.broken.push(normal(written));
    }
}

/// The same sayings, as if all stood at one place, for comparing what they say.
fn without_places(said: &Overrides) -> Overrides {
    let here = Place::default();
    Overrides {
        analysis: said.analysis.map(|one| Said::new(one.value, here)),
        basis: said.basis.map(|one| Said::new(one.value, here)),
        moisture: said.moisture.map(|one| Said::new(one.value, here)),
        release: said.release.map(|one| Said::new(one.value, here)),
        ammonium: said.ammonium.map(|one| Said::new(one.value, here)),
        nitrate: said.nitrate.map(|one| Said::new(one.value, here)),
        carbon_nitrogen: said.carbon_nitrogen.map(|one| Said::new(one.value, here)),
        density: said.density.map(|one| Said::new(one.value, here)),
    }
}

/// Reads what is said against the catalogue.
pub fn overrides(table: &mut Table<'_, '_>, into: &mut Findings) -> Overrides {
    let share = |said: Said<Any<Share>>| Said::new(said.value.0, said.place);
    let moisture = table.take(&stuff::MOISTURE, into).map(share);
    if let Some(moisture) = moisture
        && moisture.value >= Share::WHOLE
    {
        table.fault(sums::all_water(moisture.place), into);
    }
    Overrides {
        analysis: table.take(&stuff::ANALYSIS, into),
        basis: table.take(&stuff::BASIS, into).map(super::garden::plain),
        moisture,
        release: table.take(&stuff::RELEASE, into).map(share),
        ammonium: table.take(&stuff::AMMONIUM, into).map(share),
        nitrate: table.take(&stuff::NITRATE, into).map(share),
        carbon_nitrogen: table
            .take(&stuff::CARBON_NITROGEN, into)
            .map(|said| Said::new(said.value.0, said.place)),
        density: table.take(&stuff::DENSITY, into).map(|said| Said::new(said.value.0, said.place)),
    }
}

/// Puts a name and what is said against it together. What this place says comes first, then what
/// the shed says.
pub fn resolve(
    table: &mut Table<'_, '_>,
    said: Said<&str>,
    own: Overrides,
    known: &Known<'_>,
    into: &mut Findings,
) -> Option<Stuff> {
    let found = match (known.named(said, true), &own.analysis) {
        (Ok(Some(found)), _) => found,
        (Ok(None), _) => {
            table.sound = false;
            return None;
        }
        (Err(_), Some(analysis)) => Stuff {
            material: Arc::new(labelled(said.value, analysis.value, own.release.is_some())),
            overrides: Overrides::default(),
            place: said.place,
        },
        // The analysis it does have is faulty, and told already.
        (Err(_), None) if table.has(&stuff::ANALYSIS) => return None,
        (Err(fault), None) => {
            table.fault(fault, into);
            return None;
        }
    };
    let shed = found.overrides;
    // An analysis of its own leaves nothing of what the shed says of another analysis.
    let shed = if own.analysis.is_some() { Overrides::default() } else { shed };
    let overrides = Overrides {
        analysis: own.analysis.or(shed.analysis),
        basis: own.basis.or(shed.basis),
        moisture: own.moisture.or(shed.moisture),
        release: own.release.or(shed.release),
        ammonium: own.ammonium.or(shed.ammonium),
        nitrate: own.nitrate.or(shed.nitrate),
        carbon_nitrogen: own.carbon_nitrogen.or(shed.carbon_nitrogen),
        density: own.density.or(shed.density),
    };
    let stuff = Stuff { material: found.material, overrides, place: said.place };
    check_mineral(table, &stuff, into);
    Some(stuff)
}

/// Ammonium and nitrate cannot be more than the total.
fn check_mineral(table: &mut Table<'_, '_>, stuff: &Stuff, into: &mut Findings) {
    let said = &stuff.overrides;
    let Some(place) = said.ammonium.or(said.nitrate).map(|one| one.place) else { return };
    let part = |one: Option<Said<Share>>| one.map_or(Share::ZERO, |one| one.value);
    let mineral = part(said.ammonium) + part(said.nitrate);
    let total = said.analysis.map_or(stuff.material.nitrogen, |label| label.value.nitrogen);
    if mineral > total {
        let show = |share: Share| crate::quantity::significant(share.percent(), 3).to_string();
        let fault = sums::more_than_total_nitrogen(place, &show(mineral), &show(total));
        table.fault(fault, into);
    }
}

/// Makes a material of a label alone: a bagged fertilizer whose nitrogen counts at once, or, where
/// the grower says how much of it is released, one that releases slowly.
pub fn labelled(name: &str, analysis: Analysis, slow: bool) -> Material {
    let at_once = (!slow).then_some(Share::WHOLE);
    Material {
        name: name.to_owned(),
        aliases: Vec::new(),
        kind: if slow { MaterialKind::PlantMeal } else { MaterialKind::Mineral },
        nitrogen: analysis.nitrogen,
        phosphate: analysis.phosphate,
        potash: analysis.potash,
        basis: Basis::AsIs,
        moisture: None,
        nitrate_share: None,
        ammonium_share: at_once,
        carbon_nitrogen: None,
        density: None,
        release: None,
        pools: slow.then_some(PoolClass::Plant),
        feedstock: None,
        phosphate_available_on_low_soil: None,
        organic: false,
        salt_index: None,
        cautions: Vec::new(),
        note: None,
        sources: BTreeMap::from([("all".to_owned(), super::own::OWN_SOURCE.to_owned())]),
    }
}
