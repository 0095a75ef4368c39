//! The small edits that are tried on a faulty line.

use std::collections::BTreeSet;

use super::spots::{NumberSpot, Spots, numbers};
use crate::Compiled;
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Span};
use crate::pattern::model::Kind;
use crate::stitch::{Sort, StitchId, Stitches, Terms};
use crate::syntax::tree::{self, Line, LineKind, Place, Setting, Start, Where, Work, WorkLine};

/// How far a number is changed.
const FARTHEST: u64 = 6;

/// An edit to try, and how large it is: smaller ones are likelier meant.
#[derive(Debug, Clone)]
pub(super) struct Candidate {
    pub fix: Fix,
    pub weight: u32,
}

/// Every edit that is worth trying for a fault in a line: in it, in the start and lead of its piece, and in a line above
/// that states nothing.
pub(super) fn all(text: &str, compiled: &Compiled, line: &Line, finding: &Diagnostic) -> Vec<Candidate> {
    let editor = Editor { text, stitches: &compiled.pattern.stitches, terms: compiled.pattern.terms };
    let mut found: Vec<Candidate> =
        finding.fixes.iter().map(|fix| Candidate { fix: fix.clone(), weight: 10 }).collect();
    let above = Above::of(&compiled.tree.lines, line);
    match &line.kind {
        // Where it isn't said what to do on a stitch, no other number or step in the line is the answer.
        LineKind::Work(work) if finding.code.0 != "on" => {
            editor.work_line(work, &mut found);
            editor.spaces(work, compiled, &mut found);
            editor.steps_more(work, &above, &mut found);
        }
        LineKind::Again(again) => {
            for spot in again.stated.iter().flat_map(|s| &s.parts).flat_map(|p| numbers(&p.amount, again.span)) {
                editor.number(spot, FARTHEST, 10, &mut found);
            }
            editor.again(again, &mut found);
        }
        LineKind::Ending(ending) => editor.ending(ending, line.span, &mut found),
        _ => {}
    }
    for spot in &above.start {
        editor.number(*spot, FARTHEST, 16, &mut found);
    }
    found.extend(above.lead.and_then(|lead| editor.lead(lead)));
    for work in above.unstated.iter().chain(&above.last) {
        for spot in &Spots::of(work).numbers {
            editor.number(*spot, 2, 24, &mut found);
        }
    }
    found
}

/// What stands above a line in its piece.
#[derive(Default)]
struct Above<'a> {
    start: Vec<NumberSpot>,
    lead: Option<(&'a tree::Lead, Span)>,
    /// The line just above, if it states no count, so that a fault in it shows only here.
    unstated: Option<&'a WorkLine>,
    /// The line just above, for its steps.
    last: Option<&'a WorkLine>,
    /// All work lines of the piece.
    lines: Vec<&'a WorkLine>,
}

impl<'a> Above<'a> {
    fn of(lines: &'a [Line], line: &Line) -> Self {
        let mut above = Self::default();
        let mut passed = false;
        for other in lines {
            if matches!(other.kind, LineKind::Piece(_)) {
                if passed {
                    break;
                }
                above = Self::default();
            }
            passed |= other.span.start >= line.span.start;
            match &other.kind {
                LineKind::Work(work) => {
                    above.lines.push(work);
                    if !passed {
                        above.last = Some(work);
                        above.unstated = work.stated.is_none().then_some(work);
                    }
                }
                LineKind::Start(Start::Chain { chains: amount, .. } | Start::Foundation { count: amount, .. }) => {
                    above.start = numbers(amount, other.span);
                }
                LineKind::Setting(Setting::Lead(lead)) => above.lead = Some((lead, other.span)),
                _ => {}
            }
        }
        above
    }
}

/// Makes edits of one text.
struct Editor<'a> {
    text: &'a str,
    stitches: &'a Stitches,
    terms: Terms,
}

impl Editor<'_> {
    fn work_line(&self, line: &WorkLine, found: &mut Vec<Candidate>) {
        let spots = Spots::of(line);
        for spot in &spots.stated {
            self.number(*spot, FARTHEST, 10, found);
        }
        for spot in &spots.numbers {
            self.number(*spot, FARTHEST, 10, found);
        }
        for (work, span) in &spots.works {
            self.swap(work, *span, found);
        }
        for (span, last, around) in &spots.tills {
            self.till(*span, *last, *around, found);
        }
        for list in &spots.lists {
            self.drop_one(&list.steps, found);
        }
    }

    fn steps_more(&self, line: &WorkLine, above: &Above<'_>, found: &mut Vec<Candidate>) {
        let fillers = self.fillers(above);
        for list in &Spots::of(line).lists {
            self.add_one(&list.steps, list.in_place, &fillers, found);
        }
    }

    /// A number a little larger or smaller.
    fn number(&self, spot: NumberSpot, farthest: u64, weight: u32, found: &mut Vec<Candidate>) {
        for by in 1..=farthest {
            let more = u32::try_from(by).unwrap_or(u32::MAX);
            // 0 means to do nothing, which is a step less and no other number.
            let values = [spot.value.checked_sub(by).filter(|v| *v > 0), spot.value.checked_add(by)];
            for value in values.into_iter().flatten() {
                let edit = Edit { span: spot.span, text: value.to_string() };
                found.push(self.shown(edit, spot.around, weight + more));
            }
        }
    }

    /// Another stitch: an increase, a plain one or a decrease for what is there.
    fn swap(&self, work: &Work, span: Span, found: &mut Vec<Candidate>) {
        let along = matches!(work.places, Where::Bare | Where::Count { .. } | Where::Till(_) | Where::In(Place::Next));
        let Some(id) = self.stitches.find(&work.stitch.text, self.terms) else { return };
        let short = |id| self.stitches.get(id).map(|s| s.names(self.terms).short.clone());
        let Some((plain, base)) = self.base(id).and_then(|plain| Some((plain, short(plain)?))) else { return };
        let doubled = work.each.is_some() && work.places == Where::In(Place::Next);
        if doubled {
            let edit = Edit { span, text: base.clone() };
            found.push(self.shown(edit, span, 13));
        }
        let mut others = vec![base.clone()];
        if along {
            let together = [2, 3].into_iter().filter_map(|number| self.stitches.together(plain, number));
            others.extend(together.chain(self.stitches.in_one_place(plain, 2)).filter_map(short));
        }
        for other in others.into_iter().filter(|other| *other != work.stitch.text) {
            let edit = Edit { span: work.stitch.span, text: other };
            found.push(self.shown(edit, span, 13));
        }
        if work.places == Where::Bare && work.each.is_none() {
            let edit = Edit { span, text: format!("2 {base} in next") };
            found.push(self.shown(edit, span, 14));
        }
    }

    /// Another space of those that the pattern makes.
    fn spaces(&self, line: &WorkLine, compiled: &Compiled, found: &mut Vec<Candidate>) {
        let rows = compiled.fabric.pieces.iter().flat_map(|p| &p.sizes).flat_map(|s| &s.rows);
        let lengths: BTreeSet<u32> = rows
            .flat_map(|row| &row.ledger.made)
            .filter_map(|made| match made.kind {
                Kind::Space(length) => Some(length),
                _ => None,
            })
            .collect();
        let spaces = Spots::of(line).spaces;
        for new in lengths.iter().map(|length| format!("ch-{length} sp")) {
            let others = || spaces.iter().filter(|(span, _)| self.slice(*span) != new);
            for (span, around) in others() {
                found.push(self.shown(Edit { span: *span, text: new.clone() }, *around, 12));
            }
            if others().count() > 1 {
                let edits = others().map(|(span, _)| Edit { span: *span, text: new.clone() }).collect();
                let title = format!("`{new}` in each place of the line that names another");
                found.push(Candidate { fix: Fix { title, edits, safety: Safety::ChangesFabric }, weight: 13 });
            }
        }
    }

    /// The plain stitch that a stitch is a form of.
    fn base(&self, id: StitchId) -> Option<StitchId> {
        let part = self.stitches.several(id).filter(|(_, number)| *number == 2).map_or(id, |(part, _)| part);
        let mut plain = self.stitches.iter().filter(|(_, stitch)| stitch.sort == Sort::Plain).map(|(plain, _)| plain);
        plain.find(|plain| self.stitches.answers(part, *plain))
    }

    /// `to end` for `to last n`, and the other way round.
    fn till(&self, span: Span, last: Option<u64>, around: Span, found: &mut Vec<Candidate>) {
        if last.is_some() && span != around {
            found.push(self.shown(Edit { span, text: "to end".to_owned() }, around, 13));
        }
        if last.is_none() && span != around {
            for n in 1..=3 {
                found.push(self.shown(Edit { span, text: format!("to last {n}") }, around, 14));
            }
        }
    }

    /// A step less.
    fn drop_one(&self, steps: &[Span], found: &mut Vec<Candidate>) {
        if steps.len() < 2 {
            return;
        }
        for (at, step) in steps.iter().enumerate() {
            let span = match (at.checked_sub(1).and_then(|n| steps.get(n)), steps.get(at + 1)) {
                (Some(before), _) => Span::new(before.end, step.end),
                (None, Some(next)) => Span::new(step.start, next.start),
                (None, None) => continue,
            };
            let twin = |other: &&Span| self.slice(**other) == self.slice(*step);
            let which = match at.checked_sub(1).and_then(|n| steps.get(n)) {
                Some(before) if steps.iter().filter(twin).count() > 1 => format!(" after `{}`", self.slice(*before)),
                None if steps.iter().filter(twin).count() > 1 => " at the beginning".to_owned(),
                _ => String::new(),
            };
            let title = format!("leave out `{}`{which}", self.slice(*step));
            found.push(candidate(Edit { span, text: String::new() }, title, 15));
        }
    }

    /// A step more: one of those that the piece uses.
    fn add_one(&self, steps: &[Span], in_place: bool, fillers: &[String], found: &mut Vec<Candidate>) {
        let simple = |filler: &&String| !in_place || !filler.contains(" in ") && !filler.starts_with("skip");
        for filler in fillers.iter().filter(simple) {
            let weight = 16 + u32::try_from(filler.len() / 3).unwrap_or(u32::MAX);
            if let Some(first) = steps.first() {
                let edit = Edit { span: Span::new(first.start, first.start), text: format!("{filler}, ") };
                found.push(candidate(edit, format!("add `{filler}` before `{}`", self.slice(*first)), weight));
            }
            for step in steps {
                let edit = Edit { span: Span::new(step.end, step.end), text: format!(", {filler}") };
                found.push(candidate(edit, format!("add `{filler}` after `{}`", self.slice(*step)), weight));
            }
        }
    }

    /// Short steps that are used in the piece, the plain stitches first.
    fn fillers(&self, above: &Above<'_>) -> Vec<String> {
        const MOST: usize = 14;
        let mut fillers: Vec<String> = Vec::new();
        for spots in above.lines.iter().map(|line| Spots::of(line)) {
            for span in spots.lists.iter().flat_map(|l| &l.steps) {
                let step = self.slice(*span);
                let short = step.len() < 32 && !step.contains(['[', '(', '\n']);
                // A step at the start of the piece is no step for a line further on.
                let start = step.ends_with(" ring") || step.ends_with(" from hook");
                if short && !start && !fillers.iter().any(|f| f == step) && fillers.len() < MOST {
                    fillers.push(step.to_owned());
                }
            }
            for (work, _) in &spots.works {
                let plain = work.stitch.text.clone();
                if !fillers.contains(&plain) && fillers.len() < MOST {
                    fillers.push(plain);
                }
            }
        }
        fillers
    }

    /// The lead counts, or does not.
    fn lead(&self, (lead, span): (&tree::Lead, Span)) -> Option<Candidate> {
        let tree::Lead::Chain { chains, counts_as } = lead else { return None };
        let new = match counts_as {
            Some(_) => format!("lead ch {}", chains.value),
            None => {
                let plain = self.stitches.plain(u32::try_from(chains.value).ok()?)?;
                let stitch = self.stitches.get(plain)?;
                format!("lead ch {} as {}", chains.value, stitch.names(self.terms).short)
            }
        };
        Some(self.shown(Edit { span, text: new }, span, 18))
    }

    fn again(&self, again: &tree::Again, found: &mut Vec<Candidate>) {
        match &again.extent {
            tree::AgainExtent::Times(amount)
            | tree::AgainExtent::UntilLine(amount)
            | tree::AgainExtent::UntilStitches(amount) => {
                let around = self.extent(again.to.span.end, amount.span.end);
                let first = found.len();
                for spot in numbers(amount, around) {
                    self.number(spot, FARTHEST, 11, found);
                }
                let stated = again.stated.iter().flat_map(|s| &s.parts).flat_map(|p| numbers(&p.amount, p.amount.span));
                for spot in stated.filter(|spot| numbers(amount, around).iter().any(|n| n.value == spot.value)) {
                    let with_count =
                        found.get(first..).unwrap_or_default().iter().filter_map(|c| also(c, spot)).collect();
                    found.extend::<Vec<Candidate>>(with_count);
                }
            }
            tree::AgainExtent::UntilLength { .. } => {}
        }
    }

    /// What stands from one place to another, without a comma and white space before it.
    fn extent(&self, from: usize, to: usize) -> Span {
        let all = self.slice(Span::new(from, to));
        let kept = all.trim_start_matches([',', ' ']);
        Span::new(to - kept.len(), to)
    }

    fn ending(&self, ending: &tree::Ending, span: Span, found: &mut Vec<Candidate>) {
        let side = |side: &tree::SeamSide| match side {
            tree::SeamSide::Row(amount) | tree::SeamSide::First(amount) | tree::SeamSide::Last(amount) => {
                numbers(amount, span)
            }
            tree::SeamSide::Start => Vec::new(),
        };
        let spots = match ending {
            tree::Ending::Gather(Some(amount)) | tree::Ending::Sew { over: Some(amount), .. } => numbers(amount, span),
            tree::Ending::Seam(one, other) => [side(one), side(other)].concat(),
            _ => Vec::new(),
        };
        for spot in spots {
            self.number(spot, FARTHEST, 10, found);
        }
        // A row is not seamed to itself.
        if let tree::Ending::Seam(tree::SeamSide::Row(one), tree::SeamSide::Row(other)) = ending {
            let alike = |c: &Candidate| {
                c.fix.edits.iter().any(|e| {
                    let fixed = if e.span == one.span { other } else { one };
                    (e.span == one.span || e.span == other.span) && e.text == self.slice(fixed.span)
                })
            };
            found.retain(|candidate| !alike(candidate));
        }
    }

    /// An edit, titled by what the step around it becomes.
    fn shown(&self, edit: Edit, around: Span, weight: u32) -> Candidate {
        let old = self.slice(around).to_owned();
        let before = self.slice(Span::new(around.start, edit.span.start));
        let after = self.slice(Span::new(edit.span.end, around.end));
        let title = format!("`{old}` to `{before}{}{after}`", edit.text);
        candidate(edit, title, weight)
    }

    fn slice(&self, span: Span) -> &str {
        self.text.get(span.start..span.end).unwrap_or_default()
    }
}

/// The same change in a stated count, where the number is said again.
fn also(candidate: &Candidate, stated: NumberSpot) -> Option<Candidate> {
    let Candidate { fix, weight } = candidate.clone();
    let [edit] = fix.edits.as_slice() else { return None };
    let count = Edit { span: stated.span, text: edit.text.clone() };
    let title = format!("{}, and the count with it", fix.title);
    Some(Candidate { fix: Fix { title, edits: vec![edit.clone(), count], safety: fix.safety }, weight })
}

fn candidate(edit: Edit, title: String, weight: u32) -> Candidate {
    Candidate { fix: Fix { title, edits: vec![edit], safety: Safety::ChangesFabric }, weight }
}
