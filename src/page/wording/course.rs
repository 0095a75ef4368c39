//! The rows or rounds that one line of the page stands for, each with its number, its pattern and its count.

use crate::fabric::{Ledger, Row, row_of, stated_part};
use crate::limits::MOST_DEPTH;
use crate::pattern::model::{Item, ItemKind, Kind, Line, NamedRow, Stated};

use super::context::Told;
use super::evenly::told_apart;
use super::first_again::begins_otherwise;
use super::grids::is_by_grid;
use super::label;
use super::names::Amount;
use super::phrase::{Numbers, Phrase};

/// Rows that are alike are ticked one by one up to this many, and counted from there.
const MOST_TICKS: usize = 12;

/// Rows that are not alike are told one by one up to this many.
const MOST_TOLD: usize = 120;

/// Rows whose counts go up or down steadily are listed one by one up to this many.
const MOST_LISTED: usize = 8;

/// Rows of one item that are written out at most, where all are.
const MOST_WRITTEN: usize = 500;

/// The rows or rounds of one line of the page.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Course {
    /// One in every size, or none.
    #[default]
    One,
    /// A few that are all worked alike and make the same count.
    Alike(Vec<RowTold>),
    /// Some that differ in what is worked or in the count: each by itself, to be ticked, and those that follow one another
    /// with the same count put together, to be read.
    Differing(Vec<RowTold>, Vec<RowTold>),
    /// So many in each size that they are counted and not named.
    Many(Numbers),
}

/// One of several rows or rounds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RowTold {
    /// `Rnd 20`.
    pub label: Phrase,
    /// `as Rnd 2`, where it says another one again.
    pub same_as: Option<Phrase>,
    /// The count at its end.
    pub count: Option<Phrase>,
    /// The sizes that have it, by index.
    pub sizes: Vec<usize>,
}

/// A row that is written out by itself.
#[derive(Debug, Clone)]
pub struct WrittenRow {
    /// Its number and count.
    pub row: RowTold,
    /// Its place among the rows of its item, from 0.
    pub place: usize,
    /// The item whose steps it has.
    pub source: usize,
    /// The side that faces the maker.
    pub side: Option<bool>,
    /// Whether other sizes have other words for the same steps, so that its own are those of its sizes alone.
    pub apart: bool,
}

impl Course {
    /// Every phrase in it.
    #[must_use]
    pub fn phrases(&self) -> Vec<&Phrase> {
        match self {
            Self::One | Self::Many(_) => Vec::new(),
            Self::Alike(rows) => rows.iter().map(|row| &row.label).collect(),
            Self::Differing(rows, together) => rows.iter().chain(together).flat_map(RowTold::phrases).collect(),
        }
    }
}

impl RowTold {
    fn phrases(&self) -> impl Iterator<Item = &Phrase> {
        std::iter::once(&self.label).chain(&self.same_as).chain(&self.count)
    }

    /// `Rnd 20 as Rnd 2: 48 sts`.
    #[must_use]
    pub fn sentence(&self) -> Phrase {
        let mut told = self.label.clone();
        if let Some(same_as) = &self.same_as {
            told = told.say(" ").then(same_as.clone());
        }
        match &self.count {
            Some(count) => told.say(": ").then(count.clone()),
            None => told,
        }
    }
}

/// The rows or rounds of an item.
#[must_use]
pub fn course(told: Told<'_>, index: usize, item: &Item) -> Course {
    let counts = told.voice.sizes.iter().map(|&size| (size, told.rows_of(index, size).count()));
    let counts: Vec<(usize, usize)> = counts.collect();
    let most = counts.iter().map(|(_, count)| *count).max().unwrap_or_default();
    if most <= 1 {
        return Course::One;
    }
    let level = label::is_level(told, index, stated(told, index, item));
    let alike = level && is_alike(told, index);
    let told_before = alike || is_told_before(told, index);
    if most > if told_before { MOST_TICKS } else { MOST_TOLD } {
        return Course::Many(Numbers::new(
            counts.into_iter().map(|(size, count)| (size, (count > 0).then_some(count))),
        ));
    }
    let rows = (0..most).map(|at| row(told, index, item, (at, &told.voice.sizes)));
    if alike {
        return Course::Alike(rows.collect());
    }
    // One count for all of them stands behind the line, and which rows they say again stands in it.
    let by_number = told.line(index).is_some() && says_each_once(told, index);
    let one = |row: RowTold| RowTold {
        count: row.count.filter(|_| !level),
        same_as: row.same_as.filter(|_| !by_number),
        ..row
    };
    let rows: Vec<RowTold> = rows.map(one).collect();
    let together = together(told, index, item, &rows);
    // What differs is in the words of the line already.
    if together.is_empty() { Course::Alike(rows) } else { Course::Differing(rows, together) }
}

/// Whether the rows of a line say as many others again, one after the other.
fn says_each_once(told: Told<'_>, index: usize) -> bool {
    told.voice.sizes.iter().all(|&size| {
        let said: Vec<_> = told.rows_of(index, size).map(|row| worked_again(told, size, row)).collect();
        said.iter().all(Option::is_some) && said.is_sorted_by(|one, next| one < next)
    })
}

/// Rows that follow one another and make the same, as `Rnds 8–12 as Rnds 3–7: 36 sts`.
fn together(told: Told<'_>, index: usize, item: &Item, rows: &[RowTold]) -> Vec<RowTold> {
    if let Some(steadily) = steadily(told, index, item, rows) {
        return vec![steadily];
    }
    let mut all = Vec::new();
    let mut from = 0;
    while let Some(first) = rows.get(from) {
        let alike = |row: &&RowTold| row.count == first.count && row.sizes == first.sizes;
        let to = from + rows.get(from..).unwrap_or_default().iter().take_while(alike).count();
        let told_rows = if to - from > 1 { run(told, index, item, (from, to), first) } else { first.clone() };
        // A label alone says nothing that isn't said in the line.
        let all_of_them = from == 0 && to == rows.len() && is_again(told, index);
        if told_rows.count.is_some() || (told_rows.same_as.is_some() && !all_of_them) {
            all.push(told_rows);
        }
        from = to;
    }
    all
}

/// `Each row makes 4 sts more than the one before: 15 to 143 sts`, where the counts of many rows go up or down by the same number each time.
fn steadily(told: Told<'_>, index: usize, item: &Item, rows: &[RowTold]) -> Option<RowTold> {
    let is_bare =
        |stated: Option<&Stated>| stated.is_none_or(|stated| stated.parts.iter().all(|(_, kind)| kind.is_none()));
    let first = rows.first().filter(|_| rows.len() > MOST_LISTED)?;
    if !told.voice.sizes.iter().all(|&size| told.rows_of(index, size).all(|row| is_bare(line_states(told, row)))) {
        return None;
    }
    let bare = |row: &Row| label::bare(told.voice.pattern, &row.ledger);
    let counts = |size: usize| told.rows_of(index, size).map(bare).collect::<Vec<u32>>();
    let mut grows = None;
    let mut said: Vec<(usize, [u32; 3])> = Vec::new();
    for size in told.voice.sizes.iter().copied().filter(|size| first.sizes.contains(size)) {
        let counts = counts(size);
        let (from, next, to) = (*counts.first()?, *counts.get(1)?, *counts.last()?);
        let up = next > from;
        let step = from.abs_diff(next);
        let even = counts
            .windows(2)
            .all(|pair| matches!(pair, [one, next] if one.abs_diff(*next) == step && (next > one) == up));
        if step == 0 || !even || grows.is_some_and(|other| other != up) {
            return None;
        }
        grows = Some(up);
        said.push((size, [step, from, to]));
    }
    let all_sizes = said.len() == told.voice.sizes.len();
    let given = |at: usize| Numbers::new(said.iter().map(|(size, three)| (*size, three.get(at).copied())));
    let numbers = |at: usize| Phrase::from(given(at));
    let stitches = || told.voice.kind(Kind::AnyStitch, Amount::Many);
    let of_step = told.voice.kind(Kind::AnyStitch, if given(0).is_one() { Amount::One } else { Amount::Many });
    let line = label::line_word(told.voice, label::is_round(item), Amount::One);
    let more = if grows? { " more than the one before" } else { " fewer than the one before" };
    let told_step = Phrase::of("Each ").then(line).say(" makes ").then(numbers(0)).say(" ").then(of_step).say(more);
    let count = numbers(1).say(" to ").then(numbers(2)).say(" ").then(stitches());
    all_sizes.then(|| RowTold { label: told_step, same_as: None, count: Some(count), sizes: first.sizes.clone() })
}

/// Whether the line itself says which lines are done again, in turn.
fn is_again(told: Told<'_>, index: usize) -> bool {
    told.piece.items.get(index).is_some_and(|item| matches!(item.kind, ItemKind::Again(_)))
}

/// The rows of an item from one place to another, which make the same.
fn run(told: Told<'_>, index: usize, item: &Item, (from, to): (usize, usize), first: &RowTold) -> RowTold {
    let round = label::is_round(item);
    let of_size = |size: usize| told.rows_of(index, size).skip(from).take(to - from);
    let here = |size: &usize| first.sizes.contains(size);
    let sizes = || told.voice.sizes.iter().copied();
    let numbers = |size: usize| of_size(size).map(|row| row.number).collect();
    let numbers: Vec<(usize, Vec<u32>)> =
        sizes().map(|size| (size, if here(&size) { numbers(size) } else { Vec::new() })).collect();
    let again = |size: usize| {
        let named = of_size(size).filter_map(|row| worked_again(told, size, row));
        named.filter_map(|(piece, row)| told.number_of(piece, size, row)).collect::<Vec<u32>>()
    };
    let again: Vec<(usize, Vec<u32>)> =
        sizes().map(|size| (size, if here(&size) { again(size) } else { Vec::new() })).collect();
    // Said so only where each row says the one that follows what the last one said.
    let step = |by: u32| {
        move |(_, said): &(usize, Vec<u32>)| {
            said.iter().zip(said.iter().skip(1)).all(|(one, next)| one.checked_add(by) == Some(*next))
        }
    };
    let same_as = if again.iter().all(step(0)) {
        first.same_as.clone()
    } else if again.iter().all(step(1)) && first.same_as.is_some() {
        Some(Phrase::of("as ").then(label::of_each(told.voice, round, &again)))
    } else if first.same_as.is_some() {
        in_turn(again).map(|once| Phrase::of("as ").then(label::of_each(told.voice, round, &once)).say(" by turns"))
    } else {
        None
    };
    let all = told.voice.pattern.sizes.len();
    let is_for = |size: usize| first.sizes.contains(&size) || !told.is_for(index, item, size);
    let every = (0..all).all(is_for);
    let concerned: Vec<bool> = (0..all).map(|size| every || first.sizes.contains(&size)).collect();
    let label = label::only(told.voice, &concerned).then(label::of_each(told.voice, round, &numbers));
    RowTold { label, same_as, count: first.count.clone(), sizes: first.sizes.clone() }
}

/// Each size's numbers up to where they begin anew, where all of them only say the same few over and over.
fn in_turn(numbers: Vec<(usize, Vec<u32>)>) -> Option<Vec<(usize, Vec<u32>)>> {
    let once = |numbers: Vec<u32>| {
        let first = numbers.first().copied();
        let length = numbers.iter().skip(1).position(|number| Some(*number) == first)?.checked_add(1)?;
        let cycle: Vec<u32> = numbers.iter().copied().take(length).collect();
        numbers.iter().zip(cycle.iter().cycle()).all(|(one, other)| one == other).then_some(cycle)
    };
    let each = |(size, numbers): (usize, Vec<u32>)| {
        if numbers.is_empty() { Some((size, numbers)) } else { Some((size, once(numbers)?)) }
    };
    numbers.into_iter().map(each).collect()
}

/// The rows or rounds of an item, each with the line that is worked; nothing for a single one that has its own words, or for more
/// than anybody would read.
#[must_use]
pub fn written_out(told: Told<'_>, index: usize, item: &Item) -> Vec<WrittenRow> {
    let counts = told.voice.sizes.iter().map(|&size| told.rows_of(index, size).count());
    let most = counts.max().unwrap_or_default();
    let anew = matches!(item.kind, ItemKind::Again(_)) || told.spreads_anew(index, told.last_said_with(index));
    let least = if anew { 1 } else { 2 };
    if !(least..=MOST_WRITTEN).contains(&most) {
        return Vec::new();
    }
    (0..most).flat_map(|at| written_row(told, index, item, at)).collect()
}

/// The row of an item at a place, once for each line that sizes work there.
fn written_row(told: Told<'_>, index: usize, item: &Item, at: usize) -> Vec<WrittenRow> {
    let mut lines: Vec<(usize, Vec<usize>)> = Vec::new();
    for &size in &told.voice.sizes {
        let Some(row) = told.rows_of(index, size).nth(at) else { continue };
        match lines.iter_mut().find(|(source, _)| *source == row.source) {
            Some((_, sizes)) => sizes.push(size),
            None => lines.push((row.source, vec![size])),
        }
    }
    // Stitches that are spread otherwise in some sizes are told for each of those.
    let lines: Vec<(usize, Vec<usize>, bool)> = lines
        .into_iter()
        .flat_map(|(source, sizes)| {
            let each = told_apart(told, (index, at), &sizes);
            let apart = each.len() > 1;
            each.into_iter().map(move |sizes| (source, sizes, apart))
        })
        .collect();
    let one = |(source, sizes, apart): (usize, Vec<usize>, bool)| {
        let first = sizes.first().and_then(|&size| told.rows_of(index, size).nth(at));
        let mut row = row(told, index, item, (at, &sizes));
        if !apart && told.piece.items.get(source).is_some_and(|line| line.sizes.contains(&false)) {
            // The line says itself whom it is for.
            row.label = numbered(told, item, &sizes, index, at);
        }
        let side = first.map(|row| row.right_side);
        if let Some(side) = side.filter(|_| told.line(source).is_some_and(is_by_grid) && told.turns(source)) {
            row.label = row.label.then(label::facing(told.voice, side));
        }
        WrittenRow { row, place: at, source, side, apart }
    };
    lines.into_iter().map(one).collect()
}

/// Whether lines done again are told one by one: by their numbers alone they would be other work.
#[must_use]
pub fn told_one_by_one(told: Told<'_>, index: usize, item: &Item) -> bool {
    turns_round(told, index, item)
        || matches!(item.kind, ItemKind::Again(_)) && begins_otherwise(told, index)
        || told.spreads_anew(index, told.last_said_with(index))
}

/// Whether rows by a grid are done again with the other side facing, so that their squares come in the opposite order.
fn turns_round(told: Told<'_>, index: usize, item: &Item) -> bool {
    let other_side = |size: usize, row: &Row| {
        let first = told.worked_in(row.source, size).next();
        let by_grid = told.line(row.source).is_some_and(is_by_grid);
        by_grid && first.is_some_and(|first| first.right_side != row.right_side)
    };
    matches!(item.kind, ItemKind::Again(_))
        && told.voice.sizes.iter().any(|&size| told.rows_of(index, size).any(|row| other_side(size, row)))
}

/// Whether every row of an item works the same line.
fn is_alike(told: Told<'_>, index: usize) -> bool {
    let mut sources = told.rows_of_shown(index).map(|row| row.source);
    let first = sources.next();
    sources.all(|source| Some(source) == first)
}

/// `Rnd 4 (6)`: the row of an item at a place, by its number in some sizes.
fn numbered(told: Told<'_>, item: &Item, sizes: &[usize], index: usize, at: usize) -> Phrase {
    let number = |&size: &usize| (size, told.rows_of(index, size).nth(at).map(|row| row.number));
    let line = label::line_word(told.voice, label::is_round(item), Amount::One).capitalised();
    line.say(" ").then(Numbers::new(sizes.iter().map(number)).into())
}

/// The row of an item at a place, in those of some sizes that have it.
fn row(told: Told<'_>, index: usize, item: &Item, (at, among): (usize, &[usize])) -> RowTold {
    let of_size = |&size: &usize| {
        let row = told.rows_of(index, size).nth(at).filter(|_| among.contains(&size));
        (size, row)
    };
    let rows: Vec<(usize, Option<&Row>)> = told.voice.sizes.iter().map(of_size).collect();
    let ledgers: Vec<(usize, Option<&Ledger>)> =
        rows.iter().map(|(size, row)| (*size, row.map(|row| &*row.ledger))).collect();
    let sizes: Vec<usize> = rows.iter().filter(|(_, row)| row.is_some()).map(|(size, _)| *size).collect();
    // Whom the line is for has been said.
    let all = told.voice.pattern.sizes.len();
    let is_for = |size: usize| sizes.contains(&size) || !told.is_for(index, item, size);
    let every = (0..all).all(is_for);
    let concerned: Vec<bool> = (0..all).map(|size| every || sizes.contains(&size)).collect();
    RowTold {
        label: label::only(told.voice, &concerned).then(numbered(told, item, &sizes, index, at)),
        same_as: same_as(told, index, &rows),
        count: label::made(told, kinds(told, index, item, &rows), &ledgers),
        sizes,
    }
}

/// `as Rnd 2`, `as Rnd 2 (3) of Crown`: the row that each size works again, by its number there.
fn same_as(told: Told<'_>, index: usize, rows: &[(usize, Option<&Row>)]) -> Option<Phrase> {
    let alone = told.line(index).is_some() && told.last_said_with(index) == index;
    let named = |(size, row): &(usize, Option<&Row>)| Some((*size, worked_again(told, *size, (*row)?)?));
    let named: Vec<(usize, (Option<usize>, NamedRow))> = rows.iter().filter_map(named).collect();
    let (_, (piece, first)) = *named.first().filter(|_| !alone)?;
    let number = |size: usize| {
        let (_, (piece, row)) = named.iter().find(|(other, _)| *other == size)?;
        told.number_of(*piece, size, *row)
    };
    let numbers = Numbers::new(told.voice.sizes.iter().map(|&size| (size, number(size))));
    if numbers.is_nothing() {
        return None;
    }
    let other = piece.and_then(|piece| told.voice.pattern.pieces.get(piece));
    let round = label::is_round(other.unwrap_or(told.piece).items.get(first.source)?);
    let line = label::line_word(told.voice, round, Amount::One).capitalised();
    let told_line = Phrase::of("as ").then(line).say(" ").then(numbers.into());
    Some(
        other
            .map_or_else(|| told_line.clone(), |piece| told_line.clone().say(" of ").then(Phrase::quoted(&piece.name))),
    )
}

/// The row that another one works again, and the piece that it is in, if it is another one.
pub(super) fn worked_again(told: Told<'_>, size: usize, row: &Row) -> Option<(Option<usize>, NamedRow)> {
    match &told.piece.items.get(row.item)?.kind {
        ItemKind::Again(again) => {
            let lines = again.lines(size);
            // The lines are worked in turn.
            let first = told.rows_of_item(row.item, size).first()?;
            let at = usize::try_from(row.number.saturating_sub(first.number)).ok()?;
            let turn = lines.get(at.checked_rem(lines.len())?).filter(|named| named.source == row.source);
            let named = turn.or_else(|| lines.iter().find(|named| named.source == row.source))?;
            Some((None, *named))
        }
        ItemKind::Work(Line { same_as: Some(same), .. }) => Some((same.piece, same.rows.get(size).copied().flatten()?)),
        _ => None,
    }
}

/// Whether every row of an item makes what the row made that it works again, so that its count has been told.
fn is_told_before(told: Told<'_>, index: usize) -> bool {
    let told_before = |size: usize, row: &Row| {
        let (piece, named) = worked_again(told, size, row)?;
        let fabric = piece.map_or(told.fabric, |other| told.pieces.get(other))?;
        let first = &row_of(&fabric.sizes.get(size)?.rows, named)?.ledger;
        let kinds = |ledger: &Ledger| {
            let mut made: Vec<(Kind, u32)> = ledger.made.iter().map(|tally| (tally.kind, tally.count)).collect();
            made.sort_unstable();
            made
        };
        Some(kinds(first) == kinds(&row.ledger))
    };
    told.sizes_apart().into_iter().all(|size| told.rows_of(index, size).all(|row| told_before(size, row) == Some(true)))
}

/// The kinds that the rows of all sizes are counted by: those that their own line states, or the line that they work
/// again; for the last row of an item those that the item states. Nothing where these differ or are not made at all.
pub(super) fn kinds<'a>(
    told: Told<'a>,
    index: usize,
    item: &'a Item,
    rows: &[(usize, Option<&Row>)],
) -> Option<&'a Stated> {
    let own = stated(told, index, item);
    let of_row = |(size, row): &(usize, Option<&Row>)| {
        let row = (*row)?;
        let last = told.rows_of(index, *size).last()?;
        let own_row = own.filter(|_| last.source == row.source);
        Some(if last.number == row.number {
            own.or_else(|| line_states(told, row))
        } else {
            line_states(told, row).or(own_row)
        })
    };
    let mut all = rows.iter().filter_map(of_row);
    let first = all.next()??;
    let counted = |stated: &Stated| stated.parts.iter().map(|(_, kind)| *kind).collect::<Vec<_>>();
    let same = all.all(|other| other.is_some_and(|other| counted(other) == counted(first)));
    let is_made = |kind: Kind| {
        let mut ledgers = rows.iter().filter_map(|(_, row)| *row).map(|row| &row.ledger);
        ledgers.any(|ledger| stated_part(ledger, first, Some(kind), told.voice.pattern) > 0)
    };
    let made = first.parts.iter().filter_map(|(_, kind)| *kind).all(is_made);
    Some(first).filter(|_| same && made)
}

/// What the line of a row states, or the one that it says again.
fn line_states<'a>(told: Told<'a>, row: &Row) -> Option<&'a Stated> {
    let mut piece = told.piece;
    let mut source = row.source;
    for _ in 0..MOST_DEPTH {
        let ItemKind::Work(line) = &piece.items.get(source)?.kind else { return None };
        if line.stated.is_some() {
            return line.stated.as_ref();
        }
        let same = line.same_as.as_ref()?;
        piece = same.piece.map_or(Some(piece), |other| told.voice.pattern.pieces.get(other))?;
        source = same.rows.iter().flatten().next()?.source;
    }
    None
}

/// What an item states, which says the kinds that are counted.
fn stated<'a>(told: Told<'a>, index: usize, item: &'a Item) -> Option<&'a Stated> {
    let last = told.piece.items.get(told.last_said_with(index)).unwrap_or(item);
    match &last.kind {
        ItemKind::Work(line) => line.stated.as_ref(),
        ItemKind::Again(again) => again.stated.as_ref(),
        ItemKind::Words(_)
        | ItemKind::FastenOff
        | ItemKind::Gather(_)
        | ItemKind::Seam(..)
        | ItemKind::SeamEdges(_)
        | ItemKind::Sew { .. }
        | ItemKind::Surface(_)
        | ItemKind::Place(_)
        | ItemKind::Trim(_)
        | ItemKind::ChangeTo(_)
        | ItemKind::Now(_)
        | ItemKind::Using(_) => None,
    }
}
