//! What people write is read, and what cannot be read is told.

use super::*;
use crate::quantity::{
    Area, Concentration, Density, Mass, Money, PlantRate, Rate, RowRate, Share, Temperature, Volume,
};

fn d(text: &str) -> Decimal {
    text.parse().expect("a decimal")
}
fn q<Q: Bounded>(text: &str) -> Q {
    read::<Q>(text).unwrap_or_else(|fault| panic!("{text}: {fault}")).0
}

#[test]
fn what_people_write_is_read() {
    assert_eq!(q::<Rate>("3 lb/1000 ft2"), q::<Rate>("3 lb per 1000 sq ft"));
    assert_eq!(q::<Rate>("3lb/1,000 ft²"), q::<Rate>("3 lb/1000 ft2"));
    assert_eq!(q::<Rate>("20 t/ha").kg_per_ha(), d("20000"));
    assert_eq!(q::<Rate>("150 lb per 100 ft2").lb_per_100_ft2().round_dp(20), d("150"));
    assert_eq!(q::<Length>("4'").ft(), d("4"));
    assert_eq!(q::<Length>("4' 6\"").ft(), d("4.5"));
    assert_eq!(q::<Length>("4 ft 6 in").ft(), d("4.5"));
    assert_eq!(q::<Mass>("2 1/2 lb").lb(), d("2.5"));
    assert_eq!(q::<Mass>("½ lb").lb(), d("0.5"));
    assert_eq!(q::<Mass>("2½ lb").lb(), d("2.5"));
    assert_eq!(q::<Mass>("2 lb 4 oz").lb(), d("2.25"));
    assert_eq!(q::<Share>("60 %").fraction(), d("0.6"));
    assert_eq!(q::<Share>("60 percent").fraction(), d("0.6"));
    assert_eq!(q::<Share>("2.8 kg/t").fraction(), d("0.0028"));
    assert_eq!(q::<RowRate>("8 lb/10 ft").lb_per_100_ft().round_dp(20), d("80"));
    assert_eq!(q::<RowRate>("8 lb per 10 ft of row"), q::<RowRate>("8 lb/10 ft"));
    assert_eq!(q::<PlantRate>("1.75 lb/plant").lb(), d("1.75"));
    assert_eq!(q::<Concentration>("18 ppm").ppm(), d("18"));
    assert_eq!(q::<Concentration>("18 mg/kg").ppm(), d("18"));
    assert_eq!(q::<Concentration>("18 mg / kg").ppm(), d("18"));
    assert_eq!(q::<Concentration>("18 mg per kg").ppm(), d("18"));
    assert_eq!(q::<Share>("18 mg/kg"), q::<Share>("18 mg/1 kg"));
    assert_eq!(q::<Temperature>("32 F").celsius(), d("0"));
    assert_eq!(q::<Temperature>("-4 °C").celsius(), d("-4"));
    assert_eq!(q::<Volume>("1 c").cup(), d("1"));
    assert_eq!(q::<Density>("1000 lb/yd3").lb_per_yd3().round_dp(15), d("1000"));
    assert_eq!(q::<Density>("1.3 g/cm3").g_per_cm3(), d("1.3"));
    assert_eq!(q::<Length>("3 yd3/1000 ft2").inch().round_dp(15), d("0.972"));
    assert_eq!(q::<Money>("13.50").units(), d("13.50"));
    assert_eq!(q::<Area>("1/4 acre").ft2(), d("10890"));
}

#[test]
fn ranges_and_pairs_are_read() {
    let (low, high) = read_range::<Rate>("2-4 lb/1000 ft2").expect("a range");
    assert_eq!((low, high), (q("2 lb/1000 ft2"), q("4 lb/1000 ft2")));
    let (low, high) = read_range::<Rate>("2 to 4 lb/1000 ft2").expect("a range");
    assert_eq!((low, high), (q("2 lb/1000 ft2"), q("4 lb/1000 ft2")));
    assert_eq!(read_length_pair("12 in x 18 in"), Ok((q("12 in"), q("18 in"))));
    assert_eq!(read_length_pair("12 x 18 in"), Ok((q("12 in"), q("18 in"))));
    assert_eq!(read_length_pair("1 ft"), Ok((q("1 ft"), q("1 ft"))));
    assert!(matches!(read_range::<Mass>("4-2 lb"), Err(Misread::Reversed { .. })));
}

#[test]
fn what_cannot_be_read_says_why() {
    let fault = |text| read::<Length>(text).expect_err("a fault");
    assert_eq!(fault("1,5 m").mend(), "write a point: `1.5 m`");
    assert!(matches!(fault("1,5 m"), Misread::Comma { .. }));
    assert!(matches!(fault(""), Misread::Empty { .. }));
    assert!(matches!(fault("long"), Misread::NoNumber { .. }));
    assert!(matches!(fault("12"), Misread::NoUnit { .. }));
    assert!(matches!(fault("12 / ft2"), Misread::NoUnit { .. }));
    assert!(matches!(fault("3 lb"), Misread::WrongKind { .. }));
    assert_eq!(fault("3 inche").mend(), "did you mean `in`?");
    assert!(matches!(fault("-3 m"), Misread::OutOfRange { .. }));
    assert!(matches!(fault("1/0 m"), Misread::ZeroBelow { .. }));
    assert!(matches!(fault("1e40 m"), Misread::Exponent { .. }));
    assert!(fault("2.5E-3 m").to_string().contains("exponent"));
    assert_eq!(q::<Area>("1 acre").ft2(), d("43560"));
    assert!(matches!(fault(&format!("{} m", "9".repeat(40))), Misread::TooManyDigits { .. }));
    assert!(matches!(read::<Share>("120 %"), Err(Misread::OutOfRange { .. })));
    assert!(matches!(read::<Rate>("3 lb/0 ft2"), Err(Misread::ZeroBelow { .. })));
}
