//! See `../properties.rs`.

#![no_main]

#[path = "../properties.rs"]
mod properties;

libfuzzer_sys::fuzz_target!(|text: &str| properties::reading(text));
