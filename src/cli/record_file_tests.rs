//! The record on disk in its everyday shapes. Crashes and crowds are in `tests/durability.rs`.

use super::*;
use crate::calendar::Date;
use crate::record::read_amount;

fn application(day: u8) -> Application {
    Application {
        on: Date::new(2027, 5, day).expect("a day of May"),
        bed: "north 1".to_owned(),
        crop: "broccoli".to_owned(),
        material: "feather meal".to_owned(),
        amount_text: "12 oz".to_owned(),
        amount: read_amount("12 oz").expect("a weight"),
        analysis: None,
        method: String::new(),
        lot: String::new(),
        person: String::new(),
        note: String::new(),
    }
}

fn days(log: &Log) -> Vec<u8> {
    log.standing().map(|line| line.application.on.day()).collect()
}

#[test]
fn lines_are_added_and_taken_back() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = beside(&folder.path().join("season.toml"));
    assert_eq!(days(&read(&file).expect("no record yet")), Vec::<u8>::new());
    assert!(cancel(&file, None).is_err());
    for day in 1..=4 {
        append(&file, &application(day)).expect("written");
    }
    assert_eq!(days(&read(&file).expect("a record")), [1, 2, 3, 4]);
    assert_eq!(cancel(&file, None).expect("the last").application.on.day(), 4);
    assert_eq!(cancel(&file, Some(2)).expect("line 2").application.on.day(), 1);
    assert_eq!(days(&read(&file).expect("a record")), [2, 3]);
    for gone in [1, 2, 6, 7, 99] {
        assert!(matches!(cancel(&file, Some(gone)), Err(Failure::Input(_))), "line {gone}");
    }
    assert_eq!(read(&file).expect("a record").damaged, []);
}

#[test]
fn the_shape_a_spreadsheet_gave_it_is_kept() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join(FILE_NAME);
    let heading = Heading { delimiter: ';', carriage_return: true, ..Heading::default() };
    let text = format!(
        "\u{feff}\r\n{}\r\n{}\r\n",
        heading.text(),
        heading.line(Action::Applied, &application(1)).trim_end()
    );
    std::fs::write(&file, &text).expect("written");
    append(&file, &application(2)).expect("added");
    let now = std::fs::read_to_string(&file).expect("read");
    assert!(now.starts_with(&text) && now.ends_with("applied\r\n"), "{now}");
    assert_eq!(days(&read(&file).expect("a record")), [1, 2]);
}

#[test]
fn a_missing_line_end_is_mended_first() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join(FILE_NAME);
    append(&file, &application(1)).expect("written");
    let whole = std::fs::read(&file).expect("read");
    let line = Heading::default().line(Action::Applied, &application(9));
    for cut in 1..line.len() {
        let torn = [&whole[..], &line.as_bytes()[..cut]].concat();
        std::fs::write(&file, &torn).expect("torn");
        append(&file, &application(2)).expect("added");
        let log = read(&file).expect("a record");
        assert_eq!(days(&log).last(), Some(&2), "cut {cut}");
        assert!(days(&log).starts_with(&[1]) && log.damaged.len() <= 1, "cut {cut}");
    }
}

#[test]
fn a_heading_cut_short_is_refused_and_left_alone() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join(FILE_NAME);
    for text in ["date,bed", "name,price\nurea,3\n", "date,bed,material,amount,entry (version 9)\n"]
    {
        std::fs::write(&file, text).expect("written");
        assert!(matches!(append(&file, &application(2)), Err(Failure::Input(_))), "{text}");
        assert!(matches!(read(&file), Err(Failure::Input(_))), "{text}");
        assert_eq!(std::fs::read_to_string(&file).expect("read"), text);
    }
}
