//! The README says what the program does: its season file is read, its commands are run, and what
//! they print is compared with what stands there. `BLESS=1 cargo test readme` writes the printed
//! text anew; read what changed before keeping it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A part of the README: text as it stands, or a fenced block of some language.
#[derive(Debug, PartialEq)]
enum Part {
    Text(String),
    Block { language: String, body: String },
}

fn parts(readme: &str) -> Vec<Part> {
    let mut all = Vec::new();
    let mut text = String::new();
    let mut open: Option<(String, String)> = None;
    for line in readme.lines() {
        match (&mut open, line.strip_prefix("```")) {
            (None, Some(language)) => {
                all.push(Part::Text(std::mem::take(&mut text)));
                open = Some((language.to_owned(), String::new()));
            }
            (None, None) => text += &format!("{line}\n"),
            (Some(_), Some(_)) => {
                let (language, body) = open.take().unwrap_or_default();
                all.push(Part::Block { language, body });
            }
            (Some((_, body)), None) => *body += &format!("{line}\n"),
        }
    }
    assert_eq!(open, None, "a block of the README is not closed");
    all.push(Part::Text(text));
    all
}

fn whole(parts: &[Part]) -> String {
    let one = |part: &Part| match part {
        Part::Text(text) => text.clone(),
        Part::Block { language, body } => format!("```{language}\n{body}```\n"),
    };
    parts.iter().map(one).collect()
}

/// The words of a command line, double quotes holding spaces together.
fn words(line: &str) -> Vec<String> {
    let mut all = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ' ' if !quoted => all.push(String::new()),
            c => all.last_mut().expect("a word").push(c),
        }
    }
    all.retain(|word| !word.is_empty());
    all
}

/// A console block run anew: each command as written, followed by what it prints now.
fn run(body: &str, folder: &Path) -> String {
    let mut now = String::new();
    for line in body.lines().filter(|line| line.starts_with("$ ")) {
        let mut words = words(&line[2..]).into_iter();
        assert_eq!(words.next().as_deref(), Some("topdress"), "{line}");
        let output = Command::new(env!("CARGO_BIN_EXE_topdress"))
            .args(words)
            .current_dir(folder)
            .env_remove("NO_COLOR")
            .env_remove("COLUMNS")
            .output()
            .expect("the program runs");
        let told = String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success(), "{line}\n{told}");
        assert_eq!(told, "", "{line}");
        let printed = String::from_utf8(output.stdout).expect("the answer is text");
        now += &format!("{line}\n{}", printed.trim_end());
        now += "\n\n";
    }
    format!("{}\n", now.trim_end())
}

fn readme() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")
}

#[test]
fn what_the_readme_shows_is_what_is_printed() {
    let before = fs::read_to_string(readme()).expect("the README");
    let mut parts = parts(&before);
    let folder = tempfile::tempdir().expect("a folder of our own");
    let mut shown = 0;
    for part in &mut parts {
        match part {
            Part::Block { language, body } if language == "toml" => {
                fs::write(folder.path().join("season.toml"), body).expect("the season file");
            }
            Part::Block { language, body } if language == "console" => {
                *body = run(body, folder.path());
                shown += 1;
            }
            _ => {}
        }
    }
    assert!(shown >= 2, "only {shown} answers are shown");
    let now = whole(&parts);
    if std::env::var_os("BLESS").is_some() {
        fs::write(readme(), now).expect("writing the README");
        return;
    }
    let changed =
        before.lines().zip(now.lines()).enumerate().find(|(_, (one, other))| one != other);
    assert!(
        before == now,
        "the README shows what is no longer printed, first on line {:?}; `BLESS=1 cargo test \
         readme` writes it anew",
        changed.map(|(number, (one, other))| (number + 1, one, other))
    );
}

/// The first command of the README plans the demo; the files it names are there.
#[test]
fn files_and_folders_the_readme_names_are_there() {
    let text = fs::read_to_string(readme()).expect("the README");
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut named = 0;
    for word in text.split(|c: char| c.is_whitespace() || "`()[],;".contains(c)) {
        let word = word.trim_end_matches(['.', ':']);
        if ["examples/", "data/", "tests/", "src/"].iter().any(|start| word.starts_with(start)) {
            assert!(root.join(word).exists(), "{word} is named and not there");
            named += 1;
        }
    }
    assert!(named >= 3, "only {named} files are named");
}

#[test]
fn a_readme_is_taken_apart_and_put_together_unchanged() {
    let text = "# a\n\n```toml\nx = 1\n```\nb\n\n```console\n$ topdress plan\nout\n```\n";
    assert_eq!(whole(&parts(text)), text);
    assert_eq!(
        words("topdress bed \"north 1\" --on x"),
        ["topdress", "bed", "north 1", "--on", "x"]
    );
}

/// The table of commands is that of `--help`, no more and no fewer.
#[test]
fn the_readme_lists_every_command() {
    let help = Command::new(env!("CARGO_BIN_EXE_topdress")).arg("--help").output().expect("help");
    let help = String::from_utf8(help.stdout).expect("help is text");
    let after = help.split("Commands:\n").nth(1).expect("a list of commands");
    let commands: Vec<&str> = after
        .lines()
        .take_while(|line| !line.is_empty())
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .filter_map(|line| line.split_whitespace().next())
        .filter(|command| *command != "help")
        .collect();
    let text = fs::read_to_string(readme()).expect("the README");
    let mut listed: Vec<&str> = text
        .lines()
        .filter_map(|line| line.strip_prefix("| `"))
        .filter_map(|line| line.split([' ', '`']).next())
        .collect();
    listed.dedup();
    assert_eq!(listed, commands);
}
