//! The record outlives crashes, crowds and full disks: what a writer was told is down stays down.
//!
//! The writers are processes of their own (this test binary again, told by a variable what to do),
//! so that they can be killed at any instant. `.ci/run` raises the counts with
//! `TOPDRESS_DURABILITY=full`.

use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use topdress::calendar::Date;
use topdress::cli::record_file;
use topdress::record::{Application, Log, read_amount};

const ROLE: &str = "TOPDRESS_TEST_WRITER";

fn full(counted: usize, everyday: usize) -> usize {
    let full = std::env::var_os("TOPDRESS_DURABILITY").is_some_and(|word| word == "full");
    if full { counted } else { everyday }
}

fn application(writer: usize, number: usize) -> Application {
    Application {
        on: Date::new(2027, 5, 29).expect("a date"),
        bed: "north 1".to_owned(),
        crop: "broccoli".to_owned(),
        material: "feather meal".to_owned(),
        amount_text: "12 oz".to_owned(),
        amount: read_amount("12 oz").expect("a weight"),
        analysis: None,
        method: "side-dressed, watered in".to_owned(),
        lot: format!("{writer}-{number}"),
        person: String::new(),
        note: "a note as long as notes are; \"quoted\" too".to_owned(),
    }
}

/// Adds lines until it has added `count` or one fails, and says each one that is down.
#[test]
fn a_writer() {
    let Ok(role) = std::env::var(ROLE) else { return };
    let (writer, rest) = role.split_once(' ').expect("writer, count and file");
    let (count, file) = rest.split_once(' ').expect("count and file");
    let (writer, count) = (writer.parse().expect("a number"), count.parse().expect("a number"));
    let file = Path::new(file);
    let mut out = std::io::stdout();
    for number in 0..count {
        match record_file::append(file, &application(writer, number)) {
            Ok(()) => writeln!(out, "\ndown {writer}-{number}").expect("heard"),
            Err(failure) => {
                let log = record_file::read(file).expect("still a record");
                let text = std::fs::read(file).expect("still there");
                let whole = text.ends_with(b"\n");
                writeln!(
                    out,
                    "\nfailed with {} lines, {} damaged, whole {whole}: {failure}",
                    log.lines.len(),
                    log.damaged.len()
                )
                .expect("heard");
                return;
            }
        }
    }
}

fn this_binary() -> std::path::PathBuf {
    std::env::current_exe().expect("this binary")
}

fn as_writer(command: &mut Command, writer: usize, count: usize, file: &Path) -> Child {
    command
        .args(["durability::a_writer", "--exact", "--nocapture"])
        .env(ROLE, format!("{writer} {count} {}", file.display()))
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("a writer")
}

fn length(file: &Path) -> u64 {
    std::fs::metadata(file).map_or(0, |about| about.len())
}

fn heard(child: &mut Child) -> (BTreeSet<String>, Option<String>) {
    let (mut down, mut failed) = (BTreeSet::new(), None);
    let mut text = Vec::new();
    child.stdout.take().expect("piped").read_to_end(&mut text).expect("read");
    // The last line may be cut short by the kill.
    for line in String::from_utf8_lossy(&text).split_inclusive('\n') {
        let Some(line) = line.strip_suffix('\n') else { continue };
        if let Some(lot) = line.strip_prefix("down ") {
            down.insert(lot.to_owned());
        }
        if line.starts_with("failed ") {
            failed = Some(line.to_owned());
        }
    }
    (down, failed)
}

fn lots(log: &Log) -> BTreeSet<String> {
    let lots: BTreeSet<String> = log.standing().map(|line| line.application.lot.clone()).collect();
    assert_eq!(lots.len(), log.standing().count(), "a line is down twice");
    lots
}

#[test]
fn a_kill_at_any_instant_loses_nothing_that_was_down() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join(record_file::FILE_NAME);
    let kills = full(300, 25);
    let mut down = BTreeSet::new();
    // Instants spread by a plain generator: the same on every run, unlike the machine beneath.
    let mut state = 20_270_529_u64;
    for writer in 0..kills {
        let before = length(&file);
        let mut child = as_writer(&mut Command::new(this_binary()), writer, usize::MAX, &file);
        // Every second writer is let come to writing, however slow the machine.
        while writer % 2 == 1 && length(&file) == before {
            assert!(child.try_wait().expect("a child").is_none(), "the writer ended by itself");
            std::thread::sleep(Duration::from_micros(200));
        }
        state =
            state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        std::thread::sleep(Duration::from_micros(2_000 + (state >> 33) % 30_000));
        child.kill().expect("killed");
        child.wait().expect("gone");
        down.extend(heard(&mut child).0);
        let log = record_file::read(&file).expect("a record after every kill");
        let lots = lots(&log);
        assert!(down.is_subset(&lots), "lost {:?}", down.difference(&lots));
        assert!(lots.len() <= down.len() + writer + 1, "lines that no one wrote");
        assert!(log.damaged.len() <= writer + 1);
    }
    assert!(down.len() >= kills / 2, "the writers hardly wrote: {} lines", down.len());
    record_file::append(&file, &application(kills, 0)).expect("the record goes on");
    let log = record_file::read(&file).expect("a record");
    assert_eq!(
        log.lines.last().map(|line| line.application.lot.clone()),
        Some(format!("{kills}-0"))
    );
}

#[test]
fn eight_writers_at_once_lose_no_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join(record_file::FILE_NAME);
    let each = full(1000, 40);
    let mut children: Vec<Child> = (0..8)
        .map(|writer| as_writer(&mut Command::new(this_binary()), writer, each, &file))
        .collect();
    let mut down = BTreeSet::new();
    for child in &mut children {
        down.extend(heard(child).0);
        assert!(child.wait().expect("ended").success());
    }
    let log = record_file::read(&file).expect("a record");
    assert_eq!(down.len(), 8 * each);
    assert_eq!(lots(&log), down);
    assert_eq!(log.damaged, []);
    let text = std::fs::read_to_string(&file).expect("text");
    assert_eq!(text.lines().count(), 8 * each + 1, "one heading, one line each");
}

/// Runs a writer through a shell that first narrows what it may write, and hears how it failed.
#[cfg(unix)]
fn until_full(file: &Path, shell: &[&str], narrowed: &str) -> Option<(BTreeSet<String>, String)> {
    let script = format!("{narrowed} && exec \"$@\"");
    let mut command = Command::new(shell[0]);
    command.args(&shell[1..]).args(["-c", &script, "sh"]).arg(this_binary());
    let mut child = as_writer(&mut command, 1, 100_000, file);
    let (down, failed) = heard(&mut child);
    child.wait().expect("ended");
    Some((down, failed?))
}

#[cfg(unix)]
#[test]
fn a_full_disk_is_told_and_leaves_no_half_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join(record_file::FILE_NAME);
    // A limit on the size of files, its signal ignored, fails a write as a full disk does: first
    // with a part of it written.
    let (down, failed) =
        until_full(&file, &["sh"], "trap '' XFSZ && ulimit -f 8").expect("the limit was met");
    let told = format!("failed with {} lines, 0 damaged, whole true", down.len());
    assert!(down.len() > 5 && failed.starts_with(&told), "{failed}");
    assert!(failed.contains("nothing was written down"), "{failed}");
    assert_eq!(lots(&record_file::read(&file).expect("a record")), down);
    record_file::append(&file, &application(2, 0)).expect("there is room again");
    assert_eq!(record_file::read(&file).expect("a record").lines.len(), down.len() + 1);
}

#[cfg(target_os = "linux")]
#[test]
fn a_small_disk_of_its_own_is_told_too() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join(record_file::FILE_NAME);
    let mount = format!("mount -t tmpfs -o size=64k none '{}'", folder.path().display());
    let unshare = ["unshare", "--user", "--map-root-user", "--mount", "sh"];
    let allowed = Command::new(unshare[0])
        .args(&unshare[1..])
        .args(["-c", &mount])
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success());
    if !allowed {
        // Mounting is not allowed here; the size limit above stands in for it.
        return;
    }
    let (down, failed) = until_full(&file, &unshare, &mount).expect("the disk was filled");
    let told = format!("failed with {} lines, 0 damaged, whole true", down.len());
    assert!(down.len() > 100 && failed.starts_with(&told), "{failed}");
}

#[test]
fn a_reader_beside_a_writer_never_sees_half_a_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join(record_file::FILE_NAME);
    let count = full(500, 60);
    let mut child = as_writer(&mut Command::new(this_binary()), 0, count, &file);
    let mut lines = BufReader::new(child.stdout.take().expect("piped")).lines();
    while let Some(Ok(line)) = lines.next() {
        if line.starts_with("down ") {
            let log = record_file::read(&file).expect("a record");
            assert_eq!(log.damaged, []);
        }
    }
    child.wait().expect("ended");
    assert_eq!(record_file::read(&file).expect("a record").lines.len(), count);
}
