//! A whole line: its lead, its steps, what is left at its end, and the edge that it leaves.

use super::Spread;
use super::edge::{Edge, Slot, Top};
use super::fault::{FaultKind, Reading};
use super::hand::{Account, Ended, Hand, Trouble, tally};
use super::ledger::{Ledger, Tally};
use super::trail::Trail;
use super::used::Used;
use crate::diagnostic::Span;
use crate::limits;
use crate::pattern::model::{Kind, Lead, Line, Pattern, Stated, Step, StepKind, Way, before_lead};
use crate::stitch::StitchId;

/// What a line is worked with.
#[derive(Debug, Clone, Copy)]
pub(super) struct Setup<'a> {
    pub pattern: &'a Pattern,
    pub way: Way,
    pub lead: &'a Lead,
    pub size: usize,
    pub rows_below: u32,
}

/// A line when it is done.
#[derive(Debug, Clone)]
pub(super) struct Done {
    /// What was made, in the order of making.
    pub made: Vec<Slot>,
    /// What was not worked and waits, after a short row or where it was left.
    pub rest: Vec<Slot>,
    pub ended: Option<Ended>,
    /// Closed with a tall stitch.
    pub closed: bool,
    pub plain_lead: bool,
    /// Chains of the starting chain skipped before the first stitch.
    pub hook_skip: Option<usize>,
    pub ledger: Ledger,
    /// See [`super::Row::trail`].
    pub trail: u64,
    pub asked: Vec<(Span, u32)>,
    /// Skips that ended inside a space: the step and the length.
    pub cuts: Vec<(Span, u32)>,
    pub spreads: Vec<Spread>,
    /// Yarn was joined in a place of a round that looks the same from every place of its kind.
    pub joined_anywhere: bool,
    /// The first thing that went wrong.
    pub trouble: Option<Trouble>,
    pub marks: Vec<String>,
    /// Passes of repeats that were made.
    pub passes: u64,
}

/// What a line is worked onto.
#[derive(Debug, Clone)]
pub(super) struct Onto {
    pub edge: Edge,
    /// Names of markers.
    pub marks: Vec<String>,
    /// Something that the line needs is not there.
    pub missing: Option<Trouble>,
}

/// Works a line on an edge. Where it has two readings, the one that closes is taken, and all that close are given back.
pub(super) fn work(setup: Setup<'_>, line: &Line, stated: Option<&Stated>, onto: Onto) -> (Done, Option<Vec<Reading>>) {
    if !ambiguous(&line.steps) {
        return (work_reading(setup, line, stated, onto, Reading::OneInEach), None);
    }
    let one = work_reading(setup, line, stated, onto.clone(), Reading::OneInEach);
    let all = work_reading(setup, line, stated, onto, Reading::AllInOne);
    let mut closes = Vec::new();
    if one.trouble.is_none() {
        closes.push(Reading::OneInEach);
    }
    if all.trouble.is_none() {
        closes.push(Reading::AllInOne);
    }
    let chosen = if one.trouble.is_some() && all.trouble.is_none() { all } else { one };
    (chosen, Some(closes))
}

/// Whether a step has two readings.
fn ambiguous(steps: &[Step]) -> bool {
    use crate::pattern::model::RepeatBody;
    steps.iter().any(|step| match &step.kind {
        StepKind::Work(work) => work.ambiguous,
        StepKind::Group(steps, _) | StepKind::Together(steps, _) => ambiguous(steps),
        StepKind::Repeat(repeat) => match &repeat.body {
            RepeatBody::Steps(steps, _) => ambiguous(steps),
            RepeatBody::On(arms) => arms.iter().any(|(_, steps)| ambiguous(steps)),
        },
        _ => false,
    })
}

fn work_reading(setup: Setup<'_>, line: &Line, stated: Option<&Stated>, onto: Onto, reading: Reading) -> Done {
    let edge = onto.edge;
    let offered = edge.places().max(u32::from(edge.ring && edge.slots.is_empty()));
    let mut hand = hand(setup, edge, offered, onto.marks, reading);
    let mut trouble = run(&mut hand, setup, line, onto.missing);
    let rest = hand.end(line.steps_span, &mut trouble);
    // A round that was closed with a tall stitch, or not finished, is not joined with a slip stitch.
    if setup.way == Way::JoinedRounds && !hand.closed && hand.ended.is_none() {
        hand.used.slips(1);
    }
    let ledger = hand.ledger(stated);
    if trouble.is_none() {
        trouble = check_stated(&ledger, stated, setup);
    }
    Done {
        made: hand.made,
        rest,
        ended: hand.ended,
        closed: hand.closed,
        plain_lead: hand.plain_lead,
        hook_skip: hand.hook_skip,
        ledger,
        asked: hand.asked,
        cuts: hand.cuts,
        spreads: hand.spreads,
        joined_anywhere: hand.joined_anywhere,
        trail: hand.trail.sum(),
        trouble,
        marks: hand.marks,
        passes: limits::MOST_PASSES.saturating_sub(hand.budget),
    }
}

fn hand(setup: Setup<'_>, edge: Edge, offered: u32, marks: Vec<String>, reading: Reading) -> Hand<'_> {
    let limit = edge.slots.len();
    let standing = if edge.hook_in_first { first_space(&edge) } else { 0 };
    Hand {
        pattern: setup.pattern,
        size: setup.size,
        at: 0,
        limit,
        here: None,
        standing,
        standing_in_space: standing > 0,
        moved_half: false,
        joined_there: None,
        began_in: 0,
        made: Vec::with_capacity(limit + limit / 4),
        groups: Vec::new(),
        account: Account { offered, ..Account::default() },
        used: Used::default(),
        in_place: 0,
        ghost: false,
        reading,
        asked: Vec::new(),
        cut: None,
        cuts: Vec::new(),
        runs: Vec::new(),
        joined_anywhere: false,
        spreads: Vec::new(),
        side: 0,
        strip: false,
        after_worked: 0,
        skipped_kind: false,
        skipped: (0, 0),
        gaps: Vec::new(),
        hung_from: None,
        sought: Vec::new(),
        passes_rest: false,
        rest_done: false,
        taken: 0,
        trail: Trail::default(),
        lead: Lead::None,
        piece_lead: setup.lead.clone(),
        plain_lead: false,
        hook_skip: None,
        ended: None,
        closed: false,
        marks,
        budget: limits::MOST_PASSES,
        rows_below: setup.rows_below,
        depth: 0,
        edge,
    }
}

fn first_space(edge: &Edge) -> usize {
    edge.slots.first().and_then(|s| s.space()).and_then(|n| usize::try_from(n).ok()).unwrap_or(0)
}

/// Works the steps. The first fault is kept; the line is then followed with places without end.
fn run(hand: &mut Hand<'_>, setup: Setup<'_>, line: &Line, missing: Option<Trouble>) -> Option<Trouble> {
    let (before, after) = line.steps.split_at_checked(before_lead(&line.steps)).unwrap_or((&[], &line.steps));
    let mut first = missing;
    for step in before {
        follow(hand, step, &mut first);
    }
    if let Some(trouble) = chain_unsaid(hand, after) {
        first.get_or_insert(trouble);
        hand.ghost = true;
    }
    lead(hand, setup, before, after, line, &mut first);
    let in_ring = hand.edge.ring && hand.edge.slots.iter().all(|s| s.top == Top::Base);
    let own_lead = in_ring && is_own_lead(after, setup.size);
    hand.used.chains(u32::from(own_lead));
    let after = if own_lead { after.get(1..).unwrap_or_default() } else { after };
    for step in after {
        follow(hand, step, &mut first);
    }
    first
}

/// A single chain that a round into a ring begins with stands on nothing: it is no space but the round's lead.
fn is_own_lead(steps: &[Step], size: usize) -> bool {
    match steps {
        [Step { kind: StepKind::Chain(chains), .. }, next, ..] => {
            chains.get(size) == 1 && !matches!(next.kind, StepKind::Skip(..) | StepKind::Chain(_) | StepKind::Repeat(_))
        }
        _ => false,
    }
}

fn follow(hand: &mut Hand<'_>, step: &Step, first: &mut Option<Trouble>) {
    if first.is_some() {
        hand.ghost = true;
    }
    let before = (hand.at, hand.made.len(), hand.groups.len(), hand.account, hand.in_place, hand.limit, hand.depth);
    let used = hand.used.mark();
    let Err(trouble) = hand.step(step) else { return };
    let large = trouble.kind == FaultKind::TooLarge;
    first.get_or_insert(*trouble);
    hand.ghost = true;
    let made;
    (hand.at, made, _, hand.account, hand.in_place, hand.limit, hand.depth) = before;
    super::edge::shorten(&mut hand.made, made);
    hand.groups.truncate(before.2);
    hand.used.back_to(used);
    if !large {
        // Past the first fault nothing is reported any more.
        let _ = hand.step(step);
    }
    (hand.in_place, hand.depth) = (before.4, before.6);
    hand.limit = hand.edge.slots.len();
}

/// The first row on a starting chain has to say which chain it begins in.
fn chain_unsaid(hand: &Hand<'_>, steps: &[Step]) -> Option<Trouble> {
    use crate::pattern::model::{Place, Where};
    if !hand.edge.from_hook {
        return None;
    }
    let says = |step: &Step| match &step.kind {
        StepKind::Work(work) => matches!(work.places, Where::In(Place::FromHook(_))),
        StepKind::Group(_, places) => matches!(places, Where::In(Place::FromHook(_))),
        StepKind::Go(place) => matches!(place, Place::FromHook(_)),
        _ => false,
    };
    let quiet = |step: &&Step| {
        matches!(
            step.kind,
            StepKind::Chain(_)
                | StepKind::ChainAs(..)
                | StepKind::TurningAs(..)
                | StepKind::Mark(_)
                | StepKind::JoinTo(..)
        )
    };
    let first = steps.iter().find(|s| !quiet(s))?;
    let chains = u32::try_from(hand.edge.slots.len()).unwrap_or(u32::MAX);
    (!says(first)).then_some(Trouble { span: first.span, kind: FaultKind::ChainUnsaid { chains } })
}

/// Works the chain that the line starts with, unless the line brings its own.
fn lead(
    hand: &mut Hand<'_>,
    setup: Setup<'_>,
    before: &[Step],
    after: &[Step],
    line: &Line,
    first: &mut Option<Trouble>,
) {
    let own = before.iter().find_map(|s| match &s.kind {
        StepKind::Lead(lead) => Some(lead),
        _ => None,
    });
    let longer = |s: &Step| matches!(setup.lead, Lead::Plain(lead) if s.begins_with_chain_over(*lead));
    let chain = |s: &Step| matches!(s.kind, StepKind::Chain(_) | StepKind::ChainAs(..)) || longer(s);
    let brings_chain = after.first().is_some_and(chain);
    hand.lead = match own {
        Some(own) => own.clone(),
        None if brings_chain || setup.way == Way::Spiral => Lead::None,
        None => setup.lead.clone(),
    };
    if let Lead::Plain(chains) | Lead::Counted(chains, _) = &hand.lead {
        hand.trail.mark("lead", &chains.to_string());
    }
    if hand.edge.from_hook {
        // The starting chain holds the lead; one that does not count can be worked into as any other.
        hand.plain_lead = matches!(hand.lead, Lead::Plain(_));
        return;
    }
    match hand.lead.clone() {
        // The line's own chain can be worked into from the line above, as a lead can.
        Lead::None => hand.plain_lead = brings_chain,
        Lead::Plain(chains) => {
            hand.used.chains(chains);
            hand.plain_lead = true;
        }
        Lead::Counted(chains, stitch) => {
            hand.used.chains(chains);
            if let Err(trouble) = hand.counted_lead(stitch, line.steps_span) {
                first.get_or_insert(*trouble);
                hand.made.push(Slot { lead: true, ..Slot::new(Top::Stitch(stitch)) });
            }
        }
    }
}

impl Hand<'_> {
    /// Looks at what is left at the end of the line, and gives back what waits.
    fn end(&mut self, span: Span, trouble: &mut Option<Trouble>) -> Vec<Slot> {
        self.leave_side();
        self.leave_standing();
        // Last chains are joined where the round began.
        if self.ended.is_none() && self.made.last().is_some_and(|s| matches!(s.top, Top::Chain { .. })) {
            self.into_beginning();
        }
        let end = self.edge.slots.len();
        if self.at >= end {
            return Vec::new();
        }
        if self.ended.is_some() {
            let left = self.count_range(self.at, end);
            self.account.left = self.account.left.saturating_add(left);
            return self.edge.slots.split_off(self.at);
        }
        let met_again = self
            .edge
            .slots
            .get(self.at..end.saturating_sub(self.half_at_end()))
            .unwrap_or_default()
            .iter()
            .any(|slot| self.sought.iter().any(|kind| slot.is(*kind, &self.pattern.stitches)));
        if self.rest_done || self.edge.circle && (self.passes_rest && !met_again || self.gap_as_before()) {
            self.pass_to(end);
            return Vec::new();
        }
        let left = self.count_range(self.at, end);
        self.account.left = self.account.left.saturating_add(left);
        if trouble.is_none() {
            *trouble = Some(Trouble { span, kind: FaultKind::LeftOver { left } });
        }
        Vec::new()
    }

    /// How many of the last slots are the first chains of a space whose others come first, since the round began there.
    fn half_at_end(&self) -> usize {
        match self.edge.slots.last().map(|s| s.top) {
            Some(Top::Chain { at, of }) if self.edge.circle && at + 1 < of => usize::from(at) + 1,
            _ => 0,
        }
    }

    fn ledger(&self, stated: Option<&Stated>) -> Ledger {
        let mut made: Vec<(Kind, u32)> = Vec::new();
        let (mut stitches, mut chains) = (0_u32, 0_u32);
        for slot in &self.made {
            match slot.top {
                Top::Stitch(id) => {
                    stitches += 1;
                    // A unit that makes several is counted once, as a group.
                    if self.stitch(id).is_none_or(|s| !s.own || s.makes.len() == 1) {
                        tally(&mut made, Kind::Stitch(id), 1);
                    }
                }
                Top::Chain { .. } => chains += 1,
                Top::Base | Top::RowEnd => {}
            }
            if let Some(length) = slot.space() {
                tally(&mut made, Kind::Space(length), 1);
            }
        }
        for group in &self.groups {
            tally(&mut made, Kind::Stitch(*group), 1);
        }
        let bare = stated.and_then(|s| s.parts.iter().find(|(_, kind)| kind.is_none()));
        let mut runs = self.runs.clone();
        runs.sort_unstable();
        Ledger {
            offered: self.account.offered,
            worked: self.account.worked,
            skipped: self.account.skipped,
            passed: self.account.passed,
            left: self.account.left,
            stitches,
            chains,
            runs_as_stitches: runs,
            made: made.into_iter().map(|(kind, count)| Tally { kind, count }).collect(),
            stated: bare.map(|(amount, _)| amount.get(self.size)),
            used: self.used.stretches(),
        }
    }
}

/// Compares what was made with what is stated; the first difference counts.
fn check_stated(ledger: &Ledger, stated: Option<&Stated>, setup: Setup<'_>) -> Option<Trouble> {
    let stated = stated?;
    stated.parts.iter().find_map(|(amount, kind)| {
        let (made, wanted) = (stated_part(ledger, stated, *kind, setup.pattern), amount.get(setup.size));
        let kind = FaultKind::Count { kind: *kind, made, stated: wanted };
        (made != wanted).then_some(Trouble { span: stated.span, kind })
    })
}

/// How many of a stated kind a line made. A stitch counts once, for the nearest kind stated: where `dc2tog` is stated
/// beside `dc`, it is no `dc`.
pub(crate) fn stated_part(ledger: &Ledger, stated: &Stated, kind: Option<Kind>, pattern: &Pattern) -> u32 {
    let Some(Kind::Stitch(wanted)) = kind else { return count_of(ledger, kind, pattern) };
    let nearer = |made: Kind| {
        stated.parts.iter().any(|(_, other)| match other {
            Some(Kind::Stitch(other)) if *other != wanted => {
                answers(made, *other, pattern) && pattern.stitches.answers(*other, wanted)
            }
            _ => false,
        })
    };
    let counted = ledger.made.iter().filter(|t| answers(t.kind, wanted, pattern) && !nearer(t.kind));
    counted.map(|t| t.count).sum()
}

/// How many of a kind a line made; the bare count without a kind.
pub(super) fn count_of(ledger: &Ledger, kind: Option<Kind>, pattern: &Pattern) -> u32 {
    let sum = |fits: &dyn Fn(Kind) -> bool| ledger.made.iter().filter(|t| fits(t.kind)).map(|t| t.count).sum();
    match kind {
        None => ledger.stitches + if pattern.counts_chains { ledger.chains } else { 0 },
        Some(Kind::AnyStitch) => ledger.stitches,
        Some(Kind::Chain) => ledger.chains,
        Some(Kind::AnySpace) => sum(&|k| matches!(k, Kind::Space(_))),
        Some(space @ Kind::Space(_)) => sum(&|k| k == space),
        Some(Kind::Stitch(wanted)) => sum(&|k| answers(k, wanted, pattern)),
    }
}

fn answers(kind: Kind, wanted: StitchId, pattern: &Pattern) -> bool {
    matches!(kind, Kind::Stitch(id) if pattern.stitches.answers(id, wanted))
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_unit_that_makes_two_counts_once_by_its_name() {
        let text = "pattern Swatch\nterms US\nstitch pair \"pair\": takes 2, makes 2\n\npiece Swatch, in rows\nstart ch 9\n\
            row 1: sc in 2nd ch from hook, sc to end = 8\nrow 2: pair to end = 4 pair\nrow 3: sc to end = 8\n";
        let findings = crate::compile(text).findings;
        assert!(findings.iter().all(|f| f.severity != crate::diagnostic::Severity::Error), "{findings:?}");
    }

    #[test]
    fn a_row_that_begins_with_chains_and_goes_back_along_them_is_longer() {
        let clean = |lines: &str| {
            let text = format!("pattern Swatch\nterms US\n\npiece Swatch, in rows\n{lines}");
            let findings = crate::compile(&text).findings;
            assert!(findings.is_empty(), "{findings:?}");
        };
        clean(
            "lead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\n\
            row 2: ch 4, sc in 2nd ch from hook, sc in next 2 ch, sc to end = 13\n\
            row 3: ch 2, sc in 2nd ch from hook, sc to end = 14\n",
        );
        clean(
            "lead ch 3 as dc\nstart ch 12\nrow 1: dc in 4th ch from hook, dc to end = 10\n\
            row 2: ch 6, dc in 4th ch from hook, dc to end = 14\n\
            row 3: ch 8, turning ch 5 as dc + ch-2 sp, dc, ch 2, skip 2, dc to end = 16 dc + 2 ch-2 sp\n",
        );
        // A picot before the row makes it no longer.
        clean(
            "lead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\n\
            row 2: ch 3, sl st in 3rd ch from hook, sc to end = 10\n",
        );
    }

    #[test]
    fn a_single_chain_before_a_ring_is_the_lead() {
        let text = "pattern Disc\nterms US\npiece Disc, in joined rounds\nstart ring\nrnd 1: ch 1, 12 sc in ring = 12\n\
            rnd 2: ch 1, skip 1, [sc, ch 1, skip 1] 5 times, sc = 6 sc + 6 ch-1 sp\n";
        let findings = crate::compile(text).findings;
        assert!(findings.is_empty(), "{findings:?}");
    }
}
