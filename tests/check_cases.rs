//! Described cases: what a bulletin's key says of a plant, and the cause that must come first.
//! A case is one small file under `tests/cases/check/`.

use serde::Deserialize;

use topdress::calendar::Date;
use topdress::catalogue::{Class, MaterialKind, Sign, Signs};
use topdress::engine::check::{
    Answer, Asked, Candidate, Ground, Hold, Kin, Recent, RescueNeed, Situation, answer,
};
use topdress::figure::Figure;
use topdress::quantity::{Area, Bounded, Concentration, Length, Rate, Share, Temperature, read};
use topdress::season::Texture;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    source: String,
    says: String,
    kin: Option<String>,
    signs: Vec<String>,
    texture: Option<String>,
    rain: Option<String>,
    soil: Option<String>,
    nitrate: Option<String>,
    critical: Option<String>,
    ph: Option<String>,
    phosphorus: Option<String>,
    budget: Option<String>,
    spread: Option<String>,
    fed: Option<i32>,
    harvest_in: Option<i32>,
    first: String,
}

fn amount<Q: Bounded>(text: &str) -> Q {
    read(text).unwrap_or_else(|fault| panic!("{text}: {fault}")).0
}

fn today() -> Date {
    Date::new(2027, 6, 20).expect("a date")
}

impl Case {
    fn situation(&self) -> Situation {
        let kin = self.kin.as_deref();
        let mut spread = Vec::new();
        let mut add = |material: &str, kind, days| {
            let on = today() - days;
            let material = material.to_owned();
            spread.push(Recent { material, kind, carbon_nitrogen: None, mixed: true, on });
        };
        if let Some(material) = &self.spread {
            add(material, MaterialKind::Manure, 50);
        }
        if let Some(days) = self.fed {
            add("ammonium sulfate", MaterialKind::Mineral, days);
        }
        Situation {
            today: today(),
            kin: Kin { cabbage_family: kin == Some("cabbage-family"), corn: kin == Some("corn") },
            harvest: today() + self.harvest_in.unwrap_or(45),
            texture: self.texture.as_deref().map(|word| match word {
                "sand" => Texture::Sand,
                "loam" => Texture::Loam,
                _ => Texture::Clay,
            }),
            soil_temperature: self.soil.as_deref().map(amount::<Temperature>),
            rain: self.rain.iter().map(|depth| (today() - 4, amount::<Length>(depth))).collect(),
            spread,
            nitrate: self.nitrate.as_deref().map(amount::<Concentration>),
            critical: amount(self.critical.as_deref().unwrap_or("25 ppm")),
            acidity: self.ph.as_deref().map(|ph| ph.parse().expect("a pH")),
            phosphorus: self.phosphorus.as_deref().map(|word| match word {
                "low" => Class::Low,
                _ => Class::High,
            }),
            budget: self.budget.as_deref().map(signed),
        }
    }
}

/// A rate that may be below zero, which no season file may say.
fn signed(text: &str) -> Rate {
    match text.strip_prefix('-') {
        Some(rest) => -amount::<Rate>(rest),
        None => amount(text),
    }
}

fn asked<'a>(signs: &'a Signs, case: &Case) -> Asked<'a> {
    let seen: Vec<&Sign> = case
        .signs
        .iter()
        .map(|key| signs.sign(key).unwrap_or_else(|| panic!("{key} is no sign")))
        .collect();
    let situation = case.situation();
    let need = RescueNeed {
        critical: Figure::asked("critical", situation.critical),
        nitrate: situation.nitrate.map(|nitrate| Figure::asked("nitrate", nitrate)),
        foot: None,
        budget: situation.budget.map(|budget| Figure::asked("short", budget)),
        washed_out: situation.washed_out(),
        published: None,
        cap: Figure::asked("cap", Rate::from_lb_per_acre(50.into())),
        too_late: false,
    };
    let share = |percent: u32| Figure::asked("share", Share::from_percent(percent.into()));
    let candidate = |name: &str, kind, nitrogen, nitrate: u32, freed| Candidate {
        name: name.to_owned(),
        kind,
        nitrogen: share(nitrogen),
        nitrate: Share::from_percent(nitrate.into()),
        freed: share(freed),
        density: None,
        own: true,
    };
    Asked {
        signs,
        seen,
        situation,
        need,
        ground: Ground {
            area: Some(Figure::asked("area", Area::from_ft2(100.into()))),
            mix: None,
            plants: None,
            row_spacing: None,
        },
        candidates: vec![
            candidate("yard compost", MaterialKind::Compost, 1, 0, 0),
            candidate("urea", MaterialKind::Mineral, 46, 0, 46),
        ],
        anyway: false,
        units: topdress::quantity::UnitSystem::Us,
    }
}

fn scores(answer: &Answer<'_>) -> String {
    let top = answer.weighed.verdicts.iter().take(4);
    let said: Vec<String> =
        top.map(|verdict| format!("{} {}", verdict.cause.key, verdict.score)).collect();
    said.join(", ")
}

fn each_case(mut check: impl FnMut(&str, &Case, Asked<'_>)) -> usize {
    let signs = Signs::built_in();
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cases/check");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("cases")
        .map(|file| file.expect("a case").path())
        .collect();
    files.sort();
    for file in &files {
        let name = file.file_stem().expect("a name").to_string_lossy().into_owned();
        let text = std::fs::read_to_string(file).expect("text");
        let case: Case = toml::from_str(&text).unwrap_or_else(|fault| panic!("{name}: {fault}"));
        assert!(!case.source.is_empty() && !case.says.is_empty(), "{name}");
        check(&name, &case, asked(&signs, &case));
    }
    files.len()
}

#[test]
fn the_described_cause_comes_first() {
    let (mut wrong, mut unsettled, mut not_nitrogen) = (Vec::new(), Vec::new(), 0);
    let count = each_case(|name, case, asked| {
        let answer = answer(asked).unwrap_or_else(|conflict| panic!("{name}: {conflict:?}"));
        let first = &answer.weighed.first().expect("causes").cause.key;
        not_nitrogen += usize::from(case.first != "nitrogen");
        if *first != case.first {
            wrong.push(format!("{name}: {} before {}", scores(&answer), case.first));
        }
        if answer.holds.contains(&Hold::Unsettled) {
            unsettled.push(format!("{name}: {}", scores(&answer)));
        }
        let named = answer.dose.as_ref().map(|dose| &dose.offers);
        if case.first == "nitrogen" {
            let offers = named.unwrap_or_else(|| panic!("{name}: {:?}", answer.holds));
            assert_eq!(offers.len(), 1, "{name}");
            assert_eq!(offers[0].name, "urea", "{name}: compost is no rescue");
        } else {
            assert!(named.is_none(), "{name}: a dose for {}", case.first);
        }
    });
    assert_eq!(wrong, Vec::<String>::new());
    assert_eq!(unsettled, Vec::<String>::new());
    assert!(count >= 40 && not_nitrogen >= 10, "{count} cases, {not_nitrogen} look-alikes");
}

#[test]
fn every_cause_and_every_sign_is_reached_by_a_case() {
    let signs = Signs::built_in();
    let (mut causes, mut used) = (Vec::new(), Vec::new());
    each_case(|_, case, asked| {
        causes.push(case.first.clone());
        let answer = answer(asked).expect("no conflict");
        used.extend(answer.evidence.iter().map(|one| one.sign.key.clone()));
    });
    for cause in &signs.causes {
        assert!(causes.contains(&cause.key), "no case for {}", cause.key);
    }
    for sign in &signs.signs {
        assert!(used.contains(&sign.key), "no case with {}", sign.key);
    }
}

#[test]
fn saturated_soil_and_galled_roots_get_no_dose_even_when_asked() {
    let mut held = 0;
    each_case(|name, case, mut asked| {
        asked.anyway = true;
        let answer = answer(asked).expect("no conflict");
        let sick = ["saturated", "galled-roots", "rotten-roots"];
        if case.signs.iter().any(|sign| sick.contains(&sign.as_str())) {
            assert!(answer.dose.is_none(), "{name}");
            held += 1;
        } else {
            assert!(answer.dose.is_some(), "{name}: asked for anyway");
        }
    });
    assert!(held >= 5, "{held}");
}

#[test]
fn leaving_out_any_one_answer_never_makes_another_cause_clear() {
    use topdress::engine::check::Sureness;
    each_case(|name, case, _| {
        let signs = Signs::built_in();
        for left_out in 0..case.signs.len() {
            let mut asked = asked(&signs, case);
            asked.seen.remove(left_out);
            let answer = answer(asked).expect("no conflict");
            let first = answer.weighed.first().expect("causes");
            let misled = answer.weighed.sureness == Sureness::Clear
                && first.cause.key == "nitrogen"
                && case.first != "nitrogen";
            assert!(!misled, "{name} without {}: {}", case.signs[left_out], scores(&answer));
        }
    });
}
