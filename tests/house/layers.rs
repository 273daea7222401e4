//! No layer uses one below it: every path in the source that starts at the crate is read.

use std::fs;

use super::{rust, short};

/// The layers from the top down, each with its modules; those within one layer may use each other.
/// A season knows the catalogue and a record the season, never the other way round.
const LAYERS: [&[&str]; 8] = [
    &["quantity", "nutrient", "calendar"],
    &["figure", "fault", "hands"],
    &["catalogue"],
    &["season"],
    &["record"],
    &["engine"],
    &["report", "teach"],
    &["cli"],
];

fn layer(module: &str) -> Option<usize> {
    LAYERS.iter().position(|modules| modules.contains(&module))
}

/// The module of the crate's root that a file belongs to, and how deep the file's own module lies.
fn place(path: &str) -> (String, usize) {
    let inside = path.strip_prefix("src/").unwrap_or(path);
    let inside = inside.strip_suffix(".rs").unwrap_or(inside);
    let parts: Vec<&str> = inside.split('/').filter(|part| *part != "mod").collect();
    ((*parts.first().unwrap_or(&"")).to_owned(), parts.len())
}

/// A source without its remarks, so that prose may name any layer.
fn code(source: &str) -> String {
    let bare = |line: &str| {
        let comment = line.find("//").filter(|at| !line[..*at].contains('"'));
        line[..comment.unwrap_or(line.len())].to_owned() + "\n"
    };
    source.lines().map(bare).collect()
}

/// The modules of the root that a source names: `crate::one`, `crate::{one, two::three}`, and
/// `super::super::one` where the `super`s climb to the root.
fn named(source: &str, depth: usize) -> Vec<String> {
    let text: String = code(source).split_whitespace().collect::<Vec<_>>().join(" ");
    let mut all = Vec::new();
    for (at, _) in text.match_indices("crate::") {
        all.extend(heads(&text[at + "crate::".len()..]));
    }
    let mut rest = text.as_str();
    while let Some(at) = rest.find("super::") {
        let after = rest[at..].trim_start_matches("super::");
        let climbed = (rest.len() - at - after.len()) / "super::".len();
        if climbed >= depth {
            all.extend(heads(after));
        }
        rest = after;
    }
    all
}

/// The first words of a path, or of each path in a pair of braces.
fn heads(path: &str) -> Vec<String> {
    let word = |text: &str| -> String {
        text.trim_start().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
    };
    let Some(list) = path.strip_prefix('{') else { return vec![word(path)] };
    let mut open = 1;
    let mut all = vec![word(list)];
    for (at, c) in list.char_indices() {
        match c {
            '{' => open += 1,
            '}' => open -= 1,
            ',' if open == 1 => all.push(word(&list[at + 1..])),
            _ => {}
        }
        if open == 0 {
            break;
        }
    }
    all
}

/// What a file uses that lies below its own layer.
fn downward(path: &str, source: &str) -> Vec<String> {
    let (module, depth) = place(path);
    let Some(own) = layer(&module) else { return Vec::new() };
    let below = |used: &String| layer(used).is_some_and(|layer| layer > own);
    let mut all: Vec<String> = named(source, depth).into_iter().filter(below).collect();
    all.dedup();
    all.into_iter().map(|used| format!("{path}: `{module}` uses `{used}`, a layer below")).collect()
}

#[test]
fn no_layer_uses_one_below_it() {
    let wrong: Vec<String> = rust("src")
        .iter()
        .flat_map(|path| downward(&short(path), &fs::read_to_string(path).expect("source is text")))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_module_of_the_root_has_a_layer() {
    let root = fs::read_to_string(super::root().join("src/lib.rs")).expect("the crate's root");
    let modules: Vec<&str> = code_lines(&root).filter_map(module_of).collect();
    assert!(modules.len() >= 10, "{modules:?}");
    for module in modules {
        assert!(layer(module).is_some(), "`{module}` has no layer in tests/house/layers.rs");
    }
}

fn code_lines(source: &str) -> impl Iterator<Item = &str> {
    source.lines().map(str::trim).filter(|line| !line.starts_with("//"))
}

fn module_of(line: &str) -> Option<&str> {
    line.trim_start_matches("pub ").strip_prefix("mod ")?.strip_suffix(';')
}

#[test]
fn an_import_from_below_is_found_however_it_is_written() {
    let refused = [
        ("src/engine/need.rs", "use crate::report::number;"),
        (
            "src/engine/need.rs",
            "use crate::{\n    calendar::{Date, Weekday},\n    cli::Format,\n};",
        ),
        ("src/quantity/unit.rs", "fn f() -> crate::figure::Figure<Area> {}"),
        ("src/catalogue/crop.rs", "use super::super::season::Season;"),
        ("src/engine/dose/mod.rs", "use super::super::report;"),
        ("src/season/mod.rs", "use crate::{catalogue, record};"),
        ("src/figure.rs", "use super::engine;"),
    ];
    for (path, source) in refused {
        assert_eq!(downward(path, source).len(), 1, "{path}: {source}");
    }
    let allowed = [
        ("src/cli/plan.rs", "use crate::{engine, report, season};"),
        ("src/engine/dose/mod.rs", "use super::super::season;\nuse super::report::thing;"),
        ("src/engine/need.rs", "// As `crate::report` shows it.\nuse crate::season::Bed;"),
        ("src/fault/mod.rs", "use crate::figure::Place;"),
    ];
    for (path, source) in allowed {
        assert_eq!(downward(path, source), Vec::<String>::new());
    }
}
