//! A document as one page: no script, no network, nothing beside the file itself.
//!
//! The page is read on a phone, at a desk and on paper, in light and dark, by eye and by ear. Its
//! signature is the measuring rule: ticks as on a weighing beam under the title and each part.

mod anchors;
mod bars;
mod blocks;
mod curve;
mod inline;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use self::anchors::Anchors;
use self::blocks::Setter;
use super::document::{Block, Document};

/// The page's own style sheet.
const STYLE: &str = include_str!("style.css");
/// How many parts make a list of them worth its room.
const PARTS_WORTH_LISTING: usize = 3;

/// Sets a document as a page.
pub fn render(document: &Document) -> String {
    let anchors = Anchors::of(document);
    let mut setter = Setter::new(&anchors);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (document.title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                a class="skip" href="#content" { "Skip to the content" }
                header {
                    h1 { (document.title) }
                    @if !document.about.is_empty() {
                        p { (inline::text(&document.about, &anchors)) }
                    }
                }
                (contents(document, &anchors))
                main id="content" tabindex="-1" {
                    @for part in parts(&document.blocks) { (setter.part(part)) }
                }
                footer { p { "Made by topdress. This page needs no network, and prints as it stands." } }
            }
        }
    };
    page.into_string() + "\n"
}

/// The blocks cut before each heading of level 2.
fn parts(blocks: &[Block]) -> Vec<&[Block]> {
    let mut cuts: Vec<usize> =
        (0..blocks.len()).filter(|index| *index == 0 || is_part(&blocks[*index])).collect();
    cuts.push(blocks.len());
    cuts.windows(2).map(|cut| &blocks[cut[0]..cut[1]]).collect()
}

const fn is_part(block: &Block) -> bool {
    matches!(block, Block::Heading { level: 0..=2, .. })
}

fn contents(document: &Document, anchors: &Anchors) -> Markup {
    let headings: Vec<_> = document
        .blocks
        .iter()
        .filter(|block| is_part(block))
        .enumerate()
        .filter_map(|(index, block)| match block {
            Block::Heading { text, .. } => Some((anchors.part(index), text)),
            _ => None,
        })
        .collect();
    html! {
        @if headings.len() >= PARTS_WORTH_LISTING {
            nav aria-label="On this page" {
                ul {
                    @for (anchor, text) in headings {
                        li { a href={ "#" (anchor) } { (text.words()) } }
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests;
