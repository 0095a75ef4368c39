//! A piece that goes over from rows to rounds, or from rounds to rows.

use super::super::model::{Item, ItemKind, NamedRow, Now, Piece};
use super::rows::Numbers;
use super::{Lower, codes};
use crate::diagnostic::{Diagnostic, Span};
use crate::syntax::tree::{self, Way};

impl Lower {
    /// `now in rows`: how the piece goes on from the next row or round on.
    pub(super) fn now(&mut self, now: &tree::Now, span: Span) {
        let lead = now.lead.as_ref().map(|(lead, _)| self.lead(lead));
        let Some(piece) = self.pieces.last() else { return };
        let before = piece.way_at(piece.items.len());
        let begun = is_begun(piece);
        let finding = match self.nothing_to_change(piece, now, span) {
            Some(finding) => Some(finding).filter(|_| piece.can_be_read()),
            None => cannot_go_on(now, before),
        };
        self.findings.extend(finding);
        let goes = !now.way.one_sided() && !before.one_sided() && begun;
        if !goes {
            if let Some(piece) = self.pieces.last_mut().filter(|_| !begun && !now.way.one_sided()) {
                // So it is meant, and is said once.
                piece.way = now.way;
            }
            return;
        }
        let turned = now.turned.is_some() && now.way == Way::JoinedRounds;
        let without_turning = now.without_turning.is_some();
        let all = vec![true; self.size_count()];
        self.item_for(all, ItemKind::Now(Now { way: now.way, turned, lead, without_turning }), span);
    }

    /// Says why a piece can't go over to another way at all, or does not by this line.
    fn nothing_to_change(&self, piece: &Piece, now: &tree::Now, span: Span) -> Option<Diagnostic> {
        let at = piece.items.len();
        let (before, turned) = (piece.way_at(at), piece.turned_at(at));
        Some(if !is_begun(piece) {
            let message = "no row or round stands above, so nothing changes".to_owned();
            let help = format!("say it where the piece begins, as `piece {}, {}`", piece.name, words(now.way));
            wrong(message, span, "the first of them is worked so", &help)
        } else if self.active.iter().any(|active| !active) {
            let help = "begin a piece of its own for the other sizes";
            wrong("how a piece is worked is the same in every size".to_owned(), span, "for some sizes only", help)
        } else if now.way.one_sided() || before.one_sided() {
            let message = format!("a piece can't go over from {} to {}", bare(before), bare(now.way));
            let help = "begin a new piece on the edge, as `start top of …`";
            wrong(message, span, "rows of this sort are a piece of their own", help)
        } else if (before, turned) == (now.way, now.turned.is_some()) {
            let help = "leave the line out; a row with another lead says it as its first step: `row 5: lead ch 2, …`";
            let message = format!("{} is worked {} already", piece.name, words(now.way));
            wrong(message, span, "nothing changes here", help)
        } else {
            return None;
        })
    }

    /// Says where lines are to be said again that stand above the place where the present piece went over from rows to
    /// rounds, or from rounds to rows: they would be another fabric.
    pub(super) fn said_across(&mut self, rows: &[Vec<(u32, NamedRow)>], span: Span) -> bool {
        let Some(piece) = self.pieces.last() else { return false };
        let Some(now) = piece.goes_on_at(piece.items.len()) else { return false };
        let above = rows.iter().flatten().find(|(_, row)| row.source < now);
        let Some((number, row)) = above else { return false };
        let (there, here) = (piece.way_at(row.source), piece.last_way());
        let word = if there.rounds() { "round" } else { "row" };
        let message = format!("{word} {number} is worked {}, and this line {}", words(there), words(here));
        let at = piece.items.get(now).map_or(span, |item| item.span);
        let finding = Diagnostic::error(codes::WAY, message, span, "another fabric")
            .with_other(at, "goes over here")
            .with_help("write its steps out");
        self.findings.push(finding);
        true
    }
}

impl Lower {
    /// Whether between rows that are said again another hook is taken up or, in another piece, rows become rounds: to say the rows
    /// again is not to say that again, and a maker who goes by their numbers would do it.
    pub(super) fn set_between(&mut self, piece: usize, rows: &[Vec<(u32, NamedRow)>], numbers: Numbers) -> bool {
        let elsewhere = piece.saturating_add(1) < self.pieces.len();
        let set = |item: &Item| match item.kind {
            ItemKind::Using(_) => true,
            ItemKind::Now(_) => elsewhere,
            _ => false,
        };
        let Some(items) = self.pieces.get(piece).map(|piece| &piece.items) else { return false };
        let found = rows.iter().enumerate().find_map(|(size, rows)| {
            rows.iter().zip(rows.iter().skip(1)).find_map(|((above, one), (below, other))| {
                let between = items.get(one.item..other.item)?.iter();
                let mut here = between.filter(|item| item.sizes.get(size).copied().unwrap_or(true));
                let item = here.find(|item| set(item))?;
                Some((item.span, *above, *below))
            })
        });
        let Some((at, above, below)) = found else { return false };
        let word = numbers.word();
        let message = format!(
            "between {word}s {above} and {below} the work changes, and {} would leave that out",
            numbers.told()
        );
        let finding = Diagnostic::error(codes::WAY, message, numbers.span(), "not only rows")
            .with_other(at, "this is no part of a row")
            .with_help(format!(
                "say the {word}s above it and those below it again in lines of their own, with this line between them"
            ));
        self.findings.push(finding);
        true
    }
}

/// Whether a row or round stands in a piece.
fn is_begun(piece: &Piece) -> bool {
    piece.items.iter().any(|item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_)))
}

/// Says what of a line does not go with the way that it names.
fn cannot_go_on(now: &tree::Now, before: Way) -> Option<Diagnostic> {
    if let Some(turned) = now.turned.filter(|_| now.way != Way::JoinedRounds) {
        let help = "write `in joined rounds, turned`; rows turn by themselves, and a spiral can't be turned";
        return Some(wrong("only joined rounds are `turned`".to_owned(), turned, "nothing to turn here", help));
    }
    if let Some(without) = now.without_turning.filter(|_| before != Way::Rows) {
        let help = "leave it out; to turn first, end the last round with `turn`";
        return Some(wrong("rounds don't turn by themselves".to_owned(), without, "nothing would turn here", help));
    }
    let (Way::Spiral, Some((tree::Lead::Chain { .. }, lead))) = (now.way, &now.lead) else { return None };
    let help = "leave the lead out, or write `in joined rounds`";
    Some(wrong("no round of a spiral begins with a chain".to_owned(), *lead, "never worked", help))
}

fn wrong(message: String, span: Span, label: &str, help: &str) -> Diagnostic {
    Diagnostic::error(codes::WAY, message, span, label).with_help(help)
}

/// As it is written in a piece line.
pub(super) fn words(way: Way) -> &'static str {
    match way {
        Way::Rows => "in rows",
        Way::RowsFromOneSide => "in rows from one side",
        Way::TunisianRows => "in Tunisian rows",
        Way::JoinedRounds => "in joined rounds",
        Way::Spiral => "in a spiral",
    }
}

/// The same without `in`.
fn bare(way: Way) -> &'static str {
    let words = words(way);
    words.strip_prefix("in ").unwrap_or(words)
}
