//! `ringtrue proof FILE [-o FOLDER_OR_FILE]`

use std::path::Path;

use ringtrue::page::Edition;
use ringtrue::{mend, proof};

use super::failure::Failure;
use super::place::{self, Place};
use super::{Outcome, input, output};

/// Writes the proof, whether or not the pattern rings true: it says which.
pub fn run(file: &Path, out: Option<&Path>) -> Result<Outcome, Failure> {
    let place = Place::of(out, file, &["html"])?;
    let target = place.target(&place::named(file, "-proof.html"));
    place::refuse_pattern(&target, file, "proof")?;
    let input = input::read(file)?;
    let compiled = mend::compile_and_mend(&input.text);
    output::show_findings(&compiled, &input);
    let proof = proof::html(&proof::proof(&compiled, &input.name, &input.text));
    match target {
        Some(target) => place.write(&[(target, proof)])?,
        None => output::print(&proof)?,
    }
    if compiled.has_errors() {
        return Ok(Outcome::Findings);
    }
    super::page::read_back(&compiled, &Edition::default(), &place)
}
