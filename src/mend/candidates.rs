//! The small edits that are tried on a faulty line.

use std::collections::{BTreeMap, BTreeSet};

use super::fillers::{MOST_OF_A_STEP, extents};
use super::habits::Habits;
use super::spots::{NumberSpot, Spots, SumSpot, numbers};
use crate::Compiled;
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Span};
use crate::fabric::{Fault, FaultKind, Misplaced};
use crate::pattern::model::{Kind, Pattern};
use crate::stitch::{Stitches, Terms};
use crate::syntax::tree::{self, Body, Line, LineKind, Number, Setting, Start, WorkLine};
use crate::words;

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
    habits: &Habits,
) -> Vec<Candidate> {
    let editor = Editor::of(text, compiled, finding);
    let own = |fix: &Fix| {
        let weight = 8 + editor.off(fix);
        Candidate { fix: fix.clone(), weight, order: weight + UNASKED }
    };
    // To do nothing is no other number of what is done.
    let does_nothing = |fix: &Fix| fix.edits.iter().any(|edit| edit.text.split(' ').next_back() == Some("0"));
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
            editor.work_line(work, &mut found);
            editor.to_the_last(work, compiled, finding, &mut found);
            let lacks = Missing::by_size(compiled, finding);
            for spot in Spots::of(work).numbers {
                editor.by_size(spot, compiled.pattern.sizes.len(), &lacks, &mut found);
            }
            editor.kinds(work, compiled, &mut found);
            editor.kinds_there(work, compiled, finding, &mut found);
            editor.steps_more(work, (&above, &Missing::of(compiled, finding, work)), compiled, habits, &mut found);
        }
        LineKind::Again(again) => {
            for spot in again.stated.iter().flat_map(|s| &s.parts).flat_map(|p| numbers(&p.amount, again.span)) {
                editor.number(spot, FARTHEST, 10, &mut found);
            }
            editor.again(again, &mut found);
        }
        LineKind::Ending(ending) => {
            editor.ending(ending, line.span, compiled, &mut found);
            found.retain(|candidate| !means_another_place(candidate, ending, compiled, finding));
        }
        LineKind::Start(start) => {
            editor.start(start, line.span, 10, &mut found);
            editor.other_edge(start, line.span, compiled, &mut found);
        }
        _ => {}
    }
    editor.elsewhere(&above, compiled, line, &mut found);
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

/// What a line leaves over, or falls short of.
#[derive(Default)]
pub(super) struct Missing {
    /// So many stitches, where that is more than is tried anyway: `12`, or `2 / 3` where it differs by size.
    pub steps: Vec<String>,
    /// So many places or stitches, in every size that has the fault.
    places: Vec<u64>,
    /// What is looked for or counted, and isn't there, as a step that makes it.
    pub wanted: Vec<String>,
}

impl Missing {
    fn of(compiled: &Compiled, finding: &Diagnostic, line: &WorkLine) -> Self {
        let here = compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span);
        let by_size: BTreeMap<usize, u64> = here
            .map(|fault| match fault.kind {
                FaultKind::LeftOver { left } => (fault.size, left),
                FaultKind::Unfit { over, .. } => (fault.size, over),
                FaultKind::Count { made, stated, .. } => (fault.size, stated.saturating_sub(made)),
                _ => (fault.size, 0),
            })
            .map(|(size, missing)| (size, u64::from(missing)))
            .collect();
        let places: BTreeSet<u64> = by_size.values().copied().filter(|missing| *missing > 0).collect();
        // In a repeat each time has its share of them.
        let times: BTreeSet<u64> =
            Spots::of(line).numbers.iter().map(|spot| spot.value).filter(|n| *n > 0).chain([1]).collect();
        let share = |missing: u64| {
            let fits = times.iter().filter(move |times| missing.is_multiple_of(**times));
            fits.map(move |times| missing / times)
        };
        let shares: BTreeSet<u64> = places.iter().copied().flat_map(share).collect();
        let mut steps: Vec<String> =
            shares.into_iter().filter(|missing| *missing > MOST_OF_A_STEP).map(|missing| missing.to_string()).collect();
        let sizes = compiled.pattern.sizes.len();
        if places.len() > 1 && by_size.len() == sizes {
            let listed: Vec<String> = by_size.values().map(u64::to_string).collect();
            steps.push(listed.join(" / "));
        }
        let wanted = Self::wanted(compiled, finding);
        Self { steps, places: places.into_iter().collect(), wanted }
    }

    /// How many places or stitches each size that has a fault lacks, less than none where it has too many.
    fn by_size(compiled: &Compiled, finding: &Diagnostic) -> BTreeMap<usize, i64> {
        let here = compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span);
        let lacks = here.filter_map(|fault| match fault.kind {
            FaultKind::LeftOver { left } => Some((fault.size, i64::from(left))),
            FaultKind::Count { made, stated, .. } => Some((fault.size, i64::from(stated) - i64::from(made))),
            _ => None,
        });
        lacks.collect()
    }

    /// The steps that make what is looked for or counted, and isn't there.
    fn wanted(compiled: &Compiled, finding: &Diagnostic) -> Vec<String> {
        let Pattern { stitches, terms, .. } = &compiled.pattern;
        let here = compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span);
        let kinds = here.filter_map(|fault| match &fault.kind {
            FaultKind::Count { kind: Some(kind), made, stated } if made < stated => Some(*kind),
            FaultKind::NoPlace { wanted, .. } => Some(*wanted),
            _ => None,
        });
        let step = |kind| match kind {
            Kind::Space(length) => Some(format!("ch {length}")),
            Kind::Stitch(id) => Some(stitches.get(id)?.names(*terms).short.clone()),
            Kind::AnyStitch | Kind::Chain | Kind::AnySpace | Kind::Yarn(_) => None,
        };
        kinds.filter_map(step).collect::<BTreeSet<String>>().into_iter().collect()
    }

    /// What a line lacks on which a faulty one stands.
    fn below(compiled: &Compiled, finding: &Diagnostic) -> Self {
        Self { wanted: Self::wanted(compiled, finding), ..Self::default() }
    }
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
    habits: &Habits,
) -> Vec<Candidate> {
    let editor = Editor::of(text, compiled, finding);
    let mut found = Vec::new();
    if let LineKind::Work(work) = &line.kind {
        editor.work_line(work, &mut found);
        editor.kinds(work, compiled, &mut found);
        let above = Above::of(&compiled.tree.lines, line);
        editor.steps_more(work, (&above, &Missing::below(compiled, finding)), compiled, habits, &mut found);
    }
    found.sort_by_key(|candidate| candidate.order);
    found
}

/// What stands above a line in its piece.
#[derive(Default)]
pub(super) struct Above<'a> {
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
                LineKind::Start(start) => above.start = Some((start, words)),
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
    fn of(text: &'a str, compiled: &'a Compiled, finding: &Diagnostic) -> Self {
        let here = compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span);
        let faulty = here.map(|fault| fault.size).collect();
        Self { text, stitches: &compiled.pattern.stitches, terms: compiled.pattern.terms, faulty }
    }
}

impl Editor<'_> {
    /// Whether a number that is for one size alone may be to blame: no other one has the fault.
    pub(super) fn may_cure(&self, size: Option<usize>) -> bool {
        size.is_none_or(|size| self.faulty.is_empty() || self.faulty.iter().all(|faulty| *faulty == size))
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
        }
    }

    fn steps_more(
        &self,
        line: &WorkLine,
        (above, missing): (&Above<'_>, &Missing),
        compiled: &Compiled,
        habits: &Habits,
        found: &mut Vec<Candidate>,
    ) {
        self.models(line, above, compiled, found);
        self.forgotten(line, above, missing, found);
        let fillers = self.fillers(line, above, compiled, missing);
        for list in &Spots::of(line).lists {
            self.add_one(list, &fillers, habits, found);
        }
        if let Body::Steps(steps) = &line.body {
            self.brackets(steps, false, &extents(&above.lines, &missing.places, self), found);
        }
    }

    /// A number a little larger or smaller.
    pub(super) fn number(&self, spot: NumberSpot, farthest: u64, weight: u32, found: &mut Vec<Candidate>) {
        // `again, 4 times` writes none.
        if spot.span.start == spot.span.end || !self.may_cure(spot.size) {
            return;
        }
        for by in 1..=farthest {
            let more = u32::try_from(by).unwrap_or(u32::MAX);
            // 0 means to do nothing, which is a step less and no other number.
            let rows_below = self.text.get(spot.span.end..).is_some_and(|rest| rest.starts_with(" rows below"));
            let least = if rows_below { 2 } else { 1 };
            let values = [spot.value.checked_sub(by).filter(|v| *v >= least), spot.value.checked_add(by)];
            for value in values.into_iter().flatten() {
                let edit = self.rewritten(spot.span, value);
                found.push(self.shown(edit, spot.around, weight + more + self.rare_number(spot, value)));
            }
        }
    }

    /// Two numbers of a line that are the same and rest on each other, both a little larger or smaller: as far as the last 3, and 3
    /// left; what is done 6 times, and 6 times again.
    fn alike(&self, spots: &[NumberSpot], found: &mut Vec<Candidate>) {
        const BOTH: u32 = 12;
        const FARTHEST_BOTH: u64 = 2;
        const MOST_PAIRS: usize = 6;
        let rests = |(at, one): (usize, &NumberSpot)| {
            let rest = self.rests_with(one)?;
            let fits = |other: &&NumberSpot| {
                let alike = other.value == one.value && other.size == one.size && other.around != one.around;
                alike && self.rests_with(other) == Some(rest)
            };
            spots.iter().skip(at + 1).find(fits).map(|other| (*one, *other))
        };
        let pairs =
            spots.iter().enumerate().filter(|(_, spot)| self.may_cure(spot.size) && spot.span.start < spot.span.end);
        for (one, other) in pairs.filter_map(rests).take(MOST_PAIRS) {
            for by in 1..=FARTHEST_BOTH {
                let values = [one.value.checked_sub(by).filter(|value| *value > 0), one.value.checked_add(by)];
                for value in values.into_iter().flatten() {
                    let [first, second] =
                        [one, other].map(|spot| self.shown(self.rewritten(spot.span, value), spot.around, 0).fix);
                    let title = format!("{} and {}", first.title, second.title);
                    let edits = [first.edits, second.edits].concat();
                    let weight = BOTH + u32::try_from(by).unwrap_or(u32::MAX);
                    let fix = Fix { title, edits, safety: Safety::ChangesFabric };
                    found.push(Candidate { fix, weight, order: weight + UNASKED });
                }
            }
        }
    }

    /// What a number says that may have to be said again elsewhere in its line: how often, or how many stay.
    fn rests_with(&self, spot: &NumberSpot) -> Option<&'static str> {
        let words = self.slice(spot.around);
        let stays = words.starts_with("leave ") || words.contains("to last ");
        if words.ends_with(" times") { Some("times") } else { stays.then_some("stay") }
    }

    /// Arithmetic without the number that is added at its end, and with one more or less.
    pub(super) fn sum(&self, sum: SumSpot, found: &mut Vec<Candidate>) {
        const ADDED: u32 = 11;
        const FORGOTTEN: u32 = 13;
        if !self.may_cure(sum.size) {
            return;
        }
        if let Some(tail) = sum.tail {
            // The number itself is changed as any other one.
            return found.push(self.shown(Edit { span: tail, text: String::new() }, sum.around, ADDED));
        }
        let end = Span::new(sum.span.end, sum.span.end);
        for (more, weight) in [(" - 1", 0), (" + 1", 0), (" - 2", 1), (" + 2", 1)] {
            found.push(self.shown(Edit { span: end, text: more.to_owned() }, sum.around, FORGOTTEN + weight));
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

    /// A number for all sizes where those that have the fault were to have one of their own.
    fn by_size(&self, spot: NumberSpot, sizes: usize, lacks: &BTreeMap<usize, i64>, found: &mut Vec<Candidate>) {
        const LOST: u32 = 12;
        /// So much of what a size lacks is made good by one more.
        const MOST_FOR_ONE: i64 = 6;
        let alone = spot.size.is_none() && spot.span.start < spot.span.end;
        if !alone || lacks.is_empty() || lacks.len() >= sizes {
            return;
        }
        for (each, weight) in
            (1..=MOST_FOR_ONE).zip(LOST..).filter(|(each, _)| lacks.values().all(|lack| lack % each == 0))
        {
            for each in [each, -each] {
                let of = |size: usize| {
                    let more = lacks.get(&size).map_or(0, |lack| lack / each);
                    u64::try_from(i64::try_from(spot.value).ok()?.checked_add(more)?).ok().filter(|value| *value > 0)
                };
                let values: Option<Vec<String>> =
                    (0..sizes).map(|size| of(size).map(|value| value.to_string())).collect();
                let text = values.map(|values| values.join(" / "));
                found.extend(text.map(|text| self.shown(Edit { span: spot.span, text }, spot.around, weight)));
            }
        }
    }

    /// How much rarer a number is than another one there: nobody writes `1 sc in next`.
    fn rare_number(&self, spot: NumberSpot, value: u64) -> u32 {
        const ONE_IN_A_PLACE: u32 = 5;
        let first = spot.span.start == spot.around.start;
        let in_place = first && [" in ", " blo ", " flo "].iter().any(|word| self.slice(spot.around).contains(word));
        if value == 1 && in_place { ONE_IN_A_PLACE } else { 0 }
    }

    /// The number of a line that is said again; a range has a first and a last line, which differ.
    pub(super) fn number_of_range(
        &self,
        number: Number,
        other: Option<Number>,
        around: Span,
        found: &mut Vec<Candidate>,
    ) {
        let mut all = Vec::new();
        self.number(NumberSpot::alone(number, around), FARTHEST, 12, &mut all);
        let other = other.map(|other| other.value.to_string());
        found.extend(
            all.into_iter()
                .filter(|candidate| candidate.fix.edits.iter().all(|edit| Some(&edit.text) != other.as_ref())),
        );
    }

    /// By how much a repair changes numbers; a number that is far off is hardly a slip of the pen, and one of quite another
    /// size is none.
    fn off(&self, fix: &Fix) -> u32 {
        const MOST: u64 = 8;
        const OF_ANOTHER_SIZE: u64 = 2;
        const SOME: u64 = 16;
        let values = |text: &str| -> Vec<u64> {
            text.split(|letter: char| !letter.is_ascii_digit()).filter_map(|digits| digits.parse().ok()).collect()
        };
        let farthest = fix.edits.iter().flat_map(|edit| {
            let (old, new) = (values(self.slice(edit.span)), values(&edit.text));
            let alike = old.len() == new.len();
            let off = |(old, new): (u64, u64)| {
                let (less, more) = (old.min(new).max(1), old.max(new));
                let farther = old.abs_diff(new) > SOME && more / less >= OF_ANOTHER_SIZE;
                old.abs_diff(new).min(MOST) + if farther { MOST } else { 0 }
            };
            old.into_iter().zip(new).filter(move |_| alike).map(off).collect::<Vec<u64>>()
        });
        u32::try_from(farthest.max().unwrap_or(0)).unwrap_or(0)
    }

    /// Another number in the place of one; `4th` keeps its ending.
    fn rewritten(&self, span: Span, value: u64) -> Edit {
        if matches!(self.slice(span), "once" | "twice") {
            let text = match value {
                1 => "once".to_owned(),
                2 => "twice".to_owned(),
                times => format!("{times} times"),
            };
            return Edit { span, text };
        }
        let after = self.text.get(span.end..).unwrap_or_default();
        if value == 1 && after.starts_with(" times") {
            return Edit { span: Span::new(span.start, span.end + " times".len()), text: "once".to_owned() };
        }
        let letters = |text: &str| text.chars().take_while(char::is_ascii_alphabetic).count();
        let within = self.slice(span).trim_start_matches(|letter: char| letter.is_ascii_digit());
        let behind = after.get(..letters(after)).filter(|word| ["st", "nd", "rd", "th"].contains(word));
        match (within, behind) {
            ("", None) => Edit { span, text: value.to_string() },
            (_, behind) => {
                let end = span.end + behind.map_or(0, str::len);
                Edit {
                    span: Span::new(span.start, end),
                    text: words::ordinal(u32::try_from(value).unwrap_or(u32::MAX)),
                }
            }
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
