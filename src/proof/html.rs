//! The proof as one HTML file, to be printed or sent.

use maud::{DOCTYPE, Markup, PreEscaped, html as markup};

use super::{LineProof, PieceProof, Proof, Verdict};
use crate::words;

/// The style of the page; a file of our own, so it goes in as it is.
const STYLE: &str = include_str!("proof.css");

/// The proof as one self-contained page without a script.
#[must_use]
pub fn html(proof: &Proof) -> String {
    let page = markup! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { "Proof of " (proof.title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                main {
                    h1 { "Proof of " (proof.title) }
                    (facts(proof))
                    p.verdict { strong { (verdict(&proof.verdict)) } " " (extent(&proof.verdict)) }
                    (findings(proof))
                    @for piece in &proof.pieces { (table(piece)) }
                    @if let Some(left_out) = &proof.left_out { p { (left_out) } }
                    h2 { "For a person to judge" }
                    ul { @for sentence in &proof.for_a_person { li { (sentence) } } }
                    (signature())
                }
            }
        }
    };
    page.into_string()
}

fn facts(proof: &Proof) -> Markup {
    markup! {
        dl {
            @if let Some(by) = &proof.by { div { dt { "Pattern by" } dd { (by) } } }
            @if let Some(version) = &proof.version { div { dt { "Version" } dd { (version) } } }
            div { dt { "File" } dd { (proof.file) } }
            div { dt { "SHA-256 of the file" } dd { code { (proof.hash) } } }
            div { dt { "Worked by" } dd { "ringtrue " (proof.compiler) } }
        }
    }
}

fn verdict(verdict: &Verdict) -> String {
    match (verdict.errors, verdict.warnings) {
        (0, 0) => "Every line rings true.".to_owned(),
        (0, warnings) => format!("Every line rings true; there {}.", are(warnings, "warning")),
        (errors, 0) => format!("This pattern does not ring true: there {}.", are(errors, "error")),
        (errors, warnings) => format!(
            "This pattern does not ring true: there {} and {}.",
            are(errors, "error"),
            words::count(warnings, "warning")
        ),
    }
}

fn are(number: usize, what: &str) -> String {
    format!("{} {}", if number == 1 { "is" } else { "are" }, words::count(number, what))
}

fn extent(verdict: &Verdict) -> String {
    let sizes = if verdict.sizes > 1 { format!(" in {} sizes", verdict.sizes) } else { String::new() };
    let none = match verdict.unstated {
        0 => String::new(),
        1 => "; one row or round states none".to_owned(),
        more => format!("; {} rows or rounds state none", words::thousands(more)),
    };
    format!(
        "{} rows and rounds were worked{sizes}, {} stitches and chains; {} stated counts were confirmed{none}.",
        words::thousands(verdict.rows),
        words::thousands(verdict.stitches),
        words::thousands(verdict.confirmed)
    )
}

fn findings(proof: &Proof) -> Markup {
    markup! {
        @if !proof.findings.is_empty() {
            h2 { "What was found" }
            ul {
                @for (line, what, message) in &proof.findings { li { "Line " (line) ", " (what) ": " (message) } }
            }
        }
    }
}

fn table(piece: &PieceProof) -> Markup {
    let sized = piece.lines.iter().any(|line| !line.size.is_empty());
    markup! {
        h2 { (piece.name) }
        table {
            thead {
                tr {
                    th scope="col" { "Row or round" }
                    @if sized { th scope="col" { "Size" } }
                    th scope="col" { "Line of the file" }
                    th scope="col" { "Used" }
                    th scope="col" { "Made" }
                    th scope="col" { "Stated" }
                    th scope="col" { "Verdict" }
                }
            }
            tbody { @for line in &piece.lines { (row(line, sized)) } }
        }
    }
}

fn row(line: &LineProof, sized: bool) -> Markup {
    markup! {
        tr {
            th scope="row" { (line.label) }
            @if sized { td { (line.size) } }
            td { (line.line) }
            td { (line.used) }
            td { (line.made) }
            td { (line.stated) }
            td { (line.verdict) }
        }
    }
}

fn signature() -> Markup {
    markup! {
        p.signature { span { "Read by" } span { "Date" } }
    }
}
