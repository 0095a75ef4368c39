//! `ringtrue stitches NAME`

use std::ffi::OsStr;
use std::path::Path;

use ringtrue::stitch::{Terms, listed, told, with_word};

use super::failure::{Failure, quoted};
use super::{Outcome, output};

/// Prints the table of stitches, or what there is to say of one of them.
pub fn run(name: Option<&OsStr>, terms: Terms) -> Result<Outcome, Failure> {
    let Some(name) = name else {
        output::print(&format!("{}\n", listed(terms).trim_end()))?;
        return Ok(Outcome::Clean);
    };
    let word = name.to_string_lossy();
    if let Some(told) = told(&word, terms) {
        output::print(&format!("{told}\n"))?;
        return Ok(Outcome::Clean);
    }
    let shown = quoted(Path::new(name));
    let near = with_word(&word, terms);
    Err(Failure(if near.is_empty() {
        format!(
            "no stitch is called {shown}; `ringtrue stitches` lists them all, and a `stitch` line declares your own"
        )
    } else {
        format!("no stitch is called {shown} alone; there are {}", near.join(", "))
    }))
}
