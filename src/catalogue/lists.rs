//! The catalogue: the built-in lists with the grower's own entries in front of them.

use std::sync::{Arc, OnceLock};

use serde::Deserialize;

use super::entries::{Entries, Entry, Piece};
use super::{Caution, Comparison, Crop, Limits, Material, MaterialKind, Source};

const CROPS: &[Piece] = include!(concat!(env!("OUT_DIR"), "/crops.rs"));
const MATERIALS: &[Piece] = include!(concat!(env!("OUT_DIR"), "/materials.rs"));
const SOIL_TESTS: &str = include_str!(concat!(env!("OUT_DIR"), "/soil-tests.json"));
const COMPARISON: &str = include_str!(concat!(env!("OUT_DIR"), "/comparison.json"));
const CAUTIONS: &[Piece] = include!(concat!(env!("OUT_DIR"), "/cautions.rs"));
const SOURCES: &[Piece] = include!(concat!(env!("OUT_DIR"), "/sources.rs"));

/// All that is known of crops, materials, soil tests, cautions and sources.
///
/// Nothing is parsed before it is asked for, and of most lists only the entries asked for.
#[derive(Debug)]
pub struct Catalogue {
    crops: Entries<Crop>,
    materials: Entries<Material>,
    soil_tests: OnceLock<Vec<Limits>>,
    cautions: Entries<Caution>,
    sources: Entries<Source>,
}

impl Default for Catalogue {
    fn default() -> Self {
        Self::new()
    }
}

impl Catalogue {
    /// Makes the built-in catalogue.
    pub const fn new() -> Self {
        Self {
            crops: Entries::new(CROPS),
            materials: Entries::new(MATERIALS),
            soil_tests: OnceLock::new(),
            cautions: Entries::new(CAUTIONS),
            sources: Entries::new(SOURCES),
        }
    }

    /// Finds a crop by any of its names.
    pub fn crop(&self, name: &str) -> Option<Arc<Crop>> {
        self.crops.find(name)
    }

    /// Walks all crops: the built-in ones in their order, then the grower's own.
    pub fn crops(&self) -> impl Iterator<Item = Arc<Crop>> {
        self.crops.iter()
    }

    /// Returns the crop name nearest to one that was not found, where one is near.
    pub fn nearest_crop(&self, name: &str) -> Option<String> {
        self.crops.nearest(name)
    }

    /// Returns the regions that bulletin rows name, in lower case, each once in the order of the
    /// alphabet. The list is looked through as text: reading every crop for this would be slow.
    pub fn regions(&self) -> Vec<String> {
        let listed = CROPS.iter().flat_map(|crop| crop.text.split("\"region\":\"").skip(1));
        let listed = listed.filter_map(|rest| rest.split('"').next()).map(str::to_owned);
        let own = self.crops.own().iter().flat_map(|crop| &crop.recommendations);
        let own = own.filter_map(|row| row.region.clone());
        let mut regions: Vec<String> = listed.chain(own).collect();
        regions.sort();
        regions.dedup();
        regions
    }

    /// Adds a crop of the grower's own; it takes the place of a built-in one of the same name.
    pub fn add_crop(&mut self, crop: Crop) {
        self.crops.add(crop);
    }

    /// Finds a material by any of its names.
    pub fn material(&self, name: &str) -> Option<Arc<Material>> {
        self.materials.find(name)
    }

    /// Whether a material has just this name, as it is listed.
    pub fn lists_material(&self, name: &str) -> bool {
        self.materials.lists(name)
    }

    /// Walks all materials: the built-in ones in their order, then the grower's own.
    pub fn materials(&self) -> impl Iterator<Item = Arc<Material>> {
        self.materials.iter()
    }

    /// Walks the materials of some kinds, reading no others.
    pub fn materials_of(&self, kinds: &[MaterialKind]) -> impl Iterator<Item = Arc<Material>> {
        let wanted = MaterialKind::WORDS.iter().filter(|(_, kind)| kinds.contains(kind));
        let written: Vec<String> = wanted.map(|(word, _)| format!("\"kind\":\"{word}\"")).collect();
        let all =
            self.materials.iter_of(move |text| written.iter().any(|kind| text.contains(kind)));
        all.filter(|material| kinds.contains(&material.kind))
    }

    /// Returns the material name nearest to one that was not found, where one is near.
    pub fn nearest_material(&self, name: &str) -> Option<String> {
        self.materials.nearest(name)
    }

    /// Adds a material of the grower's own; it takes the place of a built-in one of the same name.
    pub fn add_material(&mut self, material: Material) {
        self.materials.add(material);
    }

    /// Returns the soil-test limits of every laboratory.
    pub fn limits(&self) -> &[Limits] {
        #[derive(Deserialize)]
        struct List {
            limits: Vec<Limits>,
        }
        self.soil_tests.get_or_init(|| {
            let list: List = serde_json::from_str(SOIL_TESTS)
                .unwrap_or_else(|fault| panic!("soil tests: {fault}"));
            list.limits
        })
    }

    /// Returns a handbook's rates that are kept to compare with; nothing is planned from them.
    pub fn comparison(&self) -> Vec<Comparison> {
        #[derive(Deserialize)]
        struct List {
            comparison: Vec<Comparison>,
        }
        let list: List =
            serde_json::from_str(COMPARISON).unwrap_or_else(|fault| panic!("comparison: {fault}"));
        list.comparison
    }

    /// Finds a caution by its key.
    pub fn caution(&self, key: &str) -> Option<Arc<Caution>> {
        self.cautions.find(key)
    }

    /// Walks all cautions in their order.
    pub fn cautions(&self) -> impl Iterator<Item = Arc<Caution>> {
        self.cautions.iter()
    }

    /// Finds a source by its id.
    pub fn source(&self, id: &str) -> Option<Arc<Source>> {
        self.sources.find(id)
    }

    /// Walks all sources: the built-in ones in their order, then the grower's own.
    pub fn sources(&self) -> impl Iterator<Item = Arc<Source>> {
        self.sources.iter()
    }

    /// Adds a source of the grower's own; it takes the place of a built-in one of the same id.
    pub fn add_source(&mut self, source: Source) {
        self.sources.add(source);
    }
}

impl Entry for Crop {
    fn name(&self) -> &str {
        &self.name
    }
    fn aliases(&self) -> &[String] {
        &self.aliases
    }
}

impl Entry for Material {
    fn name(&self) -> &str {
        &self.name
    }
    fn aliases(&self) -> &[String] {
        &self.aliases
    }
}

impl Entry for Caution {
    fn name(&self) -> &str {
        &self.key
    }
}

impl Entry for Source {
    fn name(&self) -> &str {
        &self.id
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crops_and_materials_are_found() {
        let catalogue = Catalogue::new();
        assert_eq!(
            catalogue.crop("Calabrese").map(|crop| crop.name.clone()).as_deref(),
            Some("broccoli")
        );
        assert_eq!(catalogue.nearest_crop("brocoli").as_deref(), Some("broccoli"));
        let compost = catalogue.material("yard compost").expect("listed");
        assert_eq!(compost.name, "yard-trimmings compost");
        assert!(!catalogue.limits().is_empty());
        assert!(catalogue.caution("dust").is_some());
        let parsed = catalogue.crops();
        let rows = parsed.flat_map(|crop| crop.recommendations.clone());
        let mut regions: Vec<String> = rows.filter_map(|row| row.region).collect();
        regions.sort();
        regions.dedup();
        assert_eq!(catalogue.regions(), regions);
        assert!(catalogue.source("duev-a4t4").is_some());
        for one in catalogue.materials() {
            let same_kind = catalogue.materials().filter(|other| other.kind == one.kind);
            let names = |material: Arc<Material>| material.name.clone();
            assert!(catalogue.materials_of(&[one.kind]).map(names).eq(same_kind.map(names)));
        }
        assert!(catalogue.crops().count() > 1 && catalogue.materials().count() > 1);
    }
}
