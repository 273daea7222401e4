//! Bad input: each `NAME.toml` under `tests/cases/faults` must give exactly the text beside it in
//! `NAME.expected`. `BLESS=1 cargo test faults` writes that text anew; read what changed before
//! keeping it.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::Arc;

use topdress::catalogue::Catalogue;
use topdress::{fault, season};

const CASES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cases/faults");

/// What a grower is told of a season file, or nothing where all is well.
fn told(source: &str) -> Option<String> {
    let faults = season::read(source, Arc::new(Catalogue::new())).err()?;
    Some(fault::render(&faults, source, "season.toml", false))
}

#[test]
fn every_bad_season_is_told_as_expected() {
    let bless = std::env::var_os("BLESS").is_some();
    let mut files: Vec<_> = std::fs::read_dir(CASES)
        .expect("the folder of cases")
        .map(|entry| entry.expect("an entry of the folder").path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .collect();
    files.sort();
    assert!(files.len() >= 80, "only {} cases", files.len());
    let mut wrong = Vec::new();
    for file in files {
        let source = std::fs::read_to_string(&file).expect("a case is text");
        let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let Some(text) = told(&source) else {
            wrong.push(format!("{name}: no fault was found"));
            continue;
        };
        let expected = file.with_extension("expected");
        if bless {
            std::fs::write(&expected, &text).expect("writing the expected text");
        } else if read(&expected) != text {
            wrong.push(format!("{name}: expected\n{}\nbut it says\n{text}", read(&expected)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

fn read(file: &Path) -> String {
    std::fs::read_to_string(file).unwrap_or_default()
}

#[test]
fn an_expected_text_belongs_to_a_case() {
    for entry in std::fs::read_dir(CASES).expect("the folder of cases") {
        let path = entry.expect("an entry of the folder").path();
        assert!(path.with_extension("toml").exists(), "{} has no case", path.display());
    }
}

#[test]
fn every_fault_says_where_it_stands_and_how_to_mend_it() {
    for entry in std::fs::read_dir(CASES).expect("the folder of cases") {
        let path = entry.expect("an entry of the folder").path();
        if path.extension().is_some_and(|end| end == "expected") {
            let text = read(&path);
            for one in text.split("error: ").skip(1) {
                assert!(one.contains("--> season.toml:"), "{}: {one}", path.display());
                assert!(one.contains("= help: "), "{}: {one}", path.display());
            }
            let long = text.lines().find(|line| line.contains(" | ") && line.chars().count() > 112);
            assert_eq!(long, None, "{}", path.display());
        }
    }
}

/// A season with one bed whose line of history is ten million characters long.
#[test]
fn a_line_of_ten_megabytes_is_told_at_once() {
    let compost =
        "{ kind = \"compost\", material = \"yard compost\", year = 2026 }, ".repeat(170_000);
    let source = format!(
        "[garden]\nyear = 2027\n\n[[bed]]\nname = \"north 1\"\narea = \"96 ft2\"\nhistory = [{compost}{{ kind = \"dung\" }}]\n"
    );
    assert!(source.len() > 10_000_000);
    let begun = std::time::Instant::now();
    let text = told(&source).expect("a fault");
    assert!(text.contains("`kind` does not know the word `dung`"), "{text}");
    assert!(text.len() < 2_000, "{} bytes", text.len());
    // Seconds in a build without optimisation on a busy machine; a blink in the real one.
    assert!(begun.elapsed().as_secs() < 60, "{:?}", begun.elapsed());

    let unread = format!("name = {}", "x".repeat(10_000_000));
    let text = told(&unread).expect("a fault");
    assert!(text.len() < 2_000, "{} bytes", text.len());
}

const GOOD: &str = r#"# A season.
[garden]
year = 2027
coldest = { month = 1, mean = "24 F" }
warmest = { month = 7, mean = "68 F" }
[feeding]
before_planting = ["potassium sulfate"]
side_dress = [
  "feather meal", # two
  "urea",
]
[[shed]]
material = "feather meal"
packs = [{ weight = "50 lb", price = "62.00" }, { weight = "5 lb", price = 13.50 }]
[[bed]]
name = 'north 1'
length = "24 ft"
width = "4 ft"
soil = { test = "mehlich-3", p = "41 ppm", organic_matter = "4.2 %", ph = 6.6 }
[[bed.amend]]
material = "yard compost"
depth = "0.5 in"
on = 2027-04-28
[[bed.planting]]
crop = "broccoli"
share = "60 %"
planted = 2027-05-10
harvest = 2027-07-15
"#;

const WHOLE: &str = include_str!("cases/season/whole.toml");
const OWN: &str = include_str!("cases/season/own.toml");

fn no_panic_and_places_inside(source: &str) {
    if let Err(faults) = season::read(source, Arc::new(Catalogue::new())) {
        assert!(!faults.is_empty(), "no season and no fault either:\n{source}");
        for fault in &faults {
            assert!(fault.place.start as usize <= source.len() + 1, "{fault:?}");
            assert!(!fault.title.is_empty() && !fault.help.is_empty(), "{fault:?}");
        }
        let text = fault::render(&faults, source, "season.toml", false);
        assert!(text.contains("= help: "), "{text}");
    }
}

#[test]
fn a_season_spoilt_anywhere_is_told_without_a_panic() {
    for at in (0..GOOD.len()).step_by(3) {
        let (head, tail) = GOOD.split_at(at);
        let rest = tail.get(1..).unwrap_or_default();
        no_panic_and_places_inside(head);
        no_panic_and_places_inside(&format!("{head}{rest}"));
        for put in ["\"", "[", "]", "{", "\n", ",", "=", "é", "\u{0}", ".", "#"] {
            no_panic_and_places_inside(&format!("{head}{put}{rest}"));
        }
    }
}

proptest::proptest! {
    #[test]
    fn lines_in_any_order_are_told_without_a_panic(
        picks in proptest::collection::vec(0usize..400, 0..60),
        cut in 0usize..40,
    ) {
        let lines: Vec<&str> = WHOLE.lines().chain(OWN.lines()).collect();
        let mut source = String::new();
        for pick in picks {
            source.push_str(lines[pick % lines.len()]);
            source.push('\n');
        }
        let end = source.len().saturating_sub(cut);
        no_panic_and_places_inside(&source[..source.floor_char_boundary(end)]);
    }
}

/// Runs the program on a season file and returns its exit code, its answer and what it says.
fn run(arguments: &[&str], stdin: &[u8]) -> (i32, Vec<u8>, String) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_topdress"))
        .args(arguments)
        .env("NO_COLOR", "1")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    // A program that has seen enough may close its input early.
    let _ = child.stdin.take().expect("a pipe").write_all(stdin);
    let done = child.wait_with_output().expect("the program ends");
    let said = String::from_utf8(done.stderr).expect("faults are text");
    (done.status.code().expect("an exit code"), done.stdout, said)
}

#[test]
fn the_program_tells_faults_and_writes_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let answer = folder.path().join("plan.html");
    for command in ["plan", "work"] {
        for name in
            ["three-syntax-faults", "all-faults-together", "empty", "emoji-before-the-caret"]
        {
            let source = read(&Path::new(CASES).join(format!("{name}.toml")));
            let output = answer.to_str().expect("a path");
            let arguments = [command, "--season", "-", "--output", output];
            let (code, stdout, said) = run(&arguments, source.as_bytes());
            assert_eq!(code, 2, "{command} {name}: {said}");
            assert!(stdout.is_empty(), "{command} {name}");
            let expected = read(&Path::new(CASES).join(format!("{name}.expected")));
            assert_eq!(said.replace("standard input", "season.toml"), expected, "{command} {name}");
            assert!(!answer.exists(), "{command} {name}");
        }
    }
}

#[test]
fn files_that_are_no_text_are_told_by_their_line() {
    for (bytes, place) in [
        (&b"[garden]\nyear = 2027\nname = \"cr\xe8me\"\n"[..], ":3:11"),
        (&b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"[..], ":1:1"),
        (&b"\x7fELF\x02\x01\x01\0\0\0"[..], ":1:8"),
        (&b"\xff\xfe[\0g\0"[..], ":1:1"),
    ] {
        let (code, stdout, said) = run(&["plan", "--season", "-"], bytes);
        assert_eq!((code, stdout.len()), (2, 0), "{said}");
        assert!(said.contains(place) && said.contains("UTF-8"), "{said}");
    }
}

#[test]
fn files_that_cannot_be_read_end_with_another_code() {
    let folder = tempfile::tempdir().expect("a folder");
    let missing = folder.path().join("none.toml");
    for path in [folder.path(), missing.as_path()] {
        let (code, stdout, said) = run(&["plan", "--season", path.to_str().expect("a path")], b"");
        assert_eq!((code, stdout.len()), (1, 0), "{said}");
        assert!(said.starts_with("error: could not read `"), "{said}");
    }
}
