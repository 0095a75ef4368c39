//! The one file, put together.

use std::io::Write;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use flate2::{Compression, GzBuilder};
use hmac_sha256::Hash;
use maud::{Render, html};

use super::copying;

const PAGE: &str = include_str!("../page/desk.html");
const STYLE: &str = include_str!("../page/desk.css");
const WORKER: &str = include_str!("../page/worker.js");
/// The text field, made of the parts of `CodeMirror`.
const EDITING: &str = include_str!("../editor/made.js");
/// The desk's own script, in parts: what a part uses stands above it.
const SCRIPT: [&str; 11] = [
    include_str!("../page/build.js"),
    include_str!("../page/engine.js"),
    include_str!("../page/keeping.js"),
    include_str!("../page/reader.js"),
    include_str!("../page/writing.js"),
    include_str!("../page/printing.js"),
    include_str!("../page/chart.js"),
    include_str!("../page/sheets.js"),
    include_str!("../page/shelf.js"),
    include_str!("../page/hook.js"),
    include_str!("../page/desk.js"),
];

/// The whole file.
pub fn page(engine: &[u8], licences: &str) -> Result<String, String> {
    let script = format!("\"use strict\";\n{}", SCRIPT.concat());
    for part in [EDITING, script.as_str(), WORKER] {
        if part.contains("</script") || part.contains("<!--") {
            return Err("a script ends in its middle".to_owned());
        }
    }
    let filled = [
        ("{policy}", policy(&[EDITING, &script])),
        ("{style}", STYLE.to_owned()),
        ("{lines}", copying::lines()?),
        ("{licences}", html! { (licences) }.render().into_string()),
        ("{engine}", STANDARD.encode(packed(engine)?)),
        ("{worker}", WORKER.to_owned()),
        ("{editing}", EDITING.to_owned()),
        ("{script}", script.clone()),
    ];
    fill(PAGE, &filled)
}

/// Puts each text in its one place; what stands in a text is never looked through again.
fn fill(page: &str, filled: &[(&str, String)]) -> Result<String, String> {
    let mut made = String::new();
    let mut rest = page;
    for (place, text) in filled {
        let (before, behind) = rest.split_once(place).ok_or_else(|| format!("the desk has no place {place}"))?;
        made.push_str(before);
        made.push_str(text);
        rest = behind;
    }
    made.push_str(rest);
    Ok(made)
}

/// Nothing is fetched, and nothing runs but the desk's own scripts, by their digests, and the engine.
fn policy(scripts: &[&str]) -> String {
    let digests: Vec<String> =
        scripts.iter().map(|text| format!("'sha256-{}'", STANDARD.encode(Hash::hash(text.as_bytes())))).collect();
    format!(
        "default-src 'none'; script-src {} 'wasm-unsafe-eval'; worker-src blob:; style-src 'unsafe-inline'; img-src data:; \
         base-uri 'none'; form-action 'none'",
        digests.join(" ")
    )
}

/// Packed without a time or a name, so that the same engine gives the same bytes.
fn packed(engine: &[u8]) -> Result<Vec<u8>, String> {
    let mut packer = GzBuilder::new().mtime(0).write(Vec::new(), Compression::best());
    packer
        .write_all(engine)
        .and_then(|()| packer.finish())
        .map_err(|error| format!("the engine can't be packed: {error}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_that_looks_like_a_place_is_left_alone() {
        let filled = [("{a}", "{b}".to_owned()), ("{b}", "x".to_owned())];
        assert_eq!(fill("<{a}|{b}>", &filled).as_deref(), Ok("<{b}|x>"));
    }

    #[test]
    fn packing_gives_the_same_bytes_each_time() {
        assert_eq!(packed(b"ring"), packed(b"ring"));
    }
}
