//! Breaking text into lines between words, its meanings kept.

use unicode_width::UnicodeWidthStr;

use super::line::Line;
use crate::report::text::{FIXED_SPACE, Text, Tone};

/// The words of a text: what stands between spaces, a number and its unit being one word.
/// Control characters are shown as a replacement mark, so that no name can steer the terminal.
pub(super) fn words(text: &Text) -> Vec<Line> {
    let mut words = Vec::new();
    let mut word = Line::default();
    for span in &text.spans {
        if !span.text.chars().any(char::is_control) {
            for (at, piece) in span.text.split(parts_words).enumerate() {
                if at > 0 && word.takes_room() {
                    words.push(std::mem::take(&mut word));
                }
                word.push(span.tone, piece);
            }
            continue;
        }
        let mut piece = String::new();
        for sign in span.text.chars() {
            if parts_words(sign) {
                word.push(span.tone, &std::mem::take(&mut piece));
                if word.takes_room() {
                    words.push(std::mem::take(&mut word));
                }
            } else if sign.is_control() {
                piece.push('\u{fffd}');
            } else {
                piece.push(sign);
            }
        }
        word.push(span.tone, &piece);
    }
    if word.takes_room() {
        words.push(word);
    }
    words
}

/// Whether every sign of a text takes one column and is shown as it is: by far the most texts, whose
/// words need not be looked at one by one.
pub(super) fn countable(text: &Text) -> bool {
    let plain = |sign: char| sign.is_ascii_graphic() || sign == ' ' || sign == FIXED_SPACE;
    text.spans.iter().all(|span| span.text.chars().all(plain))
}

/// The words of a countable text in pieces of one meaning, each with whether a word begins with it.
fn pieces(text: &Text) -> impl Iterator<Item = (Tone, &str, bool)> {
    let mut parted = true;
    let pieces = text.spans.iter().flat_map(|span| {
        // Of all spaces only this one is countable and parts words.
        span.text.split(' ').enumerate().map(|(at, piece)| (span.tone, piece, at > 0))
    });
    pieces.filter_map(move |(tone, piece, after_space)| {
        parted |= after_space;
        (!piece.is_empty()).then(|| (tone, piece, std::mem::take(&mut parted)))
    })
}

/// The words of a text with single spaces between them.
pub(super) fn joined_words(text: &Text) -> String {
    if !countable(text) {
        return words(text).iter().map(Line::text).collect::<Vec<_>>().join(" ");
    }
    let mut out = String::with_capacity(text.spans.iter().map(|span| span.text.len()).sum());
    for (_, piece, begins) in pieces(text) {
        if begins && !out.is_empty() {
            out.push(' ');
        }
        out.push_str(piece);
    }
    out
}

/// What each sign of a text means, without the spaces between words.
pub(super) fn tones(text: &Text) -> Vec<Tone> {
    let each = |tone: Tone, text: &str| std::iter::repeat_n(tone, text.chars().count());
    if countable(text) {
        return pieces(text).flat_map(|(tone, piece, _)| each(tone, piece)).collect();
    }
    let words = words(text);
    words.iter().flat_map(Line::pieces).flat_map(|(tone, text)| each(*tone, text)).collect()
}

/// Whether words end at a sign.
fn parts_words(sign: char) -> bool {
    sign.is_whitespace() && sign != FIXED_SPACE
}

/// Columns of the whole text on one line.
pub(super) fn natural(text: &Text) -> usize {
    measured(text).0
}

/// Columns of the whole text on one line and of its longest word.
pub(super) fn measured(text: &Text) -> (usize, usize) {
    if countable(text) {
        let (mut whole, mut longest, mut word) = (0, 0, 0);
        for (_, piece, begins) in pieces(text) {
            if begins {
                whole += usize::from(whole > 0);
                word = 0;
            }
            let columns = piece.chars().count();
            whole += columns;
            word += columns;
            longest = longest.max(word);
        }
        return (whole, longest);
    }
    let widths: Vec<usize> = words(text).iter().map(Line::width).collect();
    let whole = widths.iter().sum::<usize>() + widths.len().saturating_sub(1);
    (whole, widths.into_iter().max().unwrap_or_default())
}

/// Columns of its longest word.
pub(super) fn longest_word(text: &Text) -> usize {
    measured(text).1
}

/// Breaks a text into lines of at most `width` columns. A word longer than that is cut.
pub(super) fn wrap(text: &Text, width: usize) -> Vec<Line> {
    let width = width.max(2);
    if countable(text) {
        return wrap_countable(text, width);
    }
    let mut lines: Vec<Line> = Vec::new();
    let mut line = Line::default();
    // The width of the line so far; words are measured once each.
    let mut used = 0;
    for word in words(text) {
        let own = word.width();
        if used > 0 && used + 1 + own > width {
            lines.push(std::mem::take(&mut line));
            used = 0;
        }
        if used > 0 {
            line.push(Tone::Plain, " ");
            used += 1;
        }
        if own <= width {
            line.append(&word);
            used += own;
            continue;
        }
        let mut parts = cut(&word, width);
        line = parts.pop().unwrap_or_default();
        used = line.width();
        lines.extend(parts);
    }
    if used > 0 {
        lines.push(line);
    }
    lines
}

/// The same for a countable text.
fn wrap_countable(text: &Text, width: usize) -> Vec<Line> {
    let pieces: Vec<(Tone, &str, bool)> = pieces(text).collect();
    let mut lines = Vec::new();
    let mut line = Line::default();
    let mut used = 0;
    for word in pieces.chunk_by(|_, (.., begins)| !begins) {
        let columns: usize = word.iter().map(|(_, piece, _)| piece.chars().count()).sum();
        if used > 0 && used + 1 + columns > width {
            lines.push(std::mem::take(&mut line));
            used = 0;
        }
        if used > 0 {
            line.push(Tone::Plain, " ");
            used += 1;
        }
        if used + columns <= width {
            word.iter().for_each(|(tone, piece, _)| line.push(*tone, piece));
            used += columns;
            continue;
        }
        for (tone, sign) in
            word.iter().flat_map(|(tone, piece, _)| piece.chars().map(|c| (*tone, c)))
        {
            if used == width {
                lines.push(std::mem::take(&mut line));
                used = 0;
            }
            line.push(tone, sign.encode_utf8(&mut [0; 4]));
            used += 1;
        }
    }
    if used > 0 {
        lines.push(line);
    }
    lines
}

/// Cuts a word into pieces of at most `width` columns.
fn cut(word: &Line, width: usize) -> Vec<Line> {
    let mut parts = Vec::new();
    let mut part = Line::default();
    let mut so_far = String::new();
    for (tone, text) in word.pieces() {
        for sign in text.chars() {
            so_far.push(sign);
            if so_far.width() > width && part.width() > 0 {
                parts.push(std::mem::take(&mut part));
                so_far = sign.to_string();
            }
            part.push(*tone, sign.encode_utf8(&mut [0; 4]));
        }
    }
    parts.push(part);
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wrapped(text: &Text, width: usize) -> Vec<String> {
        let written = super::super::Terminal::default().written(&wrap(text, width));
        written.lines().map(str::to_owned).collect()
    }

    #[test]
    fn lines_break_between_words_and_a_number_keeps_its_unit() {
        let text =
            Text::from("spread ").value("4.5").plain(FIXED_SPACE).unit("lb").plain(" on the\n row");
        assert_eq!(wrapped(&text, 13), ["spread 4.5 lb", "on the row"]);
        assert_eq!(wrapped(&text, 12), ["spread", "4.5 lb on", "the row"]);
        assert_eq!(natural(&text), 24);
        assert_eq!(longest_word(&text), 6);
    }

    #[test]
    fn long_and_wide_words_are_cut_at_the_width() {
        assert_eq!(wrapped(&"a pneumonoultra b".into(), 8), ["a", "pneumono", "ultra b"]);
        assert_eq!(wrapped(&"畑畑畑".into(), 5), ["畑畑", "畑"]);
        let mixed = Text::from("abc").emphasis("defgh").plain("ij");
        assert_eq!(wrapped(&mixed, 4), ["abcd", "efgh", "ij"]);
    }

    /// What is counted is set as what is measured: a sign of no width at the end makes a text one that
    /// is measured.
    #[test]
    fn a_countable_text_is_set_as_any_other() {
        let text = Text::from("  two  ")
            .value("4.5")
            .plain(FIXED_SPACE)
            .unit("lb")
            .plain(" ends, long-winded ");
        let measured = Text::from("  two  ")
            .value("4.5")
            .plain(FIXED_SPACE)
            .unit("lb")
            .plain(" ends, long-winded \u{200b} ");
        assert!(countable(&text) && !countable(&measured));
        assert_eq!(super::measured(&text), super::measured(&measured));
        assert_eq!(joined_words(&text), joined_words(&measured));
        assert_eq!(tones(&text), tones(&measured));
        for width in 2..30 {
            assert_eq!(wrap(&text, width), wrap(&measured, width), "{width}");
        }
    }

    #[test]
    fn control_characters_do_not_pass() {
        assert_eq!(wrapped(&"a\u{1b}[31mb".into(), 20), ["a\u{fffd}[31mb"]);
    }
}
