//! What a line stands on: its piece, the row below, the starting edge.

use crate::fabric::{PieceFabric, Row};
use crate::pattern::model::{ItemKind, Line, LoopOnly, Piece, RepeatBody, Start, Step, StepKind};

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
    /// What working the other pieces gave, in the order of the pattern.
    pub others: &'a [PieceFabric],
}

impl<'a> Told<'a> {
    /// Rows of a size, as far as they could be worked.
    pub fn rows(self, size: usize) -> &'a [Row] {
        self.fabric.and_then(|f| f.sizes.get(size)).map_or(&[], |s| s.rows.as_slice())
    }

    /// Rows of a size that an item says.
    pub fn rows_of(self, index: usize, size: usize) -> impl Iterator<Item = &'a Row> {
        self.rows(size).iter().filter(move |row| row.item == index)
    }

    /// For each size that has it, the row below the first one of an item.
    fn rows_below(self, index: usize) -> impl Iterator<Item = &'a Row> {
        self.voice.sizes.iter().filter_map(move |&size| {
            let rows = self.rows(size);
            let first = rows.iter().position(|row| row.item == index)?;
            rows.get(first.checked_sub(1)?)
        })
    }

    /// The work line of an item.
    pub fn line(self, index: usize) -> Option<&'a Line> {
        match &self.piece.items.get(index)?.kind {
            ItemKind::Work(line) => Some(line),
            ItemKind::Words(_)
            | ItemKind::Again(_)
            | ItemKind::FastenOff
            | ItemKind::Gather(_)
            | ItemKind::Seam(..)
            | ItemKind::Sew { .. }
            | ItemKind::ChangeTo(_) => None,
        }
    }
}

/// Whether a line is the first row or round of its piece.
pub(super) fn is_first(told: Told<'_>, index: usize) -> bool {
    let earlier = told.piece.items.iter().take(index);
    let mut shown =
        earlier.filter(|item| told.voice.sizes.iter().any(|s| item.sizes.get(*s).copied().unwrap_or(false)));
    !shown.any(|item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_)))
}

/// Whether the piece begins with a chain that its first row is worked into from the hook.
pub(super) fn on_chain(told: Told<'_>) -> bool {
    matches!(told.piece.start, Start::Chain(_))
}

/// The work line below, by its item and itself.
pub(super) fn line_below(told: Told<'_>, index: usize) -> Option<(usize, &Line)> {
    if let Some(row) = told.rows_below(index).next() {
        return told.line(row.source).map(|line| (row.source, line));
    }
    (0..index).rev().find_map(|earlier| told.line(earlier).map(|line| (earlier, line)))
}

/// What the places of a line are called.
pub(super) fn noun(told: Told<'_>, index: usize) -> Noun {
    if is_first(told, index) {
        return on_start(told, &told.piece.start);
    }
    let lace = told.rows_below(index).any(|row| row.ledger.chains > 0);
    if lace { Noun::StitchOrChain } else { Noun::Stitch }
}

/// What the places of a starting edge are called.
fn on_start(told: Told<'_>, start: &Start) -> Noun {
    match start {
        Start::Chain(_) | Start::ChainRing(_) => Noun::Chain,
        Start::Edge(_) => Noun::RowEnd,
        Start::Unsaid | Start::Ring | Start::Foundation(..) => Noun::Stitch,
        Start::OtherSide(piece) => match told.voice.pattern.pieces.get(*piece).map(|p| &p.start) {
            Some(Start::Chain(_) | Start::ChainRing(_)) => Noun::Chain,
            Some(
                Start::Unsaid
                | Start::Ring
                | Start::Foundation(..)
                | Start::Edge(_)
                | Start::OtherSide(_)
                | Start::Top(_),
            )
            | None => Noun::Stitch,
        },
        Start::Top(piece) => {
            let sizes = told.others.get(*piece).map_or(&[][..], |p| p.sizes.as_slice());
            let lace = sizes.iter().filter_map(|s| s.rows.last()).any(|row| row.ledger.chains > 0);
            if lace { Noun::StitchOrChain } else { Noun::Stitch }
        }
    }
}

/// The one loop that all stitches of a line are worked in, if there is one.
pub(super) fn whole_loop(line: &Line) -> Option<LoopOnly> {
    let mut loops = Vec::new();
    collect_loops(&line.steps, &mut loops);
    let first = (*loops.first()?)?;
    loops.iter().all(|l| *l == Some(first)).then_some(first)
}

fn collect_loops(steps: &[Step], loops: &mut Vec<Option<LoopOnly>>) {
    for step in steps {
        match &step.kind {
            StepKind::Work(work) => loops.push(work.loop_only),
            StepKind::Group(steps, _) | StepKind::Together(steps, _) => collect_loops(steps, loops),
            StepKind::Repeat(repeat) => match &repeat.body {
                RepeatBody::Steps(steps, _) => collect_loops(steps, loops),
                RepeatBody::On(arms) => arms.iter().for_each(|(_, steps)| collect_loops(steps, loops)),
            },
            StepKind::Chain(_)
            | StepKind::ChainAs(..)
            | StepKind::TurningAs(..)
            | StepKind::Skip(..)
            | StepKind::Leave(_)
            | StepKind::Move(_)
            | StepKind::Turn
            | StepKind::OtherSide
            | StepKind::Lead(_)
            | StepKind::Mark(_)
            | StepKind::Go(_)
            | StepKind::ChangeTo(_)
            | StepKind::FastenOff
            | StepKind::Rejoin(..)
            | StepKind::Close(..) => {}
        }
    }
}
