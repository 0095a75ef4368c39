//! Steps in the words of the trade.

use crate::diagnostic::Span;
use crate::pattern::model::{
    Extent, Kind, Lead, Place, Repeat, RepeatBody, Sized, Step, StepKind, StitchId, Till, Where, Work,
};

use super::label;
use super::names::{Amount, Term};
use super::phrase::{Numbers, Phrase};
use super::places::Hook;
use super::teller::{Inside, Noun, Position, Teller};

impl Teller<'_> {
    /// Every step of a list, in order. Steps that belong together in a sentence are told together.
    pub fn steps(&mut self, steps: &[Step]) -> Vec<Phrase> {
        let mut told = Vec::new();
        let mut rest = steps;
        while let Some((step, after)) = rest.split_first() {
            let (phrase, taken) = self.together_with_next(step, after);
            rest = after.get(taken..).unwrap_or_default();
            if !phrase.is_empty() {
                told.push(phrase);
            }
        }
        told
    }

    /// A step, and how many of those after it were told with it.
    fn together_with_next(&mut self, step: &Step, after: &[Step]) -> (Phrase, usize) {
        if let StepKind::ChainAs(chains, stitch) = &step.kind
            && let Some(StepKind::Chain(space)) = after.first().map(|s| &s.kind)
        {
            return (self.chain_as_and_space(chains, *stitch, space), 1);
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
            let on_made = self.in_chain.is_none();
            let aside = self.skipped_chains(number);
            return if on_made { self.along_made(work, after) } else { self.told_from_hook(work, after, aside) };
        }
        (self.step(&step.kind, step.span), 0)
    }

    /// One step by itself.
    fn step(&mut self, step: &StepKind, span: Span) -> Phrase {
        match step {
            StepKind::Work(work) => self.work(work),
            StepKind::Group(steps, places) => self.group(steps, places),
            StepKind::Together(steps, _) => self.together(steps),
            StepKind::Repeat(repeat) => self.repeat(repeat),
            StepKind::Chain(chains) => self.chain(chains),
            StepKind::ChainAs(chains, stitch) => self.chain(chains).then(self.counts_as(*stitch)),
            StepKind::TurningAs(_, stitch, space) => self.skipped_chains_as(*stitch, *space),
            StepKind::Skip(number, kind) => self.skip(number, *kind),
            StepKind::Leave(number) => self.leave(number.as_ref()),
            StepKind::Move(places) => self.move_along(places),
            StepKind::Turn => self.turn(),
            StepKind::OtherSide => self.other_side(),
            StepKind::Lead(lead) => self.own_lead(lead),
            StepKind::Mark(name) => self.mark(name),
            StepKind::Go(place) => self.go(place),
            StepKind::ChangeTo(yarn) => Phrase::of("change to ").then(Phrase::quoted(yarn)),
            StepKind::FastenOff => Phrase::of("fasten off"),
            StepKind::Rejoin(yarn, place) => self.rejoin(yarn.as_deref(), place),
            StepKind::Close(chains, stitch) => self.close(chains, *stitch),
            StepKind::Evenly(evenly) => self.evenly(evenly, span),
            StepKind::JoinTo(piece, kind) => self.join_to(*piece, *kind),
            StepKind::Behind(number) => self.behind(*number),
        }
    }

    /// A stitch and where it goes.
    fn work(&mut self, work: &Work) -> Phrase {
        if self.is_nothing(&work.each) {
            return Phrase::default();
        }
        if let Where::Count(number) | Where::CountOf(number, _) = &work.places
            && self.is_nothing(number)
        {
            return Phrase::default();
        }
        if self.inside == Inside::OnePlace {
            let all = Sized { span: work.each.span, values: in_one_place(work) };
            let all = self.number(&all);
            return self.so_many(all, work.stitch);
        }
        let each = self.number(&work.each);
        let several = !each.is_one();
        let stitches = self.so_many(each, work.stitch);
        if work.ambiguous {
            return stitches;
        }
        if self.stands_by_itself(work.stitch) {
            return self.by_itself(stitches, work);
        }
        let around_post = self.stitch_is(work.stitch, |s| s.around_post);
        let hook = Hook { around_post, loop_only: work.loop_only, below: work.below, several };
        stitches.say(" ").then(self.places(&work.places, hook))
    }

    /// `sc`, `2 sc`.
    fn so_many(&self, each: Numbers, stitch: StitchId) -> Phrase {
        let number = if each.is_one() { Phrase::default() } else { Phrase::from(each).say(" ") };
        let told = number.with(self.voice.stitch(stitch));
        if told.0.len() > 1 { told.tied() } else { told }
    }

    fn stitch_is(&self, id: StitchId, what: impl Fn(&crate::stitch::Stitch) -> bool) -> bool {
        self.voice.pattern.stitches.get(id).is_some_and(what)
    }

    /// Whether a stitch names its places itself, as `sc2tog`, a picot, or a designer's stitch over several places.
    fn stands_by_itself(&self, id: StitchId) -> bool {
        let made_of_steps = self.voice.definition(id);
        made_of_steps.map_or_else(|| self.stitch_is(id, |s| s.takes != 1), |d| !d.placeable)
    }

    /// `sc2tog`, `sc2tog 6 times`, `sc2tog across`, `4 fsc`.
    fn by_itself(&mut self, stitches: Phrase, work: &Work) -> Phrase {
        let on_nothing = self.voice.definition(work.stitch).is_none() && self.stitch_is(work.stitch, |s| s.takes == 0);
        let told = match &work.places {
            Where::Count(number) => {
                let times = self.number(number);
                match (times.is_one(), on_nothing) {
                    (true, _) => stitches,
                    (false, true) => Phrase::from(times).say(" ").then(stitches),
                    (false, false) => stitches.say(" ").then(times.into()).say(" times"),
                }
            }
            Where::In(Place::Next) => stitches,
            Where::Till(till) => stitches.say(" ").then(self.till(till)),
            Where::CountOf(..) | Where::Each(..) | Where::In(_) => {
                stitches.say(" ").then(self.places(&work.places, Hook::PLAIN))
            }
        };
        if !on_nothing {
            let left = self.position.clone();
            self.went_into(Noun::Stitch);
            if matches!(work.places, Where::Till(_)) {
                self.position = left;
            }
        }
        told
    }

    /// `sc in 2nd ch from hook and in each ch across`, with what the skipped chains are.
    fn told_from_hook(&mut self, work: &Work, after: &[Step], aside: Phrase) -> (Phrase, usize) {
        let first = self.work(work).then(aside);
        let Some(StepKind::Work(next)) = after.first().map(|s| &s.kind) else { return (first, 0) };
        let alike = next.stitch == work.stitch
            && next.each.single() == Some(1)
            && work.each.single() == Some(1)
            && next.loop_only == work.loop_only
            && next.below == 0
            && !self.stands_by_itself(work.stitch);
        match &next.places {
            Where::Count(number) if alike && !self.is_nothing(number) => {
                (first.say(" and ").then(self.places(&next.places, Hook::PLAIN)), 1)
            }
            Where::Till(_) if alike => (first.say(" and ").then(self.places(&next.places, Hook::PLAIN)), 1),
            Where::Count(_) | Where::Till(_) | Where::CountOf(..) | Where::Each(..) | Where::In(_) => (first, 0),
        }
    }

    /// `sc in 2nd ch from hook and in next 5 ch`, back along chains just made. A step that names no chains goes on
    /// along the edge.
    fn along_made(&mut self, work: &Work, after: &[Step]) -> (Phrase, usize) {
        if let Some(StepKind::Work(next)) = after.first().map(|s| &s.kind)
            && let Where::CountOf(number, Kind::Chain) = &next.places
            && next.stitch == work.stitch
            && next.each.single() == Some(1)
            && work.each.single() == Some(1)
            && !self.is_nothing(number)
        {
            return (self.work(work).say(" and ").then(self.places(&next.places, Hook::PLAIN)), 1);
        }
        (self.work(work), 0)
    }

    /// What the chains before the first worked one are.
    fn skipped_chains(&mut self, number: u32) -> Phrase {
        match self.in_chain.take() {
            Some(Lead::Counted(chains, stitch)) if number > chains => self.skipped_chains_as(stitch, None),
            Some(Lead::None | Lead::Plain(_) | Lead::Counted(..)) if number > 2 => {
                let chains = self.voice.kind(Kind::Chain, Amount::Many);
                let stitch = self.voice.kind(Kind::AnyStitch, Amount::One);
                Phrase::of(" (skipped ").then(chains).say(" do not count as a ").then(stitch).say(")")
            }
            Some(Lead::None | Lead::Plain(_) | Lead::Counted(..)) | None => Phrase::default(),
        }
    }

    fn skipped_chains_as(&self, stitch: StitchId, space: Option<u32>) -> Phrase {
        let chains = self.voice.kind(Kind::Chain, Amount::Many);
        let counted = Phrase::of(" (skipped ").then(chains).say(" count as ").with(self.voice.stitch(stitch));
        match space {
            Some(length) => counted.say(" and ").then(self.voice.kind(Kind::Space(length), Amount::One)).say(")"),
            None => counted.say(")"),
        }
    }

    /// `(2 dc, ch 2, 2 dc) in next ch-2 sp`.
    fn group(&mut self, steps: &[Step], places: &Where) -> Phrase {
        let mut inner = self.clone();
        inner.inside = Inside::OnePlace;
        let told = inner.steps(steps);
        self.zero = inner.zero;
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
            Where::In(_) | Where::Count(_) | Where::CountOf(..) | Where::Till(_) | Where::Each(..) => told,
        }
    }

    /// `work dc in next st and fpdc around next st tog`.
    fn together(&mut self, steps: &[Step]) -> Phrase {
        let told = self.steps(steps);
        Phrase::of("work ").then(Phrase::and(told)).say(" ").with(self.voice.term(Term::Together))
    }

    fn repeat(&mut self, repeat: &Repeat) -> Phrase {
        if let Extent::Times(number) = &repeat.extent
            && self.is_nothing(number)
        {
            return Phrase::default();
        }
        if let Some(step) = each_of_one(repeat) {
            return self.step(&step, repeat.extent_span);
        }
        match &repeat.body {
            RepeatBody::Steps(steps, stop) => self.bracketed(steps, *stop, &repeat.extent),
            RepeatBody::On(arms) => self.by_what_is_met(arms, &repeat.extent),
        }
    }

    /// `[sc in next st, 2 sc in next st] around`, the inner one of two in braces.
    pub fn bracketed(&mut self, steps: &[Step], stop: Option<usize>, extent: &Extent) -> Phrase {
        let (open, close) = if self.nest.is_multiple_of(2) { ("[", "]") } else { ("{", "}") };
        self.position = Position::Further;
        self.nest += 1;
        let stop = stop.unwrap_or(steps.len()).min(steps.len());
        let (before, after) = steps.split_at(stop);
        let mut body = Phrase::list(self.steps(before), ", ");
        let after = self.steps(after);
        let stars = !after.is_empty();
        if stars {
            body = body.say("**, ").then(Phrase::list(after, ", "));
        }
        self.nest -= 1;
        let told = Phrase::of(open).then(body).say(close).say(" ").then(self.extent(extent));
        if !stars {
            return told;
        }
        told.say(", ending last ").with(self.voice.term(Term::Repeat)).say(" at **")
    }

    fn extent(&mut self, extent: &Extent) -> Phrase {
        match extent {
            Extent::Times(number) => {
                let times = self.number(number);
                if times.is_one() { Phrase::of("once") } else { Phrase::from(times).say(" times") }
            }
            Extent::Till(till) => self.till(till),
        }
    }

    /// `fpdc around each dc and dc in each fpdc around`.
    fn by_what_is_met(&mut self, arms: &[(Kind, Vec<Step>)], extent: &Extent) -> Phrase {
        let simple: Option<Vec<Phrase>> = arms.iter().map(|(kind, steps)| self.simple_arm(*kind, steps)).collect();
        self.position = Position::Further;
        match (simple, extent) {
            (Some(arms), Extent::Till(till)) => {
                let told = Phrase::and(arms).say(" ");
                self.went_into(Noun::Stitch);
                told.then(self.till(till))
            }
            (None, _) | (_, Extent::Times(_)) => {
                let told: Vec<Phrase> = arms.iter().map(|(kind, steps)| self.arm(*kind, steps)).collect();
                self.went_into(Noun::Stitch);
                let (open, close) = if self.nest.is_multiple_of(2) { ("[", "]") } else { ("{", "}") };
                let told = Phrase::of(open).then(Phrase::list(told, "; ")).say(close).say(" ");
                told.then(self.extent(extent))
            }
        }
    }

    /// One stitch in what is met: `fpdc around each dc`.
    fn simple_arm(&mut self, kind: Kind, steps: &[Step]) -> Option<Phrase> {
        let [Step { kind: StepKind::Work(work), .. }] = steps else { return None };
        let one_place = match &work.places {
            Where::Count(number) => number.single() == Some(1),
            Where::In(place) => *place == Place::Next,
            Where::CountOf(..) | Where::Till(_) | Where::Each(..) => false,
        };
        if !one_place || self.stands_by_itself(work.stitch) {
            return None;
        }
        let each = self.number(&work.each);
        let around_post = self.stitch_is(work.stitch, |s| s.around_post);
        let hook = Hook { around_post, loop_only: work.loop_only, below: work.below, several: !each.is_one() };
        let stitches = self.so_many(each, work.stitch).say(" ").then(self.hook_in(hook));
        let met = Phrase::of("each ").then(self.voice.kind(kind, Amount::One));
        Some(stitches.then(met).then(self.rows_below(work.below)))
    }

    /// Any steps by what is met: `if next st is dc: fpdc around next st`.
    fn arm(&mut self, kind: Kind, steps: &[Step]) -> Phrase {
        self.nest += 1;
        let told = Phrase::list(self.steps(steps), ", ");
        self.nest -= 1;
        let met = self.voice.kind(kind, Amount::One);
        let next = self.voice.kind(Kind::AnyStitch, Amount::One);
        match kind {
            Kind::AnyStitch => Phrase::of("if it is any other ").then(next).say(": ").then(told),
            Kind::Chain | Kind::Space(_) | Kind::AnySpace | Kind::Stitch(_) => {
                Phrase::of("if next ").then(next).say(" is ").then(met).say(": ").then(told)
            }
        }
    }

    /// `ch 3`.
    fn chain(&mut self, chains: &Sized) -> Phrase {
        if self.is_nothing(chains) {
            return Phrase::default();
        }
        let number = self.number(chains);
        Phrase::default().with(self.voice.term(Term::Chain)).say(" ").then(number.into()).tied()
    }

    /// `ch 4 (counts as dc and ch 1)`.
    fn chain_as_and_space(&mut self, chains: &Sized, stitch: StitchId, space: &Sized) -> Phrase {
        let sums = chains.values.iter().zip(&space.values).map(|(a, b)| a.saturating_add(*b));
        let all = Sized { span: chains.span, values: sums.collect() };
        let space = self.chain(space);
        let counted = Phrase::of(" (counts as ").with(self.voice.stitch(stitch));
        self.went_into(Noun::Stitch);
        let counted = if space.is_empty() { counted } else { counted.say(" and ").then(space) };
        self.chain(&all).then(counted).say(")")
    }

    fn counts_as(&mut self, stitch: StitchId) -> Phrase {
        self.went_into(Noun::Stitch);
        Phrase::of(" (counts as ").with(self.voice.stitch(stitch)).say(")")
    }

    /// The lead that a line starts with, where it is the piece's.
    pub fn lead_chain(&mut self, lead: &Lead) -> Phrase {
        match lead {
            Lead::None => Phrase::default(),
            Lead::Plain(chains) => self.chains(*chains),
            Lead::Counted(chains, stitch) => {
                let noun = self.same;
                let told = self.chains(*chains).then(self.counts_as(*stitch));
                self.same = noun;
                told
            }
        }
    }

    /// The lead that a line has for itself.
    pub fn own_lead(&mut self, lead: &Lead) -> Phrase {
        match lead {
            Lead::None | Lead::Counted(..) => self.lead_chain(lead),
            Lead::Plain(_) => {
                let stitch = self.voice.kind(Kind::AnyStitch, Amount::One);
                self.lead_chain(lead).say(" (does not count as a ").then(stitch).say(")")
            }
        }
    }

    fn chains(&self, chains: u32) -> Phrase {
        Phrase::default().with(self.voice.term(Term::Chain)).say(&format!(" {chains}")).tied()
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
        Phrase::of(self.voice.skip()).say(" ").then(told)
    }

    /// `leave last 4 sts unworked`.
    fn leave(&mut self, number: Option<&Sized>) -> Phrase {
        let (one, many) = (self.place_name(Amount::One), self.place_name(Amount::Many));
        let Some(number) = number else {
            return Phrase::of("leave ").with(self.voice.term(Term::Remaining)).say(" ").then(many).say(" unworked");
        };
        if self.is_nothing(number) {
            return Phrase::default();
        }
        let numbers = self.number(number);
        let left = if numbers.is_one() { one } else { Phrase::from(numbers).say(" ").then(many) };
        Phrase::of("leave last ").then(left).say(" unworked")
    }

    /// `sl st in next 2 sts`, `sl st in each st to next ch-2 sp and in that sp`.
    pub fn move_along(&mut self, places: &Where) -> Phrase {
        let slip = Phrase::default().with(self.voice.term(Term::SlipStitch)).say(" ");
        let kind = match places {
            Where::Till(Till::Next(kind)) | Where::In(Place::NextOf(kind)) => *kind,
            Where::Count(_) | Where::CountOf(..) | Where::Till(_) | Where::Each(..) | Where::In(_) => {
                return slip.then(self.places(places, Hook::PLAIN));
            }
        };
        let along = self.places(&Where::Till(Till::Next(kind)), Hook::PLAIN);
        self.went_into(super::teller::noun_of(kind));
        slip.then(along).say(" and in that ").then(self.called(self.same, Amount::One))
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
        Phrase::of("continue along the opposite side of the starting ").with(self.voice.term(Term::Chain))
    }

    fn mark(&self, name: &str) -> Phrase {
        let stitch = self.voice.kind(Kind::AnyStitch, Amount::One);
        Phrase::of("mark the ").then(stitch).say(" just made (“").then(Phrase::quoted(name)).say("”)")
    }

    fn go(&mut self, place: &Place) -> Phrase {
        let back = match place {
            Place::Mark(_) | Place::First | Place::Same | Place::Ring | Place::Lead => "go back to ",
            Place::Next | Place::NextOf(_) | Place::Last | Place::FromHook(_) => "go on to ",
        };
        Phrase::of(back).then(self.place(place))
    }

    fn rejoin(&mut self, yarn: Option<&str>, place: &Place) -> Phrase {
        let join = match yarn {
            Some(yarn) => Phrase::of("join ").then(Phrase::quoted(yarn)),
            None => Phrase::of("rejoin yarn"),
        };
        let at = self.place(place);
        join.say(" with ").with(self.voice.term(Term::SlipStitch)).say(" in ").then(at)
    }

    /// `join with sl st in next ch-5 sp of Motif`.
    fn join_to(&mut self, piece: usize, kind: Option<Kind>) -> Phrase {
        let join = Phrase::of("join with ").with(self.voice.term(Term::SlipStitch));
        let place = kind.map(|kind| Phrase::of(" in ").then(self.voice.kind(kind, Amount::One)).say(" of "));
        let join = join.then(place.unwrap_or_else(|| Phrase::of(" to ")));
        match self.voice.pattern.pieces.get(piece) {
            // A piece that is made several times is joined to a copy that is done.
            Some(other) if other.span == self.piece => join.say("a finished ").then(Phrase::quoted(&other.name)),
            Some(other) => join.then(Phrase::quoted(&other.name)),
            None => join.say("the other piece"),
        }
    }

    /// `working in the sts of Rnd 2, behind the rnds made since`.
    fn behind(&self, number: u32) -> Phrase {
        let stitches = self.voice.kind(Kind::AnyStitch, Amount::Many);
        let line = label::of_number(self.voice, self.round, number);
        let told = Phrase::of("working in the ").then(stitches).say(" of ").then(line).say(", behind the ");
        told.then(label::line_word(self.voice, self.round, Amount::Many)).say(" made since")
    }

    /// `ch 2, dc in first st to join (counts as last ch sp)`.
    fn close(&mut self, chains: &Sized, stitch: StitchId) -> Phrase {
        let first = self.voice.kind(Kind::AnyStitch, Amount::One);
        let height = self.voice.pattern.stitches.get(stitch).map_or(1, |s| s.height);
        // The tall stitch is as long as its turning chains.
        let length = chains.single().map_or(Kind::AnySpace, |n| Kind::Space(n.saturating_add(height)));
        let space = self.voice.kind(length, Amount::One);
        let tall = Phrase::default().with(self.voice.stitch(stitch)).say(" in first ").then(first);
        Phrase::list(vec![self.chain(chains), tall], ", ").say(" to join (counts as last ").then(space).say(")")
    }
}

/// `[2 sc in next] to end` says `2 sc in each st`; nothing when a repeat holds more than that.
fn each_of_one(repeat: &Repeat) -> Option<StepKind> {
    let RepeatBody::Steps(steps, None) = &repeat.body else { return None };
    let [step] = steps.as_slice() else { return None };
    let places = match &repeat.extent {
        Extent::Times(number) => Where::Count(number.clone()),
        Extent::Till(till) => Where::Till(till.clone()),
    };
    if let StepKind::Work(work) = &step.kind
        && is_next(&work.places)
        && !work.ambiguous
    {
        return Some(StepKind::Work(Work { places, ..work.clone() }));
    }
    if let StepKind::Group(steps, at) = &step.kind
        && is_next(at)
    {
        return Some(StepKind::Group(steps.clone(), places));
    }
    None
}

/// How many a step makes where everything goes into one place: `dc 2` makes two there.
fn in_one_place(work: &Work) -> Vec<u32> {
    let places = match &work.places {
        Where::Count(number) | Where::CountOf(number, _) => Some(number),
        Where::Till(_) | Where::Each(..) | Where::In(_) => None,
    };
    let each = work.each.values.iter().enumerate();
    each.map(|(size, each)| each.saturating_mul(places.map_or(1, |p| p.get(size)))).collect()
}

fn is_next(places: &Where) -> bool {
    match places {
        Where::Count(number) => number.single() == Some(1),
        Where::In(place) => *place == Place::Next,
        Where::CountOf(..) | Where::Till(_) | Where::Each(..) => false,
    }
}
