//! What print says in words that mean other work here, in the form that says it here.

use super::candidates::{Above, Candidate, Editor, candidate};
use super::spots::Spots;
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Span};
use crate::stitch::Sort;
use crate::syntax::tree::{self, Body, Place, Start, Step, StepKind, TermValue, Where, Work, WorkLine};

/// What it costs that something was said as print says it.
const AS_PRINT_HAS_IT: u32 = 8;

/// The same, for several steps in the place of one: beside the other lines of the file they look stranger than they are.
const IN_SEVERAL_STEPS: u32 = 2;

/// The same, where hardly anybody leaves it out.
const SELDOM: u32 = 13;

impl Editor<'_> {
    /// The forms that the words of a line stand for in print.
    pub(super) fn said_otherwise(
        &self,
        line: &WorkLine,
        above: &Above<'_>,
        finding: &Diagnostic,
        found: &mut Vec<Candidate>,
    ) {
        let Body::Steps(steps) = &line.body else { return };
        self.skipped_chains(line, above, found);
        self.slipped_along(steps, above, found);
        self.begins_further_in(steps, above, found);
        self.marked_in_the_middle(line, found);
        self.counted_chain(steps, found);
        self.chain_and_space(steps, above, found);
        if finding.code.0 == "one-place" {
            self.legs_in_one(line, finding.primary.span, found);
        }
    }

    /// `turning ch 5 as dc + ch-2 sp` before `dc in 8th ch from hook`: the chains that the first row skips are a stitch, and as many
    /// over a space as lie under it.
    pub(super) fn skipped_chains(&self, line: &WorkLine, above: &Above<'_>, found: &mut Vec<Candidate>) {
        let Body::Steps(steps) = &line.body else { return };
        let is_first = above.lines.first().is_some_and(|first| first.label.span.start == line.label.span.start);
        let on_chain = matches!(above.start, Some((Start::Chain { joined: false, .. }, _)));
        let chain = |step: &&Step| matches!(step.kind, StepKind::Chain(_) | StepKind::ChainAs { .. });
        let made = steps.iter().take_while(chain).count();
        let (Some(first), Some(step)) = (steps.first(), steps.get(made).filter(|_| is_first && on_chain)) else {
            return;
        };
        let Some((nth, work)) = from_hook(step) else { return };
        let plain = self.stitches.find(&work.stitch.text, self.terms).and_then(|id| self.base(id));
        let Some((stitch, name)) = plain.and_then(|id| Some((self.stitches.get(id)?, self.short(id)?))) else { return };
        let tall = u64::from(stitch.height);
        let Some(beside) = nth.checked_sub(1 + tall) else { return };
        let counts = matches!(above.lead, Some((tree::Lead::Chain { counts_as: Some(_), .. }, _)));
        let (words, weight) = match beside {
            // No chain is so short that it counts as the lowest stitch (common practice, no source).
            0 if counts || tall < 2 => return,
            0 => (format!("turning ch {tall} as {name}"), SELDOM),
            space if space.is_multiple_of(2) => {
                let space = space / 2;
                (format!("turning ch {} as {name} + ch-{space} sp", tall + space), IN_SEVERAL_STEPS)
            }
            _ => return,
        };
        let span = Span::new(first.span.start, step.span.start);
        let title = match made {
            0 => format!("add `{words}` before `{}`", self.called(step.span)),
            _ => format!("`{}` to `{words}`", self.slice(span).trim_end().trim_end_matches(',')),
        };
        found.push(candidate(Edit { span, text: format!("{words}, ") }, title, weight));
    }

    /// `move 2` for slip stitches that a row begins with: print goes along them, and counts none. What print says before them of no
    /// chain, and behind them of the chain that each row has, goes with them.
    fn slipped_along(&self, steps: &[Step], above: &Above<'_>, found: &mut Vec<Candidate>) {
        let bare = |step: &Step| matches!(step.kind, StepKind::Lead(tree::Lead::None));
        let unled = steps.first().filter(|first| bare(first));
        let mut slips = steps.iter().skip(usize::from(unled.is_some()));
        let Some(Step { kind: StepKind::Work(work), span }) = slips.next() else { return };
        let stitch = self.stitches.find(&work.stitch.text, self.terms).and_then(|id| self.stitches.get(id));
        if work.each.is_some() || stitch.is_none_or(|stitch| stitch.sort != Sort::Slip) {
            return;
        }
        let many = match &work.places {
            Where::Bare | Where::In(Place::Next) => "1",
            Where::Count { amount, kind: None, .. } => self.slice(amount.span),
            _ => return,
        };
        let lead = slips.next().filter(|step| self.is_lead(step, above));
        let (first, last) = (unled.map_or(*span, |step| step.span), lead.map_or(*span, |step| step.span));
        let whole = first.to(last);
        for text in moves(many, above) {
            found.push(self.shown(Edit { span: whole, text }, whole, AS_PRINT_HAS_IT));
        }
    }

    /// Whether a step is the chain that each row of the piece is begun with.
    fn is_lead(&self, step: &Step, above: &Above<'_>) -> bool {
        let Some((tree::Lead::Chain { chains, counts_as }, _)) = above.lead else { return false };
        let same = |made: &str| made.split_whitespace().eq(format!("ch {}", chains.value).split_whitespace());
        match (&step.kind, counts_as) {
            (StepKind::Chain(_), _) => same(self.slice(step.span)),
            (StepKind::ChainAs { .. }, Some(stitch)) => {
                let (made, as_stitch) = self.slice(step.span).split_once(" as ").unwrap_or_default();
                same(made) && as_stitch.trim() == stitch.text
            }
            _ => false,
        }
    }

    /// `move 4` before a row that leaves as many at its end: it begins further in as well.
    fn begins_further_in(&self, steps: &[Step], above: &Above<'_>, found: &mut Vec<Candidate>) {
        let (Some(first), Some(Step { kind: StepKind::Leave(Some(amount)), .. })) = (steps.first(), steps.last())
        else {
            return;
        };
        if matches!(first.kind, StepKind::Move(_) | StepKind::Skip { .. } | StepKind::Rejoin { .. }) {
            return;
        }
        let at = Span::new(first.span.start, first.span.start);
        for words in moves(self.slice(amount.span), above) {
            let title = format!("add `{words}` before `{}`", self.called(first.span));
            found.push(candidate(Edit { span: at, text: format!("{words}, ") }, title, AS_PRINT_HAS_IT));
        }
    }

    /// `ch 3 as dc` for the chain that a line begins with.
    fn counted_chain(&self, steps: &[Step], found: &mut Vec<Candidate>) {
        let Some(Step { kind: StepKind::Chain(amount), span }) = steps.first() else { return };
        let chain = self.slice(*span);
        let written = counted_so(self.text, chain).map(|counted| (counted.to_owned(), AS_PRINT_HAS_IT));
        let tall = || {
            let [TermValue::Number(chains)] = amount.terms.iter().map(|term| &term.value).collect::<Vec<_>>()[..]
            else {
                return None;
            };
            let plain = self.stitches.plain(u32::try_from(*chains).ok().filter(|chains| *chains > 1)?)?;
            Some((format!("{chain} as {}", self.short(plain)?), SELDOM))
        };
        let Some((text, weight)) = written.or_else(tall) else { return };
        found.push(self.shown(Edit { span: *span, text }, *span, weight));
    }

    /// `ch 3 as dc, ch 2` for the `ch 5` that a row of meshes begins with, where the lead of the piece counts as a stitch.
    fn chain_and_space(&self, steps: &[Step], above: &Above<'_>, found: &mut Vec<Candidate>) {
        let [Step { kind: StepKind::Chain(amount), span }, Step { kind: StepKind::Skip { .. }, .. }, ..] = steps else {
            return;
        };
        let Some((tree::Lead::Chain { chains, counts_as: Some(stitch) }, _)) = above.lead else { return };
        let [TermValue::Number(made)] = amount.terms.iter().map(|term| &term.value).collect::<Vec<_>>()[..] else {
            return;
        };
        if let Some(over) = made.checked_sub(chains.value).filter(|over| *over > 0) {
            let text = format!("ch {} as {}, ch {over}", chains.value, stitch.text);
            found.push(self.shown(Edit { span: *span, text }, *span, AS_PRINT_HAS_IT));
        }
    }

    /// `2 sc in mid, mark mid, sc in same` for `3 sc in mid`: a corner goes on in the middle of its stitches.
    fn marked_in_the_middle(&self, line: &WorkLine, found: &mut Vec<Candidate>) {
        let spots = Spots::of(line);
        for (work, span) in &spots.works {
            let Where::In(Place::Mark(mark)) = &work.places else { continue };
            let again = format!("mark {}", mark.text);
            let marks = spots.lists.iter().flat_map(|list| &list.steps).any(|step| self.slice(*step) == again);
            let Some(number) = number(work).filter(|number| *number > 2 && number % 2 == 1 && !marks) else { continue };
            let many = |number: u64| if number == 1 { String::new() } else { format!("{number} ") };
            let (first, rest) = (many(number / 2 + 1), many(number / 2));
            let (stitch, mark) = (&work.stitch.text, &mark.text);
            let text = format!("{first}{stitch} in {mark}, {again}, {rest}{stitch} in same");
            found.push(self.shown(Edit { span: *span, text }, *span, IN_SEVERAL_STEPS));
        }
    }

    /// A cluster for a decrease that is sent into one place, or the decrease over what comes; in each place of the line that says so.
    fn legs_in_one(&self, line: &WorkLine, at: Span, found: &mut Vec<Candidate>) {
        let spots = Spots::of(line);
        let here = |(_, span): &&(&Work, Span)| (span.start..=span.end).contains(&at.start);
        let Some((work, span)) = spots.works.iter().find(here) else { return };
        let alike =
            |(other, _): &&(&Work, Span)| other.stitch.text == work.stitch.text && matches!(other.places, Where::In(_));
        let all: Vec<&(&Work, Span)> = spots.works.iter().filter(alike).collect();
        let each = if all.len() > 1 { ", and wherever the line says so" } else { "" };
        let mut add = |edits: Vec<Edit>, to: &str, weight: u32| {
            let title = format!("`{}` to `{to}`{each}", self.slice(*span));
            let fix = Fix { title, edits, safety: Safety::ChangesFabric };
            found.push(Candidate { fix, weight, order: weight });
        };
        let name = &work.stitch.text;
        let cluster = name.replace("tog", "cl");
        if cluster != *name && self.stitches.find(&cluster, self.terms).is_some() {
            let edits = all.iter().map(|(work, _)| Edit { span: work.stitch.span, text: cluster.clone() }).collect();
            add(edits, &self.slice(*span).replacen(name.as_str(), &cluster, 1), AS_PRINT_HAS_IT);
        }
        let place = |span: Span| Some(Span::new(span.start + self.slice(span).rfind(" in ")?, span.end));
        let alone = all.iter().filter_map(|(_, span)| place(*span)).map(|span| Edit { span, text: String::new() });
        let shown = self.slice(*span).rsplit_once(" in ").map_or("", |(shown, _)| shown);
        add(alone.collect(), shown, AS_PRINT_HAS_IT + 1);
    }
}

/// `ch 3 as dc`: how a text says elsewhere what a chain counts as.
pub(super) fn counted_so<'t>(text: &'t str, chain: &str) -> Option<&'t str> {
    let (at, begun) = text
        .match_indices(chain)
        .find(|(at, begun)| text.get(at + begun.len()..).is_some_and(|rest| rest.starts_with(" as ")))?;
    let name = at + begun.len() + " as ".len();
    let length = text.get(name..)?.find(|letter: char| !letter.is_alphanumeric())?;
    text.get(at..name + length)
}

/// `move 4`; and one more where the chain that rows begin with is a stitch, which stands on the place that is moved to last.
fn moves(many: &str, above: &Above<'_>) -> Vec<String> {
    let counts = matches!(above.lead, Some((tree::Lead::Chain { counts_as: Some(_), .. }, _)));
    let more = many.parse::<u64>().ok().filter(|_| counts).and_then(|many| many.checked_add(1));
    [Some(many.to_owned()), more.map(|more| more.to_string())]
        .into_iter()
        .flatten()
        .map(|many| format!("move {many}"))
        .collect()
}

/// The stitch of a step that counts chains from the hook, and to which one it counts.
fn from_hook(step: &Step) -> Option<(u64, &Work)> {
    match &step.kind {
        StepKind::Work(work) => match &work.places {
            Where::In(Place::FromHook(number)) => Some((number.value, work)),
            _ => None,
        },
        _ => None,
    }
}

/// How many go into one place, where that is one number for all sizes.
fn number(work: &Work) -> Option<u64> {
    match work.each.as_ref()?.terms.as_slice() {
        [term] => match term.value {
            TermValue::Number(number) => Some(number),
            TermValue::Sum(_) => None,
        },
        _ => None,
    }
}
