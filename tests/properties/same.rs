//! One garden told in two ways is one garden.

use proptest::prelude::*;
use topdress::engine::plan::{BedPlan, Plan};
use topdress::engine::{paths, shopping};
use topdress::figure::{Origin, Step, Why, Workings};
use topdress::report::markdown;
use topdress::report::number::Showing;
use topdress::report::plan::{Reported, bed, calendar, json, plan as page, work};
use topdress::season::Season;

use super::draw::garden;
use super::garden::Garden;
use super::text::{Hand, text};
use super::units::Written;
use super::{day, differences, draws, figures, plan_of, planned, season};

/// All that a program is told of a plan.
fn told(season: &Season, plan: &Plan) -> String {
    let showing = Showing::new(season.garden.units);
    let today = Some(day("2027-01-01"));
    let reported = Reported { season, plan, showing, today, against: &[] };
    let parts: Result<Vec<Vec<u8>>, _> = json(&reported).expect("JSON").collect();
    String::from_utf8(parts.expect("JSON").concat()).expect("text")
}

/// All that is shown of a plan to people, but for pages with their workings.
fn shown(season: &Season, plan: &Plan) -> String {
    let showing = Showing::new(season.garden.units);
    let today = Some(day("2027-01-01"));
    let reported = Reported { season, plan, showing, today, against: &[] };
    let beds = plan.beds.iter().map(|one| markdown::render(&bed(&reported, one)));
    let all = [page(&reported), work(&reported)].map(|one| markdown::render(&one));
    let list = shopping::list(season, plan, today);
    beds.chain(all).chain([calendar(&reported, plan), format!("{list:?}")]).collect()
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
        let bare = Workings::Left.during(|| planned(&season));
        let whole = planned(&season);
        prop_assert_eq!(told(&season, &whole), told(&season, &bare));
        prop_assert_eq!(shown(&season, &whole), shown(&season, &bare));
        let kept = |step: &Step| !matches!(step.why, Why::Given(Origin::Unkept));
        prop_assert!(paths::all(&whole).iter().all(|located| kept(&located.step)));
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

/// Derivations are chains as long as a bed's year is busy; they fall on whichever hand lets go of them.
#[test]
fn a_bed_of_many_crops_is_no_strain_for_any_hand() {
    let mut text = String::from(
        "[garden]\nyear = 2027\n[feeding]\nbefore_planting = [\"feather meal\"]\nside_dress = [\"urea\"]\n",
    );
    for bed in 0..70 {
        text += &format!("[[bed]]\nname = \"bed {bed}\"\narea = \"100 ft2\"\n");
        let crops = if bed % 30 == 7 { 200 } else { 1 };
        for crop in 0..crops {
            let planted = day("2027-03-01") + crop;
            text += &format!(
                "[[bed.planting]]\ncrop = \"radish\"\nplanted = {planted}\ndays = 25\nrows = 1\nrow_length = \"3 ft\"\nrow_spacing = \"1 ft\"\n"
            );
        }
    }
    let plan = planned(&season(&text));
    assert_eq!(plan.beds[7].plantings.len(), 200);
}
