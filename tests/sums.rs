//! Published sums, each a small file under `tests/cases/sums/`, and sums that cannot be done, under
//! `tests/cases/sums-bad/`: run through the same code as the command.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;

use rust_decimal::{Decimal, RoundingStrategy};
use serde::Deserialize;
use topdress::cli::sum;
use topdress::engine::sums::{Answer, InUnit};
use topdress::quantity::Written;

/// A published case.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    /// Who published it.
    source: String,
    /// What is to be said of it, such as where the source is wrong.
    note: Option<String>,
    /// Why no sum of the program does it.
    fits_no_sum: Option<String>,
    #[serde(default)]
    run: Vec<Run>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Run {
    /// The words after `topdress sum`.
    sum: String,
    answer: Vec<Expected>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Expected {
    name: String,
    /// The unit that the answer comes in.
    #[serde(default)]
    unit: String,
    /// The unit that the source prints, where it is another.
    r#in: Option<String>,
    /// As the source prints it: compared to the last place printed.
    printed: Option<String>,
    /// The step the source rounds to, where it is not the last place.
    to: Option<String>,
    /// The source is wrong or uses a rounded constant: what it prints must differ.
    #[serde(default)]
    differs: bool,
    /// The exact answer, as far as it is written.
    exact: Option<String>,
    /// An answer that is a name.
    word: Option<String>,
}

/// A sum that cannot be done.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Bad {
    sum: String,
    /// The whole first line.
    error: String,
    /// What must be said to be understood.
    understood: Option<String>,
    /// What must stand in the help.
    help: Option<String>,
}

fn files(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases").join(folder);
    let entries = std::fs::read_dir(&folder).expect("the folder of cases");
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.expect("an entry").path()).collect();
    files.sort();
    assert!(!files.is_empty(), "{} holds no case", folder.display());
    files
}

fn read<T: for<'de> Deserialize<'de>>(file: &Path) -> T {
    let text = std::fs::read_to_string(file).expect("a case file");
    toml::from_str(&text).unwrap_or_else(|fault| panic!("{}: {fault}", file.display()))
}

/// Splits a command line at spaces outside quotes.
pub fn words(line: &str) -> Vec<String> {
    let (mut words, mut word, mut quoted, mut begun) = (Vec::new(), String::new(), false, false);
    for c in line.chars() {
        match c {
            '"' => (quoted, begun) = (!quoted, true),
            ' ' if !quoted => {
                if begun {
                    words.push(std::mem::take(&mut word));
                }
                begun = false;
            }
            c => {
                word.push(c);
                begun = true;
            }
        }
    }
    if begun {
        words.push(word);
    }
    words
}

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap_or_else(|_| panic!("`{text}` is no decimal"))
}

/// One in the last place written.
fn last_place(text: &str) -> Decimal {
    Decimal::new(1, decimal(text).scale())
}

/// The value in the unit that the source prints.
fn in_print(answer: &Answer, unit: Option<&str>) -> Decimal {
    let value = answer.number().expect("a number");
    match (unit, answer.unit) {
        (Some(unit), InUnit::Of(own)) => {
            Written::read(unit, "lb").expect("a unit").of_base(own.to_base(value))
        }
        _ => value,
    }
}

fn check(answer: &Answer, expected: &Expected) -> Result<(), String> {
    if let Some(word) = &expected.word {
        let found = answer.text();
        return if found == *word { Ok(()) } else { Err(format!("{found} for {word}")) };
    }
    if answer.unit_text() != expected.unit {
        return Err(format!("in {} for {}", answer.unit_text(), expected.unit));
    }
    let value = in_print(answer, expected.r#in.as_deref());
    if let Some(exact) = &expected.exact {
        let places = decimal(exact).scale();
        let rounded = value.round_dp_with_strategy(places, RoundingStrategy::MidpointAwayFromZero);
        if rounded != decimal(exact) {
            return Err(format!("{value} for exactly {exact}"));
        }
    }
    if let Some(printed) = &expected.printed {
        let step = expected.to.as_deref().map_or_else(|| last_place(printed), decimal);
        let near = topdress::quantity::round_to(value, step) == decimal(printed);
        match (near, expected.differs) {
            (false, false) => return Err(format!("{value} does not round to {printed}")),
            (true, true) => return Err(format!("{value} rounds to {printed} after all")),
            _ => {}
        }
        if expected.differs && expected.exact.is_none() {
            return Err("a source that differs wants the exact answer".to_owned());
        }
    }
    Ok(())
}

#[test]
fn published_sums_come_out() {
    let mut wrong = Vec::new();
    let mut checked = 0;
    for file in files("sums") {
        let case: Case = read(&file);
        let name = file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        assert!(!case.source.is_empty(), "{name} names no source");
        assert_eq!(case.run.is_empty(), case.fits_no_sum.is_some(), "{name} runs or says why not");
        let excused = case.note.is_some();
        for run in &case.run {
            let sum = match sum::reckon(&words(&run.sum)) {
                Ok(sum) => sum,
                Err(message) => {
                    wrong.push(format!("{name}: {}\n{message}", run.sum));
                    continue;
                }
            };
            for expected in &run.answer {
                assert!(!expected.differs || excused, "{name} differs without a note");
                checked += 1;
                let result = match sum.answer(&expected.name) {
                    Some(answer) => check(answer, expected),
                    None => Err("is not among the answers".to_owned()),
                };
                if let Err(what) = result {
                    wrong.push(format!("{name}: {}: {} {what}", run.sum, expected.name));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(checked > 150, "only {checked} answers were checked");
}

#[test]
fn sums_that_cannot_be_done_say_why_and_show_what_works() {
    let mut wrong = Vec::new();
    for file in files("sums-bad") {
        let bad: Bad = read(&file);
        let name = file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let message = match sum::reckon(&words(&bad.sum)) {
            Ok(_) => {
                wrong.push(format!("{name}: was done"));
                continue;
            }
            Err(message) => message,
        };
        let first = message.lines().next().unwrap_or_default();
        let line = |key: &str| {
            message.lines().find_map(|line| line.strip_prefix(key)).unwrap_or_default().to_owned()
        };
        if first != format!("error: {}", bad.error) {
            wrong.push(format!("{name}: {first}"));
        }
        for (key, wanted) in [("  = understood: ", &bad.understood), ("  = help: ", &bad.help)] {
            if let Some(wanted) = wanted
                && !line(key).contains(wanted.as_str())
            {
                wrong.push(format!("{name}: {wanted} is not in {}", line(key)));
            }
        }
        let example = line("  = this works: topdress sum ");
        if let Err(message) = sum::reckon(&words(&example)) {
            wrong.push(format!("{name}: the example `{example}` does not work: {message}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_derivation_reckons_back_to_its_answer() {
    for file in files("sums") {
        let case: Case = read(&file);
        for run in &case.run {
            let Ok(sum) = sum::reckon(&words(&run.sum)) else { continue };
            for answer in &sum.answers {
                if let topdress::engine::sums::Value::Worked(step) = &answer.value {
                    let wrong = topdress::figure::disagreements(step);
                    assert!(wrong.is_empty(), "{}: {}: {wrong:?}", file.display(), answer.name);
                }
            }
        }
    }
}

fn topdress(line: &str) -> std::process::Output {
    Command::new(env!("CARGO_BIN_EXE_topdress")).args(words(line)).output().expect("it runs")
}

#[test]
fn the_command_answers_in_json() {
    let line =
        "sum dose --need \"n 3 lb/1000 ft2\" --from 24-25-4 --over \"1000 ft2\" --format json";
    let output = topdress(line);
    assert!(output.status.success());
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(json["answers"][0]["name"], "24-25-4");
    assert_eq!(json["answers"][0]["value"], "12.5");
    assert_eq!(json["answers"][0]["unit"], "lb");
    assert_eq!(json["working"][1], "24-25-4: 3 lb ÷ 24 % = 3 ÷ 24 × 100 = 12.5 lb");
    assert!(json["cautions"].is_array());
    let keys: BTreeSet<&str> =
        json.as_object().expect("an object").keys().map(String::as_str).collect();
    assert_eq!(keys, BTreeSet::from(["answers", "working", "cautions"]));
}

#[test]
fn the_command_tells_faults_on_stderr_with_exit_code_2() {
    let output = topdress("sum dose --need \"n 3 lb/1000 ft2\" --from 24-25-4");
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("there is no --over") && said.contains("= this works: "), "{said}");
}

#[test]
fn the_command_shows_working_answer_and_what_comes_along() {
    for format in ["table", "markdown"] {
        let output = topdress(&format!("sum label 16-4-8 --weight \"100 lb\" --format {format}"));
        let said = String::from_utf8_lossy(&output.stdout).replace('\u{a0}', " ");
        let at = |text: &str| said.find(text).unwrap_or_else(|| panic!("{text} not in\n{said}"));
        assert!(at("Working") < at("Answer") && at("Answer") < at("What else comes along"));
        assert!(said.contains("100 lb − (16 lb + 4 lb + 8 lb) = 72 lb"), "{said}");
    }
}

#[test]
fn a_lesson_is_the_same_for_one_seed_and_another_for_another() {
    let sheet = |rest: &str| {
        let output = topdress(&format!("lesson {rest}"));
        assert!(output.status.success(), "{rest}");
        String::from_utf8(output.stdout).expect("text").replace('\u{a0}', " ")
    };
    assert_eq!(sheet("--problems 10 --seed 7"), sheet("--seed 7 --problems 10"));
    for rest in ["--problems 10", "--problems 1", "--problems 3 --units metric"] {
        let sheets: BTreeSet<String> =
            (0..20).map(|seed| sheet(&format!("{rest} --seed {seed}"))).collect();
        assert_eq!(sheets.len(), 20, "{rest}");
    }
    let problems = sheet("--seed 7 --part problems --format markdown");
    assert!(problems.contains("Problems") && !problems.contains("Answers"));
    let answers = sheet("--seed 7 --part answers --format html");
    assert!(answers.contains("<html") && answers.contains("Answers"));
    assert!(!answers.contains("How many"));
    assert_eq!(topdress("lesson --problems 0").status.code(), Some(2));
    assert_eq!(topdress("lesson --format json").status.code(), Some(2));
}

#[test]
fn every_rule_of_the_sums_names_a_known_source_and_each_key_is_its_own() {
    let catalogue = topdress::catalogue::Catalogue::new();
    let mut keys = BTreeSet::new();
    for rule in topdress::engine::sums::RULES {
        assert!(keys.insert(rule.key), "{} twice", rule.key);
        if let Some(id) = rule.source {
            assert!(catalogue.source(id).is_some(), "{}: no source `{id}`", rule.key);
        }
    }
}

/// The whole text that a sum is answered with, on one line.
fn told(line: &str) -> String {
    let text = sum::answer(&words(line)).unwrap_or_else(|message| panic!("{line}: {message}"));
    let text = text.replace("│", " ");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_price_is_counted_once() {
    // 50 lb hold 5 lb of each nutrient; the price is 24.
    let total = |line: &str, names: &[&str]| -> Decimal {
        let done = sum::reckon(&words(line)).expect("a sum");
        let costs = done.answers.iter().filter(|answer| names.contains(&answer.name.as_str()));
        let values: Vec<Decimal> = costs
            .filter_map(|answer| {
                let topdress::engine::sums::Value::Worked(step) = &answer.value else {
                    return None;
                };
                Some(step.amount.base)
            })
            .collect();
        values.iter().sum::<Decimal>() * Decimal::from(5)
    };
    let names = ["nitrogen", "phosphate", "potash"];
    let with = names.map(|name| format!("10-10-10 {name}"));
    let with: Vec<&str> = with.iter().map(String::as_str).collect();
    let alone = "price --offer \"50 lb 10-10-10 24.00\"";
    assert_eq!(total(alone, &names).round_dp(9), Decimal::from(24));
    for offers in [
        " --offer \"50 lb urea 31.50\"",
        " --offer \"50 lb 0-46-0 34.50\" --offer \"50 lb 0-0-60 30.00\"",
        " --offer \"50 lb urea 31.50\" --offer \"50 lb 0-0-60 30.00\"",
    ] {
        let line = format!("{alone}{offers}");
        assert_eq!(total(&line, &with).round_dp(9), Decimal::from(24), "{line}");
    }
    let dear =
        told(&format!("{alone} --offer \"5 lb 0-46-0 34.50\" --offer \"5 lb 0-0-60 30.00\""));
    assert!(dear.contains("comes free"), "{dear}");
    assert!(told(alone).contains("counts as worth nothing"), "{}", told(alone));
}

#[test]
fn a_surplus_that_cannot_be_avoided_is_said_so() {
    let needs = "dose --need \"n 3 lb\" --need \"p2o5 5 lb\" --from 10-10-10 --from";
    assert!(told(&format!("{needs} 5-5-5")).contains("in the same proportion"));
    assert!(!told(&format!("{needs} 5-10-5")).contains("in the same proportion"));
    assert!(!told(&format!("{needs} 0-46-0")).contains("in the same proportion"));
}

#[test]
fn cautions_of_an_amendment_hold_for_what_was_asked() {
    let over = " --over \"100 ft2\"";
    let inch = told(&format!("amend \"mixed compost\" --depth \"1 in\"{over}"));
    assert!(!inch.contains("More than an inch"), "{inch}");
    let more = told(&format!("amend \"mixed compost\" --depth \"1.1 in\"{over}"));
    assert!(more.contains("More than an inch"), "{more}");
    let manure = "amend \"dairy manure\" --amount \"50 lb\"";
    assert!(!told(manure).contains("per hectare"), "{}", told(manure));
    assert!(told(&format!("{manure}{over}")).contains("per hectare"));
    let yard = "amend \"yard compost\" --amount \"100 lb\" --release";
    assert!(!told(&format!("{yard} \"10 %\"")).to_lowercase().contains("tie"), "credited");
}
