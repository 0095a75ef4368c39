//! The small edits that are tried on a faulty line.

use std::collections::BTreeSet;

use super::brackets::extents;
use super::habits::Habits;
use super::missing::Missing;
use super::spots::{NumberSpot, Spots, numbers};
use crate::Compiled;
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Span};
use crate::fabric::{Fault, FaultKind, Misplaced};
use crate::stitch::{Stitches, Terms};
use crate::syntax::tree::{self, Body, Line, LineKind, Setting, Start, WorkLine};

/// How far a number is changed.
pub(super) const FARTHEST: u64 = 6;

/// What the lines around an edit say of it, where nobody has asked them yet.
pub(super) const UNASKED: u32 = 4;

/// An edit to try, and how large it is: smaller ones are likelier meant.
#[derive(Debug, Clone)]
pub(super) struct Candidate {
    pub fix: Fix,
    /// How uncommon the slip is that it mends.
    pub weight: u32,
    /// The same, with what the lines around it say: what is tried first.
    pub order: u32,
}

/// Every edit that is worth trying for a fault in a line: in it, in the start and lead of its piece, in a line above, and in
/// the pieces that it stands on. The likeliest come first.
pub(super) fn all(
    text: &str,
    compiled: &Compiled,
    line: &Line,
    finding: &Diagnostic,
    habits: &Habits<'_>,
) -> Vec<Candidate> {
    let editor = Editor::of(text, compiled, finding);
    let own = |fix: &Fix| {
        let weight = 8 + editor.off(fix);
        Candidate { fix: fix.clone(), weight, order: weight + UNASKED }
    };
    // To do nothing is no other number of what is done, but in a list for one of the sizes.
    let in_list = |edit: &Edit| {
        let before = text.get(..edit.span.start).unwrap_or_default().trim_end();
        before.ends_with('/') || text.get(edit.span.end..).unwrap_or_default().trim_start().starts_with('/')
    };
    let nothing =
        |edit: &Edit| edit.text.split(' ').next_back() == Some("0") && !edit.text.contains('/') && !in_list(edit);
    let does_nothing = |fix: &Fix| fix.edits.iter().any(nothing);
    let mut found: Vec<Candidate> = finding.fixes.iter().filter(|fix| !does_nothing(fix)).map(own).collect();
    if finding.code.0 == "remainder" {
        // Nothing but a number makes arithmetic come out.
        editor.arithmetic(line, finding.primary.span, compiled, &mut found);
        found.sort_by_key(|candidate| candidate.order);
        return found;
    }
    let above = Above::of(&compiled.tree.lines, line);
    match &line.kind {
        // Where it isn't said what to do on a stitch, no other number or step in the line is the answer.
        LineKind::Work(work) if finding.code.0 != "on" => {
            editor.faulty_work(work, (&above, habits), compiled, finding, &mut found);
        }
        LineKind::Work(work) => editor.kinds_asked_for(work, &above, compiled, &mut found),
        LineKind::Again(again) => {
            for spot in again.stated.iter().flat_map(|s| &s.parts).flat_map(|p| numbers(&p.amount, again.span)) {
                editor.number(spot, FARTHEST, 10, &mut found);
            }
            editor.again(again, &mut found);
        }
        LineKind::Ending(ending) => {
            editor.ending(ending, line.span, compiled, &mut found);
            editor.other_words(line, compiled, finding, &mut found);
            found.retain(|candidate| !means_another_place(candidate, ending, compiled, finding));
        }
        LineKind::Start(start) => {
            editor.start(start, line.span, 10, &mut found);
            editor.other_words(line, compiled, finding, &mut found);
            editor.copies(start, line.span, compiled, &mut found);
        }
        LineKind::Piece(_) => editor.spaces(line, &mut found),
        _ => {}
    }
    editor.elsewhere(&above, compiled, (line, finding), &mut found);
    for again in said_by(compiled, finding).filter(|_| !matches!(line.kind, LineKind::Again(_))) {
        editor.again(again, &mut found);
    }
    editor.by_those_that_have_it(compiled.pattern.sizes.len(), &mut found);
    found.sort_by_key(|candidate| candidate.order);
    found
}

/// Whether an edit takes other rows than are named, and these are there: another seam, or other places for what is put on, would come out
/// and be another object.
fn means_another_place(
    candidate: &Candidate,
    ending: &tree::Ending,
    compiled: &Compiled,
    finding: &Diagnostic,
) -> bool {
    let here = |fault: &&Fault| fault.span == finding.primary.span;
    let there = compiled.fabric.faults.iter().filter(here).any(|fault| {
        matches!(
            fault.kind,
            FaultKind::Seam { one: Some(_), other: Some(_) }
                | FaultKind::RowToItself { .. }
                | FaultKind::Misplaced(Misplaced::TooMany { .. })
        )
    });
    let row = |side: &tree::SeamSide| match side {
        tree::SeamSide::Row(amount) => Some(amount.span),
        tree::SeamSide::First(_) | tree::SeamSide::Last(_) | tree::SeamSide::Start => None,
    };
    let rows: Vec<Span> = match ending {
        tree::Ending::Seam(one, other) => [one, other].into_iter().filter_map(row).collect(),
        tree::Ending::Place(placing) => placing.numbers().map(|number| number.span).collect(),
        _ => Vec::new(),
    };
    let within = |edit: &Edit| rows.iter().any(|row| (row.start..=row.end).contains(&edit.span.start));
    there && candidate.fix.edits.iter().any(within)
}

/// The lines that say a line again where it does not ring true.
pub(super) fn said_by<'c>(compiled: &'c Compiled, finding: &Diagnostic) -> impl Iterator<Item = &'c tree::Again> {
    let span = finding.primary.span;
    let here = compiled.fabric.faults.iter().filter(move |fault| fault.span == span);
    let spans: BTreeSet<Span> =
        here.filter_map(|fault| Some(compiled.pattern.pieces.get(fault.piece)?.items.get(fault.item)?.span)).collect();
    compiled.tree.lines.iter().filter(move |line| spans.contains(&line.span)).filter_map(|line| match &line.kind {
        LineKind::Again(again) => Some(again),
        _ => None,
    })
}

/// Every edit that is worth trying in a line on which a faulty one stands.
pub(super) fn within(
    text: &str,
    compiled: &Compiled,
    line: &Line,
    finding: &Diagnostic,
    habits: &Habits<'_>,
) -> Vec<Candidate> {
    let editor = Editor::of(text, compiled, finding);
    let mut found = Vec::new();
    if let LineKind::Work(work) = &line.kind {
        editor.work_line(work, &mut found);
        editor.kinds(work, compiled, &mut found);
        let above = Above::of(&compiled.tree.lines, line);
        editor.said_otherwise(work, &above, finding, &mut found);
        editor.steps_more(work, (&above, &Missing::below(compiled, finding)), compiled, habits, &mut found);
    }
    if finding.code.0 == "on" {
        // What is met is a stitch that the line below made: nothing but another one is the answer.
        let is_stitch = |edit: &Edit| compiled.pattern.stitches.find(&edit.text, compiled.pattern.terms).is_some();
        found.retain(|candidate| candidate.fix.edits.iter().all(is_stitch));
    }
    found.sort_by_key(|candidate| candidate.order);
    found
}

/// What stands above a line in its piece.
#[derive(Default)]
pub(super) struct Above<'a> {
    /// The line of its start.
    pub start_line: Option<&'a Line>,
    /// Where the piece starts.
    pub start: Option<(&'a Start, Span)>,
    pub lead: Option<(&'a tree::Lead, Span)>,
    /// The line just above.
    pub last: Option<(&'a WorkLine, Span)>,
    /// The last line above that says others again, and stands just above but for its endings.
    pub again: Option<&'a tree::Again>,
    /// All work lines of the piece.
    pub lines: Vec<&'a WorkLine>,
}

impl<'a> Above<'a> {
    fn of(lines: &'a [Line], line: &Line) -> Self {
        let mut above = Self::default();
        let mut passed = false;
        for other in lines {
            let end = other.remark.map_or(other.span.end, |remark| remark.start);
            let words = Span::new(other.span.start, end);
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
                        above.last = Some((work, other.span));
                        above.again = None;
                    }
                }
                LineKind::Again(again) if !passed => above.again = Some(again),
                LineKind::Start(start) => {
                    above.start = Some((start, words));
                    above.start_line = Some(other);
                }
                LineKind::Setting(Setting::Lead(lead)) => above.lead = Some((lead, words)),
                _ => {}
            }
        }
        above
    }
}

/// Makes edits of one text.
pub(super) struct Editor<'a> {
    pub text: &'a str,
    pub stitches: &'a Stitches,
    pub terms: Terms,
    /// The sizes that have the fault, where that is known.
    faulty: BTreeSet<usize>,
}

impl<'a> Editor<'a> {
    pub(super) fn of(text: &'a str, compiled: &'a Compiled, finding: &Diagnostic) -> Self {
        let here = compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span);
        let faulty = here.map(|fault| fault.size).collect();
        Self { text, stitches: &compiled.pattern.stitches, terms: compiled.pattern.terms, faulty }
    }
}

impl Editor<'_> {
    /// The sizes that have the fault, where that is known.
    pub(super) fn faulty(&self) -> &BTreeSet<usize> {
        &self.faulty
    }

    /// Whether a number that is for one size alone may be to blame: no other one has the fault.
    pub(super) fn may_cure(&self, size: Option<usize>) -> bool {
        size.is_none_or(|size| self.faulty.is_empty() || self.faulty.iter().all(|faulty| *faulty == size))
    }

    /// What is worth trying in the line that has the fault.
    fn faulty_work(
        &self,
        work: &WorkLine,
        (above, habits): (&Above<'_>, &Habits<'_>),
        compiled: &Compiled,
        finding: &Diagnostic,
        found: &mut Vec<Candidate>,
    ) {
        self.work_line(work, found);
        self.to_the_last(work, compiled, finding, found);
        self.for_some_sizes(work.label.span.start, compiled, found);
        let lacks = Missing::by_size(compiled, finding);
        for spot in Spots::of(work).numbers {
            self.by_size(spot, compiled.pattern.sizes.len(), &lacks, found);
        }
        self.kinds(work, compiled, found);
        self.kinds_there(work, compiled, finding, found);
        self.said_otherwise(work, above, finding, found);
        self.steps_more(work, (above, &Missing::of(compiled, finding, work)), compiled, habits, found);
    }

    fn work_line(&self, line: &WorkLine, found: &mut Vec<Candidate>) {
        let spots = Spots::of(line);
        for spot in &spots.stated {
            self.number(*spot, FARTHEST, 10, found);
        }
        for spot in &spots.numbers {
            self.number(*spot, FARTHEST, 10, found);
        }
        self.alike(&spots.numbers, found);
        for (amount, around) in &spots.by_size {
            self.turned_round(amount, *around, found);
        }
        for sum in &spots.sums {
            self.sum(*sum, found);
        }
        if let Body::As { number, to, .. } = &line.body {
            let written = number.span.to(to.map_or(number.span, |to| to.span));
            let before = self.text.get(line.label.span.end..written.start).unwrap_or_default();
            let from = before.rfind("as ").map_or(written.start, |at| line.label.span.end + at);
            let around = Span::new(from, written.end);
            let others = [(*number, *to), (to.unwrap_or(*number), Some(*number))];
            for (number, other) in others.into_iter().take(if to.is_some() { 2 } else { 1 }) {
                self.number_of_range(number, other, around, found);
            }
        }
        for number in line.label.from.iter().chain(&line.label.to) {
            self.number(NumberSpot::alone(*number, line.label.span), 2, 13, found);
        }
        for (work, span) in &spots.works {
            self.swap(work, *span, found);
            self.number_in_name(work, *span, found);
            self.count_forgotten(work, *span, found);
        }
        for (stitch, span) in &spots.named {
            self.named(stitch, *span, found);
        }
        self.other_terms(&spots, found);
        for (span, last, around) in &spots.tills {
            self.till(*span, *last, *around, found);
        }
        for list in &spots.lists {
            self.drop_one(&list.steps, found);
            self.in_order(list, found);
        }
    }

    fn steps_more(
        &self,
        line: &WorkLine,
        (above, missing): (&Above<'_>, &Missing),
        compiled: &Compiled,
        habits: &Habits<'_>,
        found: &mut Vec<Candidate>,
    ) {
        self.models(line, above, compiled, found);
        self.into_another_place(line, above, compiled, found);
        self.forgotten(line, above, missing, found);
        let fillers = self.fillers(line, above, compiled, missing);
        for list in &Spots::of(line).lists {
            self.add_one(list, &fillers, habits, found);
        }
        if let Body::Steps(steps) = &line.body {
            self.led_over(steps, &fillers, habits, found);
            self.brackets(steps, false, &extents(&above.lines, &missing.places, self), found);
            self.moved_brackets(steps, found);
        }
    }

    /// What only some sizes have is hardly mended by what all of them are worked by.
    fn by_those_that_have_it(&self, sizes: usize, found: &mut [Candidate]) {
        const FOR_ALL: u32 = 2;
        const TRIED_LATER: u32 = 4;
        if self.faulty.is_empty() || self.faulty.len() >= sizes {
            return;
        }
        let in_list = |edit: &Edit| {
            let before = self.slice(Span::new(0, edit.span.start)).trim_end();
            let behind = self.text.get(edit.span.end..).unwrap_or_default().trim_start();
            edit.text.contains(" / ") || before.ends_with('/') || behind.starts_with('/')
        };
        for candidate in found.iter_mut().filter(|candidate| !candidate.fix.edits.iter().any(in_list)) {
            candidate.weight += FOR_ALL;
            candidate.order += TRIED_LATER;
        }
    }

    /// An edit, titled by what the step around it becomes.
    pub(super) fn shown(&self, edit: Edit, around: Span, weight: u32) -> Candidate {
        let old = self.slice(around).to_owned();
        let before = self.slice(Span::new(around.start, edit.span.start));
        let after = self.slice(Span::new(edit.span.end, around.end));
        let title = format!("`{old}` to `{before}{}{after}`", edit.text);
        candidate(edit, title, weight)
    }

    pub(super) fn slice(&self, span: Span) -> &str {
        self.text.get(span.start..span.end).unwrap_or_default()
    }
}

pub(super) fn candidate(edit: Edit, title: String, weight: u32) -> Candidate {
    let fix = Fix { title, edits: vec![edit], safety: Safety::ChangesFabric };
    Candidate { fix, weight, order: weight + UNASKED }
}
