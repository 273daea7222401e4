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
        for bed in garden.beds.iter().filter(|bed| !bed.at_once) {
            for boundary in 1..garden.boundaries() {
                let eve = garden.eve(bed, boundary);
                if eve >= bed.first {
                    tables.entry((bed.kind, eve)).or_insert_with(|| table(garden, bed, eve));
                }
            }
        }
        Self { tables }
    }

    /// Returns the least share, by the end of `day`, of what doses given up to the visit at a
    /// position have made available by `eve`. `day` is not before that visit.
    pub fn share(&self, garden: &Garden, bed: &Bed, position: usize, day: i32, eve: i32) -> f64 {
        if bed.at_once {
            return 1.0;
        }
        let index = usize::try_from(day - garden.days[position]).unwrap_or(0);
        self.tables
            .get(&(bed.kind, eve))
            .and_then(|table| table.get(position)?.get(index))
            .copied()
            .unwrap_or(0.0)
    }
}

fn table(garden: &Garden, bed: &Bed, eve: i32) -> Vec<Vec<f64>> {
    let Some(start) = garden.days.first() else { return Vec::new() };
    let mut least = vec![1.0f64; usize::try_from(eve - start + 1).unwrap_or(0)];
    let mut rows = Vec::new();
    for (visit, day) in garden.visits.iter().zip(&garden.days).take_while(|(_, day)| **day <= eve) {
        let whole = bed.share(*visit, eve - day);
        let from = usize::try_from(day - start).unwrap_or(0);
        for (age, least) in (0..).zip(&mut least[from..]) {
            let share = if whole > 0.0 { bed.share(*visit, age) / whole } else { 0.0 };
            *least = least.min(share);
        }
        rows.push(least[from..].to_vec());
    }
    rows
}
