//! Rows for a spreadsheet, quoted as RFC 4180 says.

use csv::{QuoteStyle, WriterBuilder};

/// Writes a header and rows as comma-separated values in UTF-8, lines ending with a line feed.
/// A cell with a comma, a quote or a line break is quoted. Rows are filled up or cut to the header.
pub fn sheet<H, R>(header: &[H], rows: impl IntoIterator<Item = R>) -> String
where
    H: AsRef<str>,
    R: IntoIterator,
    R::Item: AsRef<str>,
{
    let mut writer =
        WriterBuilder::new().quote_style(QuoteStyle::Necessary).from_writer(Vec::new());
    let mut written = writer.write_record(header.iter().map(AsRef::as_ref));
    for row in rows {
        let mut cells: Vec<String> =
            row.into_iter().take(header.len()).map(|cell| cell.as_ref().to_owned()).collect();
        cells.resize(header.len(), String::new());
        written = written.and_then(|()| writer.write_record(&cells));
    }
    // Writing to memory fails only where rows differ in length, which was ruled out above.
    match (written, writer.into_inner()) {
        (Ok(()), Ok(bytes)) => String::from_utf8(bytes).unwrap_or_default(),
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_quoted_where_they_must_be() {
        let rows =
            [vec!["a,b", "say \"x\""], vec!["two\nlines", ""], vec!["short"], vec!["1", "2", "3"]];
        let expected = "bed,note\n\"a,b\",\"say \"\"x\"\"\"\n\"two\nlines\",\nshort,\n1,2\n";
        assert_eq!(sheet(&["bed", "note"], rows), expected);
    }

    #[test]
    fn what_is_written_reads_back() {
        let rows = [["", " x "], ["\"", ",\r\n"], ["Æ 畑", "=1+1"]];
        let text = sheet(&["one", "two"], rows);
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let back: Vec<Vec<String>> = reader
            .records()
            .map(|record| record.expect("a record").iter().map(str::to_owned).collect())
            .collect();
        assert_eq!(back, rows);
    }
}
