//! What is said of stock that the record has drawn on: the file's figure has no date, so that nothing
//! is taken off it.

use std::collections::BTreeMap;

use crate::engine::against::Against;
use crate::quantity::Mass;
use crate::report::document::Document;
use crate::report::number::Showing;
use crate::report::text::Text;
use crate::season::Season;

/// Adds a note for each material on hand of which some was written down as spread.
pub fn add(season: &Season, against: &[Against], showing: Showing, document: &mut Document) {
    let mut spread: BTreeMap<&str, Mass> = BTreeMap::new();
    for (material, given) in against.iter().filter_map(|one| Some((&one.material, one.given?))) {
        *spread.entry(material).or_default() += given.weight;
    }
    let on_hand = |name: &str| {
        let mut items = season.shed.iter().filter(|item| item.stuff.material.name == name);
        items.any(|item| item.on_hand.is_some_and(|held| held.value > Mass::ZERO))
    };
    for (material, weight) in spread.into_iter().filter(|(name, _)| on_hand(name)) {
        document.note(Text::new().shown(&showing.of(weight)).plain(format!(
            " of {material} is written down as spread and not taken off what is on hand: weigh what \
             is left and correct `on_hand`"
        )));
    }
}
