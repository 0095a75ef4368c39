//! The grading as a table for a screen.

use std::f64::consts::PI;

use crate::Compiled;
use crate::columns;
use crate::pattern::model::Pattern;
use crate::spread::share;
use crate::units::Length;

use super::{Choice, Grading, Proposal, grade};

/// What is proposed for each finished measurement, and what to write for it.
#[must_use]
pub fn table(text: &str, compiled: &Compiled) -> String {
    let gradings = grade(text, compiled);
    if gradings.is_empty() {
        return "no finished measurement is one that a row or round makes by itself; state one, as \
                `finished around 46 / 50 cm at Crown`, and a gauge\n"
            .to_owned();
    }
    let pattern = &compiled.pattern;
    gradings.iter().map(|grading| one(pattern, grading)).collect::<Vec<_>>().join("\n")
}

fn one(pattern: &Pattern, grading: &Grading) -> String {
    let piece = pattern.pieces.get(grading.piece);
    let round = piece.is_some_and(|piece| piece.way.rounds());
    let name = piece.map(|piece| piece.name.as_str()).filter(|name| !name.is_empty()).unwrap_or(&pattern.head.title);
    let mut head = vec!["size", "wanted", "sts now", "sts proposed", "comes to", "off by", "as near"];
    let fits = grading.sizes.iter().flatten().any(|proposal| proposal.suits.is_some());
    if fits {
        head.push("suits");
    }
    // Only what grows from its middle has a crown.
    let crown = round && grading.sizes.iter().flatten().any(|proposal| proposal.growth.is_some());
    if crown {
        head.push("flat crown across");
    }
    head.extend([if round { "rounds of it" } else { "rows of it" }, "lines after it"]);
    let sizes = pattern.sizes.iter().zip(&grading.sizes);
    let rows = sizes.filter_map(|(size, proposal)| Some(row(size, proposal.as_ref()?, crown, fits)));
    let last = head.len() - 1;
    let table = columns::laid_out(&head, rows, |column| column == 0 || column == last);
    let mut out = format!("{name}, {}\n{table}\n", grading.what);
    out.push_str(&notes(pattern, grading));
    out
}

fn row(size: &str, proposal: &Proposal, crown: bool, fits: bool) -> Vec<String> {
    let comes_to = proposal.comes_to(proposal.best);
    let mut row = vec![
        if size.is_empty() { "the one size".to_owned() } else { size.to_owned() },
        proposal.wanted.in_cm(),
        proposal.now.stitches.to_string(),
        proposal.best.stitches.to_string(),
        comes_to.in_cm(),
        off(comes_to, proposal.wanted),
        proposal.tie.map(|tie| tie.stitches.to_string()).unwrap_or_default(),
    ];
    if fits {
        row.push(suits(proposal));
    }
    if crown {
        row.push((comes_to / PI).in_cm());
    }
    row.push(proposal.plain.to_string());
    row.push(if proposal.best.closes { "ring true" } else { "need other rounds or rows" }.to_owned());
    row
}

/// `39-49 cm`, and whether what is proposed lies outside.
fn suits(proposal: &Proposal) -> String {
    let Some((low, high)) = proposal.suits else { return String::new() };
    let range = match (low, high) {
        (Some(low), Some(high)) => format!("{}-{}", low.cm_number(), high.in_cm()),
        (Some(low), None) => format!("{} and up", low.in_cm()),
        (None, Some(high)) => format!("up to {}", high.in_cm()),
        (None, None) => return String::new(),
    };
    if proposal.is_suitable() == Some(false) { format!("{range}, not this") } else { range }
}

/// `+0.4 cm`.
fn off(made: Length, wanted: Length) -> String {
    let centimetres = (made - wanted).mm() / 10.0;
    let text = format!("{centimetres:+.1}");
    format!("{} cm", if text == "-0.0" { "+0.0" } else { &text })
}

/// What to write, and how each count is reached.
fn notes(pattern: &Pattern, grading: &Grading) -> String {
    let mut out = String::new();
    let proposals: Vec<(&String, &Proposal)> =
        pattern.sizes.iter().zip(&grading.sizes).filter_map(|(size, p)| Some((size, p.as_ref()?))).collect();
    if let Some(set) = &grading.set
        && proposals.len() == pattern.sizes.len()
    {
        let values = |choice: fn(&Proposal) -> Choice| {
            proposals.iter().map(|(_, p)| choice(p).set.to_string()).collect::<Vec<_>>().join(" / ")
        };
        let (best, now) = (values(|p| p.best), values(|p| p.now));
        let same = if best == now { ", as it is written" } else { "" };
        out.push_str(&format!("`set {set} = {best}`{same}\n"));
    }
    if grading.set.is_none() {
        out.push_str(&match proposals.first().and_then(|(_, proposal)| proposal.multiple) {
            Some(1) => "its lines fit any number of stitches\n".to_owned(),
            Some(multiple) => format!("its lines go up by {multiple} stitches\n"),
            None => {
                "its lines don't say by how many stitches it could be wider, so only the present number is compared\n"
                    .to_owned()
            }
        });
    }
    for (size, proposal) in proposals {
        if let Some(how) = how(proposal) {
            let size = if size.is_empty() { String::new() } else { format!("{size}: ") };
            out.push_str(&format!("{size}{how}\n"));
        }
    }
    out
}

/// How the count is reached from what is below it.
fn how(proposal: &Proposal) -> Option<String> {
    let best = proposal.best.stitches;
    if let Some(growth) = proposal.growth {
        let (sections, whole, partial) = (growth.sections, growth.whole, growth.partial);
        let rounds = crate::words::count(whole, "whole round");
        return Some(if partial == 0 {
            format!("{rounds} of {sections}")
        } else {
            let over = whole * sections;
            format!(
                "{rounds} of {sections}, then `{partial} inc evenly in sc to end` over {over}; one round more makes {}",
                over + sections
            )
        });
    }
    let over = proposal.over.filter(|_| proposal.best == proposal.now)?;
    let added = best.checked_sub(over).filter(|added| *added > 0 && *added <= over)?;
    let gaps = share(over - added, added);
    let (least, most) = (gaps.iter().min()?, gaps.iter().max()?);
    let gaps = if least == most { format!("all {least} apart") } else { format!("{least} or {most} apart") };
    Some(format!("{added} more than the {over} below, {gaps}"))
}
