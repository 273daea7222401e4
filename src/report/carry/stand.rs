//! Perennials of next year's file: what stands on is written in again, a year older.

use super::bed::tables;
use super::tree::Tree;
use crate::calendar::Date;
use crate::season::Bed;

/// Dates that belong to one year of a stand.
const YEARLY: [&str; 4] = ["planted", "harvest", "last_harvest", "regrowth"];
/// A stand whose planting lies so many years before its harvest is dated by its real planting.
const REAL_PLANTING_YEARS: i16 = 2;

/// The plantings of a bed that stand for years, with the dates of next year and `year_of_stand` one
/// more. A stand whose year was never said goes on without one.
pub(super) fn plantings(bed: &Bed, tree: &Tree<'_, '_>) -> String {
    let mut out = String::new();
    for written in tables(tree, "planting") {
        // The season keeps its plantings by date and not as they are written.
        let Some(crop) = written.text("crop") else { continue };
        let said = crop.trim_matches(['"', '\'']).to_owned();
        let day = |key: &str| written.text(key).and_then(|text| Date::read(&text));
        let grown = bed.plantings.iter().find(|one| {
            let crop = &one.crop.value;
            let named = crate::catalogue::names::normal(&said);
            let known = std::iter::once(&crop.name).chain(&crop.aliases);
            known.into_iter().any(|name| crate::catalogue::names::normal(name) == named)
                && day("planted").is_none_or(|day| day == one.planted.value)
        });
        let Some(grown) = grown.filter(|one| one.crop.value.perennial) else { continue };
        let years = grown.harvest.value.year() - grown.planted.value.year();
        out += "\n[[bed.planting]]\n";
        for (key, text) in written.entries() {
            let text = match key.as_str() {
                "planted" if years >= REAL_PLANTING_YEARS => text,
                key if YEARLY.contains(&key) => {
                    Date::read(&text).map_or(text, |day| a_year_on(day).to_string())
                }
                "year_of_stand" => {
                    text.parse::<u32>().map_or(text, |year| year.saturating_add(1).to_string())
                }
                _ => text,
            };
            out += &format!("{key} = {text}\n");
        }
    }
    out
}

/// The same day of the next year; 28 February for a leap day.
fn a_year_on(day: Date) -> Date {
    let next = day.year() + 1;
    (0..4)
        .find_map(|back| Date::new(next, day.month(), day.day().checked_sub(back)?))
        .unwrap_or(day)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_leap_day_moves_to_the_last_of_february() {
        let day = |text: &str| Date::read(text).expect("a date");
        assert_eq!(a_year_on(day("2028-02-29")), day("2029-02-28"));
        assert_eq!(a_year_on(day("2027-06-15")), day("2028-06-15"));
    }
}
