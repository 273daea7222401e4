//! Tables that tests print and that are kept under `tests/cases/`, to be read through by people.
//! `BLESS=1 cargo test` writes them anew; read what changed before it is committed.

use std::path::Path;

/// Compares a table with the one that is kept, or writes it where it is blessed.
pub fn keep(path: &str, text: &str) {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases").join(path);
    if std::env::var_os("BLESS").is_some() {
        std::fs::write(&file, text).expect("writing the table that is kept");
        return;
    }
    let kept = std::fs::read_to_string(&file).unwrap_or_default();
    let changed: Vec<String> = kept
        .lines()
        .zip(text.lines())
        .filter(|(kept, now)| kept != now)
        .map(|(kept, now)| format!("- {kept}\n+ {now}"))
        .collect();
    let whole = kept == text;
    assert!(whole, "{} is not what is kept:\n{}", file.display(), changed.join("\n"));
}
