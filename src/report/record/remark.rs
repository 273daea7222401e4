//! What is remarked, beside the answer, of a line that looks like a slip.

use crate::engine::excess::Excess;
use crate::quantity::{Area, Mass};
use crate::record::Line;
use crate::report::number::Showing;

/// An amount far above any rate: what it comes to, and how to take it back.
pub fn far_above(
    line: &Line,
    weight: Mass,
    area: Option<Area>,
    excess: &Excess,
    showing: Showing,
) -> String {
    let said = &line.application;
    let counts = match excess.nutrient {
        crate::nutrient::Nutrient::Nitrogen => " that counts",
        _ => "",
    };
    let brings = format!(
        "{} of {} on {} brings {} of {}{counts}",
        showing.of(weight),
        said.material,
        said.bed,
        showing.of(excess.brought),
        excess.nutrient.word(),
    );
    let comes_to = match (excess.rate, area) {
        (Some((rate, most)), Some(area)) => format!(
            " for {}, which is {}; anything above {} is far more than is ever given",
            showing.of(area),
            showing.both_rates(rate),
            showing.field_rate(most),
        ),
        _ => ", far more than its mix may be given at once (1 g a gallon)".to_owned(),
    };
    format!("{brings}{comes_to}. Is the unit right? {}", back(line))
}

/// The same thing written down for one day and one bed before.
pub fn twice(line: &Line, before: &Line) -> String {
    let said = &line.application;
    format!(
        "line {} says the same: {} of {} on {} that day. Was it spread once? {}",
        before.number,
        said.amount_text,
        said.material,
        said.bed,
        back(line)
    )
}

fn back(line: &Line) -> String {
    format!("`topdress record --undo {}` takes it back", line.number)
}
