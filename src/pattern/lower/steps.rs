//! Steps: every stitch and every number of a line looked up.

use std::collections::BTreeMap;

use super::super::model::{self, Called, Kind, Lead, Place, Step, StepKind, Till, Where, Work};
use super::{Lower, codes};
use crate::diagnostic::{Diagnostic, Span};
use crate::stitch::StitchId;
use crate::syntax::tree::{self, KindWhat, Sort};

impl Lower {
    /// Looks up all steps of a list.
    pub(super) fn steps(&mut self, steps: &[tree::Step]) -> Vec<Step> {
        steps.iter().map(|step| Step { span: step.span, kind: self.step(step) }).collect()
    }

    fn step(&mut self, step: &tree::Step) -> StepKind {
        match &step.kind {
            tree::StepKind::Work(work) => StepKind::Work(self.work(work, step.span)),
            tree::StepKind::Group { steps, place } => StepKind::Group(self.steps(steps), self.places(place, step.span)),
            tree::StepKind::Together(steps) => self.together(steps),
            tree::StepKind::ToAndFro { steps, row_ends } => StepKind::ToAndFro(self.steps(steps), *row_ends),
            tree::StepKind::Repeat(repeat) => StepKind::Repeat(self.repeat(repeat)),
            tree::StepKind::Chain(amount) => StepKind::Chain(self.sized(amount)),
            tree::StepKind::ChainAs { chains, stitch } => {
                StepKind::ChainAs(self.sized(chains), self.stitch(&stitch.text, stitch.span))
            }
            tree::StepKind::TurningAs { chains, stitch, space } => self.turning(chains, stitch.as_ref(), *space),
            tree::StepKind::Skip { amount, kind } => {
                let amount = self.sized_or_one(amount.as_ref(), step.span);
                StepKind::Skip(amount, kind.as_ref().map(|k| self.kind(k)))
            }
            tree::StepKind::SetAside { places, name } => {
                StepKind::SetAside(self.places(places, step.span), name.text.to_lowercase())
            }
            tree::StepKind::Leave(amount) => StepKind::Leave(amount.as_ref().map(|a| self.sized(a))),
            tree::StepKind::Move(places) => StepKind::Move(self.places(places, step.span)),
            tree::StepKind::Close { chains, stitch } => {
                let stitch = (self.stitch(&stitch.text, stitch.span), stitch.span);
                self.closing(chains, stitch)
            }
            tree::StepKind::Evenly { amount, special, plain, till } => StepKind::Evenly(model::Evenly {
                amount: self.sized(amount),
                special: self.stitch(&special.text, special.span),
                plain: self.stitch(&plain.text, plain.span),
                till: self.till(till),
            }),
            tree::StepKind::JoinTo { piece, nth, kind } => {
                let (kind, nth) = (kind.as_ref().map(|k| self.kind(k)), nth.map(|n| self.number(n)));
                StepKind::JoinTo(self.present_or_earlier(piece).unwrap_or_default(), kind, nth)
            }
            tree::StepKind::Through { loops, number, .. } => StepKind::Through(self.number(*number), *loops),
            tree::StepKind::Behind { number, .. } => StepKind::Behind(self.number(*number)),
            tree::StepKind::Lead(lead) => StepKind::Lead(self.lead(lead)),
            tree::StepKind::Colours { loop_only, stitch, runs } => self.colours(*loop_only, stitch, runs),
            tree::StepKind::Grid { name, extent } => self.grid_step(name, extent.as_ref(), step.span),
            tree::StepKind::Turn
            | tree::StepKind::OtherSide
            | tree::StepKind::Mark(_)
            | tree::StepKind::Go(_)
            | tree::StepKind::ChangeTo(_)
            | tree::StepKind::FastenOff
            | tree::StepKind::Rejoin { .. } => self.plain_step(&step.kind),
        }
    }

    /// Steps without stitches and numbers.
    fn plain_step(&mut self, step: &tree::StepKind) -> StepKind {
        match step {
            tree::StepKind::OtherSide => StepKind::OtherSide,
            tree::StepKind::Mark(name) => StepKind::Mark(name.text.to_lowercase()),
            tree::StepKind::Go(place) => StepKind::Go(self.place(place)),
            tree::StepKind::ChangeTo(yarn) => StepKind::ChangeTo(self.yarn(yarn)),
            tree::StepKind::FastenOff => StepKind::FastenOff,
            tree::StepKind::Rejoin { yarn, place } => {
                StepKind::Rejoin(yarn.as_ref().map(|y| self.yarn(y)), self.place(place))
            }
            _ => StepKind::Turn,
        }
    }

    fn work(&mut self, work: &tree::Work, span: Span) -> Work {
        let stitch = self.stitch(&work.stitch.text, work.stitch.span);
        let mut places = self.places(&work.places, span);
        if let (tree::Where::Count { sent: true, .. }, Where::Count(number)) = (&work.places, &places)
            && self.stitches.get(stitch).is_some_and(|stitch| stitch.takes > 1 && !stitch.own)
        {
            // `sc2tog in next 2` is asked of as `sc2tog in next 2 sts` is: one of it, or two?
            places = Where::CountOf(number.clone(), Kind::AnyStitch);
        }
        if let Some(none) = work.below.filter(|below| below.value == 0) {
            let finding = Diagnostic::error(codes::NUMBER_RANGE, "0 rows below is no row", none.span, "no row");
            self.findings
                .push(finding.with_help("leave it out for the row just below, or say how many rows further down"));
        }
        self.placeable(stitch, &places, work.stitch.span);
        self.several_over_several(work, stitch, &places, span);
        self.foundation(stitch, &places, span);
        self.loops_of_steps(work, stitch);
        Work {
            each: self.sized_or_one(work.each.as_ref(), span),
            loop_only: work.loop_only,
            stitch,
            below: work.below.map_or(0, |n| self.number(n)),
            places,
            ambiguous: work.ambiguous,
        }
    }

    /// `2 sc2tog in next`: each of them draws several places together, so that two are not in one.
    fn several_over_several(&mut self, work: &tree::Work, stitch: StitchId, places: &Where, span: Span) {
        let takes = self.stitches.get(stitch).map_or(0, |stitch| stitch.takes);
        if takes < 2 || work.ambiguous || *places != Where::In(Place::Next) || work.each.is_none() {
            return;
        }
        let name = self.stitches.get(stitch).map(|s| s.names(self.terms).short.clone()).unwrap_or_default();
        let message = format!("`{name}` is made over {takes} places, so several of it can't go into one");
        self.findings.push(
            Diagnostic::error(codes::NOT_PLACEABLE, message, span, "several in one place")
                .with_help(format!("say how many there are one after the other, as `{name} 2`")),
        );
    }

    /// A foundation stitch brings its own chain, and is worked into no place.
    fn foundation(&mut self, stitch: StitchId, places: &Where, span: Span) {
        let sent = matches!(places, Where::In(_) | Where::Each(..) | Where::CountOf(..) | Where::Skipped(..));
        let Some(foundation) = self.stitches.get(stitch).filter(|stitch| sent && stitch.is_foundation()) else {
            return;
        };
        let name = foundation.names(self.terms).short.clone();
        let message = format!("`{name}` is worked into no place: it stands on a chain of its own");
        self.findings.push(
            Diagnostic::error(codes::NOT_PLACEABLE, message, span, "sent to a place here")
                .with_help(format!("say how many there are behind it, as `{name} 4`")),
        );
    }

    fn turning(&mut self, chains: &tree::Amount, stitch: Option<&tree::Text>, space: Option<tree::Number>) -> StepKind {
        let space = space.map(|n| self.number(n));
        let stitch = stitch.map(|stitch| self.stitch(&stitch.text, stitch.span));
        let chains = self.sized(chains);
        self.enough_chains(&chains, stitch, space);
        StepKind::TurningAs(chains, stitch, space)
    }

    /// `close with ch 2 and dc`: a chain and a stitch that is tall enough to be chains of the space.
    fn closing(&mut self, chains: &tree::Amount, (stitch, span): (StitchId, Span)) -> StepKind {
        let chains = self.sized(chains);
        let low = self.stitches.get(stitch).is_some_and(|stitch| stitch.height == 0);
        if low {
            let message = "a slip stitch is the join itself, and no part of a space".to_owned();
            let finding = Diagnostic::error(codes::NOT_PLACEABLE, message, span, "closes every joined round");
            self.findings.push(finding.with_help("leave it out, or close with a stitch, as `close with ch 2 and dc`"));
        }
        StepKind::Close(chains, stitch)
    }

    /// The chains that a first row skips are at least as many as what they count as: a stitch of nearly its height, and a space.
    fn enough_chains(&mut self, chains: &model::Sized, stitch: Option<StitchId>, space: Option<u32>) {
        let tall =
            stitch.and_then(|stitch| self.stitches.get(stitch)).map_or(0, |stitch| stitch.height.saturating_sub(1));
        let least = tall.saturating_add(space.unwrap_or(0));
        let Some(few) = chains.values.iter().copied().find(|chains| *chains < least) else { return };
        let stitch = stitch.and_then(|stitch| self.stitches.get(stitch)).map(|s| s.names(self.terms).short.clone());
        let parts = stitch.into_iter().chain(space.map(|space| format!("ch-{space} sp"))).collect::<Vec<_>>();
        let message = format!("{few} chains are too few to count as {}", parts.join(" and "));
        let finding = Diagnostic::error(codes::NUMBER_RANGE, message, chains.span, "too few");
        self.findings
            .push(finding.with_help("a dc is 3 chains and a space its own number: `turning ch 5 as dc + ch-2 sp`"));
    }

    /// A stitch that is made of steps says in each of them where the hook goes.
    fn loops_of_steps(&mut self, work: &tree::Work, stitch: StitchId) {
        let Some(made_of) = self.definition(stitch).map(|definition| definition.span) else { return };
        let said = match (work.loop_only, work.below) {
            (Some(_), _) => "one loop only",
            (None, Some(_)) => "rows below",
            (None, None) => return,
        };
        let name = self.stitches.get(stitch).map(|s| s.names(self.terms).short.clone()).unwrap_or_default();
        let message = format!("`{name}` is made of steps, and each of these says itself where the hook goes");
        self.findings.push(
            Diagnostic::error(codes::NOT_PLACEABLE, message, work.stitch.span, format!("{said}: for which of them?"))
                .with_other(made_of, "made of these steps")
                .with_help(
                    "say it in the steps of the stitch, as `(blo dc, ch 1, blo dc) in next`, or write them out here",
                ),
        );
    }

    /// A designer's stitch that stands on several places can't be sent to one.
    fn placeable(&mut self, stitch: StitchId, places: &Where, span: Span) {
        let sent = matches!(places, Where::In(place) if *place != Place::Next)
            || matches!(places, Where::Each(..) | Where::CountOf(..) | Where::Skipped(..));
        let Some(definition) = self.definition(stitch) else { return };
        if definition.placeable || !sent {
            return;
        }
        let at = definition.span;
        let name = self.stitches.get(stitch).map(|s| s.names(self.terms).short.clone()).unwrap_or_default();
        let finding = Diagnostic::error(
            codes::NOT_PLACEABLE,
            format!("`{name}` is made over several places, so it can't be sent to one"),
            span,
            "sent to a place here",
        );
        self.findings
            .push(finding.with_other(at, "made of these steps").with_help("write it alone, or write its steps out"));
    }

    /// The stitch that several make when they are worked off together: named after the first of them.
    fn together(&mut self, steps: &[tree::Step]) -> StepKind {
        let first = steps.iter().find_map(|step| match &step.kind {
            tree::StepKind::Work(work) => Some(work.stitch.clone()),
            tree::StepKind::ChainAs { stitch, .. } => Some(stitch.clone()),
            _ => None,
        });
        let steps = self.steps(steps);
        let Some(first) = first else { return StepKind::Together(steps, StitchId(0)) };
        let each = self.stitch(&first.text, first.span);
        let in_one_place = begins_in_one_place(&steps);
        let joined = legs(&steps).and_then(|legs| {
            if in_one_place { self.stitches.cluster(each, legs) } else { self.stitches.together(each, legs) }
        });
        StepKind::Together(steps, joined.unwrap_or(each))
    }

    fn repeat(&mut self, repeat: &tree::Repeat) -> model::Repeat {
        let body = match &repeat.body {
            tree::RepeatBody::Steps { steps, stop } => model::RepeatBody::Steps(self.steps(steps), *stop),
            tree::RepeatBody::On(arms) => self.arms(arms),
        };
        let extent = self.extent(&repeat.extent);
        model::Repeat { body, extent, extent_span: repeat.extent_span }
    }

    /// What to do on each kind of place. What is said a second time of one kind is never done.
    fn arms(&mut self, arms: &[(tree::Kind, Vec<tree::Step>)]) -> model::RepeatBody {
        let mut said: BTreeMap<Kind, Span> = BTreeMap::new();
        let mut lowered = Vec::with_capacity(arms.len());
        for (kind, steps) in arms {
            let findings = self.findings.len();
            let place = self.kind(kind);
            // Of a stitch that nobody knows it can't be said whether it is another one's.
            let known = self.findings.len() == findings;
            if let Some(first) = said.get(&place).copied().filter(|_| known) {
                self.on_twice(kind.span, first);
            } else if known {
                said.insert(place, kind.span);
            }
            lowered.push((place, self.steps(steps)));
        }
        model::RepeatBody::On(lowered)
    }

    fn on_twice(&mut self, again: Span, first: Span) {
        let message = "the same kind of place stands twice in this repeat, and only the first one is done";
        self.findings.push(
            Diagnostic::error(codes::TWICE, message, again, "said again here")
                .with_other(first, "said here")
                .with_help("leave one of the two out, or name another stitch or space there"),
        );
    }

    pub(super) fn extent(&mut self, extent: &tree::Extent) -> model::Extent {
        match extent {
            tree::Extent::Times(amount) => model::Extent::Times(self.sized(amount)),
            tree::Extent::Till(till) => model::Extent::Till(self.till(till)),
        }
    }

    pub(super) fn places(&mut self, places: &tree::Where, span: Span) -> Where {
        match places {
            tree::Where::Bare => Where::Count(self.same(span, 1)),
            tree::Where::Count { amount, kind: None, .. } => Where::Count(self.sized(amount)),
            tree::Where::Count { amount, kind: Some(kind), .. } => Where::CountOf(self.sized(amount), self.kind(kind)),
            tree::Where::Till(till) => Where::Till(self.till(till)),
            tree::Where::Each { kind, till } => Where::Each(self.kind(kind), self.till(till)),
            tree::Where::Skipped { amount, crossing } => Where::Skipped(self.sized(amount), *crossing),
            tree::Where::In(place) => Where::In(self.place(place)),
        }
    }

    fn till(&mut self, till: &tree::Till) -> Till {
        match till {
            tree::Till::End => Till::End,
            tree::Till::Last(amount) => Till::Last(self.sized(amount)),
            tree::Till::Next(kind) => Till::Next(self.kind(kind)),
            tree::Till::LastOf(kind) => Till::LastOf(self.kind(kind)),
            tree::Till::Mark(name) => Till::Mark(name.text.to_lowercase()),
        }
    }

    fn place(&mut self, place: &tree::Place) -> Place {
        match place {
            tree::Place::Next => Place::Next,
            tree::Place::NextOf(kind) => Place::NextOf(self.kind(kind)),
            tree::Place::Same(called) => Place::Same(called.as_ref().map(|called| match called {
                tree::Called::Stitch => Called::Stitch,
                tree::Called::Space => Called::Space,
                tree::Called::Kind(kind) => Called::Kind(self.kind(kind)),
            })),
            tree::Place::Ring => Place::Ring,
            tree::Place::First => Place::First,
            tree::Place::Last => Place::Last,
            tree::Place::FirstOf(kind) => Place::FirstOf(self.kind(kind)),
            tree::Place::LastOf(kind) => Place::LastOf(self.kind(kind)),
            tree::Place::Lead => Place::Lead,
            tree::Place::FromHook(number) => Place::FromHook(self.number(*number)),
            tree::Place::Nth(number, kind) => Place::Nth(self.number(*number), self.kind(kind)),
            tree::Place::ChainOf(number, kind) => {
                Place::ChainOf(self.number(*number), kind.as_ref().map(|kind| self.kind(kind)))
            }
            tree::Place::Gap => Place::Gap,
            tree::Place::FirstGap => Place::FirstGap,
            tree::Place::JustMade(kind) => Place::JustMade(self.kind(kind)),
            tree::Place::Skipped => Place::Skipped,
            tree::Place::Mark(name) => Place::Mark(name.text.to_lowercase()),
        }
    }

    /// Looks a kind of place up.
    pub(super) fn kind(&mut self, kind: &tree::Kind) -> Kind {
        match &kind.what {
            KindWhat::AnyStitch => Kind::AnyStitch,
            KindWhat::Chain => Kind::Chain,
            KindWhat::Space(length) => Kind::Space(u32::try_from(*length).unwrap_or(u32::MAX)),
            KindWhat::AnySpace => Kind::AnySpace,
            KindWhat::Stitch(name) => Kind::Stitch(self.stitch(name, kind.span)),
        }
    }

    /// Looks a lead up.
    pub(super) fn lead(&mut self, lead: &tree::Lead) -> Lead {
        match lead {
            tree::Lead::None => Lead::None,
            tree::Lead::Chain { chains, .. } if chains.value == 0 => {
                let message = "a lead of no chain is none";
                let finding = Diagnostic::error(codes::NUMBER_RANGE, message, chains.span, "no chain");
                self.findings.push(finding.with_help("write `lead none`, or how many chains there are"));
                Lead::None
            }
            tree::Lead::Chain { chains, counts_as: None } => Lead::Plain(self.number(*chains)),
            tree::Lead::Chain { chains, counts_as: Some(stitch) } => {
                Lead::Counted(self.number(*chains), self.stitch(&stitch.text, stitch.span))
            }
        }
    }

    /// Looks up what is counted: a kind, or the stitches in a yarn.
    fn counted_kind(&mut self, kind: &tree::Kind) -> Kind {
        if let KindWhat::Stitch(name) = &kind.what
            && self.stitches.find(name, self.terms).is_none()
            && let Some(at) = self.head.yarns.place_of(name)
        {
            return Kind::Yarn(at);
        }
        // It may be a yarn whose line can't be read.
        if let KindWhat::Stitch(name) = &kind.what
            && self.stitches.find(name, self.terms).is_none()
            && self.may_be_lost(Sort::Yarn, kind.span)
        {
            return Kind::AnyStitch;
        }
        self.kind(kind)
    }

    /// What is stated of a line, part by part.
    pub(super) fn stated_parts(&mut self, stated: &tree::Stated) -> Vec<(model::Sized, Option<Kind>)> {
        let parts = stated.parts.iter();
        parts.map(|p| (self.sized(&p.amount), p.kind.as_ref().map(|kind| self.counted_kind(kind)))).collect()
    }

    /// A yarn by its name, if there is one.
    pub(super) fn known_yarn(&self, name: &str) -> Option<String> {
        let found = self.head.yarns.place_of(name).and_then(|at| self.head.yarns.get(at))?;
        Some(found.name.clone())
    }

    /// A yarn's name as it is declared.
    pub(super) fn yarn(&mut self, name: &tree::Text) -> String {
        match self.known_yarn(&name.text) {
            Some(found) => found,
            None => {
                let known: Vec<String> = self.head.yarns.iter().map(|yarn| yarn.name.clone()).collect();
                self.unknown("yarn", name, &known);
                name.text.clone()
            }
        }
    }
}

/// Whether a chain is worked off together with stitches that go into the place where it stands.
fn begins_in_one_place(steps: &[Step]) -> bool {
    let Some((Step { kind: StepKind::ChainAs(..), .. }, rest)) = steps.split_first() else { return false };
    let stays = |step: &Step| match &step.kind {
        StepKind::Work(work) => work.places.is_same() || matches!(work.places, Where::In(Place::Ring)),
        _ => false,
    };
    !rest.is_empty() && rest.iter().all(stays)
}

/// How many legs steps have that are worked off together, where they are as many in every size.
fn legs(steps: &[Step]) -> Option<u32> {
    let legs = |step: &Step| match &step.kind {
        StepKind::Work(work) => {
            let places = match &work.places {
                Where::Count(amount) | Where::CountOf(amount, _) | Where::Skipped(amount, _) => amount.single()?,
                Where::In(_) => 1,
                Where::Till(_) | Where::Each(..) => return None,
            };
            work.each.single()?.checked_mul(places)
        }
        StepKind::ChainAs(..) => Some(1),
        _ => Some(0),
    };
    steps.iter().map(legs).try_fold(0_u32, |all, legs| all.checked_add(legs?))
}
