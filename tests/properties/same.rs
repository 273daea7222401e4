//! One garden told in two ways is one garden.

use proptest::prelude::*;
use topdress::engine::plan::{BedPlan, Plan};
use topdress::figure::Workings;
use topdress::report::number::Showing;
use topdress::report::plan::{Reported, json};
use topdress::season::Season;

use super::draw::garden;
use super::garden::Garden;
use super::text::{Hand, text};
use super::units::Written;
use super::{day, differences, draws, figures, plan_of, planned, season};

/// All that a program is told of a plan.
fn told(season: &Season, plan: &Plan) -> Vec<u8> {
    let showing = Showing::new(season.garden.units);
    let today = Some(day("2027-01-01"));
    let reported = Reported { season, plan, showing, today, against: &[] };
    let parts: Result<Vec<Vec<u8>>, _> = json(&reported).expect("JSON").collect();
    parts.expect("JSON").concat()
}

/// The garden with each bed so many times, under names of their own.
fn repeated(garden: &Garden, times: usize) -> Garden {
    let beds = (0..times).flat_map(|copy| garden.beds.iter().map(move |bed| (copy, bed.clone())));
    let beds = beds.map(|(copy, mut bed)| {
        bed.name = format!("{} copy {copy}", bed.name);
        bed
    });
    Garden { beds: beds.collect(), ..garden.clone() }
}

/// What is reckoned of a bed, without its name.
fn reckoned(bed: &BedPlan) -> String {
    let doses = bed.doses.iter().map(|dose| (dose.date, dose.ready.name(), dose.weight.value()));
    let plantings = bed.plantings.iter().map(|one| {
        [&one.need, &one.credit, &one.shortfall, &one.planned, &one.given].map(|of| of.value())
    });
    let minerals = [&bed.phosphate, &bed.potash].map(|budget| budget.shortfall.value());
    let (doses, plantings): (Vec<_>, Vec<_>) = (doses.collect(), plantings.collect());
    format!("{doses:?} {plantings:?} {minerals:?} {:?}", bed.notes)
}

proptest! {
    #![proptest_config(draws(24))]

    #[test]
    fn feet_and_metres_give_the_same_plan(garden in garden(2)) {
        let us = figures(&plan_of(&garden, Hand::US));
        let metric = figures(&plan_of(&garden, Hand::METRIC));
        prop_assert_eq!(differences(&us, &metric), Vec::<String>::new());
    }

    #[test]
    fn the_order_of_tables_does_not_matter(garden in garden(3), stir in 1_u64..) {
        let as_drawn = figures(&plan_of(&garden, Hand::US));
        let stirred = Hand { written: Written::Us, stir };
        prop_assert_eq!(differences(&as_drawn, &figures(&plan_of(&garden, stirred))), Vec::<String>::new());
    }

    #[test]
    fn workings_change_no_answer(garden in garden(3)) {
        let season = season(&text(&garden, Hand::US));
        let kept = told(&season, &planned(&season));
        let left = Workings::Left.during(|| told(&season, &planned(&season)));
        prop_assert_eq!(String::from_utf8_lossy(&kept), String::from_utf8_lossy(&left));
    }
}

proptest! {
    #![proptest_config(draws(6))]

    /// So many beds are read, planned and written by all the hands there are.
    #[test]
    fn beds_alike_are_planned_alike_by_many_hands(garden in garden(3)) {
        let (own, times) = (garden.beds.len(), 64_usize.div_ceil(garden.beds.len()));
        let season = season(&text(&repeated(&garden, times), Hand::US));
        let plan = planned(&season);
        prop_assert_eq!(plan.beds.len(), own * times);
        for (at, bed) in plan.beds.iter().enumerate() {
            prop_assert_eq!(reckoned(bed), reckoned(&plan.beds[at % own]), "{}", bed.name);
        }
        prop_assert_eq!(told(&season, &plan), told(&season, &planned(&season)));
    }
}
