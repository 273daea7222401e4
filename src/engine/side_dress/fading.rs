//! How much of what has become available by one day was available before it.

use std::collections::BTreeMap;

use super::garden::Garden;
use super::reach::Bed;

/// For each material and day: by visit and day from that visit on, the least share that any dose
/// given up to the visit had made available, of what it has made available by the later day.
pub(super) struct Fading {
    tables: BTreeMap<(usize, i32), Vec<Vec<f64>>>,
}

impl Fading {
    /// Builds the tables for every eve that some planting dosed with a slow material looks at.
    pub fn new(garden: &Garden) -> Self {
        let mut tables = BTreeMap::new();
        for bed in &garden.slow {
            for boundary in 1..garden.boundaries() {
                let eve = garden.eve(bed, boundary);
                if eve >= bed.first {
                    tables.entry((bed.kind, eve)).or_insert_with(|| table(garden, bed, eve));
                }
                if eve == bed.last {
                    break;
                }
            }
        }
        Self { tables }
    }

    /// Returns, day by day from the visit at a position to `eve`, the least share of what doses
    /// given up to that visit have made available by `eve`. Nothing where the table has none.
    pub fn shares(&self, bed: &Bed, position: usize, eve: i32) -> &[f64] {
        let table = self.tables.get(&(bed.kind, eve));
        table.and_then(|table| table.get(position)).map_or(&[], Vec::as_slice)
    }
}

fn table(garden: &Garden, bed: &Bed, eve: i32) -> Vec<Vec<f64>> {
    let Some(start) = garden.days.first() else { return Vec::new() };
    let mut least = vec![1.0f64; usize::try_from(eve - start + 1).unwrap_or(0)];
    let mut rows = Vec::new();
    for (visit, day) in garden.visits.iter().zip(&garden.days).take_while(|(_, day)| **day <= eve) {
        let whole = bed.share(*visit, eve - day);
        let from = usize::try_from(day - start).unwrap_or(0);
        for (least, share) in least[from..].iter_mut().zip(bed.curves.since(*visit, 0)) {
            *least = least.min(if whole > 0.0 { share / whole } else { 0.0 });
        }
        rows.push(least[from..].to_vec());
    }
    rows
}
