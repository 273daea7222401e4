//! How names are compared: one place decides what counts as the same name and what is near it.

/// Returns the name as it is compared: lower case, trimmed, with `-`, `_` and runs of space alike.
pub fn normal(name: &str) -> String {
    letters(name).collect()
}

/// Whether two names are the same.
pub fn same(one: &str, other: &str) -> bool {
    // A list of names is mostly names that begin otherwise.
    let head = |name: &str| name.bytes().find(|byte| !matches!(byte, b'-' | b'_' | b' '));
    let otherwise = match (head(one), head(other)) {
        (Some(a), Some(b)) => {
            a.is_ascii_graphic() && b.is_ascii_graphic() && !a.eq_ignore_ascii_case(&b)
        }
        _ => false,
    };
    !otherwise && letters(one).eq(letters(other))
}

/// The letters of a name as they are compared.
fn letters(name: &str) -> impl Iterator<Item = char> {
    let mut gap = false;
    let mut begun = false;
    name.chars()
        .flat_map(char::to_lowercase)
        .flat_map(move |c| {
            if c == '-' || c == '_' || c.is_whitespace() {
                gap = begun;
                return [None, None];
            }
            begun = true;
            [std::mem::take(&mut gap).then_some(' '), Some(c)]
        })
        .flatten()
}

/// Returns the candidate nearest to a name that was not found, or nothing where none is near or
/// the name has fewer than three letters. Of two that are equally near the one
/// that shares more letters in order is taken, then the first.
pub fn nearest<'a>(name: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<String> {
    let wanted = normal(name);
    let letters = wanted.chars().count();
    if letters < 3 {
        return None;
    }
    let most = 1 + letters / 4;
    candidates
        .into_iter()
        .map(|candidate| (strsim::damerau_levenshtein(&wanted, &normal(candidate)), candidate))
        .filter(|(distance, _)| *distance <= most)
        .min_by(|one, other| {
            let alike = |name: &str| strsim::jaro_winkler(&wanted, &normal(name));
            one.0.cmp(&other.0).then_with(|| alike(other.1).total_cmp(&alike(one.1)))
        })
        .map(|(_, candidate)| candidate.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn case_dashes_and_spaces_make_no_difference() {
        assert_eq!(normal("  Yard-Trimmings_compost "), "yard trimmings compost");
        assert_eq!(normal("Sweet   corn"), normal("sweet-corn"));
        assert_ne!(normal("sweetcorn"), normal("sweet corn"));
        assert!(same("Brussels_sprouts", " brussels  SPROUTS"));
        assert!(!same("sweet corn", "sweet corns"));
        assert_eq!(normal(" - "), "");
    }

    #[test]
    fn near_names_are_offered_and_far_ones_are_not() {
        let known = ["broccoli", "cauliflower", "leek"];
        assert_eq!(nearest("brocoli", known).as_deref(), Some("broccoli"));
        assert_eq!(nearest("lek", known).as_deref(), Some("leek"));
        assert_eq!(nearest("le", known), None);
        assert_eq!(nearest("pineapple", known), None);
        assert_eq!(nearest("plantd", ["plants", "planted"]).as_deref(), Some("planted"));
    }
}
