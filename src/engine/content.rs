//! What a weight of material holds, and how its nitrogen comes free.

use rust_decimal::Decimal;

use super::release::Release;
use super::rules;
use crate::catalogue::{self, Basis, Feedstock, Material, PoolClass};
use crate::figure::Figure;
use crate::nutrient::{Npk, Nutrient};
use crate::quantity::{Area, Density, Mass, Quantity, Share, to_float};
use crate::season::{Measure, Placed, Said, Stuff, WorkedIn};

/// A material as it comes, water and all.
#[derive(Clone, Debug)]
pub struct Content {
    /// Each nutrient as a share of the wet weight.
    pub shares: Npk<Figure<Share>>,
    /// How nitrogen comes free: low, typical and high.
    pub release: ReleaseRange,
    /// The first-season share its organic nitrogen is scaled to, said or listed; nothing where all
    /// of it is mineral.
    pub first_season: Option<Figure<Share>>,
}

/// The release of a material: its likely low and high end, and the typical one plans are made with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReleaseRange {
    /// Low end.
    pub low: Release,
    /// Typical.
    pub typical: Release,
    /// High end.
    pub high: Release,
}

/// How a material was spread, as far as its ammonia is concerned.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Handling {
    /// Where it lies.
    pub placed: Option<Placed>,
    /// How soon it was worked in.
    pub worked_in: Option<WorkedIn>,
}

impl Handling {
    fn on_surface(self) -> bool {
        self.placed == Some(Placed::Surface) || self.worked_in == Some(WorkedIn::Never)
    }

    /// The share of ammonium kept, by the average weather column of Alberta Agdex 400/28-3 (2007),
    /// Table 4.3.4. Worked in at once (all kept) where nothing is said of mineral fertilizer.
    fn ammonium_kept(self) -> Decimal {
        match self.worked_in {
            Some(WorkedIn::Injected) => Decimal::ONE,
            Some(WorkedIn::Days(days)) => {
                // 0.75 within one day, and five hundredths less for each day more, to five days.
                Decimal::new(80 - 5 * i64::from(days.clamp(1, 5)), 2)
            }
            Some(WorkedIn::Never) => Decimal::new(34, 2),
            None if self.placed == Some(Placed::Surface) => Decimal::new(34, 2),
            None => Decimal::new(75, 2),
        }
    }
}

impl Content {
    /// Reads what a material holds, spread in this way.
    pub fn of(stuff: &Stuff, handling: Handling) -> Self {
        let shares = Npk::from_fn(|nutrient| nutrient_share(stuff, nutrient));
        // What is reckoned with is what an explanation shows, to the last of fifteen digits.
        let ReleaseRange { low, typical, high } = release_range(stuff, handling);
        let [low, typical, high] = [low, typical, high].map(Release::as_shown);
        let release = ReleaseRange { low, typical, high };
        Self { shares, release, first_season: first_season(stuff) }
    }

    /// Whether it carries a nutrient.
    pub fn carries(&self, nutrient: Nutrient) -> bool {
        self.shares[nutrient].value() > Share::ZERO
    }
}

/// The analysis of a material on its own basis, as a figure.
fn label_share(stuff: &Stuff, nutrient: Nutrient) -> Figure<Share> {
    let label = nutrient.formula();
    if let Some(said) = stuff.overrides.analysis {
        return Figure::said(
            format_args!("{label} on the label"),
            said.value[nutrient],
            said.place,
        );
    }
    let material = &stuff.material;
    let (value, field) = match nutrient {
        Nutrient::Nitrogen => (material.nitrogen, "nitrogen"),
        Nutrient::Phosphate => (material.phosphate, "phosphate"),
        Nutrient::Potash => (material.potash, "potash"),
    };
    listed(material, format_args!("{label} in {}", material.name), value, field)
}

fn listed<Q: Quantity>(
    material: &Material,
    label: impl crate::figure::Label,
    value: Q,
    field: &str,
) -> Figure<Q> {
    Figure::listed(label, value, "materials", &material.name, material.source_of(field))
}

/// A nutrient as a share of the weight as it comes.
pub fn nutrient_share(stuff: &Stuff, nutrient: Nutrient) -> Figure<Share> {
    let label = label_share(stuff, nutrient);
    let said_basis = stuff.overrides.basis.map(|basis| basis.value);
    // A label that a grower copies counts the bag as it comes unless it says otherwise.
    let basis = said_basis.unwrap_or(match stuff.overrides.analysis {
        Some(_) if stuff.overrides.moisture.is_none() => Basis::AsIs,
        _ => stuff.material.basis,
    });
    if basis == Basis::AsIs || label.is_zero() {
        return label;
    }
    let Some(moisture) = moisture(stuff) else { return label };
    let whole = Figure::fixed("the whole", Share::WHOLE, &rules::DRY_TO_WET);
    let dry = (&whole - &moisture).called("dry matter");
    (&label * &dry).by(format_args!("{} as it comes", nutrient.formula()), &rules::DRY_TO_WET)
}

fn moisture(stuff: &Stuff) -> Option<Figure<Share>> {
    if let Some(said) = stuff.overrides.moisture {
        return Some(Figure::said("water", said.value, said.place));
    }
    let material = &stuff.material;
    material.moisture.map(|water| listed(material, "water", water, "moisture"))
}

/// The weight of a measured amount over an area; nothing where a volume has no density.
pub fn weight(stuff: &Stuff, amount: Said<Measure>, area: &Figure<Area>) -> Option<Figure<Mass>> {
    let place = amount.place;
    let label = "weight spread";
    Some(match amount.value {
        Measure::Weight(mass) => Figure::said(label, mass, place),
        Measure::Rate(rate) => {
            let rate = Figure::said("rate", rate, place);
            (&rate * area).by(label, &rules::NEED)
        }
        Measure::Volume(volume) => {
            let volume = Figure::said("volume", volume, place);
            (&density(stuff)? * &volume).by(label, &rules::DEPTH_TO_WEIGHT)
        }
        Measure::Depth(depth) => {
            let depth = Figure::said("depth", depth, place);
            let volume = (&depth * area).called("volume");
            (&density(stuff)? * &volume).by(label, &rules::DEPTH_TO_WEIGHT)
        }
    })
}

/// The density of a material, said or listed.
pub fn density(stuff: &Stuff) -> Option<Figure<Density>> {
    if let Some(said) = stuff.overrides.density {
        return Some(Figure::said("density", said.value, said.place));
    }
    let material = &stuff.material;
    material.density.map(|density| listed(material, "density", density, "density"))
}

/// The share of phosphate that counts in the year: less than all on low soils for manures and
/// composts.
pub fn phosphate_available(stuff: &Stuff, low_soil: bool) -> Option<Figure<Share>> {
    let share = stuff.material.phosphate_available_on_low_soil?;
    low_soil.then(|| {
        Figure::fixed("phosphate that counts this year", share, &rules::AVAILABLE_PHOSPHATE)
    })
}

/// The typical first-season share of nitrogen.
fn first_season(stuff: &Stuff) -> Option<Figure<Share>> {
    let material = &stuff.material;
    material.pools?;
    let label = "share that comes free in a first season";
    if let Some(said) = stuff.overrides.release {
        return Some(Figure::said(label, said.value, said.place));
    }
    let listed = material.release.as_ref()?;
    let share = Share::from_percent(listed.typical.0);
    Some(self::listed(material, label, share, "release"))
}

fn release_range(stuff: &Stuff, handling: Handling) -> ReleaseRange {
    let all = |release| ReleaseRange { low: release, typical: release, high: release };
    let material = &stuff.material;
    let Some(pools) = material.pools else { return all(Release::AT_ONCE) };
    let stated = to_float(stated_mineral(stuff));
    let kept = to_float(mineral_share(stuff, handling));
    let plain = Release::of_class(pools, stated, 1.0 - stated);
    // The listed share is of all the nitrogen, the mineral part with it; what is lost as ammonia
    // is lost from that part alone.
    let scaled = |share: f64| {
        let share = if share >= 0.0 { share.max(stated) } else { share };
        Release { mineral: kept, ..plain.scaled_to(share) }
    };
    if let Some(said) = stuff.overrides.release {
        return all(scaled(to_float(said.value.fraction())));
    }
    if let (PoolClass::Compost, Some(ratio)) = (pools, stuff.overrides.carbon_nitrogen) {
        let feedstock = material.feedstock.unwrap_or(Feedstock::Mixed);
        return all(Release::of_compost(feedstock, to_float(ratio.value), kept, 1.0 - stated));
    }
    let Some(listed) = &material.release else { return all(Release { mineral: kept, ..plain }) };
    let percent = |number: catalogue::Number| to_float(number.0 / Decimal::ONE_HUNDRED);
    let manure = material.kind.is_manure();
    if manure && handling.on_surface() && stuff.overrides.ammonium.is_none() {
        return all(scaled(percent(listed.low)));
    }
    ReleaseRange {
        low: scaled(percent(listed.low)),
        typical: scaled(percent(listed.typical)),
        high: scaled(percent(listed.high)),
    }
}

/// Of the total nitrogen, the share a laboratory states as ammonium and nitrate.
fn stated_mineral(stuff: &Stuff) -> Decimal {
    let total = total_nitrogen(stuff);
    let stated = stated(stuff.overrides.ammonium) + stated(stuff.overrides.nitrate);
    stated.checked_div(total).unwrap_or_default().min(Decimal::ONE)
}

/// Of the total nitrogen, the mineral share that is kept and counts.
fn mineral_share(stuff: &Stuff, handling: Handling) -> Decimal {
    let total = total_nitrogen(stuff);
    let kept = stated(stuff.overrides.ammonium) * handling.ammonium_kept();
    (kept + stated(stuff.overrides.nitrate))
        .checked_div(total)
        .unwrap_or_default()
        .min(Decimal::ONE)
}

fn stated(said: Option<Said<Share>>) -> Decimal {
    said.map_or(Decimal::ZERO, |share| share.value.fraction())
}

fn total_nitrogen(stuff: &Stuff) -> Decimal {
    let label = stuff.overrides.analysis.map(|said| said.value.nitrogen);
    label.unwrap_or(stuff.material.nitrogen).fraction()
}
