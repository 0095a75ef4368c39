//! Lines that are worked by a grid: a row of the piece for each row of squares.

use super::super::model::{
    Grid, GridStep, Item, ItemKind, Lead, Line, PartMut, Piece, SquareKind, Step, StepKind, StitchId, Work, each_step,
};
use super::grid_rows::{Builder, Side, repeated};
use super::{Lower, codes};
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Span};
use crate::stitch::Sort;
use crate::syntax::tree::{self, LoopOnly, Technique};
use crate::words::count;

impl Lower {
    /// `sc 4 A, 3 B`.
    pub(super) fn colours(&mut self, loop_only: Option<LoopOnly>, stitch: &tree::Text, runs: &[tree::Run]) -> StepKind {
        let stitch = self.stitch(&stitch.text, stitch.span);
        let mut steps = Vec::new();
        for run in runs {
            steps.push(Step { span: run.yarn.span, kind: StepKind::ChangeTo(self.yarn(&run.yarn)) });
            let places = self.places(&run.places, run.span);
            let each = self.same(run.span, 1);
            let work = Work { each, loop_only, stitch, below: 0, places, ambiguous: false };
            steps.push(Step { span: run.span, kind: StepKind::Work(work) });
        }
        StepKind::Colours(steps)
    }

    /// `grid Gulls to end`: which row of it is said by the line.
    pub(super) fn grid_step(
        &mut self,
        name: &tree::Text,
        extent: Option<&(tree::Extent, Span)>,
        span: Span,
    ) -> StepKind {
        let extent = extent.map(|(extent, span)| (self.extent(extent), *span));
        let Some(grid) = self.grids.iter().position(|grid| grid.name.eq_ignore_ascii_case(&name.text)) else {
            let known: Vec<String> = self.grids.iter().map(|grid| grid.name.clone()).collect();
            self.unknown("grid", name, &known);
            return StepKind::Skip(self.same(span, 0), None);
        };
        StepKind::Grid(GridStep { grid, row: 0, extent, closes: false, facing: Vec::new(), away: Vec::new() })
    }

    /// The rows that are worked for the grids that a line names; nothing for a line that names none.
    pub(super) fn grids_in(&self, line: &Line) -> Option<Vec<(usize, Span)>> {
        let mut found = Vec::new();
        each_step(&line.steps, &mut |step| {
            if let StepKind::Grid(grid) = &step.kind {
                found.push((grid.grid, step.span));
            }
        });
        (!found.is_empty()).then_some(found)
    }

    /// A line for each row that is worked for a grid.
    pub(super) fn by_grid(&mut self, line: &Line, named: &[(usize, Span)], span: Span) {
        let of = |at: usize, lower: &Self| lower.grids.get(at).map_or(0, Grid::worked_rows);
        let Some((first, at)) = named.first().copied() else { return };
        if named.iter().any(|(grid, _)| self.grids.get(*grid).is_none_or(|grid| grid.faulty)) {
            // What is wrong with the grid is said there.
            return self.unread_rows(line.clone(), span);
        }
        let rows = of(first, self);
        if let Some((other, place)) = named.iter().find(|(grid, _)| of(*grid, self) != rows) {
            self.unlike_grids((first, at), (*other, *place));
            return self.unread_rows(line.clone(), span);
        }
        let said = usize::try_from(line.times).unwrap_or(usize::MAX);
        let passes = match line.number {
            None => 1,
            Some(_) => said / rows.max(1),
        };
        if line.number.is_some() && (passes == 0 || !said.is_multiple_of(rows.max(1))) {
            self.other_rows(line, first, at);
            return self.unread_rows(line.clone(), span);
        }
        if self.cannot_be_worked(line, first, at) {
            return self.unread_rows(line.clone(), span);
        }
        self.blocks_apart(first);
        let mut colours: Vec<String> = Vec::new();
        each_step(&line.steps, &mut |step| {
            if let StepKind::ChangeTo(yarn) = &step.kind {
                colours.push(yarn.clone());
            }
        });
        for place in 0..passes.saturating_mul(rows) {
            let row = u32::try_from(place % rows).unwrap_or(u32::MAX);
            let number = line.number.map(|first| first.saturating_add(u32::try_from(place).unwrap_or(u32::MAX)));
            let right_side = line.right_side.filter(|_| place == 0);
            let mut one = Line { number, times: 1, right_side, ..line.clone() };
            self.close_filet(&mut one.steps);
            let mut yarn = None;
            self.fill_grids(&mut one.steps, row, &mut yarn, &colours);
            if let Some(yarn) = yarn {
                one.steps.insert(0, Step { span: at, kind: StepKind::ChangeTo(yarn) });
            }
            self.item(ItemKind::Work(one), span);
        }
    }

    /// From corner to corner each area has its own ball, unless the piece says otherwise.
    fn blocks_apart(&mut self, grid: usize) {
        let blocks = self.grids.get(grid).is_some_and(|grid| grid.technique == Technique::Corner);
        if let Some(piece) = self.pieces.last_mut().filter(|_| blocks) {
            piece.colours = piece.colours.or(Some(tree::ColourWork::Apart));
        }
    }

    /// Puts what is worked into each grid step of a list; a row of a mosaic names its yarn, and takes it up again beside steps that
    /// have another colour.
    fn fill_grids(&self, steps: &mut [Step], row: u32, yarn: &mut Option<String>, colours: &[String]) {
        for step in steps {
            let span = step.span;
            if let StepKind::Grid(step) = &mut step.kind {
                let Some(grid) = self.grids.get(step.grid) else { continue };
                step.row = row;
                let worked = usize::try_from(row).unwrap_or(usize::MAX);
                let builder = Builder { lower: self, grid, span, closes: step.closes };
                let (extent, left_out) = (step.extent.as_ref(), builder.left_out());
                step.facing = repeated(builder.row(worked, Side::Facing), left_out, extent, span);
                step.away = repeated(builder.row(worked, self.away()), left_out, extent, span);
                let own = builder.yarn_of_row(worked);
                if let Some(own) = own.as_ref().filter(|own| colours.iter().any(|other| other != *own)) {
                    let again = Step { span, kind: StepKind::ChangeTo(own.clone()) };
                    step.facing.insert(0, again.clone());
                    step.away.insert(0, again);
                }
                *yarn = yarn.take().or(own);
            } else {
                step.kind.each_part_mut(&mut |part| {
                    if let PartMut::Steps(steps) = part {
                        self.fill_grids(steps, row, yarn, colours);
                    }
                });
            }
        }
    }

    /// A round of filet that ends with its grid is closed by the stitch that it begins with.
    fn close_filet(&self, steps: &mut [Step]) {
        let in_rounds =
            self.pieces.last().is_some_and(|piece| piece.way_at(piece.items.len()) == tree::Way::JoinedRounds);
        let ends = |step: &&mut Step| {
            !matches!(step.kind, StepKind::Turn | StepKind::ChangeTo(_) | StepKind::FastenOff | StepKind::Mark(_))
        };
        let last = steps.iter_mut().rev().find(ends).filter(|_| in_rounds);
        if let Some(Step { kind: StepKind::Grid(step), .. }) = last {
            step.closes = self.grids.get(step.grid).is_some_and(|grid| grid.technique == Technique::Filet);
        }
    }

    /// How the other side of a grid is worked in the present piece.
    fn away(&self) -> Side {
        let in_rounds = |piece: &Piece| piece.way_at(piece.items.len()).rounds() && piece.turned_at(piece.items.len());
        if self.pieces.last().is_some_and(in_rounds) { Side::AwayInRounds } else { Side::Away }
    }

    fn unlike_grids(&mut self, (first, at): (usize, Span), (other, place): (usize, Span)) {
        let told = |at: usize| {
            let grid = self.grids.get(at);
            grid.map_or_else(String::new, |grid| format!("{} has {}", grid.name, count(grid.worked_rows(), "row")))
        };
        let message = format!("{}, and {}", told(first), told(other));
        let finding = Diagnostic::error(codes::GRID_ROWS, message, place, "another number of rows");
        let finding = finding.with_other(at, "in the same line");
        self.findings.push(finding.with_help("grids beside each other have as many rows each"));
    }

    /// A line that is not as many rows as its grid, nor twice as many, nor three times.
    fn other_rows(&mut self, line: &Line, grid: usize, at: Span) {
        let Some(grid) = self.grids.get(grid) else { return };
        let rows = u32::try_from(grid.worked_rows()).unwrap_or(u32::MAX);
        let word = if line.round { "round" } else { "row" };
        let message = format!(
            "the grid {} is {}, and this line is {}",
            grid.name,
            count(grid.worked_rows(), word),
            count(line.times, word)
        );
        let first = line.number.unwrap_or(1);
        let short = if line.round { "rnds" } else { "rows" };
        let better = format!("{short} {first}-{}", first.saturating_add(rows.saturating_sub(1)));
        let mut finding = Diagnostic::error(codes::GRID_ROWS, message, line.label_span, count(line.times, word))
            .with_other(at, count(grid.worked_rows(), word))
            .with_help(format!("number all of them: `{better}:`"));
        if grid.technique == Technique::Inset {
            finding = finding.with_note("each row of the grid is worked to and fro: two rows");
        }
        if grid.technique == Technique::Corner {
            finding =
                finding.with_note("it is worked on the diagonal, from the bottom right corner to the top left one");
        }
        // Either end of the numbers may be the wrong one.
        let last = first.saturating_add(line.times).saturating_sub(1);
        let back = last.checked_sub(rows.saturating_sub(1)).filter(|begin| *begin > 0 && *begin != first);
        let others = back.map(|begin| format!("{short} {begin}-{last}"));
        for numbers in std::iter::once(better).chain(others) {
            let title = format!("number them `{numbers}`");
            let edits = vec![Edit { span: line.label_span, text: numbers }];
            finding = finding.with_fix(Fix { title, edits, safety: Safety::ChangesFabric });
        }
        self.findings.push(finding);
    }

    /// Whether a square of a grid is a reverse stitch.
    fn goes_back(&self, grid: &Grid) -> bool {
        let back = |stitch: StitchId| self.stitches.get(stitch).is_some_and(|stitch| stitch.sort == Sort::Back);
        let named = grid.legend.iter().filter_map(|square| match square.what {
            SquareKind::Stitch(stitch, _) => Some(stitch),
            _ => None,
        });
        back(grid.stitch) || named.into_iter().any(back)
    }

    /// Whether the present piece is worked in a way that the technique can't have.
    fn cannot_be_worked(&mut self, line: &Line, grid: usize, at: Span) -> bool {
        let alone = matches!(line.steps.as_slice(), [Step { kind: StepKind::Grid(GridStep { extent: None, .. }), .. }]);
        let is_grid = |step: &Step| matches!(step.kind, StepKind::Grid(_) | StepKind::Turn | StepKind::ChangeTo(_));
        let whole = line.steps.iter().all(is_grid);
        let (Some(grid), Some(piece)) = (self.grids.get(grid), self.pieces.last()) else { return true };
        let item = piece.items.len();
        let turned = piece.way_at(item) == tree::Way::Rows || piece.turned_at(item);
        let works = |item: &Item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_));
        let worked = piece.items.iter().any(works);
        let (fault, help) = match grid.technique {
            Technique::Overlay if turned => (
                "overlay mosaic is worked from the right side only, and this piece turns",
                "say `in rows from one side` or `in joined rounds` on the `piece` line, or make the grid `mosaic inset`",
            ),
            Technique::Plain | Technique::Inset | Technique::Filet
                if turned && piece.way_at(item).rounds() && !whole =>
            {
                (
                    "a round that is turned begins in the same stitch each time, so a grid beside other stitches would lie one \
                     stitch off",
                    "let the line say the grid alone, with what stands beside it as squares of the grid; or leave `turned` out",
                )
            }
            Technique::Plain if self.goes_back(grid) => GOES_BACK,
            Technique::Filet if matches!(piece.way_at(item), tree::Way::Spiral | tree::Way::TunisianRows) => {
                WITHOUT_LEAD
            }
            Technique::Filet if piece.can_be_read() && !begins_upright(line, piece.lead_at(item)) => WITHOUT_UPRIGHT,
            Technique::Corner if piece.way_at(item) != tree::Way::Rows => {
                ("corner to corner is worked in rows that turn", "say `in rows` on the `piece` line")
            }
            Technique::Corner if !alone => (
                "a grid from corner to corner makes whole rows by itself",
                "let the line say the grid alone, once: `rows 1-20: grid Sail`",
            ),
            Technique::Corner if *piece.lead_at(item) != Lead::None => (
                "a row from corner to corner begins with chains of its own, and this piece has a lead besides",
                "leave the `lead` line of the piece out",
            ),
            Technique::Corner if worked => (
                "corner to corner begins with the first block of its piece",
                "begin a piece of its own with it, on `start ch 6`",
            ),
            _ => return false,
        };
        let finding =
            Diagnostic::error(codes::GRID_ROWS, fault, at, "can't be worked so").with_other(piece.span, "worked so");
        self.findings.push(finding.with_help(help));
        true
    }
}

/// A grid of reverse stitches, and what to do.
const GOES_BACK: (&str, &str) = (
    "a grid is read on along the edge, and reverse stitches go back along it",
    "write a row of reverse stitches without a grid, as `rsc to end`",
);
/// Filet where no row begins with a chain that counts.
const WITHOUT_LEAD: (&str, &str) = (
    "each row of filet begins with an upright of its own, and here none does",
    "say `in rows` or `in joined rounds` on the `piece` line, with `lead ch 3 as dc`",
);
/// Filet whose first square has nothing to begin on.
const WITHOUT_UPRIGHT: (&str, &str) = (
    "a row of filet begins with an upright, and here nothing stands before its first square",
    "let the chain count, as `lead ch 3 as dc`; or work a stitch before the grid",
);

/// Whether a stitch, or a chain that counts as one, stands before the grid of a line.
fn begins_upright(line: &Line, lead: &Lead) -> bool {
    let mut lead = lead;
    for step in &line.steps {
        match &step.kind {
            StepKind::Grid(_) => break,
            StepKind::Lead(own) => lead = own,
            StepKind::Turn | StepKind::ChangeTo(_) | StepKind::Rejoin(..) | StepKind::Move(_) | StepKind::Mark(_) => {}
            StepKind::Chain(_) | StepKind::Skip(..) => return false,
            _ => return true,
        }
    }
    matches!(lead, Lead::Counted(..))
}
