//! Repairs: small edits, each of them tried in the simulator, never by pattern.

mod candidates;
mod chain;
mod elsewhere;
mod fillers;
mod habits;
mod narrow;
mod offers;
mod readings;
mod spots;
mod swaps;
mod trial;

use crate::compiled::{Compiled, compile, errors};
use crate::diagnostic::{Code, Diagnostic, Edit, Fix, Severity, Span};
use crate::fabric::Checkpoint;
use crate::pattern::model::ItemKind;
use crate::syntax::tree::{File, Line, LineKind};
use crate::words;
pub use offers::{Change, Offer, offers};

use candidates::Candidate;
use habits::Habits;
use narrow::Narrow;
use std::collections::BTreeSet;
use trial::{Before, Trial, Trials, edited};

/// Repairs that a message shows at most.
const MOST_OFFERED: usize = 3;

/// Edits that are tried for one fault at most.
const MOST_TRIALS: usize = 3_000;

/// Edits that are less likely by so much than one that cures are not tried any more.
const FARTHER: u32 = 12;

/// An edit outside the faulty line reads as it may; the lines around it are not asked.
const UNASKED: u32 = 10;

/// Stitches that are worked in all trials for one fault at most; a search that reaches it says so.
pub const MOST_STITCHES_TRIED: u64 = 10_000_000;

/// What stands at the place of a repair is shown by so many words.
const MOST_WORDS_SHOWN: usize = 4;

const CUT_SHORT: &str = "the search for repairs was cut short; there may be more";

/// Compiles a pattern and looks for repairs of every fault of its fabric. What a fault offered before is kept if
/// it cures, in its place among the others.
#[must_use]
pub fn compile_and_mend(text: &str) -> Compiled {
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
    /// How unlikely it is that this was meant.
    cost: u32,
    /// Findings that are left.
    names: BTreeSet<(Code, String)>,
}

impl Cure {
    fn new(fix: Fix, cost: u32, after: &Compiled) -> Self {
        let errors = after.findings.iter().filter(|f| f.severity == Severity::Error);
        let names: BTreeSet<(Code, String)> = errors.clone().map(name).collect();
        Self { fix, left: errors.count(), cost, names }
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
        finding.fixes.clear();
        return (finding.with_note(CUT_SHORT), Vec::new());
    }
    let habits = Habits::of(text, &compiled.tree, line.span);
    let candidates = candidates::all(text, compiled, line, &finding, &habits);
    let (mut cures, cut_short) = try_all(text, trials, compiled, &finding, line, &candidates, &habits);
    cures.extend(chain::carried(trials, compiled, &finding));
    if cures.is_empty() {
        cures = chain::with_counts(trials, compiled, &finding, &candidates);
    }
    cures.sort_by_key(|cure| (cure.left, cure.cost));
    let mut seen: BTreeSet<String> = BTreeSet::new();
    cures.retain(|cure| seen.insert(squeezed(&cure.fix.apply(text))));
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

fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
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
    text: &str,
    trials: &Trials<'_>,
    compiled: &Compiled,
    finding: &Diagnostic,
    line: &Line,
    candidates: &[Candidate],
    habits: &Habits,
) -> (Vec<Cure>, bool) {
    let narrow = Narrow::of(text, compiled, line);
    let before = before(compiled, line, narrow.as_ref());
    let mut cures: Vec<Cure> = Vec::new();
    let mut tried: BTreeSet<Vec<Edit>> = BTreeSet::new();
    let mut worded: BTreeSet<String> = BTreeSet::new();
    let mut enough = u32::MAX;
    for candidate in candidates.iter().take(MOST_TRIALS) {
        if candidate.order > enough {
            break;
        }
        let edits = &candidate.fix.edits;
        let in_line = edits.iter().all(|e| line.span.start <= e.span.start && e.span.end <= line.span.end);
        let words = edited(text, line.span, edits).filter(|_| in_line);
        let is_new = words.as_ref().map_or_else(|| tried.insert(edits.clone()), |words| worded.insert(words.clone()));
        if !is_new {
            continue;
        }
        if trials.is_spent() {
            return (cures, true);
        }
        let trial = match before.as_ref().filter(|_| in_line) {
            Some(before) => trials.compile_if_rings(edits, before),
            None => trials.compile(edits),
        };
        let Some(trial) = trial.filter(|trial| cures_it(trial, compiled, finding)) else { continue };
        let unlike = words.as_ref().and_then(|words| {
            let (line, slice) = trial.worded(line.span, words)?;
            Some(habits.cost(line, &slice))
        });
        let cost = candidate.weight + unlike.unwrap_or(UNASKED);
        cures.push(Cure::new(candidate.fix.clone(), cost, &trial.compiled));
        enough = enough.min(candidate.order + FARTHER);
    }
    (cures, candidates.len() > MOST_TRIALS && enough == u32::MAX)
}

/// Where the work stands before a faulty line.
fn before<'n>(compiled: &Compiled, line: &Line, narrow: Option<&'n Narrow>) -> Option<Before<'n>> {
    let pieces = &compiled.pattern.pieces;
    let (piece, item) = pieces.iter().enumerate().find_map(|(piece, worked)| {
        let works = |kind: &ItemKind| matches!(kind, ItemKind::Work(_) | ItemKind::Again(_));
        let item = worked.items.iter().position(|i| i.span == line.span && works(&i.kind))?;
        Some((piece, item))
    })?;
    let unread: Vec<Diagnostic> = compiled.findings.iter().filter(|f| !is_fault(f)).cloned().collect();
    let checkpoint = Checkpoint::before(&compiled.pattern, &errors(&unread), piece, item)?;
    let faults = compiled.fabric.faults.iter().filter(|fault| fault.piece == piece);
    let faulty = faults.map(|fault| fault.item).filter(|faulty| *faulty != item).collect();
    let narrow = narrow.map(|narrow| (narrow, narrow.reader()));
    Some(Before { line: line.span, checkpoint, faulty, narrow })
}

/// The fault is gone, and no other has come: what errors are left stand in lines that had one before. Warnings don't matter:
/// most of them wait till there is no error any more.
fn cures_it(trial: &Trial, before: &Compiled, finding: &Diagnostic) -> bool {
    let errors = |compiled: &Compiled| -> Vec<Span> {
        compiled.findings.iter().filter(|f| f.severity == Severity::Error).map(|f| f.primary.span).collect()
    };
    let (then, now) = (errors(before), errors(&trial.compiled));
    let line = |span: Span| line_of(&before.tree, Span::new(span.start, span.start));
    let known: BTreeSet<Option<usize>> = then.iter().map(|span| line(*span)).collect();
    now.len() < then.len()
        && now.iter().all(|span| known.contains(&line(trial.origin(*span))))
        && !still_there(&trial.compiled, finding)
}

fn still_there(after: &Compiled, finding: &Diagnostic) -> bool {
    after.findings.iter().any(|f| f.code == finding.code && f.message == finding.message)
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
