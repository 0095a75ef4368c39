//! A pattern, and what is done with it one thing after the other.

#![no_main]

use libfuzzer_sys::fuzz_target;

#[path = "../commands.rs"]
mod commands;

fuzz_target!(|input: (&str, &[u8])| commands::commands(input.0, input.1));
