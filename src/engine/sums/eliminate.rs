//! Two or three needs that every material carries: one material after another is taken out of the
//! equations, until one is left that can be weighed.

use super::rules;
use crate::figure::Figure;
use crate::quantity::{Mass, Share};

/// One equation: what is left of a need is what the materials together bring of it.
#[derive(Clone, Debug)]
pub struct Row {
    /// What is needed, in a word.
    pub word: &'static str,
    /// How much of it.
    pub left: Figure<Mass>,
    /// What each material holds of it.
    pub shares: Vec<Figure<Share>>,
}

/// Weighs the first of the materials of these names; nothing where the equations have no answer.
pub fn weigh_first(names: &[&str], mut rows: Vec<Row>) -> Option<Figure<Mass>> {
    for last in (1..names.len()).rev() {
        let pivot = (0..rows.len()).max_by_key(|row| rows[*row].shares[last].value())?;
        let pivot = rows.remove(pivot);
        rows = rows.iter().map(|row| take_out(row, &pivot, names, last)).collect::<Option<_>>()?;
    }
    let row = rows.first()?;
    row.left.over(&row.shares[0])
}

/// Takes the last material out of a row with the help of another row.
fn take_out(row: &Row, pivot: &Row, names: &[&str], last: usize) -> Option<Row> {
    let mut kept = row.clone();
    kept.shares.truncate(last);
    if row.shares[last].is_zero() {
        return Some(kept);
    }
    let name = names[last];
    let ratio = row.shares[last].ratio_to(&pivot.shares[last])?.by(
        format_args!("{} for each part of {} in {name}", row.word, pivot.word),
        &rules::TOGETHER,
    );
    // An equation holds with both sides turned round: so that what is divided by is above zero.
    let turned = (row.shares[last - 1].value() - pivot.shares[last - 1].value() * ratio.value())
        < Share::ZERO;
    let without = format!("with {name} taken out");
    let left = &pivot.left * &ratio;
    let left = if turned { &left - &row.left } else { &row.left - &left };
    kept.left = left.by(format_args!("{} still wanted {without}", row.word), &rules::TOGETHER);
    for (index, share) in kept.shares.iter_mut().enumerate() {
        let other = &pivot.shares[index] * &ratio;
        let both = if turned { &other - share } else { &*share - &other };
        let label = format!("{} in {} {without}", row.word, names[index]);
        *share = both.by(label, &rules::TOGETHER);
    }
    Some(kept)
}
