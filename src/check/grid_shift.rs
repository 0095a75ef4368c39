//! A grid, worked to and fro, with more stitches before it than behind it: its picture lies elsewhere in every second row.

use std::collections::{BTreeMap, BTreeSet};

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::{LeadWorked, Row};
use crate::pattern::model::{ItemKind, Line, Pattern, Step, StepKind, Technique, Where};
use crate::words;

pub(super) const CODE: Code = Code("grid-shift");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().zip(&context.fabric.pieces).enumerate();
    let mut found = Vec::new();
    for (index, (piece, fabric)) in pieces {
        // What is written once is a line for each row of the grid.
        let mut said: BTreeMap<Span, (&Row, Sides, BTreeSet<bool>)> = BTreeMap::new();
        for (size, of) in fabric.sizes.iter().enumerate() {
            for row in of.rows.iter().filter(|row| !row.round) {
                let Some(ItemKind::Work(line)) = piece.items.get(row.source).map(|item| &item.kind) else { continue };
                let Some((span, sides)) = sides(context.pattern, line, row, size) else { continue };
                if sides.off() > 0 {
                    said.entry(span).or_insert_with(|| (row, sides, BTreeSet::new())).2.insert(row.right_side);
                }
            }
        }
        let both = said.into_iter().filter(|(_, (.., facing))| facing.len() > 1);
        found.extend(
            both.map(|(span, (row, sides, _))| finding(&context.label_of(index, row, row.number), span, sides)),
        );
    }
    found
}

/// How many stitches stand beside a grid.
#[derive(Clone, Copy)]
struct Sides {
    before: u32,
    after: u32,
    /// Those that the first of its squares begins with: one in filet.
    upright: u32,
}

impl Sides {
    /// How far off its picture lies in every second row.
    fn off(self) -> u32 {
        self.before.abs_diff(self.after.saturating_add(self.upright))
    }
}

/// The grid of a line, with the stitches before it and behind it; nothing where these are not plain ones.
fn sides(pattern: &Pattern, line: &Line, row: &Row, size: usize) -> Option<(Span, Sides)> {
    let is_grid = |step: &Step| match &step.kind {
        StepKind::Grid(grid) => pattern
            .grids
            .get(grid.grid)
            .is_some_and(|grid| matches!(grid.technique, Technique::Plain | Technique::Inset | Technique::Filet)),
        _ => false,
    };
    let at = line.steps.iter().position(is_grid)?;
    let (before, after) = line.steps.split_at_checked(at)?;
    let (grid, after) = after.split_first()?;
    let lead = u32::from(matches!(row.lead, LeadWorked::Counted(..)));
    let before = width(pattern, before, size)?.checked_add(lead)?;
    let sides = Sides { before, after: width(pattern, after, size)?, upright: upright(pattern, grid) };
    Some((grid.span, sides))
}

/// A row of filet has one stitch more than its squares: the one that the first of them begins with.
fn upright(pattern: &Pattern, grid: &Step) -> u32 {
    let StepKind::Grid(step) = &grid.kind else { return 0 };
    let filet = pattern.grids.get(step.grid).is_some_and(|grid| grid.technique == Technique::Filet);
    u32::from(filet)
}

/// How many stitches plain steps make, each on one of the row below.
fn width(pattern: &Pattern, steps: &[Step], size: usize) -> Option<u32> {
    steps.iter().try_fold(0_u32, |sum, step| {
        let one = match &step.kind {
            StepKind::Work(work) => {
                let plain = pattern
                    .stitches
                    .get(work.stitch)
                    .is_some_and(|stitch| stitch.takes == 1 && stitch.makes.len() == 1);
                let Where::Count(places) = &work.places else { return None };
                (plain && work.each.get(size) == 1).then(|| places.get(size))?
            }
            StepKind::Colours(steps) => width(pattern, steps, size)?,
            StepKind::Lead(_) | StepKind::ChangeTo(_) | StepKind::Mark(_) | StepKind::Turn | StepKind::FastenOff => 0,
            _ => return None,
        };
        sum.checked_add(one)
    })
}

fn finding(label: &str, span: Span, sides: Sides) -> Diagnostic {
    let Sides { before, after, upright } = sides;
    let message = format!(
        "{label} has {} before the grid and {} behind it, and the row that comes back has them the other way round",
        words::count(before, "stitch"),
        if after == 0 { "none".to_owned() } else { after.to_string() },
    );
    let by = words::count(sides.off(), "stitch");
    Diagnostic::warning(CODE, message, span, format!("its picture lies {by} off in every second row")).with_help(
        if upright > 0 {
            "let one stitch more stand before filet than behind it, on which its first square begins; a lead that counts is one of them"
        } else {
            "let as many stitches stand behind the grid as before it; a lead that counts is one of them"
        },
    )
}
