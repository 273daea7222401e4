//! The kept corpus of the fuzzer, run through the same code without it: inputs that once broke
//! something, and a few of every sort.

mod bodies;

use std::fs;

use crate::house::{files, short};

/// Runs every kept input of one target.
fn replay(target: &str, body: fn(&[u8])) {
    let kept = files(&format!("tests/fuzz/corpus/{target}"));
    assert!(kept.len() >= 10, "only {} inputs are kept for {target}", kept.len());
    for path in kept {
        let bytes = fs::read(&path).expect("a kept input");
        assert!(bytes.len() < 10_000, "{} is long for a kept input", short(&path));
        let done = std::panic::catch_unwind(|| body(&bytes));
        assert!(done.is_ok(), "{} breaks it", short(&path));
    }
}

#[test]
fn the_quantities_kept_hold() {
    replay("quantity", bodies::quantity);
}

#[test]
fn the_season_files_kept_hold() {
    replay("season", bodies::season);
}

#[test]
fn the_records_kept_hold() {
    replay("applications", bodies::applications);
}

#[test]
fn the_sums_kept_hold() {
    replay("sum", bodies::sum);
}
