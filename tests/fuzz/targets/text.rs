//! Any text at all, from reading to every page.

#![no_main]

use libfuzzer_sys::fuzz_target;

#[path = "../everything.rs"]
mod everything;

fuzz_target!(|text: &str| everything::everything(text));
