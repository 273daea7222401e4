//! A text as a season file: read, planned, shown, carried over.

use std::sync::Arc;

use topdress::calendar::Date;
use topdress::catalogue::Catalogue;
use topdress::engine::{paths, plan, shopping};
use topdress::fault::render;
use topdress::figure::disagreements;
use topdress::report::carry::{Carried, carry};
use topdress::report::number::Showing;
use topdress::report::plan::{Reported, json, plan as page};
use topdress::report::terminal;
use topdress::season;

/// The same as a season file of these bytes: refused with a reason, or planned so that every figure
/// reckons back, and carried into a year whose file can be read.
pub fn season(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let season = match season::read(text, Arc::new(Catalogue::new())) {
        Ok(season) => season,
        Err(faults) => {
            assert!(!faults.is_empty(), "refused without a reason");
            assert!(!render(&faults, text, "season.toml", false).is_empty());
            return;
        }
    };
    let garden = &season.garden;
    let today = Date::new(garden.year.value, 4, 1);
    let planned = plan::plan(&season, garden.units, today, &[]);
    for located in paths::all(&planned) {
        assert!(disagreements(&located.step).is_empty(), "{}", located.path);
    }
    shopping::list(&season, &planned, today);
    let showing = Showing::new(garden.units);
    let reported = Reported { season: &season, plan: &planned, showing, today, against: &[] };
    json(&reported).expect("JSON").for_each(|part| assert!(part.is_ok()));
    terminal::render(&page(&reported), &terminal::Terminal::default());
    let carried = carry(&Carried { season: &season, source: text, applied: &[] });
    let next = carried.expect("a season that was read is TOML");
    if let Err(faults) = season::read(&next, Arc::new(Catalogue::new())) {
        panic!("{}", render(&faults, &next, "next year's", false));
    }
}
