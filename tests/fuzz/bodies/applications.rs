//! Bytes as the record beside a season file: read, placed, matched, planned with.

use std::sync::Arc;

use topdress::calendar::Date;
use topdress::catalogue::Catalogue;
use topdress::engine::against::against;
use topdress::engine::plan::plan;
use topdress::engine::setting::window;
use topdress::record::{Action, Heading, Log, place};
use topdress::season::{Season, read};

const SEASON: &str = include_str!("../season.toml");

fn season() -> Season {
    read(SEASON, Arc::new(Catalogue::new())).unwrap_or_else(|faults| panic!("{faults:?}"))
}

/// Reads the bytes as a record, as they are and beneath a heading. Whatever is read writes itself
/// down again as it was, finds its place in the season or is told, and can be planned with.
pub fn applications(bytes: &[u8]) {
    record(bytes);
    let mut beneath = Heading::default().text().into_bytes();
    beneath.push(b'\n');
    beneath.extend(bytes);
    record(&beneath);
}

fn record(bytes: &[u8]) {
    let log = match Log::read(bytes) {
        Ok(log) => log,
        Err(refusal) => {
            assert!(!refusal.to_string().is_empty() && !refusal.mend().is_empty());
            return;
        }
    };
    for line in &log.lines {
        let heading = Heading::default();
        let text = heading.text() + "\n" + &heading.line(Action::Applied, &line.application);
        let again = Log::read(text.as_bytes()).expect("a record");
        let said = again.lines.first().map(|line| &line.application);
        assert_eq!(said, Some(&line.application), "{text}");
    }
    if log.lines.is_empty() {
        return;
    }
    let season = season();
    let (first, last) = window(season.garden.year.value);
    let (applied, unplaced) = place(&season, &log, first, last);
    assert!(applied.len() + unplaced.len() <= log.lines.len());
    let today = Date::new(2027, 6, 12);
    if !applied.is_empty() {
        plan(&season, season.garden.units, today, &applied);
        against(&season, season.garden.units, &applied, last);
    }
}
