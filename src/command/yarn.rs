//! `ringtrue yarn FILE`

use std::path::Path;

use ringtrue::{message, yarn};

use super::failure::{Failure, quoted};
use super::{Outcome, input, output};

/// Prints how much yarn a pattern takes or, where some is given, what is left of it after each row or round.
pub fn run(file: &Path, left_of: Option<&str>) -> Result<Outcome, Failure> {
    let have = left_of.map(|said| (said, yarn::some_yarn(said)));
    if let Some((said, None)) = have {
        let shown = quoted(Path::new(said));
        return Err(Failure(format!("{shown} is no amount of yarn; write it as `50g`, `1.75oz`, `110m` or `120yd`")));
    }
    let input = input::read(file)?;
    let compiled = ringtrue::compile(&input.text);
    let text = match have {
        Some((said, Some(have))) => yarn::left_table(&compiled.pattern, &compiled.fabric, have, said),
        Some((_, None)) | None => yarn::table(&compiled.pattern, &compiled.fabric),
    };
    output::print(&text)?;
    if let Some(summary) = message::summary(&compiled.findings, &input.name) {
        output::tell(&format!("{summary}; `ringtrue check` shows what and where\n"));
    }
    Ok(output::outcome(&compiled))
}
