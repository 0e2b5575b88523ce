#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| witnessmark_fuzz::catalogue(bytes));
