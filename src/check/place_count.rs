//! Another number of things is placed than the notions list.

use super::button_count::numbers;
use super::context::Context;
use super::prose::words;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::ItemKind;
use crate::syntax::tree::{Header, LineKind, Text};
use crate::words::count;

pub(super) const CODE: Code = Code("place-count");

/// Notions that stay on the work, so that as many are listed as are placed. Markers and pins are used again.
const PUT_ON: &[&str] =
    &["button", "eye", "bead", "bell", "snap", "popper", "fastener", "toggle", "ring", "magnet", "nose"];

/// Notions that are listed by the pair or the packet.
const PACKED: &[&str] = &["pair", "pairs", "pack", "packet", "box", "set", "sets", "card", "bag", "about"];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    PUT_ON.iter().filter_map(|noun| finding(context, noun)).collect()
}

/// The first size in which the list and the lines that place such things don't agree. Fewer may be placed by lines than are listed
/// where words for the maker speak of them too.
fn finding(context: Context<'_>, noun: &str) -> Option<Diagnostic> {
    let (listed, numbers) = listed(context, noun)?;
    let in_words = context.told().any(|text| names(&text.text, noun));
    let sizes = 0..context.pattern.sizes.len();
    let (size, wanted, placed, at) = sizes.into_iter().find_map(|size| {
        let wanted = match numbers.as_slice() {
            [one] => *one,
            numbers => *numbers.get(size)?,
        };
        let (placed, at) = placed(context, noun, size)?;
        (placed > wanted || placed < wanted && !in_words).then_some((size, wanted, placed, at))
    })?;
    let name = context.pattern.sizes.get(size).filter(|size| !size.is_empty());
    let in_size = name.map(|size| format!(" in {size}")).unwrap_or_default();
    let is = if placed == 1 { "is" } else { "are" };
    let message = format!("{} {is} placed, and {wanted} listed{in_size}", count(placed, noun));
    Some(
        Diagnostic::warning(CODE, message, listed.span, "listed here")
            .with_other(at, "placed here")
            .with_help("list as many as are placed"),
    )
}

/// The one line of the notions that lists such things by their number.
fn listed<'a>(context: Context<'a>, noun: &str) -> Option<(&'a Text, Vec<u32>)> {
    let notions = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Header(Header::Notion(text)) => Some(text),
        _ => None,
    });
    let mut lists = notions.filter(|text| names(text.text.split([',', ';', '(']).next().unwrap_or_default(), noun));
    let one = lists.next()?;
    let packed = words(&one.text).any(|word| PACKED.contains(&word.to_lowercase().as_str()));
    (lists.next().is_none() && !packed).then_some((one, numbers(&one.text)?))
}

/// How many are placed in a size, and by which line first.
fn placed(context: Context<'_>, noun: &str, size: usize) -> Option<(u32, Span)> {
    let mut placed: Option<(u32, Span)> = None;
    for piece in &context.pattern.pieces {
        for item in piece.items.iter().filter(|item| item.sizes.get(size).copied().unwrap_or(true)) {
            let ItemKind::Place(placing) = &item.kind else { continue };
            let last = words(&placing.what).last().unwrap_or_default();
            if singular(last) != noun {
                continue;
            }
            let on = placing.on.and_then(|on| context.pattern.pieces.get(on)).unwrap_or(piece).copies.max(1);
            let number = placing.number.as_ref().map_or_else(|| placing.places(size), |number| number.get(size));
            let (so_far, _) = placed.get_or_insert((0, item.span));
            *so_far = so_far.saturating_add(number.saturating_mul(on));
        }
    }
    placed
}

fn names(text: &str, noun: &str) -> bool {
    words(text).any(|word| singular(word) == noun)
}

fn singular(word: &str) -> String {
    let word = word.to_lowercase();
    word.strip_suffix('s').map(str::to_owned).unwrap_or(word)
}
