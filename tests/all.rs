//! One test binary.

mod answers;
mod best;
mod best_of_a_shed;
mod catalogue;
mod change_cases;
mod check_cases;
mod check_rates;
mod climate;
mod demand_cases;
mod durability;
mod every_crop;
mod examples;
mod faults;
mod fuzz;
mod house;
mod inseason;
mod kept;
mod plan_cases;
mod platforms;
mod properties;
mod readme;
mod release;
mod sums;
mod sums_wild;
mod work_calendar;
