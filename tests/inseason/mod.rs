//! `check`, `record` and `carry` through the program itself: what is answered, what is refused, and
//! that nothing is written where something is refused.

mod carry;
mod check;
mod evidence;
mod record;

use std::path::Path;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

const SEASON: &str = r#"
[garden]
name = "Alder Rise school garden"
year = 2027
texture = "sand"
coldest = { month = 1, mean = "26 F" }
warmest = { month = 7, mean = "71 F" }
rain = [{ on = 2027-06-10, depth = "1.5 in" }]
[feeding]
side_dress = ["feather meal"]
[[shed]]
material = "yard compost"
on_hand = "100 lb"
[[bed]]
name = "north 1"
length = "24 ft"
width = "4 ft"
soil = { test = "mehlich-3", p = "41 ppm", k = "150 ppm", organic_matter = "3 %", ph = 6.6, sampled = 2027-03-20 }
[[bed.planting]]
crop = "broccoli"
planted = 2027-05-10
plants = 60
spacing = "15 in x 15 in"
how = "transplant"
harvest = 2027-07-30
[[bed]]
name = "south"
area = "200 ft2"
[[bed.planting]]
crop = "tomato"
share = "50 %"
planted = 2027-05-20
harvest = 2027-08-01
[[bed.planting]]
crop = "lettuce"
share = "50 %"
planted = 2027-05-20
harvest = 2027-07-10
"#;

/// A garden in a folder of its own.
struct Garden {
    folder: tempfile::TempDir,
}

impl Garden {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("season.toml"), SEASON).expect("written");
        Self { folder }
    }

    fn path(&self) -> &Path {
        self.folder.path()
    }

    fn run(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_topdress"))
            .args(arguments)
            .current_dir(self.path())
            .stdin(Stdio::null())
            .env("NO_COLOR", "1")
            .output()
            .expect("it runs")
    }

    fn done(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", said(&output.stderr));
        said(&output.stdout)
    }

    fn refused(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {}", said(&output.stdout));
        assert_eq!(said(&output.stdout), "", "{arguments:?}");
        said(&output.stderr)
    }

    fn json(&self, arguments: &[&str]) -> Value {
        let all = [arguments, &["--format", "json"]].concat();
        serde_json::from_str(&self.done(&all)).expect("JSON")
    }

    fn record(&self) -> String {
        std::fs::read_to_string(self.path().join("applications.csv")).unwrap_or_default()
    }
}

fn said(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// The help of each command names the formats it has and no others.
#[test]
fn help_lists_the_formats_a_command_has() {
    let garden = Garden::new();
    let all = ["table", "markdown", "json", "csv", "html", "ics"];
    for (command, has) in [
        (&["plan"][..], "table markdown json csv html"),
        (&["bed"], "table markdown json csv html"),
        (&["work"], "table markdown json csv html ics"),
        (&["buy"], "table markdown json csv html"),
        (&["check"], "table markdown json html"),
        (&["record"], "table json csv"),
        (&["explain"], "table markdown json"),
        (&["lesson"], "table markdown html"),
        (&["catalogue"], "table json csv"),
        (&["sum", "dose"], "table markdown json"),
    ] {
        let help = garden.done(&[command, &["--help"]].concat());
        let after = help.rsplit("--format <FORMAT>").next().expect("a format");
        let part = after.split("--output").next().expect("its values");
        for word in all {
            let listed = part.contains(&format!("- {word}:"));
            assert_eq!(
                listed,
                has.split(' ').any(|one| one == word),
                "{word} of {command:?}: {part}"
            );
        }
    }
}

#[test]
fn a_seed_below_nought_is_told_what_a_seed_is() {
    let garden = Garden::new();
    for (arguments, words) in [
        (["lesson", "--seed", "-1"], "a seed is a whole number"),
        (["lesson", "--problems", "-1"], "1 to"),
        (["lesson", "--seed", "seven"], "a seed is a whole number"),
    ] {
        let told = garden.refused(&arguments);
        assert!(told.contains(words), "{told}");
    }
}
