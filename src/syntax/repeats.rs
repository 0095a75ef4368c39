//! What stands in brackets: repeats, groups that go into one place, and how print writes them.

use crate::diagnostic::{Diagnostic, Fix, Span};

use super::codes;
use super::grammar::{Node, Rule};
use super::reader::{Reader, respelling};
use super::steps::{is_place, one_number};
use super::tree::{Extent, Kind, Repeat, RepeatBody, Step, StepKind};

impl Reader<'_> {
    /// `[…] 6 times`.
    pub fn repeat(&mut self, node: &Node<'_>) -> Option<StepKind> {
        let body = self.repeat_body(node);
        let Some(extent) = node.child(Rule::extent) else {
            let end = node.span().end;
            let found = Diagnostic::error(
                codes::NO_EXTENT,
                "this repeat says nowhere how often it is worked",
                Span::new(end.saturating_sub(1), end),
                "how often, or how far?",
            )
            .with_help("write `[…] 6 times`, `[…] to end` or `[…] to last 3`");
            self.find(found);
            return None;
        };
        let (how_far, extent_span) = (self.extent(&extent, node), extent.span());
        Some(StepKind::Repeat(Repeat { body: body?, extent: how_far?, extent_span }))
    }

    fn repeat_body(&mut self, node: &Node<'_>) -> Option<RepeatBody> {
        if let Some(arms) = node.child(Rule::arms) {
            let arms: Vec<_> = arms.all(Rule::arm).map(|arm| self.arm(&arm)).collect();
            return Some(RepeatBody::On(arms.into_iter().collect::<Option<_>>()?));
        }
        let list = node.child(Rule::repeat_steps)?;
        self.separators(&list);
        let mut steps = Vec::new();
        let mut early = None;
        let mut complete = true;
        for entry in list.all(Rule::repeat_step) {
            if let Some(star) = entry.child(Rule::stop) {
                self.one_stop(early, &star);
                early = Some(steps.len());
            }
            let Some(step) = entry.child(Rule::step) else { continue };
            if let Some(join) = step.child(Rule::join_slip) {
                self.join(join.span());
                continue;
            }
            match self.step(&step) {
                Some(step) => steps.push(step),
                None => complete = false,
            }
        }
        complete.then_some(RepeatBody::Steps { steps, stop: early })
    }

    fn one_stop(&mut self, before: Option<usize>, star: &Node<'_>) {
        if before.is_some() {
            let found = Diagnostic::error(
                codes::READING,
                "a repeat can stop early at one place only",
                star.span(),
                "a second pair of stars",
            );
            self.find(found);
        }
    }

    fn arm(&mut self, node: &Node<'_>) -> Option<(Kind, Vec<Step>)> {
        let kind = self.child_kind(node);
        let steps = self.steps(&node.child(Rule::steps)?);
        Some((kind?, steps?))
    }

    /// `(…) in next`, `(…) together`, and what should be in square brackets.
    pub fn round(&mut self, node: &Node<'_>) -> Option<StepKind> {
        let end = node.children().last()?;
        let outside = self.in_group;
        // Where no place is named, that is said, and not of each stitch in it.
        self.in_group |= is_place(end.rule()) || end.rule() == Rule::close_round;
        let body = self.repeat_body(node);
        self.in_group = outside;
        if end.rule() == Rule::extent {
            let extent = self.extent(&end, node);
            return Some(StepKind::Repeat(Repeat { body: body?, extent: extent?, extent_span: end.span() }));
        }
        let RepeatBody::Steps { steps, stop: None } = body? else {
            return self.stray_in_round(node);
        };
        if end.rule() == Rule::to_and_fro {
            return Some(StepKind::ToAndFro { steps, row_ends: end.has(Rule::k_ends) });
        }
        if end.rule() == Rule::together {
            return Some(StepKind::Together(steps));
        }
        if is_place(end.rule()) {
            return Some(StepKind::Group { steps, place: self.place_of(&end)? });
        }
        self.group_without_place(node);
        None
    }

    /// Stars or `on …` in round brackets.
    fn stray_in_round(&mut self, node: &Node<'_>) -> Option<StepKind> {
        let span = node.child(Rule::open_round)?.span();
        let found = Diagnostic::error(
            codes::REPEAT_STYLE,
            "a repeat stands in square brackets",
            span,
            "round brackets hold what goes into one place",
        );
        self.find(found);
        None
    }

    fn group_without_place(&mut self, node: &Node<'_>) {
        let span = node.span();
        let end = Span::new(span.end, span.end);
        let found =
            Diagnostic::error(codes::BARE_GROUP, "no place is named for these stitches", span, "worked into what?")
                .with_help("round brackets hold what goes into one place; square brackets are repeated")
                .with_fix(Fix::change("all of it in the next place: add `in next`", end, " in next"))
                .with_fix(Fix::change("worked off together over as many places: add `together`", end, " together"));
        self.find(found);
    }

    // ---- How far

    /// `6 times`, `to end` and the like; `bracket` is the node that it belongs to.
    fn extent(&mut self, node: &Node<'_>, bracket: &Node<'_>) -> Option<Extent> {
        let how = node.first()?;
        if how.rule() == Rule::till {
            self.square(bracket, None);
            return Some(Extent::Till(self.till(&how)?));
        }
        if let Some(till) = how.child(Rule::till).filter(|_| how.rule() == Rule::rep_till_slip) {
            let till_read = self.till_quietly(&till)?;
            let words = self.till_words(&till, &till_read);
            self.square(bracket, Some(&(how.span(), words)));
            return Some(Extent::Till(till_read));
        }
        if how.rule() == Rule::times {
            self.square(bracket, None);
            return Some(Extent::Times(self.child_amount(&how)?));
        }
        if how.rule() == Rule::more_slip {
            self.times_more(&how, bracket.span());
            return None;
        }
        if how.rule() == Rule::word_times {
            self.square(bracket, None);
            let value = if how.has(Rule::k_twice) { 2 } else { 1 };
            return Some(Extent::Times(one_number(how.span(), value)));
        }
        let amount = self.child_amount(&how)?;
        let better = format!("{} times", self.slice(amount.span));
        self.square(bracket, Some(&(how.span(), better)));
        Some(Extent::Times(amount))
    }

    /// Says once how a repeat is written: round brackets become square, and the extent gets its words.
    fn square(&mut self, bracket: &Node<'_>, extent: Option<&(Span, String)>) {
        let mut edits = Vec::new();
        for (rule, sign) in [(Rule::open_round, "["), (Rule::close_round, "]")] {
            edits.extend(bracket.child(rule).map(|round| (round.span(), sign.to_owned())));
        }
        let round = !edits.is_empty();
        let (place, label) = match extent {
            Some((span, better)) => (*span, format!("here it is written `{better}`")),
            None => (bracket.span(), "round brackets hold what goes into one place".to_owned()),
        };
        edits.extend(extent.cloned());
        if edits.is_empty() {
            return;
        }
        let (message, title) = match (round, extent) {
            (true, Some((_, better))) => {
                ("a repeat is written `[…] 6 times`", format!("square brackets and `{better}`"))
            }
            (true, None) => ("a repeat stands in square brackets", "square brackets".to_owned()),
            (false, Some((_, better))) => ("a repeat is written `[…] 6 times`", format!("write `{better}`")),
            (false, None) => return,
        };
        let fix = respelling(title, edits);
        self.find(Diagnostic::error(codes::REPEAT_STYLE, message, place, label).with_fix(fix));
    }

    /// `3 more times`: in all, or besides the first?
    pub fn times_more(&mut self, node: &Node<'_>, whole: Span) {
        let span = node.span();
        let Some(amount) = node.child(Rule::amount).and_then(|a| self.amount(&a)) else {
            return;
        };
        let written = self.slice(amount.span).to_owned();
        let mut found = Diagnostic::error(
            codes::TWO_READINGS,
            "this repeat can be read in two ways",
            span,
            "in all, or after the first time?",
        )
        .with_other(whole, "worked once, then again")
        .with_help("say how often it is worked in all");
        found = found.with_fix(Fix::change(
            format!("{written} in all: `{written} times`"),
            span,
            format!("{written} times"),
        ));
        if let Ok(number) = written.parse::<u64>() {
            let all = number + 1;
            let title = format!("once and {number} more: `{all} times`");
            found = found.with_fix(Fix::change(title, span, format!("{all} times")));
        }
        self.find(found);
    }

    /// `*sc 2, inc; rep from * 5 times`.
    pub fn star(&mut self, node: &Node<'_>) -> Option<StepKind> {
        let inside = node.child(Rule::star_steps)?;
        let steps = self.steps(&inside);
        let again = node.all(Rule::star_link).any(|link| link.has(Rule::rep_from));
        let held = self.words(inside.span()).text;
        let Some(extent) = node.child(Rule::extent) else {
            let found = Diagnostic::error(
                codes::REPEAT_STYLE,
                "a repeat stands in square brackets",
                node.span(),
                "how often, or how far?",
            )
            .with_help(format!("write `[{held}] 6 times` or `[{held}] to end`"));
            self.find(found);
            return None;
        };
        let how = extent.first()?;
        let span = node.span();
        if how.rule() == Rule::till {
            let till = self.till_quietly(&how)?;
            let words = self.till_words(&how, &till);
            self.respell_repeat(span, format!("[{held}] {words}"));
            return Some(Self::starred(steps?, Extent::Till(till), extent.span()));
        }
        let amount = self.child_amount(&how)?;
        let written = self.slice(amount.span).to_owned();
        if !again && how.rule() != Rule::more_slip {
            self.respell_repeat(span, format!("[{held}] {written} times"));
            return Some(Self::starred(steps?, Extent::Times(amount), extent.span()));
        }
        self.star_more(span, &held, &written);
        None
    }

    fn starred(steps: Vec<Step>, extent: Extent, extent_span: Span) -> StepKind {
        StepKind::Repeat(Repeat { body: RepeatBody::Steps { steps, stop: None }, extent, extent_span })
    }

    fn respell_repeat(&mut self, span: Span, better: String) {
        let found = Diagnostic::error(
            codes::REPEAT_STYLE,
            "a repeat stands in square brackets",
            span,
            format!("here it is written `{better}`"),
        )
        .with_fix(Fix::spelling(format!("write `{better}`"), span, better));
        self.find(found);
    }

    fn star_more(&mut self, span: Span, held: &str, written: &str) {
        let mut found = Diagnostic::error(
            codes::TWO_READINGS,
            "this repeat can be read in two ways",
            span,
            "in all, or after the first time?",
        )
        .with_help("put it in square brackets and say how often it is worked in all");
        let mut readings = Vec::new();
        if let Ok(number) = written.parse::<u64>() {
            readings.push((format!("once and {number} more"), (number + 1).to_string()));
        }
        readings.push((format!("{written} in all"), written.to_owned()));
        for (reading, times) in readings {
            let better = format!("[{held}] {times} times");
            found = found.with_fix(Fix::change(format!("{reading}: `{better}`"), span, better));
        }
        self.find(found);
    }
}
