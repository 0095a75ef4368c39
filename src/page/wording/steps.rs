//! Steps in the words of the trade.

use crate::diagnostic::Span;
use crate::page::Wording;
use crate::pattern::model::{Kind, LoopOnly, Place, Sized, Step, StepKind, Till, Where, Work};
use crate::words::ordinal;

use super::alike;
use super::label;
use super::names::{Amount, Term};
use super::opening;
use super::phrase::Phrase;
use super::places::Hook;
use super::teller::{Inside, Noun, Position, Teller, noun_of};

impl Teller<'_> {
    /// Every step of a list, in order. Steps that belong together in a sentence are told together.
    pub fn steps(&mut self, steps: &[Step]) -> Vec<Phrase> {
        let one = self.told_as_one(steps);
        self.each_in_turn(one.as_deref().unwrap_or(steps))
    }

    fn each_in_turn(&mut self, steps: &[Step]) -> Vec<Phrase> {
        let mut told = Vec::new();
        let mut rest = steps;
        while let Some((step, after)) = rest.split_first() {
            let (phrase, taken) = self.together_with_next(step, after);
            rest = after.get(taken..).unwrap_or_default();
            if !phrase.is_empty() {
                told.push(phrase);
            }
            told.extend(self.beginning_in_same(step, rest.first()));
        }
        told
    }

    /// The steps with those put together that one sentence says; nothing within one place, nor where the first place is called by another
    /// name.
    fn told_as_one(&self, steps: &[Step]) -> Option<Vec<Step>> {
        if self.inside == Inside::OnePlace || self.corner.is_some() || steps.len() < 2 {
            return None;
        }
        let steps: Vec<Step> = steps.iter().map(|step| self.as_one_run(step).unwrap_or_else(|| step.clone())).collect();
        Some(alike::put_together(self.voice, &steps))
    }

    /// A step into the last chain of its side, which is called so: before the other side is worked, and where that ends.
    fn into_last_chain(&self, step: &Step, after: &[Step]) -> Option<StepKind> {
        let turns = matches!(after.first().map(|next| &next.kind), Some(StepKind::OtherSide));
        let ends = after.is_empty() && self.on_other_side && !self.corner_left;
        let plain = self.noun == Noun::Chain && self.inside == Inside::Line && self.nest == 0 && !self.in_tab;
        if !plain || !(turns || ends) || self.position == Position::First {
            return None;
        }
        let is_one = |places: &Where| match places {
            Where::In(Place::Next) => true,
            Where::Count(number) => number.single() == Some(1),
            _ => false,
        };
        let last = Where::In(Place::Last);
        let takes_one =
            |work: &Work| self.voice.pattern.stitches.get(work.stitch).is_some_and(|stitch| stitch.takes == 1);
        match &step.kind {
            StepKind::Work(work) if is_one(&work.places) && takes_one(work) => {
                Some(StepKind::Work(Work { places: last, ..work.clone() }))
            }
            StepKind::Group(steps, places) if is_one(places) => Some(StepKind::Group(steps.clone(), last)),
            _ => None,
        }
    }

    /// A step, and how many of those after it were told with it.
    fn together_with_next(&mut self, step: &Step, after: &[Step]) -> (Phrase, usize) {
        if let StepKind::ChainAs(chains, stitch) = &step.kind
            && let Some(StepKind::Chain(space)) = after.first().map(|s| &s.kind)
        {
            return (self.chain_as_and_space(chains, *stitch, space), 1);
        }
        if self.in_tab && step.kind == StepKind::Turn {
            return self.turn_tab(after);
        }
        if let StepKind::TurningAs(_, stitch, space) = &step.kind
            && let Some((Step { kind: StepKind::Work(work), .. }, after)) = after.split_first()
        {
            self.in_chain = None;
            let aside = self.skipped_chains_as(*stitch, *space);
            let (told, taken) = self.told_from_hook(work, after, aside);
            return (told, taken + 1);
        }
        if let StepKind::Work(work) = &step.kind
            && let Where::In(Place::FromHook(number)) = work.places
        {
            let on_made = self.in_chain.is_none() || self.run.is_some();
            let aside = self.skipped_chains(number);
            return if on_made {
                self.along_made((work, number), after)
            } else {
                self.told_from_hook(work, after, aside)
            };
        }
        let last = self.into_last_chain(step, after);
        (self.step(last.as_ref().unwrap_or(&step.kind), step.span), 0)
    }

    /// One step by itself.
    pub fn step(&mut self, step: &StepKind, span: Span) -> Phrase {
        match step {
            StepKind::Work(work) => self.work(work),
            StepKind::Group(steps, places) => self.group(steps, places),
            StepKind::Together(steps, _) => self.together(steps),
            StepKind::ToAndFro(steps, row_ends) => self.to_and_fro(steps, *row_ends),
            StepKind::Repeat(repeat) => self.repeat(repeat),
            StepKind::Chain(chains) => self.chain(chains),
            StepKind::ChainAs(chains, stitch) => self.chain(chains).then(self.counts_as(*stitch)),
            StepKind::TurningAs(_, stitch, space) => self.skipped_chains_as(*stitch, *space),
            StepKind::Skip(number, kind) => self.skip(number, *kind),
            StepKind::SetAside(places, name) => self.set_aside(places, name),
            StepKind::Leave(number) => self.leave(number.as_ref()),
            StepKind::Move(Where::Count(number)) if self.is_nothing(number) => Phrase::default(),
            StepKind::Move(places) => self.move_along(places),
            StepKind::Turn => self.turn(),
            StepKind::OtherSide => self.other_side(),
            // It stands at the beginning of a line, and is told there as it was worked.
            StepKind::Lead(_) => Phrase::default(),
            StepKind::Mark(name) => self.mark(name),
            StepKind::Go(place) => self.go(place),
            StepKind::ChangeTo(yarn) => Phrase::of("change to ").then(Phrase::quoted(yarn)),
            StepKind::FastenOff => Phrase::of("fasten off"),
            StepKind::Rejoin(yarn, place) => self.rejoin(yarn.as_deref(), place),
            StepKind::Close(chains, stitch) => self.close(chains, *stitch),
            StepKind::Evenly(evenly) => self.evenly(evenly, span),
            StepKind::JoinTo(piece, kind, nth) => self.join_to(*piece, *kind, *nth),
            StepKind::Behind(number) => self.behind(*number),
            StepKind::Through(number, loops) => self.through(*number, *loops),
            StepKind::Colours(steps) => self.colours(steps),
            StepKind::Grid(grid) => self.grid(grid),
        }
    }

    /// `(2 dc, ch 2, 2 dc) in next ch-2 sp`.
    fn group(&mut self, steps: &[Step], places: &Where) -> Phrase {
        let mut inner = self.clone();
        inner.inside = Inside::OnePlace;
        let told = inner.steps(steps);
        self.zero = inner.zero;
        if self.voice.words == Wording::Aloud {
            return self.group_aloud(told, places);
        }
        let group = Phrase::of("(").then(Phrase::list(told, ", ")).say(")");
        if self.inside == Inside::OnePlace {
            return group;
        }
        let told = group.say(" ").then(self.places(places, Hook::SEVERAL));
        match places {
            Where::In(Place::FromHook(number)) => {
                let aside = self.skipped_chains(*number);
                told.then(aside)
            }
            _ => told,
        }
    }

    /// `work all of this in next chain 2 space: 2 double crochet, chain 2, 2 double crochet, that ends what goes there`.
    fn group_aloud(&mut self, told: Vec<Phrase>, places: &Where) -> Phrase {
        if self.inside == Inside::OnePlace {
            return Phrase::list(told, ", ");
        }
        let mut begun = Phrase::of("all of this ").then(self.places(places, Hook::SEVERAL));
        if let Where::In(Place::FromHook(number)) = places {
            begun = begun.then(self.skipped_chains(*number));
        }
        let ended = Phrase::of("end of what goes there");
        Phrase::list(std::iter::once(begun).chain(told).chain([ended]).collect(), ", ")
    }

    /// `work dc in next st and fpdc around next st tog`.
    fn together(&mut self, steps: &[Step]) -> Phrase {
        let told = self.each_in_turn(steps);
        Phrase::of("work ").then(Phrase::and(told)).say(" ").with(self.voice.term(Term::Together))
    }

    /// `skip next 2 sts`.
    fn skip(&mut self, number: &Sized, kind: Option<Kind>) -> Phrase {
        if self.is_nothing(number) {
            return Phrase::default();
        }
        let places = match kind {
            Some(kind) => Where::CountOf(number.clone(), kind),
            None => Where::Count(number.clone()),
        };
        let same = self.same;
        let told = self.target(&places, Hook::PLAIN);
        self.same = same;
        self.skipped = (number.single(), 0);
        self.skipped_space = kind.filter(|kind| matches!(kind, Kind::Space(_) | Kind::AnySpace));
        Phrase::of(self.voice.skip()).say(" ").then(told)
    }

    /// `leave next 30 sts unworked for left sleeve`.
    fn set_aside(&mut self, places: &Where, name: &str) -> Phrase {
        if let Where::Count(number) = places
            && self.is_nothing(number)
        {
            return Phrase::default();
        }
        let same = self.same;
        let told = match places {
            Where::Till(till @ Till::Next(_)) => {
                let all = Phrase::of("all ").then(self.place_name(Amount::Many)).say(" up ");
                self.went_into(self.noun);
                all.then(self.till(till))
            }
            _ => self.target(places, Hook::PLAIN),
        };
        self.same = same;
        Phrase::of("leave ").then(told).say(" unworked for ").then(opening::called(name))
    }

    /// `leave last 4 sts unworked`.
    fn leave(&mut self, number: Option<&Sized>) -> Phrase {
        let (one, many) = (self.place_name(Amount::One), self.place_name(Amount::Many));
        if self.on_other_side && self.corner_left {
            return Phrase::of("leave ").then(self.corner());
        }
        let round = || label::line_word(self.voice, true, Amount::One);
        let ends_here = || Phrase::of(", so that the ").then(round()).say(" ends here from now on");
        let ends_here = if self.in_part { ends_here() } else { Phrase::default() };
        // Round a ring those that were slipped along are among them.
        let Some(number) = number.filter(|_| !(self.round && self.moved)) else {
            let rest = Phrase::of("leave ").with(self.voice.term(Term::Remaining)).say(" ").then(many);
            return rest.say(" unworked").then(ends_here);
        };
        if self.is_nothing(number) {
            return Phrase::default();
        }
        let numbers = self.number(number);
        let left = if numbers.is_one() { one } else { Phrase::from(numbers).say(" ").then(many) };
        Phrase::of("leave last ").then(left).say(" unworked").then(ends_here)
    }

    /// `sl st in next 2 sts`, `sl st in each st to next ch-2 sp and in that sp`.
    pub fn move_along(&mut self, places: &Where) -> Phrase {
        let slip = Phrase::default().with(self.voice.term(Term::SlipStitch)).say(" ");
        let kind = match places {
            Where::Till(Till::Next(kind)) | Where::In(Place::NextOf(kind)) => *kind,
            Where::Count(number) => return slip.then(self.moved_over(number)),
            Where::CountOf(..) | Where::Till(_) | Where::Each(..) | Where::Skipped(..) | Where::In(_) => {
                return slip.then(self.places(places, Hook::PLAIN));
            }
        };
        let along = self.places(&Where::Till(Till::Next(kind)), Hook::PLAIN);
        self.went_into(noun_of(kind));
        self.standing = Some(self.same);
        slip.then(along).say(" and in that ").then(self.called(self.same, Amount::One))
    }

    /// `along first 2 sts, to begin in the 2nd of them`, where the line begins in the last one.
    fn moved_over(&mut self, number: &Sized) -> Phrase {
        self.moved = true;
        let numbers = self.number(number);
        // A slip stitch along is no stitch of the line, and is told apart from one that is.
        if numbers.is_one() {
            return Phrase::of("along ").then(self.target(&Where::Count(number.clone()), Hook::PLAIN));
        }
        let along = Phrase::of("along ").then(self.target(&Where::Count(number.clone()), Hook::PLAIN));
        if !self.begins_where_it_stands {
            return along;
        }
        let last = number.single().map_or_else(|| "last".to_owned(), ordinal);
        along.say(&format!(" to begin in the {last} of them"))
    }

    /// A row that ends early: what is left waits.
    fn turn(&self) -> Phrase {
        if !self.short {
            return Phrase::of("turn");
        }
        let left =
            Phrase::default().with(self.voice.term(Term::Remaining)).say(" ").then(self.place_name(Amount::Many));
        Phrase::of("turn, leaving ").then(left).say(" unworked for now")
    }

    fn other_side(&mut self) -> Phrase {
        self.noun = Noun::Chain;
        self.on_other_side = true;
        Phrase::of("continue along the opposite side of the starting ").with(self.voice.term(Term::Chain))
    }

    /// `the ch that the rnd began in`.
    pub(super) fn corner(&self) -> Phrase {
        let chain = Phrase::of("the ").then(self.voice.kind(Kind::Chain, Amount::One)).say(" that the ");
        chain.then(label::line_word(self.voice, self.round, Amount::One)).say(" began in")
    }

    fn mark(&self, name: &str) -> Phrase {
        let stitch = self.voice.kind(Kind::AnyStitch, Amount::One);
        Phrase::of("mark the ").then(stitch).say(" just made (“").then(Phrase::quoted(name)).say("”)")
    }

    fn go(&mut self, place: &Place) -> Phrase {
        let back = match place {
            Place::Mark(_)
            | Place::First
            | Place::FirstOf(_)
            | Place::Same(_)
            | Place::Ring
            | Place::Lead
            | Place::JustMade(_)
            | Place::Skipped => "go back to ",
            Place::Next
            | Place::NextOf(_)
            | Place::Last
            | Place::LastOf(_)
            | Place::FromHook(_)
            | Place::Nth(..)
            | Place::ChainOf(..)
            | Place::Gap
            | Place::FirstGap => "go on to ",
        };
        Phrase::of(back).then(self.place(place))
    }

    fn rejoin(&mut self, yarn: Option<&str>, place: &Place) -> Phrase {
        let join = match yarn {
            Some(yarn) => Phrase::of("join ").then(Phrase::quoted(yarn)),
            None => Phrase::of("rejoin yarn"),
        };
        let at = match (self.anew, place) {
            (Some(_), Place::NextOf(kind)) if self.corner.is_some() => self.from_the_corner(*kind),
            // Nobody knows which place is the next one when the yarn has been cut.
            (Some(which), Place::Next) => {
                self.went_into(self.noun);
                Phrase::of(which).then(self.place_name(Amount::One))
            }
            (Some(which), Place::NextOf(kind)) => {
                self.went_into(noun_of(*kind));
                Phrase::of(which).then(self.voice.kind(*kind, Amount::One))
            }
            _ => self.place(place),
        };
        let at = match self.left_by.take() {
            Some(left_by) => at.then(left_by),
            None => at,
        };
        self.standing = Some(self.same);
        match self.standing_stitch {
            // A tall stitch can't be begun from a slip stitch without a chain.
            Some(stitch) => {
                let at = join.say(" in ").then(at).say(" (slip knot on the hook: the first ");
                at.with(self.voice.stitch(stitch))
                    .say(" is a standing ")
                    .then(self.voice.kind(Kind::AnyStitch, Amount::One))
                    .say(")")
            }
            None => join.say(" with ").with(self.voice.term(Term::SlipStitch)).say(" in ").then(at),
        }
    }

    /// `the ch-3 sp at the corner`, `the first sc after the ch-3 sp at the corner`, in a round along copies that lie side by side.
    fn from_the_corner(&mut self, kind: Kind) -> Phrase {
        let corner = self.corner.map(|corner| self.voice.kind(corner, Amount::One)).unwrap_or_default();
        let corner = Phrase::of("the ").then(corner).say(" at this corner");
        self.went_into(noun_of(kind));
        if self.corner == Some(kind) {
            return corner;
        }
        Phrase::of("the first ").then(self.voice.kind(kind, Amount::One)).say(" after ").then(corner)
    }

    /// `join with sl st in next free ch-5 sp of Motif`.
    fn join_to(&mut self, piece: usize, kind: Option<Kind>, nth: Option<u32>) -> Phrase {
        let join = Phrase::of("join with ").with(self.voice.term(Term::SlipStitch));
        let which = nth.map_or_else(|| " in next free ".to_owned(), |nth| format!(" in {} ", ordinal(nth)));
        // A number counts from where that piece begins its last round, and not from the last join.
        let of = if nth.is_some() { self.from_the_beginning_of(piece) } else { Phrase::of(" of ") };
        let place = kind.map(|kind| Phrase::of(which).then(self.voice.kind(kind, Amount::One)).then(of));
        let join = join.then(place.unwrap_or_else(|| Phrase::of(" in the place across from it on ")));
        match self.voice.pattern.pieces.get(piece) {
            // A piece that is made several times is joined to a copy that is done.
            Some(other) if other.span == self.piece => {
                join.say("a ").then(Phrase::quoted(&other.name)).say(" made before")
            }
            Some(other) => join.then(Phrase::quoted(&other.name)),
            None => join.say("the other piece"),
        }
    }

    /// ` from the beg of the last rnd of `.
    fn from_the_beginning_of(&self, piece: usize) -> Phrase {
        let round = super::start::is_in_rounds(self.voice, piece);
        let last = label::line_word(self.voice, round, Amount::One);
        Phrase::of(" from the beginning of the last ").then(last).say(" of ")
    }

    /// `working in the sts of Rnd 2, behind the rnds made since`.
    fn behind(&self, number: u32) -> Phrase {
        let stitches = self.voice.kind(Kind::AnyStitch, Amount::Many);
        let piece = self.voice.pattern.pieces.iter().find(|piece| piece.span == self.piece);
        let line = piece.map_or_else(
            || label::of_number(self.voice, self.round, number),
            |piece| label::by_number(self.voice, piece, (self.round, number), self.concerned),
        );
        let told = Phrase::of("working in the ").then(stitches).say(" of ").then(line).say(", behind the ");
        told.then(label::line_word(self.voice, self.round, Amount::Many)).say(" made since")
    }

    /// `fold the work so that the free front loops of Rnd 5 lie along the edge, work each st of this rnd through …`.
    fn through(&self, number: u32, loops: LoopOnly) -> Phrase {
        let piece = self.voice.pattern.pieces.iter().find(|piece| piece.span == self.piece);
        let line = piece.map_or_else(
            || label::of_number(self.voice, self.round, number),
            |piece| label::by_number(self.voice, piece, (self.round, number), self.concerned),
        );
        let which = if loops == LoopOnly::Front { "front" } else { "back" };
        let stitch = || self.voice.kind(Kind::AnyStitch, Amount::One);
        let fold = Phrase::of(format!("fold the work so that the free {which} loops of ")).then(line);
        let fold = fold.say(" lie along the edge, work each ").then(stitch()).say(" of this ");
        let here = fold.then(label::line_word(self.voice, self.round, Amount::One));
        here.say(" through the next ").then(stitch()).say(" and one of those loops together")
    }
}
