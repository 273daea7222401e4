//! What lies at the top, how long files are, and what is refused in them.

use std::fs;
use std::path::Path;

use super::{ends, files, root, rust, short};

/// Most lines of a source file: one idea each.
const LONGEST: usize = 400;

/// All that lies at the top, hidden files apart (`target` is what building leaves behind).
const TOP: [&str; 10] = [
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "data",
    "examples",
    "src",
    "target",
    "tests",
];

fn text(path: &Path) -> String {
    let bytes = fs::read(path).unwrap_or_else(|fault| panic!("{}: {fault}", path.display()));
    String::from_utf8_lossy(&bytes).into_owned()
}

#[test]
fn nothing_else_lies_at_the_top() {
    let mut found: Vec<String> = fs::read_dir(root())
        .expect("the project's folder")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .filter(|name| !name.starts_with('.') && name != "target")
        .collect();
    found.sort();
    let wanted: Vec<&str> = TOP.into_iter().filter(|name| *name != "target").collect();
    assert_eq!(found, wanted);
}

#[test]
fn source_files_stay_short() {
    let long: Vec<String> = ["src", "tests"]
        .into_iter()
        .flat_map(rust)
        .map(|path| (short(&path), text(&path).lines().count()))
        .filter(|(_, lines)| *lines > LONGEST)
        .map(|(path, lines)| format!("{path} has {lines} lines, more than {LONGEST}"))
        .collect();
    assert!(long.is_empty(), "{}", long.join("\n"));
}

#[test]
fn the_guide_for_developers_stays_short() {
    assert!(text(&root().join("DEVELOPERS.md")).lines().count() <= 200);
}

/// Words of unfinished work, put together here so that this file passes its own test.
fn unfinished() -> Vec<String> {
    let parts = [
        ("to", "do!("),
        ("unimple", "mented!("),
        ("db", "g!("),
        ("FIX", "ME"),
        ("XX", "X"),
        ("#[ig", "nore"),
        ("#[al", "low("),
    ];
    parts.iter().map(|(one, other)| format!("{one}{other}")).collect()
}

#[test]
fn nothing_is_left_unfinished_or_silenced() {
    let words = unfinished();
    let mut wrong = Vec::new();
    for path in rust("src").into_iter().chain(rust("tests")) {
        for (number, line) in text(&path).lines().enumerate() {
            for word in words.iter().filter(|word| line.contains(word.as_str())) {
                wrong.push(format!("{}:{}: `{word}`", short(&path), number + 1));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Hosts of package registries: the tools know where they are, and nobody else needs to.
fn registries() -> Vec<String> {
    let parts = [("crates", "io"), ("pypi", "org"), ("npmjs", "org"), ("npmjs", "com")];
    let mut all: Vec<String> = parts.iter().map(|(one, end)| format!("{one}.{end}")).collect();
    for host in ["deb", "pythonhosted", "golang"] {
        let end = if host == "deb" { "debian.org" } else { "org" };
        all.push(format!("{host}.{end}"));
    }
    all
}

#[test]
fn no_registry_is_named() {
    let hosts = registries();
    let mut all = vec![root().join("Cargo.toml"), root().join("README.md")];
    all.push(root().join("DEVELOPERS.md"));
    all.push(root().join(".ci/run"));
    for folder in ["src", "tests", "data", "examples"] {
        all.extend(files(folder));
    }
    // What is locked is written by the tool.
    all.retain(|path| path.file_name().is_some_and(|name| name != "Cargo.lock"));
    for path in all {
        let text = text(&path);
        for host in &hosts {
            assert!(!text.contains(host.as_str()), "{} names {host}", short(&path));
        }
    }
}

/// Only the command line reads files, the clock and the environment or prints; the rest is handed
/// what it needs, and gives the same answer whenever and wherever it runs.
#[test]
fn only_the_command_line_reaches_outside() {
    let reaches = [
        "std::fs",
        "std::env",
        "std::process",
        "std::net",
        "std::io::stdin",
        "std::io::stdout",
        "SystemTime",
        "Instant::now",
        "::now()",
        "HashMap",
        "HashSet",
        "thread_rng",
    ];
    let mut wrong = Vec::new();
    for path in rust("src") {
        let name = short(&path);
        if name.starts_with("src/cli/") || name == "src/main.rs" {
            continue;
        }
        let whole = text(&path);
        for reach in reaches.iter().filter(|reach| whole.contains(**reach)) {
            wrong.push(format!("{name}: {reach}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// An exact amount becomes a bare float in one place, and a share comes back in one place.
#[test]
fn decimals_and_floats_meet_in_one_module() {
    let crossings = ["to_f64(", "from_f64", "to_f32(", "from_f32"];
    let mut wrong = Vec::new();
    for path in rust("src") {
        let name = short(&path);
        let whole = text(&path);
        let crosses = crossings.iter().any(|crossing| whole.contains(crossing));
        if crosses && !name.starts_with("src/quantity/") {
            wrong.push(name);
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_test_file_is_part_of_the_one_binary() {
    let listed = text(&root().join("tests/all.rs"));
    for entry in fs::read_dir(root().join("tests")).expect("the folder of tests") {
        let path = entry.expect("an entry").path();
        let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let module = ends(&path, "rs") || path.join("mod.rs").exists();
        if module && stem != "all" {
            assert!(listed.contains(&format!("mod {stem};")), "tests/all.rs leaves out {stem}");
        }
    }
}

/// Names of the dependencies in one table of `Cargo.toml`.
fn dependencies(table: &str) -> Vec<String> {
    let cargo: toml::Table = text(&root().join("Cargo.toml")).parse().expect("Cargo.toml");
    let names = cargo[table].as_table().expect("a table of dependencies");
    names.keys().cloned().collect()
}

#[test]
fn every_dependency_is_used_and_its_reason_written_down() {
    let guide = text(&root().join("DEVELOPERS.md"));
    let part = guide.split("## Dependencies").nth(1).expect("the table of dependencies");
    let part = part.split("\n## ").next().unwrap_or_default();
    let rows: Vec<&str> = part
        .lines()
        .filter_map(|line| line.strip_prefix("| `"))
        .map(|line| line.split('|').next().unwrap_or_default())
        .collect();
    let mut listed: Vec<String> = rows
        .iter()
        .flat_map(|row| row.split(['`', ',', ' ']))
        .filter(|word| word.starts_with(|c: char| c.is_ascii_lowercase()))
        .map(str::to_owned)
        .collect();
    listed.sort();
    let mut wanted = dependencies("dependencies");
    wanted.extend(dependencies("dev-dependencies"));
    wanted.sort();
    wanted.dedup();
    assert_eq!(listed, wanted);
    let sources: Vec<String> =
        rust("src").iter().chain(&rust("tests")).map(|path| text(path)).collect();
    for name in wanted {
        let name = name.replace('-', "_");
        let used = |source: &String| {
            source.contains(&format!("{name}::")) || source.contains(&format!("use {name}"))
        };
        assert!(sources.iter().any(used), "{name} is not used");
    }
}
