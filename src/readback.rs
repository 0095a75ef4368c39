//! What a command writes is read back and worked before it takes the place of the old text.

use crate::compiled::{Compiled, errors};
use crate::diagnostic::Span;
use crate::fabric::{Row, SizeFabric};

/// What a new text says otherwise than the old one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Otherwise {
    /// It has more errors.
    MoreErrors,
    /// It does not work this line of the old text as before, which is the first such line.
    Line(Span),
}

/// What the new text says otherwise; nothing when it has no more errors, and each row of each size has the same stitches in
/// the same places.
#[must_use]
pub fn otherwise(old: &Compiled, new: &Compiled) -> Option<Otherwise> {
    if errors(&new.findings).len() > errors(&old.findings).len() {
        return Some(Otherwise::MoreErrors);
    }
    let pieces = old.pattern.pieces.len().max(new.pattern.pieces.len());
    (0..pieces).find_map(|at| piece(old, new, at)).map(Otherwise::Line)
}

fn piece(old: &Compiled, new: &Compiled, at: usize) -> Option<Span> {
    let (was, is) = (old.pattern.pieces.get(at), new.pattern.pieces.get(at));
    let header = was.or(is).map(|piece| piece.span).unwrap_or_default();
    let sizes = |of: &Compiled| of.fabric.pieces.get(at).map(|piece| piece.sizes.clone()).unwrap_or_default();
    let (before, after) = (sizes(old), sizes(new));
    if before.len() != after.len() || was.map(|piece| &piece.name) != is.map(|piece| &piece.name) {
        return Some(header);
    }
    let line = |row: &Row| was.and_then(|piece| piece.items.get(row.item)).map_or(header, |item| item.span);
    before.iter().zip(&after).find_map(|(before, after)| size(before, after, header, &line))
}

fn size(before: &SizeFabric, after: &SizeFabric, header: Span, line: &impl Fn(&Row) -> Span) -> Option<Span> {
    let rows = before.rows.iter().zip(&after.rows);
    let other = rows.filter(|(old, new)| !alike(old, new)).map(|(old, _)| line(old)).next();
    let same = before.start == after.start && before.waiting == after.waiting && before.rows.len() == after.rows.len();
    other.or_else(|| (!same).then(|| before.rows.get(after.rows.len()).map_or(header, line)))
}

/// Whether two rows are the same work; where it stands in the text, and what is stated of it, do not matter.
fn alike(old: &Row, new: &Row) -> bool {
    (old.number, old.right_side, old.trail) == (new.number, new.right_side, new.trail)
        && (old.lead, old.closing) == (new.lead, new.closing)
        && old.joins.len() == new.joins.len()
}

#[cfg(test)]
mod tests {
    use super::{Otherwise, otherwise};
    use crate::compile;

    const MAT: &str = "pattern Mat\nterms US\npiece Mat, in rows\nlead ch 1\nstart ch 11\n\
        row 1: sc in 2nd ch from hook, sc to end\nrow 2: sc to end\n";

    fn line(new: &str) -> Option<&'static str> {
        match otherwise(&compile(MAT), &compile(new))? {
            Otherwise::MoreErrors => Some("more errors"),
            Otherwise::Line(span) => MAT.get(span.start..)?.lines().next(),
        }
    }

    #[test]
    fn other_words_for_the_same_work_are_the_same() {
        assert_eq!(line(&MAT.replace("row 2: sc to end", "row:  sc 10   = 10")), None);
        assert_eq!(line(&MAT.replace("row 2: sc to end", "row 2: [sc] to end")), None);
    }

    #[test]
    fn the_first_line_that_is_worked_otherwise_is_named() {
        assert_eq!(line(&MAT.replace("row 2: sc to end", "row 2: sc 8, sc2tog")), Some("row 2: sc to end"));
        assert_eq!(line(&MAT.replace("row 2: sc to end\n", "")), Some("row 2: sc to end"));
        assert_eq!(line(&MAT.replace("start ch 11", "start ch 12")), Some("row 1: sc in 2nd ch from hook, sc to end"));
        assert_eq!(line(&MAT.replace("piece Mat", "piece Rug")), Some("piece Mat, in rows"));
    }

    #[test]
    fn an_error_more_is_not_the_same() {
        assert_eq!(line(&MAT.replace("row 2: sc to end", "row 2: sc to end = 12")), Some("more errors"));
    }
}
