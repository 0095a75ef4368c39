//! A notion is listed, and nothing says what it is for.

use super::context::Context;
use super::prose::words;
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::{ItemKind, Piece};
use crate::syntax::tree::{Header, LineKind, Text};

pub(super) const CODE: Code = Code("unused-notion");

/// What is of no use unless the words say where it goes, and the words that say so. Needles, scissors, markers and pins are
/// used without a word. Common practice, no source.
const NOTIONS: &[(&[&str], &[&str])] = &[
    (&["button"], &["button", "buttonhole"]),
    (&["bead"], &["bead"]),
    (&["ribbon"], &["ribbon", "tie", "bow", "lace"]),
    (&["elastic"], &["elastic", "casing"]),
    (&["eye", "eyes"], &["eye"]),
    (&["zip", "zipper"], &["zip", "zipper"]),
    (&["snap", "popper", "fastener"], &["snap", "popper", "fastener", "fasten", "close", "closure", "stud"]),
    (&["felt"], &["felt", "eye", "sew", "glue"]),
    (&["magnet"], &["magnet"]),
    (&["wire"], &["wire"]),
    (&["bell"], &["bell"]),
    (&["brooch"], &["brooch", "pin"]),
    (
        &["filling", "stuffing", "fibrefill", "fiberfill", "wadding"],
        &["filling", "fill", "stuff", "stuffing", "fibrefill", "fiberfill", "wadding", "stuffed", "filled"],
    ),
];

/// Tools, whatever else their line names: `needle with a large eye`, `hook and eye`.
const TOOLS: &[&str] = &["needle", "pin", "scissor", "marker", "hook", "holder", "tape"];

/// Only a signed pattern is asked: of an old one only the numbers may have been written down. Words that don't end with their
/// sentence may still be being written, and come to it.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    if !context.signed() || context.told().any(|text| is_begun(&text.text)) {
        return Vec::new();
    }
    let listed = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Header(Header::Notion(text)) => Some(text),
        _ => None,
    });
    listed.filter_map(|text| finding(context, text)).collect()
}

fn is_begun(text: &str) -> bool {
    let text = text.trim_end_matches(['"', '”', ')', '*', '_', ' ']);
    !text.ends_with(['.', '!', '?', ':', '…'])
}

fn finding(context: Context<'_>, listed: &Text) -> Option<Diagnostic> {
    let kind = |word: &str| NOTIONS.iter().find(|(names, _)| names.contains(&word));
    let named: Vec<String> = words(&listed.text).map(|word| singular(&word.to_lowercase())).collect();
    let (name, (_, uses)) = named.iter().find_map(|word| Some((word, kind(word)?)))?;
    if named.iter().any(|word| TOOLS.contains(&word.as_str())) {
        return None;
    }
    // What is for something, or may be left out, says so beside it: `felt for the beak`, `button (optional)`.
    let says_what_for = named.iter().any(|word| ["for", "optional", "to"].contains(&word.as_str()));
    if says_what_for || is_put_on(context, uses) {
        return None;
    }
    let message = format!("`{}` is listed, and nothing says what it is for", listed.text.trim());
    Some(
        Diagnostic::warning(CODE, message, listed.span, "never used")
            .with_help(format!("say where the {name} goes, in words for the maker, or take it off the list")),
    )
}

/// Whether the words for the maker, what is placed, the names of pieces or stitches, or what it is speak of its use.
fn is_put_on(context: Context<'_>, uses: &[&str]) -> bool {
    let pattern = context.pattern;
    let speaks = |text: &str| words(text).any(|word| uses.contains(&singular(&word.to_lowercase()).as_str()));
    let stitches = pattern.stitches.iter().filter(|(_, stitch)| stitch.own);
    let head = &pattern.head;
    let cautions = head.cautions.iter();
    let placed = |piece: &Piece| {
        piece.items.iter().any(|item| matches!(&item.kind, ItemKind::Place(placing) if speaks(&placing.what)))
    };
    context.told().any(|text| speaks(&text.text))
        || pattern.pieces.iter().any(placed)
        || head.about.as_deref().is_some_and(speaks)
        || cautions.into_iter().any(|caution| speaks(caution))
        || pattern.pieces.iter().any(|piece| speaks(&piece.name))
        || stitches.into_iter().any(|(_, stitch)| speaks(&stitch.us.full) || stitch.how.as_deref().is_some_and(speaks))
}

fn singular(word: &str) -> String {
    word.strip_suffix('s').unwrap_or(word).to_owned()
}
