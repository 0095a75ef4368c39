//! Something is placed where the work has no such row or stitch.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Fault, FaultKind, Misplaced};
use crate::pattern::model::{ItemKind, Placing, Surface};
use crate::words;

pub(super) const CODE: Code = Code("place");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::Misplaced(misplaced) = fault.kind else { return Default::default() };
        let placing = placing(context, fault);
        let surface = surface(context, fault);
        let round = placing.map(|placing| placing.round).or(surface.map(|surface| surface.round));
        let line = if round == Some(true) { "round" } else { "row" };
        let what = match surface {
            Some(_) => SURFACE,
            None => placing.map_or("what is placed here", |placing| placing.what.as_str()),
        };
        (said(context, misplaced, what, line), "placed here".to_owned())
    });
    match group.first().map(|fault| &fault.kind) {
        Some(FaultKind::Misplaced(misplaced)) => finding.with_help(help(*misplaced)),
        _ => finding,
    }
}

/// A line of surface stitches in a message.
const SURFACE: &str = "a surface line";

fn surface<'a>(context: Context<'a>, fault: &Fault) -> Option<&'a Surface> {
    match &context.item(fault)?.kind {
        ItemKind::Surface(surface) => Some(surface),
        _ => None,
    }
}

fn placing<'a>(context: Context<'a>, fault: &Fault) -> Option<&'a Placing> {
    match &context.item(fault)?.kind {
        ItemKind::Place(placing) => Some(placing),
        _ => None,
    }
}

fn said(context: Context<'_>, misplaced: Misplaced, what: &str, line: &str) -> String {
    match misplaced {
        Misplaced::NoRow { number } if what == SURFACE => format!("there is no {line} {number} for {what}"),
        Misplaced::NoRow { number } => format!("there is no {line} {number} to place the {what} at"),
        Misplaced::NotNext { below, above } => {
            format!("{line} {above} does not follow {line} {below}, so nothing lies between the two")
        }
        Misplaced::NoStitch { stitch, row, there } => {
            let there = words::count(there, "stitch");
            format!("stitch {stitch} of {line} {row}, where {what} would go, is not there: it has {there}")
        }
        Misplaced::TooFar { apart, number, row, there } => {
            let there = words::count(there, "stitch");
            format!("{number} places {apart} stitches apart don't go into the {there} of {line} {row}")
        }
        Misplaced::OtherDistance { said, found } => {
            format!("the stitches named for the {what} lie {found} apart, not {said}")
        }
        Misplaced::OtherNumber { said, places } => {
            let them = if said == 1 { "it" } else { "them" };
            format!("{}, and {} named for {them}", so_many(said, what), is_are(places, "place"))
        }
        Misplaced::MoreThanMade { placed, made } => {
            let made = if made == 1 { "1 is made".to_owned() } else { format!("{made} are made") };
            format!("{placed} places are named for {what}, and {made}")
        }
        Misplaced::WorkedIn { piece, on } => {
            let (placed, on) = (context.name(piece), context.name(on));
            format!("{on} begins on {placed}, so that {placed} is in its place already")
        }
        Misplaced::NoNumber => {
            let are = if what.ends_with('s') { "are" } else { "is" };
            format!("the {what} {are} spread evenly, and it isn't said how many")
        }
        Misplaced::TooMany { said, rows } => {
            format!("{}, and {} from the first to the last", so_many(said, what), is_are(rows, line))
        }
    }
}

/// `1 button`, `5 buttons`: as it is placed, in the number that is said.
fn so_many(number: u32, what: &str) -> String {
    if number == 1 { format!("1 {}", what.strip_suffix('s').unwrap_or(what)) } else { format!("{number} {what}") }
}

fn is_are(number: u32, noun: &str) -> String {
    format!("{} {}", words::count(number, noun), if number == 1 { "is" } else { "are" })
}

fn help(misplaced: Misplaced) -> &'static str {
    match misplaced {
        Misplaced::NoRow { .. } => "name a row or round that is worked in each size",
        Misplaced::NotNext { .. } => "name two that follow one another, as `between rnds 12 and 13`",
        Misplaced::NoStitch { .. } => "stitches are counted from the beginning of the row or round",
        Misplaced::TooFar { .. } => "from one to the next, all the way round, is no more than the round has",
        Misplaced::OtherDistance { .. } => "`apart` counts from one to the next: stitches 4 and 12 are 8 apart",
        Misplaced::OtherNumber { .. } => "name as many places as there are things to place",
        Misplaced::MoreThanMade { .. } => {
            "name a place for each that is made, or make more of them, with `make` on the piece line"
        }
        Misplaced::WorkedIn { .. } => "leave the line out, or place another piece",
        Misplaced::NoNumber => "say how many, as `place 5 buttons evenly from row 3 to row 35`",
        Misplaced::TooMany { .. } => "one goes into a row at most",
    }
}
