//! One-off sums: each a pure function from what was asked to answers that carry their derivation.
//!
//! The names of the answers, which checks and scripts rely on:
//!
//! | sum | answers, in order |
//! |---|---|
//! | `label` | `nitrogen`, `phosphate`, `potash`, `filler` |
//! | `dose` | one per material under the name it was asked by, `per plant` (with several materials also `NAME per plant`), `volume` (with a density), `packs` (with a pack), then `nitrogen`, `phosphate`, `potash` brought, `nitrogen that counts` (with a release), `surplus nitrogen`, `surplus phosphate`, `surplus potash` (those above zero) |
//! | `rate` | `rate` |
//! | `oxide` | `weight` |
//! | `amend` | `volume`, `weight`, `dry weight`, `nitrogen`, `phosphate`, `potash`, `organic nitrogen`, `ammonium nitrogen`, `organic nitrogen that counts`, `ammonium nitrogen kept` (with an ammonium figure), `nitrogen that counts`, `nitrogen that counts in year 2`, `nitrogen that counts in year 3` |
//! | `legume` | `biomass`, `nitrogen`, `nitrogen that counts` |
//! | `water` | `nitrogen` |
//! | `nitrate` | `nitrogen`, `critical level`, `side-dress` |
//! | `liquid` | `weight` (with several materials one per material), `concentration`, then `nitrogen`, `phosphate`, `potash` of the feed, oxides |
//! | `price` | `nitrogen`, `phosphate`, `potash` (with several offers after the name of the offer), `cheapest`, `cheapest phosphate`, `cheapest potash` |
//! | `removal` | `nitrogen`, `phosphate`, `potash` |
//! | `measure` | `weight`, or `cup`, `tbsp`, `tsp`, `pint` (and `mL` in metric) |
//! | `mix` | `per gallon` (or `per litre`), `per plant`, `mix per plant` |

mod amend;
mod amend_years;
mod ammonium;
mod ask;
mod dose;
mod eliminate;
mod from;
mod label;
mod legume;
mod liquid;
mod measure;
mod mix;
mod need;
mod nitrate;
mod oxide;
mod page;
mod price;
mod rate;
mod refusal;
mod removal;
mod rules;
mod solve;
mod units;
mod water;
mod weights;

pub use amend::{Amend, amend};
pub use ask::Ask;
pub use dose::{Dose, dose};
pub use label::{Label, label};
pub use legume::{Legume, legume};
pub use liquid::{Liquid, liquid};
pub use measure::{Measure, measure};
pub use mix::{Mix, mix};
pub use nitrate::{Nitrate, nitrate};
pub use oxide::{Oxide, oxide};
pub use page::{Answer, Part, Remark, Sum, Value};
pub use price::{Price, price};
pub use rate::{RateSum, rate};
pub use refusal::Refusal;
pub use removal::{RemovalSum, removal};
pub use rules::ALL as RULES;
pub use units::{InUnit, Units};
pub use water::{Water, water};
