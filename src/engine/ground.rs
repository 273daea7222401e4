//! Which planting stands on which part of a bed, and after which: the bed is cut into strips, each
//! with the plantings that follow one another on it.

use crate::calendar::Date;
use crate::quantity::Area;

/// A part of a bed and the plantings on it, in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Strip {
    /// Its area.
    pub area: Area,
    /// Indices of its plantings, earliest first; none where nothing grows.
    pub plantings: Vec<usize>,
}

/// What a planting takes, and when.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tenancy {
    /// Area taken.
    pub area: Area,
    /// First day.
    pub planted: Date,
    /// Last day.
    pub end: Date,
}

/// Cuts a bed into strips. A planting takes over ground whose crop has ended, the most recently
/// freed first, and only then ground that has borne nothing yet. Ground that is short (a planting
/// larger than what is free) is added, so that every planting has its area.
pub fn strips(bed: Area, tenancies: &[Tenancy]) -> Vec<Strip> {
    let mut order: Vec<usize> = (0..tenancies.len()).collect();
    order.sort_by_key(|index| (tenancies[*index].planted, tenancies[*index].end, *index));
    let mut strips = vec![Strip { area: bed, plantings: Vec::new() }];
    for index in order {
        let tenancy = tenancies[index];
        let freed = |strip: &Strip| strip.plantings.last().map(|last| tenancies[*last].end);
        let mut free: Vec<usize> = (0..strips.len())
            .filter(|at| freed(&strips[*at]).is_none_or(|end| end <= tenancy.planted))
            .collect();
        // Most recently freed first; `None` (never used) sorts last when reversed.
        free.sort_by_key(|at| std::cmp::Reverse(freed(&strips[*at])));
        let mut wanted = tenancy.area;
        for at in free {
            if wanted <= Area::ZERO {
                break;
            }
            if strips[at].area > wanted {
                let rest = strips[at].area - wanted;
                let plantings = strips[at].plantings.clone();
                strips.push(Strip { area: rest, plantings });
                strips[at].area = wanted;
            }
            wanted = wanted - strips[at].area;
            strips[at].plantings.push(index);
        }
        if wanted > Area::ZERO {
            strips.push(Strip { area: wanted, plantings: vec![index] });
        }
    }
    strips.retain(|strip| strip.area > Area::ZERO);
    strips
}

/// What stood before a planting: for each earlier planting on its ground, the area it takes over.
pub fn predecessors(strips: &[Strip], planting: usize) -> Vec<(usize, Area)> {
    let mut found: Vec<(usize, Area)> = Vec::new();
    for strip in strips {
        let Some(at) = strip.plantings.iter().position(|one| *one == planting) else { continue };
        let Some(before) = at.checked_sub(1).map(|before| strip.plantings[before]) else {
            continue;
        };
        match found.iter_mut().find(|(one, _)| *one == before) {
            Some((_, area)) => *area += strip.area,
            None => found.push((before, strip.area)),
        }
    }
    found.sort_by_key(|(before, _)| *before);
    found
}

/// The area of a planting that nothing stood on before it.
pub fn fresh(strips: &[Strip], planting: usize) -> Area {
    strips
        .iter()
        .filter(|strip| strip.plantings.first() == Some(&planting))
        .map(|strip| strip.area)
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn m2(value: i64) -> Area {
        Area::from_m2(value.into())
    }
    fn on(area: i64, planted: i32, end: i32) -> Tenancy {
        Tenancy { area: m2(area), planted: Date::from_number(planted), end: Date::from_number(end) }
    }

    #[test]
    fn one_crop_after_another_takes_its_ground() {
        let strips = strips(m2(10), &[on(6, 0, 50), on(10, 60, 100)]);
        assert_eq!(predecessors(&strips, 1), vec![(0, m2(6))]);
        assert_eq!(fresh(&strips, 1), m2(4));
        assert_eq!(fresh(&strips, 0), m2(6));
    }

    #[test]
    fn side_by_side_share_the_bed() {
        let strips = strips(m2(10), &[on(6, 0, 50), on(4, 0, 50)]);
        assert_eq!(strips.len(), 2);
        assert!(predecessors(&strips, 1).is_empty());
    }

    #[test]
    fn freed_ground_is_taken_before_fresh() {
        let strips = strips(m2(10), &[on(5, 0, 50), on(5, 60, 100)]);
        assert_eq!(predecessors(&strips, 1), vec![(0, m2(5))]);
        assert_eq!(fresh(&strips, 1), m2(0));
    }
}
