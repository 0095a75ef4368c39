//! A piece that begins as another one does.

use super::super::model::{AgainExtent, ItemKind, Line, Piece, Sized};
use super::super::plan::{Named, Plan};
use super::{Lower, codes};
use crate::diagnostic::Diagnostic;
use crate::syntax::tree::{Amount, Text, Way};

impl Lower {
    /// Gives the present piece the settings, the start and the lines of another up to a row or round, or all of its rows;
    /// its own lines go on from there.
    pub(super) fn like(&mut self, other: &Text, to: Option<&Amount>, way: Option<Way>) {
        let Some(index) = self.earlier(other) else { return };
        let to = to.map(|to| self.sized(to));
        let Some(mut piece) = self.pieces.get(index).cloned() else { return };
        let cut = to.as_ref().map_or(Ok(()), |to| self.cut(index, &mut piece, to));
        if let Err(NotCut { message, help }) = cut {
            let span = to.map_or(other.span, |to| to.span);
            let finding = Diagnostic::error(codes::NUMBERING, message, span, "up to where?");
            self.findings.push(finding.with_help(help));
            self.rows_not_known();
            return;
        }
        drop_endings(&mut piece);
        if let Some(present) = self.pieces.last_mut() {
            piece.name.clone_from(&present.name);
            piece.copies = present.copies;
            piece.span = present.span;
            piece.mirror_of = None;
            piece.borrowed = piece.items.len();
            piece.way = way.unwrap_or(piece.way);
            *present = piece;
        }
        if let (Some(piece), Some(plans)) = (self.pieces.last(), self.plans.last_mut()) {
            *plans = (0..plans.len()).map(|size| Plan::so_far(piece, size)).collect();
        }
    }

    /// Leaves the lines of a piece out that stand after a row or round, and shortens the one that it stands in.
    fn cut(&self, index: usize, piece: &mut Piece, to: &Sized) -> Result<(), NotCut> {
        let plans = self.plans.get(index).map(Vec::as_slice).unwrap_or_default();
        let mut kept = vec![vec![0_u32; plans.len()]; piece.items.len()];
        let mut whole = kept.clone();
        for (size, plan) in plans.iter().enumerate() {
            let last = to.get(size);
            let named = match plan.named(last) {
                Named::Row(named) => named,
                missing => return Err(self.no_such_row(piece, last, size, missing)),
            };
            for row in plan.rows() {
                let one_more = |rows: &mut Vec<Vec<u32>>| {
                    let slot = rows.get_mut(row.item).and_then(|sizes| sizes.get_mut(size));
                    slot.map_or(0, |slot| std::mem::replace(slot, slot.saturating_add(1)))
                };
                let time = one_more(&mut whole);
                if (row.item, time) <= (named.item, named.time) {
                    one_more(&mut kept);
                }
            }
        }
        let last = kept.iter().rposition(|sizes| sizes.iter().any(|rows| *rows > 0)).map_or(0, |last| last + 1);
        piece.items.truncate(last);
        let shortened = |(_, (kept, whole)): &(_, (&Vec<u32>, &Vec<u32>))| kept != whole;
        for (item, (kept, _)) in piece.items.iter_mut().zip(kept.iter().zip(&whole)).filter(shortened) {
            for (here, rows) in item.sizes.iter_mut().zip(kept) {
                *here &= *rows > 0;
            }
            match &mut item.kind {
                ItemKind::Again(again) => {
                    again.extent = AgainExtent::UntilLine(to.clone());
                    // What is stated is the last row's, which may not be worked here.
                    again.stated = None;
                }
                ItemKind::Work(line) => shorten(line, kept).ok_or_else(|| NotCut {
                    message: format!("it stands at another place in rows of {} in each size", piece.name),
                    help: name_another(&piece.name),
                })?,
                _ => {}
            }
        }
        Ok(())
    }

    /// What is wrong with a number that means no row of a piece, or one that is found by working only.
    fn no_such_row(&self, piece: &Piece, number: u32, size: usize, missing: Named) -> NotCut {
        let name = &piece.name;
        let size = self.sizes.get(size).filter(|size| !size.text.is_empty());
        let size = size.map_or(String::new(), |size| format!(" in {}", size.text));
        let word = if piece.way.rounds() { "round" } else { "row" };
        match (missing, found_by_working(piece)) {
            (Named::Unknown, Some(extent)) => NotCut {
                message: format!(
                    "which {word} of {name} is {word} {number}{size} is known when it is worked, and not before"
                ),
                help: format!(
                    "{name} goes on until {}: write how many {word}s that is, `again until {word} N`, as `ringtrue tally` \
                     counts them; or write numbers before the {word}s behind it, as `{word} {number}: ...`",
                    match extent {
                        AgainExtent::UntilStitches(_) => "it has so many stitches",
                        _ => "it is so long",
                    }
                ),
            },
            _ => NotCut { message: format!("{name} has no {word} {number}{size}"), help: name_another(name) },
        }
    }
}

/// Why a piece can't be gone along up to a row, and what to do.
struct NotCut {
    message: String,
    help: String,
}

fn name_another(piece: &str) -> String {
    format!("name a row or round that {piece} has in each size")
}

/// The line that does others again until the work is so long, so that nobody knows the numbers of the rows behind it.
fn found_by_working(piece: &Piece) -> Option<&AgainExtent> {
    piece.items.iter().find_map(|item| match &item.kind {
        ItemKind::Again(again) => match again.extent {
            AgainExtent::UntilLength { .. } | AgainExtent::UntilStitches(_) => Some(&again.extent),
            AgainExtent::Times(_) | AgainExtent::UntilLine(_) => None,
        },
        _ => None,
    })
}

/// A line for several rows that is left after the first of them; nothing where these aren't as many in each size.
fn shorten(line: &mut Line, kept: &[u32]) -> Option<()> {
    let mut rows = kept.iter().copied().filter(|rows| *rows > 0);
    let first = rows.next().unwrap_or(line.times);
    line.times = first;
    rows.all(|rows| rows == first).then_some(())
}

/// What ends the other piece does not end this one.
fn drop_endings(piece: &mut Piece) {
    let worked = piece.items.iter().rposition(|item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_)));
    piece.items.truncate(worked.map_or(0, |last| last + 1));
}

#[cfg(test)]
mod tests {
    use crate::compiled::compile;

    const BACK: &str = "row 1: sc in 2nd ch from hook, sc to end\nrows 2-8: sc to end\nrow 9: sc2tog, sc to end\n\
                        again row 9, 2 / 3 times\n";

    /// How many stitches each row of the last piece makes, in each size.
    fn made(text: &str) -> Vec<Vec<u32>> {
        let compiled = compile(text);
        assert!(!compiled.has_errors(), "{text}\n{:#?}", compiled.findings);
        let sizes = &compiled.fabric.pieces.last().unwrap().sizes;
        sizes.iter().map(|size| size.rows.iter().map(|row| row.ledger.stitches).collect()).collect()
    }

    fn pattern(front: &str) -> String {
        format!(
            "pattern Vest\nsizes small / large\nterms US\nyarn A\npiece Back, in rows\nlead ch 1\nstart ch 21 / 25\n{BACK}\
             fasten off\n\n{front}"
        )
    }

    #[test]
    fn it_is_worked_as_if_its_lines_were_written_out() {
        let settings = "piece Front, in rows\nlead ch 1\nstart ch 21 / 25\n";
        let short = "row 1: sc in 2nd ch from hook, sc to end\nrows 2-5: sc to end\nrow 6: sc 3, leave rest\n";
        let cut = "row 1: sc in 2nd ch from hook, sc to end\nrows 2-8: sc to end\nrow 9: sc2tog, sc to end\n\
                   again row 9 until row 10 / 11\nrow: hdc to end\n";
        let cases = [
            ("piece Front, in rows, as Back\nrow: hdc to end\n", format!("{settings}{BACK}row: hdc to end\n")),
            ("piece Front, in rows, as Back to row 5\nrow 6: sc 3, leave rest\n", format!("{settings}{short}")),
            ("piece Front, in rows, as Back to row 10 / 11\nrow: hdc to end\n", format!("{settings}{cut}")),
        ];
        for (like, written) in cases {
            assert_eq!(made(&pattern(like)), made(&pattern(&written)), "{like}");
        }
    }
}
