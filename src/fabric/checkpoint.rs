//! Other wordings of a line are tried from where the work stands before it, so that what is above it is worked once.

use super::book::Book;
use super::cache::Kept;
use super::effort::Efforts;
use super::piece::{Finished, Found, PieceWork, Shop, Standing, goes_through};
use super::pieces;
use crate::diagnostic::Span;
use crate::limits;
use crate::pattern::model::Pattern;

/// Where the work stands before one line, in every size, so that other wordings of the line can be tried there.
#[derive(Debug, Clone)]
pub(crate) struct Checkpoint {
    piece: usize,
    item: usize,
    sizes: Vec<(Vec<Finished>, Book, Standing)>,
    /// The size that is tried first: where the line is faulty.
    first: usize,
    /// What was worked to come there.
    pub worked: u64,
}

impl Checkpoint {
    /// Works a pattern up to an item of a piece.
    pub(crate) fn before(
        pattern: &Pattern,
        broken: &[Span],
        (piece, item): (usize, usize),
        first: usize,
        kept: &Kept,
    ) -> Option<Self> {
        let efforts = Efforts::up_to(limits::MOST_STITCHES);
        let shop = Shop { pattern, broken, efforts: &efforts, kept, graph: None, bears: None, gives_up: false };
        let before = |size| {
            let (earlier, book) = pieces(shop, size, piece, &mut Found::default());
            let standing = PieceWork::new(shop, &book, piece, size, &earlier)?.before(item);
            Some((earlier, book, standing))
        };
        let sizes: Option<_> = (0..pattern.sizes.len()).map(before).collect();
        Some(Self { piece, item, sizes: sizes?, first, worked: efforts.spent() })
    }

    /// Where the work stands in every size after the line as another pattern words it, where it is the first of its piece,
    /// if it rings true so; and what was worked to see it.
    pub(crate) fn after(&self, pattern: &Pattern) -> (Option<AfterLine>, u64) {
        let (sizes, worked) = self.every_size(pattern, &Kept::default(), |work, size| {
            let standing = self.sizes.get(size)?.2.clone();
            work.after(0, standing)
        });
        (sizes.map(AfterLine), worked)
    }

    /// Whether the rows behind the line ring true, up to the first that had a fault before, when the work stands so after the
    /// line; and what was worked to see it.
    pub(crate) fn goes_on(&self, after: &AfterLine, pattern: &Pattern, faulty: &[usize], kept: &Kept) -> (bool, u64) {
        // The line may be said again, and is another one then.
        let unsure = [faulty, &[self.item]].concat();
        let (sizes, worked) = self.every_size(pattern, kept, |work, size| {
            let standing = after.0.get(size)?.clone();
            work.goes_on(self.item.saturating_add(1), &unsure, standing).then_some(())
        });
        (sizes.is_some(), worked)
    }

    /// Whether the rows from the line on ring true as another pattern words them.
    pub(crate) fn holds(&self, pattern: &Pattern, faulty: &[usize], kept: &Kept) -> (bool, u64) {
        let (sizes, worked) = self.every_size(pattern, kept, |work, size| {
            let standing = self.sizes.get(size)?.2.clone();
            work.goes_on(self.item, faulty, standing).then_some(())
        });
        (sizes.is_some(), worked)
    }

    fn every_size<T>(
        &self,
        pattern: &Pattern,
        kept: &Kept,
        try_size: impl Fn(&PieceWork<'_>, usize) -> Option<T>,
    ) -> (Option<Vec<T>>, u64) {
        let efforts = Efforts::up_to(limits::MOST_STITCHES);
        let shop = Shop { pattern, broken: &[], efforts: &efforts, kept, graph: None, bears: None, gives_up: true };
        let tried = |size: usize| {
            let (earlier, book, _) = self.sizes.get(size)?;
            try_size(&PieceWork::new(shop, book, self.piece, size, earlier)?, size)
        };
        // Where the line is faulty most of what is tried fails.
        let mut first = (self.first < self.sizes.len()).then(|| tried(self.first));
        if let Some(None) = first {
            return (None, efforts.spent());
        }
        let all = (0..self.sizes.len()).map(|size| match first.take_if(|_| size == self.first) {
            Some(done) => done,
            None => tried(size),
        });
        (all.collect(), efforts.spent())
    }
}

/// Where the work stands after a line in other words, in every size.
pub(crate) struct AfterLine(Vec<Standing>);

impl PieceWork<'_> {
    /// Where the work stands before an item is worked.
    fn before(&self, item: usize) -> Standing {
        let mut found = Found::default();
        let mut course = self.begin(&mut found);
        let plans = self.plans(course.found);
        for (at, planned) in plans.iter().enumerate().take_while(|(_, planned)| planned.item < item) {
            let rest = plans.get(at + 1..).unwrap_or_default();
            self.planned(planned, rest, &mut course);
        }
        course.standing
    }

    /// Where the work stands after the rows of an item, if they ring true from there.
    fn after(&self, item: usize, mut standing: Standing) -> Option<Standing> {
        for planned in self.plan.rows_from(item).take_while(|planned| planned.item == item) {
            let line = self.line(planned.source)?;
            let stated = self.stated(&planned, line);
            let worked = self.work_line(planned.source, line, stated, &mut standing, &self.shop.efforts.work);
            if worked.trouble.is_some() {
                return None;
            }
            standing = self.next(standing, &worked.done, line);
        }
        Some(standing)
    }

    /// Whether the rows from an item on ring true from there, up to the first that belongs to an item named as unsure or
    /// says it again. Rows that are found by working are taken to, and so are those through loops that were left free on the way.
    fn goes_on(&self, item: usize, unsure: &[usize], mut standing: Standing) -> bool {
        let says = |item: usize, other: usize| {
            self.line(item).zip(self.line(other)).is_some_and(|(one, other)| one.steps_span == other.steps_span)
        };
        for planned in self.plan.rows_from(item) {
            let of = |unsure: &usize| planned.item == *unsure || says(planned.source, *unsure);
            let known = planned.until.is_some() || unsure.iter().any(of);
            let Some(line) = self.line(planned.source).filter(|line| !known && goes_through(line).is_none()) else {
                return true;
            };
            let stated = self.stated(&planned, line);
            let worked = self.work_line(planned.source, line, stated, &mut standing, &self.shop.efforts.work);
            if worked.trouble.is_some() || self.shop.efforts.work.is_spent() {
                return false;
            }
            standing = self.next(standing, &worked.done, line);
        }
        true
    }
}
