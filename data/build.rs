//! Turns the lists into what the program holds: the same entries as JSON, which is read in a third of
//! the time that TOML takes, and for the lists that are looked up by name their names beside them. The
//! TOML files stay the only place where anything is written.

use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::{env, fs};

use toml::{Table, Value};

/// Lists that are looked up by name: the file, its table, and the field that names an entry.
const NAMED: [(&str, &str, &str); 4] = [
    ("crops", "crop", "name"),
    ("materials", "material", "name"),
    ("cautions", "caution", "key"),
    ("sources", "source", "id"),
];
/// Lists that are read whole.
const WHOLE: [&str; 3] = ["soil-tests", "comparison", "signs"];

fn main() {
    let data = PathBuf::from(env::var("CARGO_MANIFEST_DIR").expect("set by cargo")).join("data");
    let out = PathBuf::from(env::var("OUT_DIR").expect("set by cargo"));
    println!("cargo::rerun-if-changed=data");
    for (file, table, key) in NAMED {
        let mut list = read(&data, file);
        let Some(Value::Array(entries)) = list.remove(table) else {
            panic!("{file}.toml holds no [[{table}]]");
        };
        assert!(list.is_empty(), "{file}.toml holds more than [[{table}]]");
        write(&out, &format!("{file}.rs"), &pieces(&entries, key));
    }
    for file in WHOLE {
        write(&out, &format!("{file}.json"), &json(&read(&data, file).into()));
    }
}

fn read(data: &Path, file: &str) -> Table {
    let path = data.join(format!("{file}.toml"));
    let text = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path:?}: {error}"));
    text.parse().unwrap_or_else(|error| panic!("{path:?}: {error}"))
}

fn write(out: &Path, file: &str, text: &str) {
    fs::write(out.join(file), text).expect("the folder for what is built can be written to");
}

/// The entries as one Rust expression, a slice of `Piece`.
fn pieces(entries: &[Value], key: &str) -> String {
    let mut code = String::from("&[\n");
    for entry in entries {
        let name = entry[key].as_str().expect("a name is text");
        let aliases = entry.get("aliases").and_then(Value::as_array).into_iter().flatten();
        let aliases: Vec<&str> = aliases.filter_map(Value::as_str).collect();
        let text = json(entry);
        writeln!(code, "Piece {{ name: {name:?}, aliases: &{aliases:?}, text: {text:?} }},")
            .expect("text takes all that is written");
    }
    code + "]\n"
}

fn json(value: &Value) -> String {
    serde_json::to_string(value).expect("every TOML value has its JSON")
}
