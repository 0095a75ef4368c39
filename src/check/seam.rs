//! The two sides of a seam have different numbers.

use super::context::{Context, Group};
use super::taken;
use crate::diagnostic::{Code, Diagnostic, Edit, Fix, Safety, Span};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::{ItemKind, SeamSide};
use crate::words;

pub(super) const CODE: Code = Code("seam");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    match group.first().map(|fault| &fault.kind) {
        Some(FaultKind::Layers { .. }) => layers(context, group),
        Some(FaultKind::Unequal { .. }) => unequal(context, group),
        Some(FaultKind::SewnShut) => goes_on(context, group),
        Some(FaultKind::SewnToItself { .. } | FaultKind::RowToItself { .. }) => to_itself(context, group),
        _ => of_one_piece(context, group),
    }
}

/// Two sides of one piece.
fn of_one_piece(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        if let FaultKind::SeamShort { wanted, there } = fault.kind {
            let name = context.name(fault.piece);
            let message = format!("the seam in {name} joins {wanted} stitches of a row that has {there}");
            return (message, "the two sides overlap".to_owned());
        }
        let FaultKind::Seam { one, other } = fault.kind else { return Default::default() };
        let name = context.name(fault.piece);
        let sides = match context.item(fault).map(|i| &i.kind) {
            Some(ItemKind::Seam(one, other)) => Some((one, other)),
            _ => None,
        };
        let missing = |side: Option<&SeamSide>| match side {
            Some(SeamSide::Row(number)) => format!("row {number} isn't worked"),
            Some(SeamSide::First(amount) | SeamSide::Last(amount)) => {
                format!("there are no {} in the last row", amount.get(fault.size))
            }
            Some(SeamSide::Start) | None => "not there".to_owned(),
        };
        match (one, other) {
            (Some(one), Some(other)) => {
                let message = format!("the seam in {name} joins {} to {other}", words::count(one, "stitch"));
                (message, "the sides are unequal".to_owned())
            }
            (None, _) => (format!("the seam in {name} names a side that isn't there"), missing(sides.map(|s| s.0))),
            (_, None) => (format!("the seam in {name} names a side that isn't there"), missing(sides.map(|s| s.1))),
        }
    });
    let missing =
        |fault: &&Fault| matches!(fault.kind, FaultKind::Seam { one: None, .. } | FaultKind::Seam { other: None, .. });
    if let Some(last) = group.first().copied().filter(missing).and_then(|fault| context.last_line(fault)) {
        return finding.with_help(format!("name rows that are worked; the last one is {last}"));
    }
    if let Some(fix) = halves(context, group) {
        return finding
            .with_help("each stitch is joined once: half of the row to the other half at most")
            .with_fix(fix);
    }
    finding.with_help("make both sides the same, or seam a part only, as `seam first 5 to last 5`")
}

/// A line that is worked on stitches which are sewn to one another.
fn goes_on(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let (label, below) = (context.label(fault), context.below(fault));
        (format!("{label} is worked on {below}, which is sewn shut"), "goes on after the seam".to_owned())
    });
    finding.with_help("put the seam behind all that is worked on there")
}

/// Places that are named on both sides.
fn to_itself(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| match fault.kind {
        FaultKind::RowToItself { row } => {
            let message = format!("the seam in {} joins row {row} to itself", context.name(fault.piece));
            (message, "the same row twice".to_owned())
        }
        FaultKind::SewnToItself { piece, edge, places } => {
            let of = context.name(piece);
            let places = taken::places_named(context, fault, (piece, edge), places);
            (format!("both sides of this seam are the same {places} of {of}"), "sewn to itself".to_owned())
        }
        _ => Default::default(),
    });
    finding.with_help(
        "a stitch is sewn to another one: name two edges, as `left edge` and `right edge`, or two parts of one, as `first 5 of` and `last 5 of` it",
    )
}

/// Two edges by their names.
fn unequal(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::Unequal { one, other, easing } = fault.kind else { return Default::default() };
        let Some(ItemKind::SeamEdges(seam)) = context.item(fault).map(|item| &item.kind) else {
            return Default::default();
        };
        let (first, second) = (context.edge_name(&seam.one), context.edge_name(&seam.other));
        let message = format!("{} of {first} are sewn to {other} of {second}", words::count(one, "place"));
        let over = one.abs_diff(other);
        let label = match easing {
            0 => format!("{over} left over"),
            _ => format!("{over} left over, not {easing}"),
        };
        (message, label)
    });
    let over = |fault: &Fault| match fault.kind {
        FaultKind::Unequal { one, other, .. } => Some(one.abs_diff(other)),
        _ => None,
    };
    let finding = finding
        .with_help("make both edges the same, or say how many are eased in, as `easing 2` at the end of the line");
    let mut all = group.iter().map(|fault| over(fault));
    let first = all.next().flatten().filter(|over| *over > 0 && all.all(|other| other == Some(*over)));
    let item = group.first().and_then(|fault| context.item(fault));
    match (first, item.map(|item| &item.kind)) {
        (Some(over), Some(ItemKind::SeamEdges(seam))) if seam.easing.is_none() => {
            let end = item.map_or(0, |item| item.span.end);
            finding.with_fix(Fix::change(
                format!("add `, easing {over}`"),
                Span::new(end, end),
                format!(", easing {over}"),
            ))
        }
        (Some(over), Some(ItemKind::SeamEdges(seam))) => {
            let span = seam.easing.as_ref().map_or(Span::default(), |easing| easing.span);
            finding.with_fix(Fix::change(format!("ease in {over}"), span, over.to_string()))
        }
        _ => finding,
    }
}

/// Two edges that are worked through at once.
fn layers(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::Layers { one, other } = fault.kind else { return Default::default() };
        let name = if fault.row.is_some() { context.label(fault) } else { context.name(fault.piece) };
        let message = format!("{name} is worked through {} in front and {other} behind", words::count(one, "place"));
        (message, "the two edges are unequal".to_owned())
    });
    finding.with_help(
        "each stitch goes through one place of both: make the edges the same, or take a part of the longer one",
    )
}

/// Half of the row to its other half, where more of it is said.
fn halves(context: Context<'_>, group: Group<'_>) -> Option<Fix> {
    let first = group.first()?;
    let ItemKind::Seam(SeamSide::First(one), SeamSide::Last(other)) = &context.item(first)?.kind else { return None };
    let half = |fault: &Fault| match fault.kind {
        FaultKind::SeamShort { there, .. } => Some((fault.size, there / 2)),
        _ => None,
    };
    let changes: Vec<(usize, u32)> = group.iter().filter_map(|fault| half(fault)).collect();
    let (one_half, other_half) = (context.rewritten(one, &changes), context.rewritten(other, &changes));
    let title = format!("`seam first {one_half} to last {other_half}`");
    let edits = vec![Edit { span: one.span, text: one_half }, Edit { span: other.span, text: other_half }];
    (!changes.is_empty()).then_some(Fix { title, edits, safety: Safety::ChangesFabric })
}
