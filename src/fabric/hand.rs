//! One line, worked: the hook goes along the edge and leaves new stitches.

use super::edge::{Edge, Slot, Top, places, push_chains};
use super::fault::{FaultKind, Reading};
use super::trail::Trail;
use super::used::Used;
use crate::diagnostic::Span;
use crate::limits;
use crate::pattern::model::{Kind, Lead, Pattern};
use crate::stitch::{Made, Stitch, StitchId};

/// Works one line of one size.
#[derive(Debug, Clone)]
pub(super) struct Hand<'a> {
    pub pattern: &'a Pattern,
    pub size: usize,
    /// The edge that the line goes along.
    pub edge: Edge,
    /// The next place that nothing has been worked into.
    pub at: usize,
    /// Where a step must stop: the end of the edge, or nearer inside a repeat.
    pub limit: usize,
    /// Where the last stitch went.
    pub here: Option<Here>,
    /// The hook stands in the first so many slots without having worked there.
    pub standing: usize,
    /// Those slots are a space.
    pub standing_in_space: bool,
    /// Slip stitches have led into the middle of a space, so that the next one is another.
    pub moved_half: bool,
    /// Yarn has been joined in those slots when so much was made, so that the next stitch goes there.
    pub joined_there: Option<usize>,
    /// The last so many slots are where the round began; nothing was worked there as it began.
    pub began_in: usize,
    /// What has been made, in order.
    pub made: Vec<Slot>,
    /// Groups such as V-stitches, which are counted besides what they consist of.
    pub groups: Vec<StitchId>,
    pub account: Account,
    /// What has been used of the yarn.
    pub used: Used,
    /// How many groups in one place we are inside.
    pub in_place: u32,
    /// Places without end, so that a line can be followed past its fault.
    pub ghost: bool,
    pub reading: Reading,
    /// Bare steps that went over the chains of a space: the step and the length.
    pub asked: Vec<(Span, u32)>,
    /// A bare skip ended inside a space: before which slot, the step and the length.
    pub cut: Option<(usize, Span, u32)>,
    /// Such skips after which a bare step went on in the space: the step and the length.
    pub cuts: Vec<(Span, u32)>,
    /// Lengths of the runs whose chains were taken as stitches, each once, as they were met.
    pub runs: Vec<u32>,
    /// Yarn was joined in a place of a round that looks the same from every place of its kind.
    pub joined_anywhere: bool,
    pub spreads: Vec<super::Spread>,
    /// Chains made in this line that a strip is being worked along: so many are still ahead.
    pub side: u32,
    /// Such a strip has been begun, so that its last stitch belongs to it too.
    pub strip: bool,
    /// One past the last place that was worked into as the line went along.
    pub after_worked: usize,
    /// A kind of place was skipped since then.
    pub skipped_kind: bool,
    /// What was skipped last and has not been gone back to: the first slot, and one past the last.
    pub skipped: (usize, usize),
    /// Stretches between two places that were worked into.
    pub gaps: Vec<Gap>,
    /// Where the hook was before it went into chains just made.
    pub hung_from: Option<Here>,
    /// Kinds of place that the line went to.
    pub sought: Vec<Kind>,
    /// Whether what was run past at the end is what the line leaves between the places it names.
    pub passes_rest: bool,
    /// A repeat to the end found no more of the places it names.
    pub rest_done: bool,
    /// Places taken, skipped ones included; a repeat that takes none never ends.
    pub taken: u64,
    /// What was made, for comparing it with other wordings.
    pub trail: Trail,
    pub lead: Lead,
    /// The lead of the piece, which the chain of a lengthened row stands for.
    pub piece_lead: Lead,
    /// A plain chain that the line started with.
    pub plain_lead: bool,
    /// Chains skipped at the start of a starting chain.
    pub hook_skip: Option<usize>,
    /// The line stopped here: turned short, or left the rest.
    pub ended: Option<Ended>,
    pub closed: bool,
    /// Names of markers; a slot holds their number.
    pub marks: Vec<String>,
    /// Passes of repeats that a line may still make.
    pub budget: u64,
    /// Rows worked before, the starting edge included.
    pub rows_below: u32,
    pub depth: u32,
}

/// Places that were not worked into, up to one that was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Gap {
    pub from: usize,
    /// One past the last.
    pub to: usize,
    /// A place in it or the one after it was looked for by its kind, not counted out.
    pub sought: bool,
}

/// A place that the hook is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Here {
    /// This slot.
    Slot(usize),
    /// The space that begins at this slot.
    Space(usize),
    Ring,
    /// Between two places.
    Gap,
    /// A chain of those just made in this line.
    Made,
    /// The top of a chain that does not count.
    Lead,
    /// A place that isn't there, after a fault.
    Ghost,
}

/// How a line ended before its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ended {
    /// Turned; what is left waits.
    Turned,
    /// What is left stays unworked.
    Left,
}

/// Places used so far; see [`super::Ledger`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Account {
    pub worked: u32,
    pub skipped: u32,
    pub passed: u32,
    pub left: u32,
    /// Places that were there; cutting a space into its chains makes more of them.
    pub offered: u32,
}

/// A fault and its place in the text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Trouble {
    pub span: Span,
    pub kind: FaultKind,
}

pub(super) type Outcome<T = ()> = Result<T, Box<Trouble>>;

pub(super) fn trouble<T>(span: Span, kind: FaultKind) -> Outcome<T> {
    Err(Box::new(Trouble { span, kind }))
}

impl Hand<'_> {
    /// The stitch of a number.
    pub(super) fn stitch(&self, id: StitchId) -> Option<&Stitch> {
        self.pattern.stitches.get(id)
    }

    /// Places that a stitch stands on when it is worked by itself.
    pub(super) fn takes(&self, id: StitchId) -> u32 {
        self.stitch(id).map_or(1, |s| s.takes)
    }

    /// Takes the next place, whatever it is.
    pub(super) fn take(&mut self, span: Span) -> Outcome<Here> {
        self.leave_side();
        self.leave_standing();
        if self.at >= self.limit {
            if self.ghost {
                self.arrive(Here::Ghost);
                return Ok(Here::Ghost);
            }
            return trouble(span, FaultKind::RanOut { wanted: 1, had: 0, repeat: None });
        }
        let at = self.at;
        self.gap_before(at, false);
        self.after_worked = self.after_worked.max(at + 1);
        if let Some(length) = self.edge.slots.get(at).and_then(|s| s.space()).filter(|n| *n > 1) {
            self.account.offered = self.account.offered.saturating_add(length - 1);
            self.asked.push((span, length));
        }
        let cut = self.cut.take().filter(|(before, ..)| *before == at);
        self.cuts.extend(cut.map(|(_, span, length)| (span, length)));
        self.at += 1;
        self.moved_half = false;
        self.account.worked += 1;
        self.note_runs(at, self.at);
        self.arrive(Here::Slot(at));
        self.passes_rest = false;
        self.rest_done = false;
        Ok(Here::Slot(at))
    }

    /// Remembers the runs of chains in a stretch that is taken as if it were stitches.
    pub(super) fn note_runs(&mut self, from: usize, to: usize) {
        for slot in self.edge.slots.get(from..to).unwrap_or_default() {
            if let Top::Chain { of, .. } = slot.top
                && !self.runs.contains(&u32::from(of))
            {
                self.runs.push(u32::from(of));
            }
        }
    }

    /// Goes to the next place of a kind; what lies between is passed over.
    pub(super) fn seek(&mut self, kind: Kind, span: Span) -> Outcome<Here> {
        if let Some(next) = self.side.checked_sub(1).filter(|_| kind == Kind::Chain) {
            self.side = next;
            self.arrive(Here::Made);
            return Ok(Here::Made);
        }
        self.leave_side();
        self.leave_standing();
        let Some(found) = self.find(kind) else {
            if self.ghost {
                self.arrive(Here::Ghost);
                return Ok(Here::Ghost);
            }
            return trouble(span, FaultKind::NoPlace { wanted: kind, there: self.kinds_left(kind) });
        };
        self.pass_to(found);
        if !self.sought.contains(&kind) {
            self.sought.push(kind);
        }
        self.passes_rest = true;
        Ok(self.occupy(found, kind))
    }

    /// The next place of a kind before the limit.
    pub(super) fn find(&self, kind: Kind) -> Option<usize> {
        let range = self.edge.slots.get(self.at..self.limit)?;
        // A space that the hook has gone into half-way is still that space.
        if let (Some(first), Kind::Space(_) | Kind::AnySpace) = (range.first(), kind)
            && let Top::Chain { at, of } = first.top
            && at > 0
            && !self.moved_half
            && (kind == Kind::AnySpace || kind == Kind::Space(u32::from(of)))
        {
            return Some(self.at);
        }
        range.iter().position(|s| s.is(kind, &self.pattern.stitches)).map(|n| self.at + n)
    }

    /// Uses up the place at `found`: a whole space when a space was named.
    pub(super) fn occupy(&mut self, found: usize, kind: Kind) -> Here {
        let slot = self.edge.slots.get(found).copied();
        self.moved_half = false;
        let here = match kind {
            Kind::Space(_) | Kind::AnySpace => {
                self.at = self.end_of_space(found);
                Here::Space(found)
            }
            Kind::AnyStitch | Kind::Chain | Kind::Stitch(_) => {
                if let Some(length) = slot.and_then(Slot::space) {
                    self.account.offered = self.account.offered.saturating_add(length - 1);
                }
                self.at = found + 1;
                Here::Slot(found)
            }
        };
        self.gap_before(found, true);
        self.after_worked = self.after_worked.max(self.at);
        self.account.worked += 1;
        self.arrive(here);
        here
    }

    /// Remembers what lies between the place worked into before and this one.
    fn gap_before(&mut self, found: usize, sought: bool) {
        let sought = std::mem::take(&mut self.skipped_kind) || sought;
        if found > self.after_worked {
            self.gaps.push(Gap { from: self.after_worked, to: found, sought });
        }
    }

    /// What lies between the last place worked into and the first is left between two places of the line as well.
    pub(super) fn gap_as_before(&self) -> bool {
        let shape = |from, to| -> Vec<bool> {
            let slots = self.edge.slots.get(from..to).unwrap_or_default();
            let whole = slots.iter().filter(|s| !matches!(s.top, Top::Chain { at, .. } if at > 0));
            whole.map(|s| s.space().is_some()).collect()
        };
        let last = shape(self.after_worked, self.edge.slots.len());
        let (head, between): (Vec<Gap>, Vec<Gap>) = self.gaps.iter().partition(|g| g.from == 0);
        // Whether the round began in the first place or only beyond what it passed by then, the line does not say.
        let round = [last.clone(), head.iter().flat_map(|g| shape(g.from, g.to)).collect()].concat();
        between.iter().filter(|g| g.sought).any(|g| [&last, &round].contains(&&shape(g.from, g.to)))
    }

    /// One past the last chain of the space that a slot belongs to.
    pub(super) fn end_of_space(&self, slot: usize) -> usize {
        match self.edge.slots.get(slot).map(|s| s.top) {
            Some(Top::Chain { at, of }) => slot + usize::from(of.saturating_sub(at)),
            _ => slot + 1,
        }
        .min(self.edge.slots.len())
    }

    fn arrive(&mut self, here: Here) {
        self.strip = self.strip && here == Here::Made;
        self.here = Some(here);
        // Chains made in this line are no places of the edge.
        self.taken += u64::from(here != Here::Made);
    }

    /// Passes over everything before `to`. A space counts as one place when it is passed as a whole.
    pub(super) fn pass_to(&mut self, to: usize) {
        let passed = self.count_range(self.at, to);
        self.account.passed = self.account.passed.saturating_add(passed);
        self.at = self.at.max(to);
    }

    /// Places from one slot to another. Cutting a space in two makes each of its chains a place.
    pub(super) fn count_range(&mut self, from: usize, to: usize) -> u32 {
        let mut counted = 0;
        let mut at = from;
        while at < to {
            let next = match self.edge.slots.get(at).map(|s| s.top) {
                Some(Top::Chain { at: 0, of }) if at + usize::from(of) <= to => at + usize::from(of),
                Some(Top::Chain { at: 0, of }) => {
                    self.account.offered = self.account.offered.saturating_add(u32::from(of).saturating_sub(1));
                    at + 1
                }
                Some(_) => at + 1,
                None => break,
            };
            counted += 1;
            at = next;
        }
        counted
    }

    /// Works into the place that the hook stands in, or into the one of the last stitch.
    pub(super) fn same(&mut self, span: Span) -> Outcome<Here> {
        if self.standing > 0 {
            let here = if self.standing_in_space { Here::Space(0) } else { Here::Slot(0) };
            self.at = self.at.max(self.standing);
            self.after_worked = self.at;
            self.standing = 0;
            self.account.worked += 1;
            self.arrive(here);
            return Ok(here);
        }
        // A picot or a strip is done: the place is the one that it hangs from.
        let chained = matches!(self.made.last().map(|s| s.top), Some(Top::Chain { .. }));
        let done = self.strip && (self.side == 0 || chained);
        if self.here == Some(Here::Made) && done && self.hung_from.is_some() {
            self.leave_side();
            self.here = self.hung_from;
        }
        match self.here {
            Some(here) => Ok(here),
            None if self.at == 0 && self.limit > 0 => self.take(span),
            None if self.ghost => Ok(Here::Ghost),
            None => trouble(span, FaultKind::NoSame),
        }
    }

    /// Goes into a chain of those just made, counted from the hook. They are no space any more: what is worked along
    /// them hangs on the stitch before, and a tall stitch into the first of them stands there itself.
    pub(super) fn into_made(&mut self, number: u32) -> Option<Here> {
        let run = match self.made.last().map(|s| s.top) {
            Some(Top::Chain { of, .. }) => u32::from(of),
            _ => return None,
        };
        self.side = run.checked_sub(number)?;
        let kept = self.made.len().checked_sub(usize::try_from(run).ok()?)?;
        self.made.truncate(kept);
        if self.here != Some(Here::Made) {
            self.hung_from = self.here;
        }
        self.arrive(Here::Made);
        Some(Here::Made)
    }

    /// A row that begins with a chain and goes back along it is longer by that chain: the chain is a new piece of
    /// starting chain before the edge. One that is all used by its first stitch is a picot or a stitch that stands there,
    /// but for the two chains of one more single crochet.
    pub(super) fn lengthen(&mut self, number: u32) {
        let run = self.made.len();
        let chains = u32::try_from(run).unwrap_or(u32::MAX);
        let only_chains = run > 0 && self.made.iter().all(|s| matches!(s.top, Top::Chain { .. }));
        let begins = self.taken == 0 && self.at == 0 && self.limit == self.edge.slots.len() && self.in_place == 0;
        let strip = !self.edge.circle && !self.edge.ring && !self.edge.from_hook;
        if !(only_chains && begins && strip) || number > chains || number == chains && number != 2 {
            return;
        }
        self.made.clear();
        self.edge.slots.splice(0..0, std::iter::repeat_n(Slot::new(Top::Base), run));
        self.limit = self.edge.slots.len();
        self.account.offered = self.account.offered.saturating_add(chains);
        self.edge.from_hook = true;
        self.lead = self.piece_lead.clone();
    }

    /// Chains of a strip that were not worked along are a space after all.
    pub(super) fn leave_side(&mut self) {
        let side = std::mem::take(&mut self.side);
        push_chains(&mut self.made, side);
    }

    /// The hook goes on without working where it stood: in the round that place comes last, in a row it is left. Where
    /// yarn has just been joined the first stitch goes into that same place.
    pub(super) fn leave_standing(&mut self) {
        if self.standing == 0 {
            return;
        }
        let standing = std::mem::take(&mut self.standing).min(self.edge.slots.len());
        if self.joined_there == Some(self.made.len()) {
            return;
        }
        if self.edge.circle {
            self.edge.slots.rotate_left(standing);
            self.began_in = standing;
        } else {
            self.account.left = self.account.left.saturating_add(self.count_range(self.at, standing));
            self.at = self.at.max(standing);
        }
    }

    /// The first slot of the place where the round began, which comes last; behind the end when there is none.
    pub(super) fn beginning(&self) -> usize {
        let end = self.edge.slots.len();
        let chained = matches!(self.made.last().map(|s| s.top), Some(Top::Chain { .. }));
        if self.began_in > 0 && self.limit == end && !chained { end.saturating_sub(self.began_in) } else { end }
    }

    /// The round is closed where it began; that place is used up if nothing was worked there.
    pub(super) fn into_beginning(&mut self) {
        self.leave_standing();
        let before = self.edge.slots.len().saturating_sub(self.began_in);
        if self.began_in > 0 && self.at <= before {
            self.edge.slots.truncate(before);
            self.began_in = 0;
            self.limit = self.limit.min(before);
            self.account.worked += 1;
        }
    }

    /// Makes a stitch where the hook is.
    pub(super) fn make(&mut self, id: StitchId, span: Span) -> Outcome {
        let Some(stitch) = self.pattern.stitches.get(id) else { return Ok(()) };
        self.trail.stitch(self.pattern, id, self.here);
        self.used.stitch(id);
        // Along chains made in this line only a tall stitch that uses all of them leaves a top on the edge.
        if self.here == Some(Here::Made) && (self.side > 0 || self.strip || stitch.height <= 1) {
            self.strip = true;
            self.groups.push(id);
            return self.bounded(span);
        }
        if let [Made::Stitch(one)] = stitch.makes.as_slice() {
            self.made.push(Slot::new(Top::Stitch(*one)));
        } else {
            for made in &stitch.makes {
                match made {
                    Made::Stitch(one) => self.made.push(Slot::new(Top::Stitch(*one))),
                    Made::Chains(chains) => push_chains(&mut self.made, *chains),
                }
            }
            self.groups.push(id);
        }
        self.bounded(span)
    }

    /// Works chains.
    pub(super) fn chain(&mut self, chains: u32, span: Span) -> Outcome {
        self.used.chains(chains);
        self.add_chains(chains, span)
    }

    /// Adds chains to the edge, however they came to be worked.
    pub(super) fn add_chains(&mut self, chains: u32, span: Span) -> Outcome {
        self.charge_run(span)?;
        self.trail.chains(chains);
        push_chains(&mut self.made, chains.min(u32::from(u16::MAX)));
        self.bounded(span)
    }

    /// Every chain knows how long its run is, so a run that grows chain by chain costs more with each; it is charged as
    /// passes of repeats are.
    fn charge_run(&mut self, span: Span) -> Outcome {
        const CHAINS_A_PASS: u64 = 10;
        let run = match self.made.last().map(|s| s.top) {
            Some(Top::Chain { of, .. }) => u64::from(of),
            _ => 0,
        };
        match self.budget.checked_sub(run / CHAINS_A_PASS) {
            Some(rest) => {
                self.budget = rest;
                Ok(())
            }
            None => trouble(span, FaultKind::TooLarge),
        }
    }

    /// Counts one pass of a repeat, so that nested repeats come to an end.
    pub(super) fn step_budget(&mut self, span: Span) -> Outcome {
        match self.budget.checked_sub(1) {
            Some(rest) => {
                self.budget = rest;
                Ok(())
            }
            None => trouble(span, FaultKind::TooLarge),
        }
    }

    pub(super) fn bounded(&self, span: Span) -> Outcome {
        if self.made.len() > limits::MOST_IN_A_LINE || self.groups.len() > limits::MOST_IN_A_LINE {
            return trouble(span, FaultKind::TooLarge);
        }
        Ok(())
    }

    /// A post stitch needs a stitch with a post.
    pub(super) fn needs_post(&self, id: StitchId, here: Here, span: Span) -> Outcome {
        if !self.stitch(id).is_some_and(|s| s.around_post) || here == Here::Ghost || self.ghost {
            return Ok(());
        }
        let there = match here {
            Here::Slot(slot) | Here::Space(slot) => self.edge.slots.get(slot).copied(),
            Here::Ring | Here::Gap | Here::Made | Here::Lead | Here::Ghost => None,
        };
        let good = match there.map(|s| s.top) {
            Some(Top::Stitch(below)) => self.stitch(below).is_some_and(|s| s.has_post) || there.is_some_and(|s| s.lead),
            Some(Top::Chain { .. } | Top::Base | Top::RowEnd) | None => false,
        };
        if good { Ok(()) } else { trouble(span, FaultKind::NoPost { there: there.map(kind_of) }) }
    }

    /// A chain that counts as a stitch, standing where the hook is or on the next place.
    pub(super) fn counted_lead(&mut self, id: StitchId, span: Span) -> Outcome {
        if self.in_place == 0 {
            if self.standing > 0 {
                self.same(span)?;
            } else if self.edge.ring && self.edge.slots.is_empty() {
                self.here = Some(Here::Ring);
            } else {
                self.take(span)?;
            }
        }
        let first = self.made.is_empty();
        self.trail.mark("lead", "");
        self.trail.stitch(self.pattern, id, self.here);
        self.made.push(Slot { lead: first, ..Slot::new(Top::Stitch(id)) });
        self.bounded(span)
    }

    /// What lies ahead, with how many of each: kinds of stitch where a stitch is looked for, else kinds of space.
    pub(super) fn kinds_left(&self, wanted: Kind) -> Vec<(Kind, u32)> {
        let mut there: Vec<(Kind, u32)> = Vec::new();
        for slot in self.edge.slots.iter().take(self.limit).skip(self.at) {
            match (wanted, slot.top) {
                (Kind::Stitch(_), Top::Stitch(id)) => tally(&mut there, Kind::Stitch(id), 1),
                (Kind::Stitch(_), _) => {}
                _ => slot.space().into_iter().for_each(|length| tally(&mut there, Kind::Space(length), 1)),
            }
        }
        there
    }

    /// Places that are left before a slot.
    pub(super) fn left_before(&self, end: usize) -> u32 {
        places(self.edge.slots.get(self.at..end).unwrap_or_default())
    }
}

/// The kind of a place.
pub(super) fn kind_of(slot: Slot) -> Kind {
    match slot.top {
        Top::Stitch(id) => Kind::Stitch(id),
        Top::Chain { of, .. } => Kind::Space(u32::from(of)),
        Top::Base => Kind::Chain,
        Top::RowEnd => Kind::AnyStitch,
    }
}

/// Adds to the number of a kind.
pub(super) fn tally(list: &mut Vec<(Kind, u32)>, kind: Kind, more: u32) {
    match list.iter_mut().find(|(k, _)| *k == kind) {
        Some((_, count)) => *count = count.saturating_add(more),
        None => list.push((kind, more)),
    }
}
