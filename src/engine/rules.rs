//! Every rule the season's reckoning rests on: what it says, what kind of knowledge it is, and its
//! source. A figure names its rule; `explain` prints it.

use crate::figure::{Rule, Status};

macro_rules! rules {
    ($($(#[$doc:meta])* $name:ident = $key:literal, $status:ident, $source:expr, $says:literal;)*) => {
        $(
            #[doc = $says]
            pub static $name: Rule = Rule { key: $key, says: $says, status: Status::$status, source: $source };
        )*
        /// All of them, in the order of the reckoning.
        pub static ALL: &[&Rule] = &[$(&$name),*];
    };
}

rules! {
    BED_AREA = "bed-area", Definition, None, "the area of a bed is its length times its width";
    PLANTING_AREA = "planting-area", Proposed, None, "a planting takes its share of the bed, or its plants at their spacing, or its rows at theirs but no wider than the bed";
    THERMAL_TIME = "thermal-time", Derived, Some("thermal-time"), "soil life works twice as fast for every 10 C; days are counted as days at 25 C";
    TYPICAL_CLIMATE = "typical-climate", Proposed, Some("rule-no-climate"), "with no climate given the soil is taken as 15 C from April to October and 5 C otherwise";

    YIELD_USED = "yield-used", Derived, Some("rule-yield"), "the yield is the grower's own, else the garden chart's, else the supply row's; the need follows it by at most 40 % up or down";
    CHART_YIELD = "chart-yield", Derived, Some("rule-chart-yield"), "the middle of the chart's yield over the middle of its spacing";
    YIELD_STEPS = "yield-steps", Derived, Some("duev-a4t5"), "demand changes by a fixed amount for each full step of yield, in a straight line between";
    SUPPLY_NEED = "supply-need", Published, Some("duev-a4t4"), "the supply row is all the nitrogen the crop must find, that of the soil included";
    RECOMMENDED_NEED = "recommended-need", Definition, None, "a bulletin's season rate of fertilizer on ordinary ground";
    RANGE_READ = "range-read", Derived, Some("rule-range"), "of a printed range the low end is taken at 3 % organic matter or more, the high end on other sand, the middle elsewhere";
    GIVEN_NEED = "given-need", CommonPractice, Some("common-practice"), "the laboratory's or adviser's own rate comes first";
    FEEDER_NEED = "feeder-need", Memory, Some("feeder-rates"), "heavy feeders get 150, medium 100 and light 50 lb nitrogen per acre where no better figure is known";
    CONTAINER_NEED = "container-need", Proposed, Some("rule-container"), "in containers the need is what the harvest carries, over the share of the plant that is harvested, over 70 % uptake";
    NEED = "need", Definition, None, "a rate spread over an area is a weight";
    NEED_TO_COME = "need-to-come", Proposed, Some("rule-nitrate-reset"), "a nitrate test in the crop's life resets the ledger: what the crop has taken before is behind it";

    CEILING = "ceiling", Proposed, Some("rule-ceiling"), "no more fertilizer is planned than the highest season rate read for the crop, less what other additions give; what heavy rain washed away of those leaves room again";
    LEGUME_CAP = "legume-cap", CommonPractice, Some("common-practice"), "legumes fix their own nitrogen: at most 40 lb per acre at sowing, and none to pea or pole bean on ground with 3 % organic matter";
    PLANNED = "planned", Definition, None, "what is short, up to the ceiling";

    ROW_BY_CLASS = "row-by-class", Definition, None, "a bulletin's rate for the soil-test class";
    BLANK_CELL = "blank-cell", Derived, Some("rule-blank-cell"), "where a bulletin leaves a class blank, medium is half, high a quarter and very high none of its low rate";
    HALF_ABOVE_TARGET = "half-above-target", Derived, Some("rule-half-above-target"), "above target but not far, half the rate for target";
    NO_TEST_FACTOR = "no-test-factor", Derived, Some("rule-no-test"), "without a soil test a bed composted or manured in two of the last three years needs no phosphate and half the potash, other beds the rate for target";
    REMOVAL_NEED = "removal-need", Derived, Some("rule-removal"), "without a bulletin's row the need is what the harvest carries away, times a factor by soil class";
    CLASS_FACTOR = "class-factor", Published, Some("gartenfreunde-klassen"), "very low 2, low 1.5, target 1, high 0.5, very high 0 times what the harvest carries away";
    BUILD_UP = "build-up", Derived, Some("rule-build-up"), "below target at least 30 kg per hectare above removal, far below at least 60";
    ONE_RATE = "one-rate-a-year", Derived, Some("rule-one-rate"), "of several crops in a year on the same ground one gets its published rate, the others what they carry away";
    YEARLY_CAP = "yearly-cap", Derived, Some("rule-yearly-cap"), "no more than 200 lb phosphate and 300 lb potash per acre are planned in a year";

    NITRATE_MEASURED = "nitrate-measured", Derived, Some("rule-soil-weight"), "nitrate found in the soil is its concentration times the weight of the sampled layer";
    NITRATE_DEEPER = "nitrate-deeper", Published, Some("s-oscia"), "the top foot holds about 60 % of the nitrate in the rooting depth";
    BULK_DENSITY = "bulk-density", Memory, Some("bulk-density"), "soil weighs 1.5 (sand), 1.3 (loam), 1.2 (clay) or, at 6 % organic matter, 1.0 g per cubic centimetre";
    NITRATE_ASSUMED = "nitrate-assumed", Proposed, Some("rule-nitrate"), "an untested soil is taken to hold 20 kg nitrate nitrogen per hectare in each 30 cm of rooting depth, half on sand, 15 after a cover crop killed in spring";
    NITRATE_LEFT = "nitrate-left", Proposed, Some("rule-nitrate-left"), "a following crop gets what the one before left unused, at most 40 kg per hectare";
    ORGANIC_MATTER = "organic-matter", Derived, Some("rule-organic-matter"), "each 1 % of organic matter above the ordinary 2 % frees 20 lb nitrogen per acre a year, up to 8 %";
    ORGANIC_MATTER_LEAST = "organic-matter-least", Published, Some("duev-a4t6"), "at 4 % organic matter or more at least 20 kg nitrogen per hectare a planting";
    ORGANIC_MATTER_ASSUMED = "organic-matter-assumed", Proposed, Some("rule-assumed"), "untested soil is taken to hold 2 % organic matter, 4 % after three years of compost";
    RICH_STARTER = "rich-starter", Derived, Some("rule-rich-soil"), "at 4 % organic matter without a nitrate test the starter is a quarter of the need less the credits, and side-dressings wait for a measurement";
    EARLIER_COMPOST = "earlier-compost", Derived, Some("rule-earlier-compost"), "compost gives 4, 3 and 3 % of its nitrogen in the three years after, manure 10 % in the next";
    LARGER_OF_TWO = "larger-of-two", Proposed, Some("rule-earlier-compost"), "organic matter measured after compost or manure already holds it: the larger of the two shares counts";
    COVER_CROP = "cover-crop", Derived, Some("pnw636-line"), "a killed cover crop gives 17.5 lb nitrogen per ton of dry matter for each percent nitrogen above 1.5, in about five weeks";
    RESIDUES = "residues", Proposed, Some("rule-residues"), "residues left on the bed feed a crop planted 2 to 10 weeks after, half as much before that";
    IRRIGATION = "irrigation", Derived, Some("ucv"), "nitrate in irrigation water counts, up to what the crop uses";

    CONTENT = "content", Definition, None, "what a material holds is its weight times its analysis, as it comes";
    DRY_TO_WET = "dry-to-wet", Definition, None, "an analysis of dry matter counts only the part that is not water";
    DEPTH_TO_WEIGHT = "depth-to-weight", Definition, None, "depth times area is a volume, volume times density a weight";
    RELEASE = "release", Derived, Some("rule-release"), "organic nitrogen comes free from a quick and a slow pool as soil time runs";
    AVAILABLE_PHOSPHATE = "available-phosphate", Published, Some("ni-sr-2019-81"), "on low soils 60 % of the phosphate of manure and compost counts in the year; potash counts in full";
    RAIN = "rain", Proposed, Some("rule-leaching"), "of heavy rain, what the soil cannot hold drains and takes nitrate with it: 12 in down for each inch in sand, 6 in elsewhere";
    TIE_UP = "tie-up", Proposed, Some("rule-tie-up"), "what is mixed in and ties nitrogen up is a debt of at most 50 kg per hectare";
    EARLIER_DOSES = "earlier-doses", Proposed, Some("rule-nitrate-left"), "what doses for the crop before release in this crop's life counts for it";

    SHORTFALL = "shortfall", Definition, None, "what is still lacking once the credits are taken off";
    SURPLUS = "surplus", Definition, None, "what the credits bring beyond the need";
    STARTER_SHARE = "starter-share", Derived, Some("rule-starter"), "part of the planned nitrogen is given at planting: the crop's own share, on sand at most a quarter";
    BEFORE_PLANTING = "before-planting", Proposed, Some("rule-before-planting"), "phosphate first, then potash, then the starter nitrogen, each from the first listed material that suits";
    SIDE_DRESSING = "side-dressing", Proposed, Some("rule-side-dressing"), "the nitrogen still planned is split equally over the side-dressings; what one held to its cap leaves is shared by the others";
    ADDED_DRESSINGS = "added-dressings", Proposed, Some("rule-added-dressings"), "where equal dressings would each pass the cap that holds for one of them more are added: 14 days after the last while nitrogen is of use, else 14 days before the first, else on the free visit that parts the widest gap between them; beside seedlings only where the days after do not hold it all, and none in the first week after planting, before day 21 beside heading brassicas, or before regrowth";
    SOLVED = "solved-plan", Proposed, Some("rule-visits"), "visits and amounts are solved for the whole garden: supply keeps ahead of demand with the fewest visits, then the least nitrogen lying unused";
    RECORDED = "recorded", Definition, None, "what has been spread already counts as it was written down";
    DOSE_WEIGHT = "dose-weight", Definition, None, "a weight of material is the nutrient wanted over the share of it that counts";
    DOSE_CAP = "dose-cap", Proposed, Some("rule-cap"), "no more than 50 lb nitrogen per acre available at once; less for onions, garlic and seedlings";
    WEIGHING = "weighing", Proposed, Some("rule-weighing"), "doses are rounded to what a kitchen or luggage scale can tell";
    USUAL_CRITICAL = "usual-critical", Memory, Some("memory-psnt"), "where no level is printed for the crop, 25 ppm nitrate nitrogen in the top foot is taken to be enough";
    MEASURE_FIRST = "measure-first", Derived, Some("rule-rich-soil"), "on rich soil the dressing is given only where the soil nitrate is below the crop's critical level";
}
