//! A season file to begin from.

use super::{Garden, text};

#[test]
fn a_season_to_begin_from_is_written_once_and_plans() {
    let garden = Garden::empty();
    let output = garden.run(&["start", "plot"]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert_eq!(text(&output.stdout), "");
    let file = garden.path().join("plot/season.toml");
    let written = std::fs::read_to_string(&file).expect("a season file");
    assert!(text(&output.stderr).contains("topdress plan --season plot/season.toml"));
    let planned = garden.answer(&["plan", "--season", "plot/season.toml"]);
    assert!(planned.len() > 500, "{planned}");

    std::fs::write(&file, format!("{written}\n# my own remark\n")).expect("written");
    let again = garden.run(&["start", "plot"]);
    assert_eq!(again.status.code(), Some(1));
    assert!(text(&again.stderr).contains("nothing there is overwritten"));
    let kept = std::fs::read_to_string(&file).expect("still there");
    assert!(kept.ends_with("# my own remark\n"));
}

#[test]
fn a_folder_that_cannot_be_made_is_told() {
    let garden = Garden::empty();
    std::fs::write(garden.path().join("plot"), "a file").expect("written");
    let output = garden.run(&["start", "plot"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(text(&output.stderr).contains("plot"), "{}", text(&output.stderr));
}
