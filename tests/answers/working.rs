//! The working of a sum, line by line.

use super::Garden;

/// Half of the nitrogen counts: 66.67 lb at 4 % bring 2.67 lb of which 1.33 count; of phosphate and
/// potash all counts, and nothing else is said.
#[test]
fn what_counts_is_said_of_nitrogen_alone() {
    let told = Garden::empty().answer(&[
        "sum",
        "dose",
        "--need",
        "n 3 lb",
        "--need",
        "p2o5 2 lb",
        "--from",
        "4-3-2 @ 50 %",
        "--from",
        "12-0-0 @ 60 %",
    ]);
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    for line in [
        "nitrogen that counts brought by 4-3-2: 66.6667 lb × 2 %",
        "nitrogen still needed: 3 lb − 1.33333 lb",
        "phosphate brought by 4-3-2: 66.6667 lb × 3 %",
    ] {
        assert!(told.contains(line), "{line}: {told}");
    }
    assert!(!told.contains("phosphate that counts") && !told.contains("potash that counts"));
}
