//! Cells of one line: splitting, joining and the quotes around them.

/// Signs that make a spreadsheet take a text for a formula and change it.
const FORMULA: [char; 4] = ['=', '+', '-', '@'];

/// Splits a line into cells; nothing where a quote is left open or text follows a closed one.
pub(super) fn split(line: &str, delimiter: char) -> Option<Vec<String>> {
    let mut cells = Vec::new();
    let mut rest = line.chars().peekable();
    loop {
        let mut cell = String::new();
        if rest.next_if_eq(&'"').is_some() {
            loop {
                match rest.next()? {
                    '"' if rest.next_if_eq(&'"').is_some() => cell.push('"'),
                    '"' => break,
                    other => cell.push(other),
                }
            }
            if rest.peek().is_some_and(|next| *next != delimiter) {
                return None;
            }
        } else {
            while let Some(other) = rest.next_if(|next| *next != delimiter) {
                cell.push(other);
            }
        }
        cells.push(unguarded(flat(&cell).trim()));
        if rest.next().is_none() {
            return Some(cells);
        }
    }
}

/// Whether the line opens a quote that it does not close, so that the cell may run on.
pub(super) fn runs_on(line: &str) -> bool {
    line.matches('"').count() % 2 == 1
}

/// Joins cells into a line. No cell may keep a line break, so one line stays one line.
pub(super) fn join<'a>(cells: impl IntoIterator<Item = &'a str>, delimiter: char) -> String {
    let quoted: Vec<String> = cells.into_iter().map(|cell| quote(cell, delimiter)).collect();
    quoted.join(&delimiter.to_string())
}

/// Spaces for the signs that no cell may keep: a line that is read and written again is the same.
fn flat(cell: &str) -> String {
    cell.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

fn quote(cell: &str, delimiter: char) -> String {
    let mut text = flat(cell).trim().to_owned();
    if text.starts_with(FORMULA) || text.starts_with('\'') {
        text.insert(0, '\'');
    }
    // Every usual delimiter is quoted, so that a change of delimiter cannot split a cell.
    if text.contains([delimiter, ',', ';', '"']) {
        text = format!("\"{}\"", text.replace('"', "\"\""));
    }
    text
}

/// Takes off the apostrophe that keeps a spreadsheet from reading a formula.
fn unguarded(cell: &str) -> String {
    let plain = cell
        .strip_prefix('\'')
        .filter(|rest| rest.starts_with(FORMULA) || rest.starts_with('\''))
        .unwrap_or(cell);
    plain.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn quotes_keep_delimiters_and_quotes() {
        let right = Some(vec!["a".to_owned(), "b, \"c\"".to_owned(), String::new()]);
        assert_eq!(split("a,\"b, \"\"c\"\"\",", ','), right);
        assert_eq!(split("\"open", ','), None);
        assert_eq!(split("\"a\"b,c", ','), None);
    }

    proptest! {
        #[test]
        fn what_is_joined_splits_again(
            cells in proptest::collection::vec("[^\\p{Cc}]{0,12}", 1..8),
            delimiter in proptest::sample::select(vec![',', ';', '\t']),
        ) {
            let trimmed: Vec<String> = cells.iter().map(|cell| cell.trim().to_owned()).collect();
            let line = join(cells.iter().map(String::as_str), delimiter);
            prop_assert_eq!(split(&line, delimiter), Some(trimmed));
        }

        #[test]
        fn any_line_is_split_or_refused(line in "\\PC{0,60}") {
            let _ = split(&line, ',');
        }
    }
}
