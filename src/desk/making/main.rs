//! `cargo run -p ringtrue-desk [FILE]` makes the desk: one file that a browser opens, `target/desk.html` unless another is named.
//!
//! The engine is compiled for WebAssembly by the compiler that has that target. Where it comes without (Debian's `rustc-web` with
//! `rust-web-src`), `RINGTRUE_DESK_RUSTC` names it, and its library is compiled along.

#![expect(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    reason = "it belongs to no library: it starts cargo, reads what was built and writes one file"
)]
#![expect(clippy::print_stdout, clippy::print_stderr, reason = "a command of its own, which says what it does")]

mod copying;
mod engine;
mod licences;
mod whole;

use std::path::PathBuf;
use std::process::ExitCode;

fn main() -> ExitCode {
    match make() {
        Ok(told) => {
            println!("{told}");
            ExitCode::SUCCESS
        }
        Err(why) => {
            eprintln!("{why}");
            ExitCode::FAILURE
        }
    }
}

/// Builds the engine, puts the file together, and says where it is and how large.
fn make() -> Result<String, String> {
    let built = engine::built()?;
    let licences = licences::collected(&built)?;
    let page = whole::page(&built.engine, &licences)?;
    let named = std::env::args_os().nth(1).map(PathBuf::from);
    let target = named.unwrap_or_else(|| built.target.join("desk.html"));
    std::fs::write(&target, &page).map_err(|error| format!("{} can't be written: {error}", target.display()))?;
    let (whole, engine) = (page.len() / 1000, built.engine.len() / 1000);
    Ok(format!("wrote {}: {whole} kB; the engine in it has {engine} kB unpacked", target.display()))
}
