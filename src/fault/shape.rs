//! Wording of faults of shape: fields, types, units and ranges.

use super::{Fault, any_of, clip};
use crate::figure::Place;
use crate::nutrient::BadAnalysis;
use crate::quantity::Misread;

/// A field that the table does not have.
pub fn unknown_field(
    place: Place,
    field: &str,
    heading: &str,
    nearest: Option<&str>,
    known: &[&str],
) -> Fault {
    let help = match nearest {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("it may have {}", any_of(known.iter().copied()).replace(" or ", " and ")),
    };
    Fault::new(place, format!("{heading} has no field `{}`", clip(field)), help)
        .label(format!("not a field of {heading}"))
}

/// A field that stands in the wrong table.
pub fn misplaced_field(place: Place, field: &str, heading: &str, right: &str) -> Fault {
    Fault::new(
        place,
        format!("{heading} has no field `{}`", clip(field)),
        format!("move it under {right}: a field belongs to the heading above it"),
    )
    .label(format!("belongs under {right}"))
}

/// A part that the season file must have.
pub fn missing_part(heading: &str, example: &str) -> Fault {
    Fault::new(
        Place::default(),
        format!("the season file has no {heading}"),
        format!("add it:\n{heading}\n{example}"),
    )
}

/// A field that means nothing in a line of this kind.
pub fn field_of_another_kind(place: Place, field: &str, kind: &str, kind_place: Place) -> Fault {
    Fault::new(
        place,
        format!("a line about {kind} has no `{field}`"),
        format!("take `{field}` out, or mend `kind`"),
    )
    .label("belongs to another kind")
    .and(kind_place, "this kind")
}

/// Fields that do not go together.
pub fn not_together(place: Place, one: &str, other: &str, other_place: Place, way: &str) -> Fault {
    Fault::new(place, format!("`{one}` does not go with `{other}`"), way)
        .label(format!("`{one}`"))
        .and(other_place, format!("`{other}`"))
}

/// A name listed twice where each counts once.
pub fn listed_twice(place: Place, name: &str, first: Place) -> Fault {
    Fault::new(
        place,
        format!("`{}` is listed twice", clip(name)),
        "name each material once, the one to use first at the front",
    )
    .label("again")
    .and(first, "first here")
}

/// A field that the table must have.
pub fn missing_field(
    place: Place,
    heading: &str,
    field: &str,
    about: &str,
    example: &str,
) -> Fault {
    Fault::new(
        place,
        format!("{heading} does not say its `{field}`"),
        format!("add `{field} = {example}`"),
    )
    .label(format!("`{field}` is missing: {about}"))
}

/// A value of another kind than the field wants.
pub fn wrong_type(place: Place, field: &str, found: &str, wanted: &str, example: &str) -> Fault {
    Fault::new(
        place,
        format!("`{field}` wants {wanted}, not {found}"),
        format!("write it like `{field} = {example}`"),
    )
    .label(found)
}

/// A bare number where a text with a unit is wanted.
pub fn bare_number(place: Place, field: &str, number: &str, noun: &str, example: &str) -> Fault {
    Fault::new(
        place,
        format!("`{field} = {}` has no unit, and {noun} needs one", clip(number)),
        format!("write it in quotes with its unit, like `{field} = \"{example}\"`"),
    )
    .label("a number without a unit")
}

/// A text that is not the amount that was wanted.
pub fn misread(place: Place, field: &str, why: &Misread) -> Fault {
    Fault::new(place, format!("`{field}`: {why}"), why.mend())
}

/// A text that is not an analysis.
pub fn bad_analysis(place: Place, why: &BadAnalysis) -> Fault {
    Fault::new(place, why.to_string(), why.mend())
}

/// An amount of nothing where there must be some.
pub fn not_above_zero(place: Place, field: &str, written: &str) -> Fault {
    Fault::new(
        place,
        format!("`{field}` is `{}`, and it must be more than 0", clip(written)),
        format!("write what it measures, or leave `{field}` out"),
    )
}

/// A number outside what can be.
pub fn out_of_range(place: Place, field: &str, written: &str, range: &str, reason: &str) -> Fault {
    Fault::new(
        place,
        format!("`{field}` is `{}`, which is out of range", clip(written)),
        format!("it may be {range}"),
    )
    .note(reason)
}

/// A word that is none of those a field knows.
pub fn unknown_word<'a>(
    place: Place,
    field: &str,
    word: &str,
    nearest: Option<&str>,
    known: impl IntoIterator<Item = &'a str>,
) -> Fault {
    let help = match nearest {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("write {}", any_of(known)),
    };
    Fault::new(place, format!("`{field}` does not know the word `{}`", clip(word)), help)
}

/// Figures that are not in the catalogue's shape.
pub fn wrong_figures(place: Place, field: &str) -> Fault {
    Fault::new(
        place,
        format!("`{field}` has figures of another shape than the catalogue's"),
        "write amounts with their units in quotes, as `topdress catalogue crops` shows them",
    )
}

/// A text that says nothing.
pub fn empty_text(place: Place, field: &str, example: &str) -> Fault {
    Fault::new(
        place,
        format!("`{field}` says nothing"),
        format!("write it like `{field} = {example}`, or leave the line out"),
    )
    .label("nothing between the quotes")
}

/// One thing said in two ways.
pub fn either_or(place: Place, one: &str, other: &str, other_place: Place, why: &str) -> Fault {
    Fault::new(
        place,
        format!("`{other}` and `{one}` say the same thing in two ways"),
        format!("keep one of them: {why}"),
    )
    .label(format!("`{one}`"))
    .and(other_place, format!("`{other}`"))
}

/// None of several fields is there, and one is needed.
pub fn none_of(place: Place, heading: &str, what: &str, ways: &str) -> Fault {
    Fault::new(place, format!("{heading} does not say {what}"), format!("write {ways}"))
}

/// A field that means nothing without another.
pub fn needs_other(place: Place, field: &str, other: &str, why: &str, example: &str) -> Fault {
    Fault::new(
        place,
        format!("`{field}` needs `{other}` beside it"),
        format!("add `{other} = {example}`"),
    )
    .label(why)
}

/// A single table where a list of tables is wanted, or the other way about.
pub fn wrong_brackets(place: Place, name: &str, many: bool) -> Fault {
    let (right, what) = if many {
        (format!("[[{name}]]"), "there may be several, so each begins with two brackets")
    } else {
        (format!("[{name}]"), "there is only one, so it begins with one bracket")
    };
    Fault::new(
        place,
        format!("`{name}` begins with the wrong brackets"),
        format!("write `{right}`"),
    )
    .label(what)
}
