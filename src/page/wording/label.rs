//! What stands before a line and behind it: `Rnds 5–9`, `Sizes B and C only:`, `18 (24, 30) sts`.

use crate::fabric::{Ledger, Row, stated_part};
use crate::pattern::model::{Again, Item, ItemKind, Kind, Line, Pattern, Piece, Start, Stated};
use crate::pattern::plan::Plan;

use super::context::{Told, is_first};
use super::course;
use super::grids::{blocks_of, is_by_grid, is_filet};
use super::names::{Amount, Term, Voice};
use super::phrase::{Bit, Numbers, Phrase};
use crate::words::list;

/// `Sizes B (C, D) only: ` before a line that isn't for every size that is shown; nothing otherwise. The numbers of the line are
/// for these sizes, in the same order.
#[must_use]
pub fn only(voice: &Voice<'_>, concerned: &[bool]) -> Phrase {
    let is_for = |size: &usize| concerned.get(*size).copied().unwrap_or(true);
    if voice.sizes.iter().all(is_for) {
        return Phrase::default();
    }
    let names = voice.sizes.iter().copied().filter(is_for).filter_map(|s| voice.pattern.sizes.get(s));
    let names: Vec<&str> = names.map(String::as_str).collect();
    let word = if names.len() == 1 { "Size " } else { "Sizes " };
    let told = Phrase::and(names.into_iter().map(Phrase::quoted).collect());
    Phrase(vec![Bit::Several(Phrase::of(word).then(told).say(" only: "))])
}

/// ` (sizes B and C only)` behind what is done in these sizes of a line.
pub(super) fn in_sizes(voice: &Voice<'_>, sizes: &[usize]) -> Phrase {
    let names: Vec<Phrase> = sizes.iter().filter_map(|s| voice.pattern.sizes.get(*s)).map(Phrase::quoted).collect();
    let word = if names.len() == 1 { " (size " } else { " (sizes " };
    Phrase::of(word).then(Phrase::and(names)).say(" only)")
}

/// `Rnd 3`, `Rows 5–9`, `Rnd 9 (10, 10)`: the label of a work line or of lines done again.
#[must_use]
pub fn label(told: Told<'_>, index: usize, item: &Item) -> Option<Phrase> {
    let round = is_round(item);
    let spans: Vec<(usize, Option<(u32, u32)>)> =
        told.voice.sizes.iter().map(|&size| (size, span(told, index, item, size))).collect();
    if spans.iter().all(|(_, span)| span.is_none()) {
        return None;
    }
    let side = told.line(index).map(|line| side(told, index, line)).unwrap_or_default();
    Some(lines(told.voice, round, &spans).capitalised().then(side))
}

/// Whether a line is a round and not a row.
pub(super) fn is_round(item: &Item) -> bool {
    match &item.kind {
        ItemKind::Work(line) => line.round,
        ItemKind::Again(again) => again.round,
        ItemKind::Words(_)
        | ItemKind::FastenOff
        | ItemKind::Gather(_)
        | ItemKind::Seam(..)
        | ItemKind::SeamEdges(_)
        | ItemKind::Sew { .. }
        | ItemKind::Surface(_)
        | ItemKind::Place(_)
        | ItemKind::ChangeTo(_)
        | ItemKind::Now(_)
        | ItemKind::Using(_)
        | ItemKind::Trim(_) => false,
    }
}

/// First and last number of an item in a size.
fn span(told: Told<'_>, index: usize, item: &Item, size: usize) -> Option<(u32, u32)> {
    if !told.is_for(index, item, size) {
        return None;
    }
    let mut rows = told.rows_of(index, size);
    let worked = rows.next().map(|first| (first.number, rows.last().unwrap_or(first).number));
    worked.or_else(|| {
        let line = told.line(index)?;
        let first = line.number?;
        Some((first, first.saturating_add(line.times.saturating_sub(1))))
    })
}

/// `rnds 5–9 (10, 12)`.
fn lines(voice: &Voice<'_>, round: bool, spans: &[(usize, Option<(u32, u32)>)]) -> Phrase {
    let several = spans.iter().any(|(_, span)| span.is_some_and(|(first, last)| first != last));
    let amount = if several { Amount::Many } else { Amount::One };
    let word = line_word(voice, round, amount).say(" ");
    let firsts = Numbers::new(spans.iter().map(|(size, span)| (*size, span.map(|s| s.0))));
    let lasts = Numbers::new(spans.iter().map(|(size, span)| (*size, span.map(|s| s.1))));
    match (firsts.single(), several) {
        (_, false) => word.then(firsts.into()),
        (Some(first), true) if spans.iter().all(|(_, span)| span.is_some_and(|(a, b)| a != b)) => {
            word.say(first).say("–").then(lasts.into())
        }
        (_, true) => {
            let text =
                |(first, last): (u32, u32)| if first == last { first.to_string() } else { format!("{first}–{last}") };
            word.then(Numbers::new(spans.iter().map(|(size, span)| (*size, span.map(text)))).into())
        }
    }
}

/// `row`, `rnds`.
#[must_use]
pub fn line_word(voice: &Voice<'_>, round: bool, amount: Amount) -> Phrase {
    match (round, amount) {
        (true, _) => Phrase::default().with(voice.terms_of(Term::Round, amount)),
        (false, Amount::One) => Phrase::of("row"),
        (false, Amount::Many) => Phrase::of("rows"),
    }
}

/// ` In this row `, ` In these rnds `, before what is said of all that an item works.
pub(super) fn in_these(told: Told<'_>, index: usize, round: bool) -> Phrase {
    let single = told.voice.sizes.iter().all(|&size| told.rows_of(index, size).count() <= 1);
    let (these, amount) = if single { (" In this ", Amount::One) } else { (" In these ", Amount::Many) };
    Phrase::of(these).then(line_word(told.voice, round, amount)).say(" ")
}

/// `Rnd 9`, `Rnds 2 and 3`, `Rows 3–5`, by the numbers that the text has.
pub(super) fn of_numbers(voice: &Voice<'_>, round: bool, (from, to): (u32, u32)) -> Phrase {
    if from == to {
        return of_number(voice, round, from);
    }
    let word = line_word(voice, round, Amount::Many).capitalised();
    let between = if to == from.saturating_add(1) { " and " } else { "–" };
    word.say(&format!(" {from}{between}{to}"))
}

/// `Rnd 4`, `Rows 2 and 3`, `Rows 5–7 (7–9)`: rows or rounds by the numbers that they have in each size.
pub(super) fn of_each(voice: &Voice<'_>, round: bool, numbers: &[(usize, Vec<u32>)]) -> Phrase {
    let amount = if numbers.iter().any(|(_, numbers)| numbers.len() > 1) { Amount::Many } else { Amount::One };
    let told = numbers.iter().map(|(size, numbers)| (*size, (!numbers.is_empty()).then(|| in_runs(numbers))));
    line_word(voice, round, amount).capitalised().say(" ").then(Numbers::new(told).into())
}

/// `Rnd 4`, `Row 5 (7)`: the row or round that a number means, by the one that it has in each size that is concerned.
pub(super) fn by_number(voice: &Voice<'_>, piece: &Piece, (round, number): (bool, u32), concerned: &[bool]) -> Phrase {
    let is_for = |size: &usize| concerned.get(*size).copied().unwrap_or(true);
    let of_size = |size: usize| Plan::of(piece, size).number_of(number).into_iter().collect();
    let sizes = voice.sizes.iter().copied().filter(is_for);
    let numbers: Vec<(usize, Vec<u32>)> = sizes.map(|size| (size, of_size(size))).collect();
    if numbers.iter().all(|(_, numbers)| numbers.is_empty()) {
        return of_number(voice, round, number);
    }
    of_each(voice, round, &numbers)
}

/// `2 and 3`, `5–7`, `2, 4 and 6–9`.
fn in_runs(numbers: &[u32]) -> String {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for number in numbers {
        match runs.last_mut() {
            Some((_, last)) if last.saturating_add(1) == *number => *last = *number,
            _ => runs.push((*number, *number)),
        }
    }
    let told = runs.into_iter().flat_map(|(first, last)| match last.saturating_sub(first) {
        0 => vec![first.to_string()],
        1 => vec![first.to_string(), last.to_string()],
        _ => vec![format!("{first}–{last}")],
    });
    list(&told.collect::<Vec<_>>())
}

/// `Rnd 4`, by the number that the text has.
#[must_use]
pub fn of_number(voice: &Voice<'_>, round: bool, number: u32) -> Phrase {
    line_word(voice, round, Amount::One).capitalised().say(&format!(" {number}"))
}

/// The side that faces the maker, where it is stated, and where a grid is read by it.
fn side(told: Told<'_>, index: usize, line: &Line) -> Phrase {
    let voice = told.voice;
    let read_by_it = || match told.recorded(index, |row| row.right_side).as_slice() {
        [(side, _)] if told.turns(index) && is_by_grid(line) => Some(*side),
        _ => None,
    };
    // Where yarn is joined to what was left unworked, no turn says which side it is.
    let joined_there = || match told.recorded(index, |row| (row.right_side, row.resumes.is_some())).as_slice() {
        [((side, true), _)] if told.turns(index) => Some(*side),
        _ => None,
    };
    // Whoever works on it later has to know which side is which.
    let asked_for = || match told.recorded(index, |row| row.right_side).as_slice() {
        [(side, _)] if told.turns(index) && is_first_of_many(told, index) && is_worked_onto(told) => Some(*side),
        _ => None,
    };
    line.right_side
        .or_else(read_by_it)
        .or_else(joined_there)
        .or_else(asked_for)
        .map_or_else(Phrase::default, |side| facing(voice, side))
}

/// Whether a line is the first of its piece and a single row in every size.
fn is_first_of_many(told: Told<'_>, index: usize) -> bool {
    let single = told.voice.sizes.iter().all(|&size| told.rows_of(index, size).nth(1).is_none());
    single && is_first(told, index)
}

/// Whether another piece begins on the edges of this one, or they are sewn: its sides are named there.
fn is_worked_onto(told: Told<'_>) -> bool {
    let pieces = &told.voice.pattern.pieces;
    let Some(here) = pieces.iter().position(|piece| piece.span == told.piece.span) else { return false };
    let mut named = false;
    for piece in pieces {
        let mut see = |edge: &Start| named |= edge.of_piece() == Some(here);
        piece.start.each_edge(&mut see);
        for item in &piece.items {
            if let ItemKind::SeamEdges(seam) = &item.kind {
                seam.one.each_edge(&mut see);
                seam.other.each_edge(&mut see);
            }
        }
    }
    named
}

/// ` (RS)`.
pub(super) fn facing(voice: &Voice<'_>, right_side: bool) -> Phrase {
    let side = if right_side { Term::RightSide } else { Term::WrongSide };
    Phrase::of(" (").with(voice.term(side)).say(")")
}

/// The count at the end of an item in each size: what the fabric has, by kinds where the text says kinds.
#[must_use]
pub fn count(told: Told<'_>, index: usize, item: &Item) -> Option<Phrase> {
    let last = told.piece.items.get(told.last_said_with(index)).unwrap_or(item);
    let stated = match &last.kind {
        ItemKind::Work(Line { stated, .. }) | ItemKind::Again(Again { stated, .. }) => stated.as_ref(),
        ItemKind::Words(_)
        | ItemKind::FastenOff
        | ItemKind::Gather(_)
        | ItemKind::Seam(..)
        | ItemKind::SeamEdges(_)
        | ItemKind::Sew { .. }
        | ItemKind::Surface(_)
        | ItemKind::Place(_)
        | ItemKind::ChangeTo(_)
        | ItemKind::Now(_)
        | ItemKind::Using(_)
        | ItemKind::Trim(_) => return None,
    };
    if let Some(blocks) = told.line(index).filter(|_| stated.is_none()).and_then(|line| blocks_of(told.voice, line)) {
        return Some(Phrase::of(crate::words::count(blocks, "block")).tied());
    }
    let last: Vec<(usize, Option<&Ledger>)> =
        told.voice.sizes.iter().map(|&size| (size, told.rows_of(index, size).last().map(|row| &*row.ledger))).collect();
    // Lines done again are counted as they were the first time.
    let again = matches!(item.kind, ItemKind::Again(_)) && stated.is_none();
    let rows: Vec<(usize, Option<&Row>)> = if again {
        told.voice.sizes.iter().map(|&size| (size, told.rows_of(index, size).last())).collect()
    } else {
        Vec::new()
    };
    let stated = stated.or_else(|| course::kinds(told, index, item, &rows));
    let mut counts = made(told, stated, &last)?;
    if meets_chains(told, index) {
        counts = Phrase::list(std::iter::once(counts).chain(spaces(told.voice, stated, &last)).collect(), ", ");
    }
    if is_level(told, index, stated) {
        return Some(counts);
    }
    let line = line_word(told.voice, is_round(item), Amount::One);
    Some(counts.say(" in the last ").then(line))
}

/// Whether chains of the rows of an item, or of those below them, are worked as stitches or stand for squares, so that a count of stitches
/// alone is not what the maker has before her.
fn meets_chains(told: Told<'_>, index: usize) -> bool {
    if told.line(index).is_some_and(|line| is_filet(told.voice, line)) {
        return true;
    }
    told.sizes_apart().into_iter().any(|size| {
        let meets = |row: &Row| !row.ledger.runs_as_stitches.is_empty();
        let above = |row: &Row| told.row_at(row.number.saturating_add(1), size);
        told.rows_of(index, size).any(|row| meets(row) || above(row).is_some_and(meets))
    })
}

/// `5 ch-1 sps`, beside a count that names no space.
fn spaces(voice: &Voice<'_>, stated: Option<&Stated>, last: &[(usize, Option<&Ledger>)]) -> Vec<Phrase> {
    const MOST: usize = 2;
    let names_one =
        stated.is_some_and(|s| s.parts.iter().any(|(_, kind)| matches!(kind, Some(Kind::Space(_) | Kind::AnySpace))));
    let made = last.iter().filter_map(|(_, ledger)| *ledger).flat_map(|ledger| &ledger.made);
    let mut kinds: Vec<Kind> = made.map(|tally| tally.kind).filter(|kind| matches!(kind, Kind::Space(_))).collect();
    kinds.sort_unstable();
    kinds.dedup();
    if names_one || voice.pattern.counts_chains || kinds.len() > MOST {
        return Vec::new();
    }
    let of_kind = |ledger: &Ledger, kind: Kind| {
        ledger.made.iter().filter(|tally| tally.kind == kind).fold(0_u32, |sum, tally| sum.saturating_add(tally.count))
    };
    let told = |kind: Kind| {
        let numbers = last.iter().map(|(size, ledger)| (*size, ledger.map(|ledger| of_kind(ledger, kind))));
        counted(voice, Numbers::new(numbers), kind)
    };
    kinds.into_iter().map(told).collect()
}

/// What a row or round of each size makes, by the kinds of a stated count; nothing when there is none in any size.
pub(super) fn made(told: Told<'_>, stated: Option<&Stated>, last: &[(usize, Option<&Ledger>)]) -> Option<Phrase> {
    if last.iter().all(|(_, ledger)| ledger.is_none()) {
        return None;
    }
    let kinds: Vec<Kind> = stated.into_iter().flat_map(|s| &s.parts).filter_map(|(_, kind)| *kind).collect();
    let has_bare = kinds.is_empty() || stated.is_some_and(|s| s.parts.iter().any(|(_, kind)| kind.is_none()));
    let mut parts: Vec<Phrase> = if has_bare { vec![total(told.voice, last)] } else { Vec::new() };
    if let Some(stated) = stated {
        parts.extend(kinds.into_iter().map(|kind| of_kind(told.voice, last, stated, kind)));
    }
    Some(Phrase::list(parts, ", "))
}

/// Whether every row of an item makes the same count.
pub(super) fn is_level(told: Told<'_>, index: usize, stated: Option<&Stated>) -> bool {
    let pattern = told.voice.pattern;
    let made = |row: &Row| {
        let parts = stated.into_iter().flat_map(|s| s.parts.iter().map(move |(_, kind)| (s, *kind)));
        let parts: Vec<u32> = parts.map(|(s, kind)| stated_part(&row.ledger, s, kind, pattern)).collect();
        (bare(pattern, &row.ledger), parts)
    };
    told.sizes_apart().into_iter().all(|size| {
        let mut rows = told.rows_of(index, size).map(made);
        rows.next().is_none_or(|first| rows.all(|row| row == first))
    })
}

/// `18 (24, 30) sts`, with chains where they are counted.
fn total(voice: &Voice<'_>, last: &[(usize, Option<&Ledger>)]) -> Phrase {
    let counts_chains = voice.pattern.counts_chains;
    let numbers = last.iter().map(|(size, ledger)| (*size, ledger.map(|l| bare(voice.pattern, l))));
    let numbers = Numbers::new(numbers);
    let told = counted(voice, numbers, Kind::AnyStitch);
    let chains = counts_chains && last.iter().any(|(_, ledger)| ledger.is_some_and(|l| l.chains > 0));
    if chains { told.say(" (").with(voice.term(Term::Chain)).say(" counted)") } else { told }
}

/// What a bare count includes.
pub(super) fn bare(pattern: &Pattern, ledger: &Ledger) -> u32 {
    ledger.stitches.saturating_add(if pattern.counts_chains { ledger.chains } else { 0 })
}

/// `12 dc`, `4 ch-2 sps`.
fn of_kind(voice: &Voice<'_>, last: &[(usize, Option<&Ledger>)], stated: &Stated, kind: Kind) -> Phrase {
    let value = |ledger: &Ledger| stated_part(ledger, stated, Some(kind), voice.pattern);
    let numbers = Numbers::new(last.iter().map(|(size, ledger)| (*size, ledger.map(value))));
    counted(voice, numbers, kind)
}

fn counted(voice: &Voice<'_>, numbers: Numbers, kind: Kind) -> Phrase {
    let amount = if numbers.is_one() { Amount::One } else { Amount::Many };
    let counted = match kind {
        Kind::Stitch(stitch) if amount == Amount::Many => Phrase::default().with(voice.stitches(stitch)),
        _ => voice.kind(kind, amount),
    };
    Phrase::from(numbers).say(" ").then(counted).tied()
}
