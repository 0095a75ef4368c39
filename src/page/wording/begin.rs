//! Where a line begins when yarn has been joined: what is passed over before, and whether the join is worked into.

use crate::fabric::{Closing, LeadWorked, Row, Taken};
use crate::pattern::model::{
    Extent, ItemKind, Kind, Layout, Line, Place, Repeat, RepeatBody, Start, Step, StepKind, Till, Where, Work,
    before_lead,
};

use super::context::{Told, is_first, line_below, noun};
use super::label;
use super::line::begins_with_chain;
use super::names::{Amount, Term, Voice};
use super::phrase::Phrase;
use super::runs;
use super::teller::{Noun, Position, Teller, noun_of};
use crate::limits::MOST_DEPTH;

/// How many of the first steps of a line only pass over places of the edge that its piece is joined to. The start of the
/// piece says them, so that the yarn is joined where the work begins.
pub(super) fn passed(told: Told<'_>, index: usize) -> usize {
    let Some(line) = told.line(index).filter(|_| is_first(told, index) && told.piece.start.is_on_something()) else {
        return 0;
    };
    let leads = told.recorded(index, |row| row.lead);
    let stands = leads.iter().any(|(lead, _)| matches!(lead, LeadWorked::Counted(..)));
    let once = told.voice.sizes.iter().all(|&size| told.worked_in(index, size).nth(1).is_none());
    if stands || !once || line.same_as.is_some() {
        return 0;
    }
    let rest = line.steps.iter().skip_while(|s| matches!(s.kind, StepKind::Lead(_)));
    let skips = rest.clone().take_while(|step| only_skips(step)).count();
    // A chain or another skip would be counted from the place that yarn is joined in.
    let goes_there = |first: &Step| takes_next(told.voice, first, 0) || (skips > 0 && repeats_from_a_skip(first));
    if rest.clone().nth(skips).is_some_and(goes_there) { skips } else { 0 }
}

/// Whether what is repeated begins by passing over the place that comes next.
fn repeats_from_a_skip(step: &Step) -> bool {
    let StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, _), .. }) = &step.kind else { return false };
    matches!(steps.first().map(|step| &step.kind), Some(StepKind::Skip(_, None)))
}

/// Whether the first line of a piece says itself where yarn is joined.
pub(super) fn joins_itself(told: Told<'_>) -> bool {
    let lines = told.piece.items.iter().filter_map(|item| match &item.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    });
    let first = lines.take(1).flat_map(|line| &line.steps);
    first
        .skip_while(|s| matches!(s.kind, StepKind::Lead(_)) || only_skips(s))
        .take(1)
        .any(|s| matches!(s.kind, StepKind::Rejoin(..)))
}

pub(super) fn only_skips(step: &Step) -> bool {
    match &step.kind {
        StepKind::Skip(..) => true,
        StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, None), extent: Extent::Times(_), .. }) => {
            steps.iter().all(only_skips)
        }
        _ => false,
    }
}

/// The layout that a piece goes round, by the piece that is laid out.
pub(super) fn round_layout(told: Told<'_>) -> Option<(usize, &Layout)> {
    let Start::Around(other) = told.piece.start else { return None };
    Some((other, told.voice.pattern.pieces.get(other)?.layout.as_ref()?))
}

/// The corner that a piece begins in which goes round a layout.
pub(super) fn corner(told: Told<'_>) -> Option<Kind> {
    round_layout(told).map(|(_, layout)| Kind::Space(layout.corners))
}

/// What the first place of a line is called that begins elsewhere than in a stitch: `first ch-2 sp`.
pub(super) fn first_place(told: Told<'_>, index: usize, line: &Line) -> Option<(Noun, Phrase)> {
    let named = |kind: Kind| Some((noun_of(kind), Phrase::of("first ").then(told.voice.kind(kind, Amount::One))));
    let before = line.steps.get(..before_lead(&line.steps)).unwrap_or_default();
    let goes = |step: &&Step| matches!(step.kind, StepKind::Move(_) | StepKind::Rejoin(..));
    match before.iter().rev().find(goes).map(|step| &step.kind) {
        Some(
            StepKind::Move(Where::Till(Till::Next(kind)) | Where::In(Place::NextOf(kind)))
            | StepKind::Rejoin(_, Place::NextOf(kind)),
        ) => named(*kind),
        None | Some(StepKind::Rejoin(_, Place::Next | Place::First)) => {
            // What the round below begins with is the first place of this one, or what it was closed with.
            let (_, below) = line_below(told, index).filter(|_| line.round && !is_first(told, index))?;
            if below.steps.iter().any(|step| matches!(step.kind, StepKind::Close(..))) && !told.turns(index) {
                let space = Phrase::of("the ").with(told.voice.term(Term::Space)).say(" where the ");
                let began = space.then(label::line_word(told.voice, line.round, Amount::One)).say(" began");
                return Some((Noun::Space, began));
            }
            let first = below.steps.get(before_lead(&below.steps)..)?;
            let begins = told.recorded(index, |row| row.right_side).len() == 1 && !told.turns(index);
            let chains = leading_chain(first, 0).filter(|_| begins && begins_with_chain(told.voice, first, 0))?;
            named(Kind::Space(chains))
        }
        Some(_) => Some((
            Noun::Place,
            Phrase::of("the place where the ")
                .then(label::line_word(told.voice, line.round, Amount::One))
                .say(" began"),
        )),
    }
}

/// The chains that steps begin with, where they are no lead and all sizes have the same.
fn leading_chain(steps: &[Step], depth: u32) -> Option<u32> {
    match &steps.first()?.kind {
        StepKind::Chain(chains) => chains.single().filter(|chains| *chains > 1),
        StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, _), .. }) if depth < MOST_DEPTH => {
            leading_chain(steps, depth + 1)
        }
        _ => None,
    }
}

/// `skip first 12 sts, then join A with sl st in next st`, or `join A with sl st in the first st`.
pub(super) fn joined(told: Told<'_>, join: &Phrase, first: Phrase) -> Phrase {
    skipped(told).map_or_else(
        || join.clone().then(first),
        |(skipped, next)| skipped.say(", then ").then(join.clone()).then(next),
    )
}

/// What the first line of a piece passes over, and the place after it.
pub(super) fn skipped(told: Told<'_>) -> Option<(Phrase, Phrase)> {
    let index = told.piece.items.iter().position(|item| matches!(item.kind, ItemKind::Work(_)))?;
    let (line, item) = (told.line(index)?, told.piece.items.get(index)?);
    let leads = line.steps.iter().take_while(|s| matches!(s.kind, StepKind::Lead(_))).count();
    let (skips, rest) =
        line.steps.get(leads..)?.split_at_checked(passed(told, index)).filter(|(skips, _)| !skips.is_empty())?;
    let mut teller = Teller::new(told.voice, &item.sizes, line.round, noun(told, index));
    let told_skips = Phrase::list(teller.steps(skips), ", ");
    let told_skips = match runs::counted(told, index) {
        Some(counted) => told_skips.say(" (").then(counted).say(")"),
        None => told_skips,
    };
    teller.position = Position::Begun;
    let next = rest.first().and_then(|step| first_kind(told.voice, step, 0));
    let next = next.map_or_else(|| teller.place_name(Amount::One), |kind| told.voice.kind(kind, Amount::One));
    Some((told_skips, Phrase::of("next ").then(next)))
}

/// The kind of place that a step goes into first, as far as it names one.
fn first_kind(voice: &Voice<'_>, step: &Step, depth: u32) -> Option<Kind> {
    match &step.kind {
        StepKind::Work(work) => match (&work.places, voice.definition(work.stitch)) {
            (Where::CountOf(_, kind) | Where::Each(kind, _) | Where::In(Place::NextOf(kind)), _) => Some(*kind),
            (_, Some(definition)) if depth < MOST_DEPTH => first_kind(voice, definition.steps.first()?, depth + 1),
            _ => None,
        },
        StepKind::Group(_, Where::CountOf(_, kind) | Where::Each(kind, _) | Where::In(Place::NextOf(kind))) => {
            Some(*kind)
        }
        StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, _), .. }) if depth < MOST_DEPTH => {
            first_kind(voice, steps.first()?, depth + 1)
        }
        _ => None,
    }
}

impl Teller<'_> {
    /// The hook stands in such a place before anything is worked.
    pub(super) fn stands_in(&mut self, kind: Kind) {
        self.went_into(noun_of(kind));
        self.standing = Some(self.same);
        self.corner = None;
    }

    /// `beginning in same ch-3 sp`, where what is repeated goes into the corner first that the line begins in.
    pub(super) fn beginning_in_corner(&mut self, first: &Step) -> Option<Phrase> {
        let corner = self.corner.take_if(|corner| {
            matches!(first.kind, StepKind::Repeat(_))
                && first_kind(self.voice, first, 0) == Some(*corner)
                && takes_next(self.voice, first, 0)
        })?;
        self.position = Position::Begun;
        Some(Phrase::of("beginning in same ").then(self.voice.kind(corner, Amount::One)))
    }

    /// `beginning in same st`, where the first stitch after yarn is joined goes into that place without saying `same`.
    pub(super) fn beginning_in_same(&mut self, join: &Step, first: Option<&Step>) -> Option<Phrase> {
        let (StepKind::Rejoin(_, place), first) = (&join.kind, first?) else { return None };
        if matches!(place, Place::Gap | Place::FirstGap) && goes_between(first, 0) {
            self.position = Position::Begun;
            return Some(Phrase::of("beginning in same ").then(self.called(self.same, Amount::One)));
        }
        let there = match (place, first_kind(self.voice, first, 0)) {
            (Place::NextOf(joined) | Place::Nth(_, joined), Some(kind)) => *joined == kind,
            (
                Place::Next
                | Place::NextOf(_)
                | Place::Nth(..)
                | Place::ChainOf(..)
                | Place::First
                | Place::Last
                | Place::FirstOf(_)
                | Place::LastOf(_)
                | Place::Mark(_),
                None,
            ) => true,
            _ => false,
        };
        if !there || !takes_next(self.voice, first, 0) {
            return None;
        }
        self.position = Position::Begun;
        Some(Phrase::of("beginning in same ").then(self.called(self.same, Amount::One)))
    }
}

/// A step into the one place that comes next, told of the place that the hook stands in.
pub(super) fn in_same(voice: &Voice<'_>, step: &Step) -> Option<Step> {
    let is_one = |places: &Where| match places {
        Where::Count(number) | Where::CountOf(number, _) => number.single() == Some(1),
        Where::In(Place::Next | Place::NextOf(_) | Place::Gap | Place::FirstGap) => true,
        Where::In(_) | Where::Till(_) | Where::Each(..) | Where::Skipped(..) => false,
    };
    let same = Where::In(Place::Same(None));
    let kind = match &step.kind {
        // What goes over several places only begins there.
        StepKind::Work(work)
            if is_one(&work.places)
                && voice.definition(work.stitch).is_none()
                && voice.pattern.stitches.get(work.stitch).is_none_or(|stitch| stitch.takes < 2)
                && work.below == 0 =>
        {
            StepKind::Work(Work { places: same, ..work.clone() })
        }
        StepKind::Group(steps, places) if is_one(places) => StepKind::Group(steps.clone(), same),
        _ => return None,
    };
    Some(Step { span: step.span, kind })
}

/// Whether steps go from one gap between two stitches to the next one, with chains at most in between.
pub(super) fn stays_between(steps: &[Step]) -> bool {
    steps.iter().all(|step| matches!(step.kind, StepKind::Chain(_)) || goes_between(step, 0))
}

/// Whether a step goes between two stitches first.
fn goes_between(step: &Step, depth: u32) -> bool {
    match &step.kind {
        StepKind::Work(work) => work.places == Where::In(Place::Gap),
        StepKind::Group(_, places) => *places == Where::In(Place::Gap),
        StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, _), .. }) => {
            depth < MOST_DEPTH && steps.first().is_some_and(|first| goes_between(first, depth + 1))
        }
        _ => false,
    }
}

/// Whether a step works into the place that comes next.
fn takes_next(voice: &Voice<'_>, step: &Step, depth: u32) -> bool {
    let next = |places: &Where| match places {
        Where::In(place) => matches!(place, Place::Next | Place::NextOf(_)),
        Where::Count(_) | Where::CountOf(..) | Where::Till(_) | Where::Each(..) => true,
        Where::Skipped(..) => false,
    };
    match &step.kind {
        StepKind::Work(work) => match voice.definition(work.stitch) {
            Some(definition) if depth < MOST_DEPTH && next(&work.places) => {
                definition.steps.first().is_some_and(|first| takes_next(voice, first, depth + 1))
            }
            _ => next(&work.places),
        },
        StepKind::Group(_, places) => next(places),
        StepKind::Together(steps, _) | StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, _), .. }) => {
            depth < MOST_DEPTH && steps.first().is_some_and(|first| takes_next(voice, first, depth + 1))
        }
        StepKind::Repeat(_) | StepKind::Evenly(_) => true,
        _ => false,
    }
}

/// Whether a piece is gone on with from the last round of the one before it, since its yarn has not been cut.
pub(super) fn goes_on(told: Told<'_>, other: usize) -> bool {
    let pieces = &told.voice.pattern.pieces;
    let (Some(below), Some(at)) = (pieces.get(other), pieces.iter().position(|p| p.span == told.piece.span)) else {
        return false;
    };
    let rows = |size: usize| told.pieces.get(other).and_then(|piece| piece.sizes.get(size)).map(|size| &size.rows);
    let goes_on =
        |row: &Row| row.closing != Closing::Left && !row.ledger.used.last().is_some_and(|stretch| stretch.cut);
    let last = below.items.iter().rev().find(|item| !matches!(item.kind, ItemKind::Words(_)));
    let uncut = last.is_some_and(|item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_)))
        && told.voice.sizes.iter().filter_map(|&size| rows(size)?.last()).all(goes_on);
    let starts = |piece: &&crate::pattern::model::Piece| matches!(piece.start, Start::Top(on) if on == other);
    let only = pieces.iter().filter(starts).count() == 1 && pieces.iter().all(|p| p.mirror_of != Some(other));
    let yarn = |piece: &crate::pattern::model::Piece| piece.yarn.clone().filter(|_| piece.stripe.is_empty());
    let taken = |row: &Row| row.ledger.used.iter().any(|stretch| stretch.taken != Taken::GoesOn);
    let changes = below.items.iter().any(|item| matches!(item.kind, ItemKind::ChangeTo(_)))
        || told.voice.sizes.iter().filter_map(|&size| rows(size)).flatten().any(taken);
    let same_yarn = !changes && yarn(below).is_some() && yarn(below) == yarn(told.piece);
    let rounds = below.last_way().rounds() && told.piece.way.rounds() && below.copies == told.piece.copies;
    at.checked_sub(1) == Some(other)
        && uncut
        && only
        && same_yarn
        && rounds
        && told.piece.using.as_deref() == below.using_at(below.items.len())
}
