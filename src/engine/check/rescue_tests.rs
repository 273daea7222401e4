//! Doses for crops found short, against what bulletins print.

use super::*;
use crate::figure::disagreements;
use crate::quantity::settle;

fn per_acre(lb: i64) -> Figure<Rate> {
    Figure::asked("rate", Rate::from_lb_per_acre(lb.into()))
}

fn ppm(value: i64) -> Figure<Concentration> {
    Figure::asked("nitrate", Concentration::from_ppm(value.into()))
}

fn need(nitrate: Option<i64>, budget: Option<i64>) -> RescueNeed {
    RescueNeed {
        critical: ppm(25),
        nitrate: nitrate.map(ppm),
        foot: None,
        budget: budget.map(per_acre),
        washed_out: false,
        published: None,
        cap: per_acre(50),
        too_late: false,
    }
}

fn lb(need: &RescueNeed) -> Decimal {
    settle(rate(need).0.value().lb_per_acre())
}

#[test]
fn the_dose_lifts_nitrate_to_the_critical_level_within_its_bounds() {
    // Texas A&M, Vegetable Production and Marketing News, October 2006: about 4 lb per acre for
    // each ppm below the threshold.
    for (found, dose_lb) in [(24, 20), (20, 20), (19, 24), (15, 40), (13, 48), (12, 50), (0, 50)] {
        let need = need(Some(found), None);
        let (figure, basis) = rate(&need);
        assert_eq!((lb(&need), basis), (dose_lb.into(), Basis::Nitrate), "{found} ppm");
        assert!(disagreements(&figure.step()).is_empty());
    }
}

#[test]
fn a_test_outranks_the_budget_and_the_budget_sizes_the_rest() {
    assert_eq!(need(Some(25), Some(60)).short(), Some(false));
    assert_eq!(need(Some(12), Some(-60)).short(), Some(true));
    assert_eq!(need(None, Some(-1)).short(), Some(false));
    assert_eq!(need(None, None).short(), None);
    let washed = RescueNeed { washed_out: true, ..need(None, Some(-60)) };
    assert_eq!(washed.short(), Some(true));
    assert_eq!((lb(&washed), rate(&washed).1), (20.into(), Basis::Least));
    let short = need(None, Some(33));
    assert_eq!((lb(&short), rate(&short).1), (33.into(), Basis::Budget));
}

#[test]
fn the_cap_of_onion_and_seedlings_wins_over_everything() {
    // Michigan State University, nutrient management after adverse weather: onion never above 25.
    let onion = RescueNeed { cap: per_acre(25), ..need(Some(2), None) };
    assert_eq!(lb(&onion), 25.into());
    let high = Some((per_acre(40), per_acre(80)));
    let corn = RescueNeed { published: high.clone(), ..need(Some(24), None) };
    assert_eq!(lb(&corn), 40.into());
    let seedling = RescueNeed { published: high, cap: per_acre(25), ..need(Some(24), None) };
    assert_eq!(lb(&seedling), 25.into());
}

#[test]
fn a_container_gets_what_its_mix_may_be_given_at_once() {
    let ground = Ground {
        area: None,
        mix: Some(Figure::asked("mix", Volume::from_gal(120.into()))),
        plants: None,
        row_spacing: None,
    };
    let rescue = dose(&need(Some(2), None), &ground).expect("mix is known");
    assert_eq!((settle(rescue.nitrogen.value().g()), rescue.basis), (120.into(), Basis::Container));
    let nowhere = Ground { mix: None, ..ground };
    assert!(dose(&need(Some(2), None), &nowhere).is_none());
}
