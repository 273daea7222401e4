//! A document with every kind of block and awkward content, for the renderers' tests.

use rust_decimal::Decimal;

use super::chart::{Bar, Bars, Curve, DoseMark, Look, Series};
use super::document::{Block, Column, Day, Document, Fold, Note, NoteKind, Table, Task, WorkList};
use super::text::Text;
use crate::calendar::Date;

fn day(month: u8, day: u8) -> Date {
    Date::new(2027, month, day).expect("a date")
}

fn number(hundredths: i64) -> Decimal {
    Decimal::new(hundredths, 2)
}

fn quantity(value: &str, unit: &str) -> Text {
    Text::new().value(value).plain("\u{a0}").unit(unit)
}

/// Makes the document.
pub(crate) fn document() -> Document {
    let mut document = Document::new("Season plan");
    document.about = Text::from("Alder Rise school garden, 2027, as of ").value("Sat 1 May 2027");
    document.heading(2, "The season at a glance");
    document.push(Block::Bars(bars()));
    document.heading(2, "Work to do");
    document.push(Block::Work(work()));
    bed(&mut document);
    document.heading(2, "What to buy");
    document.table(shopping());
    document.heading(3, "Names with signs in them");
    document
        .paragraph(Text::from("A bed may be called ").code("<b>&\"x\" | *y* _z_ `q`").plain("."));
    let items = vec!["weigh on a kitchen scale".into(), "water in after spreading".into()];
    document.push(Block::List { ordered: true, items: items.clone() });
    document.push(Block::List { ordered: false, items });
    document
}

fn bed(document: &mut Document) {
    document.push(Block::Heading {
        level: 2,
        text: "north 1".into(),
        anchor: Some("north-1".into()),
    });
    document.push(Block::Pairs(vec![
        ("Area".into(), quantity("96", "ft2")),
        ("Soil".into(), "loam, organic matter 4.2 %, phosphate high, potash on target".into()),
        ("Crop".into(), "broccoli on 60 % of the bed, 10 May to 15 July".into()),
    ]));
    document.table(budget());
    document.push(Block::Curve(curve()));
    document.push(Block::Fold(Fold {
        title: Text::from("How nitrogen short comes to ").and(quantity("0.14", "lb")),
        anchor: Some("north-1/nitrogen/shortfall".into()),
        open: false,
        blocks: vec![
            Block::Paragraph("need 0.41 lb - credits 0.27 lb, not below zero".into()),
            Block::Fold(Fold {
                title: "need 0.41 lb".into(),
                anchor: None,
                open: true,
                blocks: vec![Block::Paragraph(
                    Text::from("4.3 lb/1000 ft2 × 96 ft2 ")
                        .dim("(a rate over an area is a weight)"),
                )],
            }),
        ],
    }));
    document.caution(
        "Blood and bone meals can carry disease where they are not heat-treated: keep them off \
         leaves and roots that are eaten raw, and wear a mask against the dust.",
        "common practice; the label and local rules come first",
    );
    document.push(Block::Note(Note {
        kind: NoteKind::Note,
        text: Text::from("Phosphate is above target. See ")
            .code("topdress explain north-1/phosphate/surplus"),
        items: vec![Text::from("north 1"), Text::from("the kitchen bed")],
        source: None,
    }));
}

fn budget() -> Table {
    let mut table = Table::new([
        Column::left("Nutrient"),
        Column::right("Need, lb"),
        Column::right("Soil, lb"),
        Column::right("Compost, lb"),
        Column::right("Doses, lb"),
        Column::left("Outcome"),
    ])
    .caption("Budget of north 1 for the season");
    let short = Text::new().warning("short 0.14 lb").linked("north-1/nitrogen/shortfall");
    table.row(["N".into(), "0.41".into(), "0.19".into(), "0.08".into(), "0.00".into(), short]);
    let over = Text::new().emphasis("over 0.21 lb");
    table.row(["P2O5".into(), "0.00".into(), "0.00".into(), "0.21".into(), "0.00".into(), over]);
    table.row([
        "K2O".into(),
        "0.30".into(),
        "0.00".into(),
        "0.30".into(),
        "0.00".into(),
        "met".into(),
    ]);
    table
}

fn shopping() -> Table {
    let mut table = Table::new([
        Column::left("Material"),
        Column::right("Wanted, lb"),
        Column::right("On hand, lb"),
        Column::right("Packs"),
        Column::right("Cost"),
    ])
    .caption("Least-cost packs for every bed");
    let cells = |cells: [&str; 5]| cells.map(Text::from).to_vec();
    table.rows.push(cells(["feather meal", "12.25", "4.00", "2 × 5 lb", "27.00"]));
    table.rows.push(cells([
        "potassium sulfate, soluble, greenhouse grade",
        "3.50",
        "0.00",
        "1 × 5 lb",
        "11.80",
    ]));
    table.total = Some(cells(["Together", "", "", "", "38.80"]));
    table
}

fn work() -> WorkList {
    let task = |text: &str, value: &str, detail: &str, done| Task {
        text: Text::from(text).and(quantity(value, "lb")).plain(" feather meal"),
        detail: detail.into(),
        done,
    };
    WorkList {
        days: vec![
            Day {
                date: day(5, 8),
                about: "before planting".into(),
                tasks: vec![task("north 1: ", "1.5", "about 4 cups; work in 2 inches deep", true)],
            },
            Day {
                date: day(5, 29),
                about: Text::new(),
                tasks: vec![
                    task("north 1: ", "4.75", "about 12 cups; stir into 5 gal of mix", false),
                    task("school bed with the very long name: ", "0.5", "", false),
                ],
            },
        ],
    }
}

fn bars() -> Bars {
    let bar = |label: &str, target, parts: [i64; 2], verdict: Text| Bar {
        label: label.into(),
        target: number(target),
        parts: parts.map(number).to_vec(),
        verdict,
    };
    Bars {
        title: "Nitrogen of each bed against its need".into(),
        description: "north 1 is short 0.14 lb, north 2 met, south over by 0.45 lb.".into(),
        unit: "lb N".into(),
        target: "need".into(),
        parts: vec!["soil and compost".into(), "doses".into()],
        gap: "short".into(),
        excess: "over".into(),
        bars: vec![
            bar("north 1", 141, [57, 70], Text::new().warning("short 0.14 lb")),
            bar("north 2", 120, [30, 90], "met".into()),
            bar("south", 80, [110, 15], Text::new().emphasis("over 0.45 lb")),
            bar("school bed with the very long name", 0, [0, 0], "nothing planted".into()),
        ],
    }
}

fn curve() -> Curve {
    let series = |name: &str, look, points: &[(u8, u8, i64)]| Series {
        name: name.into(),
        look,
        points: points
            .iter()
            .map(|(month, of, value)| (day(*month, *of), number(*value)))
            .collect(),
    };
    Curve {
        title: "Nitrogen through the season, broccoli in north 1".into(),
        description: "Supply stays above what the crop has taken until 20 June, then falls short."
            .into(),
        unit: "lb N".into(),
        series: vec![
            series(
                "supplied so far",
                Look::Area,
                &[
                    (4, 28, 4),
                    (5, 10, 9),
                    (5, 29, 14),
                    (5, 29, 22),
                    (6, 12, 27),
                    (6, 19, 29),
                    (6, 19, 36),
                    (7, 15, 39),
                ],
            ),
            series(
                "taken up so far",
                Look::Line,
                &[
                    (5, 10, 0),
                    (5, 24, 3),
                    (6, 5, 12),
                    (6, 15, 23),
                    (6, 25, 33),
                    (7, 5, 39),
                    (7, 15, 41),
                ],
            ),
        ],
        doses: vec![
            DoseMark { date: day(5, 8), label: "1.5 lb pelleted poultry manure".into() },
            DoseMark { date: day(5, 29), label: "0.75 lb feather meal".into() },
            DoseMark { date: day(6, 19), label: "0.5 lb feather meal".into() },
        ],
    }
}
