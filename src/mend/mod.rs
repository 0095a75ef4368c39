//! Repairs: small edits, each of them tried in the simulator, never by pattern.

mod candidates;
mod chain;
mod elsewhere;
mod facts;
mod fillers;
mod forgotten;
mod habits;
mod joined;
mod margin;
mod models;
mod narrow;
mod offers;
mod proofs;
mod readings;
mod spots;
mod swaps;
mod trial;
mod whole_rows;

use crate::compiled::{Compiled, compile, errors};
use crate::diagnostic::{Code, Diagnostic, Edit, Fix, Label, Safety, Severity, Span};
use crate::fabric::{Bears, Checkpoint, Fabric, Fault};
use crate::pattern::model::{ItemKind, Kind, Piece};
use crate::stitch::{Stitches, Terms};
use crate::syntax::tree::{Body, File, Line, LineKind, WorkLine};
use crate::words;
pub use offers::{Change, Offer, offers};

use candidates::Candidate;
use habits::Habits;
use margin::{Margin, Warned};
use narrow::Narrow;
use std::collections::BTreeSet;
use std::ops::RangeInclusive;
use trial::{Before, Hopes, Trial, Trials, edited};

/// Repairs that a message shows at most.
const MOST_OFFERED: usize = 3;

/// Edits that are tried for one fault at most.
const MOST_TRIALS: usize = 3_000;

/// Edits that are less likely by so much than one that cures are not tried any more.
const FARTHER: u32 = 14;

/// A cure that costs so much more than the best one is no change that a designer would make; it is not offered beside it.
const BESIDE: u32 = 12;

/// After a cure that costs so little, only those that are nearly as likely are looked for.
const SURE: u32 = 18;
const CLOSE: u32 = 4;

/// A cure that costs no more is likely enough for no other line to be looked at.
const LIKELY: u32 = 24;

/// A slip in a line that another one stands on mostly shows there and not only in that other one.
const ABOVE: u32 = 6;

/// Lines that a faulty one stands on, as are looked at.
const MOST_ABOVE: usize = 3;

/// A stitch, or a space, that is made where others are counted by kind, and counted by none.
const UNCOUNTED: u32 = 7;

/// Stitches that are worked in all trials for one fault at most; a search that reaches it says so.
pub const MOST_STITCHES_TRIED: u64 = 6_000_000;

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
            let proved = proofs::proved(&trials, &compiled, finding);
            if !proved.fixes.is_empty() || !is_searched(&compiled.tree, finding) {
                findings.push((proved, Mended::default()));
                continue;
            }
        }
        let (mended, how) = mended(text, &trials, &compiled, finding);
        if how.left.is_some() {
            carried.extend(how.gone.iter().cloned());
        }
        let mended = facts::with_facts(&compiled, mended);
        findings.push((blamed(&compiled, mended), how));
    }
    let findings = joined::alike(text, &trials, &compiled, findings);
    compiled.findings = without_followers(findings);
    compiled
}

/// A fault in a row that is done again, if it is the line which does it again that is likely wrong: then it is said there.
fn blamed(compiled: &Compiled, mut finding: Diagnostic) -> Diagnostic {
    let inside = |span: Span| {
        let edits = finding.fixes.first().map_or(&[][..], |fix| fix.edits.as_slice());
        !edits.is_empty() && edits.iter().all(|edit| span.start <= edit.span.start && edit.span.end <= span.end)
    };
    let again = candidates::said_by(compiled, &finding).map(|again| again.span).find(|span| inside(*span));
    let here = |span: &Span| (span.start..=span.end).contains(&finding.primary.span.start);
    if let Some(span) = again.filter(|span| !here(span)) {
        let cause = std::mem::replace(&mut finding.primary, Label { span, text: "does that line again".to_owned() });
        finding.others.insert(0, cause);
    }
    finding
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

/// An edit that cured its fault.
struct Cure {
    fix: Fix,
    /// Errors that are left in the whole pattern.
    left: usize,
    /// How unlikely it is that this was meant.
    cost: u32,
    /// Findings that are left.
    names: BTreeSet<(Code, String)>,
    /// What is then worked, by the numbers of its rows.
    worked: Vec<u64>,
    /// Warnings that it would bring.
    brings: BTreeSet<Warned>,
    /// Whether an error comes to light in a piece that stood on a guess. Where another repair leaves none there, this one is not
    /// what was meant.
    exposes: bool,
}

impl Cure {
    fn new(fix: Fix, cost: u32, after: &Compiled, margin: &Margin<'_>) -> Self {
        let errors = after.findings.iter().filter(|f| f.severity == Severity::Error);
        let names: BTreeSet<(Code, String)> = errors.clone().map(name).collect();
        let rows = after.fabric.pieces.iter().flat_map(|p| &p.sizes).flat_map(|s| &s.rows);
        let (left, worked) = (errors.count(), rows.map(|row| row.trail).collect());
        let (brings, exposes) = (margin.brought(after), margin.exposed(after));
        Self { fix, left, cost, names, worked, brings, exposes }
    }
}

impl Cure {
    /// Whether it brings nothing that an editor would write in the margin.
    fn is_clean(&self) -> bool {
        self.brings.is_empty()
    }
}

/// A fault with its repairs, and the other findings that go with it when the best repair is made: they only carry it on.
fn mended(text: &str, trials: &Trials<'_>, compiled: &Compiled, finding: &Diagnostic) -> (Diagnostic, Mended) {
    let mut finding = finding.clone();
    let Some(line) = line_at(&compiled.tree, finding.primary.span) else { return (finding, Mended::default()) };
    if trials.is_spent() {
        finding.fixes.clear();
        return (finding.with_note(CUT_SHORT), Mended::default());
    }
    let as_it_is = Habits::of(text, &compiled.tree, line.span).cost(line, &|span| slice(text, span));
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

/// The work lines whose slip may show in a line: those that it says again, and the one above it.
fn stands_on<'t>(tree: &'t File, line: &Line) -> Vec<&'t Line> {
    let Some(at) = line_of(tree, line.span) else { return Vec::new() };
    let above = tree.lines.iter().take(at).rev().take_while(|line| !matches!(line.kind, LineKind::Piece(_)));
    let says_again = |line: &Line| match &line.kind {
        LineKind::Again(again) if again.above.is_none() => Some(again.from.value..=again.to.value),
        LineKind::Work(WorkLine { body: Body::As { number, to, piece: None, .. }, .. }) => {
            Some(number.value..=to.map_or(number.value, |to| to.value))
        }
        _ => None,
    };
    let mut said: Vec<RangeInclusive<u64>> = says_again(line).into_iter().collect();
    let mut found: Vec<&Line> = Vec::new();
    let mut is_above = true;
    for other in above {
        if is_above && matches!(other.kind, LineKind::Work(_) | LineKind::Again(_)) {
            is_above = false;
            said.extend(says_again(other));
            if matches!(other.kind, LineKind::Work(_)) {
                found.insert(0, other);
            }
            continue;
        }
        let LineKind::Work(work) = &other.kind else { continue };
        let number = work.label.from.map_or(0, |number| number.value);
        if said.iter().any(|said| said.contains(&number)) {
            found.push(other);
        }
    }
    found.truncate(MOST_ABOVE);
    found
}

/// Cures by how likely they are, those behind that bring a warning. What makes a whole row another one does not stand beside a small change. Of those after which the same is worked, the likeliest stands before all that work
/// otherwise, the others behind them.
fn in_order(text: &str, stitches: (&Stitches, Terms), mut cures: Vec<Cure>) -> Vec<Cure> {
    without_what_all_bring(&mut cures);
    cures.sort_by_key(|cure| (cure.left, !cure.is_clean(), cure.cost));
    let likely = cures.first().map_or(0, |best| best.cost + BESIDE);
    cures.retain(|cure| cure.cost <= likely);
    if cures.first().is_some_and(|best| !whole_rows::is_of_one(text, &best.fix, stitches)) {
        cures.retain(|cure| !whole_rows::is_of_one(text, &cure.fix, stitches));
    }
    let mut seen: BTreeSet<String> = BTreeSet::new();
    cures.retain(|cure| seen.insert(squeezed(&cure.fix.apply(text))));
    let mut worked: BTreeSet<Vec<u64>> = BTreeSet::new();
    let (mut first, second): (Vec<Cure>, Vec<Cure>) =
        cures.into_iter().partition(|cure| worked.insert(cure.worked.clone()));
    first.extend(second);
    first.sort_by_key(|cure| (cure.left, !cure.is_clean()));
    first
}

/// A warning that comes with every cure waited for the fault to be mended, and says nothing of any of them.
fn without_what_all_bring(cures: &mut [Cure]) {
    let common = cures.iter().map(|cure| cure.brings.clone()).reduce(|one, other| &one & &other).unwrap_or_default();
    for cure in cures {
        cure.brings.retain(|warned| !common.contains(warned));
    }
}

fn slice(text: &str, span: Span) -> &str {
    text.get(span.start..span.end).unwrap_or_default()
}

fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Repairs that are called the same say what stands at their place, and where that is the same as well, which step of the line it is.
fn tell_apart(text: &str, cures: &mut [Cure]) {
    let titles: Vec<String> = cures.iter().map(|cure| cure.fix.title.clone()).collect();
    let place = |cure: &Cure| cure.fix.edits.first().map_or(0, |edit| edit.span.start);
    let words: Vec<String> = cures.iter().map(|cure| at_words(text, place(cure))).collect();
    for (at, cure) in cures.iter_mut().enumerate() {
        let same = |all: &[String], other: usize| all.get(other) == all.get(at);
        let twins: Vec<usize> = (0..titles.len()).filter(|other| *other != at && same(&titles, *other)).collect();
        if twins.is_empty() {
            continue;
        }
        let alike = twins.iter().any(|other| same(&words, *other));
        let which = if alike { at_the_nth(text, place(cure)) } else { at_words(text, place(cure)) };
        cure.fix.title = format!("{}, {which}", cure.fix.title);
    }
}

/// "at `sc 3, inc`".
fn at_words(text: &str, at: usize) -> String {
    let rest = text.get(at..).and_then(|rest| rest.lines().next()).unwrap_or_default();
    let words = rest.trim_start_matches([',', ' ']).split(" =").next().unwrap_or_default();
    let shown: Vec<&str> = words.split_whitespace().take(MOST_WORDS_SHOWN).collect();
    match shown.as_slice() {
        [] => "at the end".to_owned(),
        shown => format!("at `{}`", shown.join(" ")),
    }
}

/// "in the 4th step of the line".
fn at_the_nth(text: &str, at: usize) -> String {
    let before = text.get(..at).and_then(|before| before.rsplit('\n').next()).unwrap_or_default();
    let steps = before.matches(',').count().saturating_add(1);
    format!("in the {} step of the line", words::ordinal(u32::try_from(steps).unwrap_or(u32::MAX)))
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

/// The search for what cures one fault.
#[derive(Clone, Copy)]
struct Search<'s, 't> {
    text: &'s str,
    trials: &'s Trials<'t>,
    compiled: &'s Compiled,
    finding: &'s Diagnostic,
    /// How unlike the lines around it the faulty line is.
    as_it_is: u32,
    /// What stands in the margin before any repair.
    margin: &'s Margin<'s>,
}

impl Search<'_, '_> {
    /// What cures a fault by one change: in its line, and where that is not likely enough, in the lines that it stands on.
    /// Also what was tried in its line, and whether the search was cut short.
    fn cures(self, line: &Line) -> (Vec<Cure>, Vec<Candidate>, bool) {
        let Self { text, compiled, finding, as_it_is, .. } = self;
        let habits = Habits::of(text, &compiled.tree, line.span);
        let candidates = candidates::all(text, compiled, line, finding, &habits);
        // What to do on a stitch is said in the line itself.
        let says_the_start_again = crate::check::says_the_start_again(finding);
        let rests_on_none = finding.code.0 == "on" || says_the_start_again;
        let below = if rests_on_none { Vec::new() } else { stands_on(&compiled.tree, line) };
        let kept = if below.is_empty() { 0 } else { self.trials.keep_back() };
        let (mut cures, mut cut_short) = self.try_all(line, &candidates, &habits, (0, 0));
        self.trials.give_back(kept);
        for other in below {
            if self.trials.is_spent() || cures.iter().any(|cure| cure.cost <= LIKELY && cure.is_clean()) {
                break;
            }
            let habits = Habits::of(text, &compiled.tree, other.span);
            let of_other = candidates::within(text, compiled, other, finding, &habits);
            let before = habits.cost(other, &|span| slice(text, span));
            let (more, short) = self.try_all(other, &of_other, &habits, (as_it_is + ABOVE, before));
            cures.extend(more);
            cut_short |= short;
        }
        if says_the_start_again {
            // The line that is worked into the start is right where it stands.
            let within = |edit: &Edit| line.span.start <= edit.span.start && edit.span.end <= line.span.end;
            cures.retain(|cure| cure.fix.edits.iter().all(within));
        }
        (cures, candidates, cut_short)
    }

    /// Tries edits, most of them in one line, the likeliest first; also says whether the search was cut short. What an edit
    /// costs besides, and what it saves, is given for a line that is not the faulty one.
    fn try_all(
        self,
        line: &Line,
        candidates: &[Candidate],
        habits: &Habits,
        (more, less): (u32, u32),
    ) -> (Vec<Cure>, bool) {
        let Self { text, trials, compiled, finding, as_it_is, margin } = self;
        let narrow = Narrow::of(text, compiled, line);
        let before = before(trials, compiled, line, finding, narrow.as_ref());
        trials.spend(before.as_ref().map_or(0, |before| before.checkpoint.worked));
        let hopes = hopes(compiled, finding);
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
            let is_new =
                words.as_ref().map_or_else(|| tried.insert(edits.clone()), |words| worded.insert(words.clone()));
            if !is_new {
                continue;
            }
            if trials.is_spent() {
                return (cures, true);
            }
            let trial = match before.as_ref().filter(|_| in_line) {
                Some(before) => trials.compile_if_rings(edits, before, &hopes),
                None => trials.compile_if_borne(edits, &hopes),
            };
            let Some(trial) = trial.filter(|trial| cures_it(trial, compiled, finding)) else { continue };
            let unlike = words.as_ref().and_then(|words| {
                let (line, slice) = trial.worded(line.span, words)?;
                Some(habits.cost(line, &slice))
            });
            let reads = unlike.map_or(as_it_is, |unlike| (unlike + more).saturating_sub(less));
            let cost = candidate.weight + reads + uncounted(&trial.compiled, line, &trial);
            let cure = Cure::new(candidate.fix.clone(), cost, &trial.compiled, margin);
            if cure.is_clean() {
                enough = enough.min(candidate.order + if cost <= SURE { CLOSE } else { FARTHER });
            }
            cures.push(cure);
        }
        (cures, candidates.len() > MOST_TRIALS && enough == u32::MAX)
    }
}

/// Stitches that a line makes after an edit and that are counted by none of the kinds that it states.
fn uncounted(after: &Compiled, line: &Line, trial: &Trial) -> u32 {
    let stitches = &after.pattern.stitches;
    let mut cost = 0;
    for (piece, fabric) in after.pattern.pieces.iter().zip(&after.fabric.pieces) {
        let here = piece.items.iter().position(|item| trial.origin(item.span).start == line.span.start);
        let Some((at, ItemKind::Work(work))) = here.and_then(|at| Some((at, &piece.items.get(at)?.kind))) else {
            continue;
        };
        let kinds: Vec<Kind> = work.stated.iter().flat_map(|s| &s.parts).filter_map(|(_, kind)| *kind).collect();
        let bare = work.stated.iter().any(|s| s.parts.iter().any(|(_, kind)| kind.is_none()));
        let by_stitch = !bare && kinds.iter().any(|kind| matches!(kind, Kind::Stitch(_)));
        let by_space = kinds.iter().any(|kind| matches!(kind, Kind::Space(_)));
        let is_counted = |made: Kind| {
            kinds.iter().any(|kind| match (kind, made) {
                (Kind::Stitch(wanted), Kind::Stitch(id)) => stitches.answers(id, *wanted),
                (Kind::AnyStitch, Kind::Stitch(_)) | (Kind::AnySpace, Kind::Space(_)) => true,
                (one, other) => *one == other,
            })
        };
        let counts = |made: Kind| match made {
            Kind::Stitch(_) => by_stitch,
            Kind::Space(_) => by_space,
            Kind::AnyStitch | Kind::Chain | Kind::AnySpace | Kind::Yarn(_) => false,
        };
        let row = fabric.sizes.iter().find_map(|size| size.rows.iter().find(|row| row.item == at));
        let made = row.iter().flat_map(|row| &row.ledger.made).map(|made| made.kind);
        cost += made.filter(|kind| counts(*kind) && !is_counted(*kind)).map(|_| UNCOUNTED).sum::<u32>();
    }
    cost
}

/// What a repair of a finding is borne with.
fn hopes(compiled: &Compiled, finding: &Diagnostic) -> Hopes {
    let Fabric { faults, on_a_guess, .. } = &compiled.fabric;
    let items = |piece: usize| compiled.pattern.pieces.get(piece).map_or(&[][..], |piece| piece.items.as_slice());
    let at = finding.primary.span.start;
    let is_it = |fault: &&Fault| {
        let here = items(fault.piece).get(fault.item);
        here.is_some_and(|item| (item.span.start..=item.span.end).contains(&at)) || fault.span == finding.primary.span
    };
    let others = faults.iter().filter(|fault| !is_it(fault)).map(|fault| (fault.piece, fault.item));
    let first = faults.iter().filter(is_it).map(|fault| fault.size).min().unwrap_or_default();
    Hopes { bears: Bears { items: others.collect(), pieces: on_a_guess.clone() }, first }
}

/// Where the work stands before a faulty line.
fn before<'n>(
    trials: &Trials<'_>,
    compiled: &'n Compiled,
    line: &Line,
    finding: &Diagnostic,
    narrow: Option<&'n Narrow>,
) -> Option<Before<'n>> {
    let pieces = &compiled.pattern.pieces;
    let (piece, item) = pieces.iter().enumerate().find_map(|(piece, worked)| {
        let works = |kind: &ItemKind| matches!(kind, ItemKind::Work(_) | ItemKind::Again(_));
        let item = worked.items.iter().position(|i| i.span == line.span && works(&i.kind))?;
        Some((piece, item))
    })?;
    let unread: Vec<Diagnostic> = compiled.findings.iter().filter(|f| !is_fault(f)).cloned().collect();
    let here = compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span);
    let first = here.map(|fault| fault.size).min().unwrap_or_default();
    let kept = trials.kept(&compiled.pattern);
    let checkpoint = Checkpoint::before(&compiled.pattern, &errors(&unread), (piece, item), first, &kept)?;
    let faults = compiled.fabric.faults.iter().filter(|fault| fault.piece == piece);
    let items = pieces.get(piece).map(|piece| piece.items.as_slice()).unwrap_or_default();
    let at = finding.primary.span.start;
    let is_it = |fault: &Fault| {
        let here = items.get(fault.item).is_some_and(|item| (item.span.start..=item.span.end).contains(&at));
        here || fault.span == finding.primary.span
    };
    let others = faults.filter(|fault| fault.item != item && !is_it(fault));
    let faulty = others.map(|fault| fault.item).collect();
    let narrow = narrow.map(|narrow| (narrow, narrow.reader()));
    let numbered = narrow.as_ref().and_then(|(narrow, reader)| narrow.numbered(reader, trials.words(line.span)));
    Some(Before { line: line.span, checkpoint, pattern: &compiled.pattern, faulty, narrow, numbered })
}

/// The fault is gone, and no other has come: what errors are left were there before. Warnings don't matter: most of them wait
/// till there is no error any more.
fn cures_it(trial: &Trial, before: &Compiled, finding: &Diagnostic) -> bool {
    let errors = |compiled: &Compiled| -> BTreeSet<(Code, String)> {
        let errors = compiled.findings.iter().filter(|found| found.severity == Severity::Error);
        errors.filter(|found| !waited(found, compiled, before)).map(name).collect()
    };
    let (then, now) = (errors(before), errors(&trial.compiled));
    // A row that can't be judged any more hides its errors.
    now.len() < then.len()
        && trial.compiled.fabric.unjudged <= before.fabric.unjudged
        && now.iter().all(|found| then.contains(found))
        && !still_there(&trial.compiled, finding)
}

/// Whether an error stands in a piece that stood on a guess before. It was there all the time, and is no fault of the repair.
fn waited(found: &Diagnostic, after: &Compiled, before: &Compiled) -> bool {
    let begun = |piece: &&Piece| piece.span.start <= found.primary.span.start;
    let piece = after.pattern.pieces.iter().take_while(begun).count().checked_sub(1);
    piece.is_some_and(|piece| before.fabric.on_a_guess.contains(&piece))
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
