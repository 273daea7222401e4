//! The names by which parts and folds of a page are found, each used once.

use std::collections::BTreeMap;

use crate::report::document::{Block, Document};

/// Every anchor of a document and the name it has on the page.
pub(super) struct Anchors {
    named: BTreeMap<String, String>,
    parts: Vec<String>,
}

impl Anchors {
    /// Gives every part and every named block its place.
    pub(super) fn of(document: &Document) -> Self {
        let mut anchors = Self { named: BTreeMap::new(), parts: Vec::new() };
        for block in &document.blocks {
            if let Block::Heading { level: 0..=2, anchor, .. } = block {
                let own = anchor.as_ref().and_then(|anchor| anchors.name(anchor));
                let place = own.unwrap_or_else(|| format!("part-{}", anchors.parts.len() + 1));
                anchors.parts.push(place);
            }
        }
        anchors.gather(&document.blocks);
        anchors
    }

    fn gather(&mut self, blocks: &[Block]) {
        for block in blocks {
            match block {
                Block::Heading { level: 3.., anchor: Some(anchor), .. } => {
                    self.name(anchor);
                }
                Block::Steps(steps) => {
                    for anchor in steps.iter().filter_map(|step| step.anchor.as_ref()) {
                        self.name(anchor);
                    }
                }
                Block::Fold(fold) => {
                    fold.anchor.as_ref().and_then(|anchor| self.name(anchor));
                    self.gather(&fold.blocks);
                }
                _ => {}
            }
        }
    }

    /// Gives an anchor a name that nothing else has; nothing where the anchor has one already.
    fn name(&mut self, anchor: &str) -> Option<String> {
        if self.named.contains_key(anchor) {
            return None;
        }
        let plain = |sign: char| match sign {
            '/' => '_',
            sign if sign.is_ascii_alphanumeric() => sign,
            _ => '-',
        };
        // The page's own names begin otherwise, so that none is taken by a grower's word.
        let mut name = format!("at_{}", anchor.chars().map(plain).collect::<String>());
        while self.named.values().any(|taken| *taken == name) {
            name.push('_');
        }
        self.named.insert(anchor.to_owned(), name.clone());
        Some(name)
    }

    /// The name of an anchor on the page, where the document has it.
    pub(super) fn find(&self, anchor: &str) -> Option<&str> {
        self.named.get(anchor).map(String::as_str)
    }

    /// The name of a part, by its place among the headings of level 2.
    pub(super) fn part(&self, index: usize) -> &str {
        self.parts.get(index).map_or("content", String::as_str)
    }
}
