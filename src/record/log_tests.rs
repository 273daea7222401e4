//! Records as crashes and spreadsheets leave them.

use super::*;
use crate::quantity::Mass;
use crate::season::Measure;
use proptest::prelude::*;

fn application(day: u8, note: &str) -> Application {
    Application {
        on: Date::new(2027, 5, day).expect("a day of May"),
        bed: "north 1".to_owned(),
        crop: "broccoli".to_owned(),
        material: "feather meal".to_owned(),
        amount_text: "12 oz".to_owned(),
        amount: Measure::Weight(Mass::from_oz(12.into())),
        analysis: read_analysis("12-0-0").ok(),
        method: "side-dressed".to_owned(),
        lot: String::new(),
        person: "R. Example".to_owned(),
        note: note.to_owned(),
    }
}

/// A record of three applications with notes that try the quoting.
fn record(heading: &Heading) -> String {
    let mut text = heading.text() + heading.line_end();
    for (day, note) in [(1, "dry"), (8, "half; then \"rain\""), (15, "")] {
        text += &heading.line(Action::Applied, &application(day, note));
    }
    text
}

fn read(text: &str) -> Log {
    Log::read(text.as_bytes()).expect("a record")
}

#[test]
fn what_is_written_is_read() {
    let log = read(&record(&Heading::default()));
    assert_eq!(log.damaged, []);
    let days: Vec<u8> = log.standing().map(|line| line.application.on.day()).collect();
    assert_eq!(days, [1, 8, 15]);
    assert_eq!(log.lines[1].application, application(8, "half; then \"rain\""));
    assert_eq!(log.lines[2].number, 4);
}

#[test]
fn every_cut_of_the_file_costs_at_most_its_last_line() {
    let heading = Heading::default();
    let text = record(&heading);
    let body = heading.text().len() + 1;
    for cut in body..text.len() {
        let whole = text[..cut].matches('\n').count() - 1;
        let log = read(&text[..cut]);
        let read = log.lines.len();
        assert!(read == whole || read == whole + 1, "cut at {cut}: {read} of {whole}");
        // Mended as a writer does it: a line end first, then the next line.
        let mended =
            format!("{}\n{}", &text[..cut], heading.line(Action::Applied, &application(29, "")));
        let log = Log::read(mended.as_bytes()).expect("still a record");
        assert_eq!(log.lines.last().map(|line| line.application.on.day()), Some(29), "{cut}");
        assert!(log.lines.len() > whole && log.damaged.len() <= 1, "{cut}");
    }
}

#[test]
fn a_spreadsheet_may_save_it_again() {
    let plain = read(&record(&Heading::default()));
    let same = |log: &Log| {
        let said = |log: &Log| -> Vec<Application> {
            log.lines.iter().map(|line| line.application.clone()).collect()
        };
        assert_eq!(said(log), said(&plain));
        assert_eq!(log.damaged, []);
    };
    let semicolons = Heading { delimiter: ';', carriage_return: true, ..Heading::default() };
    same(&read(&record(&semicolons)));
    let tabs = Heading { delimiter: '\t', ..Heading::default() };
    same(&read(&record(&tabs)));
    same(&read(&format!("\u{feff}{}", record(&semicolons))));
    same(&read(&record(&Heading::default()).replace('\n', "\r\n,,,,,,,,,,\r\n\r\n")));
    // Every cell quoted, as some spreadsheets do.
    let quoted: String = record(&Heading::default())
        .lines()
        .map(|line| {
            let cells = cells::split(line, ',').expect("our own line");
            let all: Vec<String> =
                cells.iter().map(|cell| format!("\"{}\"", cell.replace('"', "\"\""))).collect();
            all.join(",") + "\n"
        })
        .collect();
    same(&read(&quoted));
}

#[test]
fn cells_with_line_breaks_are_read_and_open_quotes_eat_nothing() {
    let heading = Heading::default();
    let broken = record(&heading).replace(",dry,", ",\"dry\nand windy\",");
    let log = read(&broken);
    assert_eq!(log.lines[0].application.note, "dry and windy");
    assert_eq!((log.lines.len(), log.damaged.len(), log.lines[1].number), (3, 0, 4));
    let open = record(&heading).replace(",dry,", ",\"dry,");
    let log = read(&open);
    assert_eq!((log.lines.len(), log.damaged.len(), log.damaged[0].number), (2, 1, 2));
    assert!(log.damaged[0].what.contains("quote"));
}

#[test]
fn what_a_spreadsheet_has_changed_is_told_with_its_place() {
    for (from, to, word) in [
        ("2027-05-08", "5/8/2027", "date"),
        ("2027-05-08", "2027-05-32", "date"),
        (
            "12-0-0 N-P2O5-K2O,side-dressed,,R. Example,\"half",
            "2012-10-10,side-dressed,,R. Example,\"half",
            "analysis",
        ),
        (
            "feather meal,12 oz,12-0-0 N-P2O5-K2O,side-dressed,,R. Example,\"half",
            "feather meal,12,12-0-0,side-dressed,,R. Example,\"half",
            "unit",
        ),
        (
            "feather meal,12 oz,12-0-0 N-P2O5-K2O,side-dressed,,R. Example,\"half",
            ",12 oz,12-0-0,side-dressed,,R. Example,\"half",
            "material",
        ),
        ("\"half; then \"\"rain\"\"\",applied", "x,done", "entry"),
        ("\"half; then \"\"rain\"\"\"", "half,then", "cells"),
    ] {
        let text = record(&Heading::default());
        assert!(text.contains(from), "{from}");
        let log = read(&text.replacen(from, to, 1));
        assert_eq!(log.lines.len(), 2, "{to}");
        assert_eq!(log.damaged.len(), 1, "{to}");
        assert_eq!(log.damaged[0].number, 3, "{to}");
        assert!(log.damaged[0].what.contains(word), "{to}: {}", log.damaged[0].what);
        assert!(!log.damaged[0].mend.is_empty());
    }
}

#[test]
fn a_line_is_taken_back_once_wherever_a_sort_has_put_it() {
    let heading = Heading::default();
    let again = heading.line(Action::Applied, &application(8, "by mistake"));
    let cancel = heading.line(Action::Cancelled, &application(8, ""));
    let log = read(&(record(&heading) + &again + &cancel));
    let days: Vec<(u32, u8)> =
        log.standing().map(|line| (line.number, line.application.on.day())).collect();
    assert_eq!(days, [(2, 1), (3, 8), (4, 15)]);
    assert_eq!(log.lines[3].cancelled_by, Some(6));
    let text = record(&heading);
    let (title, body) = text.split_once('\n').expect("a heading");
    let sorted = read(&format!("{title}\n{cancel}{body}"));
    assert_eq!(sorted.standing().count(), 2);
    let twice = read(&(record(&heading) + &cancel + &cancel));
    assert_eq!((twice.standing().count(), twice.damaged.len()), (2, 1));
    assert!(twice.damaged[0].what.contains("not in the record"));
}

#[test]
fn nothing_is_an_empty_record_and_other_files_are_refused() {
    assert_eq!(Log::read(b""), Ok(Log::default()));
    assert_eq!(Log::read(b"\xef\xbb\xbf\r\n\n"), Ok(Log::default()));
    assert_eq!(Log::read(b"\xff\xfed\0"), Err(Refusal::Encoding));
    let other = record(&Heading::default()).replace("(version 1)", "(version 7)");
    let refused = Log::read(other.as_bytes());
    assert_eq!(refused, Err(Refusal::OtherVersion { found: "7".to_owned() }));
    assert!(matches!(Log::read(b"[garden]\nyear = 2027\n"), Err(Refusal::NoHeading { .. })));
    let latin: Vec<u8> = record(&Heading::default())
        .replace("dry", "d?y")
        .bytes()
        .map(|b| if b == b'?' { 0xe9 } else { b })
        .collect();
    let log = Log::read(&latin).expect("the rest is read");
    assert_eq!((log.lines.len(), log.damaged[0].number), (2, 2));
}

#[test]
fn a_note_cannot_become_a_formula() {
    let heading = Heading::default();
    let mut said = application(1, "=1+1");
    said.lot = "-4".to_owned();
    let line = heading.line(Action::Applied, &said);
    assert!(line.contains("'=1+1") && line.contains(",'-4,"), "{line}");
    let log = read(&(heading.text() + "\n" + &line));
    assert_eq!(log.lines[0].application, said);
}

proptest! {
    #[test]
    fn any_bytes_are_read_or_refused(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        let _ = Log::read(&bytes);
        let mut with_heading = Heading::default().text().into_bytes();
        with_heading.push(b'\n');
        with_heading.extend(&bytes);
        let _ = Log::read(&with_heading);
    }

    #[test]
    fn any_words_come_back_as_they_were(
        note in "[^\\p{Cc}]{0,40}", bed in "[a-z][a-z0-9 ,;\"']{0,20}", lot in "[^\\p{Cc}]{0,12}",
        delimiter in proptest::sample::select(vec![',', ';', '\t']),
    ) {
        let heading = Heading { delimiter, ..Heading::default() };
        let mut said = application(3, note.trim());
        said.bed = bed.trim().to_owned();
        said.lot = lot.trim().to_owned();
        let text = heading.text() + "\n" + &heading.line(Action::Applied, &said);
        let log = Log::read(text.as_bytes()).expect("a record");
        prop_assert_eq!(&log.lines[0].application, &said);
    }
}
