//! What was planned and then done, exactly, leaves nothing to do.

use proptest::prelude::*;
use topdress::calendar::Date;
use topdress::engine::dose::Dose;
use topdress::engine::plan::{BedPlan, Plan, plan};
use topdress::engine::setting::window;
use topdress::quantity::{Mass, UnitSystem};
use topdress::record::{
    Action, Application, Applied, Heading, Log, analysis_of, place, read_amount,
};
use topdress::report::number::Showing;
use topdress::season::{Measure, Season};

use super::draw::garden;
use super::text::{Hand, text};
use super::{day, draws, reckons_back, season};

fn units() -> impl Strategy<Value = UnitSystem> {
    prop::sample::select(vec![UnitSystem::Us, UnitSystem::Metric])
}

/// A dose as a grower writes it down: the weight as the work list shows it.
fn written(bed: &BedPlan, dose: &Dose, units: UnitSystem) -> Application {
    let crop = bed.plantings.iter().find(|one| Some(one.index) == dose.planting);
    let amount_text = Showing::new(units).of(dose.weight.value()).to_string();
    Application {
        on: dose.date,
        bed: bed.name.clone(),
        crop: crop.map_or_else(String::new, |crop| crop.slug.to_string()),
        material: dose.ready.name().to_owned(),
        amount: read_amount(&amount_text).expect("a weight"),
        amount_text,
        analysis: Some(analysis_of(&dose.ready.stuff)),
        method: String::new(),
        lot: String::new(),
        person: String::new(),
        note: String::new(),
    }
}

/// The record of a whole plan, read back from its text.
fn recorded(season: &Season, plan: &Plan, units: UnitSystem) -> Vec<Applied> {
    let heading = Heading::default();
    let mut text = heading.text() + heading.line_end();
    for bed in &plan.beds {
        for dose in &bed.doses {
            text += &heading.line(Action::Applied, &written(bed, dose, units));
        }
    }
    let log = Log::read(text.as_bytes()).expect("a record");
    let (first, last) = window(season.garden.year.value);
    let (applied, unplaced) = place(season, &log, first, last);
    assert!(log.damaged.is_empty() && unplaced.is_empty(), "{text}{unplaced:?}");
    applied
}

fn doses(plan: &Plan) -> Vec<(Date, String)> {
    let doses = plan.beds.iter().flat_map(|bed| &bed.doses);
    doses.map(|one| (one.date, format!("{} {:?}", one.ready.name(), one.weight.value()))).collect()
}

proptest! {
    #![proptest_config(draws(24))]

    #[test]
    fn a_plan_carried_out_leaves_nothing_to_do(garden in garden(2), units in units()) {
        let season = season(&text(&garden, Hand::US));
        let first = plan(&season, units, Some(day("2026-07-01")), &[]);
        let applied = recorded(&season, &first, units);
        let all = doses(&first);
        let Some(last) = all.iter().map(|(date, _)| *date).max() else { return Ok(()) };
        let after = plan(&season, units, Some(last + 1), &applied);
        prop_assert_eq!(doses(&after), vec![], "after {:?}", all);
        reckons_back(&after)?;
    }
}

const SPINACH: &str = r#"
[garden]
year = 2027
[feeding]
before_planting = ["pelleted poultry manure", "potassium sulfate"]
side_dress = ["urea"]
timing = "weeks"
[[bed]]
name = "north 1"
area = "134 ft2"
[[bed.planting]]
crop = "spinach"
planted = 2027-04-10
days = 45
how = "seed"
need = { n = "50 lb/acre" }
"#;

/// Where only a part was spread, the rest is still asked for.
#[test]
fn half_a_dose_leaves_the_rest_to_do() {
    let season = season(SPINACH);
    let first = plan(&season, UnitSystem::Us, None, &[]);
    let dressing = first.beds[0].doses.last().expect("a dressing");
    let today = Some(dressing.date + 1);
    let all = recorded(&season, &first, UnitSystem::Us);
    assert_eq!(doses(&plan(&season, UnitSystem::Us, today, &all)), vec![]);
    let mut half = all.clone();
    for one in half.iter_mut().filter(|one| one.on == dressing.date) {
        if let Measure::Weight(weight) = &mut one.amount {
            *weight = Mass::from_base(weight.base() / rust_decimal::Decimal::TWO);
        }
    }
    assert_ne!(doses(&plan(&season, UnitSystem::Us, today, &half)), vec![]);
    let none: Vec<Applied> = all.into_iter().filter(|one| one.on != dressing.date).collect();
    assert_ne!(doses(&plan(&season, UnitSystem::Us, today, &none)), vec![]);
}
