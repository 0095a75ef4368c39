//! Which starting chains a piece in rows fits on.

use super::repeat::{MOST, common_divisor};
use crate::fabric::{Closing, Grows, Row};
use crate::pattern::model::{
    Extent, ItemKind, Line, Piece, Repeat, RepeatBody, Start, Step, StepKind, Till, Way, Where, each_step,
};

/// More stitches one after the other are no edge of a pattern, but its width (common practice, no source).
const SIDE: u32 = 6;

/// A starting chain is a multiple of the first number, and the second besides. Nothing where the piece isn't worked in rows on a chain,
/// each of them over the whole width; where a line is for one width alone; where any width fits; and where it can't be told for certain.
///
/// Each row has one step that goes as far as its edge does. A longer chain is so many more of its times in the first row, these are
/// so many more places for the second one, and so on. So much as is added has to lie somewhere in each row already, within what that
/// step of it took and within what that of the row below laid: then it can stand there once more, and meets nothing new.
#[must_use]
pub fn multiple(piece: &Piece, rows: &[Row], size: usize) -> Option<(u32, u32)> {
    let Start::Chain(chains) = &piece.start else { return None };
    if piece.way != Way::Rows || piece.goes_over() {
        return None;
    }
    let chains = chains.get(size);
    // So many chains more are so many places more on the edge that was made last.
    let (mut more, mut added) = (1_u32, 1_u32);
    let mut laid_below = chains;
    let mut met = Vec::with_capacity(rows.len());
    for row in rows {
        let grows = grows(piece, row)?;
        let times = grows.taken / common_divisor(added, grows.taken);
        more = more.checked_mul(times).filter(|more| *more <= MOST)?;
        added = added.checked_mul(times)?;
        met.push((more, added, grows, laid_below));
        added = (added / grows.taken).checked_mul(grows.laid).filter(|added| *added > 0)?;
        laid_below = grows.all_laid;
    }
    let is_there = |(so_far, added, grows, laid_below): (u32, u32, Grows, u32)| {
        let added = added.checked_mul(more / so_far)?;
        Some(grows.all_taken.checked_add(laid_below)? >= grows.along.checked_add(added)?)
    };
    let known = !rows.is_empty() && met.into_iter().all(|row| is_there(row) == Some(true));
    (known && more > 1).then_some((more, chains % more))
}

/// How a row grows that is worked over the whole of the row before it, and whose line fits other widths as well.
fn grows(piece: &Piece, row: &Row) -> Option<Grows> {
    let whole = row.ledger.left == 0 && row.closing == Closing::AtEnd && row.on.checked_add(1) == Some(row.number);
    let plain = !row.round && row.waited == 0 && row.resumes.is_none() && row.widened == [0, 0];
    let ItemKind::Work(line) = &piece.items.get(row.source)?.kind else { return None };
    row.grows.filter(|_| whole && plain && fits_widths(line))
}

/// Whether nothing in a line is for one width alone, or lies further away than the next row.
fn fits_widths(line: &Line) -> bool {
    let mut near = true;
    each_step(&line.steps, &mut |step| near &= !matches!(&step.kind, StepKind::Work(work) if work.below > 0));
    near && line.steps.iter().all(step_fits)
}

fn step_fits(step: &Step) -> bool {
    match &step.kind {
        StepKind::Repeat(Repeat { body: RepeatBody::Steps(..), extent: Extent::Till(till), .. }) => is_side(till),
        StepKind::Work(work) => match &work.places {
            Where::Till(till) => is_side(till),
            Where::Count(number) | Where::CountOf(number, _) => number.values.iter().all(|number| *number <= SIDE),
            Where::In(_) | Where::Skipped(..) => true,
            Where::Each(..) => false,
        },
        StepKind::Group(_, places) => matches!(places, Where::In(_)),
        StepKind::Colours(steps) => steps.iter().all(step_fits),
        StepKind::Together(..)
        | StepKind::Chain(_)
        | StepKind::ChainAs(..)
        | StepKind::TurningAs(..)
        | StepKind::Skip(..)
        | StepKind::Lead(_)
        | StepKind::ChangeTo(_) => true,
        StepKind::Repeat(_)
        | StepKind::ToAndFro(..)
        | StepKind::SetAside(..)
        | StepKind::Leave(_)
        | StepKind::Move(_)
        | StepKind::Turn
        | StepKind::OtherSide
        | StepKind::Mark(_)
        | StepKind::Go(_)
        | StepKind::FastenOff
        | StepKind::Rejoin(..)
        | StepKind::Close(..)
        | StepKind::Evenly(_)
        | StepKind::JoinTo(..)
        | StepKind::Behind(_)
        | StepKind::Through(..)
        | StepKind::Grid(_) => false,
    }
}

/// Whether a step goes as far as the edge does, or up to what stands at its end.
fn is_side(till: &Till) -> bool {
    match till {
        Till::End => true,
        Till::Last(number) => number.values.iter().all(|number| *number <= SIDE),
        Till::Next(_) | Till::LastOf(_) | Till::Mark(_) => false,
    }
}
