//! The soil nitrate that is enough for a crop.

use super::rules;
use crate::catalogue::Crop;
use crate::figure::Figure;
use crate::quantity::Concentration;

/// Soil nitrate that is enough where the crop has no published level, in ppm.
const USUAL_PPM: i64 = 25;

/// The soil nitrate at or above which a crop is not dressed: the published level, that on manured
/// ground where there is one, else 25 ppm.
pub fn level(crop: &Crop, manured: bool) -> Figure<Concentration> {
    let label = "nitrate that is enough";
    match &crop.nitrate_test {
        Some(test) => {
            let level = test.critical_manured.filter(|_| manured).unwrap_or(test.critical);
            Figure::listed(label, level, "crops", &crop.name, &test.source)
        }
        None => {
            let usual = Concentration::from_ppm(USUAL_PPM.into());
            Figure::fixed(label, usual, &rules::USUAL_CRITICAL)
        }
    }
}
