//! Small words around numbers: one or many, and lists.

use std::fmt;

/// A count with its noun: "1 bed", "2 beds".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Count<'a> {
    /// How many.
    pub number: usize,
    /// The noun for one.
    pub one: &'a str,
    /// The noun for any other number; empty adds an "s".
    pub many: &'a str,
}

impl<'a> Count<'a> {
    /// Counts something whose plural ends in "s".
    pub const fn new(number: usize, one: &'a str) -> Self {
        Self { number, one, many: "" }
    }

    /// Counts something with a plural of its own.
    pub const fn irregular(number: usize, one: &'a str, many: &'a str) -> Self {
        Self { number, one, many }
    }
}

impl fmt::Display for Count<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { number, one, many } = self;
        match (number, many.is_empty()) {
            (1, _) => write!(f, "1 {one}"),
            (_, true) => write!(f, "{number} {one}s"),
            (_, false) => write!(f, "{number} {many}"),
        }
    }
}

/// A list in a sentence: "a", "a or b", "a, b or c".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Joined<'a, T> {
    items: &'a [T],
    word: &'a str,
}

impl<'a, T> Joined<'a, T> {
    /// All of them: "a, b and c".
    pub const fn and(items: &'a [T]) -> Self {
        Self { items, word: "and" }
    }

    /// One of them: "a, b or c".
    pub const fn or(items: &'a [T]) -> Self {
        Self { items, word: "or" }
    }
}

impl<T: fmt::Display> fmt::Display for Joined<'_, T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, item) in self.items.iter().enumerate() {
            if index > 0 && index + 1 == self.items.len() {
                write!(f, " {} ", self.word)?;
            } else if index > 0 {
                f.write_str(", ")?;
            }
            write!(f, "{item}")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_is_not_many() {
        assert_eq!(Count::new(1, "bed").to_string(), "1 bed");
        assert_eq!(Count::new(0, "bed").to_string(), "0 beds");
        assert_eq!(Count::irregular(3, "pinch", "pinches").to_string(), "3 pinches");
    }

    #[test]
    fn lists_read_as_sentences() {
        assert_eq!(Joined::or(&[""; 0]).to_string(), "");
        assert_eq!(Joined::or(&["a"]).to_string(), "a");
        assert_eq!(Joined::and(&["a", "b"]).to_string(), "a and b");
        assert_eq!(Joined::or(&["a", "b", "c"]).to_string(), "a, b or c");
    }
}
