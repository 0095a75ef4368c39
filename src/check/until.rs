//! `again … until` never gets there.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::{Again, AgainExtent, ItemKind, LengthFrom};
use crate::units::{Fractions, Length};
use crate::words;

pub(super) const CODE: Code = Code("until");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let (lines, makes, jumps) = lines(context, fault);
        match fault.kind {
            FaultKind::UntilPassed { wanted, before, after } if before == after => {
                (format!("{lines}, worked again, never {makes} {wanted} stitches"), format!("always {after}"))
            }
            FaultKind::UntilPassed { wanted, before, after } if !passes(wanted, before, after) => {
                let message = format!("{lines}, worked again, never {makes} {wanted} stitches");
                (message, format!("{before}, then {after}, and farther away each time"))
            }
            FaultKind::UntilPassed { wanted, before, after } => {
                (format!("{lines}, worked again, {jumps} past {wanted} stitches"), format!("{before}, then {after}"))
            }
            FaultKind::UntilDone { wanted, number } => {
                let word = word(context, fault);
                (format!("{word} {wanted} is worked already"), format!("{} above", words::count(number, word)))
            }
            FaultKind::UntilInside { wanted, over, pass } => {
                let word = word(context, fault);
                let message = format!("{lines}, worked again until {word} {wanted}, stop part of the way through");
                (message, format!("ends after {over} of the {pass} {}", words::plural(word)))
            }
            FaultKind::UntilLonger { wanted, there } => {
                let (wanted, there) = (in_both(wanted), in_both(there));
                (
                    format!("the piece is longer than {wanted} before {lines} {} worked again", are(context, fault)),
                    format!("{there} so far"),
                )
            }
            _ => Default::default(),
        }
    });
    match group.first().map(|f| &f.kind) {
        Some(FaultKind::UntilPassed { wanted, before, after }) if passes(*wanted, *before, *after) => {
            finding.with_help(format!("write {before} or {after}, or change what is worked"))
        }
        Some(FaultKind::UntilInside { wanted, over, .. }) => inside(context, group, finding, *wanted, *over),
        Some(FaultKind::UntilDone { number, .. }) => finding.with_help(format!("write a number above {number}")),
        Some(FaultKind::UntilLonger { .. }) => {
            let from = group.first().and_then(|fault| context.item(fault)).and_then(|item| measured_from(&item.kind));
            let from = from.unwrap_or_else(|| "the beginning of the piece".to_owned());
            finding.with_help(format!("write a greater length; it is measured from {from}"))
        }
        _ => finding.with_help("write a number that they come to, or say how many times"),
    }
}

/// What to write where lines done again stop inside a pass: whole passes, and the rest in a line of its own.
fn inside(context: Context<'_>, group: Group<'_>, finding: Diagnostic, wanted: u32, over: u32) -> Diagnostic {
    let again = group.first().and_then(|fault| context.item(fault)).map(|item| &item.kind);
    let Some(ItemKind::Again(again)) = again else { return finding };
    if again.from == 0 {
        return finding.with_help("end with a whole pass, and write the rows that are left out as lines of their own");
    }
    let (short, whole) = (if again.round { "rnd" } else { "row" }, wanted.saturating_sub(over));
    let range = |from: u32, rows: u32| match rows {
        1 => format!("{short} {from}"),
        _ => format!("{short}s {from}-{}", from.saturating_add(rows).saturating_sub(1)),
    };
    let rest = format!("{}: as {}", range(whole.saturating_add(1), over), range(again.from, over));
    finding.with_help(format!(
        "end with a whole pass and give the rest a line, as `{rest}`; or number the line that follows: `{short} {}: …`",
        wanted.saturating_add(1)
    ))
}

/// Where a length is measured from, if that is said.
fn measured_from(item: &ItemKind) -> Option<String> {
    let ItemKind::Again(again) = item else { return None };
    let AgainExtent::UntilLength { from: Some(from), .. } = &again.extent else { return None };
    Some(match from {
        LengthFrom::Line(number) if again.round => format!("round {number}"),
        LengthFrom::Line(number) => format!("row {number}"),
        LengthFrom::Named(name) => name.clone(),
    })
}

fn in_both(millimetres: u32) -> String {
    Length::millimetres(f64::from(millimetres)).in_both(Fractions::Plain)
}

fn are(context: Context<'_>, fault: &Fault) -> &'static str {
    match context.item(fault).map(|i| &i.kind) {
        Some(ItemKind::Again(again)) if several(again) => "are",
        _ => "is",
    }
}

/// Whether the wanted number lies between two lines.
fn passes(wanted: u32, before: u32, after: u32) -> bool {
    (before < wanted) != (after < wanted)
}

/// "row 2" or "rows 2-3", with the verbs that go with it.
fn lines(context: Context<'_>, fault: &Fault) -> (String, &'static str, &'static str) {
    let word = word(context, fault);
    match context.item(fault).map(|i| &i.kind) {
        Some(ItemKind::Again(again)) if again.from == 0 && several(again) => {
            (format!("the {word}s above"), "make", "jump")
        }
        Some(ItemKind::Again(again)) if again.from == 0 => (format!("the {word} above"), "makes", "jumps"),
        Some(ItemKind::Again(again)) if several(again) => {
            (format!("{}s {}-{}", word, again.from, again.to), "make", "jump")
        }
        Some(ItemKind::Again(again)) => (format!("{word} {}", again.from), "makes", "jumps"),
        _ => ("this line".to_owned(), "makes", "jumps"),
    }
}

fn several(again: &Again) -> bool {
    again.rows.iter().any(|rows| rows.len() > 1)
}

fn word(context: Context<'_>, fault: &Fault) -> &'static str {
    match context.item(fault).map(|i| &i.kind) {
        Some(ItemKind::Again(again)) if !again.round => "row",
        _ => "round",
    }
}
