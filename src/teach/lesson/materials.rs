//! The numbers that problems are made of: chosen so that answers come out short.

/// Labels of three numbers.
pub const LABELS: [&str; 16] = [
    "10-10-10", "5-10-5", "5-10-10", "16-4-8", "20-5-10", "12-4-8", "8-8-8", "24-8-16", "12-12-12",
    "15-5-10", "6-2-4", "10-20-10", "4-6-3", "18-6-12", "25-5-10", "30-10-20",
];
/// Weights of a pack, in pounds or kilograms.
pub const PACKS: [u32; 8] = [5, 10, 20, 25, 30, 40, 50, 80];
/// What grows there.
pub const CROPS: [&str; 16] = [
    "carrots",
    "broccoli",
    "cabbage",
    "sweet corn",
    "leeks",
    "onions",
    "beets",
    "lettuce",
    "squash",
    "tomatoes",
    "peppers",
    "spinach",
    "potatoes",
    "kale",
    "celery",
    "radishes",
];
/// Percent nitrogen of straight nitrogen fertilizers in problems: all divide without a remainder.
pub const NITROGEN: [u32; 6] = [10, 16, 20, 25, 40, 50];
/// Product for each unit of area, from which the need is made.
pub const PRODUCT: [u32; 6] = [5, 10, 12, 15, 20, 25];
/// Areas in square feet, all parts of 1000.
pub const AREAS_US: [u32; 8] = [200, 250, 400, 500, 750, 1000, 1500, 2000];
/// Areas in square metres, all parts of 100.
pub const AREAS_METRIC: [u32; 8] = [20, 25, 40, 50, 75, 100, 150, 200];
/// Lengths of a bed in feet, and its widths.
pub const BED_US: ([u32; 8], [u32; 4]) = ([10, 12, 15, 20, 24, 25, 30, 50], [3, 4, 5, 6]);
/// Lengths of a bed in metres, and its widths in centimetres.
pub const BED_METRIC: ([u32; 8], [u32; 4]) = ([3, 4, 5, 6, 8, 10, 12, 15], [80, 100, 120, 150]);
/// Percent nitrogen in the area problem.
pub const AREA_NITROGEN: [u32; 4] = [10, 20, 25, 50];
/// Nitrogen wanted in the area problem, in hundredths of a pound for 100 ft2.
pub const WANTED_US: [u32; 4] = [20, 30, 40, 50];
/// Nitrogen wanted in the area problem, in grams for a square metre.
pub const WANTED_METRIC: [u32; 5] = [5, 8, 10, 12, 15];
/// Beds in feet whose area is a handy part of the 324 ft2 that a cubic yard covers an inch deep.
pub const COMPOST_BEDS_US: [(u32, u32); 8] =
    [(9, 9), (18, 9), (27, 6), (27, 12), (27, 9), (18, 18), (54, 9), (36, 18)];
/// Depths of compost in inches.
pub const DEPTHS_US: [&str; 3] = ["1", "2", "1/2"];
/// Beds in metres.
pub const COMPOST_BEDS_METRIC: [(u32, u32); 8] =
    [(5, 2), (8, 5), (10, 1), (10, 2), (20, 1), (12, 5), (10, 5), (20, 2)];
/// Depths of compost in centimetres.
pub const DEPTHS_METRIC: [&str; 3] = ["1", "2", "2.5"];
/// Weight of a cubic yard of compost in pounds.
pub const HEAPS_US: [u32; 4] = [800, 1000, 1200, 1400];
/// Weight of a cubic metre of compost in kilograms.
pub const HEAPS_METRIC: [u32; 4] = [500, 600, 700, 800];
/// Percent nitrogen of a compost as it comes, in tenths.
pub const COMPOST_NITROGEN: [u32; 4] = [5, 8, 10, 15];
/// Percent nitrogen of a meal.
pub const MEALS: [u32; 5] = [5, 6, 8, 10, 12];
/// Percent of the nitrogen of a meal that counts.
pub const RELEASES: [u32; 4] = [25, 50, 60, 75];
/// Weights of a meal that answers come to.
pub const MEAL_WEIGHTS: [u32; 6] = [10, 15, 20, 25, 40, 50];
/// Percent nitrogen and phosphate of the first of two materials.
pub const STARTERS: [(u32, u32); 6] = [(10, 20), (12, 24), (10, 50), (16, 20), (5, 25), (8, 32)];
/// Weights that the two materials come to.
pub const TWO_WEIGHTS: [u32; 5] = [5, 10, 15, 20, 25];
/// Percent of the element on an elemental label.
pub const ELEMENTS: [u32; 8] = [4, 5, 6, 8, 10, 12, 15, 16];
