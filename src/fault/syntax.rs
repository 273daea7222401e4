//! Wording of faults of syntax: what keeps a line from being read at all.

use super::{Fault, clip};
use crate::figure::Place;

/// The smallest season that works, shown where a file says nothing.
pub const SMALLEST_SEASON: &str = "[garden]
year = 2027

[[bed]]
name = \"north 1\"
length = \"24 ft\"
width = \"4 ft\"

[[bed.planting]]
crop = \"broccoli\"
planted = 2027-05-10
harvest = 2027-07-15";

/// A file that says nothing.
pub fn empty_file() -> Fault {
    Fault::new(
        Place::default(),
        "the season file is empty",
        format!("this is the smallest season that works:\n{SMALLEST_SEASON}"),
    )
}

/// A field without a value.
pub fn no_value(place: Place, field: &str) -> Fault {
    Fault::new(
        place,
        format!("nothing stands after `{} =`", clip(field)),
        "write its value, or take the line out",
    )
    .label("a value is missing")
}

/// A text without quotes.
pub fn unquoted(place: Place, field: &str, text: &str) -> Fault {
    let quoted = clip(text).replace(['"', '“', '”', '„'], "");
    let help = format!("put it in quotes: `{} = \"{}\"`", clip(field), quoted.trim());
    Fault::new(place, "texts and amounts with a unit stand in quotes", help)
        .label("no quotes around it")
}

/// True or false in capitals, or another word for them.
pub fn not_true_or_false(place: Place, text: &str) -> Fault {
    Fault::new(
        place,
        format!("`{}` is not a value", clip(text)),
        "write `true` or `false` in small letters; other words stand in quotes",
    )
}

/// A name or word alone on its line.
pub fn word_alone(place: Place, text: &str) -> Fault {
    Fault::new(
        place,
        format!("`{}` stands alone", clip(text)),
        "write `field = value`, or put `#` before a remark",
    )
    .label("no `=` after it")
}

/// Several words before the equals sign.
pub fn field_of_two_words(place: Place, words: &str) -> Fault {
    let joined = words.split_whitespace().collect::<Vec<_>>().join("_");
    Fault::new(
        place,
        format!("the name of a field is one word, not `{}`", clip(words)),
        format!("write `{}` with `_` for the spaces", clip(&joined)),
    )
}

/// A colon where the equals sign should be.
pub fn colon(place: Place, field: &str) -> Fault {
    let help = format!("write `{} = …`", clip(field));
    Fault::new(place, "a colon stands where `=` should", help)
}

/// Something after the value of a line.
pub fn more_after_value(place: Place) -> Fault {
    Fault::new(
        place,
        "something stands after the value",
        "keep one field to a line; a text or an amount stands in one pair of quotes, a remark \
         after `#`",
    )
    .label("not expected here")
}

/// A comma in a bare number.
pub fn decimal_comma(place: Place, number: &str) -> Fault {
    Fault::new(
        place,
        format!("a bare number has no comma, as `{}` does", clip(number)),
        match number.split_once(',') {
            Some((whole, rest)) if rest.len() == 3 => {
                format!("write it without the comma: `{}{}`", clip(whole), clip(rest))
            }
            _ => format!("write a point: `{}`", clip(&number.replacen(',', ".", 1))),
        },
    )
}

/// A quote that is not closed.
pub fn quote_open(place: Place) -> Fault {
    Fault::new(place, "a quote is opened here and never closed", "close it on the same line")
        .label("opened here")
}

/// Marks for feet and inches read as quotes.
pub fn quote_marks(place: Place, field: &str, text: &str) -> Fault {
    let plain = clip(text).replace("''", " in").replace('\'', " ft").replace('"', " in");
    Fault::new(
        place,
        format!("`{}` has quotes that do not belong together", clip(text)),
        format!(
            "write the units as words in one pair of quotes: `{} = \"{}\"`",
            clip(field),
            plain.trim()
        ),
    )
}

/// A backslash in a text.
pub fn backslash(place: Place) -> Fault {
    Fault::new(
        place,
        "a backslash in a text has a meaning of its own",
        "write `/` instead, or the text in single quotes: 'like this'",
    )
}

/// A character that cannot be seen.
pub fn unseen_character(place: Place) -> Fault {
    Fault::new(
        place,
        "a character that cannot be seen stands here",
        "delete it and type the text again; only letters, digits, signs and blanks may stand here",
    )
}

/// A carriage return alone.
pub fn old_line_end(place: Place) -> Fault {
    Fault::new(
        place,
        "this line ends in a way that was used long ago (a carriage return alone)",
        "save the file with line ends of today (LF or CRLF)",
    )
}

/// A bracket that is not closed.
pub fn bracket_open(place: Place, open: char) -> Fault {
    let close = if open == '[' { ']' } else { '}' };
    Fault::new(
        place,
        format!("`{open}` is opened here and never closed"),
        format!("close it with `{close}`"),
    )
    .label("opened here")
}

/// The heading of a table with brackets missing.
pub fn broken_heading(place: Place, text: &str) -> Fault {
    let name = text.trim().trim_matches(['[', ']']).trim();
    let help = if name.is_empty() {
        "write a name between the brackets, like `[garden]` or `[[bed]]`".to_owned()
    } else {
        format!("write `[{0}]`, or `[[{0}]]` where there may be several", clip(name))
    };
    Fault::new(place, "the heading of a table has brackets on one side only", help)
}

/// A comma missing in a list or an inline table.
pub fn comma_missing(place: Place) -> Fault {
    Fault::new(
        place,
        "a comma is missing",
        "put a comma between two entries: `[\"one\", \"two\"]`, `{ month = 1, mean = \"24 F\" }`",
    )
    .label("before this")
}

/// A comma too many.
pub fn comma_twice(place: Place) -> Fault {
    Fault::new(place, "a comma stands where an entry should", "take the comma out")
}

/// An equals sign missing in an inline table.
pub fn equals_missing(place: Place) -> Fault {
    Fault::new(
        place,
        "`=` is missing between a field and its value",
        "write `{ month = 1, mean = \"24 F\" }`",
    )
}

/// A number that cannot be read.
pub fn bad_number(place: Place, text: &str) -> Fault {
    Fault::new(
        place,
        format!("`{}` is not a number as this file writes them", clip(text)),
        "write plain digits, like `7` or `0.5`; an amount with a unit stands in quotes",
    )
}

/// A field said twice.
pub fn twice(place: Place, name: &str, first: Option<Place>, heading: bool) -> Fault {
    let (title, help) = if heading {
        (
            format!("`{}` begins a second time", clip(name)),
            "put all its lines under one heading; where there may be several, each begins with two \
             brackets, like `[[bed]]`",
        )
    } else {
        (format!("`{}` is said twice in one table", clip(name)), "keep one of the two lines")
    };
    let fault = Fault::new(place, title, help).label("the second");
    match first {
        Some(first) => fault.and(first, "the first"),
        None => fault,
    }
}

/// A field name with letters that must be quoted.
pub fn odd_field_name(place: Place, name: &str) -> Fault {
    Fault::new(
        place,
        format!("`{}` cannot be the name of a field", clip(name)),
        "field names have plain letters, digits and `_`",
    )
}

/// A field name that is not there.
pub fn nameless_field(place: Place) -> Fault {
    Fault::new(place, "a name is missing before this", "write `field = value`")
}

/// Tables within tables past all use.
pub fn too_deep(place: Place) -> Fault {
    Fault::new(
        place,
        "brackets are nested deeper than any season file needs",
        "write it flatter, like the example that `topdress start` writes",
    )
}

/// Anything else.
pub fn unreadable(place: Place) -> Fault {
    Fault::new(
        place,
        "this line cannot be read",
        "write `field = value`, with texts and amounts in quotes",
    )
}

/// Bytes that are no text.
pub fn not_text(place: Place) -> Fault {
    Fault::new(
        place,
        "this is not text in UTF-8",
        "open it in a text editor and save it as UTF-8, or name the season file itself",
    )
    .label("the first byte that is no text stands here")
}
