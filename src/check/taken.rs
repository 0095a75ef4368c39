//! A place that is used up already.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::fabric::{EdgeName, Fault, FaultKind};
use crate::pattern::model::{Item, ItemKind, Kind, Side};
use crate::words;

pub(super) const CODE: Code = Code("taken");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    match group.first().map(|fault| &fault.kind) {
        Some(FaultKind::EdgeTaken { .. }) => edge(context, group),
        Some(FaultKind::JoinTaken { .. }) => join(context, group),
        Some(FaultKind::MarkTaken(_)) => marked(context, group),
        Some(FaultKind::WaitingTaken) => waiting(context, group),
        Some(FaultKind::FirstTaken { .. }) => first(context, group),
        _ => last(context, group),
    }
}

/// `in last` where the last place is behind the hook.
fn last(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let skipped = |fault: &Fault| matches!(fault.kind, FaultKind::LastTaken { skipped: true });
    let finding = context.finding(CODE, group, |fault| {
        let (label, below) = (context.label(fault), context.below(fault));
        if skipped(fault) {
            return (
                format!("{label} works into the last place of {below}, which it has skipped"),
                "skipped just before".to_owned(),
            );
        }
        (
            format!("{label} works into the last place of {below}, which is used up already"),
            "nothing is left here".to_owned(),
        )
    });
    if group.first().is_some_and(|fault| skipped(fault)) {
        return finding.with_help("skip one place less");
    }
    finding.with_help("stop one place earlier, or write `in same` for one more stitch in the place before")
}

/// `in p` where the marked stitch is behind the hook.
fn marked(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::MarkTaken(name) = &fault.kind else { return Default::default() };
        let message = format!(
            "{} goes back to the stitch of {} that is marked `{name}`, which is used up already",
            context.label(fault),
            context.below(fault)
        );
        (message, "it lies behind the hook".to_owned())
    });
    finding.with_help("stop before the marked stitch, as with `sc to` and its name; or write `in same` for one more in the place before")
}

/// `in first` where the first place is behind the hook.
fn first(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let (label, below) = (context.label(fault), context.below(fault));
        let was =
            if matches!(fault.kind, FaultKind::FirstTaken { skipped: true }) { "was skipped" } else { "is used up" };
        let message = format!("{label} goes back to the first place of {below}, which {was} already");
        (message, "it lies behind the hook".to_owned())
    });
    finding.with_help(
        "write `in next` for the next place, `in same` for one more in the place before, or `in skipped` for the one that was \
         skipped; `in first` goes back only when a round has come to its end",
    )
}

/// A long stitch over the chain of an opening, into what was set aside.
fn waiting(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let message =
            format!("{} works into stitches that are set aside, and closes the opening", context.label(fault));
        (message, "goes past the chain into what waits below it".to_owned())
    });
    finding.with_help("leave `2 rows below` out there, so that the stitches go into the chain; or set nothing aside")
}

/// A join for which the other piece has no place any more.
fn join(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::JoinTaken { piece, kind, places, nth } = fault.kind else { return Default::default() };
        let (label, to) = (context.label(fault), context.name(piece));
        if nth > 0 {
            let one = format!("{} {}", words::ordinal(nth), one_of(context, kind));
            let message = format!("{label} is joined to the {one} of {to}, which is joined already");
            return (message, "used up".to_owned());
        }
        let places = context.so_many(places, Some(kind));
        let are = if places.starts_with("1 ") { "is" } else { "are" };
        (
            format!("{label} is joined to {to} once more than {to} has places for it"),
            format!("there {are} {places} in all, and each is joined already"),
        )
    });
    match group.first().map(|fault| &fault.kind) {
        Some(FaultKind::JoinTaken { piece, kind, places, nth: 1.. }) if *places > 1 => {
            let (places, to) = (context.so_many(*places, Some(*kind)), context.name(*piece));
            let rounds = context.pattern.pieces.get(*piece).is_some_and(|piece| piece.way.rounds());
            let line = if rounds { "round" } else { "row" };
            finding.with_help(format!(
                "name another one of the {places} of {to}; they are counted from the beginning of its last {line}"
            ))
        }
        _ => finding.with_help("join fewer times, or to another piece"),
    }
}

/// A piece that is made once, joined to itself.
pub(super) fn joins_itself(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let (label, name) = (context.label(fault), context.name(fault.piece));
        (format!("{label} is joined to {name}, and {name} is made once"), "joined to itself".to_owned())
    });
    finding.with_help("say how many are made, as `make 6` on the `piece` line; or name another piece")
}

/// One place of a kind, in words.
fn one_of(context: Context<'_>, kind: Kind) -> String {
    if kind == Kind::AnyStitch { "stitch".to_owned() } else { context.kind(kind) }
}

/// An edge, or a part of it, that another piece stands on already, or another copy of the same piece, or that is sewn.
fn edge(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| used_up(context, fault));
    let Some(first) = group.first() else { return finding };
    let FaultKind::EdgeTaken { piece, by, .. } = first.kind else { return finding };
    let own = by == first.piece;
    if is_sewn(context.item(first)) {
        return finding.with_help("name another edge, or a part of it, as `first 5 of` it");
    }
    if let Some(other) = context.piece(first).and_then(|piece| piece.mirror_of) {
        let other = context.name(other);
        return finding.with_help(format!(
            "let {other} start on a first part of the edge, as `first 5 of` it; its mirror image then starts on the last part"
        ));
    }
    let copies = context.piece(first).map_or(1, |piece| piece.copies);
    if copies > 1 && on_a_part(context, first) && own {
        return finding
            .with_help("write a piece for each of them, the other one on another part of the edge, as `last 5 of` it");
    }
    if !own && sews(context, by, piece) {
        return finding.with_help(
            "take an edge that is still free, or seam less of this one; to work over the seam, write `start again` and the edge",
        );
    }
    if own && copies > 1 {
        // Each copy has its own place; no two are worked into the same stitches.
        let on = context.name(piece);
        return finding.with_help(format!(
            "make as many of {on} as there are copies, with `make` on its piece line, or write each copy as a piece of its own, on \
             an edge that is free"
        ));
    }
    let after = Span::new(first.span.start + START.len(), first.span.start + START.len());
    finding
        .with_help(if own {
            "take another edge, or make the other piece as often, with `make 2` on its piece line; to work into its stitches \
             once more, write `start again` and the edge"
        } else {
            "take another part of the edge; to work into its stitches once more, write `start again` and the edge"
        })
        .with_fix(Fix::change("write `start again`, so that they are worked into once more", after, " again"))
}

/// Which edge is used up, and by what.
fn used_up(context: Context<'_>, fault: &Fault) -> (String, String) {
    let FaultKind::EdgeTaken { piece, edge, by } = fault.kind else { return Default::default() };
    let (name, on) = (context.name(fault.piece), context.name(piece));
    let edge = places(context, fault, (piece, edge));
    let copies = context.piece(fault).map_or(1, |piece| piece.copies);
    let seam = is_sewn(context.item(fault));
    let message = match (by == fault.piece, copies) {
        (false, _) if seam => format!("a seam of {name} joins {edge} of {on} that {} has used", context.name(by)),
        (true, _) if seam => format!("seams of {name} join the same {edge} of {on} twice"),
        (false, _) if sews(context, by, piece) => format!("{name} starts on {edge} of {on} that are sewn already"),
        (false, _) => format!("{name} starts on {edge} of {on} that {} has used", context.name(by)),
        (true, 2..) if on_a_part(context, fault) => {
            format!("the {copies} copies of {name} all start on the same {edge} of {on}")
        }
        (true, 1) => format!("{name} starts on the same {edge} of {on} twice"),
        (true, _) => format!("the {copies} copies of {name} start on more {edge} of {on} than it has"),
    };
    (message, "used up".to_owned())
}

/// Whether a line sews edges together, or draws one in.
fn is_sewn(item: Option<&Item>) -> bool {
    matches!(item.map(|item| &item.kind), Some(ItemKind::SeamEdges(_) | ItemKind::Seam(..) | ItemKind::Gather(_)))
}

/// Whether a piece, by its index, sews the edges of another one, or of itself, and does not start on them.
fn sews(context: Context<'_>, by: usize, piece: usize) -> bool {
    let Some(of) = context.pattern.pieces.get(by) else { return false };
    let sewn = |item: &Item| match &item.kind {
        ItemKind::SeamEdges(seam) => seam.one.lies_on(piece) || seam.other.lies_on(piece),
        ItemKind::Seam(..) | ItemKind::Gather(_) => by == piece,
        _ => false,
    };
    !of.start.lies_on(piece) && of.items.iter().any(sewn)
}

/// Whether a piece starts on the first, the last or the middle places of an edge.
fn on_a_part(context: Context<'_>, fault: &Fault) -> bool {
    context.piece(fault).is_some_and(|piece| piece.start.has_part())
}

/// The word that such a line begins with.
const START: &str = "start";

/// `5 stitches of the top`: so many places of an edge.
pub(super) fn places_named(context: Context<'_>, fault: &Fault, edge: (usize, EdgeName), count: u32) -> String {
    let places = places(context, fault, edge);
    let (noun, rest) = places.split_once(' ').unwrap_or((&places, ""));
    let one = match noun {
        "stitches" => "stitch",
        noun => noun.strip_suffix('s').unwrap_or(noun),
    };
    match (count, rest) {
        (1, rest) => format!("{one} {rest}").trim().to_owned(),
        (count, rest) => format!("{count} {noun} {rest}").trim().to_owned(),
    }
}

fn places(context: Context<'_>, fault: &Fault, (piece, edge): (usize, EdgeName)) -> String {
    let said = match edge {
        EdgeName::Top => "stitches of the top",
        EdgeName::RowEnds(None) => "row ends",
        EdgeName::RowEnds(Some(Side::Left)) => "row ends of the left edge",
        EdgeName::RowEnds(Some(Side::Right)) => "row ends of the right edge",
        EdgeName::Outside => "places outside",
        EdgeName::Opening(at) => {
            let of = context.fabric.pieces.get(piece).and_then(|piece| piece.sizes.get(fault.size));
            let opening = of.and_then(|size| size.openings.get(at));
            return opening.map_or_else(String::new, |opening| format!("places round {}", opening.name));
        }
        EdgeName::Loops(_, true) => "front loops",
        EdgeName::Loops(_, false) => "back loops",
        EdgeName::OtherSide => "places of the other side",
    };
    said.to_owned()
}
