//! The most nitrogen of one dressing.

use rust_decimal::Decimal;

use crate::calendar::Date;
use crate::engine::rules;
use crate::figure::Figure;
use crate::quantity::{Rate, Share};
use crate::season::{How, Planting};

/// Usual cap of one dressing, in pounds of quick nitrogen per acre.
const USUAL_POUNDS_PER_ACRE: i64 = 50;
/// Of the cap, what seedlings get.
const SEEDLING_PERCENT: i64 = 50;
/// Days for which what is sown is a seedling.
const SEEDLING_DAYS: i32 = 21;

/// The most quick nitrogen per area in one dressing on a day: the crop's own cap, else 50 lb/acre;
/// half of it for seedlings.
pub fn figure(planting: &Planting, planted: Date, day: Date) -> Figure<Rate> {
    let crop = &planting.crop.value;
    let cap = match &crop.cap {
        Some(cap) => Figure::listed("cap of the crop", cap.value, "crops", &crop.name, &cap.source),
        None => Figure::fixed("cap", usual(), &rules::DOSE_CAP),
    };
    if seedling(planting, planted, day) {
        let part = Figure::fixed("half, for seedlings", seedling_part(), &rules::DOSE_CAP);
        (&cap * &part).called("cap for seedlings")
    } else {
        cap
    }
}

/// The value of [`figure`].
pub fn rate(planting: &Planting, planted: Date, day: Date) -> Rate {
    let cap = planting.crop.value.cap.as_ref().map_or_else(usual, |cap| cap.value);
    if seedling(planting, planted, day) { cap * seedling_part() } else { cap }
}

/// The first day on which the crop is no seedling: three weeks after it was sown, at once where it was set
/// out.
pub fn grown(planting: &Planting, planted: Date) -> Date {
    let sown = planting.how.is_some_and(|how| how.value == How::Seed);
    if sown { planted + SEEDLING_DAYS } else { planted }
}

/// Whether the crop is a seedling on a day.
fn seedling(planting: &Planting, planted: Date, day: Date) -> bool {
    day < grown(planting, planted)
}

fn usual() -> Rate {
    Rate::from_lb_per_acre(USUAL_POUNDS_PER_ACRE.into())
}

fn seedling_part() -> Share {
    Share::from_percent(Decimal::from(SEEDLING_PERCENT))
}
