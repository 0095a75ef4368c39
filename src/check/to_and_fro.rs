//! A small piece within a line that can't be worked.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{FaultKind, Tab};
use crate::words::{count, ordinal};

pub(super) const CODE: Code = Code("to-and-fro");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let tab = group.first().and_then(|fault| if let FaultKind::Tab(tab) = fault.kind { Some(tab) } else { None });
    let tab = tab.unwrap_or(Tab::NoTurn);
    let finding = context.finding(CODE, group, |fault| {
        let line = context.label(fault);
        let FaultKind::Tab(tab) = fault.kind else { return (line, String::new()) };
        (message(tab, &line), marked(tab))
    });
    finding.with_help(help(tab))
}

fn message(tab: Tab, line: &str) -> String {
    match tab {
        Tab::NoTurn => format!("the small piece in {line} is never turned"),
        Tab::TurnedTwice => format!("the small piece in {line} turns with nothing worked"),
        Tab::EndsAway { rows } => {
            format!("the small piece in {line} ends where it began, after {}", count(rows, "row"))
        }
        Tab::Left { row, left } => {
            let row = ordinal(row);
            format!("the {row} row of the small piece in {line} leaves {} of the row before", count(left, "place"))
        }
        Tab::Within => format!("{line} has a small piece within a small piece"),
        Tab::OnePlace => format!("{line} turns a small piece within one place"),
        Tab::NoSuchStep => format!("this can't be done in the small piece in {line}"),
        Tab::TurnLast => format!("a repeat in the small piece in {line} ends with a turn"),
        Tab::TurnRepeated => format!("the small piece in {line} is turned in a repeat that does not say how often"),
        Tab::EndsRepeated => {
            format!("the row ends of the small piece in {line} come again in a repeat that does not say how often")
        }
    }
}

fn marked(tab: Tab) -> String {
    match tab {
        Tab::NoTurn => "worked in one direction only".to_owned(),
        Tab::TurnedTwice => "no stitch since it began or was turned".to_owned(),
        Tab::EndsAway { .. } => "the hook is on the far side of it".to_owned(),
        Tab::Left { .. } => "ends before all of them are used".to_owned(),
        Tab::Within => "a second one".to_owned(),
        Tab::OnePlace => "in one place".to_owned(),
        Tab::NoSuchStep => "ends a line, begins one, or goes elsewhere".to_owned(),
        Tab::TurnLast | Tab::TurnRepeated => "turned here".to_owned(),
        Tab::EndsRepeated => "places at its row ends".to_owned(),
    }
}

fn help(tab: Tab) -> &'static str {
    match tab {
        Tab::NoTurn => "say where it turns, as in `(sc 6, turn, sc 6, turn, sc 6) to and fro`",
        Tab::TurnedTwice => "leave out a `turn`, or say what is worked before it",
        Tab::EndsAway { .. } => {
            "turn once more and work back: the line goes on from the other side, after 3 rows, or 5, or 7"
        }
        Tab::Left { .. } => "work over all of them, to decrease with `sc2tog` or `skip 1`",
        Tab::Within => "work it as a piece of its own and sew it on",
        Tab::OnePlace => "let its first row be several in a place: `(3 sc in next, turn, sc 3, turn, sc 3) to and fro`",
        Tab::NoSuchStep => "put this before the small piece or after it",
        Tab::TurnLast => "begin the repeat with `turn`: `(sc 6, [turn, sc to end] 4 times) to and fro`",
        Tab::TurnRepeated | Tab::EndsRepeated => "say how often: `4 times`",
    }
}
