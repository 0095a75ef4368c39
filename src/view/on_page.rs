//! Which line of the text each line of the page for makers comes from.

use serde::Serialize;

use super::Shown;

/// A line of the page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OnPage {
    /// Its name on the page: `p1-l4`, or `p1-start` where a piece begins.
    pub id: String,
    /// The line of the text that says it, from 0. A piece that begins as another one has the lines of that one.
    pub line: u32,
    /// Where that begins.
    pub from: u32,
}

/// All of them, piece by piece. A page leaves some of them out.
pub(super) fn on_page(shown: Shown<'_>) -> Vec<OnPage> {
    let place =
        |id: String, start: usize| OnPage { id, line: shown.places.line(start), from: shown.places.utf16(start) };
    let mut all = Vec::new();
    for (piece, at) in shown.compiled.pattern.pieces.iter().zip(1..) {
        all.push(place(format!("p{at}-start"), piece.start_span.start));
        let items = piece.items.iter().zip(1..);
        all.extend(items.map(|(item, index): (_, usize)| place(format!("p{at}-l{index}"), item.span.start)));
    }
    all
}
