//! Lines that name other lines: `as rows 2-3 of Left`, `again rows 2-3 until row 12`.

use super::super::model::{
    Again, AgainExtent, Item, ItemKind, LengthFrom, Line, NamedRow, SameAs, StepKind, each_step,
};
use super::super::plan::{Named, Plan};
use super::{Lower, codes};
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Span};
use crate::limits;
use crate::pattern::model::Scale;
use crate::syntax::tree::{self, Sort};
use crate::units::{Length, Unit, number};
use crate::words::{count, thousands};
use std::collections::BTreeSet;

/// What a line that says others again says of them, and where.
#[derive(Clone, Copy)]
pub(super) struct Said<'t> {
    pub first: tree::Number,
    pub last: Option<tree::Number>,
    pub piece: Option<&'t tree::Text>,
    pub label: &'t tree::Label,
    pub span: Span,
}

/// Numbers of rows or rounds, the first and the last.
#[derive(Clone, Copy)]
pub(super) struct Numbers {
    round: bool,
    from: u32,
    to: u32,
    from_span: Span,
    to_span: Span,
    /// A length is measured from there, and nothing is done again.
    measured: bool,
}

/// A row of a range that says others again.
#[derive(Clone, Copy)]
struct Row {
    /// The number that it is like.
    wanted: u32,
    /// Its place in the range, from 0.
    place: u32,
    /// How many rows it is.
    times: u32,
    /// Nothing of the range comes after the lines that are now said.
    last_pass: bool,
}

/// What rows that say the same line again have in common: sizes that differ in it have lines of their own.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Kind {
    /// The line, by its item.
    source: usize,
    /// Nothing of the range comes after it.
    ends: bool,
    /// The yarn that is changed to right before it.
    begun_in: Option<String>,
}

impl Numbers {
    pub(super) fn span(self) -> Span {
        self.from_span.to(self.to_span)
    }

    /// How many there are.
    fn rows(self) -> u32 {
        (self.to - self.from).saturating_add(1)
    }

    pub(super) fn word(self) -> &'static str {
        if self.round { "round" } else { "row" }
    }

    /// `row 3`, `rows 2-4`, as it is written.
    fn short(self, from: u32, to: u32) -> String {
        let word = if self.round { "rnd" } else { "row" };
        if from == to { format!("{word} {from}") } else { format!("{word}s {from}-{to}") }
    }

    /// `row 3`, `rows 2-4`, in a message.
    pub(super) fn told(self) -> String {
        let word = self.word();
        if self.from == self.to {
            format!("{word} {}", self.from)
        } else {
            format!("{word}s {}-{}", self.from, self.to)
        }
    }
}

impl Lower {
    /// `as rnd 4`, `as rnds 1-5 of Large`: says other lines again. A range of as many lines says them one by one, a longer
    /// one says all of them so many times; what is stated is for the last of them.
    pub(super) fn as_lines(&mut self, line: &Line, said: Said<'_>) {
        let last = said.last.unwrap_or(said.first);
        let (from, to) = (self.number(said.first), self.number(last));
        if to < from {
            return self.backwards(said.first, last);
        }
        let source = match said.piece {
            Some(name) => self.earlier(name),
            None => self.pieces.len().checked_sub(1),
        };
        let Some(source) = source else { return self.unread_rows(line.clone(), said.span) };
        let numbers =
            Numbers { round: line.round, from, to, from_span: said.first.span, to_span: last.span, measured: false };
        let Some(rows) = self.rows_named(source, numbers) else {
            return self.unread_rows(line.clone(), said.span);
        };
        if said.piece.is_none() && self.said_across(&rows, numbers.span()) || self.set_between(source, &rows, numbers) {
            return self.unread_rows(line.clone(), said.span);
        }
        let each = numbers.rows();
        let passes = if said.label.from.is_none() || each == 1 { 1 } else { line.times / each };
        if said.label.from.is_some() && each > 1 && !line.times.is_multiple_of(each) {
            self.uneven(line, said, numbers);
            return self.unread_rows(line.clone(), said.span);
        }
        let times = if each == 1 { line.times } else { 1 };
        for place in 0..passes.saturating_mul(each) {
            if self.is_full(said.span) {
                return;
            }
            let row = Row { wanted: from + place % each, place, times, last_pass: place / each + 1 == passes };
            self.as_row(line, said, (source, &rows), row);
        }
    }

    /// One row that says another again: an item for the sizes in which that is the same line.
    fn as_row(&mut self, line: &Line, said: Said<'_>, (piece, rows): (usize, &[Vec<(u32, NamedRow)>]), row: Row) {
        let by_size: Vec<Option<(NamedRow, Kind)>> = {
            let Some(there) = self.pieces.get(piece) else { return };
            let of_size = |(size, rows): (usize, &Vec<(u32, NamedRow)>)| {
                let at = rows.iter().position(|(number, _)| *number == row.wanted)?;
                let (_, named) = *rows.get(at)?;
                let ends = row.last_pass && at + 1 == rows.len();
                let above = at.checked_sub(1).and_then(|above| rows.get(above)).map(|(_, above)| *above);
                let begun_in = match above {
                    Some(above) => there.yarn_between(above, named, size),
                    None if row.place == 0 && self.has_just_changed(size) => None,
                    None => {
                        let all: Vec<NamedRow> = rows.iter().map(|(_, named)| *named).collect();
                        there.yarn_above(&all, size)
                    }
                };
                let begun_in = begun_in.map(str::to_owned);
                Some((named, Kind { source: named.source, ends, begun_in }))
            };
            rows.iter().enumerate().map(of_size).collect()
        };
        let kinds: BTreeSet<Kind> = by_size.iter().flatten().map(|(_, kind)| kind.clone()).collect();
        for kind in kinds {
            let of_kind = |found: &Option<(NamedRow, Kind)>| {
                found.as_ref().filter(|(_, other)| *other == kind).map(|(named, _)| *named)
            };
            let same: Vec<Option<NamedRow>> = by_size.iter().map(of_kind).collect();
            let sizes = same.iter().map(Option::is_some).collect();
            let there = self.pieces.get(piece).and_then(|p| p.items.get(kind.source)).map(|item| &item.kind);
            let Some(ItemKind::Work(there)) = there else { continue };
            let one = Line {
                number: line.number.map(|first| first.saturating_add(row.place)),
                times: row.times,
                steps: there.steps.clone(),
                steps_span: there.steps_span,
                same_as: Some(SameAs { piece: said.piece.map(|_| piece), rows: same }),
                begun_in: kind.begun_in,
                stated: line.stated.clone().filter(|_| kind.ends),
                unread: there.unread,
                ..line.clone()
            };
            self.said_again += 1;
            self.item_for(sizes, ItemKind::Work(one), said.span);
        }
    }

    /// Whether the line above changes the yarn.
    fn has_just_changed(&self, size: usize) -> bool {
        self.pieces.last().is_some_and(|piece| piece.changes_right_above(piece.items.len(), size))
    }

    /// Whether so many rows are there that the piece, or the pattern, can have no more.
    fn is_full(&mut self, span: Span) -> bool {
        let most = usize::try_from(limits::MOST_ROWS).unwrap_or(usize::MAX);
        if self.said_again == most {
            let message = format!("the rows said again come to more than {} in all", thousands(limits::MOST_ROWS));
            let finding = Diagnostic::error(codes::NUMBERING, message, span, "too many");
            self.findings.push(finding.with_help("look for a digit too many"));
            self.said_again += 1;
        }
        self.said_again > most || self.plans.last().is_some_and(|plans| plans.iter().all(Plan::is_full))
    }

    /// A range that is not as many rows as those it says again, nor twice as many, nor three times.
    fn uneven(&mut self, line: &Line, said: Said<'_>, numbers: Numbers) {
        let first = line.number.unwrap_or(1);
        let (rows, each) = (line.times, numbers.rows());
        let own = Numbers { from: first, to: first.saturating_add(rows - 1), ..numbers };
        let (own_told, told) = (own.told(), numbers.told());
        let over = rows % each;
        let span = said.first.span.to(said.last.map_or(said.first.span, |last| last.span));
        let verb = if rows == 1 { "is" } else { "are" };
        let word = numbers.word();
        let mut finding = Diagnostic::error(
            codes::NUMBERING,
            format!("{own_told} {verb} {}, and {told} are {each}", count(rows, word)),
            span,
            if rows < each { format!("{} too many", each - rows) } else { format!("{} over", count(over, word)) },
        )
        .with_other(said.label.span, count(rows, word));
        let of = said.piece.map_or_else(String::new, |piece| format!(" of {}", piece.text));
        if rows < each {
            let new = numbers.short(numbers.from, numbers.from + rows - 1);
            finding = finding.with_help(format!("say {rows} of them, as `as {new}{of}`, or number {each}"));
            let old = numbers.short(numbers.from, numbers.to);
            let (_, new_numbers) = new.split_once(' ').unwrap_or_default();
            let singular = rows == 1;
            if !singular {
                let fix = Fix::change(format!("`{old}` to `{new}`"), span, new_numbers.to_owned());
                finding = finding.with_fix(fix);
            }
        } else {
            let whole = own.short(first, first + (rows - over) - 1);
            let rest = own.short(first + (rows - over), own.to);
            let again = numbers.short(numbers.from, numbers.from + over - 1);
            let new = format!("{rest}: as {again}{of}");
            finding =
                finding.with_help(format!("end the range with the last of them, and give the rest a line: `{new}`"));
            if self.active.iter().all(|active| *active) {
                let end = said.piece.map_or(span.end, |piece| piece.span.end);
                let edits = vec![
                    Edit { span: said.label.span, text: whole.clone() },
                    Edit { span: Span::new(end, end), text: format!("\n{new}") },
                ];
                let title = format!("`{whole}`, and `{new}`");
                finding = finding.with_fix(Fix { title, edits, safety: Safety::ChangesFabric });
            }
        }
        self.findings.push(finding);
    }

    pub(super) fn again(&mut self, again: &tree::Again, span: Span) {
        if let Some(above) = again.above {
            return self.again_above(again, above, span);
        }
        let (from, to) = (self.number(again.from), self.number(again.to));
        if to < from {
            self.rows_not_known();
            return self.backwards(again.from, again.to);
        }
        let numbers = Numbers {
            round: again.round,
            from,
            to,
            from_span: again.from.span,
            to_span: again.to.span,
            measured: false,
        };
        let Some(piece) = self.pieces.len().checked_sub(1) else {
            return self.no_such_line(numbers, from);
        };
        let Some(rows) = self.rows_named(piece, numbers) else { return self.rows_not_known() };
        if self.set_between(piece, &rows, numbers) {
            return self.rows_not_known();
        }
        self.done_again(again, rows, span);
    }

    /// What stands right above, without its number.
    fn again_above(&mut self, again: &tree::Again, above: tree::Number, span: Span) {
        let wanted = self.number(above);
        let plans = self.plans.last().map_or(&[][..], Vec::as_slice);
        let of_size = |(plan, active): (&Plan, &bool)| if *active { plan.last_rows(wanted) } else { Some(Vec::new()) };
        let rows: Option<Vec<_>> = plans.iter().zip(&self.active).map(of_size).collect();
        match rows.filter(|rows| !rows.is_empty()) {
            Some(rows) => self.done_again(again, rows, span),
            None => {
                let in_doubt = self.pieces.last().is_some_and(|piece| piece.in_doubt || !piece.unread.is_empty());
                if !in_doubt {
                    let word = if again.round { "round" } else { "row" };
                    let message = match wanted {
                        1 => format!("no {word} stands above that could be done again"),
                        _ => format!("there are no {wanted} {word}s above that could be done again"),
                    };
                    let label = if again.above.is_some_and(|a| a.span.start < a.span.end) { above.span } else { span };
                    let finding = Diagnostic::error(codes::NUMBERING, message, label, "which?");
                    self.findings
                        .push(finding.with_help("name the lines by their numbers, as `again rows 2-3, 4 times`"));
                }
                self.rows_not_known();
            }
        }
    }

    fn done_again(&mut self, again: &tree::Again, rows: Vec<Vec<(u32, NamedRow)>>, span: Span) {
        if self.said_across(&rows, span) {
            return self.rows_not_known();
        }
        let numbers = rows.iter().find(|rows| !rows.is_empty());
        let from = numbers.and_then(|rows| rows.first()).map_or(0, |(number, _)| *number);
        let to = numbers.and_then(|rows| rows.last()).map_or(0, |(number, _)| *number);
        let rows = rows.into_iter().map(|rows| rows.into_iter().map(|(_, row)| row).collect()).collect();
        let extent = match &again.extent {
            tree::AgainExtent::Times(amount) => AgainExtent::Times(self.sized(amount)),
            tree::AgainExtent::UntilLine(amount) => AgainExtent::UntilLine(self.sized(amount)),
            tree::AgainExtent::UntilStitches(amount) => AgainExtent::UntilStitches(self.sized(amount)),
            tree::AgainExtent::UntilLength { numbers, unit, from } => {
                self.until_length(numbers, unit, from.as_ref(), span)
            }
        };
        let stated = again.stated.as_ref().map(|s| self.stated(s));
        self.item(ItemKind::Again(Again { round: again.round, from, to, rows, extent, stated }), span);
    }

    /// The rows of a piece that numbers mean, each with its number, in every size that the present line is for. Nothing,
    /// with a finding, where they mean none or don't follow each other.
    fn rows_named(&mut self, piece: usize, numbers: Numbers) -> Option<Vec<Vec<(u32, NamedRow)>>> {
        let Numbers { from, to, .. } = numbers;
        if to - from >= limits::MOST_ROWS {
            self.no_such_line(numbers, to);
            return None;
        }
        let plans = self.plans.get(piece)?;
        let active = plans.iter().zip(&self.active).enumerate().filter(|(_, (_, active))| **active);
        let active: Vec<(usize, Vec<(u32, Named)>)> = active
            .map(|(size, (plan, _))| (size, (from..=to).map(|number| (number, plan.named(number))).collect()))
            .collect();
        let mut rows: Vec<Vec<(u32, NamedRow)>> = vec![Vec::new(); plans.len()];
        let nowhere = |at: usize| {
            let mut all = active.iter().filter_map(|(_, named)| named.get(at)).map(|(_, named)| named);
            all.clone()
                .all(|named| matches!(named, Named::Nowhere | Named::Unknown))
                .then(|| all.any(|n| *n == Named::Unknown))
        };
        let missing = (from..=to).zip(0..).find_map(|(number, at)| Some((number, nowhere(at)?)));
        for (size, named) in &active {
            let there = named.iter().filter_map(|(number, named)| match named {
                Named::Row(row) => Some((*number, *row)),
                Named::OtherSizes | Named::Unknown | Named::Nowhere => None,
            });
            if let Some(slot) = rows.get_mut(*size) {
                slot.extend(there);
            }
        }
        let is = |test: fn(&[(u32, NamedRow)]) -> bool| {
            let sizes = active.iter().map(|(size, _)| *size);
            sizes.filter(|size| rows.get(*size).is_some_and(|rows| test(rows))).collect::<Vec<_>>()
        };
        let (empty, mixed) = (is(<[_]>::is_empty), is(|rows| !rows.is_sorted_by(|(_, one), (_, next)| one < next)));
        // What a number means isn't known where rows can't be read.
        let open = self.pieces.get(piece).is_some_and(|piece| !piece.can_be_read());
        match missing {
            Some(_) if open => {}
            Some((number, true)) => self.not_known(numbers, number),
            Some((number, false)) => self.no_such_line(numbers, number),
            None if open && !(empty.is_empty() && mixed.is_empty()) => {}
            None if !empty.is_empty() => {
                let there: Vec<usize> = is(|rows| !rows.is_empty());
                self.not_in_size(numbers, &empty, &there);
            }
            None if !mixed.is_empty() => self.mixed(numbers, &mixed),
            None => return Some(rows),
        }
        None
    }

    fn no_such_line(&mut self, numbers: Numbers, wanted: u32) {
        let word = numbers.word();
        let span = if wanted == numbers.to { numbers.to_span } else { numbers.from_span };
        let what = if numbers.measured { "measure from" } else { "do again" };
        let message = format!("there is no {word} {wanted} to {what}");
        let finding = Diagnostic::error(codes::NUMBERING, message, span, "not there");
        self.findings.push(finding.with_help(format!("name a {word} above that is written out")));
    }

    /// A number behind rows that are found by working: only a number that is written before its line names one.
    fn not_known(&mut self, numbers: Numbers, wanted: u32) {
        let word = numbers.word();
        let message = format!("which {word} is {word} {wanted} isn't known before those above it are worked");
        let finding = Diagnostic::error(codes::NUMBERING, message, numbers.span(), "no line is numbered so");
        let short = numbers.short(wanted, wanted);
        self.findings.push(finding.with_help(format!("write the number before the line that is meant: `{short}: …`")));
    }

    fn not_in_size(&mut self, numbers: Numbers, sizes: &[usize], there: &[usize]) {
        let (told, names) = (numbers.told(), self.size_names(sizes));
        let are = if numbers.from == numbers.to { "is" } else { "are" };
        let message = format!("{told} {are} not there in {names}");
        let finding = Diagnostic::error(codes::NUMBERING, message, numbers.span(), "for other sizes only");
        let there: Vec<&str> = there.iter().filter_map(|size| self.sizes.get(*size)).map(|t| t.text.as_str()).collect();
        let help = if there.is_empty() || numbers.measured {
            format!("name a {} that is worked in {names}", numbers.word())
        } else {
            format!(
                "begin this line with `only {}:`, or name a {} that every size has",
                there.join(", "),
                numbers.word()
            )
        };
        self.findings.push(finding.with_help(help));
    }

    fn mixed(&mut self, numbers: Numbers, sizes: &[usize]) {
        let (told, names) = (numbers.told(), self.size_names(sizes));
        let place = if names.is_empty() { String::new() } else { format!(" in {names}") };
        let message = format!("{told} don't come one after the other{place}");
        let finding =
            Diagnostic::error(codes::NUMBERING, message, numbers.span(), "some have a number of their own there");
        let help = format!("write the number before every {} of the range", numbers.word());
        self.findings.push(finding.with_help(help));
    }

    /// The number of the first line that a label is for, and how many there are. A range that runs backwards is taken
    /// the right way round.
    pub(super) fn lines_of(&mut self, label: &tree::Label) -> (Option<u32>, u32) {
        let Some(first) = label.from else { return (None, 1) };
        let from = self.number(first);
        let Some(last) = label.to else { return (Some(from), 1) };
        let to = self.number(last);
        if to < from {
            self.backwards(first, last);
        }
        (Some(from.min(to)), from.abs_diff(to) + 1)
    }

    fn backwards(&mut self, first: tree::Number, last: tree::Number) {
        let span = first.span.to(last.span);
        let (from, to) = (first.value, last.value);
        let finding = Diagnostic::error(codes::NUMBERING, format!("{from} to {to} runs backwards"), span, "backwards");
        let new = format!("{to}-{from}");
        let fix = Fix::change(format!("`{from}-{to}` to `{new}`"), span, new);
        self.findings.push(finding.with_help("begin with the lower number, or correct one of them").with_fix(fix));
    }

    /// A length, and the gauge that says how many rows it takes.
    fn until_length(
        &mut self,
        numbers: &[tree::Text],
        unit: &tree::Text,
        from: Option<&tree::LengthFrom>,
        span: Span,
    ) -> AgainExtent {
        let unit = Unit::named(&unit.text).unwrap_or(Unit::Centimetre);
        let length = |text: &tree::Text| number(&text.text).and_then(|n| Length::of(n, unit)).unwrap_or_default();
        let given: Vec<Length> = numbers.iter().map(length).collect();
        let sizes = self.size_count();
        self.see_list(given.len());
        if given.len() != 1 && given.len() != sizes {
            self.wrong_length("length", given.len(), span);
        }
        let last = given.last().copied().unwrap_or_default();
        let lengths = (0..sizes).map(|s| if given.len() == 1 { last } else { given.get(s).copied().unwrap_or(last) });
        let lengths = lengths.collect();
        let using = self.pieces.last().and_then(|piece| piece.using_at(piece.items.len()));
        let scale = Scale::by_swatch(&self.head, &self.stitches, self.terms, using);
        let place = from.map(|from| self.length_from(from));
        let nowhere = place.as_ref().is_some_and(Option::is_none);
        if scale.is_none() || nowhere {
            self.rows_not_known();
        }
        if scale.is_none() && !self.may_be_lost(Sort::Gauge, span) {
            let finding = Diagnostic::error(
                codes::NO_GAUGE,
                "how many rows this takes isn't known without a gauge",
                span,
                "a length",
            );
            self.findings.push(
                finding.with_help("add a line such as `gauge 17 sts x 19 rows in sc = 10 cm`, or say how many rows"),
            );
        }
        AgainExtent::UntilLength { lengths, unit, scale: scale.filter(|_| !nowhere), from: place.flatten() }
    }

    /// A length that is measured from a row, which has to stand above in every size.
    fn length_from_row(&mut self, written: tree::Number) -> Option<LengthFrom> {
        let number = self.number(written);
        let piece = self.pieces.len().checked_sub(1)?;
        let round = self.pieces.get(piece).is_some_and(|piece| piece.last_way().rounds());
        let open = self.pieces.get(piece).is_some_and(|piece| !piece.can_be_read());
        let span = written.span;
        let numbers = Numbers { round, from: number, to: number, from_span: span, to_span: span, measured: true };
        let known = self.rows_named(piece, numbers).is_some() || open;
        known.then_some(LengthFrom::Line(number))
    }

    /// Where a length is measured from: a line above, or one in which a place is marked or an opening left. Nothing where
    /// there is none.
    fn length_from(&mut self, from: &tree::LengthFrom) -> Option<LengthFrom> {
        let name = match from {
            tree::LengthFrom::Line(number) => return self.length_from_row(*number),
            tree::LengthFrom::Named(name) => name,
        };
        let mut known: Vec<String> = Vec::new();
        for item in self.pieces.last().map(|piece| piece.items.as_slice()).unwrap_or_default() {
            let ItemKind::Work(line) = &item.kind else { continue };
            each_step(&line.steps, &mut |step| match &step.kind {
                StepKind::Mark(name) | StepKind::SetAside(_, name) if !known.contains(name) => known.push(name.clone()),
                _ => {}
            });
        }
        let is_there = known.iter().any(|known| known.eq_ignore_ascii_case(&name.text));
        if !is_there && !self.rows_may_be_lost() {
            self.unknown_as("marked place or opening", name, &known, "not in a line of this piece above");
        }
        is_there.then(|| LengthFrom::Named(name.text.to_lowercase()))
    }

    /// Whether lines of the present piece can't be read.
    fn rows_may_be_lost(&self) -> bool {
        let unread = |item: &Item| matches!(&item.kind, ItemKind::Work(line) if line.unread);
        self.pieces.last().is_some_and(|piece| !piece.unread.is_empty() || piece.items.iter().any(unread))
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn rows_of_an_earlier_piece_may_be_ones_worked_again() {
        let text = "pattern Pair\nterms US\npiece Left, in rows\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\n\
                    row 2: 2 sc in next, sc to end\nrow 3: sc to end\nagain rows 2-3 until row 7\n\
                    piece Right, in rows\nlead ch 1\nstart ch 11\nrows 1-7: as rows 1-7 of Left = 13\n";
        let compiled = crate::compile(text);
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        let made = compiled.fabric.pieces.iter().filter_map(|piece| piece.sizes.first());
        let made: Vec<Vec<u32>> = made.map(|s| s.rows.iter().map(|row| row.ledger.stitches).collect()).collect();
        assert_eq!(made, [[10, 11, 11, 12, 12, 13, 13], [10, 11, 11, 12, 12, 13, 13]]);
    }
}
