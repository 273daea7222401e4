//! Wording of faults in sums: areas, shares and amounts that cannot be.

use super::Fault;
use crate::calendar::Date;
use crate::figure::Place;

/// Plantings that together need more than the bed.
pub fn more_than_the_bed(
    place: Place,
    bed: &str,
    crop: &str,
    percent: &str,
    day: Date,
    others: &[(Place, &str)],
) -> Fault {
    let title = match others {
        [] => format!("`{crop}` alone needs {percent} % of {bed}"),
        [(_, with)] => {
            format!("on {day} `{crop}` and `{with}` together need {percent} % of {bed}")
        }
        [.., (_, with)] => format!(
            "on {day} `{crop}`, `{with}` and what else grows there need {percent} % of {bed}"
        ),
    };
    let fault = Fault::new(
        place,
        title,
        "give them less room, or other dates; ground is free from the day of (last) harvest on",
    )
    .note("plantings that stand at the same time must fit the bed");
    match others.last() {
        Some((at, with)) => fault.label(format!("`{crop}`")).and(*at, format!("`{with}`")),
        None => fault,
    }
}

/// Rows that do not fit across the bed.
pub fn rows_too_wide(place: Place, rows: u32, needs: &str, width: &str) -> Fault {
    Fault::new(
        place,
        format!("{rows} rows stand {needs} apart from first to last, and the bed is {width} wide"),
        "plant fewer rows, or closer ones, or mend the width of the bed",
    )
}

/// Water that would be all there is.
pub fn all_water(place: Place) -> Fault {
    Fault::new(
        place,
        "`moisture` of 100 % leaves nothing but water",
        "write the share of the wet weight that is water, below 100 %, like `moisture = \"45 %\"`",
    )
}

/// Mineral nitrogen above the total.
pub fn more_than_total_nitrogen(place: Place, mineral: &str, total: &str) -> Fault {
    Fault::new(
        place,
        format!("ammonium and nitrate make {mineral} %, more than the total nitrogen of {total} %"),
        "write all as a share of the weight on the same basis, or mend the analysis",
    )
}

/// The coldest month warmer than the warmest.
pub fn climate_upside_down(place: Place, warmest: Place) -> Fault {
    Fault::new(
        place,
        "the coldest month is not colder than the warmest",
        "write the mean air temperature of each month, like `{ month = 1, mean = \"24 F\" }`",
    )
    .label("coldest")
    .and(warmest, "warmest")
}
