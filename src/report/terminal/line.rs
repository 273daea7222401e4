//! One line of a terminal: pieces of text with a meaning, measured in columns.

use std::borrow::Cow;

use unicode_width::UnicodeWidthStr;

use super::style;
use crate::report::text::{FIXED_SPACE, Tone};

/// A line, built from left to right.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Line {
    pieces: Vec<(Tone, String)>,
}

impl Line {
    pub(super) fn of(tone: Tone, text: impl AsRef<str>) -> Self {
        let mut line = Self::default();
        line.push(tone, text.as_ref());
        line
    }

    pub(super) fn push(&mut self, tone: Tone, text: &str) {
        match self.pieces.last_mut() {
            Some((last, before)) if *last == tone => before.push_str(text),
            _ if text.is_empty() => {}
            _ => self.pieces.push((tone, text.to_owned())),
        }
    }

    pub(super) fn append(&mut self, other: &Self) {
        for (tone, text) in &other.pieces {
            self.push(*tone, text);
        }
    }

    /// Its pieces from left to right.
    pub(super) fn pieces(&self) -> &[(Tone, String)] {
        &self.pieces
    }

    /// Its words alone.
    pub(super) fn text(&self) -> String {
        self.pieces.iter().map(|(_, text)| text.as_str()).collect()
    }

    /// Whether nothing of it can be seen.
    pub(super) fn is_blank(&self) -> bool {
        self.pieces.iter().all(|(_, text)| text.trim_matches(' ').is_empty())
    }

    /// Whether it takes any column; told without measuring where a sign of it is plain.
    pub(super) fn takes_room(&self) -> bool {
        let plain = |text: &String| text.bytes().any(|byte| byte.is_ascii_graphic());
        self.pieces.iter().any(|(_, text)| plain(text)) || self.width() > 0
    }

    /// How many columns it takes.
    pub(super) fn width(&self) -> usize {
        let plain = |sign: char| sign.is_ascii() || sign == FIXED_SPACE;
        if self.pieces.iter().all(|(_, text)| text.chars().all(plain)) {
            // By far the most lines, and each is measured many times.
            return self.pieces.iter().map(|(_, text)| text.chars().count()).sum();
        }
        if self.pieces.iter().all(|(_, text)| text.is_ascii()) {
            return self.pieces.iter().map(|(_, text)| text.len()).sum();
        }
        // Together, since a sign can change the width of the one before it.
        self.text().width()
    }

    /// Fills with spaces up to a column.
    pub(super) fn pad(&mut self, column: usize) {
        self.push(Tone::Plain, &" ".repeat(column.saturating_sub(self.width())));
    }

    /// The same line after a mark.
    pub(super) fn after(&self, tone: Tone, mark: &str) -> Self {
        let mut line = Self::of(tone, mark);
        line.append(self);
        line
    }

    /// The same line so many columns further right; an empty one stays empty.
    pub(super) fn indented(&self, columns: usize) -> Self {
        if self.pieces.is_empty() {
            self.clone()
        } else {
            self.after(Tone::Plain, &" ".repeat(columns))
        }
    }

    /// The same line with another tone where it was plain.
    pub(super) fn toned(mut self, tone: Tone) -> Self {
        for piece in &mut self.pieces {
            if piece.0 == Tone::Plain {
                piece.0 = tone;
            }
        }
        self
    }

    /// Writes it to the end of a text, with escape codes or without, and without spaces at its own end.
    pub(super) fn write(&self, out: &mut String, color: bool, unicode: bool) {
        let blank = |piece: &&(Tone, String)| piece.1.trim_matches([' ', FIXED_SPACE]).is_empty();
        let inked = self.pieces.len() - self.pieces.iter().rev().take_while(blank).count();
        for (index, (tone, text)) in self.pieces[..inked].iter().enumerate() {
            let text =
                if index + 1 == inked { text.trim_end_matches([' ', FIXED_SPACE]) } else { text };
            let text = match text.contains(FIXED_SPACE) {
                true => Cow::Owned(text.replace(FIXED_SPACE, " ")),
                false => Cow::Borrowed(text),
            };
            let text = if unicode { text } else { Cow::Owned(ascii(&text)) };
            let style = style(*tone);
            if color && !style.is_plain() && !text.trim().is_empty() {
                out.push_str(&format!("{style}{text}{style:#}"));
            } else {
                out.push_str(&text);
            }
        }
    }
}

/// Replaces signs that have a plain likeness of the same width; letters of any alphabet stay.
fn ascii(text: &str) -> String {
    let plain = |sign: char| match sign {
        '×' => 'x',
        '÷' => '/',
        '−' | '–' | '—' | '‑' => '-',
        '°' => ' ',
        '²' => '2',
        '³' => '3',
        '‘' | '’' => '\'',
        '“' | '”' => '"',
        '·' | '•' => '-',
        '…' => '.',
        other => other,
    };
    text.chars().map(plain).collect()
}
