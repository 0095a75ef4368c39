//! One line, worked: the hook goes along the edge and records what it does.

use std::sync::Arc;

use super::edge::{Edge, Slot, Top, places};
use super::fault::{FaultKind, Reading};
use super::ledger::LeadWorked;
use super::tape::{Event, Foot, Gap, How, Laid, Lengths, Note, Place, Tape};
use crate::diagnostic::Span;
use crate::limits;
use crate::pattern::model::{Kind, Pattern};
use crate::stitch::{Made, Stitch, StitchId};

/// Works one line of one size.
#[derive(Debug)]
pub(super) struct Hand<'a> {
    pub pattern: &'a Pattern,
    pub size: usize,
    /// Names of markers; a slot holds their number, counted from 1.
    pub marks: &'a [String],
    /// Rows worked before, the starting edge included.
    pub rows_below: u32,
    /// Those of them that have posts.
    pub posts_below: u32,
    /// The lead of the piece, which the chain of a lengthened row stands for.
    pub piece_lead: LeadWorked,
    pub reading: Reading,
    /// The step by which each round of the piece is turned.
    pub turned_by: Option<Span>,
    /// Whether each step is recorded too, for a graph.
    pub steps_noted: bool,
    /// The edge that the line goes along, as far as the line has changed it.
    pub edge: Arc<Edge>,
    pub tape: Tape,
    pub now: Cursor,
    /// Passes of repeats that the line may still make. What was tried and taken back has cost them as well.
    pub budget: u64,
}

/// Where the hand is. Together with the lengths of its record this is all that a line knows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Cursor {
    /// The next place that nothing has been worked into.
    pub at: usize,
    /// Where a step must stop: the end of the edge, or nearer inside a repeat.
    pub limit: usize,
    /// Where the last stitch went.
    pub here: Option<Here>,
    /// What the next stitch stands on begins at this foot.
    pub feet_from: u32,
    /// A stitch was made there already.
    pub stood: bool,
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
    /// Places that have been laid on the new edge, each chain for itself.
    pub laid: usize,
    /// The last so many of them are a run of chains.
    pub run: u32,
    /// Stitches among them that are no lead.
    pub stitches: usize,
    /// The number that what is made next has in a graph.
    pub node: u32,
    /// Stitches that count besides those on the edge.
    pub groups: usize,
    pub account: Account,
    /// How many groups in one place we are inside.
    pub in_place: u32,
    /// Places without end, so that a line can be followed past its fault.
    pub ghost: bool,
    /// A bare skip ended inside a space: before which slot, the step and the length.
    pub cut: Option<(usize, Span, u32)>,
    /// Chains made in this line that a strip is being worked along: so many are still ahead.
    pub side: u32,
    /// The first of the chains of such a strip, by its number in a graph.
    pub strip_from: u32,
    /// Such a strip has been begun, so that its last stitch belongs to it too.
    pub strip: bool,
    /// One past the last place that was worked into as the line went along.
    pub after_worked: usize,
    /// A kind of place was skipped since then.
    pub skipped_kind: bool,
    /// What was skipped last and has not been gone back to: the first slot, and one past the last.
    pub skipped: (usize, usize),
    /// Stitches in the place where the hook is.
    pub in_last_place: u32,
    /// A stitch that stands on nothing goes on from there.
    pub bridged: bool,
    /// Where the hook was before it went into chains just made.
    pub hung_from: Option<Here>,
    /// Whether what was run past at the end is what the line leaves between the places it names.
    pub passes_rest: bool,
    /// A repeat to the end found no more of the places it names.
    pub rest_done: bool,
    /// Places taken, skipped ones included; a repeat that takes none never ends.
    pub taken: u64,
    /// The loop and the depth that stitches are worked in.
    pub how: How,
    /// The chain that the line started with.
    pub lead: LeadWorked,
    /// The last of its chains, by its number in a graph.
    pub lead_node: u32,
    /// It does not count, and can be worked into from the line above.
    pub plain_lead: bool,
    /// Nothing has been worked yet into the starting chain that the line goes along.
    pub from_hook: bool,
    /// The line was begun along a starting chain, which holds its lead.
    pub on_chain: bool,
    /// Chains skipped at the start of a starting chain.
    pub hook_skip: Option<usize>,
    /// The line stopped here: turned short, or left the rest.
    pub ended: Option<Ended>,
    pub closed: bool,
    /// The work is turned when the round is joined.
    pub turned: bool,
    /// What the first place of a starting chain was stood on as, and the slot: the place where the other side ends.
    pub hook_foot: Option<u32>,
    /// The last place of the other side is where the line began with several stitches, so that it may be left.
    pub corner_last: bool,
    /// Yarn was joined in a place of a round that looks the same from every place of its kind.
    pub joined_anywhere: bool,
    /// That a bare step goes into a chain and not into its space is said already.
    pub quiet: bool,
    pub depth: u32,
}

/// A place to go back to, with what was recorded until then.
#[derive(Debug, Clone, Copy)]
pub(super) struct Before {
    pub now: Cursor,
    lengths: Lengths,
}

/// A place that the hook is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Here {
    /// This slot.
    Slot(usize),
    /// The space that begins at this slot.
    Space(usize),
    Ring,
    /// Between two places, the first of them this slot.
    Gap(usize),
    /// A chain of those just made in this line, counted from its first.
    Made(u32),
    /// The top of a chain that does not count.
    Lead,
    /// A place that isn't there, after a fault.
    Ghost,
}

impl Here {
    /// Whether this is a chain of those just made.
    pub(super) fn is_made(self) -> bool {
        matches!(self, Self::Made(_))
    }
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

impl Cursor {
    /// At the beginning of an edge.
    pub(super) fn at_the_beginning(edge: &Edge, first_node: u32) -> Self {
        let standing = if edge.hook_in_first { edge.first_space() } else { 0 };
        let offered = edge.places().max(u32::from(edge.ring && edge.slots.is_empty()));
        Self {
            at: 0,
            limit: edge.slots.len(),
            here: None,
            feet_from: 0,
            stood: false,
            standing,
            standing_in_space: standing > 0,
            moved_half: false,
            joined_there: None,
            began_in: 0,
            laid: 0,
            run: 0,
            stitches: 0,
            node: first_node,
            groups: 0,
            account: Account { offered, ..Account::default() },
            in_place: 0,
            ghost: false,
            cut: None,
            side: 0,
            strip: false,
            strip_from: 0,
            after_worked: 0,
            skipped_kind: false,
            skipped: (0, 0),
            in_last_place: 0,
            bridged: false,
            hung_from: None,
            passes_rest: false,
            rest_done: false,
            taken: 0,
            how: How::default(),
            lead: LeadWorked::None,
            lead_node: 0,
            plain_lead: false,
            from_hook: edge.from_hook,
            on_chain: edge.from_hook,
            hook_skip: None,
            ended: None,
            closed: false,
            turned: false,
            hook_foot: None,
            corner_last: false,
            joined_anywhere: false,
            quiet: false,
            depth: 0,
        }
    }
}

impl Hand<'_> {
    /// Where to go back to when what follows turns out not to be worked.
    pub(super) fn before(&self) -> Before {
        Before { now: self.now, lengths: self.tape.lengths() }
    }

    /// Slip stitches that leave nothing on the edge.
    pub(super) fn slips(&mut self, slips: u32) {
        self.tape.write(Event::Slips(slips));
        self.now.node = self.now.node.saturating_add(slips);
    }

    /// Works the chain that the line starts with and that counts as nothing.
    pub(super) fn plain_lead(&mut self, chains: u32) {
        self.tape.write(Event::Lead(chains));
        self.now.node = self.now.node.saturating_add(chains);
        self.now.lead_node = self.now.node.saturating_sub(1);
    }

    /// Works steps that say themselves that they go into chains.
    pub(super) fn unasked<T>(&mut self, job: impl FnOnce(&mut Self) -> T) -> T {
        let outer = std::mem::replace(&mut self.now.quiet, true);
        let done = job(self);
        self.now.quiet = outer;
        done
    }

    /// Takes everything back that was done since.
    pub(super) fn back_to(&mut self, before: &Before) {
        self.now = before.now;
        if let Some(edge) = self.tape.cut(before.lengths) {
            self.edge = edge;
        }
    }

    /// Whether the hook has gone into a place since.
    pub(super) fn stood_since(&self, before: &Before) -> bool {
        self.tape.lengths().feet != before.lengths.feet
    }

    /// Changes the edge that lies ahead.
    pub(super) fn change_edge(&mut self, change: impl FnOnce(&mut Vec<Slot>)) {
        self.tape.keep(Arc::clone(&self.edge));
        change(&mut Arc::make_mut(&mut self.edge).slots);
    }

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
        if self.now.at >= self.now.limit {
            if self.now.ghost {
                self.arrive(Here::Ghost);
                return Ok(Here::Ghost);
            }
            return trouble(span, FaultKind::RanOut { wanted: 1, had: 0, repeat: None });
        }
        let at = self.now.at;
        self.gap_before(at, false);
        self.now.after_worked = self.now.after_worked.max(at + 1);
        if let Some(length) = self.edge.slots.get(at).and_then(|s| s.space()).filter(|n| *n > 1) {
            self.now.account.offered = self.now.account.offered.saturating_add(length - 1);
            if !self.now.quiet {
                self.tape.note(Note::Asked(span, length));
            }
        }
        if let Some((_, span, length)) = self.now.cut.take().filter(|(before, ..)| *before == at) {
            self.tape.note(Note::CutSpace(span, length));
        }
        self.now.at += 1;
        self.now.moved_half = false;
        self.now.account.worked += 1;
        self.note_runs(at, self.now.at);
        self.arrive(Here::Slot(at));
        self.now.passes_rest = false;
        self.now.rest_done = false;
        Ok(Here::Slot(at))
    }

    /// Remembers the runs of chains in a stretch that is taken as if it were stitches.
    pub(super) fn note_runs(&mut self, from: usize, to: usize) {
        for slot in self.edge.slots.get(from..to).unwrap_or_default() {
            if let Top::Chain { of, .. } = slot.top
                && self.tape.notes().last() != Some(&Note::Run(u32::from(of)))
            {
                self.tape.note(Note::Run(u32::from(of)));
            }
        }
    }

    /// Goes to the next place of a kind; what lies between is passed over.
    pub(super) fn seek(&mut self, kind: Kind, span: Span) -> Outcome<Here> {
        if let Some(next) = self.now.side.checked_sub(1).filter(|_| kind == Kind::Chain) {
            self.now.side = next;
            let here = Here::Made(next);
            self.arrive(here);
            return Ok(here);
        }
        self.leave_side();
        self.leave_standing();
        let Some(found) = self.find(kind) else {
            if self.now.ghost {
                self.arrive(Here::Ghost);
                return Ok(Here::Ghost);
            }
            return trouble(span, FaultKind::NoPlace { wanted: kind, there: self.kinds_left(kind) });
        };
        self.pass_to(found);
        self.tape.note(Note::Sought(kind));
        self.now.passes_rest = true;
        Ok(self.occupy(found, kind))
    }

    /// The next place of a kind before the limit.
    pub(super) fn find(&self, kind: Kind) -> Option<usize> {
        let range = self.edge.slots.get(self.now.at..self.now.limit)?;
        // A space that the hook has gone into half-way is still that space.
        if let (Some(first), Kind::Space(_) | Kind::AnySpace) = (range.first(), kind)
            && let Top::Chain { at, of } = first.top
            && at > 0
            && !self.now.moved_half
            && (kind == Kind::AnySpace || kind == Kind::Space(u32::from(of)))
        {
            return Some(self.now.at);
        }
        range.iter().position(|s| s.is(kind, &self.pattern.stitches)).map(|n| self.now.at + n)
    }

    /// Uses up the place at `found`: a whole space when a space was named.
    pub(super) fn occupy(&mut self, found: usize, kind: Kind) -> Here {
        let slot = self.edge.slots.get(found).copied();
        self.now.moved_half = false;
        let here = match kind {
            Kind::Space(_) | Kind::AnySpace => {
                self.now.at = self.end_of_space(found);
                Here::Space(found)
            }
            Kind::AnyStitch | Kind::Chain | Kind::Stitch(_) => {
                if let Some(length) = slot.and_then(Slot::space) {
                    self.now.account.offered = self.now.account.offered.saturating_add(length - 1);
                }
                self.now.at = found + 1;
                Here::Slot(found)
            }
        };
        self.gap_before(found, true);
        self.now.after_worked = self.now.after_worked.max(self.now.at);
        self.now.account.worked += 1;
        self.arrive(here);
        here
    }

    /// Remembers what lies between the place worked into before and this one.
    fn gap_before(&mut self, found: usize, sought: bool) {
        let sought = std::mem::take(&mut self.now.skipped_kind) || sought;
        if found > self.now.after_worked {
            self.tape.note(Note::Gap(Gap { from: self.now.after_worked, to: found, sought }));
        }
    }

    /// What lies between the last place worked into and the first is left between two places of the line as well.
    pub(super) fn gap_as_before(&self) -> bool {
        let shape = |from, to| -> Vec<bool> {
            let slots = self.edge.slots.get(from..to).unwrap_or_default();
            let whole = slots.iter().filter(|s| !matches!(s.top, Top::Chain { at, .. } if at > 0));
            whole.map(|s| s.space().is_some()).collect()
        };
        let last = shape(self.now.after_worked, self.edge.slots.len());
        let gaps = self.tape.notes().iter().filter_map(|note| match note {
            Note::Gap(gap) => Some(*gap),
            _ => None,
        });
        let (head, between): (Vec<Gap>, Vec<Gap>) = gaps.partition(|g| g.from == 0);
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

    /// The hook comes to a place that nothing of the line was worked into.
    pub(super) fn arrive(&mut self, here: Here) {
        self.now.strip = self.now.strip && here.is_made();
        // Chains made in this line are no places of the edge.
        self.now.taken += u64::from(!here.is_made());
        self.step_on(here, true);
    }

    /// The hook comes to a place, and what is made next stands there.
    pub(super) fn step_on(&mut self, here: Here, fresh: bool) {
        if std::mem::take(&mut self.now.stood) {
            self.now.feet_from = self.tape.next_foot();
        }
        (self.now.in_last_place, self.now.bridged) = (0, false);
        let node = |at: usize| self.edge.slots.get(at).map_or(0, |slot| slot.node);
        let (place, at, node) = match here {
            Here::Slot(at) => {
                let row_end = self.edge.slots.get(at).is_some_and(|slot| slot.top == Top::RowEnd);
                (if row_end { Place::RowEnd } else { Place::Slot }, at, node(at))
            }
            Here::Space(at) => (Place::Space, at, node(at)),
            Here::Gap(at) => (Place::Gap, at, node(at)),
            Here::Made(at) => {
                let node = self.now.strip_from.saturating_add(at);
                (Place::Made, usize::try_from(at).unwrap_or(usize::MAX), node)
            }
            Here::Ring => (Place::Ring, 0, 0),
            Here::Lead => (Place::Lead, 0, self.edge.lead_node),
            Here::Ghost => (Place::Ghost, 0, 0),
        };
        self.tape.step_on(Foot { place, at: counted(at), node, fresh });
        self.now.here = Some(here);
    }

    /// What is worked next stands on nothing that was worked into before.
    pub(super) fn lift(&mut self) {
        self.now.here = None;
        self.now.feet_from = self.tape.next_foot();
        self.now.stood = false;
    }

    /// Passes over everything before `to`. A space counts as one place when it is passed as a whole.
    pub(super) fn pass_to(&mut self, to: usize) {
        if to <= self.now.at {
            return;
        }
        let passed = self.count_range(self.now.at, to);
        self.now.account.passed = self.now.account.passed.saturating_add(passed);
        self.tape.write(Event::Passed(counted(self.now.at), counted(to)));
        self.now.at = to;
    }

    /// Places from one slot to another. Cutting a space in two makes each of its chains a place.
    pub(super) fn count_range(&mut self, from: usize, to: usize) -> u32 {
        let mut counted = 0;
        let mut at = from;
        while at < to {
            let next = match self.edge.slots.get(at).map(|s| s.top) {
                Some(Top::Chain { at: 0, of }) if at + usize::from(of) <= to => at + usize::from(of),
                Some(Top::Chain { at: 0, of }) => {
                    self.now.account.offered = self.now.account.offered.saturating_add(u32::from(of).saturating_sub(1));
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
        if self.now.standing > 0 {
            let here = if self.now.standing_in_space { Here::Space(0) } else { Here::Slot(0) };
            self.now.at = self.now.at.max(self.now.standing);
            self.now.after_worked = self.now.at;
            self.now.standing = 0;
            self.now.account.worked += 1;
            self.arrive(here);
            return Ok(here);
        }
        // A picot or a strip is done: the place is the one that it hangs from.
        let done = self.now.strip && (self.now.side == 0 || self.now.run > 0);
        if self.now.here.is_some_and(Here::is_made)
            && done
            && let Some(hung_from) = self.now.hung_from
        {
            self.leave_side();
            self.step_on(hung_from, false);
        }
        match self.now.here {
            Some(here) => Ok(here),
            None if self.now.at == 0 && self.now.limit > 0 => self.take(span),
            None if self.now.ghost => Ok(Here::Ghost),
            None => trouble(span, FaultKind::NoSame),
        }
    }

    /// Goes into a chain of those just made, counted from the hook. They are no space any more: what is worked along
    /// them hangs on the stitch before, and a tall stitch into the first of them stands there itself.
    pub(super) fn into_made(&mut self, number: u32) -> Option<Here> {
        if self.now.run == 0 {
            return None;
        }
        self.now.side = self.now.run.checked_sub(number)?;
        self.take_up();
        if !self.now.here.is_some_and(Here::is_made) {
            self.now.hung_from = self.now.here;
        }
        let here = Here::Made(self.now.side);
        self.arrive(here);
        Some(here)
    }

    /// The chains that were made last are no part of the new edge any more.
    fn take_up(&mut self) {
        self.tape.write(Event::TakenUp(self.now.run));
        self.now.strip_from = self.now.node.saturating_sub(self.now.run);
        self.now.laid = self.now.laid.saturating_sub(usize::try_from(self.now.run).unwrap_or(usize::MAX));
        self.now.run = 0;
    }

    /// A row that begins with a chain and goes back along it is longer by that chain: the chain is a new piece of
    /// starting chain before the edge. One that is all used by its first stitch is a picot or a stitch that stands there,
    /// but for the two chains of one more single crochet.
    pub(super) fn lengthen(&mut self, number: u32) {
        let run = self.now.laid;
        let chains = counted(run);
        let only_chains = run > 0 && self.now.run == chains;
        let begins = self.now.taken == 0
            && self.now.at == 0
            && self.now.limit == self.edge.slots.len()
            && self.now.in_place == 0;
        let strip = !self.edge.circle && !self.edge.ring && !self.now.from_hook;
        if !(only_chains && begins && strip) || number > chains || number == chains && number != 2 {
            return;
        }
        self.take_up();
        let first = self.now.strip_from;
        // The chain made last is the first one from the hook.
        let base = (0..chains).rev().map(|at| Slot { node: first.saturating_add(at), ..Slot::new(Top::Base) });
        self.change_edge(|slots| drop(slots.splice(0..0, base)));
        self.now.limit = self.edge.slots.len();
        self.now.account.offered = self.now.account.offered.saturating_add(chains);
        self.now.from_hook = true;
        self.now.on_chain = true;
        self.now.lead = self.piece_lead;
    }

    /// Chains of a strip that were not worked along are a space after all.
    pub(super) fn leave_side(&mut self) {
        let side = std::mem::take(&mut self.now.side);
        if side > 0 {
            self.tape.write(Event::GivenBack(side));
            self.count_chains(side);
        }
    }

    /// The hook goes on without working where it stood: in the round that place comes last, in a row it is left. Where
    /// yarn has just been joined the first stitch goes into that same place.
    pub(super) fn leave_standing(&mut self) {
        if self.now.standing == 0 {
            return;
        }
        let standing = std::mem::take(&mut self.now.standing).min(self.edge.slots.len());
        if self.now.joined_there == Some(self.now.laid) {
            return;
        }
        if self.edge.circle {
            self.change_edge(|slots| slots.rotate_left(standing));
            self.now.began_in = standing;
        } else {
            self.now.account.left = self.now.account.left.saturating_add(self.count_range(self.now.at, standing));
            self.now.at = self.now.at.max(standing);
        }
    }

    /// The first slot of the place where the round began, which comes last; behind the end when there is none.
    pub(super) fn beginning(&self) -> usize {
        let end = self.edge.slots.len();
        if self.now.began_in > 0 && self.now.limit == end && self.now.run == 0 {
            end.saturating_sub(self.now.began_in)
        } else {
            end
        }
    }

    /// The round is closed where it began; that place is used up if nothing was worked there.
    pub(super) fn into_beginning(&mut self) {
        self.leave_standing();
        let before = self.edge.slots.len().saturating_sub(self.now.began_in);
        if self.now.began_in > 0 && self.now.at <= before {
            self.change_edge(|slots| slots.truncate(before));
            self.now.began_in = 0;
            self.now.limit = self.now.limit.min(before);
            self.now.account.worked += 1;
        }
    }

    /// Makes a stitch where the hook is.
    pub(super) fn make(&mut self, id: StitchId, span: Span) -> Outcome {
        let pattern = self.pattern;
        let Some(stitch) = pattern.stitches.get(id) else { return Ok(()) };
        // Along chains made in this line only a tall stitch that uses all of them leaves a top on the edge.
        let made = self.now.here.is_some_and(Here::is_made);
        if made && (self.now.side > 0 || self.now.strip || stitch.height <= 1) {
            self.now.strip = true;
            self.now.groups += 1;
            self.stand(id, Laid::Hanging);
            return self.bounded(span);
        }
        if let [Made::Stitch(_)] = stitch.makes.as_slice() {
            self.stand(id, Laid::Edge);
            self.lay_stitch();
            return self.bounded(span);
        }
        self.stand(id, Laid::Edge);
        for made in &stitch.makes {
            match made {
                Made::Stitch(_) => {
                    self.lay_stitch();
                    self.now.node = self.now.node.saturating_add(1);
                }
                Made::Chains(chains) => {
                    self.count_chains(*chains);
                    self.now.node = self.now.node.saturating_add(*chains);
                }
            }
        }
        // What makes several is several in a graph; a picot, which leaves nothing, is one.
        self.now.node = if stitch.makes.is_empty() { self.now.node } else { self.now.node.saturating_sub(1) };
        self.now.groups += 1;
        self.bounded(span)
    }

    /// Records a stitch on the feet where the hook is.
    pub(super) fn stand(&mut self, stitch: StitchId, laid: Laid) {
        let feet = (self.now.feet_from, self.tape.next_foot());
        self.now.stood = true;
        self.now.in_last_place = self.now.in_last_place.saturating_add(1);
        self.now.node = self.now.node.saturating_add(1);
        self.tape.write(Event::Stitch { stitch, laid, how: self.now.how, feet });
    }

    /// A top more on the new edge.
    pub(super) fn lay_stitch(&mut self) {
        self.now.laid += 1;
        self.now.stitches += 1;
        self.now.run = 0;
    }

    /// The top of a chain that counts as a stitch, on the new edge.
    pub(super) fn lay_lead(&mut self, stitch: StitchId, laid: Laid) {
        self.stand(stitch, laid);
        self.now.laid += 1;
        self.now.stitches += usize::from(laid != Laid::FirstLead);
        self.now.run = 0;
    }

    pub(super) fn count_chains(&mut self, chains: u32) {
        let run = self.now.run.saturating_add(chains).min(u32::from(u16::MAX));
        self.now.laid += usize::try_from(run - self.now.run).unwrap_or(usize::MAX);
        self.now.run = run;
    }

    /// Works chains.
    pub(super) fn chain(&mut self, chains: u32, span: Span) -> Outcome {
        self.add_chains(chains, Event::Chains, span)
    }

    /// Adds chains to the edge, however they came to be there.
    pub(super) fn add_chains(&mut self, chains: u32, how: impl FnOnce(u32) -> Event, span: Span) -> Outcome {
        self.charge_run(span)?;
        if chains > 0 {
            let chains = chains.min(u32::from(u16::MAX));
            self.tape.write(how(chains));
            self.now.node = self.now.node.saturating_add(chains);
            self.count_chains(chains);
        }
        self.bounded(span)
    }

    /// Every chain knows how long its run is, so a run that grows chain by chain costs more with each; it is charged as
    /// passes of repeats are.
    fn charge_run(&mut self, span: Span) -> Outcome {
        const CHAINS_A_PASS: u64 = 10;
        self.charge(u64::from(self.now.run) / CHAINS_A_PASS, span)
    }

    /// Counts one pass of a repeat, so that nested repeats come to an end.
    pub(super) fn step_budget(&mut self, span: Span) -> Outcome {
        self.charge(1, span)
    }

    fn charge(&mut self, passes: u64, span: Span) -> Outcome {
        match self.budget.checked_sub(passes) {
            Some(rest) => {
                self.budget = rest;
                Ok(())
            }
            None => trouble(span, FaultKind::TooLarge),
        }
    }

    pub(super) fn bounded(&self, span: Span) -> Outcome {
        if self.now.laid > limits::MOST_IN_A_LINE || self.now.groups > limits::MOST_IN_A_LINE {
            return trouble(span, FaultKind::TooLarge);
        }
        Ok(())
    }

    /// A post stitch needs a stitch with a post.
    pub(super) fn needs_post(&self, id: StitchId, here: Here, span: Span) -> Outcome {
        if !self.stitch(id).is_some_and(|s| s.around_post) || here == Here::Ghost || self.now.ghost {
            return Ok(());
        }
        let there = match here {
            Here::Slot(slot) | Here::Space(slot) => self.edge.slots.get(slot).copied(),
            Here::Ring | Here::Gap(_) | Here::Made(_) | Here::Lead | Here::Ghost => None,
        };
        let good = match there.map(|s| s.top) {
            Some(Top::Stitch(below)) => self.stitch(below).is_some_and(|s| s.has_post) || there.is_some_and(|s| s.lead),
            Some(Top::Chain { .. } | Top::Base | Top::RowEnd) | None => false,
        };
        if good { Ok(()) } else { trouble(span, FaultKind::NoPost { there: there.map(kind_of) }) }
    }

    /// A chain that counts as a stitch, standing where the hook is or on the next place.
    pub(super) fn counted_lead(&mut self, id: StitchId, span: Span) -> Outcome {
        if self.now.in_place == 0 {
            if self.now.standing > 0 {
                self.same(span)?;
            } else if self.edge.ring && self.edge.slots.is_empty() {
                self.step_on(Here::Ring, false);
            } else {
                self.take(span)?;
            }
        }
        let laid = if self.now.laid == 0 { Laid::FirstLead } else { Laid::Lead };
        self.lay_lead(id, laid);
        self.bounded(span)
    }

    /// What lies ahead, with how many of each: kinds of stitch where a stitch is looked for, else kinds of space.
    pub(super) fn kinds_left(&self, wanted: Kind) -> Vec<(Kind, u32)> {
        let mut there: Vec<(Kind, u32)> = Vec::new();
        for slot in self.edge.slots.iter().take(self.now.limit).skip(self.now.at) {
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
        places(self.edge.slots.get(self.now.at..end).unwrap_or_default())
    }
}

/// A number of places as the record keeps it.
pub(super) fn counted(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
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
