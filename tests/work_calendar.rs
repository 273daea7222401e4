//! The work list as a calendar, imported again and again through a season, as a grower does.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Stdio};

/// What a calendar holds of one event.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Event {
    day: String,
    summary: String,
    description: String,
    cancelled: bool,
}

/// The calendar of a grower: what is imported takes the place of what has the same identity.
#[derive(Default)]
struct Diary {
    events: BTreeMap<String, Event>,
}

impl Diary {
    fn import(&mut self, calendar: &str) {
        let unfolded = calendar.replace("\r\n ", "");
        for text in unfolded.split("BEGIN:VEVENT").skip(1) {
            let own = text.split("BEGIN:VALARM").next().unwrap_or_default();
            let mut event = Event::default();
            let mut identity = String::new();
            for line in own.lines().filter(|line| !line.is_empty()) {
                let (name, value) = line.split_once(':').expect("a property");
                match name {
                    "UID" => identity = value.to_owned(),
                    "DTSTART;VALUE=DATE" => event.day = value.to_owned(),
                    "SUMMARY" => event.summary = value.to_owned(),
                    "DESCRIPTION" => event.description = value.to_owned(),
                    "STATUS" => event.cancelled = value == "CANCELLED",
                    _ => {}
                }
            }
            self.events.insert(identity, event);
        }
    }

    /// Days on which there is something left to do for a bed, from a day on.
    fn due(&self, bed: &str, from: &str) -> Vec<&str> {
        let mut days: Vec<&str> = self
            .events
            .values()
            .filter(|event| !event.cancelled && event.summary.starts_with(bed))
            .map(|event| event.day.as_str())
            .filter(|day| *day >= from)
            .collect();
        days.sort_unstable();
        days
    }
}

fn garden() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let season = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/school-garden/season.toml");
    std::fs::copy(season, folder.path().join("season.toml")).expect("copied");
    folder
}

fn run(folder: &Path, words: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_topdress"))
        .args(words)
        .current_dir(folder)
        .stdin(Stdio::null())
        .output()
        .expect("it runs");
    assert!(output.status.success(), "{words:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("text")
}

fn calendar(folder: &Path, on: &str) -> String {
    run(folder, &["work", "--format", "ics", "--on", on])
}

/// What is left to do by the work list of a day, as the calendar writes days.
fn listed(folder: &Path, bed: &str, on: &str) -> Vec<String> {
    let json = run(folder, &["work", "--format", "json", "--on", on]);
    let answer: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let doses = answer["doses"].as_array().expect("doses");
    let of_bed = doses.iter().filter(|dose| dose["bed"] == bed);
    let mut days: Vec<String> =
        of_bed.map(|dose| dose["date"].as_str().expect("a date").replace('-', "")).collect();
    days.sort();
    days
}

#[test]
fn an_imported_calendar_holds_what_is_left_to_do_and_no_more() {
    let garden = garden();
    let folder = garden.path();
    let mut diary = Diary::default();
    let mut told = |on: &str| {
        diary.import(&calendar(folder, on));
        let from = on.replace('-', "");
        for bed in ["south 1", "north 1"] {
            let listed = listed(folder, bed, on);
            assert_eq!(diary.due(bed, &from), listed, "{bed} on {on}");
        }
        diary.events.len()
    };
    let begun = told("2027-04-01");
    assert!(begun > 20, "{begun} events");
    // Given on its day, and imported again a week later.
    run(folder, &["record", "south 1", "blood meal", "5 oz", "--on", "2027-04-03"]);
    assert_eq!(told("2027-04-10"), begun);
    // One dose is given, those of another bed on the same day are not.
    run(folder, &["record", "south 1", "blood meal", "2.5 oz", "--on", "2027-05-29"]);
    told("2027-05-30");
    // A good deal more than was planned: the rest is not wanted any more.
    run(folder, &["record", "south 1", "blood meal", "12 oz", "--on", "2027-05-31"]);
    told("2027-06-01");
    let cancelled: Vec<&Event> = diary.events.values().filter(|event| event.cancelled).collect();
    assert!(!cancelled.is_empty());
    assert!(cancelled.iter().all(|event| event.summary.starts_with("Not needed any more: ")));
}

#[test]
fn an_event_says_how_much_and_what_it_waits_for() {
    let garden = garden();
    let mut diary = Diary::default();
    diary.import(&calendar(garden.path(), "2027-04-01"));
    let of = |name: &str| {
        let found = diary.events.iter().find(|(identity, _)| identity.starts_with(name));
        found.map(|(_, event)| event.clone()).expect("an event")
    };
    let garlic = of("2027-south-1-garlic-side-dressing-1@");
    assert_eq!(garlic.summary, "south 1: 5 oz blood meal beside garlic");
    assert!(garlic.description.starts_with("5 oz blood meal beside garlic\\n"), "{garlic:?}");
    assert!(garlic.description.contains("about 1 cup"), "{garlic:?}");
    let waiting = of("2027-kitchen-cauliflower-side-dressing-1@");
    assert!(waiting.summary.ends_with("\\, if a nitrate test asks for it"), "{waiting:?}");
    assert!(waiting.description.contains("only if soil nitrate is below 25 ppm"), "{waiting:?}");
}

#[test]
fn the_same_plan_gives_the_same_calendar() {
    let garden = garden();
    let once = calendar(garden.path(), "2027-04-01");
    assert_eq!(once, calendar(garden.path(), "2027-04-01"));
}
