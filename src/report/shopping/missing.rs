//! What is wanted and neither on hand nor on offer, added up by material.

use crate::engine::buy::List;
use crate::quantity::Mass;
use crate::report::number::Showing;

/// Most beds that are named; more are counted.
const MOST_NAMED: usize = 8;

/// A material that has to be found elsewhere.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Missing {
    /// The material.
    pub material: String,
    /// How much of it all doses together lack.
    pub weight: Mass,
    /// The beds that want it, as paths write them.
    pub beds: Vec<String>,
}

impl Missing {
    /// "2.5 lb of potassium sulfate for north-1, north-2".
    pub fn words(&self, showing: Showing) -> String {
        let beds = match self.beds.len() {
            0..=MOST_NAMED => self.beds.join(", "),
            many => format!("{many} beds"),
        };
        format!("{} of {} for {beds}", showing.of(self.weight), self.material)
    }
}

/// What a list lacks, by material: of several ways to meet a dose, the lightest.
pub(super) fn missing(list: &List) -> Vec<Missing> {
    let mut all: Vec<Missing> = Vec::new();
    for unmet in &list.unmet {
        let bed = unmet.path.split('/').next().unwrap_or_default();
        for part in unmet.would.first().into_iter().flatten() {
            let at = all.iter().position(|one| one.material == part.material);
            let at = at.unwrap_or_else(|| {
                let material = part.material.clone();
                all.push(Missing { material, weight: Mass::ZERO, beds: Vec::new() });
                all.len() - 1
            });
            let one = &mut all[at];
            one.weight += part.weight;
            if !one.beds.iter().any(|known| known == bed) {
                one.beds.push(bed.to_owned());
            }
        }
    }
    all.sort_by(|one, other| one.material.cmp(&other.material));
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::buy::{Alternative, Certainty, Demand, Shed, Stock, least_list};
    use crate::report::document::Document;
    use crate::report::markdown;

    fn pounds(text: &str) -> Mass {
        Mass::from_lb(text.parse().expect("a decimal"))
    }

    fn demand(path: &str, material: &str, weight: &str) -> Demand {
        Demand {
            path: path.to_owned(),
            certainty: Certainty::Certain,
            alternatives: vec![Alternative::of(material, pounds(weight))],
        }
    }

    #[test]
    fn what_no_one_offers_is_added_up_in_one_line() {
        let demands = [
            demand("north-1/dose/2027-05-08/potash", "potassium sulfate", "1.5"),
            demand("north-2/dose/2027-05-08/potash", "potassium sulfate", "1"),
            demand("north-2/dose/2027-05-15/potash", "potassium sulfate", "0.5"),
            demand("north-1/dose/2027-05-08/meal", "feather meal", "1.1"),
        ];
        let stock = vec![Stock { material: "feather meal".to_owned(), on_hand: pounds("2.15") }];
        let shed = Shed { stock, offers: Vec::new(), suppliers: Vec::new() };
        let list = least_list(&shed, &demands, &[]);
        let found = missing(&list);
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!((found[0].weight, found[0].beds.len()), (pounds("3"), 2));
        let mut document = Document::new("list");
        let none = least_list(&shed, &[], &[]);
        let showing = Showing::new(crate::quantity::UnitSystem::Us);
        super::super::add(&list, &none, showing, &mut document);
        let text = markdown::render(&document);
        assert!(text.contains("potassium sulfate for north-1, north-2"), "{text}");
        assert_eq!(text.matches("with a price").count(), 1, "{text}");
        // Needed and left over are what was on hand, as shown.
        let row = text.lines().find(|line| line.contains("| feather meal")).expect("a row");
        let cells: Vec<rust_decimal::Decimal> = row
            .split('|')
            .filter_map(|cell| cell.trim().strip_suffix(" lb")?.trim().parse().ok())
            .collect();
        let [needed, on_hand, bought, left] = cells[..] else { panic!("{row}") };
        assert_eq!(needed + left, on_hand + bought, "{row}");
    }
}
