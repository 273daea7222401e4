//! What a figure is called.

use std::borrow::Cow;
use std::fmt;

/// What can name a figure. Names put together by `format_args!` are written out only where they are
/// kept.
pub trait Label {
    /// The name.
    fn text(self) -> Cow<'static, str>;
}

impl Label for &'static str {
    fn text(self) -> Cow<'static, str> {
        self.into()
    }
}

impl Label for String {
    fn text(self) -> Cow<'static, str> {
        self.into()
    }
}

impl Label for Cow<'static, str> {
    fn text(self) -> Cow<'static, str> {
        self
    }
}

impl Label for fmt::Arguments<'_> {
    fn text(self) -> Cow<'static, str> {
        self.as_str().map_or_else(|| self.to_string().into(), Cow::Borrowed)
    }
}
