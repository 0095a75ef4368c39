//! `ringtrue proof FILE [-o FOLDER_OR_FILE]`

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use ringtrue::{mend, proof};

use super::failure::{Failure, quoted};
use super::{Outcome, input, output, replace};

/// Writes the proof, whether or not the pattern rings true: it says which.
pub fn run(file: &Path, out: Option<&Path>) -> Result<Outcome, Failure> {
    let target = target(file, out)?;
    let input = input::read(file)?;
    let compiled = mend::compile_and_mend(&input.text);
    output::show_findings(&compiled, &input);
    let proof = proof::proof(&compiled, &input.name, &input.text);
    replace::prepare(&target, &proof::html(&proof))?.put()?;
    output::print(&format!("wrote {}\n", quoted(&target)))?;
    Ok(output::outcome(&compiled))
}

/// `bonnet-proof.html`, in a folder or beside the pattern.
fn target(file: &Path, out: Option<&Path>) -> Result<PathBuf, Failure> {
    let mut name = OsString::from(file.file_stem().filter(|_| file != Path::new("-")).unwrap_or("pattern".as_ref()));
    name.push("-proof.html");
    match out {
        None => Ok(file.parent().unwrap_or(Path::new("")).join(name)),
        Some(folder) if folder.is_dir() => Ok(folder.join(name)),
        Some(file) if file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("html")) => Ok(file.to_owned()),
        Some(other) => Err(Failure(format!("{} is neither a folder nor a file that ends in .html", quoted(other)))),
    }
}
