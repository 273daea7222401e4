//! A crop of the grower's own. What it does not say is taken from the crop it is said to be like,
//! or from the rules for crops without figures of their own.

use super::super::fields::{crop, need};
use super::super::table::{Field, Findings, Table};
use super::super::value::{Flag, Range};
use super::OWN_SOURCE;
use crate::catalogue::{
    Catalogue, Crop, Curve, FeederClass, LastUseful, Levels, Number, Recommendation, Sourced,
    Timing,
};
use crate::fault::{names, shape};
use crate::figure::Place;
use crate::quantity::{Rate, Share};
use rust_decimal::Decimal;

fn from<T>(value: T, source: &str) -> Sourced<T> {
    Sourced { value, source: source.to_owned() }
}

/// Reads one `[[crop]]` and where its name stands.
pub fn read(
    mut table: Table<'_, '_>,
    catalogue: &Catalogue,
    into: &mut Findings,
) -> Option<(Crop, Place)> {
    let t = &mut table;
    let name = t.require_text(&crop::NAME, into);
    let aliases = t.take(&crop::ALIASES, into);
    let like = t.text(&crop::LIKE, into);
    let base = like.and_then(|said| {
        let found = catalogue.crop(said.value);
        if found.is_none() {
            let near = catalogue.nearest_crop(said.value);
            t.fault(names::unknown_crop(said.place, "`like`", said.value, near.as_deref()), into);
        }
        found
    });
    let feeder = t.take(&crop::FEEDER, into).map(|said| said.value.0);
    let given = season_need(t, into);
    let supply = t.take(&crop::SUPPLY, into).map(|said| said.value.0);
    let rows = t.take(&crop::RECOMMENDATION, into).map(|said| said.value.0);
    let fed = [t.has(&crop::FEEDER), t.has(&crop::NEED), t.has(&crop::SUPPLY)];
    if !fed.contains(&true) && !t.has(&crop::RECOMMENDATION) && like.is_none() {
        let ways = "`feeder = \"heavy\"`, `\"medium\"` or `\"light\"`, or `need = { n = \"100 \
                    lb/acre\" }`, or `like = \"broccoli\"`";
        t.lacks(shape::none_of(t.place, t.heading, "how hungry it is", ways), into);
    }
    let flags = Flags::read(t, into);
    let latin = t.text(&crop::LATIN, into).map(|said| said.value.to_owned());
    let name = name?;
    let mut recommendations = rows.unwrap_or_default();
    recommendations.extend(given);
    let mut own = base.map_or_else(
        || {
            let hungry = recommendations.iter().find_map(|row| row.nitrogen);
            let feeder = hungry.map(|rate| by_demand(rate.middle()));
            generic(name.value, &flags, feeder)
        },
        |base| (*base).clone(),
    );
    name.value.clone_into(&mut own.name);
    own.aliases = aliases.map(|said| said.value.0).unwrap_or_default();
    own.latin = latin.or(own.latin);
    flags.write(&mut own);
    if let Some(feeder) = feeder {
        own.feeder = feeder;
    }
    if supply.is_some() || !recommendations.is_empty() {
        own.supply = supply;
        own.stand = Vec::new();
        own.recommendations = recommendations;
    }
    figures(t, &mut own, into);
    if !t.sound {
        into.is_broken(Some(name));
        return None;
    }
    Some((own, name.place))
}

/// Reads what else the catalogue's shape holds.
fn figures(t: &mut Table<'_, '_>, own: &mut Crop, into: &mut Findings) {
    macro_rules! take {
        ($($field:ident => $own:ident: $turn:expr;)*) => {$(
            if let Some(said) = t.take(&crop::$field, into) {
                own.$own = $turn(said.value.0);
            }
        )*};
    }
    take! {
        DAYS => days: Some;
        CEILING => ceiling: std::convert::identity;
        STARTER => starter: std::convert::identity;
        SIDE_DRESS => side_dress: std::convert::identity;
        LAST_USEFUL => last_useful: std::convert::identity;
        CAP => cap: Some;
        CURVE => curve: std::convert::identity;
        CHART => chart: Some;
        NITRATE_TEST => nitrate_test: Some;
        RESCUE => rescue: Some;
        HARVEST_SHARE => harvest_share: Some;
        COVER_NITROGEN => cover_nitrogen: Some;
        REMOVAL => removals: std::convert::identity;
    }
}

/// A season's rate said in short, as a recommendation that holds whatever the soil test.
fn season_need(t: &mut Table<'_, '_>, into: &mut Findings) -> Option<Recommendation> {
    let mut need = t.table(&crop::NEED, into)?;
    let nitrogen = need.take(&need::N, into).map(|said| said.value.0);
    let mut level = |field: &Field<Range<Rate>>| {
        let rate = need.take(field, into).map(|said| said.value.0.middle());
        Levels { low: rate, medium: rate, high: rate, very_high: rate }
    };
    let (phosphate, potash) = (level(&need::P2O5), level(&need::K2O));
    t.sound &= need.sound;
    Some(Recommendation {
        nitrogen,
        part: false,
        phosphate,
        potash,
        region: None,
        texture: None,
        organic_matter_from: None,
        organic_matter_below: None,
        year: None,
        note: None,
        source: OWN_SOURCE.to_owned(),
    })
}

/// The feeder class whose rate is nearest: heavy 150, medium 100, light 50 lb/acre.
fn by_demand(rate: Rate) -> Sourced<FeederClass> {
    let pounds = rate.lb_per_acre();
    let class = if pounds >= Decimal::from(125) {
        FeederClass::Heavy
    } else if pounds >= Decimal::from(75) {
        FeederClass::Medium
    } else {
        FeederClass::Light
    };
    from(class, "feeder-by-demand")
}

/// What a crop is, as far as the rules tell crops apart.
struct Flags([(Option<bool>, FlagOf); 9]);

/// Where a crop keeps one of them.
type FlagOf = fn(&mut Crop) -> &mut bool;

impl Flags {
    fn read(t: &mut Table<'_, '_>, into: &mut Findings) -> Self {
        let mut flag = |field: &Field<Flag>| t.take(field, into).map(|said| said.value.0);
        Self([
            (flag(&crop::BRASSICA), |own| &mut own.brassica),
            (flag(&crop::HEADING), |own| &mut own.heading),
            (flag(&crop::LEGUME), |own| &mut own.legume),
            (flag(&crop::NONE_ON_RICH_SOIL), |own| &mut own.none_on_rich_soil),
            (flag(&crop::LEAFY), |own| &mut own.leafy),
            (flag(&crop::TOUCHES_SOIL), |own| &mut own.touches_soil),
            (flag(&crop::PICKED_OVER), |own| &mut own.picked_over),
            (flag(&crop::OVERWINTERED), |own| &mut own.overwintered),
            (flag(&crop::PERENNIAL), |own| &mut own.perennial),
        ])
    }

    fn write(&self, own: &mut Crop) {
        for (said, field) in &self.0 {
            if let Some(said) = said {
                *field(own) = *said;
            }
        }
    }
}

/// A crop with no figures of its own: the generic ceiling, starter, last useful day and curve.
fn generic(name: &str, flags: &Flags, feeder: Option<Sourced<FeederClass>>) -> Crop {
    let pounds = |count: u32| Rate::from_lb_per_acre(Decimal::from(count));
    let mut own = Crop {
        name: name.to_owned(),
        aliases: Vec::new(),
        latin: None,
        feeder: feeder.unwrap_or_else(|| from(FeederClass::Medium, OWN_SOURCE)),
        brassica: false,
        heading: false,
        legume: false,
        none_on_rich_soil: false,
        leafy: false,
        touches_soil: false,
        picked_over: false,
        overwintered: false,
        perennial: false,
        days: None,
        supply: None,
        stand: Vec::new(),
        recommendations: Vec::new(),
        ceiling: from(pounds(200), "rule-ceiling"),
        removals: Vec::new(),
        chart: None,
        starter: from(Share::from_percent(Decimal::from(50)), "rule-starter"),
        side_dress: timing(&[28], None, "side-dress-week-4"),
        last_useful: from(LastUseful::TwoThirdsOfLife, "rule-last-useful"),
        cap: None,
        curve: from(s_shaped(Decimal::new(55, 2)), "curve-generic"),
        nitrate_test: None,
        rescue: None,
        harvest_share: None,
        cover_nitrogen: None,
    };
    flags.write(&mut own);
    let before_harvest = |days| from(LastUseful::DaysBeforeHarvest(days), "rule-last-useful");
    if own.brassica {
        let third = Share::from_fraction(Decimal::ONE / Decimal::from(3));
        own.starter = from(third, "starter-brassica");
    }
    if own.leafy {
        own.side_dress = timing(&[21], None, "side-dress-greens");
        own.last_useful = before_harvest(14);
    }
    if own.heading {
        own.side_dress = timing(&[21], None, "side-dress-heading");
        own.last_useful = before_harvest(28);
        if own.brassica {
            own.curve = from(s_shaped(Decimal::new(60, 2)), "curve-heading-brassica");
        }
    }
    if own.picked_over {
        own.last_useful = before_harvest(28);
    }
    if own.legume {
        own.starter = from(Share::WHOLE, "rule-legumes");
        own.side_dress = timing(&[], None, "rule-legumes");
    }
    if own.perennial {
        own.starter = from(Share::WHOLE, "starter-perennial");
        own.side_dress = timing(&[42], None, "side-dress-perennial");
    }
    if own.overwintered {
        own.starter = from(Share::ZERO, "starter-garlic");
        own.side_dress = timing(&[], Some(21), "mw22-all");
    }
    own
}

fn timing(days: &[i32], every: Option<i32>, source: &str) -> Timing {
    Timing { days: days.to_vec(), from_harvest: Vec::new(), every, source: source.to_owned() }
}

fn s_shaped(midpoint: Decimal) -> Curve {
    Curve::Logistic { midpoint: Number(midpoint), steepness: Number(Decimal::from(9)) }
}
