//! A whole line: its lead, its steps, what is left at its end, and the edge that it leaves.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::Spread;
use super::along_ends::{Met, met};
use super::book::on_others;
use super::corners::drift;
use super::cursor::{Cursor, Ended};
use super::edge::{Edge, Slot, Top, from_behind, reverse};
use super::effort::looks;
use super::fault::{FaultKind, Reading};
use super::fold::{Folded, fold};
use super::grows::Grows;
use super::hand::{Before, Hand, Trouble, counted};
use super::lead::{chain_unsaid, goes_back_along, goes_on_in_same, is_own_lead, lead, worked};
use super::ledger::{Closing, LeadWorked, Ledger};
use super::looked::Looked;
use super::loops::{Bare, passed};
use super::maker::Maker;
use super::opening::{Hole, Lies};
use super::relief::Relief;
use super::stated::check_stated;
use super::tape::{Asked, Event, LastInSpace, Loops, Note, Place, Tape};
use crate::diagnostic::Span;
use crate::pattern::model::{
    Kind, Lead, Line, Pattern, Stated, Step, StepKind, Way, Where, Work, before_lead, each_step,
};
use crate::stitch::{Sort, Stitch};

/// What a line is worked with.
#[derive(Debug, Clone, Copy)]
pub(super) struct Setup<'a> {
    pub pattern: &'a Pattern,
    pub way: Way,
    pub lead: &'a Lead,
    pub size: usize,
    /// Names of markers.
    pub marks: &'a [String],
    pub rows_below: u32,
    /// It is the first line of its piece.
    pub is_first: bool,
    /// Those of them that have posts.
    pub posts_below: u32,
    /// Nothing waits beside its edge after short rows.
    pub is_whole: bool,
    /// The piece began with a ring that closes up, so that it can still be worked into.
    pub keeps_ring: bool,
    /// The step of the line by which each round of the piece is turned.
    pub turned_by: Option<Span>,
    /// The right side of the work faces the maker.
    pub right_side: bool,
    /// It goes back along the edge, without turning.
    pub backwards: bool,
    /// The yarn in use, by its place among those of the head.
    pub yarn: Option<usize>,
    /// Whether stitches are counted by their yarn.
    pub counts_yarns: bool,
    /// The number that what is made first has in a graph; nothing where no graph is kept.
    pub graph_from: Option<u32>,
    /// Passes of repeats that the line may make.
    pub passes: u64,
    /// How it is worked.
    pub maker: Maker,
    /// It is given up where it goes wrong.
    pub gives_up: bool,
    /// The last chain before the other side, with one stitch in it, is worked from there too.
    pub round_the_end: bool,
}

/// A line when it is done.
#[derive(Debug, Clone)]
pub(super) struct Done {
    /// The edge that it leaves, as the next line meets it where nothing else waits there.
    pub after: Arc<Edge>,
    /// Places that it went past on the way to the first one that it names, before it had worked anything.
    pub passed_first: usize,
    /// See [`Row::widened`].
    ///
    /// [`Row::widened`]: super::Row::widened
    pub widened: [u32; 2],
    /// See [`Row::set_back`].
    ///
    /// [`Row::set_back`]: super::Row::set_back
    pub set_back: [u32; 2],
    /// What was not worked and waits, after a short row or where it was left.
    pub rest: Vec<Slot>,
    /// Places at the beginning of the edge that it went by before it began.
    pub gone_by: Vec<Slot>,
    pub ended: Option<Ended>,
    /// A part of a round in a spiral: what it leaves is still the top of the piece, with what it made.
    pub in_part: bool,
    /// The round of which it is a part still begins where it did: slip stitches only made its end even.
    pub smoothed: bool,
    /// The work is turned although its rows or rounds don't turn by themselves.
    pub turned: bool,
    /// Closed with a tall stitch.
    pub closed: bool,
    /// Chains of the starting chain before the first stitch that are no places of its other side.
    pub hook_skip: Option<usize>,
    /// The first place that was made is the lead.
    pub begins_with_lead: bool,
    pub ledger: Arc<Ledger>,
    /// See [`super::Row::trail`].
    pub trail: u64,
    pub lead: LeadWorked,
    pub closing: Closing,
    pub asked: Vec<Asked>,
    /// Skips that ended inside a space: the step and the length.
    pub cuts: Vec<(Span, u32)>,
    /// `to last n` that ended inside a space.
    pub lasts: Vec<(Span, LastInSpace)>,
    pub spreads: Vec<Spread>,
    /// Openings that it leaves, as they were worked.
    pub holes: Vec<Hole>,
    /// Places of the edge below whose front loops it has left free, and those whose back loops.
    pub left_loops: [Vec<Slot>; 2],
    /// It went along the other side of the starting chain.
    pub went_round: bool,
    /// Joins to other pieces, in their order.
    pub joins: Vec<Join>,
    /// Places of the starting edge that lie on other pieces and were worked into.
    pub on_others: Vec<u32>,
    /// What the first row of a piece makes along row ends.
    pub met: Vec<Met>,
    /// See [`super::Row::relief`].
    pub relief: Relief,
    /// See [`super::Row::corner_left`].
    pub corner_left: bool,
    /// See [`super::Row::drift`].
    pub drift: Vec<i32>,
    /// See [`super::Row::grows`].
    pub grows: Option<Grows>,
    /// See [`super::Row::idle`].
    pub idle: Vec<Span>,
    /// See [`super::Row::in_fans`].
    pub in_fans: BTreeMap<Span, [u32; 2]>,
    /// See [`super::Row::arms`].
    pub arms: BTreeSet<(Span, u32)>,
    /// See [`super::Row::passed`].
    pub passed: Vec<Bare>,
    /// Yarn was joined in a place of a round that looks the same from every place of its kind.
    pub joined_anywhere: u32,
    /// The first thing that went wrong, but for what is stated.
    pub trouble: Option<Trouble>,
    /// It was given up there: nothing else of it is known, but what it went past on the way to its first place.
    pub given_up: bool,
    /// Stitches, chains and passes of repeats that it took.
    pub effort: u64,
    /// Places in which the maker could have done the thing otherwise that she does so in one of them.
    pub chances: u32,
    /// The record itself, where a graph is kept.
    pub tape: Option<Box<Tape>>,
}

/// A slip stitch to another piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Join {
    /// The piece, by its index.
    pub piece: usize,
    /// The sort of place.
    pub kind: Option<Kind>,
    /// The so manyth; 0 for the next free one.
    pub nth: u16,
}

/// What a line is worked onto.
#[derive(Debug, Clone)]
pub(super) struct Onto {
    pub edge: Arc<Edge>,
    /// Something that the line needs is not there.
    pub missing: Option<Trouble>,
}

/// Beginning and ending a row takes as long as so many stitches.
const STITCHES_A_ROW: u64 = 40;

/// Works a line on an edge. Where it has two readings, the one that closes is taken, and all that close are given back.
pub(super) fn work(setup: Setup<'_>, line: &Line, stated: Option<&Stated>, onto: Onto) -> (Done, Option<Vec<Reading>>) {
    let closing = |setup, reading, onto| {
        let done = work_reading(setup, line, onto, reading);
        let closes = done.trouble.is_none() && check_stated(&done.ledger, stated, setup.pattern, setup.size).is_none();
        (done, closes)
    };
    if !ambiguous(&line.steps) {
        if !has_other_side(&line.steps) {
            return (work_reading(setup, line, onto, Reading::OneInEach), None);
        }
        // Whether the chain at the far end is gone round or left is not said: the counts tell.
        let (mut done, closes) = closing(setup, Reading::OneInEach, onto.clone());
        if !closes {
            let further = Setup { round_the_end: true, ..setup };
            let (round, closes) = closing(further, Reading::OneInEach, onto);
            let effort = done.effort.saturating_add(round.effort);
            done = if closes { round } else { done };
            done.effort = effort;
        }
        return (done, None);
    }
    let (mut one, one_closes) = closing(setup, Reading::OneInEach, onto.clone());
    let (mut all, all_closes) = closing(setup, Reading::AllInOne, onto);
    let both = one.effort.saturating_add(all.effort);
    (one.effort, all.effort) = (both, both);
    let readings = [(one_closes, Reading::OneInEach), (all_closes, Reading::AllInOne)];
    let closes = readings.into_iter().filter(|(closes, _)| *closes).map(|(_, reading)| reading).collect();
    (if !one_closes && all_closes { all } else { one }, Some(closes))
}

/// Whether a step has two readings.
fn ambiguous(steps: &[Step]) -> bool {
    let mut ambiguous = false;
    each_step(steps, &mut |step| ambiguous |= matches!(&step.kind, StepKind::Work(work) if work.ambiguous));
    ambiguous
}

/// Whether a line goes along the other side of its starting chain.
pub(super) fn has_other_side(steps: &[Step]) -> bool {
    let mut has = false;
    each_step(steps, &mut |step| has |= step.kind == StepKind::OtherSide);
    has
}

fn work_reading(setup: Setup<'_>, line: &Line, onto: Onto, reading: Reading) -> Done {
    let below = Arc::clone(&onto.edge);
    let mut hand = hand(setup, onto.edge, reading);
    let beginning = hand.before();
    let mut trouble = run(&mut hand, setup, line, onto.missing);
    if setup.gives_up && trouble.is_some() {
        let passed_first = passed_first(&hand);
        hand.back_to(&beginning);
        let (rest, gone_by) = (Vec::new(), Vec::new());
        let ending = Ending { rest, gone_by, trouble, closing: Closing::AtEnd, lead: hand.now.lead };
        return Done { passed_first, given_up: true, ..done(hand, setup, ending) };
    }
    let rest = hand.end(line.steps_span, &mut trouble);
    let closing = closing(&hand, setup, rest.is_empty());
    // A round that was closed with a tall stitch, or not finished, is not joined with a slip stitch.
    if closing == Closing::Joined {
        hand.slips(1);
    }
    let lead = match hand.now.lead {
        _ if !hand.now.on_chain => hand.now.lead,
        LeadWorked::InStart(counted) => LeadWorked::InStart(counted),
        LeadWorked::None | LeadWorked::Plain(_) | LeadWorked::Counted(..) => LeadWorked::InStart(None),
    };
    let gone_by = below.slots.get(..hand.now.gone_by).unwrap_or_default().to_vec();
    done(hand, setup, Ending { rest, gone_by, trouble, closing, lead })
}

/// How a line ended.
struct Ending {
    rest: Vec<Slot>,
    gone_by: Vec<Slot>,
    trouble: Option<Trouble>,
    closing: Closing,
    lead: LeadWorked,
}

#[expect(clippy::too_many_lines, reason = "one line for each field")]
fn done(hand: Hand<'_>, setup: Setup<'_>, ending: Ending) -> Done {
    let Folded { mut made, ledger, trail } = folded(&hand);
    let passes = setup.passes.saturating_sub(hand.budget.get());
    let rest = u64::try_from(ending.rest.len()).unwrap_or(u64::MAX);
    let in_part = is_part(&hand, setup);
    let mut done = Done {
        in_part,
        smoothed: in_part && ends_in_slips(&hand),
        passed_first: passed_first(&hand),
        widened: [hand.now.widened.saturating_add(founded(&made, &hand, false)), founded(&made, &hand, true)],
        set_back: [0, 0],
        rest: ending.rest,
        gone_by: ending.gone_by,
        ended: hand.now.ended,
        turned: hand.turns(),
        closed: hand.now.closed,
        hook_skip: hand.now.hook_skip.map(|skip| hand.now.stand_up.map_or(skip, |stand_up| stand_up.min(skip))),
        begins_with_lead: made.first().is_some_and(|slot| slot.lead),
        ledger: Arc::new(ledger),
        trail,
        lead: ending.lead,
        closing: ending.closing,
        asked: Vec::new(),
        cuts: Vec::new(),
        lasts: Vec::new(),
        spreads: Vec::new(),
        holes: Vec::new(),
        grows: hand.now.growing.done(counted(hand.edge.slots.len())),
        idle: Vec::new(),
        arms: BTreeSet::new(),
        in_fans: BTreeMap::new(),
        left_loops: left_loops(&hand),
        went_round: hand.now.went_round,
        joins: joins(&hand.tape),
        on_others: if setup.graph_from.is_none() { on_others(&hand.tape, &hand.edge) } else { Vec::new() },
        met: if setup.is_first { met(&hand) } else { Vec::new() },
        joined_anywhere: hand.now.joined_anywhere,
        relief: Relief::of(&hand, setup.turned_by.is_some() || setup.way == Way::Rows && !setup.backwards),
        corner_left: hand.now.corner_last,
        drift: if setup.way.rounds() { drift(&hand) } else { Vec::new() },
        passed: passed(&hand),
        trouble: ending.trouble,
        given_up: false,
        effort: effort(made.len(), passes, &hand.tape, hand.edge.slots.len()).saturating_add(rest),
        chances: hand.now.chances,
        after: Arc::default(),
        tape: None,
    };
    done.note(hand.tape.notes(), &mut made);
    done.after = Arc::new(after(&hand, setup, made));
    done.tape = setup.graph_from.is_some().then(|| Box::new(hand.tape));
    done
}

impl Done {
    /// Keeps what the hand noted on the way.
    fn note(&mut self, notes: &[Note], made: &mut [Slot]) {
        for note in notes {
            match note {
                Note::Asked(asked) => self.asked.push(*asked),
                Note::CutSpace(span, length) => self.cuts.push((*span, *length)),
                Note::LastInSpace(span, last) => self.lasts.push((*span, *last)),
                Note::Spread(spread) => self.spreads.push((**spread).clone()),
                Note::SetAside(aside) => {
                    let hole = Hole::of(aside, made);
                    self.set_back(&hole);
                    self.holes.push(hole);
                }
                Note::Idle(span) => self.idle.push(*span),
                Note::InFan(span, of) => drop(self.in_fans.entry(*span).or_insert(*of)),
                Note::Arm(span, arm) => drop(self.arms.insert((*span, *arm))),
                Note::Gap(_) | Note::Sought(_) | Note::Run(_) | Note::Passed(_) => {}
            }
        }
    }
}

impl Done {
    /// What is set aside before the first stitch, or behind the last, with nothing over it, makes the line that much shorter there.
    fn set_back(&mut self, hole: &Hole) {
        let [begins, ends] = &mut self.set_back;
        let back = match hole.lies {
            Lies::First => begins,
            Lies::Last => ends,
            Lies::Within => return,
        };
        *back = back.saturating_add(counted(hole.held.len()));
    }
}

/// How many foundation stitches a line begins or ends with: it is longer by these than what lies below it.
fn founded(made: &[Slot], hand: &Hand<'_>, at_the_end: bool) -> u32 {
    if hand.is_first {
        return 0;
    }
    let is_founded = |slot: &&Slot| match slot.top {
        Top::Stitch(id) => hand.pattern.stitches.get(id).is_some_and(Stitch::is_foundation),
        _ => false,
    };
    let some = if at_the_end {
        made.iter().rev().take_while(is_founded).count()
    } else {
        made.iter().take_while(is_founded).count()
    };
    counted(some)
}

/// Places that a line goes past before its first stitch, on the way to one that it names.
fn passed_first(hand: &Hand<'_>) -> usize {
    let first = hand.tape.notes().iter().find_map(|note| match note {
        Note::Gap(gap) => Some(*gap),
        _ => None,
    });
    first.filter(|gap| gap.from == 0 && gap.sought).map_or(0, |gap| gap.to)
}

/// What the record comes to. Slip stitches that even the end lie on stitches of the same round, so that there are no more of
/// them.
fn folded(hand: &Hand<'_>) -> Folded {
    let mut folded = fold(hand);
    let on_its_own = hand.now.evened.map_or(0, |from| counted(hand.now.at.saturating_sub(from)));
    folded.ledger.stitches = folded.ledger.stitches.saturating_sub(on_its_own);
    folded
}

/// What a row took, in stitches; what was tried and taken back was work as well. What it leaves waiting comes to that: it is kept.
fn effort(made: usize, passes: u64, tape: &Tape, places: usize) -> u64 {
    let made = u64::try_from(made).unwrap_or(u64::MAX);
    let seen = looks(places);
    made.saturating_add(passes).saturating_add(tape.taken_back()).saturating_add(seen).saturating_add(STITCHES_A_ROW)
}

/// The edge that a line leaves, in the order in which the next one goes along it.
fn after(hand: &Hand<'_>, setup: Setup<'_>, mut made: Vec<Slot>) -> Edge {
    if setup.backwards && setup.way.rounds() {
        let mut edge = Edge { slots: made, ..Edge::default() };
        edge.go_back(setup.way == Way::JoinedRounds);
        // In a spiral the hook stands on what was made last.
        let last = usize::from(setup.way == Way::Spiral).min(edge.slots.len());
        edge.slots.rotate_left(last);
        made = edge.slots;
    } else if setup.way == Way::Rows || hand.turns() {
        reverse(&mut made);
        if setup.backwards {
            // The same side faces the maker in the next row.
            from_behind(&mut made);
        }
    }
    if is_part(hand, setup) {
        // The hook stands before what is left, and comes to what it made last. What slip stitches went on into is left already.
        let again = hand.now.evened.map_or(0, |from| hand.edge.slots.len().saturating_sub(from));
        made.drain(..again.min(made.len()));
        made.splice(0..0, hand.edge.slots.iter().copied().skip(hand.now.at));
    }
    Edge {
        slots: made,
        circle: setup.way.rounds(),
        ring: setup.keeps_ring && hand.edge.ring,
        plain_lead: hand.now.plain_lead,
        lead_node: hand.now.lead_node,
        ..Edge::default()
    }
}

/// Whether a line is a part of a round: a spiral goes on and on, so that what it leaves comes next.
fn is_part(hand: &Hand<'_>, setup: Setup<'_>) -> bool {
    let open = hand.edge.open && hand.now.evened.is_none();
    setup.way == Way::Spiral && hand.now.ended == Some(Ended::Left) && setup.is_whole && !open
}

/// Whether the last stitch of a line is a slip stitch, by which the end of a spiral is made even.
fn ends_in_slips(hand: &Hand<'_>) -> bool {
    let last = hand.tape.events().iter().rev().find_map(|event| match event {
        Event::Stitch { stitch, .. } => Some(*stitch),
        _ => None,
    });
    last.and_then(|stitch| hand.pattern.stitches.get(stitch)).is_some_and(|stitch| stitch.sort == Sort::Slip)
}

/// The places that were worked into under one loop only: those whose front loop is still free, and those whose back loop.
fn left_loops(hand: &Hand<'_>) -> [Vec<Slot>; 2] {
    let one_loop = |event: &Event| matches!(event, Event::Stitch { how, .. } if how.loops != Loops::Both);
    let mut left = [Vec::new(), Vec::new()];
    if !hand.tape.events().iter().any(one_loop) {
        return left;
    }
    hand.look_at(hand.edge.slots.len());
    // For each place whether the front and the back loop are used.
    let mut used = vec![(false, false); hand.edge.slots.len()];
    let index = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
    for event in hand.tape.events() {
        let Event::Stitch { how, feet: (from, to), .. } = event else { continue };
        let feet = hand.tape.feet().get(index(*from)..index(*to)).unwrap_or_default();
        for foot in feet.iter().filter(|foot| foot.place == Place::Slot && how.below == 0 && !foot.apart) {
            let Some((front, back)) = used.get_mut(index(foot.at)) else { continue };
            *front |= how.loops != Loops::Back;
            *back |= how.loops != Loops::Front;
        }
    }
    let touched: BTreeSet<usize> = hand.tape.feet().iter().map(|foot| index(foot.at)).collect();
    let [front, back] = &mut left;
    for (at, (slot, used)) in hand.edge.slots.iter().zip(used).enumerate() {
        // Of a stitch that is skipped among those worked both loops are free.
        let among = touched.first() < Some(&at) && Some(&at) < touched.last();
        let skipped = matches!(slot.top, Top::Stitch(_)) && among && !touched.contains(&at);
        let slot = Slot { mark: 0, ..*slot };
        match used {
            (false, true) => front.push(slot),
            (true, false) => back.push(slot),
            (false, false) if skipped => {
                front.push(slot);
                back.push(slot);
            }
            (true, true) | (false, false) => {}
        }
    }
    left
}

fn joins(tape: &Tape) -> Vec<Join> {
    let joins = tape.events().iter().filter_map(|event| match *event {
        Event::JoinTo { piece, kind, nth } => Some(Join { piece: usize::from(piece), kind, nth }),
        _ => None,
    });
    joins.collect()
}

/// How a line came to its end.
fn closing(hand: &Hand<'_>, setup: Setup<'_>, whole: bool) -> Closing {
    let way = setup.way;
    match hand.now.ended {
        _ if hand.now.closed => Closing::Tall,
        _ if hand.now.evened.is_some() => Closing::AtEnd,
        Some(Ended::Turned) if !whole => Closing::TurnedShort,
        // An edge with two ends is closed to a round by its join; what is left lies outside of it.
        Some(Ended::Left) if way == Way::JoinedRounds && hand.edge.open => Closing::Joined,
        Some(Ended::Left) if !whole && is_part(hand, setup) && !ends_in_slips(hand) => Closing::Part,
        Some(Ended::Left) => Closing::Left,
        // Where some of the round waits, what goes to the end of its edge is a short row all the same.
        Some(Ended::Turned) | None if way == Way::JoinedRounds && setup.is_whole => Closing::Joined,
        Some(Ended::Turned) | None => Closing::AtEnd,
    }
}

fn hand(setup: Setup<'_>, edge: Arc<Edge>, reading: Reading) -> Hand<'_> {
    let room = edge.slots.len() + edge.slots.len() / 4;
    Hand {
        pattern: setup.pattern,
        size: setup.size,
        marks: setup.marks,
        rows_below: setup.rows_below,
        is_first: setup.is_first,
        posts_below: setup.posts_below,
        piece_lead: worked(setup.lead),
        reading,
        turned_by: setup.turned_by,
        right_side: setup.right_side,
        yarn: setup.yarn,
        counts_yarns: setup.counts_yarns,
        maker: setup.maker,
        gives_up: setup.gives_up,
        round_the_end: setup.round_the_end,
        spiral: setup.way == Way::Spiral && setup.is_whole,
        from_one_side: setup.way == Way::RowsFromOneSide,
        steps_noted: setup.graph_from.is_some(),
        tape: Tape::with_room(room),
        first_node: setup.graph_from.unwrap_or(0),
        outside: None,
        now: Cursor::at_the_beginning(&edge, setup.graph_from.unwrap_or(0)),
        budget: Cell::new(setup.passes),
        looked: Looked::default(),
        edge,
    }
}

/// Works the steps. The first fault is kept; the line is then followed with places without end.
fn run(hand: &mut Hand<'_>, setup: Setup<'_>, line: &Line, missing: Option<Trouble>) -> Option<Trouble> {
    let (before, after) = line.steps.split_at_checked(before_lead(&line.steps)).unwrap_or((&[], &line.steps));
    let mut first = missing;
    hand.now.names_spaces = names_spaces(after);
    for step in before {
        follow(hand, step, &mut first);
    }
    if goes_back_along(hand, after) {
        (hand.now.from_hook, hand.now.on_chain) = (true, true);
    }
    if let Some(trouble) = chain_unsaid(hand, after) {
        first.get_or_insert(trouble);
        hand.now.ghost = true;
    }
    lead(hand, setup, before, after, line, &mut first);
    let in_ring = hand.edge.ring && hand.edge.slots.iter().all(|s| s.top == Top::Base);
    let own_lead = in_ring && is_own_lead(after, setup.size);
    if own_lead {
        hand.now.lead = LeadWorked::Plain(1);
        hand.plain_lead(1);
    }
    let after = if own_lead { after.get(1..).unwrap_or_default() } else { after };
    let mut closes = None;
    each_step(after, &mut |step| closes = closes.or(matches!(step.kind, StepKind::Close(..)).then_some(step.span)));
    let turns = after.iter().find(|step| step.kind == StepKind::Turn).filter(|_| setup.way == Way::TunisianRows);
    if let Some(step) = turns {
        first.get_or_insert(Trouble { span: step.span, kind: FaultKind::TurnsTunisian });
    }
    if let Some(span) = closes.filter(|_| !setup.way.rounds()) {
        first.get_or_insert(Trouble { span, kind: FaultKind::ClosesRow });
    }
    if let Some(step) = after.iter().find(|step| matches!(step.kind, StepKind::Lead(_))) {
        first.get_or_insert(Trouble { span: step.span, kind: FaultKind::LeadWithin });
    }
    let legs = match after.first().map(|step| &step.kind) {
        Some(StepKind::Together(legs, _)) => legs,
        _ => after,
    };
    if matches!(legs.first().map(|step| &step.kind), Some(StepKind::ChainAs(..))) {
        hand.now.lead_in_space = goes_on_in_same(legs.get(1));
    }
    for step in after {
        follow(hand, step, &mut first);
    }
    first
}

/// Whether steps go into spaces by their names.
fn names_spaces(steps: &[Step]) -> bool {
    let is_space = |kind: &Kind| matches!(kind, Kind::Space(_) | Kind::AnySpace);
    let mut names = false;
    each_step(steps, &mut |step| {
        if let StepKind::Work(Work { places, .. }) | StepKind::Group(_, places) = &step.kind {
            names |= match places {
                Where::In(crate::pattern::model::Place::NextOf(kind))
                | Where::Each(kind, _)
                | Where::CountOf(_, kind) => is_space(kind),
                _ => false,
            };
        }
    });
    names
}

fn follow(hand: &mut Hand<'_>, step: &Step, first: &mut Option<Trouble>) {
    if first.is_some() && (hand.maker.carries_on || hand.gives_up) {
        // The maker has come to the end of what there is, or nothing more is asked.
        return;
    }
    if first.is_some() {
        hand.now.ghost = true;
    }
    let before = hand.before();
    let Err(trouble) = hand.step(step) else { return };
    if hand.maker.carries_on {
        first.get_or_insert(*trouble);
        hand.now.limit = hand.edge.slots.len();
        return;
    }
    if hand.gives_up {
        first.get_or_insert(*trouble);
        return;
    }
    let large = trouble.kind == FaultKind::TooLarge;
    first.get_or_insert(*trouble);
    hand.back_to(&before);
    hand.now.ghost = true;
    if !large {
        // Past the first fault nothing is reported any more.
        let _ = hand.step(step);
    }
    let Before { now, .. } = before;
    (hand.now.in_place, hand.now.depth) = (now.in_place, now.depth);
    hand.now.limit = hand.edge.slots.len();
}

impl Hand<'_> {
    /// Whether the work is turned at the end of the line by its own words.
    fn turns(&self) -> bool {
        self.now.turned || self.now.ended == Some(Ended::Turned)
    }

    /// Looks at what is left at the end of the line, and gives back what waits.
    fn end(&mut self, span: Span, trouble: &mut Option<Trouble>) -> Vec<Slot> {
        self.leave_side();
        self.leave_standing();
        *trouble = trouble.take().or_else(|| self.left_at_the_beginning());
        // Last chains are joined where the round began.
        if self.now.ended.is_none() && self.now.run > 0 {
            self.into_beginning();
        }
        let end = self.edge.slots.len();
        self.now.corner_last &= self.now.at + 1 == end;
        if self.now.corner_last && self.now.ended.is_none() {
            // The corner was worked round at the beginning.
            self.now.account.offered = self.now.account.offered.saturating_sub(1);
            self.now.at = end;
        }
        if self.now.at >= end {
            return Vec::new();
        }
        if self.now.evened.is_some() {
            return self.edge.slots.get(self.now.at..).unwrap_or_default().to_vec();
        }
        if self.now.ended.is_some() {
            let left = self.count_range(self.now.at, end);
            self.now.account.left = self.now.account.left.saturating_add(left);
            return self.edge.slots.get(self.now.at..).unwrap_or_default().to_vec();
        }
        // What belongs to the shell whose space was worked into last is used with it.
        let goes_with_the_rest = self.leaves_as_much_between();
        if self.end_of_shell() >= end && goes_with_the_rest {
            self.pass_to(end);
            return Vec::new();
        }
        let sought = self.sought();
        let met_again = self
            .edge
            .slots
            .get(self.now.at..end.saturating_sub(self.half_at_end()))
            .unwrap_or_default()
            .iter()
            .any(|slot| sought.iter().any(|kind| slot.is(*kind, &self.pattern.stitches)));
        let rest_done = self.now.rest_done && (self.edge.circle || self.only_chains_left());
        if rest_done
            || self.edge.circle && (self.now.passes_rest && !met_again && goes_with_the_rest || self.gap_as_before())
        {
            self.pass_to(end);
            return Vec::new();
        }
        let left = self.count_range(self.now.at, end);
        self.now.account.left = self.now.account.left.saturating_add(left);
        if trouble.is_none() {
            *trouble = Some(Trouble { span, kind: FaultKind::LeftOver { left } });
        }
        Vec::new()
    }

    /// Whether no stitch is left but those of the shell whose space was worked into last.
    fn only_chains_left(&self) -> bool {
        let left = self.edge.slots.get(self.end_of_shell()..).unwrap_or_default();
        left.iter().all(|slot| matches!(slot.top, Top::Chain { .. }))
    }

    /// How many of the last slots are the first chains of a space whose others come first, since the round began there.
    fn half_at_end(&self) -> usize {
        match self.edge.slots.last().map(|s| s.top) {
            Some(Top::Chain { at, of }) if self.edge.circle && at + 1 < of => usize::from(at) + 1,
            _ => 0,
        }
    }

    /// Kinds of place that the line went to, each once.
    fn sought(&self) -> BTreeSet<Kind> {
        let kinds = self.tape.notes().iter().filter_map(|note| match note {
            Note::Sought(kind) => Some(*kind),
            _ => None,
        });
        kinds.collect()
    }
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
