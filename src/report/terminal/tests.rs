use unicode_width::UnicodeWidthStr;

use super::*;
use crate::report::demo;
use crate::report::document::{Align, Column, Table};
use crate::report::text::FIXED_SPACE;

fn set(document: &Document, width: usize) -> String {
    render(document, &Terminal { width, ..Terminal::default() })
}

fn body(block: Block, width: usize) -> String {
    let terminal = Terminal { width, ..Terminal::default() };
    let lines = terminal.blocks(&[block], width);
    lines.iter().map(|line| line.write(false, true) + "\n").collect()
}

fn table() -> Table {
    let mut table =
        Table::new([Column::left("Bed"), Column::right("Need, lb"), Column::left("What to do")]);
    table.row(["north 1".into(), "3.20".into(), "spread feather meal on 29 May".into()]);
    table.row(["south".into(), "12.05".into(), "nothing".into()]);
    table.total = Some(vec!["Both".into(), "15.25".into()]);
    table
}

#[test]
fn a_table_stands_in_columns() {
    let expected = "\
Bed      Need, lb  What to do
───────  ────────  ─────────────────────────────
north 1      3.20  spread feather meal on 29 May
south       12.05  nothing
───────  ────────  ─────────────────────────────
Both        15.25
";
    assert_eq!(body(Block::Table(table()), 80), expected);
}

#[test]
fn words_give_way_before_numbers_and_a_narrow_table_is_stacked() {
    let expected = "\
Bed      Need, lb  What to do
───────  ────────  ─────────────
north 1      3.20  spread
                   feather meal
                   on 29 May
south       12.05  nothing
───────  ────────  ─────────────
Both        15.25
";
    assert_eq!(body(Block::Table(table()), 32), expected);
    let expected = "\
north 1
  Need, lb    3.20
  What to do  spread
              feather
              meal on 29
              May

south
  Need, lb    12.05
  What to do  nothing

Both
  Need, lb  15.25
";
    assert_eq!(body(Block::Table(table()), 24), expected);
}

#[test]
fn a_caution_says_so_without_colour() {
    let mut document = Document::new("");
    document.caution("Wear a mask: dust.", "the label");
    assert_eq!(set(&document, 80), "┃ Caution: Wear a mask: dust.\n┃ Source: the label\n");
}

#[test]
fn closed_folds_wait_to_be_asked_for() {
    let fold = Fold {
        title: "Working".into(),
        anchor: None,
        open: false,
        blocks: vec![Block::Paragraph("2 + 2".into())],
    };
    assert_eq!(body(Block::Fold(fold.clone()), 40), "");
    assert_eq!(body(Block::Fold(Fold { open: true, ..fold.clone() }), 40), "Working\n  2 + 2\n");
    let shown = Terminal { folds: true, ..Terminal::default() };
    assert_eq!(shown.blocks(&[Block::Fold(fold)], 40).len(), 2);
}

#[test]
fn no_line_passes_the_width_in_any_mode() {
    let document = demo::document();
    for width in [24, 30, 40, 60, 80, 100, 120] {
        for unicode in [true, false] {
            let terminal = Terminal { width, color: false, unicode, folds: true };
            for line in render(&document, &terminal).lines() {
                assert!(line.width() <= width, "{width}: {} {line:?}", line.width());
                assert_eq!(line.trim_end(), line);
                assert!(!line.contains(FIXED_SPACE));
            }
        }
    }
}

#[test]
fn ascii_is_ascii() {
    let terminal = Terminal { unicode: false, folds: true, ..Terminal::default() };
    let shown = render(&demo::document(), &terminal);
    assert!(shown.is_ascii(), "{:?}", shown.lines().find(|line| !line.is_ascii()));
}

#[test]
fn colour_changes_no_word() {
    let plain = Terminal { folds: true, ..Terminal::default() };
    let document = demo::document();
    let colored = render(&document, &Terminal { color: true, ..plain });
    assert!(colored.contains("\u{1b}["));
    let stripped = anstream::adapter::strip_str(&colored).to_string();
    assert_eq!(stripped, render(&document, &plain));
}

#[test]
fn a_column_of_words_that_are_numbers_is_not_broken() {
    let mut table =
        Table::new([Column::left("Bed"), Column { title: "Dose".into(), align: Align::Right }]);
    table.row(["a".into(), Text::new().value("12.5").plain(FIXED_SPACE).unit("lb")]);
    assert_eq!(body(Block::Table(table), 24), "Bed     Dose\n───  ───────\na    12.5 lb\n");
}
