//! From text to tables: what cannot be read is told in a grower's words, and the rest is read on.
//!
//! The parser goes on after an error, but what it then makes of the lines around it cannot be
//! trusted. So the lines with an error are passed over (blanked out, which keeps every place), and
//! the rest is parsed again. A bracket that is never closed swallows the tables after it; such
//! brackets are looked for first.

use std::ops::Range;
use std::sync::Arc;

use toml::de::DeTable;

use super::reword::reword;
use super::table::Findings;
use crate::fault::syntax;
use crate::figure::Place;

/// How often passing lines over is tried before only the syntax is told.
const MOST_ROUNDS: usize = 4;

pub fn place(range: Range<usize>) -> Place {
    let at = |byte: usize| u32::try_from(byte).unwrap_or(u32::MAX);
    Place { start: at(range.start), end: at(range.end) }
}

/// Makes a text readable that is not: returns it with faulty lines blanked out, or nothing where
/// what is left cannot be trusted.
pub fn clean(source: &str, errors: Vec<toml::de::Error>, into: &mut Findings) -> Option<String> {
    let mut text = source.to_owned();
    let mut errors = Some(errors);
    for (at, open) in unclosed(source) {
        let end = end_of_statement(source, at);
        into.push(syntax::bracket_open(place(at..at + 1), open));
        Arc::make_mut(&mut into.damage).push(place(line_start(source, at)..end));
        errors = None;
    }
    text = blank(text, &into.damage);
    for round in 0..MOST_ROUNDS {
        let errors = match errors.take() {
            Some(errors) => errors,
            None => DeTable::parse_recoverable(&text).1,
        };
        if errors.is_empty() {
            note_headings(source, into);
            return Some(text);
        }
        // Later errors are only what is left of earlier ones.
        if round == 0 {
            tell(source, &errors, into);
        }
        let spans: Vec<Range<usize>> = errors.iter().filter_map(toml::de::Error::span).collect();
        for span in spans {
            let line = line_at(source, span.start.min(source.len()));
            Arc::make_mut(&mut into.damage).push(place(spoilt(source, &line)));
        }
        text = blank(text, &into.damage);
    }
    None
}

/// Tells each error once a line: the first that the parser found there.
fn tell(source: &str, errors: &[toml::de::Error], into: &mut Findings) {
    let mut told: Vec<Range<usize>> = Vec::new();
    for error in errors {
        let span = error.span().unwrap_or_default();
        let line = line_at(source, span.start.min(source.len()));
        if told.iter().any(|range| range.contains(&line.start)) {
            continue;
        }
        told.push(spoilt(source, &line));
        into.push(reword(source, error.message(), span, line));
    }
}

pub fn line_start(source: &str, at: usize) -> usize {
    source[..at].rfind('\n').map_or(0, |end| end + 1)
}

/// The line around a byte, without its end.
fn line_at(source: &str, at: usize) -> Range<usize> {
    let mut at = source.floor_char_boundary(at);
    // An error at the very end of a text belongs to its last line that says something.
    if at == source.len() {
        at = source.trim_end().len();
    }
    let start = line_start(source, at);
    let end = source[start..].find('\n').map_or(source.len(), |end| start + end);
    start..end
}

pub fn is_heading(line: &str) -> bool {
    let line = line.trim();
    line.starts_with('[') || (line.ends_with(']') && !line.contains('='))
}

/// Whether a line plainly begins a table: brackets around names and nothing else but a remark.
fn begins_table(line: &str) -> bool {
    let line = line.split('#').next().unwrap_or_default().trim();
    let inner = line.strip_prefix("[[").and_then(|rest| rest.strip_suffix("]]"));
    let inner = inner.or_else(|| line.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')));
    inner.is_some_and(|name| !name.trim().is_empty() && name.chars().all(is_name_part))
}

const fn is_name_part(c: char) -> bool {
    c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.' | ' ')
}

/// Whether a line plainly begins a field: a name and an equals sign.
pub fn begins_field(line: &str) -> bool {
    line.split_once('=').is_some_and(|(name, _)| {
        let name = name.trim();
        !name.is_empty() && name.chars().all(|c| is_name_part(c) && c != ' ')
    })
}

/// What a faulty line spoils: itself, or, where it is a heading, the table under it and the tables
/// within that.
fn spoilt(source: &str, line: &Range<usize>) -> Range<usize> {
    let text = &source[line.clone()];
    if !is_heading(text) {
        return line.start..line.end.max(line.start + 1).min(source.len());
    }
    let within = format!("{}.", heading_name(text));
    let mut at = line.end;
    for line in source[line.end..].split_inclusive('\n') {
        let heading = line.trim_start().starts_with('[');
        if heading && !(within.len() > 1 && heading_name(line).starts_with(&within)) {
            break;
        }
        at += line.len();
    }
    line.start..at
}

pub fn heading_name(line: &str) -> &str {
    line.split('#').next().unwrap_or_default().trim().trim_matches(['[', ']']).trim()
}

/// Where a value that never closes is taken to end: before the next field or table.
fn end_of_statement(source: &str, from: usize) -> usize {
    let mut at = line_start(source, from);
    let first = at;
    for line in source[at..].split_inclusive('\n') {
        if at > first && (begins_field(line) || begins_table(line)) {
            return at;
        }
        at += line.len();
    }
    source.len()
}

/// Finds brackets of values that are still open where a new field or table plainly begins.
fn unclosed(source: &str) -> Vec<(usize, char)> {
    let mut found = Vec::new();
    let mut open: Vec<(usize, char)> = Vec::new();
    let mut at = 0;
    for line in source.split_inclusive('\n') {
        let starts_anew = begins_table(line) || begins_field(line);
        if starts_anew && let Some(first) = open.first() {
            // Within braces a field may begin a line; a table may not, nor a field in a list.
            let in_braces = open.last().is_some_and(|(_, c)| *c == '{');
            if !in_braces || begins_table(line) || line_has_open_value(source, first.0) {
                found.push(*first);
                open.clear();
            }
        }
        if open.is_empty() && !line.contains('=') {
            at += line.len();
            continue;
        }
        let from = if open.is_empty() { line.find('=').unwrap_or(0) } else { 0 };
        brackets(line, from, at, &mut open);
        at += line.len();
    }
    found.extend(open.first());
    found
}

/// Whether something already stands between the bracket and the end of its line: then a new field
/// on the next line is not one of its own.
fn line_has_open_value(source: &str, bracket: usize) -> bool {
    let rest = &source[bracket + 1..];
    let rest = rest.split('\n').next().unwrap_or_default().trim();
    !rest.is_empty() && !rest.ends_with([',', '{', '['])
}

/// Follows the brackets of a line, outside of quotes and remarks.
fn brackets(line: &str, from: usize, line_at: usize, open: &mut Vec<(usize, char)>) {
    let mut quote: Option<char> = None;
    let mut escaped = false;
    for (at, c) in line.char_indices().skip_while(|(at, _)| *at < from) {
        match (quote, c) {
            (Some('"'), '\\') if !escaped => {
                escaped = true;
                continue;
            }
            (Some(mark), c) if c == mark && !escaped => quote = None,
            (Some(_), _) => {}
            (None, '"' | '\'') => quote = Some(c),
            (None, '#') => return,
            (None, '[' | '{') => open.push((line_at + at, c)),
            (None, ']' | '}') => {
                open.pop();
            }
            _ => {}
        }
        escaped = false;
    }
}

/// Writes blanks over all damage, keeping line ends and the length of the text.
fn blank(text: String, damage: &[Place]) -> String {
    let mut bytes = text.into_bytes();
    for range in damage {
        let range = range.start as usize..(range.end as usize).min(bytes.len());
        for byte in bytes.get_mut(range).into_iter().flatten() {
            if *byte != b'\n' {
                *byte = b' ';
            }
        }
    }
    // Damage is whole lines, so that no letter is cut in two.
    String::from_utf8(bytes).unwrap_or_default()
}

fn note_headings(source: &str, into: &mut Findings) {
    let mut at = 0;
    for line in source.split_inclusive('\n') {
        if line.trim_start().starts_with('[') {
            Arc::make_mut(&mut into.headings).push(u32::try_from(at).unwrap_or(u32::MAX));
        }
        at += line.len();
    }
    Arc::make_mut(&mut into.damage).sort();
}
