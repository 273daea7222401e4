//! Seeded gardens: the same number always makes the same season file, of the catalogue's own crops
//! and materials.

use std::fmt::Write;
use std::sync::Arc;

use topdress::calendar::Date;
use topdress::catalogue::{Catalogue, Crop};
use topdress::season::{self, Season};

/// What gardens are dressed with: at once and slow.
const SIDE_DRESS: [&str; 9] = [
    "urea",
    "calcium nitrate",
    "ammonium sulfate",
    "feather meal",
    "blood meal",
    "fish meal",
    "pelleted poultry manure",
    "soybean meal",
    "alfalfa meal",
];
const BEFORE_PLANTING: [&str; 4] = [
    r#"["triple superphosphate", "potassium sulfate", "ammonium sulfate"]"#,
    r#"["pelleted poultry manure", "potassium sulfate"]"#,
    r#"["blended fertilizer 10-10-10"]"#,
    r#"["feather meal", "potassium sulfate"]"#,
];

/// A small repeatable stream of numbers from 0 up to 1.
struct Stream(u64);

impl Stream {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        let mixed = (self.0 ^ (self.0 >> 29)).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        (mixed >> 11) as f64 / (1u64 << 53) as f64
    }

    fn whole(&mut self, low: i32, high: i32) -> i32 {
        low + (self.next() * f64::from(high - low + 1)) as i32
    }

    fn one_of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[(self.next() * all.len() as f64) as usize]
    }
}

fn date(month: u8, day: u8) -> Date {
    Date::new(2027, month, day).expect("a date")
}

/// Crops that are planted and harvested within a season and are fed with nitrogen in it.
fn crops(catalogue: &Catalogue) -> Vec<Arc<Crop>> {
    let fed = |crop: &Arc<Crop>| {
        let once = !crop.perennial && !crop.overwintered && !crop.legume;
        once && crop.days.is_some() && !crop.side_dress.days.is_empty()
    };
    catalogue.crops().filter(fed).collect()
}

/// Returns the season of a seed, with this many beds of one or two plantings each.
pub fn garden(seed: u64, beds: usize) -> Season {
    let catalogue = Arc::new(Catalogue::new());
    let text = written(seed, beds, &crops(&catalogue));
    season::read(&text, catalogue).unwrap_or_else(|faults| {
        panic!("garden {seed}: {}", topdress::fault::render(&faults, &text, "season", false))
    })
}

fn written(seed: u64, beds: usize, crops: &[Arc<Crop>]) -> String {
    let mut stream = Stream(seed.wrapping_add(1).wrapping_mul(0x2545_F491_4F6C_DD1D));
    let mut text = String::new();
    let (warm, cold) = (stream.whole(63, 82), stream.whole(15, 48));
    let texture = stream.one_of(&["sand", "loam", "loam", "clay"]);
    let before = stream.one_of(&BEFORE_PLANTING);
    let side = stream.one_of(&SIDE_DRESS);
    writeln!(
        text,
        "[garden]\nyear = 2027\ntexture = \"{texture}\"\n\
         coldest = {{ month = 1, mean = \"{cold} F\" }}\n\
         warmest = {{ month = 7, mean = \"{warm} F\" }}\n\
         [feeding]\nbefore_planting = {before}\nside_dress = [\"{side}\"]"
    )
    .expect("text takes all that is written");
    for bed in 0..beds {
        write_bed(&mut text, &mut stream, bed, crops);
    }
    text
}

fn write_bed(text: &mut String, stream: &mut Stream, bed: usize, crops: &[Arc<Crop>]) {
    let (length, width) = (stream.whole(12, 50), stream.whole(3, 5));
    let matter = f64::from(stream.whole(10, 39)) / 10.0;
    let classes = ["low", "target", "high"];
    let (phosphate, potash) = (*stream.one_of(&classes), *stream.one_of(&classes));
    let mut add = |line: String| {
        text.push_str(&line);
        text.push('\n');
    };
    add(format!("[[bed]]\nname = \"bed {bed}\"\nlength = \"{length} ft\"\nwidth = \"{width} ft\""));
    add(format!(
        "soil = {{ organic_matter = \"{matter} %\", p_class = \"{phosphate}\", k_class = \"{potash}\" }}"
    ));
    // Every third bed is dressed with something of its own.
    if stream.next() < 1.0 / 3.0 {
        let own = stream.one_of(&SIDE_DRESS);
        add(format!("feeding = {{ side_dress = [\"{own}\"] }}"));
    }
    let mut planted = date(4, 1) + stream.whole(0, 75);
    for _ in 0..stream.whole(1, 2) {
        let crop = stream.one_of(crops);
        let days = crop
            .days
            .as_ref()
            .map_or(60, |days| stream.whole(i32::from(days.value.low), i32::from(days.value.high)));
        let end = planted + days + if crop.picked_over { 57 } else { 0 };
        if end > date(11, 30) {
            continue;
        }
        let how = stream.one_of(&["transplant", "seed"]);
        add(format!(
            "[[bed.planting]]\ncrop = \"{}\"\nplanted = {planted}\ndays = {days}\nhow = \"{how}\"",
            crop.name
        ));
        planted = end + stream.whole(1, 20);
    }
}
