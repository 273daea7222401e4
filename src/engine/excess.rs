//! Whether what was written down is far more than anyone spreads: a slip of the unit, most often.

use rust_decimal::Decimal;

use super::content::{Content, Handling};
use crate::catalogue::{Crop, MaterialKind};
use crate::nutrient::Nutrient;
use crate::quantity::{Area, Mass, Positive, Rate, Share, Volume};
use crate::season::Stuff;

/// No bulletin read asks for as much nitrogen at once, whatever the crop (proposed).
const NITROGEN_LB_PER_ACRE: i64 = 300;
/// Three times what is planned in a year at most: 200 lb phosphate and 300 lb potash (proposed).
const PHOSPHATE_LB_PER_ACRE: i64 = 600;
const POTASH_LB_PER_ACRE: i64 = 900;
/// So many times the most a crop is given in a season is a slip (proposed).
const TIMES_THE_CEILING: i64 = 3;
/// Three times what a container may be given at once: 1 g of nitrogen in a gallon of mix (proposed).
const GRAMS_PER_GALLON: i64 = 3;

/// Where something was spread.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Where {
    /// The ground, where its area is known.
    pub area: Option<Area>,
    /// The mix of its containers, where it has any.
    pub mix: Option<Volume>,
}

/// A nutrient of one application that is far above any rate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Excess {
    /// Which.
    pub nutrient: Nutrient,
    /// How much of it was brought; of nitrogen, what counts in the first season.
    pub brought: Mass,
    /// What that comes to for an area, and the rate it is far above; nothing in containers.
    pub rate: Option<(Rate, Rate)>,
}

/// Returns the first nutrient of an application that is far above any rate: above 300 lb nitrogen,
/// 600 lb phosphate or 900 lb potash an acre, above three times the crop's own ceiling of nitrogen,
/// or in containers above 3 g nitrogen for each gallon of mix. Of composts and manures, which
/// bring much phosphate and potash at ordinary depths, only nitrogen is looked at.
pub fn excess(stuff: &Stuff, weight: Mass, ground: Where, crops: &[&Crop]) -> Option<Excess> {
    let shares = Content::of(stuff, Handling::default()).shares;
    let brought = |nutrient: Nutrient| {
        let all = weight * shares[nutrient].value();
        if nutrient == Nutrient::Nitrogen { all * counting(stuff) } else { all }
    };
    if let Some(mix) = ground.mix {
        let brought = brought(Nutrient::Nitrogen);
        let most = Decimal::from(GRAMS_PER_GALLON) * mix.gal();
        let far = brought.g() > most;
        return far.then_some(Excess { nutrient: Nutrient::Nitrogen, brought, rate: None });
    }
    let area = Positive::new(ground.area?)?;
    let bulky = matches!(
        stuff.material.kind,
        MaterialKind::Compost | MaterialKind::Manure | MaterialKind::PoultryManure
    );
    Nutrient::ALL.into_iter().filter(|nutrient| *nutrient == Nutrient::Nitrogen || !bulky).find_map(
        |nutrient| {
            let brought = brought(nutrient);
            let (rate, most) = (brought / area, most(nutrient, crops));
            (rate > most).then_some(Excess { nutrient, brought, rate: Some((rate, most)) })
        },
    )
}

/// The share of nitrogen that counts in the first season.
fn counting(stuff: &Stuff) -> Share {
    let said = stuff.overrides.release.map(|said| said.value);
    let listed = stuff.material.release.as_ref();
    said.or(listed.map(|release| Share::from_percent(release.typical.0.max(Decimal::ZERO))))
        .unwrap_or(Share::WHOLE)
}

fn most(nutrient: Nutrient, crops: &[&Crop]) -> Rate {
    let acre = |pounds: i64| Rate::from_lb_per_acre(pounds.into());
    match nutrient {
        Nutrient::Phosphate => acre(PHOSPHATE_LB_PER_ACRE),
        Nutrient::Potash => acre(POTASH_LB_PER_ACRE),
        Nutrient::Nitrogen => {
            let times = Share::from_fraction(TIMES_THE_CEILING.into());
            let own = crops.iter().map(|crop| crop.ceiling.value * times).max();
            let any = acre(NITROGEN_LB_PER_ACRE);
            own.map_or(any, |own| own.min(any))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;
    use crate::season::Overrides;

    fn stuff(name: &str) -> Stuff {
        let material = Catalogue::new().material(name).expect("a material");
        Stuff { material, overrides: Overrides::default(), place: crate::figure::Place::default() }
    }

    fn of(name: &str, pounds: &str, ground: Where, crops: &[&Crop]) -> Option<Nutrient> {
        let weight = Mass::from_lb(pounds.parse().expect("a decimal"));
        excess(&stuff(name), weight, ground, crops).map(|excess| excess.nutrient)
    }

    #[test]
    fn ounces_typed_as_pounds_are_found_and_ordinary_doses_are_not() {
        let bed = Where { area: Some(Area::from_ft2(80.into())), mix: None };
        // 500 lb of a 46 % material on 80 ft2 is 125,000 lb of nitrogen an acre.
        assert_eq!(of("urea", "500", bed, &[]), Some(Nutrient::Nitrogen));
        assert_eq!(of("urea", "0.2", bed, &[]), None);
        assert_eq!(of("triple superphosphate", "20", bed, &[]), Some(Nutrient::Phosphate));
        assert_eq!(of("triple superphosphate", "0.3", bed, &[]), None);
        assert_eq!(of("potassium sulfate", "20", bed, &[]), Some(Nutrient::Potash));
        // An inch of compost: 80 ft2 x 1/12 ft at 1000 lb a cubic yard is about 250 lb.
        assert_eq!(of("mixed compost", "250", bed, &[]), None);
    }

    #[test]
    fn a_crop_with_a_low_ceiling_is_measured_by_its_own() {
        let bed = Where { area: Some(Area::from_ft2(43_560.into())), mix: None };
        let catalogue = Catalogue::new();
        let bean = catalogue.crop("radish");
        let bean = bean.expect("a bean");
        let own = bean.ceiling.value.lb_per_acre() * Decimal::from(TIMES_THE_CEILING);
        assert!(own < NITROGEN_LB_PER_ACRE.into(), "{own}");
        // Of an acre, urea is 46 % nitrogen.
        let pounds = ((own + Decimal::ONE) / Decimal::new(46, 2)).to_string();
        assert_eq!(of("urea", &pounds, bed, &[&bean]), Some(Nutrient::Nitrogen));
        assert_eq!(of("urea", &pounds, bed, &[]), None);
    }

    #[test]
    fn containers_are_measured_by_their_mix() {
        let pots = Where { area: None, mix: Some(Volume::from_gal(10.into())) };
        // 30 g of nitrogen is the most for 10 gallons: 65 g of urea, 0.14 lb.
        assert_eq!(of("urea", "0.1", pots, &[]), None);
        assert_eq!(of("urea", "0.2", pots, &[]), Some(Nutrient::Nitrogen));
        assert_eq!(of("urea", "500", Where::default(), &[]), None);
    }
}
