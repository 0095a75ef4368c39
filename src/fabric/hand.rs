//! One line, worked: the hook goes along the edge and leaves new stitches.

use super::edge::{Edge, Slot, Top, places, push_chains};
use super::fault::{FaultKind, Reading};
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
    /// The last so many slots are where the round began; nothing was worked there as it began.
    pub began_in: usize,
    /// What has been made, in order.
    pub made: Vec<Slot>,
    /// Groups such as V-stitches, which are counted besides what they consist of.
    pub groups: Vec<StitchId>,
    pub account: Account,
    /// How many groups in one place we are inside.
    pub in_place: u32,
    /// Places without end, so that a line can be followed past its fault.
    pub ghost: bool,
    pub reading: Reading,
    /// Bare steps that went over the chains of a space: the step and the length.
    pub asked: Vec<(Span, u32)>,
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
    /// Stretches between two places that were worked into, first and one past the last.
    pub gaps: Vec<(usize, usize)>,
    /// Kinds of place that the line went to.
    pub sought: Vec<Kind>,
    /// Whether what was run past at the end is what the line leaves between the places it names.
    pub passes_rest: bool,
    /// A repeat to the end found no more of the places it names.
    pub rest_done: bool,
    /// Places taken, skipped ones included; a repeat that takes none never ends.
    pub taken: u64,
    pub lead: Lead,
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

/// A place that the hook is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Here {
    /// This slot.
    Slot(usize),
    /// The space that begins at this slot.
    Space(usize),
    Ring,
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
        if let Some(next) = self.side.checked_sub(1) {
            self.side = next;
            self.arrive(Here::Made);
            return Ok(Here::Made);
        }
        self.leave_standing();
        if self.at >= self.limit {
            if self.ghost {
                self.arrive(Here::Ghost);
                return Ok(Here::Ghost);
            }
            return trouble(span, FaultKind::RanOut { wanted: 1, had: 0 });
        }
        let at = self.at;
        self.gap_before(at, at + 1);
        if let Some(length) = self.edge.slots.get(at).and_then(|s| s.space()).filter(|n| *n > 1) {
            self.account.offered = self.account.offered.saturating_add(length - 1);
            self.asked.push((span, length));
        }
        self.at += 1;
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
        if kind == Kind::Chain && self.side > 0 {
            return self.take(span);
        }
        self.leave_side();
        self.leave_standing();
        let Some(found) = self.find(kind) else {
            if self.ghost {
                self.arrive(Here::Ghost);
                return Ok(Here::Ghost);
            }
            return trouble(span, FaultKind::NoPlace { wanted: kind, there: self.spaces_left() });
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
            && (kind == Kind::AnySpace || kind == Kind::Space(u32::from(of)))
        {
            return Some(self.at);
        }
        range.iter().position(|s| s.is(kind, &self.pattern.stitches)).map(|n| self.at + n)
    }

    /// Uses up the place at `found`: a whole space when a space was named.
    pub(super) fn occupy(&mut self, found: usize, kind: Kind) -> Here {
        let slot = self.edge.slots.get(found).copied();
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
        self.gap_before(found, self.at);
        self.account.worked += 1;
        self.arrive(here);
        here
    }

    /// Remembers what lies between the place worked into before and this one.
    fn gap_before(&mut self, found: usize, after: usize) {
        if found > self.after_worked {
            self.gaps.push((self.after_worked, found));
        }
        self.after_worked = self.after_worked.max(after);
    }

    /// What lies between the last place worked into and the first is left between two places of the line as well.
    pub(super) fn gap_as_before(&self) -> bool {
        let shape = |(from, to): (usize, usize)| -> Vec<bool> {
            let slots = self.edge.slots.get(from..to).unwrap_or_default();
            let whole = slots.iter().filter(|s| !matches!(s.top, Top::Chain { at, .. } if at > 0));
            whole.map(|s| s.space().is_some()).collect()
        };
        let mut last = shape((self.after_worked, self.edge.slots.len()));
        let between = match self.gaps.split_first() {
            Some((head @ (0, _), between)) => {
                last.extend(shape(*head));
                between
            }
            _ => self.gaps.as_slice(),
        };
        between.iter().any(|gap| shape(*gap) == last)
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
        self.taken += 1;
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
        self.arrive(Here::Made);
        Some(Here::Made)
    }

    /// Chains of a strip that were not worked along are a space after all.
    pub(super) fn leave_side(&mut self) {
        let side = std::mem::take(&mut self.side);
        push_chains(&mut self.made, side);
    }

    /// The hook goes on without working where it stood: in the round that place comes last, in a row it is left.
    pub(super) fn leave_standing(&mut self) {
        if self.standing == 0 {
            return;
        }
        let standing = std::mem::take(&mut self.standing);
        if self.edge.circle {
            let standing = standing.min(self.edge.slots.len());
            self.edge.slots.rotate_left(standing);
            self.began_in = standing;
        } else {
            self.account.left = self.account.left.saturating_add(self.count_range(self.at, standing));
            self.at = self.at.max(standing);
        }
    }

    /// Makes a stitch where the hook is.
    pub(super) fn make(&mut self, id: StitchId, span: Span) -> Outcome {
        let Some(stitch) = self.pattern.stitches.get(id) else { return Ok(()) };
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

    /// Adds chains.
    pub(super) fn chain(&mut self, chains: u32, span: Span) -> Outcome {
        push_chains(&mut self.made, chains.min(u32::from(u16::MAX)));
        self.bounded(span)
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

    fn bounded(&self, span: Span) -> Outcome {
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
            Here::Ring | Here::Made | Here::Lead | Here::Ghost => None,
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
        self.made.push(Slot { lead: first, ..Slot::new(Top::Stitch(id)) });
        self.bounded(span)
    }

    /// Kinds of space that lie ahead, with how many of each.
    fn spaces_left(&self) -> Vec<(Kind, u32)> {
        let mut there: Vec<(Kind, u32)> = Vec::new();
        for slot in self.edge.slots.iter().take(self.limit).skip(self.at) {
            if let Some(length) = slot.space() {
                tally(&mut there, Kind::Space(length), 1);
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
