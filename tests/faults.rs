//! Bad input: each `NAME.toml` under `tests/cases/faults` must give exactly the text beside it in
//! `NAME.expected`. `BLESS=1 cargo test faults` writes that text anew; read what changed before
//! keeping it.

use std::path::Path;
use std::rc::Rc;

use topdress::catalogue::Catalogue;
use topdress::{fault, season};

const CASES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cases/faults");

/// What a grower is told of a season file, or nothing where all is well.
fn told(source: &str) -> Option<String> {
    let faults = season::read(source, Rc::new(Catalogue::new())).err()?;
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
