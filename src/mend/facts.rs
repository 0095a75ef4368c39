//! What was made, beside a fault for which no mend is sure.

use crate::Compiled;
use crate::diagnostic::Diagnostic;
use crate::fabric::{Fault, FaultKind, Row};
use crate::pattern::model::Kind;
use crate::words;

/// Kinds that are named at most.
const MOST_KINDS: usize = 5;

/// The finding with what the designer has to know to mend it herself.
pub(super) fn with_facts(compiled: &Compiled, finding: Diagnostic) -> Diagnostic {
    let here = |fault: &&Fault| fault.span == finding.primary.span;
    let Some(fault) = compiled.fabric.faults.iter().find(here) else { return finding };
    let sizes = compiled.fabric.pieces.get(fault.piece).map(|piece| &piece.sizes);
    let Some(rows) = sizes.and_then(|sizes| sizes.get(fault.size)).map(|size| size.rows.as_slice()) else {
        return finding;
    };
    let at = |number: Option<usize>| rows.get(number?);
    match &fault.kind {
        // The message has what each yarn makes.
        FaultKind::Count { kind: Some(Kind::Yarn(_)), .. } => finding,
        FaultKind::Count { kind: Some(_), .. } => match at(fault.row).and_then(|row| made(compiled, row)) {
            Some(made) => finding.with_note(format!("it makes {made}")),
            None => finding,
        },
        FaultKind::NoPlace { there, .. } if there.is_empty() => {
            let below = fault.row.and_then(|row| row.checked_sub(1));
            match at(below).and_then(|row| made(compiled, row)) {
                Some(made) => finding.with_note(format!("below it there are {made}")),
                None => finding,
            }
        }
        _ => finding,
    }
}

/// "8 sc and 8 ch-5 sp".
fn made(compiled: &Compiled, row: &Row) -> Option<String> {
    let pattern = &compiled.pattern;
    let made = row.ledger.made.iter().filter_map(|made| match made.kind {
        Kind::Space(length) => Some(format!("{} ch-{length} sp", made.count)),
        Kind::Stitch(id) => Some(format!("{} {}", made.count, pattern.stitches.get(id)?.names(pattern.terms).short)),
        Kind::AnyStitch | Kind::Chain | Kind::AnySpace | Kind::Yarn(_) => None,
    });
    let made: Vec<String> = made.take(MOST_KINDS).collect();
    let shown: Vec<&str> = made.iter().map(String::as_str).collect();
    (!shown.is_empty()).then(|| words::list(&shown))
}
