//! The words say that the chain at the start of a row counts as a stitch, and in the work it counts as nothing; or the other way round.

use super::context::Context;
use super::prose::words;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::LeadWorked;
use crate::syntax::tree::{Header, LineKind, Text};

pub(super) const CODE: Code = Code("lead-words");

/// Words by which a sentence is about the chain that a row begins with.
const AT_START: &[&str] =
    &["start", "starts", "beginning", "begin", "begins", "beg", "turning", "starting", "first", "throughout"];

/// Words that say that it does not count.
const NOT: &[&str] = &["not", "never", "nothing", "no", "doesn't", "don't"];

/// Only the notes are read: they are of the whole pattern.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let leads = leads(context);
    let notes = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Header(Header::Note(words)) => Some(&words.text),
        _ => None,
    });
    notes
        .filter_map(|text| text.text.split(['.', ';', ':']).find_map(|part| finding(text, claim(part)?, &leads)))
        .collect()
}

/// What a sentence says of a chain at the start.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Claim {
    /// How many chains, if it says so.
    chains: Option<u32>,
    counts: bool,
}

fn claim(sentence: &str) -> Option<Claim> {
    let all: Vec<String> = words(sentence).map(|word| word.to_lowercase().replace('’', "'")).collect();
    let has = |list: &[&str]| all.iter().any(|word| list.contains(&word.as_str()));
    let counts = all.iter().position(|word| matches!(word.as_str(), "count" | "counts" | "counted"))?;
    let chain = all.iter().position(|word| matches!(word.as_str(), "ch" | "chain" | "chains" | "chs"))?;
    if chain > counts || !has(AT_START) {
        return None;
    }
    // `ch 3`, `3 chains`.
    let beside = [chain.checked_add(1), chain.checked_sub(1)];
    let chains = beside.iter().flatten().find_map(|at| all.get(*at)?.parse().ok());
    Some(Claim { chains, counts: !has(NOT) })
}

/// The leads of all rows, each once: how many chains, and whether they count.
fn leads(context: Context<'_>) -> Vec<(u32, bool)> {
    let rows = context.fabric.pieces.iter().flat_map(|piece| &piece.sizes).flat_map(|size| &size.rows);
    let mut leads: Vec<(u32, bool)> = rows
        .filter_map(|row| match row.lead {
            LeadWorked::Plain(chains) => Some((chains, false)),
            LeadWorked::Counted(chains, _) => Some((chains, true)),
            LeadWorked::None | LeadWorked::InStart(_) => None,
        })
        .collect();
    leads.sort_unstable();
    leads.dedup();
    leads
}

/// Nothing where some of the leads do as the words say. A single chain counts nowhere, so words about chains of any
/// length are not about it.
fn finding(text: &Text, claim: Claim, leads: &[(u32, bool)]) -> Option<Diagnostic> {
    let about: Vec<(u32, bool)> = leads
        .iter()
        .copied()
        .filter(|(chains, counts)| claim.chains.map_or(*chains > 1 || *counts, |claimed| claimed == *chains))
        .collect();
    let (chains, _) = *about.first()?;
    if about.iter().any(|(_, counts)| *counts == claim.counts) {
        return None;
    }
    let (said, worked) = if claim.counts { ("counts as a stitch", "nothing") } else { ("does not count", "a stitch") };
    let message = format!(
        "the note says that the chain at the start {said}, and the chain {chains} of the lead counts as {worked}"
    );
    let help = if claim.counts {
        format!("correct the note; or let it count, by a lead such as `lead ch {chains} as dc`")
    } else {
        format!("correct the note; or let it count as nothing, by `lead ch {chains}`")
    };
    Some(Diagnostic::warning(CODE, message, text.span, "not as it is worked").with_help(help))
}
