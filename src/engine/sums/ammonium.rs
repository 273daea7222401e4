//! How much ammonium is kept until manure is worked in.

use rust_decimal::Decimal;

use super::amend::Amend;
use super::page::Page;
use super::{Refusal, rules};
use crate::figure::Figure;
use crate::quantity::{Said, Share, units};

/// Share of ammonium kept, in percent: Alberta Agriculture, Agdex 400/28-3, Table 4.3.4. A row for
/// each handling; columns average, cool and wet, cool and dry, warm and wet, warm and dry.
const KEPT: [[i64; 5]; 7] = [
    [100, 100, 100, 100, 100],
    [75, 90, 85, 75, 50],
    [70, 87, 81, 69, 43],
    [65, 85, 78, 62, 35],
    [60, 83, 74, 56, 28],
    [55, 80, 70, 50, 20],
    [34, 60, 50, 25, 0],
];

/// The share of ammonium that is kept, by how soon it is worked in and by the weather.
pub fn kept(page: &mut Page<'_>, asked: &Amend) -> Result<Figure<Share>, Refusal> {
    let row = match &asked.worked_in {
        Some(text) => handling(page, text)?,
        None => {
            page.note("it is taken as left on the surface, as no --worked-in was given");
            6
        }
    };
    let column = match asked.weather.as_deref() {
        Some(text) => weather(page, text)?,
        None => 0,
    };
    let words = match row {
        0 => "injected".to_owned(),
        6 => "left on the surface".to_owned(),
        1 => "worked in within 1 day".to_owned(),
        days => format!("worked in within {days} days"),
    };
    let air = ["average", "cool and wet", "cool and dry", "warm and wet", "warm and dry"][column];
    let label = format!("share of ammonium kept, {words}, {air} weather");
    let share = Share::from_percent(Decimal::from(KEPT[row][column]));
    Ok(page.leaf_fixed(&label, Said { value: share, unit: (&units::PERCENT).into() }, &rules::KEPT))
}

fn handling(page: &Page<'_>, text: &str) -> Result<usize, Refusal> {
    let lower = text.trim().to_ascii_lowercase();
    match lower.as_str() {
        "injected" | "injection" => return Ok(0),
        "at once" | "same day" | "immediately" => return Ok(1),
        "not" | "never" | "no" | "none" | "surface" | "left" | "not incorporated"
        | "not worked in" => return Ok(6),
        _ => {}
    }
    let wrong = || {
        page.refuse(
            format!(
                "--worked-in `{}` is neither a number of days nor `injected` nor `never`",
                text.trim()
            ),
            "write `--worked-in \"1 day\"`, `--worked-in injected` or `--worked-in never`",
        )
    };
    let body = lower.strip_prefix("within").unwrap_or(&lower).trim();
    let end = body.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(body.len());
    let number: Decimal = body[..end].parse().map_err(|_| wrong())?;
    let days = match body[end..].trim() {
        "" | "d" | "day" | "days" => number,
        "h" | "hour" | "hours" => number / Decimal::from(24),
        "week" | "weeks" => number * Decimal::from(7),
        _ => return Err(wrong()),
    };
    Ok(match days.ceil() {
        days if days <= Decimal::ONE => 1,
        days if days <= Decimal::from(5) => usize::try_from(days).unwrap_or(5),
        _ => 6,
    })
}

fn weather(page: &Page<'_>, text: &str) -> Result<usize, Refusal> {
    let clean = text.trim().to_ascii_lowercase().replace([' ', '_'], "-").replace("-and-", "-");
    Ok(match clean.as_str() {
        "average" => 0,
        "cool-wet" => 1,
        "cool-dry" => 2,
        "warm-wet" => 3,
        "warm-dry" => 4,
        _ => {
            return Err(page.refuse(
                format!("--weather `{}` is not in the table", text.trim()),
                "write average, cool-wet, cool-dry, warm-wet or warm-dry",
            ));
        }
    })
}
