//! `bed`, `buy`, `catalogue`, `explain` and `start` through the program itself: what each format
//! holds, and that it agrees with the others, with sums done by hand and with the publications.

mod bed;
mod buy;
mod catalogue;
mod explain;
mod start;
mod working;

use std::path::Path;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

/// One bed, fed with one salt at a given rate, so that everything can be worked out in the head:
/// 3 lb of nitrogen at 15 % is 20 lb; 4 lb are there.
const SEASON: &str = r#"
[garden]
year = 2027
coldest = { month = 1, mean = "26 F" }
warmest = { month = 7, mean = "71 F" }

[feeding]
before_planting = ["blue salt"]
side_dress = ["blue salt"]
timing = "weeks"

[[supplier]]
name = "village store"
delivery = "3.00"

[[shed]]
material = "blue salt"
analysis = "15-0-0"
on_hand = "4 lb"
packs = [{ weight = "5 lb", price = "6.50" }, { weight = "25 lb", price = "24.00" }]
supplier = "village store"

[[bed]]
name = "long"
area = "1000 ft2"
soil = { test = "mehlich-3", p = "150 ppm", k = "400 ppm", organic_matter = "2 %", ph = 6.6, sampled = 2027-03-20 }

[[bed.planting]]
crop = "cabbage"
planted = 2027-05-10
how = "transplant"
harvest = 2027-08-10
need = { n = "3 lb/1000 ft2" }
"#;

/// A folder with a season file in it.
struct Garden {
    folder: tempfile::TempDir,
}

impl Garden {
    fn new(season: &str) -> Self {
        let garden = Self::empty();
        std::fs::write(garden.path().join("season.toml"), season).expect("written");
        garden
    }

    fn empty() -> Self {
        Self { folder: tempfile::tempdir().expect("a folder") }
    }

    fn path(&self) -> &Path {
        self.folder.path()
    }

    fn run(&self, words: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_topdress"))
            .args(words)
            .current_dir(self.path())
            .stdin(Stdio::null())
            .env("NO_COLOR", "1")
            .output()
            .expect("it runs")
    }

    /// What it prints where all is well.
    fn answer(&self, words: &[&str]) -> String {
        let output = self.run(words);
        assert_eq!(output.status.code(), Some(0), "{words:?}: {}", text(&output.stderr));
        text(&output.stdout)
    }

    /// What it tells where the command line is wrong; nothing is printed.
    fn refused(&self, words: &[&str]) -> String {
        let output = self.run(words);
        assert_eq!(output.status.code(), Some(2), "{words:?}: {}", text(&output.stdout));
        assert_eq!(text(&output.stdout), "", "{words:?}");
        text(&output.stderr)
    }

    fn json(&self, words: &[&str]) -> Value {
        serde_json::from_str(&self.answer(&[words, &["--format", "json"]].concat())).expect("JSON")
    }

    /// The rows of a comma-separated answer, each cell by the name of its column.
    fn rows(&self, words: &[&str]) -> Vec<std::collections::BTreeMap<String, String>> {
        let sheet = self.answer(&[words, &["--format", "csv"]].concat());
        let mut reader = csv::Reader::from_reader(sheet.as_bytes());
        reader.deserialize().map(|row| row.expect("a row")).collect()
    }
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}
