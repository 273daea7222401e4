//! From text to tables: what cannot be read is told in a grower's words, and the rest is read on.
//!
//! The parser goes on after an error, but what it then makes of the lines around it cannot be
//! trusted. So the lines with an error are passed over (blanked out, which keeps every place), and
//! the rest is parsed again. A bracket that is never closed swallows the tables after it; such
//! brackets are looked for first.

use std::borrow::Cow;
use std::ops::Range;

use toml::Spanned;
use toml::de::DeTable;

use super::table::Findings;
use crate::fault::{Fault, dates, syntax};
use crate::figure::Place;

/// How often passing lines over is tried before only the syntax is told.
const MOST_ROUNDS: usize = 4;

fn place(range: Range<usize>) -> Place {
    let at = |byte: usize| u32::try_from(byte).unwrap_or(u32::MAX);
    Place { start: at(range.start), end: at(range.end) }
}

/// Makes a text readable: returns it with faulty lines blanked out. `false` where what is left
/// cannot be trusted.
pub fn clean<'s>(source: &'s str, into: &mut Findings) -> (Cow<'s, str>, bool) {
    let mut text = Cow::Borrowed(source);
    // A byte order mark is no fault.
    if source.starts_with('\u{feff}') {
        blank(&mut text, 0..'\u{feff}'.len_utf8());
    }
    let (_, errors) = DeTable::parse_recoverable(&text);
    if errors.is_empty() {
        return (text, true);
    }
    for (at, open) in unclosed(source) {
        let end = end_of_statement(source, at);
        into.push(syntax::bracket_open(place(at..at + 1), open));
        pass_over(&mut text, source, line_start(source, at)..end, into);
    }
    for round in 0..MOST_ROUNDS {
        let (tree, errors) = DeTable::parse_recoverable(&text);
        if errors.is_empty() {
            note_headings(source, into);
            return (text, true);
        }
        // Later errors are only what is left of earlier ones.
        if round == 0 {
            tell(source, &tree, &errors, into);
        }
        let spans: Vec<Range<usize>> = errors.iter().filter_map(toml::de::Error::span).collect();
        for span in spans {
            let line = line_at(source, span.start.min(source.len()));
            pass_over(&mut text, source, spoilt(source, &line), into);
        }
    }
    (text, false)
}

/// Tells each error once a line: the first that the parser found there.
fn tell(
    source: &str,
    tree: &Spanned<DeTable<'_>>,
    errors: &[toml::de::Error],
    into: &mut Findings,
) {
    let mut told: Vec<Range<usize>> = Vec::new();
    for error in errors {
        let span = error.span().unwrap_or_default();
        let line = line_at(source, span.start.min(source.len()));
        if told.iter().any(|range| range.contains(&line.start)) {
            continue;
        }
        told.push(spoilt(source, &line));
        into.push(reword(source, tree, error.message(), span, line));
    }
}

fn line_start(source: &str, at: usize) -> usize {
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

fn is_heading(line: &str) -> bool {
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
fn begins_field(line: &str) -> bool {
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

fn heading_name(line: &str) -> &str {
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

fn pass_over(text: &mut Cow<'_, str>, source: &str, range: Range<usize>, into: &mut Findings) {
    into.damage.push(place(range.clone()));
    debug_assert_eq!(text.len(), source.len());
    blank(text, range);
}

/// Writes blanks over a range, keeping line ends and the length of the text.
fn blank(text: &mut Cow<'_, str>, range: Range<usize>) {
    let mut out = String::with_capacity(text.len());
    out.push_str(&text[..range.start]);
    for byte in text[range.clone()].bytes() {
        out.push(if byte == b'\n' { '\n' } else { ' ' });
    }
    out.push_str(&text[range.end..]);
    *text = Cow::Owned(out);
}

fn note_headings(source: &str, into: &mut Findings) {
    let mut at = 0;
    for line in source.split_inclusive('\n') {
        if line.trim_start().starts_with('[') {
            into.headings.push(u32::try_from(at).unwrap_or(u32::MAX));
        }
        at += line.len();
    }
    into.damage.sort();
}

/// Turns the parser's words into a grower's.
fn reword(
    source: &str,
    tree: &Spanned<DeTable<'_>>,
    message: &str,
    span: Range<usize>,
    line: Range<usize>,
) -> Fault {
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
            let _ = tree;
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
            let this = source[line.clone()].trim().trim_matches(['[', ']']).trim();
            if trimmed.starts_with('[') && trimmed.trim_matches(['[', ']']).trim() == this {
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
