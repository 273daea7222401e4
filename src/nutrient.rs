//! The three nutrients of a fertilizer label, and the label itself.

use std::fmt;
use std::ops::{Index, IndexMut};

use rust_decimal::Decimal;

use crate::quantity::Share;

/// One of the three nutrients that a label states.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Nutrient {
    /// Nitrogen (N).
    Nitrogen,
    /// Phosphate (P2O5).
    Phosphate,
    /// Potash (K2O).
    Potash,
}

impl Nutrient {
    /// All three, in label order.
    pub const ALL: [Self; 3] = [Self::Nitrogen, Self::Phosphate, Self::Potash];

    /// The word used in prose and in paths.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Nitrogen => "nitrogen",
            Self::Phosphate => "phosphate",
            Self::Potash => "potash",
        }
    }

    /// The formula used in tables.
    pub const fn formula(self) -> &'static str {
        match self {
            Self::Nitrogen => "N",
            Self::Phosphate => "P2O5",
            Self::Potash => "K2O",
        }
    }

    /// Reads a word or a formula, and whether it names the element (`P`, `K`) instead of the oxide.
    pub fn read(text: &str) -> Option<(Self, bool)> {
        match text.trim().to_ascii_lowercase().as_str() {
            "n" | "nitrogen" => Some((Self::Nitrogen, false)),
            "p2o5" | "phosphate" => Some((Self::Phosphate, false)),
            "k2o" | "potash" => Some((Self::Potash, false)),
            "p" | "phosphorus" => Some((Self::Phosphate, true)),
            "k" | "potassium" => Some((Self::Potash, true)),
            _ => None,
        }
    }

    /// How many parts of the labelled form hold one part of the element.
    ///
    /// From the standard atomic weights P 30.973762, O 15.999, K 39.0983 (IUPAC, as kept in
    /// `data/`, source `atomic-weights`): P2O5 = P x 2.2913 and K2O = K x 1.2046.
    pub fn oxide_per_element(self) -> Share {
        let phosphorus = Decimal::from_parts(30_973_762, 0, 0, false, 6);
        let potassium = Decimal::from_parts(390_983, 0, 0, false, 4);
        let oxygen = Decimal::from_parts(15_999, 0, 0, false, 3);
        let two = Decimal::from(2);
        Share::from_fraction(match self {
            Self::Nitrogen => Decimal::ONE,
            Self::Phosphate => (two * phosphorus + Decimal::from(5) * oxygen) / (two * phosphorus),
            Self::Potash => (two * potassium + oxygen) / (two * potassium),
        })
    }
}

/// One thing for each nutrient.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Npk<T> {
    /// For nitrogen.
    pub nitrogen: T,
    /// For phosphate.
    pub phosphate: T,
    /// For potash.
    pub potash: T,
}

impl<T> Npk<T> {
    /// Makes one from a rule for each nutrient.
    pub fn from_fn(mut make: impl FnMut(Nutrient) -> T) -> Self {
        Self {
            nitrogen: make(Nutrient::Nitrogen),
            phosphate: make(Nutrient::Phosphate),
            potash: make(Nutrient::Potash),
        }
    }

    /// Turns each into something else.
    pub fn map<U>(self, mut turn: impl FnMut(T) -> U) -> Npk<U> {
        Npk {
            nitrogen: turn(self.nitrogen),
            phosphate: turn(self.phosphate),
            potash: turn(self.potash),
        }
    }

    /// Walks the three in label order.
    pub fn iter(&self) -> impl Iterator<Item = (Nutrient, &T)> {
        Nutrient::ALL.into_iter().map(|nutrient| (nutrient, &self[nutrient]))
    }
}

impl<T> Index<Nutrient> for Npk<T> {
    type Output = T;
    fn index(&self, nutrient: Nutrient) -> &T {
        match nutrient {
            Nutrient::Nitrogen => &self.nitrogen,
            Nutrient::Phosphate => &self.phosphate,
            Nutrient::Potash => &self.potash,
        }
    }
}

impl<T> IndexMut<Nutrient> for Npk<T> {
    fn index_mut(&mut self, nutrient: Nutrient) -> &mut T {
        match nutrient {
            Nutrient::Nitrogen => &mut self.nitrogen,
            Nutrient::Phosphate => &mut self.phosphate,
            Nutrient::Potash => &mut self.potash,
        }
    }
}

/// What a label guarantees: the share of each nutrient by weight, oxides for phosphate and potash.
pub type Analysis = Npk<Share>;

/// Why a text is not an analysis.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BadAnalysis {
    /// It is not three numbers with dashes between.
    Shape {
        /// What was written.
        text: String,
    },
    /// The three add up to more than the whole bag.
    OverWhole {
        /// Their sum in percent.
        total: Decimal,
    },
}

impl fmt::Display for BadAnalysis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Shape { text } => write!(f, "`{text}` is not an analysis"),
            Self::OverWhole { total } => {
                write!(
                    f,
                    "the analysis adds up to {} %, more than the whole bag",
                    total.normalize()
                )
            }
        }
    }
}

impl std::error::Error for BadAnalysis {}

impl BadAnalysis {
    /// How to put it right.
    pub fn mend(&self) -> String {
        "write percent nitrogen-phosphate-potash as the label does, like `10-10-10`; add `elemental` \
         where the label counts phosphorus and potassium themselves, like `16-4-8 elemental`"
            .to_owned()
    }
}

/// Reads "24-25-4", or "24-25-4 elemental" where the label counts P and K instead of their oxides.
///
/// # Errors
/// Where it is not three numbers with dashes between, or they pass 100 %.
pub fn read_analysis(text: &str) -> Result<Analysis, BadAnalysis> {
    let shape = || BadAnalysis::Shape { text: text.trim().chars().take(40).collect() };
    let trimmed = text.trim();
    let lower = trimmed.to_ascii_lowercase();
    let (numbers, elemental) = match lower.strip_suffix("elemental") {
        Some(rest) => (rest.trim(), true),
        None => (lower.as_str(), false),
    };
    let mut parts = numbers.split('-').map(|part| {
        let part = part.trim().trim_end_matches('%').trim();
        let plain = !part.is_empty()
            && part.len() <= 12
            && part.chars().all(|c| c.is_ascii_digit() || c == '.');
        plain.then(|| part.parse::<Decimal>().ok()).flatten().ok_or_else(shape)
    });
    let mut next = || parts.next().ok_or_else(shape)?;
    let written = Npk { nitrogen: next()?, phosphate: next()?, potash: next()? };
    if parts.next().is_some() {
        return Err(shape());
    }
    let analysis = Npk::from_fn(|nutrient| {
        let share = Share::from_percent(written[nutrient]);
        if elemental { share * nutrient.oxide_per_element() } else { share }
    });
    let total: Decimal = Nutrient::ALL.iter().map(|nutrient| analysis[*nutrient].percent()).sum();
    if total > Decimal::ONE_HUNDRED {
        return Err(BadAnalysis::OverWhole { total: crate::quantity::significant(total, 6) });
    }
    Ok(analysis)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn d(text: &str) -> Decimal {
        text.parse().expect("a decimal")
    }

    /// Virginia Tech SPES-201 prints 0.4365 and 0.8301 for the way back, and New Mexico State
    /// University Guide H-120 the rounded 2.29 and 1.2; the exact values follow from the atomic
    /// weights.
    #[test]
    fn oxides_follow_from_atomic_weights() {
        let phosphate = Nutrient::Phosphate.oxide_per_element().fraction();
        let potash = Nutrient::Potash.oxide_per_element().fraction();
        assert_eq!(phosphate.round_dp(5), d("2.29133"));
        assert_eq!(potash.round_dp(5), d("1.2046"));
        assert_eq!((Decimal::ONE / phosphate).round_dp(4), d("0.4364"));
        assert_eq!((Decimal::ONE / potash).round_dp(4), d("0.8302"));
    }

    #[test]
    fn labels_are_read() {
        let label = read_analysis("24-25-4").expect("a label");
        assert_eq!(
            label.map(Share::percent),
            Npk { nitrogen: d("24"), phosphate: d("25"), potash: d("4") }
        );
        let element = read_analysis("0-8.8-0 elemental").expect("a label");
        assert_eq!(element.phosphate.percent().round_dp(2), d("20.16"));
        assert!(read_analysis("10-10").is_err());
        assert!(read_analysis("10-10-10-10").is_err());
        assert!(read_analysis("ten").is_err());
        assert_eq!(read_analysis("60-30-20"), Err(BadAnalysis::OverWhole { total: d("110") }));
    }
}
