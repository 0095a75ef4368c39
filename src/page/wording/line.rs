//! A work line: how it opens, what is worked, how it closes.

use crate::fabric::{Closing, Join, LeadWorked, Spread};
use crate::limits::MOST_DEPTH;
use crate::page::Wording;
use crate::pattern::model::{
    Extent, Item, Kind, Lead, Line, LoopOnly, Place, Repeat, RepeatBody, SameAs, Sized, Step, StepKind, StitchId, Till,
    Way, Where, before_lead,
};
use crate::stitch::Made;
use crate::words::ordinal;

use super::context::{
    Told, is_first, is_row_turned, is_turned_round, line_below, noun, stays_unturned, takes_waiting, turned, whole_loop,
};
use super::label;
use super::names::{Amount, Term, Voice};
use super::phrase::Phrase;
use super::teller::{Course, Noun, Position, Skipped, Teller, Zero};
use super::{begin, first_again, runs, stripes, yarns};

/// The sentence of a work line.
#[must_use]
pub fn sentence(told: Told<'_>, index: usize, item: &Item, line: &Line) -> Phrase {
    let only = label::only(told.voice, &item.sizes);
    // Where rows are written out one by one, a line that says another again has its steps.
    let told_anew = told.voice.words == Wording::Aloud
        || is_turned_round(told, index, line)
        || told.is_worked_otherwise(line, index)
        || told.spreads_anew(index, index);
    if let Some(same_as) = line.same_as.as_ref().filter(|_| !told_anew) {
        let line_there = label::of_each(told.voice, line.round, &said_again(told, index));
        let other = same_as.piece.and_then(|piece| told.voice.pattern.pieces.get(piece));
        let again = match other {
            Some(piece) => Phrase::of("work as ").then(line_there).say(" of ").then(Phrase::quoted(&piece.name)),
            None => Phrase::default().with(told.voice.term(Term::Repeat)).say(" ").then(line_there),
        };
        let again = Phrase::list(stripes::beginning(told, index).into_iter().chain([again]).collect(), ", ");
        let begun = first_again::remark(told, index).unwrap_or_default();
        return only.then(again.capitalised()).say(".").then(begun).then(remarks(told, index, Zero::default()));
    }
    if line.steps.is_empty() {
        return only.then(Phrase::of("This line can’t be read yet."));
    }
    let mut teller = Teller::new(told.voice, &item.sizes, line.round, noun(told, index));
    prepare(&mut teller, told, index, line);
    let mut opening = Opening::of(told, index, line);
    let passed = begin::passed(told, index);
    opening.rest = opening.rest.get(passed..).unwrap_or_default();
    teller.begins_where_it_stands = opening.stands_there();
    teller.standing_stitch = opening.standing_stitch(told.voice);
    teller.began = began(told, &opening, opening.rest, line.round);
    let mut parts = open(&mut teller, told, index, &opening);
    teller.on_counted_lead = opening.counted().is_some();
    let in_same = in_same_place(&mut teller, &opening, passed);
    let rest = in_same.as_deref().unwrap_or(opening.rest);
    if in_same.is_none() {
        parts.extend(from_the_join(&mut teller, &opening, passed));
    }
    let loops = whole_loop(line);
    teller.whole_loop = loops;
    parts.extend(loops.map(working_in));
    let (body, tail) = split_tail(rest);
    parts.extend(teller.steps(body));
    parts.extend(waited(told, index));
    parts.extend(past_the_beginning(told, index));
    parts.extend(join(told, index, body, &opening).filter(|_| !told.voice.brief));
    let tail = teller.steps(tail);
    parts.extend(tail);
    parts.extend(yarns::changed_behind(told, index).map(|yarn| Phrase::of("changing to ").then(Phrase::quoted(yarn))));
    let told_line = Phrase::list(parts, ", ").capitalised().say(".");
    only.then(told_line).then(remarks(told, index, teller.zero))
}

/// The numbers of the rows that an item says again, with those said together with it, in each size that is shown.
fn said_again(told: Told<'_>, index: usize) -> Vec<(usize, Vec<u32>)> {
    let lines = (index..=told.last_said_with(index)).filter_map(|at| told.line(at)?.same_as.as_ref());
    let number = |same: &SameAs, size: usize| told.number_of(same.piece, size, same.rows.get(size).copied().flatten()?);
    let numbers = |size: usize| {
        let mut numbers: Vec<u32> = lines.clone().filter_map(|same| number(same, size)).collect();
        numbers.sort_unstable();
        numbers.dedup();
        numbers
    };
    let is_for =
        |size: &usize| told.piece.items.get(index).is_none_or(|item| item.sizes.get(*size).copied().unwrap_or(true));
    told.voice.sizes.iter().copied().filter(is_for).map(|size| (size, numbers(size))).collect()
}

/// What a line begins with.
struct Opening<'a> {
    /// Steps before the lead: slip stitches along, another yarn.
    before: Vec<&'a Step>,
    /// The chains that its rows were begun with, each with its sizes.
    leads: Vec<(LeadWorked, Vec<usize>)>,
    /// It is not the lead of the piece.
    own_lead: bool,
    /// What follows.
    rest: &'a [Step],
}

impl<'a> Opening<'a> {
    fn of(told: Told<'a>, index: usize, line: &'a Line) -> Self {
        let (before, rest) = line.steps.split_at_checked(before_lead(&line.steps)).unwrap_or((&[], &line.steps));
        let leads = told.recorded(index, |row| row.lead);
        let own = before.iter().find_map(|s| if let StepKind::Lead(lead) = &s.kind { Some(lead) } else { None });
        let before = before.iter().filter(|step| !matches!(step.kind, StepKind::Lead(_))).collect();
        // A line with chains of its own has no lead beside them, unless a single one of them is the lead itself. Where they are for
        // some sizes only, the others have theirs.
        let chained = !leads.is_empty() && leads.iter().all(|(lead, _)| matches!(lead, LeadWorked::Plain(_)));
        let is_lead = own.is_none() && chained && rest.first().is_some_and(|s| matches!(s.kind, StepKind::Chain(_)));
        let rest = if is_lead { rest.get(1..).unwrap_or_default() } else { rest };
        Self { before, leads, own_lead: own.is_some_and(|own| own != told.piece.lead_at(index)), rest }
    }

    /// The chain that every row of the line was begun with, as far as they are alike.
    fn lead(&self) -> LeadWorked {
        match self.leads.as_slice() {
            [(lead, _)] => *lead,
            _ => LeadWorked::None,
        }
    }

    /// The chains and the stitch of a lead that counts, with all its chains when it goes on as a space.
    fn counted(&self) -> Option<(u32, u32, StitchId)> {
        if let LeadWorked::Counted(chains, stitch) = self.lead() {
            return Some((chains, chains, stitch));
        }
        let Some(StepKind::ChainAs(chains, stitch)) = self.rest.first().map(|s| &s.kind) else { return None };
        let tall = chains.single()?;
        let space = match self.rest.get(1).map(|s| &s.kind) {
            Some(StepKind::Chain(space)) => space.single().unwrap_or(0),
            _ => 0,
        };
        Some((tall, tall.saturating_add(space), *stitch))
    }

    /// Whether the first stitch is in the place that the hook stands in.
    fn stands_there(&self) -> bool {
        let same = |step: &Step| match &step.kind {
            StepKind::Work(work) => work.places.is_same(),
            StepKind::Group(_, places) => places.is_same(),
            _ => false,
        };
        self.counted().is_some() || self.rest.first().is_some_and(same)
    }

    /// The stitch that a line begins with at once, too tall to rise from a slip stitch.
    fn standing_stitch(&self, voice: &Voice<'_>) -> Option<StitchId> {
        let risen = self.leads.iter().any(|(lead, _)| *lead != LeadWorked::None);
        // What is passed over first lies between the join and the stitch.
        let elsewhere = !matches!(self.before.last().map(|step| &step.kind), Some(StepKind::Rejoin(..)))
            || self.rest.first().is_some_and(begin::only_skips);
        if risen || elsewhere || self.counted().is_some() || begins_with_chain(voice, self.rest, 0) {
            return None;
        }
        let Some(First::Stitch(first)) = first_made(voice, self.rest, 0) else { return None };
        voice.pattern.stitches.get(first).is_some_and(|stitch| stitch.height > 1).then_some(first)
    }

    /// Where a counted lead is joined to, or worked into: `top of beg ch-3`, `3rd ch of turning ch-4`.
    fn top(&self, voice: &Voice<'_>, round: bool) -> Option<Phrase> {
        if let Some(StepKind::TurningAs(chains, Some(_), space)) = self.rest.first().map(|s| &s.kind) {
            let tall = chains.single()?.saturating_sub(space.unwrap_or(0));
            let at = if space.is_some() {
                format!("{} of the {} ", ordinal(tall), voice.skipped())
            } else {
                format!("top of the {} ", voice.skipped())
            };
            return Some(Phrase::of(at).then(voice.kind(Kind::Chain, Amount::Many)));
        }
        if matches!(self.lead(), LeadWorked::InStart(Some(_))) {
            return Some(
                Phrase::of(format!("top of the {} ", voice.skipped())).then(voice.kind(Kind::Chain, Amount::Many)),
            );
        }
        let (tall, all, _) = self.counted().filter(|(_, all, _)| *all > 0)?;
        let chain = voice.kind(Kind::Chain, Amount::One);
        let at = if all > tall { Phrase::of(format!("{} ", ordinal(tall))).then(chain) } else { Phrase::of("top") };
        let start = Phrase::of(" of ");
        let start = if round { start.with(voice.term(Term::Beginning)) } else { start.say("turning") };
        Some(at.then(start).say(" ").then(voice.chain_of(all.to_string())))
    }
}

/// What the teller has to know before the first word.
fn prepare<'a>(teller: &mut Teller<'a>, told: Told<'a>, index: usize, line: &Line) {
    if line.steps.iter().any(|s| s.kind == StepKind::OtherSide) {
        teller.course = Course::Across;
    }
    let in_start = told.recorded(index, |row| match row.lead {
        LeadWorked::InStart(Some(counted)) => Some(Skipped::CountAs(counted)),
        LeadWorked::InStart(None) => Some(Skipped::CountForNothing),
        LeadWorked::None | LeadWorked::Plain(_) | LeadWorked::Counted(..) => None,
    });
    teller.in_chain = in_start.into_iter().find_map(|(counted, _)| counted);
    teller.piece = told.piece.span;
    teller.first_place = begin::first_place(told, index, line);
    teller.begins_in_chains = told.worked_by(index).any(|row| row.widened[0] > 0);
    teller.corner = begin::corner(told).filter(|_| is_first(told, index));
    teller.sides = sides(told, index);
    teller.mirrored = told.piece.mirror_of.is_some();
    teller.spreads = spreads(told, index);
    teller.corner_left = told.recorded(index, |row| row.corner_left).iter().all(|(left, _)| *left);
    teller.short = told.worked_by(index).any(|row| row.closing == Closing::TurnedShort);
    teller.left_by = left_by(told, index);
    let mut before = line.steps.iter().take(before_lead(&line.steps));
    teller.moved_on = line.round && before.any(|step| matches!(step.kind, StepKind::Move(_)));
    teller.in_part = told.worked_by(index).any(|row| row.closing == Closing::Part);
    if told.piece.way_at(index) == Way::Spiral {
        teller.first = "next";
    } else {
        teller.turned_lead = match told.piece.lead_at(index) {
            Lead::None => LeadWorked::None,
            Lead::Plain(chains) => LeadWorked::Plain(*chains),
            Lead::Counted(chains, stitch) => LeadWorked::Counted(*chains, *stitch),
        };
    }
    let behind = line.steps.iter().any(|s| matches!(s.kind, StepKind::Behind(_)));
    let below = line_below(told, index).filter(|_| !is_first(told, index) && !behind);
    if below.is_some_and(|(_, line)| line.steps.iter().any(|s| matches!(s.kind, StepKind::Close(..)))) {
        teller.same = Noun::Space;
        teller.standing = Some(Noun::Space);
        teller.closed_below = true;
    }
    teller.lead_below = below
        .and_then(|(below, line)| Opening::of(told, below, line).top(told.voice, line.round))
        .unwrap_or_else(|| {
            let start = if line.round { "beginning " } else { "turning " };
            Phrase::of("top of ").say(start).with(told.voice.term(Term::Chain))
        });
}

/// ` of what Row 5 left unworked`, where yarn is joined to it.
fn left_by(told: Told<'_>, index: usize) -> Option<Phrase> {
    let mut numbers: Vec<(usize, Vec<u32>)> = Vec::new();
    for &size in &told.voice.sizes {
        if let Some(left_by) = told.worked_in(index, size).next().and_then(|row| row.resumes) {
            numbers.push((size, vec![left_by]));
        }
    }
    let round = told.line(index).is_some_and(|line| line.round);
    let row = label::of_each(told.voice, round, &numbers);
    (!numbers.is_empty()).then(|| Phrase::of(" of what ").then(row).say(" left unworked"))
}

/// Which side faces the maker, with the sizes in which it does.
fn sides(told: Told<'_>, index: usize) -> Vec<(bool, Vec<usize>)> {
    match told.side {
        Some(side) => vec![(side, told.voice.sizes.clone())],
        None => told.recorded(index, |row| row.right_side),
    }
}

/// How stitches are spread in a line, from the row of each size that its words are for.
fn spreads(told: Told<'_>, index: usize) -> Vec<(usize, &Spread)> {
    let rows = told.voice.sizes.iter();
    let first = rows.filter_map(|&size| Some((size, told.told_row(index, size)?)));
    first.flat_map(|(size, row)| row.spreads.iter().map(move |spread| (size, spread))).collect()
}

/// `turn, ch 1`, `join B with sl st in next ch-2 sp, ch 3 (counts as dc)`.
fn open(teller: &mut Teller<'_>, told: Told<'_>, index: usize, opening: &Opening<'_>) -> Vec<Phrase> {
    let mut parts: Vec<Phrase> = yarns::beginning(told, index).into_iter().collect();
    match turned(told, index) {
        (turned, _) if turned.is_empty() => {
            let unturned = told.line(index).is_some_and(|line| stays_unturned(told, index, line));
            parts.extend(unturned.then(|| Phrase::of("do not turn")));
        }
        (_, not) if not.is_empty() => parts.push(Phrase::of("turn")),
        (turned, _) => parts.push(Phrase::of("turn").then(label::in_sizes(told.voice, &turned))),
    }
    let mut rows = told.rows_of_shown(index).map(|row| row.joined_anywhere);
    let anywhere = rows.next().is_some_and(|first| first && rows.all(|other| other));
    teller.anew = Some(if anywhere { "any " } else { "first " });
    for step in opening.before.iter().filter(|step| !is_folded(step)) {
        if let StepKind::Move(Where::Till(Till::Next(kind)) | Where::In(Place::NextOf(kind))) = &step.kind
            && teller.corner == Some(*kind)
        {
            // The hook is there already.
            teller.stands_in(*kind);
            continue;
        }
        match &step.kind {
            StepKind::ChangeTo(yarn) if yarns::in_hand(told, index) == Some(yarn.as_str()) => continue,
            StepKind::Rejoin(Some(yarn), _) => parts.extend(yarns::ended(told, index, yarn)),
            _ => {}
        }
        parts.extend(teller.steps(std::slice::from_ref(step)));
        // What is passed over says where the next place is.
        teller.anew = teller.anew.filter(|_| !matches!(step.kind, StepKind::Skip(..)));
    }
    teller.anew = None;
    for (lead, sizes) in &opening.leads {
        if told.voice.brief && !opening.own_lead && matches!(lead, LeadWorked::Plain(_)) {
            continue;
        }
        if let (true, true, LeadWorked::None, Lead::Plain(chains)) =
            (told.voice.brief, opening.own_lead, lead, told.piece.lead_at(index))
            && opening.counted().is_none()
            && !begins_with_chain(told.voice, opening.rest, 0)
        {
            parts.push(Phrase::of("no ").then(teller.chains(*chains)));
        }
        let chain = if opening.own_lead { teller.own_lead(*lead) } else { teller.lead_chain(*lead) };
        if !chain.is_empty() {
            let alike = opening.leads.len() == 1;
            parts.push(if alike { chain } else { chain.then(label::in_sizes(told.voice, sizes)) });
        }
    }
    for fold in opening.before.iter().filter(|step| is_folded(step)) {
        parts.extend(teller.steps(std::slice::from_ref(fold)));
    }
    parts.retain(|p| !p.is_empty());
    parts
}

/// Whether a step folds the work for all the stitches that follow.
fn is_folded(step: &Step) -> bool {
    matches!(step.kind, StepKind::Through(..))
}

/// `beginning in same st`, where the first stitch goes into the place that yarn was joined in.
fn from_the_join(teller: &mut Teller<'_>, opening: &Opening<'_>, passed: usize) -> Option<Phrase> {
    if passed > 0 {
        teller.position = Position::Begun;
        return Some(Phrase::of("beginning where the yarn was joined"));
    }
    let Some(join) = opening.before.iter().rev().find(|s| !matches!(s.kind, StepKind::Lead(_))) else {
        return teller.beginning_in_corner(opening.rest.first()?);
    };
    if opening.counted().is_some() { None } else { teller.beginning_in_same(join, opening.rest.first()) }
}

/// The steps of a line whose first one is a single step into the place that yarn was joined in, which says so itself.
fn in_same_place(teller: &mut Teller<'_>, opening: &Opening<'_>, passed: usize) -> Option<Vec<Step>> {
    if passed > 0 || opening.counted().is_some() {
        return None;
    }
    let join = opening.before.iter().rev().find(|step| !matches!(step.kind, StepKind::Lead(_)))?;
    let (first, rest) = opening.rest.split_first()?;
    let first = begin::in_same(teller.voice, first)?;
    teller.beginning_in_same(join, opening.rest.first())?;
    teller.position = Position::Further;
    Some(std::iter::once(first).chain(rest.iter().cloned()).collect())
}

fn working_in(loops: LoopOnly) -> Phrase {
    Phrase::of(match loops {
        LoopOnly::Back => "working in back loops only",
        LoopOnly::Front => "working in front loops only",
    })
}

/// Steps at the end of a line that come after its join.
fn split_tail(steps: &[Step]) -> (&[Step], &[Step]) {
    let after = |step: &&Step| matches!(step.kind, StepKind::ChangeTo(_) | StepKind::FastenOff | StepKind::Turn);
    let tail = steps.iter().rev().take_while(after).count();
    steps.split_at(steps.len().saturating_sub(tail))
}

/// `join with sl st in first sc`.
fn join(told: Told<'_>, index: usize, body: &[Step], opening: &Opening<'_>) -> Option<Phrase> {
    let joined = told.recorded(index, |row| row.closing == Closing::Joined);
    let alike = joined.len() == 1;
    let (_, sizes) = joined.into_iter().find(|(joined, _)| *joined)?;
    let at = began(told, opening, body, true);
    let join = Phrase::of("join with ").with(told.voice.term(Term::SlipStitch)).say(" in ").then(at);
    Some(if alike { join } else { join.then(label::in_sizes(told.voice, &sizes)) })
}

/// Where a round began, which its join goes into: `first sc`, `top of beg ch-3`.
fn began(told: Told<'_>, opening: &Opening<'_>, body: &[Step], round: bool) -> Phrase {
    let voice = told.voice;
    if let Some(top) = opening.top(voice, round) {
        return top;
    }
    if begins_over(body) {
        return Phrase::of("first ").then(voice.kind(Kind::Chain, Amount::One));
    }
    // A loop that the round begins with is part of it, so the join lies before it and not in the first stitch.
    if opening.leads.len() > 1 || begins_with_chain(voice, body, 0) {
        return Phrase::of("the base of the first ").then(voice.kind(Kind::Chain, Amount::One));
    }
    let first = match first_made(voice, body, 0) {
        Some(First::Stitch(id)) => Kind::Stitch(id),
        Some(First::Unknown) | None => Kind::AnyStitch,
    };
    Phrase::of("first ").then(voice.kind(first, Amount::One))
}

/// Whether a line begins with a chain over places that it has skipped or set aside: its chains are the first places of the next one.
fn begins_over(steps: &[Step]) -> bool {
    let passes = |step: &&Step| matches!(step.kind, StepKind::Skip(..) | StepKind::SetAside(..));
    let over = steps.iter().take_while(passes).count();
    over > 0 && matches!(steps.get(over).map(|step| &step.kind), Some(StepKind::Chain(_)))
}

/// Whether a chain is made before any stitch, by a stitch of the designer's own too.
pub(super) fn begins_with_chain(voice: &Voice<'_>, steps: &[Step], depth: u32) -> bool {
    let passes = |step: &Step| matches!(step.kind, StepKind::Skip(..) | StepKind::SetAside(..) | StepKind::Mark(_));
    let first = steps.iter().find(|step| !passes(step));
    match first.map(|step| &step.kind) {
        Some(StepKind::Chain(_)) => true,
        Some(StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, _), .. }) | StepKind::Group(steps, _))
            if depth < MOST_DEPTH =>
        {
            begins_with_chain(voice, steps, depth + 1)
        }
        Some(StepKind::Work(work)) if depth < MOST_DEPTH => {
            voice.definition(work.stitch).is_some_and(|own| begins_with_chain(voice, &own.steps, depth + 1))
        }
        Some(_) | None => false,
    }
}

/// The first stitch that is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum First {
    /// This one.
    Stitch(StitchId),
    /// It depends on what is met.
    Unknown,
}

/// Whether a step is worked in the sizes that are shown.
enum Often {
    Never,
    /// In some of them a number of it is 0.
    BySize,
    Always,
}

fn how_often(voice: &Voice<'_>, numbers: &[&Sized]) -> Often {
    let none = |size: &usize| numbers.iter().any(|number| number.get(*size) == 0);
    match voice.sizes.iter().filter(|size| none(size)).count() {
        0 => Often::Always,
        all if all == voice.sizes.len() => Often::Never,
        _ => Often::BySize,
    }
}

/// The first stitch that steps make. Designers' stitches may be made of one another, so the depth has an end.
fn first_made(voice: &Voice<'_>, steps: &[Step], depth: u32) -> Option<First> {
    let unless_none = |numbers: &[&Sized], made: &dyn Fn() -> Option<First>| match how_often(voice, numbers) {
        Often::Never => None,
        Often::BySize => Some(First::Unknown),
        Often::Always => made(),
    };
    steps.iter().find_map(|step| match &step.kind {
        StepKind::Work(work) => {
            let places = match &work.places {
                Where::Count(number) | Where::CountOf(number, _) => number,
                Where::Till(_) | Where::Each(..) | Where::Skipped(..) | Where::In(_) => &work.each,
            };
            unless_none(&[&work.each, places], &|| made_by(voice, work.stitch, depth))
        }
        StepKind::Group(steps, _) | StepKind::Colours(steps) => first_made(voice, steps, depth),
        // What it begins with is under its last row.
        StepKind::ToAndFro(..) => Some(First::Unknown),
        StepKind::Grid(grid) => first_made(voice, &grid.facing, depth),
        StepKind::Evenly(evenly) => made_by(voice, evenly.plain, depth),
        StepKind::Together(_, stitch) | StepKind::ChainAs(_, stitch) => Some(First::Stitch(*stitch)),
        StepKind::Repeat(repeat) => match &repeat.body {
            RepeatBody::Steps(steps, _) => {
                let times = match &repeat.extent {
                    Extent::Times(number) => vec![number],
                    Extent::Till(_) => Vec::new(),
                };
                unless_none(&times, &|| first_made(voice, steps, depth))
            }
            RepeatBody::On(_) => Some(First::Unknown),
        },
        StepKind::Chain(_)
        | StepKind::TurningAs(..)
        | StepKind::Skip(..)
        | StepKind::SetAside(..)
        | StepKind::Leave(_)
        | StepKind::Move(_)
        | StepKind::Turn
        | StepKind::OtherSide
        | StepKind::Lead(_)
        | StepKind::Mark(_)
        | StepKind::Go(_)
        | StepKind::ChangeTo(_)
        | StepKind::FastenOff
        | StepKind::Rejoin(..)
        | StepKind::JoinTo(..)
        | StepKind::Behind(_)
        | StepKind::Through(..)
        | StepKind::Close(..) => None,
    })
}

fn made_by(voice: &Voice<'_>, stitch: StitchId, depth: u32) -> Option<First> {
    if let Some(definition) = voice.definition(stitch) {
        return if depth < MOST_DEPTH { first_made(voice, &definition.steps, depth + 1) } else { Some(First::Unknown) };
    }
    voice.pattern.stitches.get(stitch)?.makes.iter().find_map(|made| match made {
        Made::Stitch(id) => Some(First::Stitch(*id)),
        Made::Chains(_) => None,
    })
}

/// `the waiting sts included`, after a line that goes over what short rows have left.
fn waited(told: Told<'_>, index: usize) -> Option<Phrase> {
    let stitches = told.voice.kind(Kind::AnyStitch, Amount::Many);
    takes_waiting(told, index).then(|| Phrase::of("the waiting ").then(stitches).say(" included"))
}

/// `going on past the beginning of the rnd`, after a short row that has done so.
fn past_the_beginning(told: Told<'_>, index: usize) -> Option<Phrase> {
    let past = told.worked_by(index).any(|row| row.past_the_beginning);
    past.then(|| {
        Phrase::of("going on past the beginning of the ").then(label::line_word(told.voice, true, Amount::One))
    })
}

/// How the rows of a line that begins a piece go on after the first of them: turned, with a lead, into stitches.
fn from_the_second(told: Told<'_>, index: usize) -> Option<Phrase> {
    if told.row.is_some() {
        return None;
    }
    let voice = told.voice;
    let round = told.line(index).filter(|line| line.same_as.is_none())?.round;
    let pairs = || {
        let of_size = |&size: &usize| Some((told.rows_of(index, size).next()?, told.rows_of(index, size).nth(1)?));
        voice.sizes.iter().filter_map(of_size)
    };
    let (first, second) = pairs().next()?;
    let (_, not_before) = turned(told, index);
    let in_line =
        told.line(index).is_some_and(|line| line.steps.iter().rev().take(2).any(|step| step.kind == StepKind::Turn));
    let turns =
        !not_before.is_empty() && !in_line && pairs().all(|(first, second)| first.right_side != second.right_side);
    // The first one is turned, and says so; the next is not, or was turned at the end of the one before.
    let stays = not_before.is_empty()
        && voice
            .sizes
            .iter()
            .any(|&size| told.rows_of(index, size).nth(1).is_some_and(|second| !is_row_turned(told, second, size)));
    let mut teller = Teller::new(voice, &[], round, Noun::Stitch);
    let lead = if first.lead == second.lead { Phrase::default() } else { teller.lead_chain(second.lead) };
    let elsewhere = is_first(told, index) && noun(told, index) != Noun::Stitch;
    let stitches = Phrase::of("work in the ").then(voice.kind(Kind::AnyStitch, Amount::Many));
    let parts = [
        match (turns, stays) {
            (true, _) => Phrase::of("turn"),
            (false, true) => Phrase::of("do not turn before it"),
            (false, false) => Phrase::default(),
        },
        lead,
        if elsewhere { stitches } else { Phrase::default() },
    ];
    let parts: Vec<Phrase> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    let from = Phrase::of(" From the second ").then(label::line_word(voice, round, Amount::One)).say(" on ");
    (!parts.is_empty()).then(|| from.then(Phrase::and(parts)).say("."))
}

/// What the joins of a piece to its own copies mean for the first of them, said where the first such line is.
fn copies(told: Told<'_>, index: usize) -> Option<Phrase> {
    if told.row.is_some_and(|(item, at)| item != index || at > 0) {
        return None;
    }
    let pieces = &told.voice.pattern.pieces;
    let own = |join: &Join| pieces.get(join.piece).is_some_and(|piece| piece.span == told.piece.span);
    // Where a place of a piece that is made less often is named, further copies have it themselves.
    let named = |join: &Join| {
        join.nth > 0 && !own(join) && pieces.get(join.piece).is_some_and(|other| other.copies < told.piece.copies)
    };
    let to_others = |at: usize| told.worked_by(at).any(|row| row.joins.iter().any(named));
    if to_others(index) && !(0..index).any(to_others) {
        return Some(Phrase::of(" Do the same with each further one, in the places of the one made before."));
    }
    let joins = |at: usize| told.worked_by(at).any(|row| row.joins.iter().any(own));
    if !joins(index) || (0..index).any(joins) {
        return None;
    }
    let name = Phrase::quoted(&told.piece.name);
    let first =
        Phrase::of(" Work the first ").then(name).say(" without the joins; join each further one to one made before.");
    Some(first)
}

/// What has to be said after a line: a chain that is met like a stitch, colours, a number that is 0 in some size.
fn remarks(told: Told<'_>, index: usize, zero: Zero) -> Phrase {
    let mut remarks = Phrase::default();
    if let Some(treated) = runs::treated(told, index) {
        let round = told.line(index).is_some_and(|l| l.round);
        remarks = remarks.then(label::in_these(told, index, round)).then(treated).say(".");
    }
    if stands_on_tabs(told, index) {
        let line = label::line_word(told.voice, told.line(index).is_some_and(|l| l.round), Amount::One);
        let stitch = told.voice.kind(Kind::AnyStitch, Amount::One);
        remarks = remarks
            .say(" Where a small piece was turned in the ")
            .then(line)
            .say(" below, each row end up its other side is a ");
        remarks = remarks.then(stitch).say(" here.");
    }
    remarks = remarks.then(from_the_second(told, index).unwrap_or_default());
    remarks = remarks.then(copies(told, index).unwrap_or_default());
    remarks = remarks.then(stripes::remark(told, index).unwrap_or_default());
    if zero.of_a_step {
        remarks = remarks.say(" Where the number is 0, leave that step out.");
    }
    if zero.before_the_end {
        remarks = remarks.say(" To last 0 is to the end.");
    }
    remarks
}

/// Whether the row below has small pieces whose row ends are places of this one.
fn stands_on_tabs(told: Told<'_>, index: usize) -> bool {
    let below = line_below(told, index).filter(|_| !is_first(told, index));
    below.is_some_and(|(_, line)| line.steps.iter().any(|step| matches!(step.kind, StepKind::ToAndFro(_, true))))
}
