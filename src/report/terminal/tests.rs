use proptest::prelude::*;
use rust_decimal::Decimal;
use unicode_width::UnicodeWidthStr;

use super::*;
use crate::calendar::Date;
use crate::report::chart::{Bar, Bars, Curve, DoseMark, Look, Series};
use crate::report::demo;
use crate::report::document::{Align, Column, Table};
use crate::report::text::FIXED_SPACE;

fn set(document: &Document, width: usize) -> String {
    render(document, &Terminal { width, ..Terminal::default() })
}

fn body(block: Block, width: usize) -> String {
    let terminal = Terminal { width, ..Terminal::default() };
    let lines = terminal.blocks(&[block], width);
    Terminal::default().written(&lines)
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

/// An empty column takes a column all the same, so that this table does not quite fit on its lines.
#[test]
fn an_empty_column_is_counted() {
    let words = "twenty-three letters in all".split_at(23).0;
    let mut table = Table::new([Column::left(words), Column::left("")]);
    table.row([words.into(), Text::new()]);
    let mut document = Document::new("t");
    document.push(Block::Table(table));
    assert!(set(&document, 25).lines().all(|line| line.width() <= 25));
}

/// Words of any alphabet, with wide and joined signs, hard spaces and control characters.
fn any_text() -> impl Strategy<Value = Text> {
    let tone = prop_oneof![Just(Tone::Plain), Just(Tone::Value), Just(Tone::Code)];
    let words = "[a-zA-Z0-9 畑é👩\u{200d}🌾❤\u{fe0f}\u{a0}\u{1b}\n-]{0,40}";
    proptest::collection::vec((tone, words), 0..4).prop_map(|spans| {
        spans.into_iter().fold(Text::new(), |text, (tone, words)| text.span(tone, words))
    })
}

proptest! {
    #[test]
    fn no_words_pass_the_width(
        cells in proptest::collection::vec(proptest::collection::vec(any_text(), 0..7), 0..5),
        titles in proptest::collection::vec(any_text(), 0..7),
        width in 24_usize..130,
        right in 0_usize..7,
    ) {
        let mut document = Document::new("t");
        let columns = titles.iter().enumerate().map(|(index, title)| Column {
            title: title.clone(),
            align: if index >= right { Align::Right } else { Align::Left },
        });
        let mut table = Table::new(columns);
        table.rows = cells.clone();
        document.push(Block::Table(table));
        let texts: Vec<Text> = cells.into_iter().flatten().collect();
        document.push(Block::Pairs(texts.iter().cloned().zip(titles).collect()));
        document.push(Block::List { ordered: true, items: texts.clone() });
        for text in texts {
            document.caution(text.clone(), text);
        }
        for line in set(&document, width).lines() {
            prop_assert!(line.width() <= width, "{} > {width}: {line:?}", line.width());
            prop_assert!(!line.chars().any(char::is_control));
        }
    }
}

/// A curve and bars over any days and values, several series of each look.
fn any_charts() -> impl Strategy<Value = Document> {
    let points = proptest::collection::vec((0_i32..500, -5_000_i64..1_000_000), 0..12);
    let series = proptest::collection::vec((any::<bool>(), points), 0..5);
    let doses = proptest::collection::vec(0_i32..600, 0..15);
    let bars = proptest::collection::vec((0_i64..9_000, -50_i64..9_000, 0_i64..9_000), 0..6);
    (series, doses, bars, 0_u32..6).prop_map(|(series, mut doses, bars, scale)| {
        let number = |value: i64| Decimal::new(value, scale);
        let day = |ahead: i32| Date::from_number(20_000 + ahead);
        let series = series.into_iter().map(|(area, mut points)| {
            points.sort();
            Series {
                name: "a series with a long name".to_owned(),
                look: if area { Look::Area } else { Look::Line },
                points: points
                    .into_iter()
                    .map(|(ahead, value)| (day(ahead), number(value)))
                    .collect(),
            }
        });
        doses.sort();
        let dose = |ahead| DoseMark { date: day(ahead), label: "4.75 lb of something".to_owned() };
        let bar = |(target, one, other)| Bar {
            label: "bed".to_owned(),
            target: number(target),
            parts: vec![number(one), number(other)],
            verdict: "short 12 lb".into(),
        };
        let mut document = Document::new("t");
        document.push(Block::Curve(Curve {
            title: "t".to_owned(),
            description: "d".to_owned(),
            unit: "lb".to_owned(),
            series: series.collect(),
            doses: doses.into_iter().map(dose).collect(),
        }));
        document.push(Block::Bars(Bars {
            title: "t".to_owned(),
            description: "d".to_owned(),
            unit: "lb".to_owned(),
            target: "need".to_owned(),
            parts: vec!["soil".to_owned(), "doses".to_owned()],
            gap: "short".to_owned(),
            excess: "over".to_owned(),
            bars: bars.into_iter().map(bar).collect(),
        }));
        document
    })
}

proptest! {
    #[test]
    fn no_chart_passes_the_width_or_fails_in_any_format(
        document in any_charts(),
        width in 24_usize..130,
    ) {
        for line in set(&document, width).lines() {
            prop_assert!(line.width() <= width, "{} > {width}: {line:?}", line.width());
        }
        prop_assert!(crate::report::markdown::render(&document).ends_with('\n'));
        prop_assert!(crate::report::html::render(&document).ends_with("</html>\n"));
    }
}
