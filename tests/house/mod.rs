//! The house rules that a compiler does not keep: which layer may use which, what lies at the top,
//! how long a file may be, which words and reaches are refused.

mod layers;
mod supply;
mod tidy;

use std::fs;
use std::path::{Path, PathBuf};

/// The project's folder.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every file under a folder of the project, in order of path.
pub fn files(folder: &str) -> Vec<PathBuf> {
    let mut waiting = vec![root().join(folder)];
    let mut found = Vec::new();
    while let Some(folder) = waiting.pop() {
        for entry in fs::read_dir(&folder).expect("a folder of the project") {
            let path = entry.expect("an entry of the folder").path();
            if path.is_dir() { waiting.push(path) } else { found.push(path) }
        }
    }
    found.sort();
    found
}

/// Every Rust file under a folder.
pub fn rust(folder: &str) -> Vec<PathBuf> {
    let found: Vec<PathBuf> = files(folder).into_iter().filter(|path| ends(path, "rs")).collect();
    assert!(found.len() > 5, "only {} Rust files under {folder}", found.len());
    found
}

/// Whether a path ends in this extension.
pub fn ends(path: &Path, extension: &str) -> bool {
    path.extension().is_some_and(|end| end == extension)
}

/// A path as people write it, from the project's folder on.
pub fn short(path: &Path) -> String {
    let inside = path.strip_prefix(root()).unwrap_or(path);
    inside.to_string_lossy().replace('\\', "/")
}
