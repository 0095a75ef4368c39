//! A piece is sewn over a number that it does not have, or where there is no room for it.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::ItemKind;
use crate::words;

pub(super) const CODE: Code = Code("sew");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let (name, to) = sewn(context, fault);
        match fault.kind {
            FaultKind::Sew { over, there } => {
                let message = format!("{name} ends with {}, and is sewn over {over}", words::count(there, "stitch"));
                (message, "sewn here".to_owned())
            }
            FaultKind::SewnAlone { .. } => {
                (format!("{name} is made once, and is sewn to another {to}"), "there is no second one".to_owned())
            }
            FaultKind::SewnAgain { worked_on: true, .. } => {
                let message =
                    format!("{name} is sewn to {to}, and another piece goes on from the stitches that it ends with");
                (message, "is joined there already".to_owned())
            }
            FaultKind::SewnAgain { .. } => {
                (format!("{name} is sewn to {to}, and is sewn on already"), "sewn a second time".to_owned())
            }
            FaultKind::SewnBeyond { over, around } => {
                let there = words::count(around, "stitch");
                let message = format!("{name} is sewn to {to} over {over}, and {to} has no more than {there} anywhere");
                (message, "no room for so many".to_owned())
            }
            _ => Default::default(),
        }
    });
    finding.with_help(match group.first().map(|fault| &fault.kind) {
        Some(FaultKind::SewnAlone { .. }) => {
            "make two of it, with `make 2` on its piece line; to close a piece by itself write `seam` and two of its edges"
        }
        Some(FaultKind::SewnAgain { .. }) => {
            "each copy is joined by its last stitches once: leave one of the two out, or say in words what else is sewn"
        }
        Some(FaultKind::SewnBeyond { .. }) => "name the piece that it goes on, or sew it over fewer",
        _ => "sew over as many as it ends with, over half of them when it is folded flat, or over fewer",
    })
}

/// The names of what is sewn, and of what it is sewn to.
fn sewn(context: Context<'_>, fault: &Fault) -> (String, String) {
    match context.item(fault).map(|item| &item.kind) {
        Some(ItemKind::Sew { piece, to, .. }) => (context.name(*piece), context.name(*to)),
        _ => ("the piece".to_owned(), "the other one".to_owned()),
    }
}
