//! Values for programs: decimals as strings of twelve significant digits, never floats.

use std::fmt::Display;
use std::io::{self, Write};

use rust_decimal::Decimal;
use serde::{Serialize, Serializer};
use serde_json::ser::Formatter;

use super::number::Scale;
use crate::hands::each;
use crate::quantity::settle;

/// An amount for a program to read: exact digits and the unit they count.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Measured {
    /// Plain digits, twelve significant ones at most.
    pub value: String,
    /// The unit as the season file takes it; empty for plain numbers and money.
    pub unit: String,
}

impl Measured {
    /// Gives a base value in the unit of a scale, unrounded but for the twelfth digit.
    pub fn new(scale: &Scale, base: Decimal) -> Self {
        let unit = match scale.symbol.strip_prefix('°') {
            Some(bare) => bare,
            None => scale.symbol,
        };
        Self { value: number(scale.value(base)), unit: unit.to_owned() }
    }
}

/// Writes a decimal in plain digits, twelve significant ones at most, halves away from zero.
pub fn number(value: Decimal) -> String {
    let settled = settle(value);
    if settled.is_zero() { "0".to_owned() } else { settled.to_string() }
}

/// A decimal, written as [`number`] writes it.
pub struct Number(pub Decimal);

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut room = [0; MOST_DIGITS];
        match digits(settle(self.0), &mut room) {
            Some(text) => serializer.serialize_str(text),
            None => serializer.serialize_str(&number(self.0)),
        }
    }
}

/// Room for a sign, a zero and a point before 28 places.
const MOST_DIGITS: usize = 31;

/// Writes a decimal as the library does, into some room from its end; nothing where its digits pass a
/// machine word. A large plan is mostly such numbers.
fn digits(value: Decimal, room: &mut [u8; MOST_DIGITS]) -> Option<&str> {
    let (mut rest, places) = (u64::try_from(value.mantissa().unsigned_abs()).ok()?, value.scale());
    let mut at = room.len();
    let mut written = 0;
    while rest > 0 || written <= places {
        at -= 1;
        if written == places && places > 0 {
            room[at] = b'.';
            at -= 1;
        }
        room[at] = b'0' + (rest % 10) as u8;
        (rest, written) = (rest / 10, written + 1);
    }
    if value.mantissa() < 0 {
        at -= 1;
        room[at] = b'-';
    }
    std::str::from_utf8(&room[at..]).ok()
}

/// Anything that is written as it is shown, such as a date.
pub struct Written<T>(pub T);

impl<T: Display> Serialize for Written<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

/// Writes an answer indented, with a line feed at its end.
///
/// # Errors
/// Where a map in it has keys that are not text.
pub fn document(answer: &impl Serialize) -> Result<String, serde_json::Error> {
    let mut page = Page(Vec::new());
    page.add(answer, 0)?;
    page.0.push(b'\n');
    String::from_utf8(page.0).map_err(serde::ser::Error::custom)
}

/// Part of an answer, as text in UTF-8; no error in practice, where all keys are text.
pub type Part = Result<Vec<u8>, serde_json::Error>;

/// Members of a long list that stand in one part of an answer.
const IN_PART: usize = 4;
/// Parts that are put together at a time.
const AT_ONCE: usize = 256;

/// Writes an answer that ends up with a long list in it, part by part: so much text at once would fill
/// the memory. The list stands empty in the answer, at its top level; its members are added when their
/// turn comes, by many hands.
pub fn with_list<F>(
    answer: &str,
    list: &str,
    members: usize,
    add: F,
) -> impl Iterator<Item = Part> + use<F>
where
    F: Fn(usize, &mut Members) -> Result<(), serde_json::Error> + Sync,
{
    // Line feeds inside texts are escaped, so that no text can hold this.
    let empty = format!("\n  \"{list}\": []");
    let place = answer.find(&empty).filter(|_| members > 0).map(|at| at + empty.len() - 1);
    let (head, tail) = answer.split_at(place.unwrap_or(answer.len()));
    let lost = (place.is_none() && members > 0).then(|| {
        Err(serde::ser::Error::custom(format!("the answer has no list `{list}` to write in")))
    });
    let members = if place.is_some() { members } else { 0 };
    let end = if members > 0 { format!("\n  {tail}") } else { String::new() };
    let part = move |number: usize| {
        let from = number * IN_PART;
        let mut part = Members { page: Page(Vec::with_capacity(PART_ROOM)), first: from == 0 };
        (from..members.min(from + IN_PART)).try_for_each(|at| add(at, &mut part))?;
        Ok(part.page.0)
    };
    let count = members.div_ceil(IN_PART);
    let some = move |from: usize| each(AT_ONCE.min(count - from), |at| part(from + at));
    let parts = (0..count).step_by(AT_ONCE).flat_map(some);
    let whole = |text: String| std::iter::once(Ok(text.into_bytes()));
    lost.into_iter().chain(whole(head.to_owned())).chain(parts).chain(whole(end))
}

/// What the members in one part mostly take, in bytes.
const PART_ROOM: usize = IN_PART << 14;

/// Members of a list [within an answer](with_list).
pub struct Members {
    page: Page,
    /// Whether the next one is the first of the list.
    first: bool,
}

impl Members {
    /// Adds one.
    ///
    /// # Errors
    /// Where a map in it has keys that are not text.
    pub fn add(&mut self, answer: &impl Serialize) -> Result<(), serde_json::Error> {
        let before = if std::mem::take(&mut self.first) { "\n    " } else { ",\n    " };
        self.page.0.extend_from_slice(before.as_bytes());
        self.page.add(answer, 2)
    }
}

/// Text being written. It comes in small pieces, most of them a single sign: these are the quicker for
/// not being copied as a slice.
struct Page(Vec<u8>);

impl Page {
    /// Adds an answer, indented as it stands so many levels deep.
    fn add(&mut self, answer: &impl Serialize, depth: usize) -> Result<(), serde_json::Error> {
        let formatter = Indented { depth, filled: false };
        answer.serialize(&mut serde_json::Serializer::with_formatter(self, formatter))
    }
}

impl Write for Page {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.write_all(bytes)?;
        Ok(bytes.len())
    }

    fn write_all(&mut self, bytes: &[u8]) -> io::Result<()> {
        match bytes {
            [byte] => self.0.push(*byte),
            several => self.0.extend_from_slice(several),
        }
        Ok(())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// Writes each member on a line of its own, two spaces deeper than what holds it.
struct Indented {
    depth: usize,
    /// Whether what is being written has a member yet.
    filled: bool,
}

impl Indented {
    /// Begins a line.
    fn line<W: ?Sized + Write>(&self, writer: &mut W, comma: bool) -> io::Result<()> {
        /// A comma, a line feed, and as many spaces as nearly every line needs.
        const LINE: &[u8] = b",\n                                ";
        let end = 2 + 2 * self.depth;
        writer.write_all(&LINE[usize::from(!comma)..end.min(LINE.len())])?;
        (LINE.len()..end).try_for_each(|_| writer.write_all(b" "))
    }

    fn open<W: ?Sized + Write>(&mut self, writer: &mut W, mark: &[u8]) -> io::Result<()> {
        self.depth += 1;
        self.filled = false;
        writer.write_all(mark)
    }

    fn close<W: ?Sized + Write>(&mut self, writer: &mut W, mark: &[u8]) -> io::Result<()> {
        self.depth -= 1;
        if self.filled {
            self.line(writer, false)?;
        }
        writer.write_all(mark)
    }
}

impl Formatter for Indented {
    fn begin_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.open(writer, b"[")
    }

    fn end_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.close(writer, b"]")
    }

    fn begin_array_value<W: ?Sized + Write>(
        &mut self,
        writer: &mut W,
        first: bool,
    ) -> io::Result<()> {
        self.line(writer, !first)
    }

    fn end_array_value<W: ?Sized + Write>(&mut self, _: &mut W) -> io::Result<()> {
        self.filled = true;
        Ok(())
    }

    fn begin_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.open(writer, b"{")
    }

    fn end_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.close(writer, b"}")
    }

    fn begin_object_key<W: ?Sized + Write>(
        &mut self,
        writer: &mut W,
        first: bool,
    ) -> io::Result<()> {
        self.line(writer, !first)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        writer.write_all(b": ")
    }

    fn end_object_value<W: ?Sized + Write>(&mut self, _: &mut W) -> io::Result<()> {
        self.filled = true;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Mass, Temperature, UnitSystem};
    use crate::report::number::Showing;

    #[test]
    fn values_keep_twelve_digits_and_are_text() {
        let third = Decimal::ONE / Decimal::from(3);
        assert_eq!(number(third), "0.333333333333");
        assert_eq!(number(Decimal::new(1_500, 3)), "1.5");
        assert_eq!(number(Decimal::new(0, 5)), "0");
        assert_eq!(number(-Decimal::from(2_000_000_000_000_i64)), "-2000000000000");
        assert_eq!(number(Decimal::new(1, 12)), "0.000000000001");
    }

    #[test]
    fn amounts_carry_their_unit() {
        let show = Showing::new(UnitSystem::Us);
        let mass = Mass::from_lb(Decimal::new(12_125, 3));
        let measured = Measured::new(&show.scale_of([mass]), mass.base());
        let expected = "{\n  \"value\": \"12.125\",\n  \"unit\": \"lb\"\n}\n";
        assert_eq!(document(&measured).expect("text"), expected);
        let warm = Temperature::from_celsius(Decimal::from(20));
        let measured = Measured::new(&show.scale_of([warm]), warm.base());
        assert_eq!((measured.value.as_str(), measured.unit.as_str()), ("68", "F"));
    }

    /// Against the library's own layout.
    #[test]
    fn answers_are_indented_by_two_spaces() {
        let answer = serde_json::json!({
            "empty": [[], {}, [[]]], "none": null, "text": "a\n  \"b\"", "deep": [[[[{"a": [1, {"b": []}]}]]]]
        });
        let deep = (0..30).fold(answer.clone(), |inner, _| serde_json::json!({"in": [inner, 1]}));
        for answer in [answer, deep, serde_json::json!([]), serde_json::json!("x")] {
            let expected = serde_json::to_string_pretty(&answer).expect("text") + "\n";
            assert_eq!(document(&answer).expect("text"), expected);
        }
    }

    #[test]
    fn a_long_list_is_written_part_by_part() {
        let answer = |list: Vec<u32>| serde_json::json!({"list": list, "name": "\n  \"list\": []", "a": {"list": []}, "z": 1});
        for members in [0, 1, 3, 4, 5, 1_023, 1_024, 1_025, 2_500] {
            let all = u32::try_from(members).expect("few");
            let empty = document(&answer(Vec::new())).expect("text");
            let parts: Result<Vec<Vec<u8>>, _> =
                with_list(&empty, "list", members, |at, part| part.add(&at)).collect();
            let text = String::from_utf8(parts.expect("text").concat()).expect("text");
            assert_eq!(text, document(&answer((0..all).collect())).expect("text"));
        }
        let mut lost = with_list("{}\n", "list", 3, |at, part| part.add(&at));
        assert!(lost.next().is_some_and(|part| part.is_err()));
    }

    proptest::proptest! {
        /// Against the library that holds the decimals.
        #[test]
        fn digits_are_those_of_the_library(
            whole in proptest::num::i64::ANY, shift in 0_u32..64, places in 0_u32..=28,
        ) {
            let value = Decimal::new(whole >> shift, places);
            let text = value.to_string();
            let mut room = [0; MOST_DIGITS];
            proptest::prop_assert_eq!(digits(value, &mut room), Some(text.as_str()));
            let quoted = format!("\"{}\"\n", number(value));
            proptest::prop_assert_eq!(document(&Number(value)).expect("text"), quoted);
        }
    }

    #[test]
    fn the_largest_decimals_are_written_out() {
        for value in [Decimal::MAX, Decimal::MIN, Decimal::new(1, 28), Decimal::ZERO] {
            let quoted = format!("\"{}\"\n", number(value));
            assert_eq!(document(&Number(value)).expect("text"), quoted);
        }
        assert_eq!(digits(Decimal::new(-1, 28), &mut [0; MOST_DIGITS]).map(str::len), Some(31));
    }
}
