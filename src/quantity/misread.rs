//! Why a text is not the amount that was wanted, and how to put it right.

use std::fmt;

/// Most digits an amount may be written with: more than any scale or tape can tell apart.
pub(super) const MOST_DIGITS: usize = 18;

/// Why a text is not the amount that was wanted. Shown, it says what is wrong in a grower's words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Misread {
    /// Nothing is written.
    Empty {
        /// A text that works.
        example: &'static str,
    },
    /// No number stands where one must.
    NoNumber {
        /// What was written.
        text: String,
        /// A text that works.
        example: &'static str,
    },
    /// A comma where the decimal point should be.
    Comma {
        /// What was written.
        text: String,
    },
    /// More digits than can mean anything.
    TooManyDigits {
        /// How many were written.
        digits: usize,
    },
    /// A number written with an exponent.
    Exponent {
        /// What was written.
        text: String,
    },
    /// A division by nothing.
    ZeroBelow {
        /// What was written.
        text: String,
    },
    /// A number without a unit.
    NoUnit {
        /// What was written.
        text: String,
        /// What was wanted, with its article.
        noun: &'static str,
        /// A text that works.
        example: &'static str,
    },
    /// A word that is no unit known here.
    UnknownUnit {
        /// The word.
        unit: String,
        /// The nearest unit, where one is near.
        nearest: Option<&'static str>,
        /// A text that works.
        example: &'static str,
    },
    /// An amount of another kind.
    WrongKind {
        /// What was written.
        text: String,
        /// What was wanted, with its article.
        noun: &'static str,
        /// A text that works.
        example: &'static str,
    },
    /// Outside the allowed range.
    OutOfRange {
        /// What was written.
        text: String,
        /// What it is, with its article.
        noun: &'static str,
        /// The range in words.
        range: &'static str,
    },
    /// A range written high to low.
    Reversed {
        /// What was written.
        text: String,
    },
}

impl fmt::Display for Misread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty { .. } => write!(f, "nothing is written here"),
            Self::NoNumber { text, .. } => write!(f, "`{text}` does not begin with a number"),
            Self::Comma { text } => write!(f, "`{text}` has a comma where the decimal point goes"),
            Self::TooManyDigits { digits } => {
                write!(
                    f,
                    "a number of {digits} digits is more than any scale or tape can tell apart"
                )
            }
            Self::Exponent { text } => {
                write!(f, "`{text}` is written with an exponent, which is not read here")
            }
            Self::ZeroBelow { text } => write!(f, "`{text}` divides by nothing"),
            Self::NoUnit { text, noun, .. } => {
                write!(f, "`{text}` has no unit, and {noun} needs one")
            }
            Self::UnknownUnit { unit, .. } => write!(f, "`{unit}` is not a unit known here"),
            Self::WrongKind { text, noun, .. } => write!(f, "`{text}` is not {noun}"),
            Self::OutOfRange { text, noun, .. } => write!(f, "`{text}` is out of range for {noun}"),
            Self::Reversed { text } => write!(f, "`{text}` runs from high to low"),
        }
    }
}

impl std::error::Error for Misread {}

impl Misread {
    /// How to put it right, in one sentence.
    pub fn mend(&self) -> String {
        match self {
            Self::Empty { example }
            | Self::NoNumber { example, .. }
            | Self::NoUnit { example, .. } => {
                format!("write it like `{example}`")
            }
            Self::Comma { text } => format!("write a point: `{}`", text.replacen(',', ".", 1)),
            Self::TooManyDigits { .. } => format!("write at most {MOST_DIGITS} digits"),
            Self::Exponent { .. } => {
                "write the number out, like `1000` for 1e3 or `0.001` for 1e-3".to_owned()
            }
            Self::ZeroBelow { .. } => "write what is divided by as more than 0".to_owned(),
            Self::UnknownUnit { nearest: Some(unit), .. } => format!("did you mean `{unit}`?"),
            Self::UnknownUnit { example, .. } => format!("write it like `{example}`"),
            Self::WrongKind { noun, example, .. } => format!("write {noun}, like `{example}`"),
            Self::OutOfRange { range, .. } => format!("it may be {range}"),
            Self::Reversed { .. } => "write the low end first, like `2-4 lb/1000 ft2`".to_owned(),
        }
    }
}

/// Keeps a quoted text short enough to read.
pub(super) fn clip(text: &str) -> String {
    const MOST: usize = 40;
    if text.chars().count() <= MOST {
        return text.to_owned();
    }
    let mut short: String = text.chars().take(MOST).collect();
    short.push('…');
    short
}
