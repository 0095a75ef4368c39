//! What the checks against published facts have in common: patterns are built as text and compiled as a user's would
//! be.

use ringtrue::{Compiled, compile, diagnostic::Severity};

/// A pattern of one piece: how it is worked, the settings and the start, and the work lines.
pub fn piece(way: &str, settings: &[&str], lines: &[String]) -> String {
    let mut text = format!("pattern Sample\nterms US\n\npiece Sample, {way}\n");
    for line in settings.iter().copied().chain(lines.iter().map(String::as_str)) {
        text.push_str(line);
        text.push('\n');
    }
    text
}

/// Checks that a pattern rings true, that its rows make so many stitches in the first size, and that the check has
/// teeth: every stated count, when it is raised by one, is refused where it stands.
pub fn rings_true(text: &str, stitches: &[u32]) {
    let compiled = compile(text);
    assert_eq!(faults(&compiled, text), [""; 0], "in\n{text}");
    assert_eq!(made(&compiled), stitches, "stitches of each row in\n{text}");
    for (at, line) in text.lines().enumerate() {
        if let Some(wrong) = raised(line) {
            let lines = text.lines().enumerate().map(|(i, l)| if i == at { wrong.as_str() } else { l });
            let slip = lines.collect::<Vec<_>>().join("\n");
            let label = line.split(':').next().unwrap_or_default();
            assert!(refused(&slip).iter().any(|l| l == label), "{wrong} isn't refused in\n{slip}");
        }
    }
}

/// The labels of the lines that have an error, each once, in the order of the text: `rnd 9`.
pub fn refused(text: &str) -> Vec<String> {
    let mut labels: Vec<String> = Vec::new();
    for finding in compile(text).findings.iter().filter(|f| f.severity == Severity::Error) {
        let before = text.get(..finding.primary.span.start).unwrap_or(text);
        let line = text.lines().nth(before.matches('\n').count()).unwrap_or_default();
        let label = line.split(':').next().unwrap_or_default().to_owned();
        if !labels.contains(&label) {
            labels.push(label);
        }
    }
    labels
}

/// Every error with the line it is about.
fn faults(compiled: &Compiled, text: &str) -> Vec<String> {
    let errors = compiled.findings.iter().filter(|f| f.severity == Severity::Error);
    errors
        .map(|f| {
            let before = text.get(..f.primary.span.start).unwrap_or(text);
            format!("line {}: {} ({})", before.matches('\n').count() + 1, f.message, f.primary.text)
        })
        .collect()
}

/// Stitches of each row of the first piece in the first size.
fn made(compiled: &Compiled) -> Vec<u32> {
    let size = compiled.fabric.pieces.first().and_then(|piece| piece.sizes.first());
    size.into_iter().flat_map(|size| &size.rows).map(|row| row.ledger.stitches).collect()
}

/// The line with its first stated number one higher; nothing for a line that states none.
fn raised(line: &str) -> Option<String> {
    let (steps, stated) = line.rsplit_once("= ")?;
    let digits = stated.find(|c: char| !c.is_ascii_digit()).unwrap_or(stated.len());
    let (number, rest) = stated.split_at(digits);
    Some(format!("{steps}= {}{rest}", number.parse::<u32>().ok()? + 1))
}
