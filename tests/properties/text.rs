//! A drawn garden written down as a season file.

use super::garden::{Amended, Bed, Extent, Garden, HowMuch, Item, Past, Planting, Shape, Soil};
use super::units::{Amount, Written};

/// How a garden is written down.
#[derive(Clone, Copy, Debug)]
pub struct Hand {
    /// Units of the amounts.
    pub written: Written,
    /// Stirs the order of tables and of fields in them; zero leaves it.
    pub stir: u64,
}

impl Hand {
    /// US units, nothing stirred.
    pub const US: Self = Self { written: Written::Us, stir: 0 };
    /// Metric units, nothing stirred.
    pub const METRIC: Self = Self { written: Written::Metric, stir: 0 };

    fn amount(self, amount: Amount) -> String {
        amount.text(self.written)
    }

    /// Puts things in another order; the same one for the same number.
    fn stirred<T>(self, mut things: Vec<T>) -> Vec<T> {
        let mut state = self.stir;
        for end in (1..things.len()).rev().filter(|_| self.stir != 0) {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(self.stir | 1);
            let pick = (state >> 33) % (end as u64 + 1);
            things.swap(end, usize::try_from(pick).unwrap_or(0));
        }
        things
    }

    fn table(self, heading: &str, fields: Vec<String>) -> String {
        format!("{heading}\n{}\n", self.stirred(fields).join("\n"))
    }
}

/// Writes the season file.
pub fn text(garden: &Garden, hand: Hand) -> String {
    let mut tables = vec![head(garden, hand)];
    let names = |list: &[&str]| format!("{list:?}");
    tables.push(hand.table(
        "[feeding]",
        vec![
            format!("before_planting = {}", names(&garden.feeding.0)),
            format!("side_dress = {}", names(&garden.feeding.1)),
            format!("timing = \"{}\"", garden.timing),
        ],
    ));
    tables.extend(garden.shed.iter().map(|item| shed(item, hand)));
    tables.extend(garden.beds.iter().map(|one| bed(one, hand)));
    hand.stirred(tables).concat()
}

fn head(garden: &Garden, hand: Hand) -> String {
    let mut fields = vec!["year = 2027".to_owned(), format!("basis = \"{}\"", garden.basis)];
    if let Some((coldest, warmest)) = garden.climate {
        fields.push(format!("coldest = {{ month = 1, mean = {} }}", hand.amount(coldest)));
        fields.push(format!("warmest = {{ month = 7, mean = {} }}", hand.amount(warmest)));
    }
    hand.table("[garden]", fields)
}

fn shed(item: &Item, hand: Hand) -> String {
    let mut fields = vec![format!("material = \"{}\"", item.material)];
    if let Some(on_hand) = item.on_hand {
        fields.push(format!("on_hand = {}", hand.amount(on_hand)));
    }
    let packs: Vec<String> = item
        .packs
        .iter()
        .map(|(weight, price)| {
            format!("{{ weight = {}, price = \"{price}.50\" }}", hand.amount(*weight))
        })
        .collect();
    fields.push(format!("packs = [{}]", packs.join(", ")));
    hand.table("[[shed]]", fields)
}

fn bed(bed: &Bed, hand: Hand) -> String {
    let mut fields = vec![format!("name = \"{}\"", bed.name)];
    match bed.shape {
        Shape::Sides(length, width) => {
            fields.push(format!("length = {}", hand.amount(length)));
            fields.push(format!("width = {}", hand.amount(width)));
        }
        Shape::Area(area) => fields.push(format!("area = {}", hand.amount(area))),
        Shape::Pots(volume, count) => {
            fields.push("container = true".to_owned());
            fields.push(format!("volume = {}", hand.amount(volume)));
            fields.push(format!("count = {count}"));
        }
    }
    fields.extend(bed.texture.map(|texture| format!("texture = \"{texture}\"")));
    fields.extend(bed.soil.map(soil));
    if !bed.history.is_empty() {
        let lines: Vec<String> = bed.history.iter().map(|one| past(one, hand)).collect();
        fields.push(format!("history = [{}]", hand.stirred(lines).join(", ")));
    }
    if let Some((nitrate, depth)) = bed.water {
        let depth = hand.amount(depth);
        fields.push(format!("water = {{ nitrate = \"{nitrate} ppm\", depth = {depth} }}"));
    }
    let mut inner: Vec<String> = bed.amended.iter().map(|one| amended(one, hand)).collect();
    inner.extend(bed.plantings.iter().map(|one| planting(one, hand)));
    hand.table("[[bed]]", fields) + &hand.stirred(inner).concat()
}

fn soil(soil: Soil) -> String {
    let mut parts = vec![
        "test = \"mehlich-3\"".to_owned(),
        format!("p = \"{} ppm\"", soil.phosphorus),
        format!("k = \"{} ppm\"", soil.potassium),
        "sampled = 2027-03-20".to_owned(),
    ];
    if let Some(tenths) = soil.organic_matter {
        parts.push(format!("organic_matter = \"{}.{} %\"", tenths / 10, tenths % 10));
    }
    if let Some(nitrate) = soil.nitrate {
        parts.push(format!("nitrate = \"{nitrate} ppm\", nitrate_sampled = 2027-04-20"));
    }
    format!("soil = {{ {} }}", parts.join(", "))
}

fn past(past: &Past, hand: Hand) -> String {
    match past {
        Past::Spread(kind, year, depth) => {
            format!("{{ kind = \"{kind}\", year = {year}, depth = {} }}", hand.amount(*depth))
        }
        Past::Cover(crop, biomass, killed) => format!(
            "{{ kind = \"cover crop\", crop = \"{crop}\", biomass = {}, killed = {killed} }}",
            hand.amount(*biomass)
        ),
    }
}

fn amended(one: &Amended, hand: Hand) -> String {
    let (field, amount) = match one.how_much {
        HowMuch::Depth(depth) => ("depth", depth),
        HowMuch::Amount(amount) => ("amount", amount),
        HowMuch::Rate(rate) => ("rate", rate),
    };
    let mut fields = vec![
        format!("material = \"{}\"", one.material),
        format!("{field} = {}", hand.amount(amount)),
        format!("on = {}", one.on),
    ];
    fields.extend(one.density.map(|density| format!("density = {}", hand.amount(density))));
    hand.table("[[bed.amend]]", fields)
}

fn planting(one: &Planting, hand: Hand) -> String {
    let mut fields = vec![
        format!("crop = \"{}\"", one.crop),
        format!("planted = {}", one.planted),
        format!("days = {}", one.days),
        format!("how = \"{}\"", if one.transplanted { "transplant" } else { "seed" }),
    ];
    match one.extent {
        Extent::Whole => {}
        Extent::Share(percent) => fields.push(format!("share = \"{percent} %\"")),
        Extent::Plants(plants, along, across) => {
            let (along, across) = (hand.amount(along), hand.amount(across));
            let spacing = format!("{along} x {across}").replace("\" x \"", " x ");
            fields.push(format!("plants = {plants}"));
            fields.push(format!("spacing = {spacing}"));
        }
        Extent::Rows(rows, length, across) => {
            fields.push(format!("rows = {rows}"));
            fields.push(format!("row_length = {}", hand.amount(length)));
            fields.push(format!("row_spacing = {}", hand.amount(across)));
        }
    }
    fields.extend(one.yielding.map(|goal| format!("yield = {}", hand.amount(goal))));
    fields.extend(one.given.map(|rate| format!("need = {{ n = {} }}", hand.amount(rate))));
    if one.residues_left {
        fields.push("residues = \"left\"".to_owned());
    }
    hand.table("[[bed.planting]]", fields)
}
