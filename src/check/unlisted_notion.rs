//! Something is needed for the work that no `notion` line lists.

use super::context::Context;
use super::prose::{asks_for, has};
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::pattern::model::{ItemKind, Piece, Way};
use crate::syntax::tree::{Header, Line, LineKind};
use crate::words;

pub(super) const CODE: Code = Code("unlisted-notion");

/// Something that a maker has to have beside hook and yarn.
struct Notion {
    /// As a `notion` line says it.
    name: &'static str,
    /// The same in a sentence.
    spoken: &'static str,
    /// One of these words in the list stands for it.
    listed_as: &'static [&'static str],
    /// One of these words for the maker asks for it.
    asked_by: &'static [&'static str],
    /// The work of a piece that asks for it, in words.
    work: fn(&Piece) -> Option<&'static str>,
}

/// What the trade lists beside hook and yarn: common practice, no source.
const NOTIONS: &[Notion] = &[
    Notion {
        name: "stitch marker",
        spoken: "a stitch marker",
        listed_as: &["marker", "markers"],
        asked_by: &["marker", "markers"],
        work: |piece| (piece.way == Way::Spiral && rounds(piece) > 1).then_some("to keep the rounds of a spiral apart"),
    },
    Notion {
        name: "tapestry needle",
        spoken: "a tapestry needle",
        listed_as: &["needle", "needles"],
        asked_by: &["sew", "embroider", "weave in"],
        work: |piece| {
            piece.items.iter().find_map(|item| match item.kind {
                ItemKind::Gather(_) => Some("to gather the last round"),
                ItemKind::Seam(..) | ItemKind::SeamEdges(_) => Some("for the seam"),
                ItemKind::Sew { .. } => Some("to sew the pieces together"),
                _ => None,
            })
        },
    },
    by_words("buttons", &["button", "buttons"], &["button", "buttons", "buttonhole", "buttonholes"]),
    by_words("beads", &["bead", "beads"], &["bead", "beads"]),
    by_words("ribbon", &["ribbon", "ribbons"], &["ribbon", "ribbons"]),
    by_words("elastic", &["elastic"], &["elastic"]),
    by_words("safety eyes", &["eye", "eyes"], &["safety eye", "safety eyes", "plastic eyes", "toy eyes"]),
    by_words("zip", &["zip", "zipper", "zips", "zippers"], &["zip", "zipper", "zippers"]),
    by_words(
        "filling",
        &["filling", "stuffing", "fibrefill", "fiberfill", "wadding"],
        &["stuff", "stuffing", "filling"],
    ),
];

const fn by_words(name: &'static str, listed_as: &'static [&'static str], asked_by: &'static [&'static str]) -> Notion {
    Notion { name, spoken: name, listed_as, asked_by, work: |_| None }
}

fn rounds(piece: &Piece) -> u32 {
    let times = |kind: &ItemKind| match kind {
        ItemKind::Work(line) => line.times,
        ItemKind::Again(_) => 2,
        _ => 0,
    };
    piece.items.iter().map(|item| times(&item.kind)).fold(0, u32::saturating_add)
}

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let missing: Vec<(&Notion, String)> = NOTIONS
        .iter()
        .filter(|notion| !is_listed(context, notion))
        .filter_map(|notion| Some((notion, reason(context, notion)?)))
        .collect();
    let Some(after) = anchor(context).filter(|_| context.signed() && !missing.is_empty()) else { return Vec::new() };
    let spoken: Vec<&str> = missing.iter().map(|(notion, _)| notion.spoken).collect();
    let label = if context.pattern.head.notions.is_empty() { "no notions are listed" } else { "the last in the list" };
    let message = format!("the notions leave out {}", words::list(&spoken));
    let mut finding = Diagnostic::warning(CODE, message, after.span, label);
    for (notion, reason) in &missing {
        finding = finding.with_note(format!("{}: {reason}", notion.spoken));
    }
    let names = missing.iter().map(|(notion, _)| format!("notion {}", notion.name));
    let lines: Vec<String> = names.collect();
    let quoted: Vec<String> = lines.iter().map(|line| format!("`{line}`")).collect();
    let end = Span::new(after.span.end, after.span.end);
    let text = format!("\n{}", lines.join("\n"));
    vec![finding.with_fix(Fix::change(format!("add {}", words::list(&quoted)), end, text))]
}

fn is_listed(context: Context<'_>, notion: &Notion) -> bool {
    let list = &context.pattern.head.notions;
    list.iter().any(|line| notion.listed_as.iter().any(|word| has(line, word)) || is_begun(line, notion))
}

/// Whether a line is no more than the beginning of what would be listed: it is there, and not written to its end.
fn is_begun(line: &str, notion: &Notion) -> bool {
    const LEAST: usize = 3;
    let line = line.trim().to_lowercase();
    let last = line.split_whitespace().next_back().unwrap_or_default();
    let begins = |word: &str| last.len() >= LEAST && word.starts_with(last);
    line.len() >= LEAST && notion.name.starts_with(&line) || notion.listed_as.iter().any(|word| begins(word))
}

/// What it is needed for.
fn reason(context: Context<'_>, notion: &Notion) -> Option<String> {
    let mut pieces = context.pattern.pieces.iter();
    if let Some((piece, reason)) = pieces.find_map(|piece| Some((piece, (notion.work)(piece)?))) {
        return Some(format!("{reason}, in {}", piece.name));
    }
    let words: Vec<&&str> = notion.asked_by.iter().filter(|word| context.may_say(word)).collect();
    let asks = |text: &str| words.iter().any(|word| asks_for(text, word));
    let placed = |piece: &&Piece| {
        piece.items.iter().any(|item| match &item.kind {
            ItemKind::Place(placing) => notion.asked_by.iter().any(|word| has(&placing.what, word)),
            _ => false,
        })
    };
    if let Some(piece) = context.pattern.pieces.iter().find(placed) {
        return Some(format!("placed on the work, in {}", piece.name));
    }
    context.told().any(|text| asks(&text.text)).then(|| "the words for the maker speak of it".to_owned())
}

/// The header line that a notion is listed after: the last notion, or the last of the other materials.
fn anchor(context: Context<'_>) -> Option<&Line> {
    let last = |wanted: fn(&Header) -> bool| {
        context.tree.lines.iter().rev().find(|line| matches!(&line.kind, LineKind::Header(header) if wanted(header)))
    };
    last(|header| matches!(header, Header::Notion(_)))
        .or_else(|| last(|header| matches!(header, Header::Yarn { .. } | Header::Hook { .. })))
        .or_else(|| last(|header| matches!(header, Header::By(_))))
}
