//! Repairs: small edits, each of them tried in the simulator, never by pattern.

mod candidates;
mod chain;
mod offers;
mod readings;
mod spots;
mod trial;

use crate::compiled::{Compiled, compile, errors};
use crate::diagnostic::{Code, Diagnostic, Edit, Fix, Severity, Span};
use crate::fabric::Checkpoint;
use crate::pattern::model::ItemKind;
use crate::syntax::tree::{File, Line, LineKind};
use crate::words;
pub use offers::{Change, Offer, offers};

use candidates::Candidate;
use std::collections::BTreeSet;
use trial::Trials;

/// Repairs that a message shows at most.
const MOST_OFFERED: usize = 3;

/// Edits that are tried for one fault at most.
const MOST_TRIALS: usize = 1_500;

/// Stitches that are worked in all trials for one fault at most; a search that reaches it says so.
pub const MOST_STITCHES_TRIED: u64 = 10_000_000;

/// What stands at the place of a repair is shown by so many words.
const MOST_WORDS_SHOWN: usize = 4;

const CUT_SHORT: &str = "the search for repairs was cut short; there may be more";

/// Compiles a pattern and looks for repairs of every fault of its fabric. What a fault offered before is kept if
/// it cures, in its place among the others.
#[must_use]
pub fn compile_and_mend(text: &str) -> Compiled {
    let text = &*words::with_line_feeds(text);
    let mut compiled = compile(text);
    // What is too large to be worked once is not worked over and over.
    let large = compiled.findings.iter().any(|finding| finding.code == crate::check::TOO_LARGE);
    let to_do = |finding: &Diagnostic| is_fault(finding) || readings::is_open(finding);
    if large || !compiled.findings.iter().any(to_do) {
        return compiled;
    }
    let trials = Trials::new(text);
    let mut findings: Vec<Diagnostic> = Vec::new();
    let mut carried: BTreeSet<(Code, String)> = BTreeSet::new();
    for finding in &compiled.findings {
        if carried.contains(&name(finding)) {
            continue;
        }
        trials.begin();
        if readings::is_open(finding) {
            findings.push(readings::marked(&trials, &compiled, finding));
            continue;
        }
        if !is_fault(finding) {
            findings.push(finding.clone());
            continue;
        }
        let (mended, cured) = mended(text, &trials, &compiled, finding);
        findings.push(mended);
        carried.extend(cured);
    }
    compiled.findings = findings;
    compiled
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

/// An edit that cured its fault.
struct Cure {
    fix: Fix,
    /// Errors that are left in the whole pattern.
    left: usize,
    /// Size of the edit; smaller is likelier.
    weight: u32,
    /// Findings that are left.
    names: BTreeSet<(Code, String)>,
}

impl Cure {
    fn new(fix: Fix, weight: u32, after: &Compiled) -> Self {
        Self { fix, left: tally(after).0, weight, names: after.findings.iter().map(name).collect() }
    }
}

/// A fault with its repairs, and the other findings that go with it when the best repair is made: they only carry it on.
fn mended(
    text: &str,
    trials: &Trials<'_>,
    compiled: &Compiled,
    finding: &Diagnostic,
) -> (Diagnostic, Vec<(Code, String)>) {
    let mut finding = finding.clone();
    let Some(line) = line_at(&compiled.tree, finding.primary.span) else { return (finding, Vec::new()) };
    if trials.is_spent() {
        return (finding.with_note(CUT_SHORT), Vec::new());
    }
    let mut candidates = candidates::all(text, compiled, line, &finding);
    candidates.sort_by_key(|candidate| candidate.weight);
    let (mut cures, cut_short) = try_all(trials, compiled, &finding, line, &candidates);
    cures.extend(chain::carried(trials, compiled, &finding));
    if cures.is_empty() {
        cures = chain::with_counts(trials, compiled, &finding, &candidates);
    }
    cures.sort_by_key(|cure| (cure.left, cure.weight));
    let mut seen: BTreeSet<String> = BTreeSet::new();
    cures.retain(|cure| seen.insert(cure.fix.apply(text)));
    let alone = cures.iter().filter(|cure| cure.left == 0).count() == 1
        && cures.first().is_some_and(|best| best.fix.edits.len() == 1);
    let below = lines_below(compiled, line);
    let carried = cures.first().map_or(Vec::new(), |best| {
        let gone = compiled.findings.iter().map(name).filter(|name| !best.names.contains(name));
        gone.collect()
    });
    finding.fixes =
        cures.into_iter().take(MOST_OFFERED).enumerate().map(|(at, cure)| titled(cure, at, alone, &below)).collect();
    tell_apart(text, &mut finding.fixes);
    if cut_short {
        finding = finding.with_note(CUT_SHORT);
    }
    (finding, carried)
}

/// Repairs that are called the same say what stands at their place.
fn tell_apart(text: &str, fixes: &mut [Fix]) {
    let titles: Vec<String> = fixes.iter().map(|fix| fix.title.clone()).collect();
    let twice = |title: &String| titles.iter().filter(|other| *other == title).count() > 1;
    for fix in fixes.iter_mut().filter(|fix| twice(&fix.title)) {
        let Some(at) = fix.edits.first().map(|edit| edit.span.start) else { continue };
        let rest = text.get(at..).and_then(|rest| rest.lines().next()).unwrap_or_default();
        let words = rest.trim_start_matches([',', ' ']).split(" =").next().unwrap_or_default();
        let shown: Vec<&str> = words.split_whitespace().take(MOST_WORDS_SHOWN).collect();
        fix.title = match shown.as_slice() {
            [] => format!("{}, at the end", fix.title),
            shown => format!("{}, at `{}`", fix.title, shown.join(" ")),
        };
    }
}

/// Adds to a title what the edit makes close.
fn titled(cure: Cure, at: usize, alone: bool, below: &str) -> Fix {
    let Cure { fix, left, .. } = cure;
    let mut title = fix.title.clone();
    if left == 0 {
        title = format!("{title}: then {below}");
        if alone && at == 0 {
            title.push_str("; no other single change was found that does");
        }
    }
    fix.titled(title)
}

/// "all 12 lines below close as well".
fn lines_below(compiled: &Compiled, line: &Line) -> String {
    let items = compiled.pattern.pieces.iter().flat_map(|p| &p.items);
    let works = |kind: &ItemKind| matches!(kind, ItemKind::Work(_) | ItemKind::Again(_));
    let below = items.filter(|i| works(&i.kind) && i.span.start > line.span.start).count();
    match below {
        0 => "everything closes".to_owned(),
        1 => "the line below closes as well".to_owned(),
        2 => "both lines below close as well".to_owned(),
        _ => format!("all {} below close as well", words::count(below, "line")),
    }
}

fn try_all(
    trials: &Trials<'_>,
    compiled: &Compiled,
    finding: &Diagnostic,
    line: &Line,
    candidates: &[Candidate],
) -> (Vec<Cure>, bool) {
    let before = tally(compiled);
    let checkpoint = checkpoint(compiled, line);
    let mut cures: Vec<Cure> = Vec::new();
    let mut tried: BTreeSet<Vec<Edit>> = BTreeSet::new();
    for candidate in candidates.iter().take(MOST_TRIALS) {
        let edits = &candidate.fix.edits;
        if !tried.insert(edits.clone()) {
            continue;
        }
        let in_line = edits.iter().all(|e| line.span.start <= e.span.start && e.span.end <= line.span.end);
        if trials.is_spent() {
            return (cures, true);
        }
        let trial = match checkpoint.as_ref().filter(|_| in_line) {
            Some(checkpoint) => trials.compile_if_rings(edits, checkpoint),
            None => trials.compile(edits),
        };
        let Some(after) = trial.map(|t| t.compiled) else { continue };
        if cures_it(&after, before, finding) {
            cures.push(Cure::new(candidate.fix.clone(), candidate.weight, &after));
        }
    }
    (cures, candidates.len() > MOST_TRIALS)
}

/// Where the work stands before a faulty line.
fn checkpoint(compiled: &Compiled, line: &Line) -> Option<Checkpoint> {
    let pieces = &compiled.pattern.pieces;
    let (piece, item) = pieces.iter().enumerate().find_map(|(piece, worked)| {
        let works = |kind: &ItemKind| matches!(kind, ItemKind::Work(_) | ItemKind::Again(_));
        let item = worked.items.iter().position(|i| i.span == line.span && works(&i.kind))?;
        Some((piece, item))
    })?;
    let unread: Vec<Diagnostic> = compiled.findings.iter().filter(|f| !is_fault(f)).cloned().collect();
    Checkpoint::before(&compiled.pattern, &errors(&unread), piece, item)
}

/// The fault is gone, and nothing new has come.
fn cures_it(after: &Compiled, before: (usize, usize), finding: &Diagnostic) -> bool {
    let now = tally(after);
    now.0 < before.0 && now.1 <= before.1 && !still_there(after, finding)
}

/// Errors and warnings.
fn tally(compiled: &Compiled) -> (usize, usize) {
    let errors = compiled.findings.iter().filter(|f| f.severity == Severity::Error).count();
    (errors, compiled.findings.len() - errors)
}

fn still_there(after: &Compiled, finding: &Diagnostic) -> bool {
    after.findings.iter().any(|f| f.code == finding.code && f.message == finding.message)
}

/// The line that a place is in.
fn line_at(tree: &File, span: Span) -> Option<&Line> {
    tree.lines.iter().find(|l| {
        let works = !matches!(l.kind, LineKind::Blank | LineKind::Remark | LineKind::Words(_));
        works && l.span.start <= span.start && span.start <= l.span.end
    })
}
