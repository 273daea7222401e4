//! Text as a list of spans, each tagged with what it means; colour is the renderer's choice.

use super::number::Shown;

/// The space between a number and its unit: no renderer breaks a line there.
pub const FIXED_SPACE: char = '\u{a0}';

/// What a piece of text means.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Tone {
    /// Ordinary words.
    #[default]
    Plain,
    /// A number.
    Value,
    /// The unit of a number.
    Unit,
    /// What the eye should find first.
    Emphasis,
    /// What should not be overlooked.
    Warning,
    /// What may be passed over.
    Dim,
    /// A path, a command or a name to be typed as it stands.
    Code,
}

/// A run of text with one meaning.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Span {
    /// The words.
    pub text: String,
    /// What they mean.
    pub tone: Tone,
    /// The anchor of the block that shows more, where there is one; only pages can follow it.
    pub link: Option<String>,
}

/// Spans that read as one text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Text {
    /// The spans in reading order.
    pub spans: Vec<Span>,
}

impl Text {
    /// Makes an empty text, to be built up with the methods below.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a span of any tone. An empty one is left out.
    #[must_use]
    pub fn span(mut self, tone: Tone, text: impl Into<String>) -> Self {
        let text = text.into();
        if !text.is_empty() {
            self.spans.push(Span { text, tone, link: None });
        }
        self
    }

    /// Adds ordinary words.
    #[must_use]
    pub fn plain(self, text: impl Into<String>) -> Self {
        self.span(Tone::Plain, text)
    }

    /// Adds a number.
    #[must_use]
    pub fn value(self, text: impl Into<String>) -> Self {
        self.span(Tone::Value, text)
    }

    /// Adds a unit.
    #[must_use]
    pub fn unit(self, text: impl Into<String>) -> Self {
        self.span(Tone::Unit, text)
    }

    /// Adds words that the eye should find first.
    #[must_use]
    pub fn emphasis(self, text: impl Into<String>) -> Self {
        self.span(Tone::Emphasis, text)
    }

    /// Adds words that should not be overlooked.
    #[must_use]
    pub fn warning(self, text: impl Into<String>) -> Self {
        self.span(Tone::Warning, text)
    }

    /// Adds words that may be passed over.
    #[must_use]
    pub fn dim(self, text: impl Into<String>) -> Self {
        self.span(Tone::Dim, text)
    }

    /// Adds a path, a command or a name to be typed as it stands.
    #[must_use]
    pub fn code(self, text: impl Into<String>) -> Self {
        self.span(Tone::Code, text)
    }

    /// Adds a number with its unit, kept together on one line.
    #[must_use]
    pub fn shown(self, shown: &Shown) -> Self {
        let text = self.value(&shown.number);
        if shown.unit.is_empty() {
            text
        } else {
            text.plain(FIXED_SPACE).unit(shown.unit.replace(' ', "\u{a0}"))
        }
    }

    /// Adds all of another text.
    #[must_use]
    pub fn and(mut self, other: impl Into<Text>) -> Self {
        self.spans.extend(other.into().spans);
        self
    }

    /// Reads words in which what is to be typed as it stands is set between backticks.
    pub fn with_code(words: &str) -> Self {
        let pieces = words.split('`').enumerate();
        pieces.fold(Self::new(), |text, (at, piece)| match at % 2 {
            0 => text.plain(piece),
            _ => text.code(piece),
        })
    }

    /// Gives every span of one tone another.
    #[must_use]
    pub fn toned(mut self, from: Tone, to: Tone) -> Self {
        for span in self.spans.iter_mut().filter(|span| span.tone == from) {
            span.tone = to;
        }
        self
    }

    /// Points every span so far that points nowhere to the block with this anchor.
    #[must_use]
    pub fn linked(mut self, anchor: &str) -> Self {
        for span in &mut self.spans {
            span.link.get_or_insert_with(|| anchor.to_owned());
        }
        self
    }

    /// Whether there is nothing to read.
    pub fn is_empty(&self) -> bool {
        self.spans.iter().all(|span| span.text.is_empty())
    }

    /// The words alone, with ordinary spaces.
    pub fn words(&self) -> String {
        let joined: String = self.spans.iter().map(|span| span.text.as_str()).collect();
        joined.replace(FIXED_SPACE, " ")
    }
}

impl From<&str> for Text {
    fn from(text: &str) -> Self {
        Self::new().plain(text)
    }
}

impl From<String> for Text {
    fn from(text: String) -> Self {
        Self::new().plain(text)
    }
}

impl From<&Shown> for Text {
    fn from(shown: &Shown) -> Self {
        Self::new().shown(shown)
    }
}

impl From<Shown> for Text {
    fn from(shown: Shown) -> Self {
        Self::new().shown(&shown)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_stays_with_its_unit() {
        let shown = Shown { number: "3.25".into(), unit: "lb/1000 ft2".into() };
        let text = Text::from("needs ").shown(&shown).plain("");
        assert_eq!(text.words(), "needs 3.25 lb/1000 ft2");
        let fixed: String = text.spans.iter().map(|span| span.text.as_str()).collect();
        assert_eq!(fixed, "needs 3.25\u{a0}lb/1000\u{a0}ft2");
        assert_eq!(text.spans.len(), 4);
    }

    #[test]
    fn what_stands_between_backticks_is_code() {
        let text = Text::with_code("ask `topdress bed` or `work`, then");
        let tones: Vec<_> = text.spans.iter().map(|span| (span.tone, &*span.text)).collect();
        let (plain, code) = (Tone::Plain, Tone::Code);
        let wanted = [
            (plain, "ask "),
            (code, "topdress bed"),
            (plain, " or "),
            (code, "work"),
            (plain, ", then"),
        ];
        assert_eq!(tones, wanted);
        assert_eq!(text.toned(plain, Tone::Dim).spans[0].tone, Tone::Dim);
    }

    #[test]
    fn the_first_link_stays() {
        let text = Text::from("a").linked("one").plain("b").linked("two");
        let links: Vec<_> = text.spans.iter().map(|span| span.link.as_deref()).collect();
        assert_eq!(links, [Some("one"), Some("two")]);
    }
}
