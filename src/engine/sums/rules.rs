//! The rules the sums rest on.

use crate::figure::{Rule, Status};

macro_rules! rules {
    ($($(#[$doc:meta])* $name:ident = $key:literal, $status:ident, $source:expr, $says:literal;)*) => {
        $(
            $(#[$doc])*
            pub static $name: Rule = Rule { key: $key, says: $says, status: Status::$status, source: $source };
        )*
        /// Every rule of the sums.
        pub static ALL: &[&Rule] = &[$(&$name),*];
    };
}

rules! {
    /// One unit of weight.
    UNIT = "sum-unit", Definition, None, "prices and rates are told for one unit of weight";
    /// Rate times area.
    OVER = "sum-over", Definition, None, "a rate times the ground it is spread on is a weight";
    /// Row length times row spacing.
    ROWS = "sum-rows", Definition, None, "a row feeds from the ground between it and the next: its length times the row spacing";
    /// Weight times share.
    CONTENT = "sum-content", Definition, None, "a label states percent by weight: weight times percent is what is in it";
    /// What is left of a pack.
    FILLER = "sum-filler", Definition, None, "what is left of the pack once the three nutrients are taken out: carrier, other elements and filler";
    /// Need over share.
    PRODUCT = "sum-product", Definition, None, "what is needed divided by its share in the material is the weight of material";
    /// Need less what is brought.
    LEFT = "sum-left", Definition, None, "what another material already brings is counted before the next";
    /// Several needs at once.
    TOGETHER = "sum-together", Definition, None, "two or three needs met at once: the equations solved together";
    /// What was brought beyond the need.
    SURPLUS = "sum-surplus", Definition, None, "what is brought beyond the need";
    /// Element to oxide.
    ELEMENT = "sum-element", Memory, Some("atomic-weights"), "labels count phosphorus and potassium as oxides; the factor is the ratio of the weights of the molecules";
    /// Share that becomes available.
    RELEASE = "sum-release", Definition, None, "nitrogen that counts is total nitrogen times the share that becomes available in the season";
    /// Counts.
    EACH = "sum-each", Definition, None, "the whole shared out evenly";
    /// Depth times area.
    VOLUME = "sum-volume", Definition, None, "depth times area is volume";
    /// Density.
    DENSITY = "sum-density", Definition, None, "volume times weight per volume is weight";
    /// Dry weight.
    DRY = "sum-dry", Definition, None, "what is not water is dry matter";
    /// Organic nitrogen.
    ORGANIC = "sum-organic", Definition, None, "organic nitrogen is total nitrogen less ammonium and nitrate";
    /// Ammonium kept, a table by days.
    KEPT = "sum-ammonium-kept", Published, Some("alberta-400-28-3"), "the share of ammonium nitrogen kept depends on how soon manure is worked in and on the weather";
    /// Manure: first, second and third year.
    MANURE_YEARS = "sum-manure-years", Published, Some("alberta-400-28-3"), "of the organic nitrogen of manure 25 % becomes available in the first year, 12 % in the second and 6 % in the third";
    /// Compost: second and third year.
    COMPOST_YEARS = "sum-compost-years", Published, Some("duev-4"), "of the total nitrogen of compost 4 % becomes available in the second year and 3 % in the third";
    /// The legume line.
    LEGUME = "sum-legume", Derived, Some("pnw636-line"), "a killed cover crop gives 17.5 lb of nitrogen per ton of dry matter for each percent of nitrogen above 1.5 %: 0.875 of what is above";
    /// Its floor.
    LEGUME_FLOOR = "sum-legume-floor", Proposed, None, "strawy matter ties up at most 10 lb of nitrogen per ton of dry matter";
    /// Sample to rate.
    SAMPLE = "sum-sample", Definition, None, "dry weight of a sample divided by the ground it was cut from";
    /// Water weighs a kilogram a litre.
    WATER = "sum-water", Definition, None, "water weighs 1 kg a litre, so parts per million are milligrams in a litre";
    /// Nitrate to nitrogen.
    NITRATE = "sum-nitrate", Memory, Some("atomic-weights"), "nitrate is 14.007 parts of nitrogen in 62.004; a figure in nitrate is multiplied by that";
    /// Soil nitrate.
    SOIL = "sum-soil-nitrate", Definition, None, "parts per million times the weight of the soil it was measured in";
    /// Soil weight where none is given.
    BULK = "sum-bulk-density", Memory, Some("bulk-density"), "a loam weighs about 1.3 g/cm3";
    /// Usual sampling depth.
    DEPTH = "sum-sampling-depth", Published, Some("psnt-sweet-corn"), "the pre-sidedress test is sampled 12 in deep";
    /// Critical level.
    CRITICAL = "sum-critical", Published, Some("nitrate-review-2002"), "at or above the critical level no side-dressing is needed";
    /// Usual critical level.
    CRITICAL_USUAL = "sum-critical-usual", Published, Some("nitrate-review-2002"), "25 to 30 ppm serves most crops; 25 is taken where none is printed for the crop";
    /// Raise the soil to the level.
    RAISE = "sum-raise", Published, Some("psnt-generic"), "raising the top foot by 1 ppm takes about 4 lb of nitrogen an acre";
    /// The published side-dress table.
    TABLE = "sum-side-dress-table", Published, None, "a published table reads the side-dressing off the nitrate test";
    /// Feed concentration.
    FEED = "sum-feed", Definition, None, "weight of nutrient in the feed divided by the volume of feed";
    /// Injector.
    INJECTOR = "sum-injector", Definition, None, "an injector of 1:100 makes a hundred volumes of feed of one of stock";
    /// Price shared.
    VALUE = "sum-value", CommonPractice, Some("rule-price"), "the other nutrients are valued at the cheapest offer that carries nothing else, and what is left of the price is paid for the one that has none, or else for nitrogen";
    /// Removal.
    REMOVAL = "sum-removal", Definition, None, "what is harvested times what it holds";
    /// Containers.
    POTS = "sum-pots", Memory, Some("rule-container"), "no more than 1 g of nitrogen in a gallon of mix at once";
}
