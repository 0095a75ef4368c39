//! Patterns put together at random from lines of the notation: most of them are read, and reach the fabric.

#![no_main]

use libfuzzer_sys::fuzz_target;

#[path = "../assemble.rs"]
mod assemble;
#[path = "../everything.rs"]
mod everything;

fuzz_target!(|bytes: &[u8]| everything::everything(&assemble::pattern(bytes)));
