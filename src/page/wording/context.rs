//! What a line stands on: its piece, the row below, the starting edge.

use crate::fabric::{PieceFabric, Row, Rows, row_of};
use crate::pattern::model::{
    Item, ItemKind, Line, LoopOnly, NamedRow, Opening, Piece, Rim, SameAs, Start, Step, StepKind, Way, each_step,
};

use super::grids::is_by_grid;
use super::names::Voice;
use super::teller::Noun;

/// A piece that is told, with what working it gave.
#[derive(Debug, Clone, Copy)]
pub struct Told<'a> {
    /// How things are said.
    pub voice: &'a Voice<'a>,
    /// The piece.
    pub piece: &'a Piece,
    /// What working it gave, if it could be worked.
    pub fabric: Option<&'a PieceFabric>,
    /// What working every piece gave.
    pub pieces: &'a [PieceFabric],
    /// The side that faces the maker, where a single row is told and not all that a line says.
    pub side: Option<bool>,
    /// The item that says such a row, and which of its rows it is; stitches are spread as they were in that one.
    pub row: Option<(usize, usize)>,
}

impl<'a> Told<'a> {
    /// Rows of a size, as far as they could be worked.
    #[must_use]
    pub fn rows(self, size: usize) -> &'a [Row] {
        self.all_rows(size).map_or(&[], Rows::as_slice)
    }

    /// Whether the work turns after each row or round, at an item.
    pub(super) fn turns(self, index: usize) -> bool {
        self.piece.way_at(index) == Way::Rows || self.piece.turned_at(index)
    }

    fn all_rows(self, size: usize) -> Option<&'a Rows> {
        Some(&self.fabric?.sizes.get(size)?.rows)
    }

    /// Rows of a size that work the steps of a line, its own and those that do it again.
    pub(super) fn worked_in(self, index: usize, size: usize) -> impl Iterator<Item = &'a Row> {
        self.all_rows(size).into_iter().flat_map(move |rows| rows.worked_by(index))
    }

    /// Rows of a size before those of an item, whether it has any itself or not.
    pub(super) fn rows_before(self, index: usize, size: usize) -> &'a [Row] {
        self.all_rows(size).map_or(&[], |rows| rows.before_item(index))
    }

    /// The number that a row of this piece, or of another one, has in a size.
    pub(super) fn number_of(self, piece: Option<usize>, size: usize, named: NamedRow) -> Option<u32> {
        let fabric = piece.map_or(self.fabric, |other| self.pieces.get(other))?;
        Some(row_of(&fabric.sizes.get(size)?.rows, named)?.number)
    }

    /// Rows of a size that an item says, with those that are said together with it.
    pub fn rows_of(self, index: usize, size: usize) -> impl Iterator<Item = &'a Row> {
        let said = index..=self.last_said_with(index);
        said.flat_map(move |item| self.all_rows(size).map_or(&[][..], |rows| rows.of_item(item)))
    }

    /// Rows of a size that one item works.
    pub(super) fn rows_of_item(self, item: usize, size: usize) -> &'a [Row] {
        self.all_rows(size).map_or(&[], |rows| rows.of_item(item))
    }

    /// Whether an item is said together with the one before it.
    #[must_use]
    pub fn is_said_before(self, index: usize) -> bool {
        let before = index.checked_sub(1);
        if before.is_some_and(|before| self.sewn_in_one(index).any(|(at, _)| at == before)) {
            return true;
        }
        // Where sizes say different rows again there is an item for each of them, and each is said.
        let span = |at: usize| self.piece.items.get(at).map(|item| (item.span, &item.sizes));
        before.is_some_and(|at| span(at) == span(index) && self.is_said_by_number(at)) && self.is_said_by_number(index)
    }

    /// The items of the one line of the text that sews rows of other numbers in some sizes, where an item is of such a line.
    pub(super) fn sewn_in_one(self, index: usize) -> impl Iterator<Item = (usize, &'a Item)> {
        let seam = |item: &&Item| matches!(item.kind, ItemKind::Seam(..));
        let span = self.piece.items.get(index).filter(seam).map(|item| item.span);
        let items = self.piece.items.iter().enumerate();
        items.filter(move |(_, item)| seam(item) && span == Some(item.span))
    }

    /// Whether a line that says another one again can be told by the number of that one.
    pub(super) fn is_said_by_number(self, index: usize) -> bool {
        self.line(index).is_some_and(|line| says_again(line) && !self.is_worked_otherwise(line, index))
            && !self.spreads_anew(index, index)
    }

    /// Whether a line says one of another piece again that is worked another way, or begun with another chain: its words there
    /// are not those of the work here.
    pub(super) fn is_worked_otherwise(self, line: &Line, index: usize) -> bool {
        let Some(there) = line.same_as.as_ref().and_then(|same| self.voice.pattern.pieces.get(same.piece?)) else {
            return false;
        };
        let named = line.same_as.iter().flat_map(|same| &same.rows).flatten().next();
        named.is_some_and(|row| {
            there.way_at(row.source) != self.piece.way_at(index)
                || there.turned_at(row.source) != self.piece.turned_at(index)
                || there.lead_at(row.source) != self.piece.lead_at(index)
        })
    }

    /// Whether stitches are spread evenly in a row of one of some items otherwise than where its line was worked first: it can't be
    /// said by naming that one.
    pub(super) fn spreads_anew(self, from: usize, to: usize) -> bool {
        let line_there = |same: &SameAs, size: usize| {
            let fabric = same.piece.map_or(self.fabric, |other| self.pieces.get(other));
            row_of(&fabric?.sizes.get(size)?.rows, same.rows.get(size).copied().flatten()?)
        };
        let lists = |row: &Row| row.spreads.iter().map(|spread| spread.before_each.clone()).collect::<Vec<_>>();
        let anew = |item: usize, size: usize| {
            let same = self.line(item).and_then(|line| line.same_as.as_ref());
            self.rows_of_item(item, size).iter().filter(|row| !row.spreads.is_empty()).any(|row| {
                let first = match same {
                    Some(same) => line_there(same, size),
                    None => self.worked_in(row.source, size).next(),
                };
                first.is_some_and(|first| lists(first) != lists(row))
            })
        };
        (from..=to).any(|item| self.voice.sizes.iter().any(|&size| anew(item, size)))
    }

    /// The last of the items that are said together with one: `rows 2-5: as rows 2-5 of Front` is an item a row.
    #[must_use]
    pub fn last_said_with(self, index: usize) -> usize {
        let span = self.piece.items.get(index).map(|item| (item.span, &item.sizes));
        let Some(span) = span.filter(|_| self.is_said_by_number(index)) else { return index };
        let after = self.piece.items.iter().enumerate().skip(index.saturating_add(1));
        let with = |(at, item): &(usize, &Item)| (item.span, &item.sizes) == span && self.is_said_by_number(*at);
        index.saturating_add(after.take_while(with).count())
    }

    /// Whether an item is for a size: it says so, and there it does some line again, if it is one that does that.
    #[must_use]
    pub fn is_for(self, index: usize, item: &Item, size: usize) -> bool {
        let says = |item: &Item| item.sizes.get(size).copied().unwrap_or(true);
        let says_so = says(item) || self.sewn_in_one(index).any(|(_, item)| says(item));
        let worked = |size: usize| self.rows_of(index, size).next().is_some();
        let none_here = || matches!(item.kind, ItemKind::Again(_)) && !worked(size);
        says_so && !(none_here() && self.voice.sizes.iter().any(|&other| worked(other)))
    }

    /// For which of all sizes an item is: one entry a size.
    #[must_use]
    pub fn concerned(self, index: usize, item: &Item) -> Vec<bool> {
        let shown = |size: usize| self.voice.sizes.contains(&size);
        let all = 0..self.voice.pattern.sizes.len();
        all.map(|size| !shown(size) || self.is_for(index, item, size)).collect()
    }

    /// The sizes that are shown, without those that are worked as one before them: what holds of all rows is not asked of the same
    /// ones again.
    pub(super) fn sizes_apart(self) -> Vec<usize> {
        let mut apart: Vec<usize> = Vec::new();
        for &size in &self.voice.sizes {
            let rows = self.all_rows(size);
            let shares =
                |other: &usize| rows.zip(self.all_rows(*other)).is_some_and(|(one, other)| one.are_shared_with(other));
            if !apart.iter().any(shares) {
                apart.push(size);
            }
        }
        apart
    }

    /// The row of a size that the words of a line are for: the one that is told by itself, or the first that works the line.
    pub(super) fn told_row(self, index: usize, size: usize) -> Option<&'a Row> {
        let by_itself = |size: usize| {
            let (item, at) = self.row?;
            self.rows_of(item, size).nth(at).filter(|row| row.source == index)
        };
        // A size that has no such row has nothing to say to it.
        if self.voice.sizes.iter().any(|&size| by_itself(size).is_some()) {
            return by_itself(size);
        }
        self.worked_in(index, size).next()
    }

    /// A row that is told by itself, in each size that has it.
    pub(super) fn by_itself(self) -> Option<Vec<&'a Row>> {
        let (item, at) = self.row?;
        Some(self.voice.sizes.iter().filter_map(|&size| self.rows_of(item, size).nth(at)).collect())
    }

    /// Rows that an item says, of every size that is shown; those that sizes share once.
    pub(super) fn rows_of_shown(self, index: usize) -> impl Iterator<Item = &'a Row> {
        self.sizes_apart().into_iter().flat_map(move |size| self.rows_of(index, size))
    }

    /// The row that a row is worked on, where it is the one before it.
    pub(super) fn row_below(self, row: &Row, size: usize) -> Option<&'a Row> {
        let rows = self.all_rows(size)?;
        // The numbers of a size go up.
        let said = rows.of_item(row.item).binary_search_by_key(&row.number, |other| other.number).ok()?;
        rows.get((rows.before_item(row.item).len() + said).checked_sub(1)?)
    }

    /// The row of a number.
    pub(super) fn row_at(self, number: u32, size: usize) -> Option<&'a Row> {
        let rows = self.rows(size);
        // The numbers of a size go up.
        rows.binary_search_by_key(&number, |row| row.number).ok().and_then(|at| rows.get(at))
    }

    /// Every row of the sizes that are shown that is worked by a line, done again or not.
    pub(super) fn worked_by(self, index: usize) -> impl Iterator<Item = &'a Row> {
        self.sizes_apart().into_iter().flat_map(move |size| self.worked_in(index, size))
    }

    /// What is recorded of the row that the words of a line are for, in the sizes that are shown: each thing once, with its
    /// sizes.
    pub(super) fn recorded<T: PartialEq>(self, index: usize, what: impl Fn(&Row) -> T) -> Vec<(T, Vec<usize>)> {
        let mut found: Vec<(T, Vec<usize>)> = Vec::new();
        for &size in &self.voice.sizes {
            let Some(row) = self.told_row(index, size) else { continue };
            let what = what(row);
            match found.iter_mut().find(|(other, _)| *other == what) {
                Some((_, sizes)) => sizes.push(size),
                None => found.push((what, vec![size])),
            }
        }
        found
    }

    /// The first row of an item with the one below it, in the first size that has both.
    pub(super) fn first_with_below(self, index: usize) -> Option<(&'a Row, &'a Row)> {
        let by_itself = |size: usize| self.told_row(index, size).filter(|_| self.row.is_some());
        self.voice.sizes.iter().find_map(|&size| {
            if let Some(row) = by_itself(size) {
                return Some((row, self.row_below(row, size)?));
            }
            let rows = self.all_rows(size)?;
            Some((rows.of_item(index).first()?, rows.before_item(index).last()?))
        })
    }

    /// The work line of an item.
    #[must_use]
    pub fn line(self, index: usize) -> Option<&'a Line> {
        match &self.piece.items.get(index)?.kind {
            ItemKind::Work(line) => Some(line),
            ItemKind::Words(_)
            | ItemKind::Again(_)
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
            | ItemKind::Trim(_) => None,
        }
    }
}

/// Whether a line says another one again and may be told together with those beside it. Rows of a grid are told one by one.
fn says_again(line: &Line) -> bool {
    line.same_as.is_some() && !is_by_grid(line)
}

/// Whether a row by a grid says another one again that was worked with the other side facing, so that its squares come in
/// the opposite order.
pub(super) fn is_turned_round(told: Told<'_>, index: usize, line: &Line) -> bool {
    let Some(same) = line.same_as.as_ref().filter(|_| is_by_grid(line)) else { return false };
    let fabric = same.piece.map_or(told.fabric, |other| told.pieces.get(other));
    let first = |size: usize| {
        let named = same.rows.get(size).copied().flatten()?;
        row_of(&fabric?.sizes.get(size)?.rows, named).map(|row| row.right_side)
    };
    let here = |size: usize| told.rows_of(index, size).next().map(|row| row.right_side);
    told.voice.sizes.iter().any(|&size| first(size).zip(here(size)).is_some_and(|(there, here)| there != here))
}

/// Whether a line is the first row or round of its piece.
pub(super) fn is_first(told: Told<'_>, index: usize) -> bool {
    if told.row.is_some_and(|(item, at)| item != index || at > 0) {
        return false;
    }
    let earlier = told.piece.items.iter().take(index);
    let mut shown =
        earlier.filter(|item| told.voice.sizes.iter().any(|s| item.sizes.get(*s).copied().unwrap_or(false)));
    !shown.any(|item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_)))
}

/// The work line below, by its item and itself.
pub(super) fn line_below(told: Told<'_>, index: usize) -> Option<(usize, &Line)> {
    if let Some((_, below)) = told.first_with_below(index) {
        return told.line(below.source).map(|line| (below.source, line));
    }
    (0..index).rev().find_map(|earlier| told.line(earlier).map(|line| (earlier, line)))
}

/// Whether the work is turned before a line in a size that it is worked in. A line below that says so itself has done it.
fn is_turned(told: Told<'_>, index: usize, size: usize) -> Option<bool> {
    told.told_row(index, size).map(|row| is_row_turned(told, row, size))
}

/// Whether the work is turned before a row.
pub(super) fn is_row_turned(told: Told<'_>, row: &Row, size: usize) -> bool {
    let Some(below) = told.row_below(row, size) else {
        return told.piece.way == Way::Rows && matches!(told.piece.start, Start::Foundation(..));
    };
    let says_so = |line: &Line| line.steps.iter().rev().take(2).any(|step| step.kind == StepKind::Turn);
    row.resumes.is_none() && row.right_side != below.right_side && !told.line(below.source).is_some_and(says_so)
}

/// Whether a row goes on with the same side up as the one below, where rows turn otherwise and nothing else says it.
pub(super) fn stays_unturned(told: Told<'_>, index: usize, line: &Line) -> bool {
    let starts_anew = |step: &Step| matches!(step.kind, StepKind::Rejoin(..) | StepKind::FastenOff);
    if line.round || told.piece.way_at(index) != Way::Rows {
        return false;
    }
    let anew = line.steps.iter().any(starts_anew);
    let stays = |size: usize| {
        let row = told.told_row(index, size)?;
        let below = told.row_below(row, size)?;
        // Who joins yarn anew for reverse stitches has to know that they are worked from where the row below ended.
        let unsaid = !anew || row.backwards;
        Some(unsaid && row.resumes.is_none() && !below.round && row.right_side == below.right_side)
    };
    let mut sizes = told.voice.sizes.iter().filter_map(|&size| stays(size)).peekable();
    sizes.peek().is_some() && sizes.all(|stays| stays)
}

/// The sizes that a line is worked in, by whether the work is turned before it.
pub(super) fn turned(told: Told<'_>, index: usize) -> (Vec<usize>, Vec<usize>) {
    let sizes = told.voice.sizes.iter().filter_map(|&size| Some((size, is_turned(told, index, size)?)));
    let (turned, not): (Vec<_>, Vec<_>) = sizes.partition(|(_, turned)| *turned);
    let sizes = |all: Vec<(usize, bool)>| all.into_iter().map(|(size, _)| size).collect();
    (sizes(turned), sizes(not))
}

/// What the places of a line are called.
pub(super) fn noun(told: Told<'_>, index: usize) -> Noun {
    if is_first(told, index) {
        return on_start(told, &told.piece.start);
    }
    Noun::Stitch
}

/// What the places of a starting edge are called.
pub(super) fn on_start(told: Told<'_>, start: &Start) -> Noun {
    match start {
        Start::Chain(_) | Start::ChainRing(_) | Start::ChainBack | Start::Opening(Opening { rim: Rim::Chain, .. }) => {
            Noun::Chain
        }
        Start::Edge(_) | Start::Side(..) => Noun::RowEnd,
        Start::Through(one, _) => on_start(told, one),
        Start::Unsaid
        | Start::Ring
        | Start::Foundation(..)
        | Start::Top(_)
        | Start::Loops(..)
        | Start::Opening(Opening { rim: Rim::Stitches, .. })
        | Start::Thing(None, _) => Noun::Stitch,
        Start::OtherSide(piece) => match told.voice.pattern.pieces.get(*piece) {
            Some(piece) if starts_with_chain(piece) => Noun::Chain,
            Some(_) | None => Noun::Stitch,
        },
        Start::Around(piece) if told.voice.pattern.pieces.get(*piece).is_some_and(|p| p.way.rounds()) => Noun::Stitch,
        Start::Around(_) | Start::Thing(Some(_), _) | Start::Opening(Opening { rim: Rim::Around { .. }, .. }) => {
            Noun::Place
        }
        Start::Part(_, _, edge) | Start::Rest(edge) => on_start(told, edge),
        Start::Several(parts) => {
            let mut nouns = parts.iter().map(|part| on_start(told, part));
            let first = nouns.next().unwrap_or(Noun::Place);
            if nouns.all(|noun| noun == first) { first } else { Noun::Place }
        }
    }
}

/// Whether a piece begins with a chain, which has another side.
pub(super) fn starts_with_chain(piece: &Piece) -> bool {
    matches!(piece.start, Start::Chain(_) | Start::ChainRing(_))
}

/// The one loop that all stitches of a line are worked in, if there is one.
pub(super) fn whole_loop(line: &Line) -> Option<LoopOnly> {
    let mut loops = Vec::new();
    each_step(&line.steps, &mut |step| {
        if let StepKind::Work(work) = &step.kind {
            loops.push(work.loop_only);
        }
    });
    let first = (*loops.first()?)?;
    loops.iter().all(|l| *l == Some(first)).then_some(first)
}

/// Whether an item goes to the end over stitches that waited since short rows: more places are used than the row below
/// made.
pub(super) fn takes_waiting(told: Told<'_>, index: usize) -> bool {
    let Some((row, _)) = told.first_with_below(index) else { return false };
    row.waited > 0 && row.ledger.left == 0
}
