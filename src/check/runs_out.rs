//! A step asks for more places than are left.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Fault, FaultKind};
use crate::words;

pub(super) const CODE: Code = Code("runs-out");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    if group.first().is_some_and(|fault| matches!(fault.kind, FaultKind::ShortEdge { .. })) {
        return short_edge(context, group);
    }
    if group.first().is_some_and(|fault| matches!(fault.kind, FaultKind::NoEdge { .. })) {
        return no_edge(context, group);
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
        _ => finding.with_help("only a piece that begins with a chain or with foundation stitches has an other side"),
    }
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
