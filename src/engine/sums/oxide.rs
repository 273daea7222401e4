//! Elements and the oxides that labels count them as.

use rust_decimal::Decimal;

use super::page::{Page, Part};
use super::rate::noun;
use super::{Ask, InUnit, Refusal, Sum, rules};
use crate::figure::Figure;
use crate::quantity::{
    Bounded, Concentration, Density, Mass, Rate, RowRate, Share, UnitKind, read_any_said,
};

/// `sum oxide "20 lb P" --to P2O5`.
#[derive(Clone, Debug, Default)]
pub struct Oxide {
    /// An amount of an element or of an oxide.
    pub amount: String,
    /// What it is to be counted as; nothing takes the label's form, or the element of it.
    pub to: Option<String>,
}

const EXAMPLE: &str = "sum oxide \"20 lb P\" --to P2O5";

/// A form an element is counted in: formula, words for it, its element, how many atoms of the
/// element it has, and how many of oxygen.
struct Form {
    formula: &'static str,
    word: &'static str,
    element: &'static str,
    atoms: i64,
    oxygen: i64,
    /// The factor from the element, and the one back, as they are told.
    factors: (&'static str, &'static str),
}

/// Element first, then the form that labels or laboratories count it in.
const FORMS: &[Form] = &[
    Form { formula: "P", word: "phosphorus", element: "P", atoms: 1, oxygen: 0, factors: ("", "") },
    Form {
        formula: "P2O5",
        word: "phosphate",
        element: "P",
        atoms: 2,
        oxygen: 5,
        factors: ("P2O5 per P", "P per P2O5"),
    },
    Form { formula: "K", word: "potassium", element: "K", atoms: 1, oxygen: 0, factors: ("", "") },
    Form {
        formula: "K2O",
        word: "potash",
        element: "K",
        atoms: 2,
        oxygen: 1,
        factors: ("K2O per K", "K per K2O"),
    },
    Form { formula: "N", word: "nitrogen", element: "N", atoms: 1, oxygen: 0, factors: ("", "") },
    Form {
        formula: "NO3",
        word: "nitrate",
        element: "N",
        atoms: 1,
        oxygen: 3,
        factors: ("NO3 per N", "N per NO3"),
    },
    Form { formula: "Ca", word: "calcium", element: "Ca", atoms: 1, oxygen: 0, factors: ("", "") },
    Form {
        formula: "CaO",
        word: "lime",
        element: "Ca",
        atoms: 1,
        oxygen: 1,
        factors: ("CaO per Ca", "Ca per CaO"),
    },
    Form {
        formula: "Mg",
        word: "magnesium",
        element: "Mg",
        atoms: 1,
        oxygen: 0,
        factors: ("", ""),
    },
    Form {
        formula: "MgO",
        word: "magnesia",
        element: "Mg",
        atoms: 1,
        oxygen: 1,
        factors: ("MgO per Mg", "Mg per MgO"),
    },
    Form { formula: "S", word: "sulfur", element: "S", atoms: 1, oxygen: 0, factors: ("", "") },
    Form {
        formula: "SO3",
        word: "sulfur trioxide",
        element: "S",
        atoms: 1,
        oxygen: 3,
        factors: ("SO3 per S", "S per SO3"),
    },
    Form {
        formula: "SO4",
        word: "sulfate",
        element: "S",
        atoms: 1,
        oxygen: 4,
        factors: ("SO4 per S", "S per SO4"),
    },
];

/// Standard atomic weights (IUPAC; source `atomic-weights`).
fn atomic_weight(element: &str) -> Decimal {
    let (digits, places) = match element {
        "P" => (30_973_762, 6),
        "K" => (390_983, 4),
        "N" => (14_007, 3),
        "Ca" => (40_078, 3),
        "Mg" => (24_305, 3),
        "S" => (3206, 2),
        _ => (15_999, 3),
    };
    Decimal::new(digits, places)
}

impl Form {
    /// Parts of this form that hold one part of the element.
    fn per_element(&self) -> Decimal {
        let element = atomic_weight(self.element) * Decimal::from(self.atoms);
        (element + atomic_weight("O") * Decimal::from(self.oxygen)) / element
    }

    fn find(word: &str) -> Option<&'static Self> {
        let known = |form: &&Self| {
            form.formula.eq_ignore_ascii_case(word) || form.word.eq_ignore_ascii_case(word)
        };
        let alias = match word.to_ascii_lowercase().as_str() {
            "no3-n" | "nitrate-n" | "nitrate-nitrogen" => "N",
            "sulphur" => "S",
            "sulphate" => "SO4",
            _ => "",
        };
        FORMS.iter().find(known).or_else(|| FORMS.iter().find(|form| form.formula == alias))
    }
}

const HOW: &str = "write P, P2O5, K, K2O, N, NO3, Ca, CaO, Mg, MgO, S, SO3 or SO4";

/// An amount of an element counted as its oxide, or the other way round.
///
/// # Errors
/// Where a text cannot be read, or the two forms are of different elements.
pub fn oxide(asked: &Oxide, ask: &Ask<'_>) -> Result<Sum, Refusal> {
    let mut page = Page::new(ask, EXAMPLE);
    let (form, amount) = split(&page, &asked.amount)?;
    page.understood(format!("{amount} of {}", form.formula));
    let to = match asked.to.as_deref().map(str::trim) {
        Some(word) => Form::find(word).ok_or_else(|| {
            page.refuse(format!("--to `{word}` is no element or oxide known here"), HOW)
        })?,
        None => counterpart(form),
    };
    if to.element != form.element {
        let what = format!(
            "{} holds no {}, so one cannot be counted as the other",
            form.formula, to.element
        );
        return Err(page.refuse(what, format!("write a form of {} after --to", form.element)));
    }
    let (_, unit) =
        read_any_said(&amount, "20 lb").map_err(|fault| page.misread("the amount", &fault))?;
    match unit.kind() {
        Some(UnitKind::MASS) => turn::<Mass>(&mut page, form, to, &amount)?,
        Some(UnitKind::RATE) => turn::<Rate>(&mut page, form, to, &amount)?,
        Some(UnitKind::PER_ROW) => turn::<RowRate>(&mut page, form, to, &amount)?,
        Some(UnitKind::DENSITY) => turn::<Density>(&mut page, form, to, &amount)?,
        Some(UnitKind::Concentration) => turn::<Concentration>(&mut page, form, to, &amount)?,
        Some(UnitKind::Share) => turn::<Share>(&mut page, form, to, &amount)?,
        kind => {
            let it = noun(kind).unwrap_or("no weight");
            return Err(page.refuse(
                format!("`{amount}` is {it}, not a weight of {}", form.formula),
                "write a weight, a rate or a percentage, like `20 lb P`",
            ));
        }
    }
    page.done()
}

fn split(page: &Page<'_>, text: &str) -> Result<(&'static Form, String), Refusal> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let found = [words.len().wrapping_sub(1), 0, 2]
        .into_iter()
        .find_map(|at| words.get(at).and_then(|word| split_word(word)).map(|found| (at, found)));
    let Some((at, (form, tail))) = found else {
        let what = format!("`{}` names no element or oxide", text.trim());
        return Err(page.refuse(what, HOW));
    };
    let mut amount = String::new();
    for (index, word) in words.iter().enumerate() {
        if index == at {
            amount.push_str(tail);
        } else if *word != "of" {
            if !amount.is_empty() {
                amount.push(' ');
            }
            amount.push_str(word);
        }
    }
    Ok((form, amount.trim().to_owned()))
}

/// The form at the head of a word, with what follows it: "P2O5/acre".
fn split_word(word: &str) -> Option<(&'static Form, &str)> {
    let (head, tail) = word.split_at(word.find('/').unwrap_or(word.len()));
    Form::find(head).map(|form| (form, tail))
}

/// The form that labels or laboratories use for an element, or the element of a form.
fn counterpart(form: &Form) -> &'static Form {
    let other =
        |one: &&Form| one.element == form.element && (one.oxygen == 0) != (form.oxygen == 0);
    FORMS.iter().find(other).unwrap_or(&FORMS[0])
}

fn turn<Q>(page: &mut Page<'_>, form: &Form, to: &Form, amount: &str) -> Result<(), Refusal>
where
    Q: Bounded + std::ops::Mul<Share, Output = Q>,
{
    let before = page.asked::<Q>("the amount", form.formula, amount)?;
    let unit = page.units.of_step(&before.step());
    let mut value = before;
    let fixed = |page: &mut Page<'_>, label: &'static str, value: Decimal| {
        page.units.note(label, InUnit::Count(label));
        Figure::fixed(label, Share::from_fraction(value), &rules::ELEMENT)
    };
    if form.oxygen > 0 {
        let factor = fixed(page, form.factors.1, Decimal::ONE / form.per_element());
        value = (&value * &factor).by(form.element, &rules::ELEMENT);
        page.units.note(form.element, unit);
    }
    if to.oxygen > 0 {
        let factor = fixed(page, to.factors.0, to.per_element());
        value = (&value * &factor).by(to.formula, &rules::ELEMENT);
        page.units.note(to.formula, unit);
    }
    if form.formula == to.formula {
        value = value.called(format_args!("{} as it is", to.formula));
    }
    let answer_unit = if Q::KIND == crate::quantity::Kind::Mass {
        InUnit::Of(page.units.weight().into())
    } else {
        unit
    };
    page.units.note(to.formula, answer_unit);
    page.answer(Part::Asked, "weight", &value);
    Ok(())
}
