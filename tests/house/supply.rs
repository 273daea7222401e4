//! What the project is built from: licences that may be passed on, one version of each crate, no
//! unsafe code of its own.

use std::collections::BTreeMap;
use std::fs;
use std::process::Command;

use serde_json::Value;

use super::{root, rust, short};

/// Licences that the project's own may stand beside. One of those that a crate offers is enough.
const ALLOWED: [&str; 8] = [
    "MIT",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSL-1.0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Crates that stand in `Cargo.lock` in several versions, how many, and why that is borne. Any other
/// is refused, and so is one that no longer needs to be here.
const SEVERAL: [(&str, usize, &str); 6] = [
    ("getrandom", 3, "as rand; the newest serves tempfile"),
    ("r-efi", 2, "as getrandom, on firmware"),
    ("rand", 3, "rust_decimal may be built with older ones and here is built with none"),
    ("rand_chacha", 2, "as rand"),
    ("rand_core", 3, "as rand"),
    ("syn", 2, "macros of maud and macros of clap and serde are written with different ones"),
];

/// What cargo knows of every crate, of other platforms too where they have been fetched.
fn packages() -> Vec<Value> {
    let metadata = |more: &[&str]| {
        let output = Command::new(env!("CARGO"))
            .args(["metadata", "--offline", "--locked", "--format-version", "1"])
            .args(more)
            .current_dir(root())
            .output()
            .expect("cargo runs");
        output.status.success().then_some(output.stdout)
    };
    let host = || {
        let told = Command::new("rustc").arg("-vV").output().expect("rustc runs").stdout;
        let told = String::from_utf8_lossy(&told).into_owned();
        let line = told.lines().find_map(|line| line.strip_prefix("host: "));
        line.expect("a host").to_owned()
    };
    let text = metadata(&[]).or_else(|| metadata(&["--filter-platform", &host()]));
    let whole: Value = serde_json::from_slice(&text.expect("metadata")).expect("JSON");
    whole["packages"].as_array().expect("packages").clone()
}

/// Whether an expression such as `(MIT OR Apache-2.0) AND Unicode-3.0` can be met.
fn may_be_passed_on(expression: &str) -> bool {
    let expression = expression.replace('/', " OR ");
    let any = |part: &str| {
        let part = part.trim().trim_start_matches('(').trim_end_matches(')');
        part.split(" OR ").any(|one| ALLOWED.contains(&one.trim()))
    };
    expression.split(" AND ").all(any)
}

#[test]
fn expressions_of_licences_are_read() {
    for good in ["MIT", "MIT/Apache-2.0", "GPL-3.0 OR MIT", "(MIT OR Apache-2.0) AND Unicode-3.0"] {
        assert!(may_be_passed_on(good), "{good}");
    }
    for bad in ["GPL-3.0", "MIT AND GPL-3.0", "", "(GPL-3.0 OR MPL-2.0) AND MIT", "MITx"] {
        assert!(!may_be_passed_on(bad), "{bad}");
    }
}

#[test]
fn every_licence_may_be_passed_on() {
    let packages = packages();
    assert!(packages.len() > 50, "only {} packages", packages.len());
    for package in packages {
        let (name, licence) = (&package["name"], package["license"].as_str().unwrap_or_default());
        assert!(may_be_passed_on(licence), "{name} is under `{licence}`");
    }
}

#[test]
fn one_version_of_each_crate_is_enough() {
    let lock: toml::Table =
        fs::read_to_string(root().join("Cargo.lock")).expect("Cargo.lock").parse().expect("TOML");
    let mut versions: BTreeMap<&str, usize> = BTreeMap::new();
    for package in lock["package"].as_array().expect("packages") {
        let name = package["name"].as_str().expect("a name");
        *versions.entry(name).or_default() += 1;
        let own = name == "topdress";
        let source = package.get("source").and_then(|source| source.as_str());
        let registry = source.is_some_and(|source| source.starts_with("registry+"));
        let summed = package.get("checksum").is_some();
        assert!(own || (registry && summed), "{name} does not come from the registry");
    }
    let several: BTreeMap<&str, usize> =
        versions.into_iter().filter(|(_, count)| *count > 1).collect();
    let borne: BTreeMap<&str, usize> =
        SEVERAL.iter().map(|(name, count, _)| (*name, *count)).collect();
    assert_eq!(several, borne, "`cargo tree --duplicates` tells whence");
}

#[test]
fn nothing_here_is_unsafe() {
    let cargo: toml::Table =
        fs::read_to_string(root().join("Cargo.toml")).expect("Cargo.toml").parse().expect("TOML");
    assert_eq!(cargo["lints"]["rust"]["unsafe_code"].as_str(), Some("forbid"));
    // The lint is the compiler's; this also finds what a condition keeps from being compiled here.
    let word = format!("un{}", "safe");
    for path in rust("src").into_iter().chain(rust("tests")) {
        let text = fs::read_to_string(&path).expect("a source");
        let code = text.lines().filter(|line| !line.trim_start().starts_with("//"));
        for line in code {
            let found = [" {", " fn", " impl", "(no_mangle)"]
                .iter()
                .any(|after| line.contains(&format!("{word}{after}")));
            assert!(!found, "{}: {line}", short(&path));
        }
    }
}
