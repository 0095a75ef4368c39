//! Repairs: small edits, each of them tried in the simulator, never by pattern.

mod brackets;
mod candidates;
mod chain;
mod cure;
mod elsewhere;
mod facts;
mod fillers;
mod forgotten;
mod habits;
mod in_one_place;
mod joined;
mod lore;
mod margin;
mod missing;
mod models;
mod narrow;
mod numbers;
mod offers;
mod one_step;
mod other_words;
mod proofs;
mod put;
mod readings;
mod said_otherwise;
mod search;
mod spots;
mod stars;
mod swaps;
mod titles;
mod trial;
mod turned;
mod unread;
mod whole_rows;

use crate::compiled::{Compiled, compile};
use crate::diagnostic::{Code, Diagnostic, Fix, Label, Safety, Severity, Span};
use crate::syntax::tree::{Body, File, Line, LineKind};
use crate::words;
pub use offers::{Change, Offer, offers};

use cure::{Cure, cures_it, in_order};
use habits::Habits;
use margin::Margin;
use search::Search;
use std::collections::BTreeSet;
use titles::{lines_below, tell_apart, titled};
use trial::Trials;

/// Repairs that a message shows at most.
const MOST_OFFERED: usize = 3;

/// Stitches that are worked in all trials for one fault at most; a search that reaches it says so.
pub const MOST_STITCHES_TRIED: u64 = 6_000_000;

const CUT_SHORT: &str = "the search for repairs was cut short; there may be more";

/// Compiles a pattern and looks for repairs of every fault of its fabric. What a fault offered before is kept if
/// it cures, in its place among the others.
#[must_use]
pub fn compile_and_mend(text: &str) -> Compiled {
    let text = &*words::with_line_feeds(text);
    let mut compiled = compile(text);
    // What is too large to be worked once is not worked over and over.
    let large = compiled.findings.iter().any(|finding| finding.code == crate::check::TOO_LARGE);
    let has_offers = |finding: &Diagnostic| !finding.fixes.is_empty() || finding.severity == Severity::Error;
    if large {
        compiled.findings.iter_mut().for_each(without_untried);
        return compiled;
    }
    if !compiled.findings.iter().any(has_offers) {
        return compiled;
    }
    let trials = Trials::new(text, &compiled.pattern);
    let mut findings: Vec<(Diagnostic, Mended)> = Vec::new();
    let mut carried: BTreeSet<(Code, String)> = BTreeSet::new();
    let mut left = compiled.findings.iter().filter(|finding| has_offers(finding)).count();
    for finding in &compiled.findings {
        left = left.saturating_sub(usize::from(has_offers(finding)));
        if carried.contains(&name(finding)) {
            continue;
        }
        trials.begin(left + 1);
        if readings::is_open(finding) {
            let (marked, how) = readings::marked(&trials, &compiled, finding);
            carried.extend(how.gone.iter().cloned());
            findings.push((marked, how));
            continue;
        }
        if !is_fault(finding) {
            let offered = unread::with_forms(text, &trials, &compiled, finding);
            let proved = proofs::proved(&trials, &compiled, &offered);
            if !proved.fixes.is_empty() || !is_searched(&compiled.tree, finding) {
                carried.extend(proofs::gone(&trials, &compiled, &proved));
                findings.push((proved, Mended::default()));
                continue;
            }
        }
        let (mended, how) = mended(text, &trials, &compiled, finding);
        carried.extend(how.gone.iter().cloned());
        let mended = facts::with_facts(&compiled, mended);
        findings.push((blamed(&compiled, mended), how));
    }
    let findings = joined::alike(text, &trials, &compiled, findings);
    compiled.findings = without_followers(findings);
    compiled
}

/// A fault in a row that is done again, if it is the line which does it again that is likely wrong: then it is said there.
fn blamed(compiled: &Compiled, mut finding: Diagnostic) -> Diagnostic {
    let edits_within = |fix: &Fix, span: Span| {
        let mut edits = fix.edits.iter();
        !fix.edits.is_empty() && edits.all(|edit| span.start <= edit.span.start && edit.span.end <= span.end)
    };
    let inside = |span: Span| finding.fixes.first().is_some_and(|fix| edits_within(fix, span));
    // A start is as long as it was meant to be, unless nothing else closes.
    let alone = |span: Span| !finding.fixes.is_empty() && finding.fixes.iter().all(|fix| edits_within(fix, span));
    let again = candidates::said_by(compiled, &finding).map(|again| again.span).find(|span| inside(*span));
    let here = |span: &Span| (span.start..=span.end).contains(&finding.primary.span.start);
    let again = again.map(|span| (span, "does that line again"));
    let start = || started_at(compiled, &finding).filter(|span| alone(*span)).map(|span| (span, "begins with this"));
    let numbered = || numbered_above(compiled, &finding).filter(|span| inside(*span)).map(|span| (span, NUMBERED));
    if let Some((span, text)) = again.or_else(start).or_else(numbered).filter(|(span, _)| !here(span)) {
        let cause = std::mem::replace(&mut finding.primary, Label { span, text: text.to_owned() });
        finding.others.retain(|other| other.span != span);
        finding.others.insert(0, cause);
    }
    finding
}

/// Said at a line whose number is likelier wrong than that of the next one.
const NUMBERED: &str = "what comes next does not follow on this";

/// The line above that is mended first where a line is out of turn.
fn numbered_above(compiled: &Compiled, finding: &Diagnostic) -> Option<Span> {
    let edit = finding.fixes.first().filter(|_| finding.code.0 == "out-of-turn")?.edits.first()?;
    let line = line_at(&compiled.tree, edit.span)?;
    (line.span.end <= finding.primary.span.start).then_some(line.span)
}

/// Where the piece starts in which a fault was found.
fn started_at(compiled: &Compiled, finding: &Diagnostic) -> Option<Span> {
    let fault = compiled.fabric.faults.iter().find(|fault| fault.span == finding.primary.span)?;
    Some(compiled.pattern.pieces.get(fault.piece)?.start_span)
}

/// Takes away the repairs of a finding that change the fabric, where they can't be tried.
fn without_untried(finding: &mut Diagnostic) {
    let had = finding.fixes.len();
    finding.fixes.retain(|fix| fix.safety == Safety::KeepsFabric);
    if finding.fixes.len() < had {
        finding
            .notes
            .push("no repair was tried: the pattern is too large to be worked, which is to be mended first".to_owned());
    }
}

/// Whether other words are tried for what was found before any work: arithmetic that does not come out, a kind that is
/// counted twice, or a wrong line said again.
fn is_searched(tree: &File, finding: &Diagnostic) -> bool {
    finding.code.0 == "remainder" || counts_twice(tree, finding) || says_again(tree, finding)
}

/// Whether a count names one kind twice: one of them was to be another.
fn counts_twice(tree: &File, finding: &Diagnostic) -> bool {
    finding.code.0 == "twice"
        && line_at(tree, finding.primary.span).is_some_and(|line| match &line.kind {
            LineKind::Work(work) => {
                work.stated.as_ref().is_some_and(|stated| stated.span.start <= finding.primary.span.start)
            }
            _ => false,
        })
}

/// Whether a line can't be looked up that says others again: it may name a wrong one.
fn says_again(tree: &File, finding: &Diagnostic) -> bool {
    finding.severity == Severity::Error
        && finding.code.0 == "numbering"
        && line_at(tree, finding.primary.span).is_some_and(|line| match &line.kind {
            LineKind::Again(_) => true,
            LineKind::Work(work) => matches!(work.body, Body::As { .. }),
            _ => false,
        })
}

/// What the best repair of a finding does.
#[derive(Default)]
struct Mended {
    /// Errors that are left then; nothing where there is no repair.
    left: Option<usize>,
    /// Findings that are gone then.
    gone: Vec<(Code, String)>,
}

impl Mended {
    /// A repair after which so many errors are left, called so.
    fn by(compiled: &Compiled, left: usize, names: &BTreeSet<(Code, String)>) -> Self {
        let errors = compiled.findings.iter().filter(|finding| finding.severity == Severity::Error);
        Self { left: Some(left), gone: errors.map(name).filter(|name| !names.contains(name)).collect() }
    }
}

/// Leaves out a finding that goes when another one is mended, if its own mend leaves more errors or it has none: it only
/// carries that other one on, though it may stand above it.
fn without_followers(findings: Vec<(Diagnostic, Mended)>) -> Vec<Diagnostic> {
    let follows = |finding: &Diagnostic, how: &Mended| {
        findings.iter().any(|(other, best)| {
            let better = best.left.is_some_and(|left| how.left.is_none_or(|own| left < own));
            better && name(other) != name(finding) && is_fault(finding) && best.gone.contains(&name(finding))
        })
    };
    let stay: Vec<bool> = findings.iter().map(|(finding, how)| !follows(finding, how)).collect();
    findings.into_iter().zip(stay).filter(|(_, stays)| *stays).map(|((finding, _), _)| finding).collect()
}

/// What tells a finding from others.
fn name(finding: &Diagnostic) -> (Code, String) {
    (finding.code, finding.message.clone())
}

/// Only what working the pattern found is mended by trying; other findings bring their own edits. A pattern that is too
/// large to be worked once is not worked many times.
fn is_fault(finding: &Diagnostic) -> bool {
    finding.severity == Severity::Error && crate::check::is_tried(finding.code)
}

/// Whether an error was found in reading or looking up, before any work.
fn is_unworked(finding: &Diagnostic) -> bool {
    finding.severity == Severity::Error && crate::check::CHECKS.iter().all(|check| check.code != finding.code)
}

/// A fault with its repairs, and the other findings that go with it when the best repair is made: they only carry it on.
fn mended(text: &str, trials: &Trials<'_>, compiled: &Compiled, finding: &Diagnostic) -> (Diagnostic, Mended) {
    let mut finding = finding.clone();
    let Some(line) = line_at(&compiled.tree, finding.primary.span) else { return (finding, Mended::default()) };
    if trials.is_spent() {
        finding.fixes.clear();
        return (finding.with_note(CUT_SHORT), Mended::default());
    }
    let as_it_is =
        Habits::of(trials.lore(&compiled.tree), text, &compiled.tree, line.span).cost(line, &|span| slice(text, span));
    let margin = Margin::of(compiled);
    let unworked = compiled.findings.iter().filter(|found| is_unworked(found)).count();
    trials.allow(unworked.saturating_sub(usize::from(is_unworked(&finding))));
    let search = Search { text, trials, compiled, finding: &finding, as_it_is, margin: &margin };
    let (mut cures, candidates, cut_short) = search.cures(line);
    cures.extend(chain::carried(&search));
    if cures.is_empty() {
        cures = chain::with_counts(&search, &candidates);
    }
    if cures.iter().any(|cure| !cure.exposes) {
        cures.retain(|cure| !cure.exposes);
    }
    // Those that are not offered close as well.
    let closing = cures.iter().filter(|cure| cure.left == 0).map(|cure| squeezed(&cure.fix.apply(text)));
    let only_one = closing.collect::<BTreeSet<String>>().len() == 1;
    let cures = in_order(text, (&compiled.pattern.stitches, compiled.pattern.terms), cures);
    let alone = only_one && !cut_short && cures.first().is_some_and(|best| best.left == 0 && best.fix.edits.len() == 1);
    let below = lines_below(compiled, line);
    let how = cures.first().map_or(Mended::default(), |best| Mended::by(compiled, best.left, &best.names));
    let mut cures: Vec<Cure> = cures.into_iter().take(MOST_OFFERED).collect();
    tell_apart(text, &mut cures);
    finding.fixes = cures.into_iter().enumerate().map(|(at, cure)| titled(cure, at, alone, &below)).collect();
    if cut_short {
        finding = finding.with_note(CUT_SHORT);
    }
    (finding, how)
}

fn slice(text: &str, span: Span) -> &str {
    text.get(span.start..span.end).unwrap_or_default()
}

fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The line of the tree that a place is in.
fn line_of(file: &File, span: Span) -> Option<usize> {
    let next = file.lines.partition_point(|line| line.span.start <= span.start);
    let at = next.checked_sub(1)?;
    file.lines.get(at).filter(|line| span.end <= line.span.end).map(|_| at)
}

/// The line that a place is in.
fn line_at(tree: &File, span: Span) -> Option<&Line> {
    tree.lines.iter().find(|l| {
        let works = !matches!(l.kind, LineKind::Blank | LineKind::Remark | LineKind::Words(_));
        works && l.span.start <= span.start && span.start <= l.span.end
    })
}
