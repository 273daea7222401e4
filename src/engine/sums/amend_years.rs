//! How much of an amendment's nitrogen counts, this year and the next two.

use rust_decimal::Decimal;

use super::amend::{Amend, Spread};
use super::ammonium::kept;
use super::page::{Page, Part};
use super::{InUnit, Refusal, rules};
use crate::catalogue::{Material, MaterialKind};
use crate::figure::{Figure, Rule};
use crate::quantity::{Density, Mass, Share, Written, read_said, settle, units};

/// Which set of yearly shares an amendment follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Compost, vermicompost and composted manure.
    Compost,
    /// Manure that is not composted.
    Manure,
}

impl Kind {
    /// What a material is: by its entry, else by its name.
    pub fn of(material: Option<&Material>, name: &str) -> Option<Self> {
        match material.map(|material| material.kind) {
            Some(MaterialKind::Compost) => return Some(Self::Compost),
            Some(MaterialKind::Manure | MaterialKind::PoultryManure) => return Some(Self::Manure),
            Some(_) => return None,
            None => {}
        }
        let lower = name.to_lowercase();
        let says = |words: &[&str]| words.iter().any(|word| lower.contains(word));
        if says(&["compost"]) {
            Some(Self::Compost)
        } else if says(&["manure", "slurry", "litter", "dung"]) {
            Some(Self::Manure)
        } else {
            None
        }
    }

    /// The share that becomes available in a later year: of the total nitrogen of compost, of the
    /// organic nitrogen of manure.
    fn later(self, year: u8) -> (Share, &'static Rule) {
        let percent = match (self, year) {
            (Self::Compost, 2) => 4,
            (Self::Compost, _) => 3,
            (Self::Manure, 2) => 12,
            (Self::Manure, _) => 6,
        };
        let rule = match self {
            Self::Compost => &rules::COMPOST_YEARS,
            Self::Manure => &rules::MANURE_YEARS,
        };
        (Share::from_percent(Decimal::from(percent)), rule)
    }
}

/// The nitrogen of what is spread.
#[derive(Debug)]
pub struct Nitrogen<'a> {
    /// All of it.
    pub total: &'a Figure<Mass>,
    /// What is spread.
    pub spread: &'a Spread,
    /// The weight that the analysis is of.
    pub body: &'a Figure<Mass>,
}

/// The parts of the nitrogen.
struct Parts {
    organic: Figure<Mass>,
    ammonium: Option<Figure<Mass>>,
    nitrate: Option<Figure<Mass>>,
}

/// Adds the answers on nitrogen that counts, and returns that of the first year where it is asked for
/// and known.
pub fn counts(
    page: &mut Page<'_>,
    asked: &Amend,
    material: Option<&Material>,
    nitrogen: &Nitrogen<'_>,
) -> Result<Option<Mass>, Refusal> {
    let year = year(page, asked.year.as_deref())?;
    let parts = parts(page, asked, material, nitrogen)?;
    let kind = Kind::of(material, &asked.material)
        .or_else(|| parts.ammonium.is_some().then_some(Kind::Manure));
    if year > 1 {
        later_year(page, asked, kind, year, nitrogen, &parts)?;
        return Ok(None);
    }
    let freed = first_year(page, asked, material, kind, nitrogen, &parts)?;
    if let Some(counts) = &freed {
        page.answer(Part::Asked, "nitrogen that counts", counts);
    } else {
        page.note(
            "how much of the nitrogen counts is not known for it; write `--release \"10 %\"`",
        );
    }
    if asked.year.is_none()
        && let Some(kind) = kind
    {
        for year in [2, 3] {
            let name = format!("nitrogen that counts in year {year}");
            let later = later(page, kind, year, nitrogen, &parts, &name);
            page.answer(Part::Along, name, &later);
        }
    }
    Ok(freed.map(|freed| freed.value()))
}

fn year(page: &Page<'_>, text: Option<&str>) -> Result<u8, Refusal> {
    match text.map(|text| text.trim().to_ascii_lowercase()).as_deref() {
        None | Some("1" | "first") => Ok(1),
        Some("2" | "second") => Ok(2),
        Some("3" | "third") => Ok(3),
        Some(other) => Err(page.refuse(
            format!("--year `{other}` is none of the years there are figures for"),
            "write `--year 1`, `--year 2` or `--year 3`",
        )),
    }
}

/// Parts total nitrogen into organic, ammonium and nitrate.
fn parts(
    page: &mut Page<'_>,
    asked: &Amend,
    material: Option<&Material>,
    nitrogen: &Nitrogen<'_>,
) -> Result<Parts, Refusal> {
    let nitrate = match &asked.nitrate {
        Some(text) => Some(part(page, "--nitrate", "nitrate nitrogen", text, nitrogen)?),
        None => None,
    };
    let ammonium = match (&asked.ammonium, &asked.worked_in) {
        (Some(text), _) => Some(part(page, "--ammonium", "ammonium nitrogen", text, nitrogen)?),
        (None, Some(_)) => Some(listed_ammonium(page, asked, material, nitrogen)?),
        (None, None) => None,
    };
    let mineral: Vec<Figure<Mass>> = [&ammonium, &nitrate].into_iter().flatten().cloned().collect();
    if mineral.is_empty() {
        return Ok(Parts { organic: nitrogen.total.clone(), ammonium, nitrate });
    }
    let organic = match mineral.as_slice() {
        [one] => nitrogen.total - one,
        many => nitrogen.total - &Figure::total(many),
    };
    let organic = organic.by("organic nitrogen", &rules::ORGANIC);
    if settle(organic.value().base()) < Decimal::ZERO {
        return Err(page.refuse(
            "ammonium and nitrate come to more than the total nitrogen of the analysis",
            "check the units: `8 lb/ton` is 0.4 %",
        ));
    }
    page.answer(Part::Asked, "organic nitrogen", &organic);
    if let Some(ammonium) = &ammonium {
        page.answer(Part::Asked, "ammonium nitrogen", ammonium);
    }
    Ok(Parts { organic, ammonium, nitrate })
}

/// Reads "8 lb/ton" (of the stuff as it comes), "0.4 %" (as the analysis) or "1.8 kg/m3".
fn part(
    page: &mut Page<'_>,
    option: &str,
    label: &str,
    text: &str,
    nitrogen: &Nitrogen<'_>,
) -> Result<Figure<Mass>, Refusal> {
    let content = format!("{label} in it");
    if let Ok(said) = read_said::<Density>(text) {
        let Some(volume) = &nitrogen.spread.volume else {
            return Err(page.refuse(
                format!("{option} `{}` is for a volume, and no volume is known", text.trim()),
                "write it for a weight, like `8 lb/ton`, or add --density",
            ));
        };
        page.understood(format!("{} {}", option.trim_start_matches('-'), text.trim()));
        let density = page.leaf(&content, said);
        return Ok((&density * volume).by(label.to_owned(), &rules::CONTENT));
    }
    let share = page.asked::<Share>(option, &content, text)?;
    let percent = matches!(page.units.of_step(&share.step()), InUnit::Of(unit) if unit == Written::plain(&units::PERCENT));
    let body = if percent { nitrogen.body } else { &nitrogen.spread.weight };
    Ok((body * &share).by(label.to_owned(), &rules::CONTENT))
}

fn listed_ammonium(
    page: &mut Page<'_>,
    asked: &Amend,
    material: Option<&Material>,
    nitrogen: &Nitrogen<'_>,
) -> Result<Figure<Mass>, Refusal> {
    let share = material.and_then(|one| one.ammonium_share.map(|share| (one, share)));
    let Some((material, share)) = share.filter(|(_, share)| *share > Share::ZERO) else {
        let what = format!(
            "how soon it is worked in matters for ammonium only, and the ammonium of `{}` is not known",
            asked.material.trim()
        );
        return Err(page.refuse(what, "write it, like `--ammonium \"8 lb/ton\"`"));
    };
    let source = material.source_of("ammonium_share");
    let share = Figure::listed(
        "share of its nitrogen that is ammonium",
        share,
        "materials",
        &material.name,
        source,
    );
    Ok((nitrogen.total * &share).by("ammonium nitrogen", &rules::CONTENT))
}

fn first_year(
    page: &mut Page<'_>,
    asked: &Amend,
    material: Option<&Material>,
    kind: Option<Kind>,
    nitrogen: &Nitrogen<'_>,
    parts: &Parts,
) -> Result<Option<Figure<Mass>>, Refusal> {
    let parted = parts.ammonium.is_some() || parts.nitrate.is_some();
    let release = match &asked.release {
        Some(text) => {
            let release =
                page.asked_positive::<Share>("--release", "share that becomes available", text)?;
            Some(release)
        }
        None if parted && kind == Some(Kind::Manure) => {
            page.note("25 % of the organic nitrogen is taken to become available in the first year, as no --release was given");
            Some(Figure::fixed(
                "share of organic nitrogen in the first year",
                Share::from_percent(Decimal::from(25)),
                &rules::MANURE_YEARS,
            ))
        }
        None => material.and_then(|one| one.release.as_ref().map(|release| (one, release))).map(
            |(one, release)| {
                let percent = |value: &crate::catalogue::Number| value.0.normalize();
                page.note(format!(
                    "likely between {} and {} % of its nitrogen; {} % is typical",
                    percent(&release.low),
                    percent(&release.high),
                    percent(&release.typical)
                ));
                let share = Share::from_percent(release.typical.0);
                Figure::listed(
                    "share that becomes available",
                    share,
                    "materials",
                    &one.name,
                    one.source_of("release"),
                )
            },
        ),
    };
    if !parted {
        return Ok(release.map(|release| {
            (nitrogen.total * &release).by("nitrogen that counts", &rules::RELEASE)
        }));
    }
    let mut sum: Vec<Figure<Mass>> = Vec::new();
    let Some(release) = release else { return Ok(None) };
    let organic = (&parts.organic * &release).by("organic nitrogen that counts", &rules::RELEASE);
    page.answer(Part::Asked, "organic nitrogen that counts", &organic);
    sum.push(organic);
    if let Some(ammonium) = &parts.ammonium {
        let kept = kept(page, asked)?;
        let kept = (ammonium * &kept).by("ammonium nitrogen kept", &rules::KEPT);
        page.answer(Part::Asked, "ammonium nitrogen kept", &kept);
        sum.push(kept);
    }
    sum.extend(parts.nitrate.clone());
    Ok(Some(Figure::total(&sum).by("nitrogen that counts", &rules::RELEASE)))
}

fn later_year(
    page: &mut Page<'_>,
    asked: &Amend,
    kind: Option<Kind>,
    year: u8,
    nitrogen: &Nitrogen<'_>,
    parts: &Parts,
) -> Result<(), Refusal> {
    let counts = match (&asked.release, kind) {
        (Some(text), _) => {
            let release = page.asked_positive::<Share>(
                "--release",
                "share that becomes available in that year",
                text,
            )?;
            (&parts.organic * &release).by("nitrogen that counts", &rules::RELEASE)
        }
        (None, Some(kind)) => later(page, kind, year, nitrogen, parts, "nitrogen that counts"),
        (None, None) => {
            let what =
                format!("no figures are printed for `{}` in later years", asked.material.trim());
            return Err(page.refuse(what, "write the share yourself, like `--release \"5 %\"`"));
        }
    };
    page.answer(Part::Asked, "nitrogen that counts", &counts);
    Ok(())
}

fn later(
    page: &mut Page<'_>,
    kind: Kind,
    year: u8,
    nitrogen: &Nitrogen<'_>,
    parts: &Parts,
    label: &str,
) -> Figure<Mass> {
    let _ = page;
    let (share, rule) = kind.later(year);
    let of = if kind == Kind::Compost { nitrogen.total } else { &parts.organic };
    let share = Figure::fixed(format_args!("share of year {year}"), share, rule);
    (of * &share).by(label.to_owned(), rule)
}
