//! The parser's words for what it cannot read, turned into a grower's.

use std::ops::Range;

use super::syntax::{begins_field, heading_name, is_heading, line_start, place};
use crate::fault::{Fault, dates, syntax};
use crate::figure::Place;

/// Turns the parser's words into a grower's.
pub fn reword(source: &str, message: &str, span: Range<usize>, line: Range<usize>) -> Fault {
    let text = &source[line.clone()];
    let (field, value) = match text.split_once('=') {
        Some((field, value)) => (field.trim(), value),
        None => (text.trim(), ""),
    };
    let start = source.floor_char_boundary(span.start.min(source.len()));
    let end = source.floor_char_boundary(span.end.clamp(start, source.len()));
    let marked = source[start..end].trim_end();
    let at = place(start..start + marked.len().max(end - start).min(marked.len().max(1)));
    let value_at = place_of_value(&line, text);
    let whole = value.split('#').next().unwrap_or_default().trim();
    if is_heading(text) && !message.starts_with("duplicate") {
        return syntax::broken_heading(place_of_line(&line, text), text);
    }
    match message {
        m if m.starts_with("string values must be quoted") => {
            if marked.is_empty() {
                return syntax::no_value(at, field);
            }
            if ["true", "false", "yes", "no"].contains(&marked.to_lowercase().as_str()) {
                return syntax::not_true_or_false(at, marked);
            }
            if looks_like_date(marked) {
                return dates::no_such_day(at, field_before(source, start), marked);
            }
            syntax::unquoted(at, field_before(source, start), marked)
        }
        m if m.starts_with("invalid date") || m.starts_with("invalid time") => {
            dates::no_such_day(at, field_before(source, start), marked)
        }
        m if m.starts_with("duplicate key") => {
            let heading = is_heading(text);
            let first = first_of(source, &line, marked, heading);
            syntax::twice(at, marked, first, heading)
        }
        m if m.starts_with("cannot extend") => syntax::twice(at, marked, None, true),
        m if m.starts_with("key with no value") || m.starts_with("missing value") => {
            let words = text.split(['=', '"', '\'']).next().unwrap_or_default();
            let named = place_of_line(&(line.start..line.start + words.len()), words);
            match words.split_once(':') {
                Some((before, _)) => {
                    let colon = line.start + before.len();
                    syntax::colon(place(colon..colon + 1), before.trim())
                }
                None if text.contains('=') => syntax::field_of_two_words(named, field),
                None => syntax::word_alone(place_of_line(&line, text), text.trim()),
            }
        }
        m if m.starts_with("unexpected key or value") => {
            let after = source[start..line.end].trim_start();
            if after.starts_with(',') && whole.chars().filter(|c| *c == ',').count() == 1 {
                return syntax::decimal_comma(value_at, whole);
            }
            if whole.starts_with('\'') {
                return syntax::quote_marks(value_at, field, whole);
            }
            syntax::more_after_value(place(start..line.start + text.trim_end().len()))
        }
        m if m.starts_with("missing opening quote") => syntax::quote_marks(value_at, field, whole),
        m if m.contains("visible characters") || m.starts_with("invalid comment character") => {
            syntax::unseen_character(at)
        }
        m if m.contains("string") && m.starts_with("invalid") => {
            syntax::quote_open(place_of_quote(source, &line, start))
        }
        m if m.starts_with("missing escaped") || m.starts_with("too few unicode") => {
            syntax::backslash(at)
        }
        m if m.starts_with("missing comma") || m.starts_with("extra assignment") => {
            syntax::comma_missing(at)
        }
        m if m.starts_with("extra comma") => syntax::comma_twice(at),
        m if m.starts_with("missing assignment") => syntax::equals_missing(at),
        m if m.starts_with("extra `=`") => syntax::more_after_value(at),
        m if m.starts_with("invalid boolean") => syntax::not_true_or_false(value_at, whole),
        m if m.starts_with("invalid unquoted key") => syntax::odd_field_name(at, marked),
        m if m.contains("keys cannot be empty") || m.starts_with("invalid key") => {
            syntax::nameless_field(at)
        }
        m if m.starts_with("carriage return") => syntax::old_line_end(at),
        m if m.contains("recurse") || m.contains("recursion") => syntax::too_deep(at),
        m if m.starts_with("unclosed") => {
            syntax::bracket_open(at, if m.contains("array") { '[' } else { '{' })
        }
        m if is_about_number(m) => {
            let number =
                source[line.clone()][..].get(value_offset(text)..).map_or(whole, str::trim);
            let number = number.split(['#', ',', '}', ']']).next().unwrap_or(number).trim();
            syntax::bad_number(value_at, number)
        }
        _ => syntax::unreadable(place_of_line(&line, text)),
    }
}

fn is_about_number(message: &str) -> bool {
    ["integer", "float", "mantissa", "fraction", "exponent", "sign", "leading zero", "radix", "`_`"]
        .iter()
        .any(|word| message.contains(word))
        || message.contains("number")
}

fn looks_like_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split(['/', '.', '-']).collect();
    parts.len() == 3
        && parts.iter().all(|part| {
            !part.is_empty() && part.len() <= 4 && part.chars().all(|c| c.is_ascii_digit())
        })
}

/// The name of the field whose value stands here, also within braces.
fn field_before(source: &str, at: usize) -> &str {
    let line = &source[line_start(source, at)..at];
    let before = line.rsplit_once('=').map_or("", |(before, _)| before);
    before.rsplit(['{', ',', '[']).next().unwrap_or_default().trim()
}

fn value_offset(text: &str) -> usize {
    text.find('=').map_or(0, |at| at + 1)
}

fn place_of_value(line: &Range<usize>, text: &str) -> Place {
    let from = value_offset(text);
    let value = text[from..].split('#').next().unwrap_or_default();
    let start = line.start + from + (value.len() - value.trim_start().len());
    place(start..start + value.trim().len())
}

fn place_of_line(line: &Range<usize>, text: &str) -> Place {
    let start = line.start + (text.len() - text.trim_start().len());
    place(start..start + text.trim().len())
}

/// The quote that opens the text which an error ends.
fn place_of_quote(source: &str, line: &Range<usize>, at: usize) -> Place {
    let before = &source[line.start..at.clamp(line.start, line.end)];
    let mut quote: Option<(usize, char)> = None;
    for (at, c) in before.char_indices() {
        match quote {
            Some((_, mark)) if mark == c => quote = None,
            None if matches!(c, '"' | '\'') => quote = Some((at, c)),
            _ => {}
        }
    }
    let start = line.start + quote.map_or(0, |(at, _)| at);
    place(start..start + 1)
}

/// Where a field or heading that is said twice stood first.
fn first_of(source: &str, line: &Range<usize>, name: &str, heading: bool) -> Option<Place> {
    let before = &source[..line.start];
    let mut at = before.len();
    let mut first = None;
    for text in before.split_inclusive('\n').rev() {
        at -= text.len();
        let trimmed = text.trim();
        if heading {
            let this = heading_name(&source[line.clone()]);
            if trimmed.starts_with('[') && heading_name(trimmed) == this {
                first = Some(place_of_line(&(at..at + text.len()), text));
            }
        } else if trimmed.starts_with('[') {
            break;
        } else if begins_field(text) && text.split('=').next().map(str::trim) == Some(name) {
            let start = at + (text.len() - text.trim_start().len());
            first = Some(place(start..start + name.len()));
        }
    }
    first
}
