//! What is known of an edge below a line that can't be read, and what is said there.

use std::sync::Arc;

use super::edge::{Edge, Slot, Top};
use super::effort::looks;
use super::fault::FaultKind;
use super::piece::{Course, Finished, Found, PieceWork, Standing};
use super::row::{Worked, bare};
use crate::diagnostic::Span;
use crate::pattern::model::{
    AgainExtent, Extent, ItemKind, Line, Piece, Place, Start, Stated, StepKind, StitchId, Terms, Till, Where, Work,
    each_step,
};
use crate::pattern::plan::{Plan, PlannedRow as Planned};

/// How much is known of the edge that the next row is worked on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Sure {
    /// Each of its places.
    #[default]
    Worked,
    /// How many stitches it has: the line that made it can't be read, and states so many.
    Stated,
    /// Nothing.
    Nothing,
}

/// So many edges are tried on either side of a stated count.
const MOST_BASES: u32 = 100;

impl PieceWork<'_> {
    /// Whether an edge that the piece starts on is only a guess, since a row below did not ring true.
    pub(super) fn stands_on_a_guess(&self) -> bool {
        let mut guess = false;
        self.piece.start.each_edge(&mut |edge| {
            let Some((at, below)) = edge.of_piece().and_then(|at| Some((at, self.earlier.get(at)?))) else { return };
            guess |= match edge {
                Start::Edge(_) | Start::Side(..) => false,
                Start::OtherSide(_) => !below.based,
                Start::Opening(_) | Start::Loops(..) => below.faulty,
                Start::Around(_) => below.guessed || self.is_half_laid_out(at, below),
                _ => below.guessed,
            } || below.on_a_guess;
        });
        guess
    }

    /// What is known before the first row, and whether nothing at all is said of the piece.
    pub(super) fn sure_of_start(&self) -> Sure {
        let start = self.piece.start_span;
        let number = match &self.piece.start {
            Start::Chain(number) | Start::ChainRing(number) | Start::Foundation(number, _) => Some(number.span),
            _ => None,
        };
        let touches = |number: Span| move |place: &&Span| (number.start..=number.end).contains(&place.start);
        let wrong = number.is_some_and(|number| self.shop.broken.iter().any(|place| touches(number)(&place)));
        let unnamed = start != self.piece.span && self.piece.start == Start::Unsaid;
        let broken = wrong || unnamed || self.in_doubt(start);
        let lost = self.piece.unread.first() == Some(&0) && self.piece.start == Start::Unsaid;
        if broken || lost || self.piece.in_doubt || !self.known_below(&self.piece.start) || self.stands_on_a_guess() {
            Sure::Nothing
        } else {
            Sure::Worked
        }
    }

    /// Whether all the edges are known that a start goes along.
    fn known_below(&self, start: &Start) -> bool {
        let mut known = true;
        start.each_edge(&mut |edge| {
            let below = edge.of_piece().and_then(|at| self.earlier.get(at));
            known &= below.is_none_or(|below| match edge {
                Start::Edge(_) | Start::Side(..) => below.whole,
                Start::OtherSide(_) => below.based,
                Start::Opening(_) => {
                    below.sure == Sure::Worked && below.whole && below.based && !below.openings_unknown
                }
                Start::Around(of) => {
                    below.sure == Sure::Worked && below.whole && below.based && !self.is_half_laid_out(*of, below)
                }
                Start::Loops(..) => below.sure == Sure::Worked && below.whole && below.based,
                _ => below.sure == Sure::Worked,
            });
        });
        known
    }

    /// Whether the line of a piece can't be understood as a whole, so that its copies may lie side by side, or they lie so and
    /// don't fit each other.
    fn is_half_laid_out(&self, piece: usize, finished: &Finished) -> bool {
        let piece = self.pattern.pieces.get(piece);
        piece.is_some_and(|piece| match piece.layout {
            None => self.in_doubt(piece.span),
            Some(_) => finished.corners.is_none(),
        })
    }

    /// Whether another piece, as far as it is done, is known.
    pub(super) fn is_known(&self, piece: usize) -> bool {
        self.earlier.get(piece).is_none_or(Finished::is_known)
    }

    /// Items whose number of rows isn't known; they may have none in the plan.
    pub(super) fn open_items(&self) -> Vec<usize> {
        let again = |at: &usize| matches!(self.piece.items.get(*at).map(|item| &item.kind), Some(ItemKind::Again(_)));
        let faults = Plan::of(self.piece, self.size);
        let faults = faults.faults().iter().map(|fault| fault.item);
        let named = (0..self.piece.items.len()).filter(|at| again(at) && self.names_unknown(*at));
        faults.chain(named).collect()
    }

    /// Goes past lines that can't be read and may be rows: what they make isn't known.
    pub(super) fn pass_unread(&self, up_to: usize, course: &mut Course<'_>) {
        if self.piece.unread.is_empty() && course.open.is_empty() {
            return;
        }
        let passed = self.piece.unread.iter().filter(|at| **at <= up_to).count();
        let passed = passed + course.open.iter().filter(|at| **at < up_to).count();
        if passed > course.passed {
            course.passed = passed;
            course.finished.whole = false;
            course.finished.sure = Sure::Nothing;
        }
    }

    /// Whether the rows of an item aren't known: they can't be read, they rest on a name that isn't known, or how many
    /// there are follows from lines that can't be read.
    pub(super) fn is_open(&self, planned: &Planned, line: &Line, course: &Course<'_>) -> bool {
        let by_number = match self.piece.items.get(planned.item).map(|item| &item.kind) {
            Some(ItemKind::Again(again)) => !matches!(again.extent, AgainExtent::Times(_)) && !course.finished.whole,
            _ => false,
        };
        by_number || line.unread || self.is_unread(planned.source) || self.names_unknown(planned.item)
    }

    /// Whether the steps of a line can't be read, or name what isn't known.
    pub(super) fn is_unread(&self, item: usize) -> bool {
        let Some(line) = self.line(item) else { return false };
        let mut stitches = false;
        let unknown: Vec<StitchId> = self.unknown_stitches();
        if !unknown.is_empty() {
            each_step(&line.steps, &mut |step| match &step.kind {
                StepKind::Work(work) => stitches |= unknown.contains(&work.stitch),
                StepKind::Evenly(evenly) => {
                    stitches |= unknown.contains(&evenly.plain) || unknown.contains(&evenly.special);
                }
                _ => {}
            });
        }
        line.unread || stitches || self.names_unknown(item) || self.in_doubt(line.steps_span)
    }

    /// Whether an item names what isn't known. What it states can be left out of account.
    pub(super) fn names_unknown(&self, item: usize) -> bool {
        let Some(item) = self.piece.items.get(item) else { return false };
        let stated = match &item.kind {
            ItemKind::Work(line) => line.stated.as_ref(),
            ItemKind::Again(again) => again.stated.as_ref(),
            _ => None,
        };
        self.in_doubt(Span::new(item.span.start, stated.map_or(item.span.end, |stated| stated.span.start)))
    }

    /// The designer's stitches of which it isn't known how they are made.
    fn unknown_stitches(&self) -> Vec<StitchId> {
        let unknown = self.pattern.definitions.iter().filter(|definition| {
            let last = definition.steps.last().map_or(definition.span.end, |step| step.span.end);
            self.in_doubt(Span::new(definition.span.start, last))
        });
        unknown.map(|definition| definition.stitch).collect()
    }

    /// Goes past lines done again of which it isn't known how often they are.
    pub(super) fn skip_rows(&self, planned: &Planned, course: &mut Course<'_>) {
        let stated = match self.piece.items.get(planned.item).map(|item| &item.kind) {
            Some(ItemKind::Again(again)) => again.stated.as_ref(),
            _ => None,
        };
        let count = stated.filter(|stated| !self.in_doubt(stated.span)).and_then(|stated| bare(stated, self.size));
        course.found.unjudged += 1;
        let standing = std::mem::replace(&mut course.standing, Standing::nowhere());
        course.standing = self.as_stated(standing, &course.finished, count);
        course.finished.whole = false;
        course.finished.sure = if count.is_some() { Sure::Stated } else { Sure::Nothing };
    }

    /// Whether something there names what may be declared in a line that can't be read.
    pub(super) fn in_doubt(&self, span: Span) -> bool {
        self.pattern.doubt.places.range(span.start..=span.end.max(span.start)).next().is_some()
    }

    /// Where nothing is known of the edge, looks for one on which a line rings true.
    pub(super) fn refind(&self, planned: &Planned, line: &Line, stated: Option<&Stated>, course: &mut Course<'_>) {
        if course.finished.sure == Sure::Nothing
            && let Some(base) = self.refound(planned, line, stated, &course.standing)
        {
            course.standing = base;
            course.finished.sure = Sure::Stated;
        }
    }

    /// Settles what is known when a row is done, and whether anything is said of it.
    pub(super) fn settle(&self, open: bool, line: &Line, stated: bool, worked: &Worked, course: &mut Course<'_>) {
        let (told, sure) = self.judge(course.finished.sure, open, line, stated, worked);
        course.found.hush(!told);
        course.found.unjudged += usize::from(!told);
        course.finished.based &= told && worked.trouble.is_none() || course.standing.number > 0;
        course.finished.sure = sure;
    }

    /// What is known of a row's edge when it is done, and whether what is wrong with it is said.
    fn judge(&self, before: Sure, open: bool, line: &Line, stated: bool, worked: &Worked) -> (bool, Sure) {
        // Row ends of small pieces are places, and no stated count says how many.
        let stated = stated && !(open && has_row_ends(line));
        let after_fault = if stated { Sure::Worked } else { Sure::Nothing };
        let stated = stated && (before == Sure::Worked && !open || !self.on_earlier_rows);
        match before {
            _ if open => (false, if stated { Sure::Stated } else { Sure::Nothing }),
            Sure::Nothing => (false, Sure::Nothing),
            _ if worked.trouble.is_none() => (true, Sure::Worked),
            Sure::Worked => (true, after_fault),
            Sure::Stated if self.only_counts(line, worked) => (true, after_fault),
            Sure::Stated => (false, if stated { Sure::Stated } else { Sure::Nothing }),
        }
    }

    /// Whether what is wrong with a row can be seen by the number of stitches below alone.
    fn only_counts(&self, line: &Line, worked: &Worked) -> bool {
        let counts = worked.trouble.as_ref().is_some_and(|trouble| {
            matches!(
                trouble.kind,
                FaultKind::Count { kind: None, .. }
                    | FaultKind::RanOut { .. }
                    | FaultKind::LeftOver { .. }
                    | FaultKind::Unfit { .. }
                    | FaultKind::Passed { .. }
            )
        });
        let mut chains = false;
        for item in &self.piece.items {
            if let ItemKind::Work(line) = &item.kind {
                each_step(&line.steps, &mut |step| chains |= matches!(step.kind, StepKind::Chain(..)));
            }
        }
        let mut plain = true;
        each_step(&line.steps, &mut |step| {
            plain &= match &step.kind {
                StepKind::Work(Work { places, .. }) => matches!(
                    places,
                    Where::Count(_) | Where::In(Place::Next | Place::Same(_)) | Where::Till(Till::End | Till::Last(_))
                ),
                _ => true,
            };
        });
        counts && plain && !chains
    }

    /// Looks for an edge on which a line rings true that states how many stitches it makes: then the edge is known again.
    fn refound(
        &self,
        planned: &Planned,
        line: &Line,
        stated: Option<&Stated>,
        standing: &Standing,
    ) -> Option<Standing> {
        let wanted = stated
            .and_then(|stated| bare(stated, self.size))
            .filter(|_| !self.piece.in_doubt && !self.on_earlier_rows)?;
        let farther = (1..=MOST_BASES.min(wanted)).flat_map(|by| [wanted - by, wanted.saturating_add(by)]);
        let counts = std::iter::once(wanted).chain(farther).filter(|count| *count > 0);
        let ring = (self.piece.start == Start::Unsaid && standing.number == 0).then(|| Edge {
            ring: true,
            circle: true,
            ..Edge::default()
        });
        let edges = counts.flat_map(|count| self.possible_edges(count, standing)).chain(ring);
        for edge in edges {
            if self.shop.efforts.ahead.is_spent() {
                return None;
            }
            self.shop.efforts.ahead.spend(looks(edge.slots.len()));
            let base = Standing {
                edge: Arc::new(edge),
                waiting: [Vec::new(), Vec::new()],
                reached: 0,
                parked: Vec::new(),
                ..standing.clone()
            };
            let tried = self.work_line(planned.source, line, stated, &mut base.clone(), &self.shop.efforts.ahead);
            if tried.trouble.is_none() {
                return Some(base);
            }
        }
        None
    }

    /// Edges of so many plain stitches, and of so many chains where the first row may stand on a chain.
    fn possible_edges(&self, count: u32, standing: &Standing) -> Vec<Edge> {
        let plain = self.pattern.stitches.find("sc", Terms::Us).map_or(Top::Base, Top::Stitch);
        let many = |top| vec![Slot::new(top); usize::try_from(count).unwrap_or_default()];
        let rounds = standing.going.map_or(self.piece.way, |going| going.way).rounds();
        let circle = rounds && !standing.edge.open;
        let stitches = Edge { slots: many(plain), circle, open: standing.edge.open, ..Edge::default() };
        let on_chain = standing.number == 0 && matches!(self.piece.start, Start::Unsaid | Start::Chain(_));
        let chain = Edge { slots: many(Top::Base), open: true, from_hook: true, ..Edge::default() };
        if on_chain { vec![chain, stitches] } else { vec![stitches] }
    }
}

impl Finished {
    /// Whether the last edge is known.
    fn is_known(&self) -> bool {
        self.sure == Sure::Worked && !self.guessed
    }

    /// Whether what ends a piece can be judged.
    pub(super) fn hushes(&self, ending: &ItemKind) -> bool {
        let by_rows = matches!(ending, ItemKind::Seam(..));
        self.sure != Sure::Worked || by_rows && !(self.whole && self.based)
    }
}

impl Found {
    /// Whether nothing is said just now.
    pub(super) fn hush(&mut self, hushed: bool) {
        self.hushed = hushed;
    }
}

/// Whether more than its last row is worked on in this piece: what waits after a short row, or an earlier row. Where
/// that isn't known, a count doesn't tell it.
pub(super) fn works_on_earlier_rows(piece: &Piece) -> bool {
    let mut earlier = false;
    for item in &piece.items {
        let ItemKind::Work(line) = &item.kind else { continue };
        let mut to_end = piece.turned;
        let mut turns = false;
        each_step(&line.steps, &mut |step| match &step.kind {
            StepKind::Leave(_) | StepKind::Rejoin(..) | StepKind::Behind(_) | StepKind::Through(..) => earlier = true,
            StepKind::Turn => turns = true,
            StepKind::Work(work) => to_end |= matches!(work.places, Where::Till(Till::End)),
            StepKind::Repeat(repeat) => to_end |= matches!(repeat.extent, Extent::Till(Till::End)),
            _ => {}
        });
        earlier |= turns && !to_end;
    }
    earlier
}

/// Whether row ends of small pieces are among the places that a line makes.
fn has_row_ends(line: &Line) -> bool {
    let mut found = false;
    each_step(&line.steps, &mut |step| found |= matches!(step.kind, StepKind::ToAndFro(_, true)));
    found
}
