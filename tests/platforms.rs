//! What differs between machines: line ends, pipes that close, names of files, links, permissions.

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

const SEASON: &str = include_str!("../examples/first-garden/season.toml");

fn topdress(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_topdress"));
    command.args(arguments).current_dir(folder).stdin(Stdio::null()).env("NO_COLOR", "1");
    command
}

fn run(folder: &Path, arguments: &[&str]) -> Output {
    topdress(folder, arguments).output().expect("it runs")
}

fn said(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

fn done(folder: &Path, arguments: &[&str]) -> String {
    let output = run(folder, arguments);
    assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", said(&output.stderr));
    said(&output.stdout)
}

/// A folder with a season file in it.
fn garden(season: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("season.toml"), season).expect("written");
    folder
}

/// The line ends of a file say nothing.
#[test]
fn carriage_returns_change_no_answer() {
    let (plain, windows) = (garden(SEASON), garden(&SEASON.replace('\n', "\r\n")));
    for arguments in [
        &["plan", "--on", "2027-04-01"][..],
        &["plan", "--on", "2027-04-01", "--format", "html"],
        &["explain"],
        &["carry"],
    ] {
        assert_eq!(done(plain.path(), arguments), done(windows.path(), arguments));
    }
    let (plain, windows) =
        (garden("[garden]\nyaer = 2027\n"), garden("[garden]\r\nyaer = 2027\r\n"));
    let told = run(windows.path(), &["plan"]);
    assert_eq!(told.status.code(), Some(2));
    assert_eq!(said(&told.stderr), said(&run(plain.path(), &["plan"]).stderr));
    assert!(!told.stderr.contains(&b'\r'));
}

/// `topdress plan | head -1`: whoever reads has gone, and that is no fault.
#[test]
fn a_closed_pipe_ends_quietly() {
    let folder = garden(SEASON);
    for arguments in [
        &["plan", "--on", "2027-04-01"][..],
        &["plan", "--on", "2027-04-01", "--color", "always"],
        &["work", "--on", "2027-04-01", "--format", "ics"],
        &["buy", "--on", "2027-04-01", "--format", "json"],
        &["carry"],
        &["explain"],
        &["catalogue", "crops"],
        &["catalogue", "schema"],
        &["lesson"],
        &["sum", "label", "16-4-8", "--weight", "100 lb"],
        &["generate", "man"],
        &["generate", "bash"],
        &["--help"],
        &["plan", "--help"],
    ] {
        let (reader, writer) = std::io::pipe().expect("a pipe");
        drop(reader);
        let child = topdress(folder.path(), arguments)
            .stdout(writer)
            .stderr(Stdio::piped())
            .spawn()
            .expect("it runs");
        let output = child.wait_with_output().expect("it ends");
        assert_eq!(said(&output.stderr), "", "{arguments:?}");
        assert_eq!(output.status.code(), Some(0), "{arguments:?}");
    }
}

/// An answer never takes the place of what a grower cannot get back.
#[test]
fn the_season_and_the_record_are_not_written_over() {
    let folder = garden(SEASON);
    for (arguments, word) in [
        (&["work", "--format", "csv", "--output", "applications.csv"][..], "record"),
        (&["plan", "--format", "json", "-o", "APPLICATIONS.CSV"], "record"),
        (&["plan", "-o", "season.toml"], "season file"),
        (&["catalogue", "crops", "--format", "csv", "-o", "season.toml"], "season file"),
        (&["carry", "-o", "applications.csv"], "record"),
    ] {
        let output = run(folder.path(), arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(said(&output.stderr).contains(word), "{}", said(&output.stderr));
    }
    assert_eq!(fs::read_to_string(folder.path().join("season.toml")).expect("kept"), SEASON);
    assert!(!folder.path().join("applications.csv").exists());
    done(folder.path(), &["carry", "-o", "season-2028.toml"]);
    done(folder.path(), &["carry", "-o", "season-2028.toml"]);
}

/// Names that are no text at all are names all the same.
#[cfg(target_os = "linux")]
#[test]
fn folders_may_have_any_name() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;
    let folder = tempfile::tempdir().expect("a folder");
    let odd = folder.path().join(OsStr::from_bytes(b"b\xe9d & ' \xff"));
    fs::create_dir(&odd).expect("a folder of that name");
    let season = odd.join("season.toml");
    fs::write(&season, SEASON).expect("written");
    for arguments in [
        &["plan", "--on", "2027-04-01"][..],
        &["record", "front", "feather meal", "2 oz", "--on", "2027-06-12"],
        &["record", "--list"],
        &["carry"],
    ] {
        let output = Command::new(env!("CARGO_BIN_EXE_topdress"))
            .args(arguments)
            .arg("--season")
            .arg(&season)
            .stdin(Stdio::null())
            .output()
            .expect("it runs");
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", said(&output.stderr));
    }
    assert!(odd.join("applications.csv").exists());
    let answer = odd.join(OsStr::from_bytes(b"pl\xe4n.md"));
    let mut command = topdress(&odd, &["plan", "--on", "2027-04-01", "-o"]);
    assert!(command.arg(&answer).status().expect("it runs").success());
    assert!(answer.exists());
}

/// A link stays a link, and a new file may be read by whom the folder's others may.
#[cfg(unix)]
#[test]
fn links_and_permissions_are_kept() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = garden(SEASON);
    let path = |name: &str| folder.path().join(name);
    fs::create_dir(path("shared")).expect("a folder");
    fs::write(path("shared/plan.md"), "old").expect("written");
    fs::set_permissions(path("shared/plan.md"), fs::Permissions::from_mode(0o640)).expect("set");
    symlink("shared/plan.md", path("plan.md")).expect("a link");
    done(folder.path(), &["plan", "--on", "2027-04-01", "--output", "plan.md"]);
    assert!(fs::symlink_metadata(path("plan.md")).expect("there").is_symlink());
    let target = fs::metadata(path("shared/plan.md")).expect("there");
    assert_eq!(target.permissions().mode() & 0o777, 0o640);
    assert!(target.len() > 100);
    fs::write(path("ordinary"), "any program's").expect("written");
    done(folder.path(), &["plan", "--on", "2027-04-01", "--output", "new.md"]);
    let mode = |name: &str| fs::metadata(path(name)).expect("there").permissions().mode();
    assert_eq!(mode("new.md"), mode("ordinary"));
}
