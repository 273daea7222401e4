//! Wording of faults in names: crops, materials, beds, laboratories.

use super::{Fault, any_of, clip};
use crate::figure::Place;

/// A crop that is not in the catalogue.
pub fn unknown_crop(place: Place, bed: &str, name: &str, nearest: Option<&str>) -> Fault {
    let help = match nearest {
        Some(near) => format!("did you mean `{near}`?"),
        None => "see `topdress catalogue crops`, or describe it under [[crop]] with its name and \
                 `feeder = \"medium\"`"
            .to_owned(),
    };
    Fault::new(place, format!("{bed} has an unknown crop, `{}`", clip(name)), help)
        .label("not in the crop table")
}

/// A material that is not in the catalogue and has no analysis of its own.
pub fn unknown_material(place: Place, name: &str, nearest: Option<&str>, may_label: bool) -> Fault {
    let help = match (nearest, may_label) {
        (Some(near), _) => format!("did you mean `{near}`?"),
        (None, true) => "see `topdress catalogue materials`, or add the label: `analysis = \
                         \"10-10-10\"`"
            .to_owned(),
        (None, false) => "see `topdress catalogue materials`, or list it under [[shed]] with its \
                          label: `analysis = \"10-10-10\"`"
            .to_owned(),
    };
    Fault::new(place, format!("`{}` is an unknown material", clip(name)), help)
        .label("not in the table of materials")
}

/// A source that nothing tells of.
pub fn unknown_source(place: Place, id: &str, nearest: Option<&str>) -> Fault {
    let help = match nearest {
        Some(near) => format!("did you mean `{near}`?"),
        None => "tell of it under [[source]] with its `id` and `title`, or leave `source` out"
            .to_owned(),
    };
    Fault::new(place, format!("`{}` is an unknown source", clip(id)), help)
}

/// A region that no bulletin names.
pub fn unknown_region<'a>(
    place: Place,
    name: &str,
    nearest: Option<&str>,
    known: impl IntoIterator<Item = &'a str>,
) -> Fault {
    let help = match nearest {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!(
            "leave it out; bulletins' rows name only {}",
            any_of(known).replace(" or ", " and ")
        ),
    };
    Fault::new(place, format!("no bulletin's row is for the region `{}`", clip(name)), help)
}

/// The best of nothing.
pub fn nothing_to_choose_from(place: Place) -> Fault {
    Fault::new(
        place,
        "`best` has nothing to choose from",
        "list materials under [[shed]], or name the ones to use: `[\"feather meal\"]`",
    )
    .label("the shed is empty")
}

/// One material with two labels.
pub fn two_labels(place: Place, name: &str, first: Place) -> Fault {
    Fault::new(
        place,
        format!("the shed says two different things of `{}`", clip(name)),
        "give one of them a name of its own, like `feather meal from the co-op`",
    )
    .label("said otherwise here")
    .and(first, "said first here")
}

/// Two things of one name.
pub fn said_twice(place: Place, what: &str, name: &str, first: Place) -> Fault {
    Fault::new(
        place,
        format!("two {what} are named `{}`", clip(name)),
        "give each a name of its own; upper and lower case, `-`, `_` and space count as the same",
    )
    .label("the second")
    .and(first, "the first")
}

/// A name without a letter or a digit.
pub fn nameless(place: Place, name: &str) -> Fault {
    Fault::new(
        place,
        format!("`{}` has no letter or digit to call it by", clip(name)),
        "give it a name such as `north 1`",
    )
}

/// A laboratory whose limits are not known.
pub fn unknown_lab<'a>(
    place: Place,
    name: &str,
    nearest: Option<&str>,
    known: impl IntoIterator<Item = &'a str>,
) -> Fault {
    let help = match nearest {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!(
            "known are {}; or leave `lab` out and write the class itself, such as `p_class = \
             \"low\"`",
            any_of(known).replace(" or ", " and ")
        ),
    };
    Fault::new(place, format!("the limits of laboratory `{}` are not known", clip(name)), help)
}

/// A class word that the laboratory does not print.
pub fn unknown_class<'a>(
    place: Place,
    field: &str,
    word: &str,
    lab: Option<&str>,
    known: impl IntoIterator<Item = &'a str>,
) -> Fault {
    let whose = lab.map_or_else(
        || "without a laboratory's name it".to_owned(),
        |lab| format!("the laboratory `{}`", clip(lab)),
    );
    Fault::new(
        place,
        format!("`{field}` does not know the class `{}`", clip(word)),
        format!("{whose} has {}", any_of(known)),
    )
}

/// A word that laboratories use for different classes.
pub fn class_needs_lab<'a>(
    place: Place,
    field: &str,
    word: &str,
    labs: impl IntoIterator<Item = &'a str>,
) -> Fault {
    Fault::new(
        place,
        format!("`{field} = \"{}\"` means different things at different laboratories", clip(word)),
        format!(
            "say whose word it is with `lab = …` ({}), or write `very low`, `low`, `target`, \
             `high` or `very high`",
            any_of(labs)
        ),
    )
}

/// A soil figure for which no limits are known.
pub fn no_limits(place: Place, nutrient: &str, test: &str, field: &str) -> Fault {
    Fault::new(
        place,
        format!("no limits are known for {nutrient} by `{test}`"),
        format!("copy the laboratory's own word instead: `{field} = \"low\"`"),
    )
}

/// A cover crop whose nitrogen is not known.
pub fn cover_nitrogen_unknown(place: Place, crop: &str) -> Fault {
    Fault::new(
        place,
        format!("how much nitrogen is in `{}` as a cover crop is not known", clip(crop)),
        "add what a laboratory measured in its dry matter: `nitrogen = \"3 %\"`",
    )
}
