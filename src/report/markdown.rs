//! A document in Markdown with tables, as code-hosting sites and note programs read it.

use std::fmt::Write;

use super::chart::{Bars, Curve};
use super::document::{Align, Block, Document, Fold, Note, Table, WorkList};
use super::number::long_date;
use super::text::{FIXED_SPACE, Text, Tone};
use crate::calendar::Date;
use crate::quantity::significant;

/// Sets a document in Markdown. Charts become tables; folds become `<details>`.
pub fn render(document: &Document) -> String {
    let mut parts = Vec::new();
    if !document.title.is_empty() {
        parts.push(format!("# {}", escape(&document.title)));
    }
    if !document.about.is_empty() {
        parts.push(inline(&document.about));
    }
    parts.extend(blocks(&document.blocks));
    parts.join("\n\n") + "\n"
}

fn blocks(blocks: &[Block]) -> Vec<String> {
    blocks.iter().map(block).filter(|text| !text.is_empty()).collect()
}

fn block(block: &Block) -> String {
    match block {
        Block::Heading { level, text, .. } => {
            format!("{} {}", "#".repeat(usize::from(*level).clamp(2, 4)), inline(text))
        }
        Block::Paragraph(text) => inline(text),
        Block::Note(note) => quote(note),
        Block::List { ordered, items } => {
            let mark = |index: usize| if *ordered { format!("{}.", index + 1) } else { "-".into() };
            let items = items.iter().enumerate();
            lines(items.map(|(index, item)| format!("{} {}", mark(index), inline(item))))
        }
        Block::Steps(steps) => lines(steps.iter().map(|step| {
            let indent = "  ".repeat(step.depth);
            format!("{indent}- {}\\. {}", step.number, inline(&step.text))
        })),
        Block::Pairs(pairs) => lines(
            pairs.iter().map(|(name, value)| format!("- **{}:** {}", bare(name), inline(value))),
        ),
        Block::Table(found) => table(found),
        Block::Curve(curve) => curve_table(curve),
        Block::Bars(bars) => bars_table(bars),
        Block::Fold(found) => fold(found),
        Block::Work(found) => work(found),
    }
}

fn lines(lines: impl Iterator<Item = String>) -> String {
    lines.collect::<Vec<_>>().join("\n")
}

fn quote(note: &Note) -> String {
    let mut text = format!("> **{}:** {}", note.kind.word(), inline(&note.text));
    for (at, item) in note.items.iter().enumerate() {
        let _ = write!(text, "{}\n> - {}", if at == 0 { "\n>" } else { "" }, inline(item));
    }
    if let Some(source) = &note.source {
        let _ = write!(text, "\n>\n> Source: {}", inline(source));
    }
    text
}

fn table(table: &Table) -> String {
    let mut rows = Vec::new();
    if !table.caption.is_empty() {
        rows.push(format!("**{}**\n", bare(&table.caption)));
    }
    if table.columns.is_empty() {
        return rows.concat();
    }
    rows.push(row(table.columns.iter().map(|column| in_cell(&column.title))));
    rows.push(row(table.columns.iter().map(|column| match column.align {
        Align::Left => ":---".to_owned(),
        Align::Right => "---:".to_owned(),
    })));
    let cells = |cells: &[Text], strong: bool| {
        row((0..table.columns.len()).map(|index| match cells.get(index) {
            Some(cell) if strong && !cell.is_empty() => format!("**{}**", bare(cell)),
            Some(cell) => in_cell(cell),
            None => String::new(),
        }))
    };
    rows.extend(table.rows.iter().map(|row| cells(row, false)));
    rows.extend(table.total.iter().map(|row| cells(row, true)));
    rows.join("\n")
}

fn row(cells: impl Iterator<Item = String>) -> String {
    let cells: Vec<String> = cells.collect();
    format!("| {} |", cells.join(" | "))
}

/// Rows that a curve is told in, at most, apart from the days of doses.
const ROWS_OF_CURVE: i32 = 12;

/// The days that a curve is told at: whole weeks from the first day, the last, and every dose.
fn told_days(curve: &Curve) -> Vec<Date> {
    let Some((first, last)) = curve.days() else { return Vec::new() };
    let weeks = ((last - first) / 7 / ROWS_OF_CURVE + 1).unsigned_abs() as usize;
    let regular = (0..=last - first).step_by(7 * weeks).map(|ahead| first + ahead);
    let mut days: Vec<Date> = regular.chain(curve.doses.iter().map(|dose| dose.date)).collect();
    days.push(last);
    days.sort();
    days.dedup();
    days
}

/// The values of every series at some days, and the doses beneath.
fn curve_table(curve: &Curve) -> String {
    let names = curve.series.iter().map(|series| escape(&series.name));
    let mut text = format!("**{}**\n\n{}\n\n", escape(&curve.title), escape(&curve.description));
    let head = std::iter::once(format!("Day ({})", escape(&curve.unit))).chain(names);
    text += &row(head);
    text += &format!("\n| :--- |{}", " ---: |".repeat(curve.series.len()));
    for day in told_days(curve) {
        let values = curve.series.iter().map(|series| {
            series.at(day).map(|value| significant(value, 3).to_string()).unwrap_or_default()
        });
        let _ = write!(text, "\n{}", row(std::iter::once(curve.told(day)).chain(values)));
    }
    if !curve.doses.is_empty() {
        text.push('\n');
    }
    for (index, dose) in curve.doses.iter().enumerate() {
        let _ = write!(text, "\n{}. {}: {}", index + 1, curve.told(dose.date), escape(&dose.label));
    }
    text
}

fn bars_table(bars: &Bars) -> String {
    let mut text = format!("**{}** ({})\n\n", escape(&bars.title), escape(&bars.unit));
    let names = bars.parts.iter().map(|name| escape(name));
    let head = [String::new(), escape(&bars.target)].into_iter().chain(names);
    text += &row(head.chain([String::new()]));
    text += &format!("\n| :--- | ---: |{} :--- |", " ---: |".repeat(bars.parts.len()));
    for bar in &bars.bars {
        let parts = (0..bars.parts.len()).map(|index| bar.parts.get(index));
        let parts = parts.map(|part| part.map(ToString::to_string).unwrap_or_default());
        let cells = [escape(&bar.label), bar.target.to_string()].into_iter().chain(parts);
        let _ = write!(text, "\n{}", row(cells.chain([in_cell(&bar.verdict)])));
    }
    text
}

fn fold(fold: &Fold) -> String {
    let open = if fold.open { " open" } else { "" };
    let title = escape(&fold.title.words());
    let inner = blocks(&fold.blocks).join("\n\n");
    format!("<details{open}>\n<summary>{title}</summary>\n\n{inner}\n\n</details>")
}

fn work(work: &WorkList) -> String {
    let mut days = Vec::new();
    for day in &work.days {
        let mut text = format!("**{}**", long_date(day.date));
        if !day.about.is_empty() {
            let _ = write!(text, " {}", inline(&day.about));
        }
        text.push('\n');
        for task in &day.tasks {
            let tick = if task.done { "x" } else { " " };
            let _ = write!(text, "\n- [{tick}] {}", inline(&task.text));
            if !task.detail.is_empty() {
                let _ = write!(text, "  \n  {}", inline(&task.detail));
            }
        }
        days.push(text);
    }
    days.join("\n\n")
}

/// The text with its weights, in a table: there a stroke ends the cell even within code.
fn in_cell(text: &Text) -> String {
    let mut text = text.clone();
    for span in text.spans.iter_mut().filter(|span| span.tone == Tone::Code) {
        span.text = span.text.replace('|', "\\|");
    }
    inline(&text)
}

/// The text with its weights.
fn inline(text: &Text) -> String {
    let mut out = String::new();
    for span in &text.spans {
        match span.tone {
            Tone::Emphasis | Tone::Warning => out += &weighted(&span.text),
            Tone::Code => out += &code(&span.text),
            Tone::Plain | Tone::Value | Tone::Unit | Tone::Dim => out += &escape(&span.text),
        }
    }
    out.trim().to_owned()
}

/// The text without weights, to stand inside a weight.
fn bare(text: &Text) -> String {
    escape(text.words().trim())
}

/// Marks must touch the words that they weigh.
fn weighted(text: &str) -> String {
    let inner = text.trim();
    if inner.is_empty() {
        return escape(text);
    }
    let head = &text[..text.len() - text.trim_start().len()];
    let tail = &text[text.trim_end().len()..];
    format!("{}**{}**{}", escape(head), escape(inner), escape(tail))
}

/// Text to be typed as it stands. A tick would end it, unless a longer run of ticks encloses it.
fn code(text: &str) -> String {
    let text = one_line(text);
    let longest = text.split(|sign| sign != '`').map(str::len).max().unwrap_or_default();
    let fence = "`".repeat(longest + 1);
    let pad = if longest > 0 { " " } else { "" };
    format!("{fence}{pad}{text}{pad}{fence}")
}

fn one_line(text: &str) -> String {
    let plain = |sign: char| match sign {
        FIXED_SPACE => ' ',
        sign if sign.is_whitespace() => ' ',
        sign if sign.is_control() => '\u{fffd}',
        sign => sign,
    };
    text.chars().map(plain).collect()
}

/// Escapes every sign that Markdown or the HTML inside it could take for its own.
fn escape(text: &str) -> String {
    let mut out = String::new();
    let line = one_line(text);
    for (place, sign) in line.char_indices() {
        let opens = line[..place].trim().is_empty();
        let number = !opens && line[..place].trim().chars().all(|sign| sign.is_ascii_digit());
        match sign {
            '<' => out += "&lt;",
            '>' => out += "&gt;",
            '&' => out += "&amp;",
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '~' | '$' => {
                out.push('\\');
                out.push(sign);
            }
            '#' | '+' | '-' | '=' if opens => {
                out.push('\\');
                out.push(sign);
            }
            '.' | ')' if number && line[place + 1..].starts_with(' ') => {
                out.push('\\');
                out.push(sign);
            }
            sign => out.push(sign),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::demo;
    use crate::report::document::Column;

    #[test]
    fn a_table_as_sites_read_it() {
        let mut found = Table::new([Column::left("Bed"), Column::right("Need, lb")]).caption("N");
        found.row(["a|b".into(), Text::new().value("3.2")]);
        found.row(["c".into()]);
        found.total = Some(vec!["All".into(), "3.2".into()]);
        let expected = "**N**\n\n| Bed | Need, lb |\n| :--- | ---: |\n| a\\|b | 3.2 |\n| c |  |\n\
                        | **All** | **3.2** |";
        assert_eq!(table(&found), expected);
    }

    #[test]
    fn signs_stay_signs() {
        assert_eq!(
            escape("<b>*x*_y_&`z` [1](2)"),
            "&lt;b&gt;\\*x\\*\\_y\\_&amp;\\`z\\` \\[1\\](2)"
        );
        assert_eq!(escape("- x - y"), "\\- x - y");
        assert_eq!(escape("12. May 1.5"), "12\\. May 1.5");
        assert_eq!(escape("a\nb\u{a0}c"), "a b c");
        assert_eq!(code("a`b|c"), "`` a`b|c ``");
        assert_eq!(in_cell(&Text::new().code("b|c")), "`b\\|c`");
        assert_eq!(weighted(" now "), " **now** ");
    }

    #[test]
    fn work_has_boxes_and_working_folds() {
        let text = render(&demo::document());
        assert!(text.contains(
            "**Sat 8 May 2027** before planting\n\n- [x] north 1: 1.5 lb feather meal  \n"
        ));
        assert!(text.contains("- [ ] north 1: 4.75 lb feather meal"));
        assert!(
            text.contains("<details>\n<summary>How nitrogen short comes to 0.14 lb</summary>\n\n")
        );
        assert!(text.contains("> **Caution:** Blood"));
        assert_eq!(text.matches("<b>").count(), 1, "in the code span alone");
    }
}
