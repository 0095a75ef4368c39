//! Copies that lie side by side and can't be joined there.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("layout");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let name = context.name(fault.piece);
        match &fault.kind {
            FaultKind::LayoutCorners { corners, chains } => {
                let spaces = words::count(*corners, &format!("ch-{chains} sp"));
                (
                    format!("the last round of {name} has {spaces}, and a layout needs four corners, or six"),
                    "laid out here".to_owned(),
                )
            }
            FaultKind::LayoutEmpty { across, down } => {
                (format!("a layout of {across} x {down} makes no {name} at all"), "none are laid out".to_owned())
            }
            FaultKind::LayoutSides { sides } => {
                let sides: Vec<String> = sides.iter().map(u32::to_string).collect();
                let message = format!("the sides of {name} have {} places to join in", words::list(&sides));
                (message, "opposite sides can't be joined".to_owned())
            }
            _ => Default::default(),
        }
    });
    match group.first().map(|fault| &fault.kind) {
        Some(FaultKind::LayoutCorners { .. }) => finding
            .with_help("name the kind of space that lies at the corners, and only there, as `corners in ch-3 sp`"),
        Some(FaultKind::LayoutEmpty { .. }) => finding
            .with_help("say how many lie side by side and how many one below the other, as `in a layout of 5 x 4`"),
        _ => finding
            .with_help("make the sides that lie beside each other the same, or name another space with `joined in`"),
    }
}
