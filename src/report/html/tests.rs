use std::collections::BTreeSet;

use super::*;
use crate::report::demo;
use crate::report::text::Text;

fn page() -> String {
    render(&demo::document())
}

/// Every value of an attribute on the page.
fn values<'a>(page: &'a str, attribute: &str) -> Vec<&'a str> {
    let opening = format!(" {attribute}=\"");
    page.split(opening.as_str()).skip(1).filter_map(|rest| rest.split('"').next()).collect()
}

#[test]
fn a_page_stands_alone() {
    let page = page();
    for outside in ["http:", "https:", "//", "<script", "@import", "<link", "src=", "onclick"] {
        assert!(!page.contains(outside), "{outside}");
    }
}

#[test]
fn every_name_is_used_once_and_every_link_arrives() {
    let page = page();
    let names = values(&page, "id");
    let once: BTreeSet<_> = names.iter().collect();
    assert_eq!(names.len(), once.len(), "{names:?}");
    for link in values(&page, "href") {
        let name = link.strip_prefix('#').expect("a link inside the page");
        assert!(once.contains(&name), "{link}");
    }
    for label in values(&page, "aria-labelledby").iter().flat_map(|value| value.split(' ')) {
        assert!(once.contains(&label), "{label}");
    }
    for fill in values(&page, "fill") {
        let name = fill.strip_prefix("url(#").and_then(|fill| fill.strip_suffix(')'));
        assert!(name.is_some_and(|name| once.contains(&name)), "{fill}");
    }
}

#[test]
fn what_growers_write_stays_text() {
    let mut document = Document::new("<script>alert(1)</script>");
    document.heading(2, "a & b \"c\" <i>");
    document.push(Block::Heading {
        level: 2,
        text: "x".into(),
        anchor: Some("\"><img src=x>".into()),
    });
    document.paragraph(Text::new().code("\u{1b}[31m'").linked("no such place"));
    let page = render(&document);
    let body = page.split("</style>").nth(1).expect("a body");
    assert!(!body.contains("<i>") && !body.contains("<img") && !page.contains("<script"));
    assert!(body.contains("a &amp; b &quot;c&quot; &lt;i&gt;"));
    assert!(body.contains("<code>\u{fffd}[31m'</code>"));
}

#[test]
fn tables_are_read_by_ear() {
    let page = page();
    assert!(page.contains("<caption>Budget of north 1 for the season</caption>"));
    assert!(page.contains("<th class=\"number\" scope=\"col\">Need, lb</th>"));
    assert!(page.contains("<th scope=\"row\">P2O5</th>"));
}

#[test]
fn charts_tell_their_values_in_words() {
    let page = page();
    assert!(
        page.contains("<title>north 1: need 1.41, soil and compost 0.57, doses 0.70 lb N</title>")
    );
    assert!(page.contains("Supply stays above what the crop has taken until 20 June"));
    assert!(page.contains("<time datetime=\"2027-05-29\">Sat 29 May</time>: 0.75 lb feather meal"));
}

#[test]
fn headings_never_skip_a_level() {
    let mut document = Document::new("t");
    document.heading(4, "first");
    document.heading(4, "second");
    let page = render(&document);
    assert!(page.contains("<h2>first</h2><h3>second</h3>"));
}

#[test]
fn spans_that_lead_to_one_place_are_one_link() {
    let mut document = Document::new("t");
    document.push(Block::Fold(crate::report::document::Fold {
        title: "working".into(),
        anchor: Some("a/b".into()),
        open: false,
        blocks: Vec::new(),
    }));
    document
        .paragraph(Text::new().value("3").plain("\u{a0}").unit("lb").linked("a/b").plain(" of"));
    let page = render(&document);
    assert_eq!(values(&page, "href").iter().filter(|link| **link == "#at_a_b").count(), 1);
}
