//! Every table of the season file and its fields: the one list that the reader, its faults and the
//! schema share.

use super::super::{
    AlreadyCredited, BasisChoice, How, Measure, Placed, SplitTiming, Texture, WorkedIn, Yield,
};
use super::number::{Acidity, Ratio, Whole};
use super::own::{Figures, Row, Rows};
use super::schema::Shaped;
use super::table::{Described, Field, Section, Shape};
use super::value::{
    Above, Any, Flag, Headed, Listed, Names, One, Price, Range, Spacing, Text, Texts,
};
use super::word::{OneOf, SomeOf};
use super::words::{PastKind, Residues};
use crate::calendar::{Date, Weekday};
use crate::catalogue::{
    Basis, Chart, Curve, DayRange, Extractant, FeederClass, LastUseful, MaterialKind, NitrateTest,
    Recommendation, Removal, Rescue, Supply, Timing,
};
use crate::figure::Status;
use crate::nutrient::Analysis;
use crate::quantity::{
    Area, Concentration, Density, Length, Mass, Rate, Share, Temperature, UnitSystem, Volume,
};
use crate::season::Reading;

/// A count of things in a bed.
pub type Count = Whole<1, 1_000_000>;
/// A year of our time.
pub type Year = Whole<1900, 2200>;

/// Whether a field is marked as one that must always be there.
macro_rules! said {
    () => {
        false
    };
    (always) => {
        true
    };
}

macro_rules! tables {
    ($($module:ident = $heading:literal, shares $shared:expr; {
        $($field:ident: $kind:ty = $name:literal $($always:ident)?, $example:literal, $about:literal;)*
    })*) => {$(
        #[doc = concat!("The fields of `", $heading, "`.")]
        pub mod $module {
            use super::*;
            /// The table.
            pub enum Here {}
            impl Section for Here {
                const SHAPE: &'static Shape = &Shape { heading: $heading, fields: FIELDS, shared: $shared };
            }
            $(
                #[doc = $about]
                pub const $field: Field<$kind> = Field::new($name, $about, $example, said!($($always)?));
            )*
            /// All of them.
            pub const FIELDS: &[Described] = &[
                $(Described { name: $name, about: $about, example: $example, always: said!($($always)?), schema: <$kind as Shaped>::shape },)*
            ];
        }
    )*
        /// All tables.
        pub const ALL: &[&Shape] = &[$(<$module::Here as Section>::SHAPE),*];
    };
}

tables! {
    file = "the season file", shares &[]; {
        GARDEN: One<garden::Here> = "garden" always, "{ year = 2027 }", "the garden as a whole";
        FEEDING: One<feeding::Here> = "feeding", "{ side_dress = [\"feather meal\"] }", "which materials to plan with";
        SHED: Headed<shed::Here> = "shed", "[{ material = \"feather meal\" }]", "a material on hand or on offer";
        SUPPLIER: Headed<supplier::Here> = "supplier", "[{ name = \"co-op\" }]", "who sells, and for what delivery charge";
        CROP: Headed<crop::Here> = "crop", "[{ name = \"oca\", feeder = \"light\" }]", "a crop of your own";
        MATERIAL: Headed<material::Here> = "material", "[{ name = \"barn blend\", analysis = \"3-2-2\" }]", "a material of your own";
        SOURCE: Headed<source::Here> = "source", "[{ id = \"seed packet\", title = \"On the packet\" }]", "a source of your own figures";
        BED: Headed<bed::Here> = "bed" always, "[{ name = \"north 1\", area = \"96 ft2\" }]", "a bed";
    }
    garden = "[garden]", shares &[]; {
        NAME: Text = "name", "\"Alder Rise school garden\"", "the garden's name";
        YEAR: Year = "year" always, "2027", "the year of the season";
        UNITS: OneOf<UnitSystem> = "units", "\"us\"", "how answers are shown";
        BASIS: OneOf<BasisChoice> = "basis", "\"supply\"", "which basis of nitrogen need comes first";
        TEXTURE: OneOf<Texture> = "texture", "\"loam\"", "soil texture of beds that do not say their own";
        COLDEST: One<month::Here> = "coldest", "{ month = 1, mean = \"24 F\" }", "the coldest month and its mean air temperature";
        WARMEST: One<month::Here> = "warmest", "{ month = 7, mean = \"68 F\" }", "the warmest month and its mean air temperature";
        VISIT_DAY: OneOf<Weekday> = "visit_day", "\"saturday\"", "the day of the week on which beds are visited";
        ORGANIC: Flag = "organic", "false", "whether only materials fit for organic growing are chosen";
        REGION: Text = "region", "\"coastal plain\"", "the region whose bulletin rows apply";
        RAIN: Listed<rain::Here> = "rain", "[{ on = 2027-06-01, depth = \"3 in\" }]", "heavy rain on all beds";
    }
    month = "a month's mean", shares &[]; {
        MONTH: Whole<1, 12> = "month" always, "1", "the month, 1 to 12";
        MEAN: Any<Temperature> = "mean" always, "\"24 F\"", "its mean air temperature";
    }
    feeding = "[feeding]", shares &[]; {
        BEFORE_PLANTING: Names = "before_planting", "[\"pelleted poultry manure\"]", "materials spread before planting, or \"best\"";
        SIDE_DRESS: Names = "side_dress", "[\"feather meal\"]", "materials side-dressed, or \"best\"";
        TIMING: OneOf<SplitTiming> = "timing", "\"solved\"", "how side-dressings are timed";
        MIX: Above<Volume> = "mix", "\"5 gal\"", "potting mix that side-dressings are stirred into";
    }
    stuff = "a material", shares &[]; {
        ANALYSIS: Analysis = "analysis", "\"12-0-0\"", "the label: percent nitrogen-phosphate-potash";
        BASIS: OneOf<Basis> = "basis", "\"dry\"", "whether the analysis counts the water";
        MOISTURE: Any<Share> = "moisture", "\"45 %\"", "water as a share of the wet weight";
        RELEASE: Any<Share> = "release", "\"60 %\"", "share of the nitrogen that becomes available in the first season";
        AMMONIUM: Any<Share> = "ammonium", "\"0.4 %\"", "ammonium nitrogen as a share of the weight";
        NITRATE: Any<Share> = "nitrate", "\"0.1 %\"", "nitrate nitrogen as a share of the weight";
        CARBON_NITROGEN: Ratio = "carbon_nitrogen", "15", "carbon to nitrogen ratio";
        DENSITY: Above<Density> = "density", "\"1000 lb/yd3\"", "weight per volume";
    }
    shed = "[[shed]]", shares <stuff::Here as Section>::SHAPE.fields; {
        MATERIAL: Text = "material" always, "\"feather meal\"", "which material it is";
        ON_HAND: Any<Mass> = "on_hand", "\"4 lb\"", "what is on hand";
        PACKS: Listed<pack::Here> = "packs", "[{ weight = \"50 lb\", price = \"62.00\" }]", "packs on offer";
        SUPPLIER: Text = "supplier", "\"co-op\"", "who sells it";
    }
    pack = "a pack", shares &[]; {
        WEIGHT: Above<Mass> = "weight" always, "\"50 lb\"", "its weight";
        PRICE: Price = "price", "\"62.00\"", "its price";
    }
    supplier = "[[supplier]]", shares &[]; {
        NAME: Text = "name" always, "\"co-op\"", "who sells";
        DELIVERY: Price = "delivery", "\"15.00\"", "charge for one delivery";
        MINIMUM_ORDER: Price = "minimum_order", "\"50.00\"", "least value of an order";
    }
    bed = "[[bed]]", shares &[]; {
        NAME: Text = "name" always, "\"north 1\"", "what the bed is called";
        LENGTH: Above<Length> = "length", "\"24 ft\"", "its length";
        WIDTH: Above<Length> = "width", "\"4 ft\"", "its width";
        AREA: Above<Area> = "area", "\"96 ft2\"", "its area";
        CONTAINER: Flag = "container", "true", "whether it is pots or tubs";
        VOLUME: Above<Volume> = "volume", "\"10 gal\"", "mix in each pot";
        COUNT: Count = "count", "12", "how many pots";
        TEXTURE: OneOf<Texture> = "texture", "\"loam\"", "its soil texture";
        SOIL: One<soil::Here> = "soil", "{ ph = 6.6 }", "its soil test";
        HISTORY: Listed<history::Here> = "history", "[{ kind = \"compost\", year = 2026 }]", "compost, manure and cover crops before";
        AMEND: Headed<amend::Here> = "amend", "[{ material = \"yard compost\", depth = \"0.5 in\", on = 2027-04-28 }]", "what is spread this season";
        PLANTING: Headed<planting::Here> = "planting", "[{ crop = \"broccoli\", planted = 2027-05-10, harvest = 2027-07-15 }]", "what grows on it";
        FEEDING: One<feeding::Here> = "feeding", "{ side_dress = [\"feather meal\"] }", "feeding of its own";
        WATER: Listed<water::Here> = "water", "{ nitrate = \"10 ppm\", depth = \"12 in\" }", "irrigation with nitrate in it";
        RAIN: Listed<rain::Here> = "rain", "[{ on = 2027-06-01, depth = \"3 in\" }]", "heavy rain on this bed";
        UNDER_PLASTIC: Flag = "under_plastic", "true", "whether plastic keeps rain off";
    }
    soil = "a soil test", shares &[]; {
        TEST: OneOf<Extractant> = "test", "\"mehlich-3\"", "what the laboratory shakes the soil with";
        LAB: Text = "lab", "\"new jersey\"", "whose limits and words apply";
        P: Reading = "p", "\"41 ppm\"", "phosphorus as printed";
        K: Reading = "k", "\"150 ppm\"", "potassium as printed";
        P_CLASS: Text = "p_class", "\"high\"", "the laboratory's word for phosphorus";
        K_CLASS: Text = "k_class", "\"high\"", "the laboratory's word for potassium";
        ORGANIC_MATTER: Any<Share> = "organic_matter", "\"4.2 %\"", "organic matter";
        PH: Acidity = "ph", "6.6", "acidity";
        NITRATE: Any<Concentration> = "nitrate", "\"18 ppm\"", "nitrate nitrogen";
        DEPTH: Above<Length> = "depth", "\"12 in\"", "how deep the nitrate sample went";
        SAMPLED: Date = "sampled", "2027-03-20", "when it was sampled";
        NITRATE_SAMPLED: Date = "nitrate_sampled", "2027-06-10", "when the nitrate was sampled, where apart";
    }
    history = "a line of history", shares <stuff::Here as Section>::SHAPE.fields; {
        KIND: OneOf<PastKind> = "kind" always, "\"compost\"", "what it was";
        YEAR: Year = "year", "2026", "the year it was spread";
        MATERIAL: Text = "material", "\"yard compost\"", "which compost or manure";
        DEPTH: Above<Length> = "depth", "\"1 in\"", "how thick it lay";
        AMOUNT: amount::Amount = "amount", "\"6 ft3\"", "how much over the bed";
        RATE: amount::PerArea = "rate", "\"3 yd3/1000 ft2\"", "how much per area";
        CROP: Text = "crop", "\"hairy vetch\"", "which cover crop";
        BIOMASS: Above<Rate> = "biomass", "\"2500 lb/acre\"", "its dry matter";
        NITROGEN: Any<Share> = "nitrogen", "\"3.5 %\"", "nitrogen in its dry matter";
        KILLED: Date = "killed", "2027-04-25", "when it was killed";
    }
    amend = "[[bed.amend]]", shares <stuff::Here as Section>::SHAPE.fields; {
        MATERIAL: Text = "material" always, "\"yard compost\"", "what is spread";
        DEPTH: Above<Length> = "depth", "\"0.5 in\"", "how thick it lies";
        AMOUNT: amount::Amount = "amount", "\"6 ft3\"", "how much over the bed";
        RATE: amount::PerArea = "rate", "\"3 yd3/1000 ft2\"", "how much per area";
        PLACED: OneOf<Placed> = "placed", "\"mixed\"", "mixed in or left on the surface";
        WORKED_IN: WorkedIn = "worked_in", "\"1 day\"", "how soon it is worked in";
        ON: Date = "on" always, "2027-04-28", "when";
    }
    planting = "[[bed.planting]]", shares &[]; {
        CROP: Text = "crop" always, "\"broccoli\"", "what grows";
        SHARE: Above<Share> = "share", "\"60 %\"", "its share of the bed";
        PLANTS: Count = "plants", "48", "how many plants";
        SPACING: Spacing = "spacing", "\"12 in x 18 in\"", "distance in the row and between rows";
        ROWS: Count = "rows", "2", "how many rows";
        ROW_LENGTH: Above<Length> = "row_length", "\"20 ft\"", "length of each row";
        ROW_SPACING: Above<Length> = "row_spacing", "\"18 in\"", "distance between rows";
        PLANTED: Date = "planted", "2027-05-10", "first day in the bed";
        HOW: OneOf<How> = "how", "\"transplant\"", "set out as a young plant or sown";
        HARVEST: Date = "harvest", "2027-07-15", "first or only harvest";
        DAYS: Whole<1, 549> = "days", "65", "days from planting to harvest";
        LAST_HARVEST: Date = "last_harvest", "2027-09-30", "last harvest of a crop picked over";
        REGROWTH: Date = "regrowth", "2027-03-15", "first day of spring growth of an overwintered crop";
        YEAR_OF_STAND: Whole<1, 100> = "year_of_stand", "3", "year of the stand of a perennial";
        YIELD: Yield = "yield", "\"150 lb per 100 ft2\"", "the yield hoped for";
        RESIDUES: OneOf<Residues> = "residues", "\"left\"", "whether its residues stay on the bed";
        NEED: One<need::Here> = "need", "{ n = \"2-4 lb/1000 ft2\" }", "rates a laboratory or adviser gave";
        ALREADY_CREDITED: SomeOf<AlreadyCredited> = "already_credited", "[\"amendments\"]", "what those rates have already taken off";
        WATER: Listed<water::Here> = "water", "{ nitrate = \"10 ppm\", depth = \"12 in\" }", "irrigation with nitrate in it";
    }
    crop = "[[crop]]", shares &[]; {
        NAME: Text = "name" always, "\"oca\"", "what the crop is called";
        ALIASES: Texts = "aliases", "[\"oka\"]", "its other names";
        LIKE: Text = "like", "\"potato\"", "the crop whose figures serve where it has none of its own";
        LATIN: Text = "latin", "\"Oxalis tuberosa\"", "its botanical name";
        FEEDER: Figures<FeederClass> = "feeder", "\"medium\"", "how hungry it is";
        NEED: One<need::Here> = "need", "{ n = \"100 lb/acre\" }", "the season's rates of fertilizer";
        BRASSICA: Flag = "brassica", "true", "whether it is of the cabbage family";
        HEADING: Flag = "heading", "true", "whether it makes a head";
        LEGUME: Flag = "legume", "true", "whether it is a legume";
        NONE_ON_RICH_SOIL: Flag = "none_on_rich_soil", "true", "whether a legume gets nothing on rich soil";
        LEAFY: Flag = "leafy", "true", "whether its leaves are eaten";
        TOUCHES_SOIL: Flag = "touches_soil", "true", "whether the eaten part touches the soil";
        PICKED_OVER: Flag = "picked_over", "true", "whether it is picked for weeks";
        OVERWINTERED: Flag = "overwintered", "true", "whether it stands over winter";
        PERENNIAL: Flag = "perennial", "true", "whether it stands for years";
        DAYS: Figures<DayRange> = "days", "{ low = 60, high = 90 }", "usual days to harvest";
        SUPPLY: Row<Supply> = "supply", "{ nitrogen = \"160 kg/ha\", … }", "the nitrogen it must find, soil included";
        RECOMMENDATION: Rows<Recommendation> = "recommendation", "[{ nitrogen = \"100 lb/acre\" }]", "season rates from bulletins";
        CEILING: Figures<Rate> = "ceiling", "\"200 lb/acre\"", "the most nitrogen planned";
        REMOVAL: Rows<Removal> = "removal", "[{ nitrogen = \"4 kg/t\", set = \"own\" }]", "what a harvest carries away";
        CHART: Row<Chart> = "chart", "{ in_row = \"12 in\", per_row = \"8 lb/10 ft\" }", "garden spacing and yield";
        STARTER: Figures<Share> = "starter", "\"50 %\"", "share of the nitrogen given at planting";
        SIDE_DRESS: Row<Timing> = "side_dress", "{ days = [28] }", "when side-dressings fall";
        LAST_USEFUL: Figures<LastUseful> = "last_useful", "{ days_before_harvest = 28 }", "when nitrogen is no longer of use";
        CAP: Figures<Rate> = "cap", "\"50 lb/acre\"", "the most nitrogen in one side-dressing";
        CURVE: Figures<Curve> = "curve", "{ logistic = { midpoint = \"0.55\", steepness = \"9\" } }", "how uptake runs over its life";
        NITRATE_TEST: Row<NitrateTest> = "nitrate_test", "{ critical = \"25 ppm\" }", "soil nitrate at which it needs no more";
        RESCUE: Row<Rescue> = "rescue", "{ nitrogen = \"30-40 lb/acre\" }", "rate for a crop found short";
        HARVEST_SHARE: Figures<Share> = "harvest_share", "\"40 %\"", "share of its nitrogen in the harvest";
        COVER_NITROGEN: Figures<Share> = "cover_nitrogen", "\"3.5 %\"", "nitrogen in its dry matter as a cover crop";
    }
    material = "[[material]]", shares <stuff::Here as Section>::SHAPE.fields; {
        NAME: Text = "name" always, "\"barn blend\"", "what the material is called";
        ALIASES: Texts = "aliases", "[\"the blend\"]", "its other names";
        LIKE: Text = "like", "\"cattle manure\"", "the material whose figures serve where it has none of its own";
        KIND: OneOf<MaterialKind> = "kind", "\"compost\"", "what it is";
        NITROGEN: Any<Share> = "nitrogen", "\"3 %\"", "its nitrogen, where no analysis is written";
        PHOSPHATE: Any<Share> = "phosphate", "\"2 %\"", "its phosphate, where no analysis is written";
        POTASH: Any<Share> = "potash", "\"2 %\"", "its potash, where no analysis is written";
        ORGANIC: Flag = "organic", "true", "whether it may be used in organic growing";
        CAUTIONS: Texts = "cautions", "[\"dust\"]", "keys of the cautions it calls for";
        NOTE: Text = "note", "\"spread thin\"", "a remark";
    }
    source = "[[source]]", shares &[]; {
        ID: Text = "id" always, "\"seed packet\"", "its name, as figures give it";
        STATUS: OneOf<Status> = "status", "\"published\"", "what it is";
        TITLE: Text = "title" always, "\"On the packet\"", "its title";
        BODY: Text = "body", "\"a seed house\"", "who published it";
        NUMBER: Text = "number", "\"12\"", "its number";
        YEAR: Year = "year", "2025", "its year";
        TABLE: Text = "table", "\"page 3\"", "where in it";
        READ: Text = "read", "\"page 3 only\"", "how much of it was read";
    }
    need = "a given need", shares &[]; {
        N: Range<Rate> = "n", "\"2-4 lb/1000 ft2\"", "nitrogen";
        P2O5: Range<Rate> = "p2o5", "\"1 lb/1000 ft2\"", "phosphate";
        K2O: Range<Rate> = "k2o", "\"1 lb/1000 ft2\"", "potash";
    }
    water = "irrigation", shares &[]; {
        NITRATE: Any<Concentration> = "nitrate" always, "\"10 ppm\"", "nitrate nitrogen in the water";
        DEPTH: Any<Length> = "depth" always, "\"12 in\"", "depth of water over the season";
    }
    rain = "a rain", shares &[]; {
        ON: Date = "on" always, "2027-06-01", "its last day";
        DEPTH: Above<Length> = "depth" always, "\"3 in\"", "its depth";
    }
}

/// Amounts in the way they were measured.
pub mod amount {
    use super::Measure;
    /// A weight or a volume.
    pub struct Amount(pub Measure);
    /// A weight per area, or a volume per area.
    pub struct PerArea(pub Measure);
}
