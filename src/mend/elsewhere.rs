//! Edits outside the faulty line: the start and the lead of its piece, the lines above, the pieces that it stands on; and
//! those of lines that hold no steps.

use super::candidates::{Above, Candidate, Editor, FARTHEST, candidate};
use super::spots::{NumberSpot, Spots, numbers, sums};
use crate::Compiled;
use crate::diagnostic::{Diagnostic, Edit, Fix, Span};
use crate::syntax::tree::{self, Amount, Body, Header, Line, LineKind, Part, Rim, Start, Step, Text, Till, Where};
use std::collections::BTreeSet;

/// What it costs that the first row is right, and not so the number of chains that it is worked into.
const ON_ITS_CHAIN: u32 = 11;

/// What it costs that a line is for some of the sizes, and how many lines above a fault may be so.
const FOR_SOME: u32 = 9;
const LINES_ABOVE: usize = 3;

/// How far a number of a line above is changed.
const NEAR: u64 = 2;

impl Editor<'_> {
    pub(super) fn elsewhere(
        &self,
        above: &Above<'_>,
        compiled: &Compiled,
        (line, finding): (&Line, &Diagnostic),
        found: &mut Vec<Candidate>,
    ) {
        if let Some((start, span)) = above.start.filter(|(_, span)| span.start != line.span.start) {
            let is_first = above.lines.first().is_some_and(|first| first.label.span.start == line.span.start);
            let on_chain = is_first && matches!(start, Start::Chain { .. });
            self.start(start, self.trimmed(span), if on_chain { ON_ITS_CHAIN } else { 15 }, found);
            if let Some(start) = above.start_line.filter(|_| is_first) {
                let first = found.len();
                self.other_words(start, compiled, finding, found);
                farther(found, first, 4);
            }
            self.picked_up(start, compiled, found);
            self.beside(start, span, compiled, found);
        }
        self.named_numbers(line, compiled, found);
        found.extend(above.lead.and_then(|(lead, span)| self.lead(lead, self.trimmed(span))));
        if let Some((work, _)) = above.last {
            self.skipped_chains(work, above, found);
            let spots = Spots::of(work);
            let weight = if work.stated.is_none() { 18 } else { 22 };
            for spot in &spots.numbers {
                self.number(*spot, NEAR, weight, found);
            }
            if let Some(to) = work.label.to {
                self.number(NumberSpot::alone(to, work.label.span), NEAR, 18, found);
            }
        }
        if let Some(again) = above.again {
            let first = found.len();
            self.again(again, found);
            farther(found, first, 6);
        }
    }

    /// `only` that was forgotten before a row, this one or one just above it: what it makes is a number of some sizes alone, as the row
    /// behind it says.
    pub(super) fn for_some_sizes(&self, here: usize, compiled: &Compiled, found: &mut Vec<Candidate>) {
        let Some((right, words)) = self.sizes_without_it(compiled) else { return };
        let begins = |other: &&Line| matches!(other.kind, LineKind::Piece(_)) && other.span.start > here;
        let above = compiled.tree.lines.iter().take_while(|other| !begins(other));
        let rows: Vec<(&Line, &tree::WorkLine)> = above
            .filter_map(|other| match &other.kind {
                LineKind::Work(work) => Some((other, work)),
                _ => None,
            })
            .collect();
        let own = rows.partition_point(|(other, _)| other.span.start <= here);
        let pairs = rows.iter().zip(rows.iter().skip(1)).take(own).rev().take(LINES_ABOVE);
        for (distance, ((other, work), (_, next))) in (0..).zip(pairs) {
            let made = counts(work).filter(|made| made.len() == 1 && other.only.is_empty());
            let (Some(made), Some(behind)) = (made, counts(next).filter(|behind| behind.len() > 1)) else { continue };
            if right.iter().all(|size| behind.get(*size) == made.first()) {
                found.push(self.only_before(other, work.label.span, &words, FOR_SOME + distance));
            }
        }
    }

    /// The same before a seam to a piece that isn't made in other sizes.
    pub(super) fn sewn_in_some_sizes(&self, line: &Line, compiled: &Compiled, found: &mut Vec<Candidate>) {
        let words = self.sizes_without_it(compiled).filter(|_| line.only.is_empty());
        if let Some((_, words)) = words {
            let end = line.remark.map_or(line.span.end, |remark| remark.start);
            let called = self.trimmed(Span::new(line.span.start, end));
            found.push(self.only_before(line, called, &words, FOR_SOME));
        }
    }

    /// The sizes that don't have a fault, and `only` with their names; nothing where all of them have it.
    fn sizes_without_it(&self, compiled: &Compiled) -> Option<(Vec<usize>, String)> {
        let sizes = &compiled.pattern.sizes;
        let right: Vec<usize> = (0..sizes.len()).filter(|size| !self.faulty().contains(size)).collect();
        let names: Vec<&str> = right.iter().filter_map(|size| sizes.get(*size)).map(String::as_str).collect();
        let words = format!("only {}:", names.join(", "));
        (!self.faulty().is_empty() && !right.is_empty()).then_some((right, words))
    }

    fn only_before(&self, line: &Line, called: Span, words: &str, weight: u32) -> Candidate {
        let title = format!("add `{words}` before `{}`", self.slice(called));
        let at = Span::new(line.span.start, line.span.start);
        candidate(Edit { span: at, text: format!("{words} ") }, title, weight)
    }

    /// Words without the white space before a remark.
    pub(super) fn trimmed(&self, span: Span) -> Span {
        Span::new(span.start, span.start + self.slice(span).trim_end().len())
    }

    /// The numbers of a start.
    pub(super) fn start(&self, start: &Start, line: Span, weight: u32, found: &mut Vec<Candidate>) {
        let mut number = |amount: &Amount| {
            for spot in numbers(amount, line) {
                self.number(spot, FARTHEST, weight, found);
            }
            self.turned_round(amount, line, found);
        };
        match start {
            Start::Chain { chains: amount, .. } | Start::Foundation { count: amount, .. } => number(amount),
            Start::Part(_, amount, of) => {
                number(amount);
                self.start(of, line, weight, found);
            }
            Start::Opening(_, Rim::Around { corners: Some(amount), .. })
            | Start::Thing { places: Some(amount), .. } => {
                number(amount);
            }
            Start::Through(one, other) => {
                self.start(one, line, weight, found);
                self.start(other, line, weight, found);
            }
            Start::Several(all) => all.iter().for_each(|start| self.start(start, line, weight, found)),
            Start::Again(of) | Start::Rest(of) => self.start(of, line, weight, found),
            Start::Ring
            | Start::Edge(_)
            | Start::OtherSide(_)
            | Start::Top(_)
            | Start::Around(_)
            | Start::Side(..)
            | Start::Opening(..)
            | Start::Loops { .. }
            | Start::Thing { places: None, .. } => {}
        }
    }

    /// `make 2` that is too much on a piece that stands on another one, or missing on that other one.
    pub(super) fn copies(&self, start: &Start, here: Span, compiled: &Compiled, found: &mut Vec<Candidate>) {
        const TOO_MANY: u32 = 8;
        const TOO_FEW: u32 = 12;
        let pieces = compiled.tree.lines.iter().take_while(|line| line.span.start < here.start);
        let pieces: Vec<(&tree::PieceLine, Span)> = pieces
            .filter_map(|line| match &line.kind {
                LineKind::Piece(piece) => Some((
                    piece,
                    self.trimmed(line.remark.map_or(line.span, |remark| Span::new(line.span.start, remark.start))),
                )),
                _ => None,
            })
            .collect();
        let Some(((piece, line), copies)) = pieces.last().and_then(|last| Some((last, last.0.copies?))) else { return };
        let before = self.slice(Span::new(line.start, copies.span.start));
        let Some(comma) = before.rfind(',').map(|at| line.start + at) else { return };
        let words = Span::new(comma, copies.span.end);
        let said = self.slice(words).trim_start_matches([',', ' ']).to_owned();
        let title = format!("leave out `{said}` for {}", piece.name.text);
        found.push(candidate(Edit { span: words, text: String::new() }, title, TOO_MANY));
        let mut names = Vec::new();
        stands_on(start, &mut names);
        let once = pieces.iter().filter(|(other, _)| {
            other.copies.is_none() && names.iter().any(|name| name.eq_ignore_ascii_case(&other.name.text))
        });
        for (other, line) in once {
            let end = Span::new(line.end, line.end);
            let title = format!("add `{said}` for {}", other.name.text);
            found.push(candidate(Edit { span: end, text: format!(", {said}") }, title, TOO_FEW));
        }
    }

    /// Where a piece starts on the rest of an edge, how much of it the pieces above it took.
    fn beside(&self, start: &Start, here: Span, compiled: &Compiled, found: &mut Vec<Candidate>) {
        let mut rests: Vec<&Start> = Vec::new();
        rest_of(start, &mut rests);
        for line in compiled.tree.lines.iter().take_while(|line| line.span.start < here.start) {
            let LineKind::Start(other) = &line.kind else { continue };
            let mut parts: Vec<&Start> = Vec::new();
            part_of(other, &mut parts);
            if parts.iter().any(|part| rests.iter().any(|rest| is_same_edge(part, rest))) {
                let end = line.remark.map_or(line.span.end, |remark| remark.start);
                self.start(other, self.trimmed(Span::new(line.span.start, end)), 14, found);
            }
        }
    }

    /// How much of an edge the pieces start on whose edges are sewn.
    fn sewn(&self, edge: &Start, compiled: &Compiled, found: &mut Vec<Candidate>) {
        let mut names: Vec<&str> = Vec::new();
        stands_on(edge, &mut names);
        let mut inside = false;
        for line in &compiled.tree.lines {
            match &line.kind {
                LineKind::Piece(piece) => {
                    inside = names.iter().any(|name| name.eq_ignore_ascii_case(&piece.name.text));
                    if inside {
                        self.other_ways(line, 0, found);
                    }
                }
                LineKind::Start(start) if inside => self.start(start, self.trimmed(line.span), 11, found),
                _ => {}
            }
        }
        self.picked_up(edge, compiled, found);
    }

    /// How many rows there are of the pieces that this one is picked up along, and how long their starts are.
    fn picked_up(&self, start: &Start, compiled: &Compiled, found: &mut Vec<Candidate>) {
        let mut names: Vec<&str> = Vec::new();
        stands_on(start, &mut names);
        let mut inside = false;
        for line in &compiled.tree.lines {
            match &line.kind {
                LineKind::Piece(piece) => {
                    inside = names.iter().any(|name| name.eq_ignore_ascii_case(&piece.name.text));
                }
                LineKind::Again(again) if inside => {
                    let first = found.len();
                    self.again(again, found);
                    farther(found, first, 6);
                }
                LineKind::Work(work) if inside => {
                    if let Some(to) = work.label.to {
                        self.number(NumberSpot::alone(to, work.label.span), FARTHEST, 17, found);
                    }
                }
                LineKind::Start(start) if inside => self.start(start, line.span, 19, found),
                _ => {}
            }
        }
    }

    /// The lead counts, or does not.
    pub(super) fn lead(&self, lead: &tree::Lead, span: Span) -> Option<Candidate> {
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

    pub(super) fn again(&self, again: &tree::Again, found: &mut Vec<Candidate>) {
        let named = Span::new(again.span.start, again.to.span.end);
        let several = again.from.span != again.to.span;
        if again.above.is_none() {
            self.number_of_range(again.from, several.then_some(again.to), named, found);
        }
        if several {
            self.number_of_range(again.to, Some(again.from), named, found);
        }
        match &again.extent {
            tree::AgainExtent::Times(amount)
            | tree::AgainExtent::UntilLine(amount)
            | tree::AgainExtent::UntilStitches(amount) => {
                let around = self.extent(again.to.span.end, again.span.end);
                let first = found.len();
                for spot in numbers(amount, around) {
                    self.number(spot, FARTHEST, 11, found);
                }
                for sum in sums(amount, around) {
                    self.sum(sum, found);
                }
                let stated = again.stated.iter().flat_map(|s| &s.parts).flat_map(|p| numbers(&p.amount, p.amount.span));
                for spot in stated.filter(|spot| numbers(amount, around).iter().any(|n| n.value == spot.value)) {
                    let with_count =
                        found.get(first..).unwrap_or_default().iter().filter_map(|c| also(c, spot)).collect();
                    found.extend::<Vec<Candidate>>(with_count);
                }
            }
            tree::AgainExtent::UntilLength { numbers, unit, .. } => {
                let around = self.extent(again.to.span.end, unit.span.end);
                let by_size = numbers.len() > 1;
                for (size, number) in numbers.iter().enumerate() {
                    if self.may_cure(Some(size).filter(|_| by_size)) {
                        self.length(number, around, found);
                    }
                }
            }
        }
    }

    /// A length a little longer or shorter: by halves where it is written so.
    fn length(&self, number: &Text, around: Span, found: &mut Vec<Candidate>) {
        let (whole, part) = number.text.split_once('.').unwrap_or((&number.text, ""));
        let (Ok(whole), halves) = (whole.parse::<u64>(), part == "5") else { return };
        if !halves && !part.chars().all(|digit| digit == '0') {
            return;
        }
        let written = whole.saturating_mul(2) + u64::from(halves);
        for by in 1..=2 * FARTHEST {
            let more = u32::try_from(by).unwrap_or(u32::MAX);
            for value in [written.checked_sub(by), written.checked_add(by)].into_iter().flatten().filter(|v| *v > 0) {
                let ending = if value.is_multiple_of(2) { "" } else { ".5" };
                let edit = Edit { span: number.span, text: format!("{}{ending}", value / 2) };
                // A half is no likelier slip than a whole one where there are no halves.
                let odd = u32::from(!halves && !value.is_multiple_of(2)) * 6;
                found.push(self.shown(edit, around, 11 + more / 2 + odd));
            }
        }
    }

    /// The numbers of the arithmetic at a place, and those that it asks for by name.
    pub(super) fn arithmetic(&self, line: &Line, at: Span, compiled: &Compiled, found: &mut Vec<Candidate>) {
        amounts_of(line, &mut |amount| {
            if amount.span.start <= at.start && at.end <= amount.span.end {
                for spot in numbers(amount, amount.span) {
                    self.number(spot, FARTHEST, 10, found);
                }
            }
        });
        self.named_numbers(line, compiled, found);
    }

    /// The numbers that names were given to which a line asks for, and those that these were reckoned from.
    fn named_numbers(&self, line: &Line, compiled: &Compiled, found: &mut Vec<Candidate>) {
        let mut asked: BTreeSet<String> = BTreeSet::new();
        let mut ask = |amount: &Amount| asked.extend(amount.names().into_iter().map(str::to_lowercase));
        amounts_of(line, &mut ask);
        for line in compiled.tree.lines.iter().rev() {
            let LineKind::Header(Header::Set { name, amount }) = &line.kind else { continue };
            if !asked.contains(&name.text.to_lowercase()) {
                continue;
            }
            asked.extend(amount.names().into_iter().map(str::to_lowercase));
            for spot in numbers(amount, self.trimmed(name.span.to(amount.span))) {
                self.number(spot, FARTHEST, 14, found);
            }
        }
    }

    /// What stands from one place to another, or to the count that is stated before that, without a comma and white space
    /// before it.
    fn extent(&self, from: usize, to: usize) -> Span {
        let all = self.slice(Span::new(from, to));
        let all = all.split(['=', '#']).next().unwrap_or_default().trim_end();
        let kept = all.trim_start_matches([',', ' ']);
        Span::new(from + all.len() - kept.len(), from + all.len())
    }

    pub(super) fn ending(&self, ending: &tree::Ending, span: Span, compiled: &Compiled, found: &mut Vec<Candidate>) {
        let side = |side: &tree::SeamSide| match side {
            tree::SeamSide::Row(amount) | tree::SeamSide::First(amount) | tree::SeamSide::Last(amount) => {
                numbers(amount, span)
            }
            tree::SeamSide::Start => Vec::new(),
        };
        let spots = match ending {
            tree::Ending::Gather(Some(amount)) | tree::Ending::Sew { over: Some(amount), .. } => numbers(amount, span),
            tree::Ending::Seam(one, other) => [side(one), side(other)].concat(),
            tree::Ending::SeamEdges { one, other, easing } => {
                for edge in [one, other] {
                    self.start(edge, span, 12, found);
                    self.sewn(edge, compiled, found);
                }
                easing.iter().flat_map(|easing| numbers(easing, span)).collect()
            }
            tree::Ending::Surface(surface) => [Some(&surface.amount), surface.from.as_ref()]
                .into_iter()
                .flatten()
                .flat_map(|amount| numbers(amount, span))
                .collect(),
            tree::Ending::Place(placing) => placing.numbers().flat_map(|amount| numbers(amount, span)).collect(),
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
}

/// Makes what was found from one of them on less likely.
fn farther(found: &mut [Candidate], first: usize, more: u32) {
    for candidate in found.iter_mut().skip(first) {
        candidate.weight += more;
        candidate.order += more;
    }
}

/// Shows every amount of a line.
fn amounts_of(line: &Line, see: &mut dyn FnMut(&Amount)) {
    let stated = match &line.kind {
        LineKind::Work(work) => {
            if let Body::Steps(steps) = &work.body {
                amounts_in(steps, see);
            }
            work.stated.as_ref()
        }
        LineKind::Again(again) => {
            match &again.extent {
                tree::AgainExtent::Times(amount)
                | tree::AgainExtent::UntilLine(amount)
                | tree::AgainExtent::UntilStitches(amount) => see(amount),
                tree::AgainExtent::UntilLength { .. } => {}
            }
            again.stated.as_ref()
        }
        LineKind::Header(Header::Set { amount, .. })
        | LineKind::Start(Start::Chain { chains: amount, .. } | Start::Foundation { count: amount, .. })
        | LineKind::Ending(tree::Ending::Gather(Some(amount)) | tree::Ending::Sew { over: Some(amount), .. }) => {
            see(amount);
            None
        }
        LineKind::Ending(tree::Ending::Seam(one, other)) => {
            for side in [one, other] {
                if let tree::SeamSide::Row(amount) | tree::SeamSide::First(amount) | tree::SeamSide::Last(amount) = side
                {
                    see(amount);
                }
            }
            None
        }
        _ => None,
    };
    stated.iter().flat_map(|stated| &stated.parts).for_each(|part| see(&part.amount));
}

fn amounts_in(steps: &[Step], see: &mut dyn FnMut(&Amount)) {
    let in_places = |places: &Where, see: &mut dyn FnMut(&Amount)| {
        places.each_part(&mut |part| match part {
            Part::Amount(amount) | Part::Till(Till::Last(amount)) => see(amount),
            _ => {}
        });
    };
    for step in steps {
        step.kind.each_part(&mut |part| match part {
            Part::Steps(steps) => amounts_in(steps, see),
            Part::Amount(amount) | Part::Till(Till::Last(amount)) => see(amount),
            Part::Places(places) => in_places(places, see),
            _ => {}
        });
    }
}

/// The same change in a stated count, where the number is said again.
fn also(candidate: &Candidate, stated: NumberSpot) -> Option<Candidate> {
    let Candidate { fix, weight, order } = candidate.clone();
    let [edit] = fix.edits.as_slice() else { return None };
    let count = Edit { span: stated.span, text: edit.text.clone() };
    let title = format!("{}, and the count with it", fix.title);
    Some(Candidate { fix: Fix { title, edits: vec![edit.clone(), count], safety: fix.safety }, weight, order })
}

/// The edges of whose rest a start says that it takes it.
fn rest_of<'a>(start: &'a Start, found: &mut Vec<&'a Start>) {
    match start {
        Start::Rest(of) => found.push(of),
        Start::Again(of) => rest_of(of, found),
        Start::Several(all) => all.iter().for_each(|start| rest_of(start, found)),
        _ => {}
    }
}

/// The edges of which a start takes a part.
fn part_of<'a>(start: &'a Start, found: &mut Vec<&'a Start>) {
    match start {
        Start::Part(_, _, of) => found.push(of),
        Start::Again(of) | Start::Rest(of) => part_of(of, found),
        Start::Several(all) => all.iter().for_each(|start| part_of(start, found)),
        _ => {}
    }
}

/// Whether two edges are of one sort and of the same piece.
fn is_same_edge(one: &Start, other: &Start) -> bool {
    let (mut ones, mut others) = (Vec::new(), Vec::new());
    stands_on(one, &mut ones);
    stands_on(other, &mut others);
    std::mem::discriminant(one) == std::mem::discriminant(other)
        && ones.iter().zip(&others).all(|(one, other)| one.eq_ignore_ascii_case(other))
}

/// The pieces on whose edges a piece starts.
fn stands_on<'a>(start: &'a Start, names: &mut Vec<&'a str>) {
    let mut all = Vec::new();
    names_of(start, &mut all);
    names.extend(all.into_iter().map(|(_, name)| name));
}

/// The same, with where each is named.
fn names_of<'a>(start: &'a Start, names: &mut Vec<(Span, &'a str)>) {
    match start {
        Start::Edge(name)
        | Start::OtherSide(name)
        | Start::Top(name)
        | Start::Around(name)
        | Start::Side(_, name)
        | Start::Loops { name, .. } => names.push((name.span, &name.text)),
        // The name of the piece stands behind that of the opening.
        Start::Opening(name, _) => names.extend(name.text.rsplit_once(" of ").map(|(_, piece)| {
            let end = name.span.end;
            (Span::new(end.saturating_sub(piece.len()), end), piece)
        })),
        Start::Again(of) | Start::Part(_, _, of) | Start::Rest(of) => names_of(of, names),
        Start::Through(one, other) => {
            names_of(one, names);
            names_of(other, names);
        }
        Start::Several(all) => all.iter().for_each(|start| names_of(start, names)),
        Start::Ring | Start::Chain { .. } | Start::Foundation { .. } | Start::Thing { .. } => {}
    }
}

/// The numbers of the one count that a row states: one for all sizes, or one a size.
fn counts(work: &tree::WorkLine) -> Option<Vec<u64>> {
    let [part] = work.stated.as_ref()?.parts.as_slice() else { return None };
    let number = |term: &tree::Term| match &term.value {
        tree::TermValue::Number(number) => Some(*number),
        tree::TermValue::Sum(_) => None,
    };
    part.amount.terms.iter().map(number).collect()
}
