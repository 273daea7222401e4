//! Text of a page: what each span means becomes an element or a class.

use maud::{Markup, html};

use super::anchors::Anchors;
use crate::report::text::{Span, Text, Tone};

/// Sets a text. Spans beside each other that lead to one place are one link.
pub(super) fn text(text: &Text, anchors: &Anchors) -> Markup {
    let target = |found: &Span| found.link.as_deref().and_then(|link| anchors.find(link));
    html! {
        @for run in text.spans.chunk_by(|one, next| target(one) == target(next)) {
            @let inner = html! { @for found in run { (span(found)) } };
            @match run.first().and_then(target) {
                Some(name) => { a href={ "#" (name) } { (inner) } }
                None => (inner),
            }
        }
    }
}

fn span(span: &Span) -> Markup {
    let text = printable(&span.text);
    match span.tone {
        Tone::Plain => html! { (text) },
        Tone::Value => html! { span.value { (minus(&text)) } },
        Tone::Unit => html! { span.unit { (raised(&text)) } },
        Tone::Emphasis => html! { strong { (text) } },
        Tone::Warning => html! { strong.warning { (text) } },
        Tone::Dim => html! { span.dim { (text) } },
        Tone::Code => html! { code { (text) } },
    }
}

/// Control characters have no place on a page.
fn printable(text: &str) -> String {
    let plain = |sign: char| match sign {
        '\n' | '\r' | '\t' => ' ',
        sign if sign.is_control() => '\u{fffd}',
        sign => sign,
    };
    text.chars().map(plain).collect()
}

/// A number below zero has a minus sign, not a hyphen.
fn minus(text: &str) -> String {
    match text.strip_prefix('-') {
        Some(rest) => format!("−{rest}"),
        None => text.to_owned(),
    }
}

/// Writes the powers of a unit raised: "lb/1000 ft²".
pub(super) fn raised(text: &str) -> String {
    let signs: Vec<char> = text.chars().collect();
    let at = |index: usize| signs.get(index).copied();
    let power = |index: usize| {
        let after_letter = index > 0 && at(index - 1).is_some_and(|sign| sign.is_ascii_lowercase());
        after_letter && at(index + 1).is_none_or(|sign| !sign.is_alphanumeric())
    };
    signs
        .iter()
        .enumerate()
        .map(|(index, sign)| match sign {
            '2' if power(index) => '²',
            '3' if power(index) => '³',
            sign => *sign,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn powers_are_raised_and_formulas_left() {
        assert_eq!(raised("lb/1000\u{a0}ft2"), "lb/1000\u{a0}ft²");
        assert_eq!(raised("kg/m3"), "kg/m³");
        assert_eq!(raised("lb P2O5"), "lb P2O5");
        assert_eq!(raised("m2/2"), "m²/2");
    }
}
