//! Faults as text: file, line, column, the line with a caret under the exact value, and the way out.

use std::fmt::Write;
use std::ops::Range;

use anstyle::{AnsiColor, Style};
use unicode_width::UnicodeWidthChar;

use super::{Fault, MOST_SHOWN, in_order};
use crate::figure::Place;

/// Most characters of a line that are shown around a place.
const MOST_OF_A_LINE: usize = 100;

/// Characters kept before a place where its line is clipped.
const BEFORE_PLACE: usize = 40;

/// Columns a tab is shown as.
const TAB: usize = 4;

const BAD: Style = AnsiColor::Red.on_default().bold();
const FRAME: Style = AnsiColor::Blue.on_default().bold();
const GOOD: Style = AnsiColor::Green.on_default().bold();
const TITLE: Style = Style::new().bold();

/// Writes faults in the order of their places, with the file's name before each.
///
/// `coloured` adds terminal colours; the words and marks are the same without.
pub fn render(faults: &[Fault], source: &str, file: &str, coloured: bool) -> String {
    let faults = in_order(faults.to_vec());
    let mut lines = Lines::new(source);
    let mut page = Page { out: String::new(), coloured, file };
    for fault in faults.iter().take(MOST_SHOWN) {
        let line = lines.of(fault.place);
        let second = fault.second.as_deref();
        // A second place usually stands above the first, so it is looked for from the top.
        let second = second.map(|(place, what)| (Lines::new(source).of(*place), what.as_str()));
        page.fault(fault, &line, second.as_ref());
    }
    let more = faults.len().saturating_sub(MOST_SHOWN);
    if more > 0 {
        page.put(TITLE, format!("and {more} more faults; mend the ones above and run it again"));
        page.out.push('\n');
    } else {
        page.out.pop();
    }
    page.out
}

/// The text being written.
struct Page<'a> {
    out: String,
    coloured: bool,
    file: &'a str,
}

impl Page<'_> {
    fn put(&mut self, style: Style, text: impl AsRef<str>) {
        let text = text.as_ref();
        if self.coloured {
            let _ = write!(self.out, "{style}{text}{style:#}");
        } else {
            self.out.push_str(text);
        }
    }

    fn fault(&mut self, fault: &Fault, line: &Line, second: Option<&(Line, &str)>) {
        let widest = second.map_or(line.number, |(other, _)| other.number.max(line.number));
        let gutter = widest.to_string().len();
        self.put(BAD, "error");
        self.put(TITLE, format!(": {}\n", fault.title));
        self.line(line, gutter, "-->", ('^', BAD), &fault.label);
        if let Some((line, what)) = second {
            self.line(line, gutter, ":::", ('-', FRAME), what);
        }
        self.tail(gutter, "help", GOOD, &fault.help);
        if let Some(note) = &fault.note {
            self.tail(gutter, "note", TITLE, note);
        }
        self.out.push('\n');
    }

    fn line(&mut self, line: &Line, gutter: usize, arrow: &str, mark: (char, Style), label: &str) {
        self.put(FRAME, format!("{:gutter$}{arrow} ", ""));
        let _ = writeln!(self.out, "{}:{}:{}", self.file, line.number, line.column);
        self.put(FRAME, format!("{:gutter$} |\n", ""));
        self.put(FRAME, format!("{:>gutter$} |", line.number));
        let _ = writeln!(
            self.out,
            "{}{}",
            if line.shown.is_empty() { "" } else { " " },
            line.shown.trim_end()
        );
        self.put(FRAME, format!("{:gutter$} |", ""));
        let carets: String = std::iter::repeat_n(mark.0, line.mark.len()).collect();
        let _ = write!(self.out, " {:1$}", "", line.mark.start);
        self.put(mark.1, format!("{carets} {label}").trim_end());
        self.out.push('\n');
    }

    fn tail(&mut self, gutter: usize, word: &str, style: Style, text: &str) {
        self.put(FRAME, format!("{:gutter$} = ", ""));
        self.put(style, word);
        // Further lines of a text stand under its first.
        let mut lines = text.lines();
        let _ = writeln!(self.out, ": {}", lines.next().unwrap_or_default());
        for line in lines {
            let indent = if line.is_empty() { 0 } else { gutter + 9 };
            let _ = writeln!(self.out, "{:indent$}{line}", "");
        }
    }
}

/// One line as shown: clipped around a place, which is given in columns of the screen.
struct Line {
    number: usize,
    column: usize,
    shown: String,
    mark: Range<usize>,
}

/// Finds lines, walking forward once through the text.
struct Lines<'s> {
    source: &'s str,
    start: usize,
    number: usize,
}

impl<'s> Lines<'s> {
    const fn new(source: &'s str) -> Self {
        Self { source, start: 0, number: 1 }
    }

    /// The line a place begins on; places must be asked for in order.
    fn of(&mut self, place: Place) -> Line {
        let source = self.source;
        let from = source.floor_char_boundary(place.start as usize).max(self.start);
        let to = source.floor_char_boundary(place.end as usize).max(from);
        while let Some(end) = source[self.start..from].find('\n') {
            self.start += end + 1;
            self.number += 1;
        }
        let rest = &source[self.start..];
        let text = rest.find('\n').map_or(rest, |end| &rest[..end]);
        let text = text.strip_suffix('\r').unwrap_or(text);
        let before = (from - self.start).min(text.len());
        let after = (to - self.start).clamp(before, text.len());
        let head = &text[..before];
        // A byte order mark is no column.
        let column = head.chars().filter(|c| *c != '\u{feff}').count() + 1;
        let (shown, mark) = clip_line(head, &text[before..after], &text[after..]);
        Line { number: self.number, column, shown, mark }
    }
}

/// Keeps at most [`MOST_OF_A_LINE`] characters around the mark.
fn clip_line(head: &str, marked: &str, tail: &str) -> (String, Range<usize>) {
    let mut shown = String::new();
    let mut room = MOST_OF_A_LINE;
    let whole = [head, marked, tail].iter().all(|part| {
        let count = part.chars().take(room + 1).count();
        let fits = count <= room;
        room = room.saturating_sub(count);
        fits
    });
    let most_before = if whole { MOST_OF_A_LINE } else { BEFORE_PLACE };
    let from = head.char_indices().rev().take(most_before).last().map_or(head.len(), |(at, _)| at);
    if from > 0 {
        shown.push('…');
    }
    let mut left = MOST_OF_A_LINE;
    let mut put = |part: &str, left: &mut usize| {
        for c in part.chars().take(*left) {
            push_visible(&mut shown, c);
        }
        *left = left.saturating_sub(part.chars().take(*left).count());
        unicode_width::UnicodeWidthStr::width(shown.as_str())
    };
    let start = put(&head[from..], &mut left);
    let end = put(marked, &mut left).max(start + 1);
    put(tail, &mut left);
    if left == 0 && !whole {
        shown.push('…');
    }
    (shown, start..end)
}

/// Shows tabs as blanks and what cannot be seen as a box.
fn push_visible(out: &mut String, c: char) {
    match c {
        '\t' => out.extend(std::iter::repeat_n(' ', TAB)),
        '\u{feff}' => {}
        c if c.is_control() || c.width().is_none() => out.push('\u{fffd}'),
        c => out.push(c),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn place(start: usize, end: usize) -> Place {
        Place { start: start as u32, end: end as u32 }
    }

    #[test]
    fn a_fault_is_shown_with_its_line_and_caret() {
        let source = "[[bed]]\ncrop = \"brocoli\"\n";
        let fault = Fault::new(
            place(15, 24),
            "bed `north-3` plants an unknown crop",
            "did you mean `broccoli`?",
        )
        .label("not in the crop table");
        let text = render(&[fault], source, "season.toml", false);
        assert_eq!(
            text,
            "error: bed `north-3` plants an unknown crop\n \
             --> season.toml:2:8\n  \
             |\n\
             2 | crop = \"brocoli\"\n  \
             |        ^^^^^^^^^ not in the crop table\n  \
             = help: did you mean `broccoli`?\n"
        );
    }

    #[test]
    fn colours_add_nothing_but_colours() {
        let fault = Fault::new(place(0, 1), "a", "b").label("c").note("d").and(place(2, 3), "e");
        let faults = [fault];
        let plain = render(&faults, "x\ny", "f", false);
        let coloured = render(&faults, "x\ny", "f", true);
        assert_ne!(plain, coloured);
        assert_eq!(anstream::adapter::strip_str(&coloured).to_string(), plain);
    }

    #[test]
    fn columns_count_characters_and_long_lines_are_clipped() {
        let source = format!("name = \"🌱\" # {}\nx = \"{}\"", "é".repeat(300), "y".repeat(5000));
        let at = source.find("x =").unwrap_or(0);
        let fault = Fault::new(place(at + 4, source.len()), "too long", "shorten it");
        let text = render(&[fault], &source, "f", false);
        assert!(text.contains("f:2:5"), "{text}");
        assert!(text.lines().all(|line| line.chars().count() < 110), "{text}");
        let fault = Fault::new(place(7, 13), "a plant", "none");
        let text = render(&[fault], &source, "f", false);
        assert!(text.contains("f:1:8"), "{text}");
    }
}
