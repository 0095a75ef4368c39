//! The steps that a row of a grid is worked with, technique by technique.

use super::super::model::{
    Extent, Grid, Kind, Place, Repeat, RepeatBody, Sized, SquareKind, Step, StepKind, Where, Work,
};
use super::Lower;
use crate::diagnostic::Span;
use crate::stitch::{StitchId, Terms};
use crate::syntax::tree::{LoopOnly, Technique};

/// Steps that are done once, or in a repeat. So many of them are left out at the end.
pub(super) fn repeated(
    mut steps: Vec<Step>,
    left_out: usize,
    extent: Option<&(Extent, Span)>,
    span: Span,
) -> Vec<Step> {
    let kept = steps.len().saturating_sub(left_out);
    let Some((extent, extent_span)) = extent else {
        steps.truncate(kept);
        return steps;
    };
    let body = RepeatBody::Steps(steps, (left_out > 0).then_some(kept));
    let repeat = Repeat { body, extent: extent.clone(), extent_span: *extent_span };
    vec![Step { span, kind: StepKind::Repeat(repeat) }]
}

/// Which side faces the maker.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    Facing,
    Away,
    /// Away, in a round that is turned: it begins in the same stitch as the others, and goes on from the other end.
    AwayInRounds,
}

/// Makes the steps of a row.
pub(super) struct Builder<'a> {
    pub lower: &'a Lower,
    pub grid: &'a Grid,
    /// Where the line names the grid.
    pub span: Span,
    /// Its last square is closed by what the round begins with.
    pub closes: bool,
}

/// Chains and stitches of a block that is worked from corner to corner (common practice, no source).
const BLOCK: u32 = 3;

/// Squares one after the other that are worked alike.
struct Alike {
    /// The first one, by its place from the left.
    place: usize,
    count: u32,
    span: Span,
}

impl Builder<'_> {
    /// The yarn that a row is begun with, where all of it has one.
    pub(super) fn yarn_of_row(&self, worked: usize) -> Option<String> {
        let row = match self.grid.technique {
            Technique::Overlay => worked,
            Technique::Inset if worked.is_multiple_of(2) => worked / 2,
            Technique::Inset | Technique::Plain | Technique::Filet | Technique::Corner => return None,
        };
        self.grid.own_yarn(row).map(str::to_owned)
    }

    pub(super) fn row(&self, worked: usize, side: Side) -> Vec<Step> {
        match self.grid.technique {
            Technique::Plain => self.plain(worked, side),
            Technique::Overlay => self.overlay(worked, side),
            Technique::Inset => self.inset(worked, side),
            Technique::Filet => self.filet(worked, side),
            Technique::Corner => self.corner(worked),
        }
    }

    /// Runs of squares that are alike, in the order of working.
    fn runs<T: PartialEq>(&self, row: usize, side: Side, what: impl Fn(usize) -> T) -> Vec<(Alike, T)> {
        let Some(row) = self.grid.rows.get(row) else { return Vec::new() };
        let mut places: Vec<usize> = (0..row.squares.len()).collect();
        match side {
            Side::Facing => places.reverse(),
            // Squares of filet lie between the stitch in which the round begins and the next one, on either side of it.
            Side::AwayInRounds if self.grid.technique == Technique::Filet => {}
            Side::AwayInRounds if !places.is_empty() => places.rotate_right(1),
            Side::Away | Side::AwayInRounds => {}
        }
        let mut runs: Vec<(Alike, T)> = Vec::new();
        for place in places {
            let span = row.spans.get(place).copied().unwrap_or(self.span);
            let here = what(place);
            match runs.last_mut() {
                Some((run, there)) if *there == here => {
                    run.count = run.count.saturating_add(1);
                    run.span = Span::new(run.span.start.min(span.start), run.span.end.max(span.end));
                }
                _ => runs.push((Alike { place, count: 1, span }, here)),
            }
        }
        runs
    }

    /// A stitch in each square.
    fn plain(&self, row: usize, side: Side) -> Vec<Step> {
        let index = |place: usize| self.grid.rows.get(row).and_then(|row| row.squares.get(place).copied());
        let mut steps = Vec::new();
        let mut coloured = false;
        for (run, _) in self.runs(row, side, index) {
            let what = self.grid.at(row, run.place).map(|square| &square.what);
            let (stitch, yarn) = match what {
                Some(SquareKind::Stitch(stitch, yarn)) => (*stitch, yarn.as_ref()),
                Some(SquareKind::Yarn(yarn)) => (self.grid.stitch, Some(yarn)),
                Some(SquareKind::Open | SquareKind::Filled | SquareKind::Unknown) | None => (self.grid.stitch, None),
            };
            if let Some(yarn) = yarn {
                coloured = true;
                steps.push(Step { span: run.span, kind: StepKind::ChangeTo(yarn.clone()) });
            }
            let places = Where::Count(self.number(run.count));
            let stitch = self.from_side(stitch, side);
            steps.push(self.work(Work { stitch, places, ..self.sc(run.count) }, run.span));
        }
        if coloured { vec![Step { span: self.span, kind: StepKind::Colours(steps) }] } else { steps }
    }

    /// The stitch by which one that is drawn from the right side comes to stand there: seen from behind, a front post is a back post.
    fn from_side(&self, stitch: StitchId, side: Side) -> StitchId {
        let behind = self.lower.stitches.get(stitch).and_then(|stitch| stitch.from_behind);
        if side == Side::Facing { stitch } else { behind.unwrap_or(stitch) }
    }

    /// Single crochets into back loops, and a long stitch wherever the square below is to have this row's colour.
    fn overlay(&self, row: usize, side: Side) -> Vec<Step> {
        let runs = self.runs(row, side, |place| self.is_covered(row.checked_sub(1), place));
        let step = |(run, long): (Alike, bool)| {
            let work = if long {
                Work { stitch: self.long(), loop_only: Some(LoopOnly::Front), below: 2, ..self.sc(run.count) }
            } else {
                Work { loop_only: Some(LoopOnly::Back), ..self.sc(run.count) }
            };
            self.work(work, run.span)
        };
        runs.into_iter().map(step).collect()
    }

    /// Whether a square has not the yarn of its row, so that the row above covers it.
    fn is_covered(&self, row: Option<usize>, place: usize) -> bool {
        row.is_some_and(|row| self.grid.yarn_at(row, place) != self.grid.own_yarn(row))
    }

    /// Two rows: chains over what is to have another colour, and long stitches where chains were two rows before.
    fn inset(&self, worked: usize, side: Side) -> Vec<Step> {
        let row = worked / 2;
        let back = !worked.is_multiple_of(2);
        let what = |place: usize| {
            let over = self.is_covered(Some(row), place);
            (over, !over && !back && self.is_covered(row.checked_sub(1), place))
        };
        let mut steps = Vec::new();
        for (run, (over, long)) in self.runs(row, side, what) {
            if over {
                steps.push(Step { span: run.span, kind: StepKind::Chain(self.number(run.count)) });
                steps.push(Step { span: run.span, kind: StepKind::Skip(self.number(run.count), None) });
            } else if long {
                steps.push(self.work(Work { stitch: self.long(), below: 3, ..self.sc(run.count) }, run.span));
            } else {
                steps.push(self.work(self.sc(run.count), run.span));
            }
        }
        steps
    }

    /// How many of the steps of a row are left out where the round is closed: the stitch that its last square would end with.
    pub(super) fn left_out(&self) -> usize {
        usize::from(self.closes)
    }

    /// Squares of filet: each ends with a stitch, and the row begins on one. The last square of a round ends with that one.
    fn filet(&self, row: usize, side: Side) -> Vec<Step> {
        let filled = |place: usize| self.grid.at(row, place).is_some_and(|square| square.what == SquareKind::Filled);
        let mut runs = self.runs(row, side, filled);
        let last = if self.closes { runs.last_mut() } else { None };
        let last = last.map(|(run, filled)| {
            run.count = run.count.saturating_sub(1);
            (Alike { count: 1, ..*run }, *filled)
        });
        let mut steps: Vec<Step> = Vec::new();
        for (run, filled) in runs.into_iter().filter(|(run, _)| run.count > 0) {
            steps.push(self.squares(&run, if filled { self.filled(run.span, 1) } else { self.open(run.span, 1) }));
        }
        if let Some((run, filled)) = last {
            steps.push(self.squares(&run, if filled { self.filled(run.span, 0) } else { self.open(run.span, 0) }));
            steps.push(self.work(self.sc(1), run.span));
        }
        steps
    }

    fn squares(&self, run: &Alike, body: RepeatBody) -> Step {
        let extent = Extent::Times(self.number(run.count));
        let repeat = Repeat { body, extent, extent_span: run.span };
        Step { span: run.span, kind: StepKind::Repeat(repeat) }
    }

    /// Chains over two places, and so many stitches behind them.
    fn open(&self, span: Span, end: u32) -> RepeatBody {
        let mut steps = vec![
            Step { span, kind: StepKind::Chain(self.number(2)) },
            Step { span, kind: StepKind::Skip(self.number(2), None) },
        ];
        steps.extend((end > 0).then(|| self.work(self.sc(end), span)));
        RepeatBody::Steps(steps, None)
    }

    /// Over a filled square a stitch in each; over an open one two of them go into its space. So many more behind them.
    fn filled(&self, span: Span, end: u32) -> RepeatBody {
        let each = self.number(2);
        let space = Work { each, places: Where::In(Place::NextOf(Kind::Space(2))), ..self.sc(1) };
        let mut over_open = vec![self.work(space, span)];
        over_open.extend((end > 0).then(|| self.work(self.sc(end), span)));
        let over_filled = vec![self.work(self.sc(2 + end), span)];
        RepeatBody::On(vec![(Kind::Space(2), over_open), (Kind::AnyStitch, over_filled)])
    }

    /// A diagonal of blocks. The first one is at the bottom right corner; the second row goes from the bottom edge to the right
    /// one, and the next one back. Where the block of one row ends, the first of the next one begins, so that the corner lies
    /// at the bottom right if the first row faces the maker.
    fn corner(&self, diagonal: usize) -> Vec<Step> {
        let mut steps = Vec::new();
        let blocks = self.grid.diagonal(diagonal);
        let (grows, goes_on) = self.grid.grows(diagonal);
        for (at, (row, place)) in blocks.iter().enumerate() {
            let span = self.grid.rows.get(*row).and_then(|row| row.spans.get(*place).copied()).unwrap_or(self.span);
            if let Some(yarn) = self.grid.yarn_at(*row, *place) {
                steps.push(Step { span, kind: StepKind::ChangeTo(yarn.to_owned()) });
            }
            match (at, grows) {
                (0, true) => steps.extend(self.new_block(diagonal == 0, span)),
                (0, false) => {
                    let space = Where::In(Place::NextOf(Kind::Space(BLOCK)));
                    steps.push(Step { span, kind: StepKind::Move(space) });
                    steps.extend(self.block(span));
                }
                (1, true) => steps.extend(self.slip(BLOCK, span).into_iter().chain(self.block(span))),
                // A slip stitch lies before the next block.
                _ => steps.extend(self.slip(BLOCK + 1, span).into_iter().chain(self.block(span))),
            }
        }
        if !goes_on {
            let before = if blocks.len() == 1 && grows { BLOCK } else { BLOCK + 1 };
            steps.extend(self.slip(before, self.span));
        }
        vec![Step { span: self.span, kind: StepKind::Colours(steps) }]
    }

    /// A block at the edge: along a chain, of which the skipped end is a space.
    fn new_block(&self, on_start: bool, span: Span) -> Vec<Step> {
        let of = |places| self.work(Work { places, ..self.sc(1) }, span);
        let chain = Step { span, kind: StepKind::Chain(self.number(2 * BLOCK)) };
        let turning = StepKind::TurningAs(self.number(BLOCK), None, Some(BLOCK));
        let mut steps = if on_start { Vec::new() } else { vec![chain] };
        steps.push(Step { span, kind: turning });
        steps.push(of(Where::In(Place::FromHook(BLOCK + 1))));
        steps.push(of(Where::CountOf(self.number(BLOCK - 1), Kind::Chain)));
        steps
    }

    /// Passes a block by and slips into its space.
    fn slip(&self, before: u32, span: Span) -> [Step; 2] {
        let slip = self.lower.stitches.find("sl st", Terms::Us).unwrap_or(self.grid.stitch);
        let places = Where::In(Place::NextOf(Kind::Space(BLOCK)));
        let skip = Step { span, kind: StepKind::Skip(self.number(before), None) };
        [skip, self.work(Work { stitch: slip, places, ..self.sc(1) }, span)]
    }

    /// The chains and stitches of a block in the space that the hook stands in.
    fn block(&self, span: Span) -> [Step; 2] {
        let chain = Step { span, kind: StepKind::Chain(self.number(BLOCK)) };
        let work = Work { each: self.number(BLOCK), places: Where::In(Place::Same(None)), ..self.sc(1) };
        [chain, self.work(work, span)]
    }

    fn work(&self, work: Work, span: Span) -> Step {
        Step { span, kind: StepKind::Work(work) }
    }

    /// So many of the grid's stitch.
    fn sc(&self, count: u32) -> Work {
        let places = Where::Count(self.number(count));
        Work { each: self.number(1), loop_only: None, stitch: self.grid.stitch, below: 0, places, ambiguous: false }
    }

    fn long(&self) -> StitchId {
        self.lower.stitches.find("dc", Terms::Us).unwrap_or(self.grid.stitch)
    }

    fn number(&self, value: u32) -> Sized {
        self.lower.same(self.span, value)
    }
}
