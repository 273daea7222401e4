//! Needs as they are written: "n 3 lb/1000 ft2", "20 lb P", "p2o5 1.75 lb".

use rust_decimal::Decimal;

use super::from::{element, oxide_factor};
use super::page::Page;
use super::{Refusal, rules};
use crate::figure::Figure;
use crate::nutrient::Nutrient;
use crate::quantity::{
    Area, Length, Mass, PlantRate, Rate, RowRate, Said, UnitKind, Written, read_any_said,
    read_length_pair, read_range, read_said, units,
};

/// The ground, the row or the plants that a need is for.
#[derive(Clone, Debug, Default)]
pub struct Ground {
    /// The ground.
    pub area: Option<Figure<Area>>,
    /// The row.
    pub row: Option<Figure<Length>>,
    /// The plants.
    pub plants: Option<Figure<crate::quantity::Share>>,
}

impl Ground {
    /// Reads the ground from `--over`, `--row-spacing` and `--plants`.
    pub fn read(
        page: &mut Page<'_>,
        over: Option<&str>,
        row_spacing: Option<&str>,
        plants: Option<&str>,
    ) -> Result<Self, Refusal> {
        let mut ground = Self::default();
        if let Some(text) = over {
            ground.read_over(page, text)?;
        }
        if let Some(text) = row_spacing {
            let spacing = page.asked_positive::<Length>("--row-spacing", "row spacing", text)?;
            let Some(row) = &ground.row else {
                let what = "--row-spacing goes with a length of row in --over";
                return Err(page.refuse(what, "write `--over \"100 ft\" --row-spacing \"3 ft\"`"));
            };
            ground.area = Some((row * &spacing).by("ground of the row", &rules::ROWS));
        }
        if let Some(text) = plants {
            ground.plants = Some(plant_count(page, text)?);
        }
        Ok(ground)
    }

    fn read_over(&mut self, page: &mut Page<'_>, text: &str) -> Result<(), Refusal> {
        let zero = |page: &Page<'_>| {
            let what = format!("--over `{}` is no ground at all", text.trim());
            page.refuse(what, "write an area above zero, like `--over \"1000 ft2\"`")
        };
        if text.contains(['x', 'X', '×', '*'])
            && let Ok((long, wide)) = read_length_pair(text)
        {
            let foot = Written::plain(match page.units.system() {
                crate::quantity::UnitSystem::Us => &units::FOOT,
                crate::quantity::UnitSystem::Metric => &units::METRE,
            });
            let long = page.leaf("length", Said { value: long, unit: foot });
            let wide = page.leaf("width", Said { value: wide, unit: foot });
            if long.is_zero() || wide.is_zero() {
                return Err(zero(page));
            }
            self.area = Some((&long * &wide).by("area", &rules::OVER));
            page.understood(format!("over {}", text.trim()));
            return Ok(());
        }
        if let Ok(said) = read_said::<Length>(text) {
            let row = page.leaf("length of row", said);
            if row.is_zero() {
                return Err(zero(page));
            }
            self.row = Some(row);
        } else {
            let said = read_said::<Area>(text).map_err(|fault| page.misread("--over", &fault))?;
            let area = page.leaf("area", said);
            if area.is_zero() {
                return Err(zero(page));
            }
            self.area = Some(area);
        }
        page.understood(format!("over {}", text.trim()));
        Ok(())
    }

    /// The ground, or a refusal that says why it is wanted.
    pub fn area(&self, page: &Page<'_>, why: &str) -> Result<Figure<Area>, Refusal> {
        match (&self.area, &self.row) {
            (Some(area), _) => Ok(area.clone()),
            (None, Some(_)) => Err(page.refuse(
                format!("{why}, and --over gives a length of row without the row spacing"),
                "write `--row-spacing \"3 ft\"` too, or an area like `--over \"1000 ft2\"`",
            )),
            (None, None) => Err(page.refuse(
                format!("{why}, and there is no --over"),
                "write the ground it is for, like `--over \"1000 ft2\"`",
            )),
        }
    }
}

/// Reads a count of plants.
pub fn plant_count(
    page: &mut Page<'_>,
    text: &str,
) -> Result<Figure<crate::quantity::Share>, Refusal> {
    let digits = text.trim().trim_end_matches("plants").trim().replace(',', "");
    let count: Option<Decimal> = digits.parse().ok().filter(|_| digits.len() <= 9);
    match count {
        Some(count) if count > Decimal::ZERO && count.fract().is_zero() => {
            page.understood(format!("plants {count}"));
            Ok(page.count("plants", count))
        }
        _ => Err(page.refuse(
            format!("--plants `{}` is not a count of plants", text.trim()),
            "write a whole number above zero, like `--plants 50`",
        )),
    }
}

/// A need: what of, and how much.
#[derive(Clone, Debug)]
pub struct Need {
    /// What is needed.
    pub nutrient: Nutrient,
    /// How much, phosphate and potash as oxides.
    pub weight: Figure<Mass>,
}

const HOW: &str =
    "write a nutrient and an amount, like `n 3 lb/1000 ft2`, `p2o5 40 kg/ha` or `k2o 2 lb`";

/// Splits a text into its nutrient (and whether it is counted as the element) and its amount.
pub fn split_nutrient(text: &str) -> Option<(Nutrient, bool, String)> {
    let clean = text.replace([':', '='], " ");
    let words: Vec<&str> = clean.split_whitespace().collect();
    let at = words.iter().position(|word| {
        let head = word.split('/').next().unwrap_or(word);
        Nutrient::read(head).is_some()
    })?;
    let (head, tail) = words[at].split_at(words[at].find('/').unwrap_or(words[at].len()));
    let (nutrient, is_element) = Nutrient::read(head)?;
    let mut rest: Vec<&str> = words[..at].to_vec();
    if rest.last() == Some(&"of") {
        rest.pop();
    }
    let mut amount = rest.join(" ");
    amount.push_str(tail);
    for word in &words[at + 1..] {
        amount.push(' ');
        amount.push_str(word);
    }
    Some((nutrient, is_element, amount.trim().to_owned()))
}

/// Reads a need over its ground.
pub fn read_need(page: &mut Page<'_>, ground: &Ground, text: &str) -> Result<Need, Refusal> {
    let Some((nutrient, is_element, amount)) = split_nutrient(text) else {
        let what = format!("--need `{}` names no nutrient", text.trim());
        return Err(page.refuse(what, HOW));
    };
    let what = if is_element { element(nutrient) } else { nutrient.word() };
    if is_range(&amount) {
        return Err(page.refuse(
            format!("--need `{}` is a range, and a dose wants one amount", text.trim()),
            "choose one: the low end on rich ground, the high end on sand, else the middle",
        ));
    }
    let (base, unit) =
        read_any_said(&amount, "3 lb/1000 ft2").map_err(|fault| page.misread("--need", &fault))?;
    if base <= Decimal::ZERO {
        let what = format!("--need `{}` asks for nothing", text.trim());
        return Err(page.refuse(what, HOW));
    }
    let label = format!("{what} wanted");
    let needed = format!("{what} needed");
    page.understood(format!("{what} {amount}"));
    let weight = match unit.kind() {
        Some(UnitKind::MASS) => in_range::<Mass>(page, &needed, &amount)?,
        Some(UnitKind::RATE) => {
            let rate = in_range::<Rate>(page, &label, &amount)?;
            let area = ground.area(page, "a need given for an area wants the ground it is for")?;
            (&rate * &area).by(needed, &rules::OVER)
        }
        Some(UnitKind::PER_ROW) => {
            let rate = in_range::<RowRate>(page, &label, &amount)?;
            let Some(row) = &ground.row else {
                return Err(page.refuse(
                    "a need given for a length of row wants that length, and there is no --over in feet or metres",
                    "write the length of row, like `--over \"100 ft\"`",
                ));
            };
            (&rate * row).by(needed, &rules::OVER)
        }
        Some(UnitKind::PER_PLANT) => {
            let each = in_range::<PlantRate>(page, &label, &amount)?;
            let Some(plants) = &ground.plants else {
                let what = "a need given for each plant wants the number of plants, and there is no --plants";
                return Err(page.refuse(what, "write it, like `--plants 50`"));
            };
            let each = Said {
                value: Mass::from_base(each.value().base()),
                unit: Written::plain(unit.top),
            };
            let each = page.leaf(&label, each);
            (&each * plants).by(needed, &rules::OVER)
        }
        _ => {
            let what = format!(
                "--need `{}` is neither a weight nor a weight for an area, a row or a plant",
                text.trim()
            );
            return Err(page.refuse(what, HOW));
        }
    };
    let weight = if is_element {
        let factor = oxide_factor(page, nutrient);
        (&weight * &factor).by(format_args!("{} needed", nutrient.word()), &rules::ELEMENT)
    } else {
        weight
    };
    Ok(Need { nutrient, weight })
}

/// Whether an amount runs from one to another, like "2-4 lb/1000 ft2".
fn is_range(amount: &str) -> bool {
    read_range::<Rate>(amount).is_ok_and(|(low, high)| low != high)
        || read_range::<Mass>(amount).is_ok_and(|(low, high)| low != high)
}

fn in_range<Q: crate::quantity::Bounded>(
    page: &mut Page<'_>,
    label: &str,
    amount: &str,
) -> Result<Figure<Q>, Refusal> {
    let said = read_said::<Q>(amount).map_err(|fault| page.misread("--need", &fault))?;
    Ok(page.leaf(label, said))
}
