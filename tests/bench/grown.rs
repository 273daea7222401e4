//! The school garden many times over, as one season file.

use std::fs;
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

const DEMO: &str = include_str!("../../examples/school-garden/season.toml");
/// How many beds the school garden has.
const BEDS: usize = 10;

/// Writes a season of so many beds, the school garden's own over and over, into a folder of its own.
pub fn write(folder: &Path, beds: usize) -> io::Result<PathBuf> {
    let folder = folder.join(beds.to_string());
    fs::create_dir_all(&folder)?;
    let path = folder.join("season.toml");
    let mut file = BufWriter::new(fs::File::create(&path)?);
    let (head, rest) = DEMO.split_at(DEMO.find("[[bed]]").expect("beds"));
    let (own, tail) = rest.split_at(rest.find("[[crop]]").expect("a crop of its own"));
    file.write_all(head.as_bytes())?;
    for round in 0..beds.div_ceil(BEDS) {
        for line in own.lines() {
            match line.strip_prefix("name = \"").and_then(|name| name.strip_suffix('"')) {
                Some(name) => writeln!(file, "name = \"{name} {round}\"")?,
                None => writeln!(file, "{line}")?,
            }
        }
    }
    file.write_all(tail.as_bytes())?;
    file.flush()?;
    Ok(path)
}
