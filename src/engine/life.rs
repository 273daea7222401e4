//! When a planting lives, and from when its weeks count.

use super::climate::Climate;
use super::demand::{Curve, Uptake};
use crate::calendar::Date;
use crate::figure::Figure;
use crate::quantity::{Area, settle};
use crate::season::Planting;

/// Days that a crop picked over is taken to bear where its last harvest is not said.
pub const PICKING_DAYS: i32 = 56;

/// The life of one planting.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Life {
    /// First day in the bed.
    pub planted: Date,
    /// First (or only) harvest.
    pub harvest: Date,
    /// Last harvest.
    pub end: Date,
    /// First day of spring growth, for a crop that stands over winter.
    pub regrowth: Option<Date>,
    /// Whether the last harvest was assumed.
    pub end_assumed: bool,
}

impl Life {
    /// Reads the life of a planting. It stands over winter where it is planted in the year before
    /// its harvest.
    pub fn of(planting: &Planting, climate: &Climate) -> Self {
        let (planted, harvest) = (planting.planted.value, planting.harvest.value);
        let assumed = planting.crop.value.picked_over && planting.last_harvest.is_none();
        let end = match planting.last_harvest {
            Some(last) => last.value,
            None if assumed => harvest + PICKING_DAYS,
            None => harvest,
        };
        let sprouts = planting.crop.value.perennial.then(|| climate.regrowth(end.year()));
        if let Some(planted) = sprouts.filter(|day| (planted + 1..end).contains(day)) {
            // A stand's year begins when it sprouts, however old it is.
            return Self { planted, harvest, end, regrowth: None, end_assumed: assumed };
        }
        let over_winter = planted.year() < end.year();
        let regrowth = over_winter
            .then(|| {
                planting
                    .regrowth
                    .map(|said| said.value)
                    .or_else(|| climate.regrowth_between(planted, end))
            })
            .flatten();
        Self { planted, harvest, end, regrowth, end_assumed: assumed }
    }

    /// Reads the lives of a bed's plantings, each on its ground. A crop picked over whose last harvest
    /// is only assumed makes room for what is planted where it stands.
    pub fn of_bed(
        plantings: &[Planting],
        areas: &[Figure<Area>],
        bed: Area,
        climate: &Climate,
    ) -> Vec<Self> {
        let mut lives: Vec<Self> = plantings.iter().map(|one| Self::of(one, climate)).collect();
        let ground = |at: usize| areas[at].value();
        for at in (0..lives.len()).filter(|at| plantings[*at].last_harvest.is_none()) {
            let mut next: Vec<usize> = (0..lives.len()).filter(|one| *one != at).collect();
            next.sort_by_key(|one| lives[*one].planted);
            for one in next {
                let day = lives[one].planted;
                if day < lives[at].harvest || day >= lives[at].end || lives[at].planted >= day {
                    continue;
                }
                let stands =
                    |other: &usize| lives[*other].planted <= day && day < lives[*other].end;
                let taken: Area = (0..lives.len()).filter(stands).map(ground).sum();
                if settle(taken.base()) > settle(bed.base()) {
                    lives[at].end = day;
                }
            }
        }
        lives
    }

    /// The day its weeks count from: planting, or regrowth.
    pub fn start(&self) -> Date {
        self.regrowth.unwrap_or(self.planted)
    }

    /// Its days from planting to the last harvest, both counted.
    pub fn days(&self) -> i32 {
        self.end - self.planted + 1
    }

    /// Its uptake along a curve.
    pub fn uptake<'a>(&self, curve: &'a Curve) -> Uptake<'a> {
        Uptake { curve, planted: self.planted, harvest: self.end, regrowth: self.regrowth }
    }

    /// The share of its whole uptake taken by the end of a day.
    pub fn taken_by(&self, curve: &Curve, climate: &Climate, day: Date) -> f64 {
        self.uptake(curve).taken_by(climate, day)
    }
}

/// The catalogue's curve as the engine's.
pub fn curve_of(curve: &crate::catalogue::Curve) -> Curve {
    use crate::quantity::to_float;
    match curve {
        crate::catalogue::Curve::Logistic { midpoint, steepness } => {
            Curve::Logistic { midpoint: to_float(midpoint.0), steepness: to_float(steepness.0) }
        }
        crate::catalogue::Curve::Points(points) => Curve::Pieces(
            points.iter().map(|(x, share)| (to_float(x.0), to_float(share.0))).collect(),
        ),
    }
}
