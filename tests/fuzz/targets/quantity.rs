#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| topdress_fuzz::quantity(bytes));
