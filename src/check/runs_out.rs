//! A step asks for more places than are left.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::ItemKind;
use crate::words;

pub(super) const CODE: Code = Code("runs-out");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    if group.first().is_some_and(|fault| matches!(fault.kind, FaultKind::ShortEdge { .. })) {
        return short_edge(context, group);
    }
    if group.first().is_some_and(|fault| matches!(fault.kind, FaultKind::NoEdge { .. })) {
        return no_edge(context, group);
    }
    if group.first().is_some_and(|fault| matches!(fault.kind, FaultKind::NotMade { .. })) {
        return not_made(context, group);
    }
    if group.first().is_some_and(|fault| is_no_such_edge(&fault.kind)) {
        return no_such_edge(context, group);
    }
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::RanOut { wanted, had, repeat } = fault.kind else { return Default::default() };
        let places = words::plural(context.noun(fault));
        let how = match repeat {
            Some((time, times)) => format!(" in the {} of {}", words::ordinal(time), words::count(times, "repeat")),
            None => format!(": {} more would be needed", wanted.saturating_sub(had)),
        };
        let message = format!("{} runs out of {places}{how}", context.label(fault));
        let label = match had {
            0 => format!("nothing is left here for {}", if wanted == 1 { "this" } else { "these" }),
            _ => format!("takes {wanted}, and {had} {} left", if had == 1 { "is" } else { "are" }),
        };
        (message, label)
    });
    let Some(first) = group.first() else { return finding };
    finding.with_help(format!("the line goes over {}; take a step away, or make more there", context.offered(first)))
}

/// An edge of a piece that is for other sizes only.
fn not_made(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::NotMade { piece } = fault.kind else { return Default::default() };
        let (name, on) = (context.name(fault.piece), context.name(piece));
        let size = context.pattern.sizes.get(fault.size).map(|size| format!(" in size {size}")).unwrap_or_default();
        let message = match context.item(fault).map(|item| &item.kind) {
            Some(ItemKind::SeamEdges(_)) => format!("the seam is sewn to {on}, which isn't made{size}"),
            _ => format!("{name} starts on {on}, which isn't made{size}"),
        };
        (message, "not there".to_owned())
    });
    finding.with_help(
        "make the piece in that size too; or take none of it there, as `first 0 / 8 of top of` it; or write a piece for those sizes with `only` before it",
    )
}

/// An edge that a piece does not have.
fn no_edge(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::NoEdge { piece, ends } = fault.kind else { return Default::default() };
        let (name, on) = (context.name(fault.piece), context.name(piece));
        let edge = if ends { "the row ends" } else { "the other side" };
        (format!("{name} starts on {edge} of {on}, which has none"), "not there".to_owned())
    });
    match group.first().map(|fault| &fault.kind) {
        Some(FaultKind::NoEdge { ends: true, .. }) => {
            finding.with_help("a piece in rounds has one edge, its last round: `start top of` it")
        }
        _ => finding.with_help("only a piece that begins with a chain or with foundation stitches has an other side, and none whose first round goes into one chain"),
    }
}

fn is_no_such_edge(kind: &FaultKind) -> bool {
    matches!(
        kind,
        FaultKind::NoMiddle { .. }
            | FaultKind::NoOpening { .. }
            | FaultKind::NoBridge { .. }
            | FaultKind::NoLoops { .. }
    )
}

/// An opening, a chain over it, free loops or a middle that isn't there.
fn no_such_edge(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let name = context.name(fault.piece);
        match &fault.kind {
            FaultKind::NoMiddle { wanted, had } => {
                let message = format!("{name} starts on the middle {wanted} of {had} places, which have no middle");
                (message, format!("{} would be left over", words::count(had.saturating_sub(*wanted), "place")))
            }
            FaultKind::NoOpening { piece, name: opening } => {
                let message =
                    format!("{name} starts on {opening} of {}, for which nothing is set aside", context.name(*piece));
                (message, "not there".to_owned())
            }
            FaultKind::NoBridge { piece, name: opening } => {
                let on = context.name(*piece);
                let message =
                    format!("{name} starts on the chain over {opening} of {on}, and there is no chain over it");
                (message, "no chain there".to_owned())
            }
            FaultKind::NoLoops { piece, number, front } => {
                let which = if *front { "front" } else { "back" };
                let on = context.name(*piece);
                let message = match fault.row {
                    Some(_) => {
                        let (line, loops) =
                            (context.label(fault), format!("{which} loops of {}", written(context, *piece, *number)));
                        format!("{line} goes through the {loops}, and none are free")
                    }
                    None => {
                        let row = written(context, *piece, *number);
                        format!("{name} starts on the {which} loops of {row} of {on}, and none are free")
                    }
                };
                (message, "worked into already, or not there".to_owned())
            }
            _ => Default::default(),
        }
    });
    if let Some(help) = group.first().and_then(|fault| other_loops_of_top(context, fault)) {
        return finding.with_help(help);
    }
    let help = match group.first().map(|fault| &fault.kind) {
        Some(FaultKind::NoMiddle { .. }) => "take one more or one fewer, so that as many lie on both sides",
        Some(FaultKind::NoOpening { .. }) => "set stitches aside there in every size, as `set aside next 5 as thumb`",
        Some(FaultKind::NoBridge { .. }) => {
            "work the chain right before or behind the stitches that are set aside, as `set aside 30 as left sleeve, ch 6`"
        }
        _ => "a round worked in `blo` leaves the front loops of the round below it free, one in `flo` the back loops",
    };
    finding.with_help(help)
}

/// `round 4`, `row 4`: a row of a piece by the number that is written for it.
fn written(context: Context<'_>, piece: usize, number: u32) -> String {
    let rows = context.fabric.pieces.get(piece).and_then(|of| of.sizes.first()).map(|size| size.rows.as_slice());
    let number_of = |of| crate::pattern::plan::Plan::of(of, 0).number_of(number);
    let at = context.pattern.pieces.get(piece).and_then(number_of);
    let row = rows.unwrap_or_default().iter().find(|row| Some(row.number) == at);
    row.map_or_else(|| format!("round {number}"), |row| context.label_of(piece, row, number))
}

/// What to do where the loops are those of a last row or round: what another piece has left of its top is that top once more.
fn other_loops_of_top(context: Context<'_>, fault: &Fault) -> Option<String> {
    let FaultKind::NoLoops { piece, number, front } = fault.kind else { return None };
    let of = context.pattern.pieces.get(piece).filter(|_| fault.row.is_none())?;
    let last = context.fabric.pieces.get(piece)?.sizes.get(fault.size)?.rows.last()?.number;
    let named = crate::pattern::plan::Plan::of(of, fault.size).number_of(number)?;
    let loops = if front { "flo" } else { "blo" };
    let name = context.name(piece);
    (named == last).then(|| {
        format!("it is the top of {name}: write `start again top of {name}`, and the first line in `{loops}` goes into those loops")
    })
}

/// A part of an edge that has fewer places.
fn short_edge(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::ShortEdge { wanted, had } = fault.kind else { return Default::default() };
        let name = context.piece(fault).map(|p| p.name.clone()).unwrap_or_default();
        let there = if had == 1 { "is" } else { "are" };
        match had {
            0 => (format!("{name} starts on {wanted} places of an edge that isn't there"), "not there".to_owned()),
            _ => (
                format!("{name} starts on {wanted} places of an edge that has {had}"),
                format!("only {had} {there} there"),
            ),
        }
    });
    let none = |fault: &&Fault| matches!(fault.kind, FaultKind::ShortEdge { had: 0, .. });
    if group.first().is_some_and(none) {
        return finding.with_help(
            "a piece in rounds has no row ends, and only one that begins with a chain or foundation stitches has an other side",
        );
    }
    finding.with_help("take fewer, or the whole edge")
}
