//! Grids: what their signs mean, what must hold of them, and the rows of a piece that are worked by them.

use std::collections::BTreeMap;

use super::super::model::{
    Extent, Grid, GridRow, GridStep, Item, ItemKind, Kind, Line, PartMut, Place, Repeat, RepeatBody, Sized, Square,
    SquareKind, Step, StepKind, Where, Work, each_step,
};
use super::{Lower, codes};
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Severity, Span};
use crate::stitch::{StitchId, Terms};
use crate::syntax::tree::{
    self, File, GridLine, Header, KindWhat, LegendEntry, LineKind, LoopOnly, Sort, Squares, Technique,
};
use crate::words::count;

/// A grid as it is read: what is stated of it, and of its rows from the top to the bottom.
#[derive(Debug, Default)]
struct Stated<'t> {
    all: Option<&'t tree::Stated>,
    rows: Vec<Option<&'t tree::Stated>>,
}

impl Lower {
    /// Reads every grid. Their yarns and stitches are known by then.
    pub(super) fn read_grids(&mut self, file: &File) {
        let mut stated: Vec<Stated<'_>> = Vec::new();
        for line in &file.lines {
            let LineKind::Header(header) = &line.kind else { continue };
            match header {
                Header::Grid(grid) => {
                    self.new_grid(grid);
                    stated.push(Stated { all: grid.stated.as_ref(), rows: Vec::new() });
                }
                Header::Legend(entries) => self.legend(entries, line.span),
                Header::Squares(squares) => {
                    if let Some(stated) = stated.last_mut() {
                        stated.rows.push(squares.stated.as_ref());
                    }
                    self.squares(squares);
                }
                _ => {}
            }
        }
        for (at, stated) in stated.into_iter().enumerate() {
            self.check_grid(at, &stated);
        }
    }

    fn new_grid(&mut self, line: &GridLine) {
        if let Some(first) = self.grids.iter().find(|grid| grid.name.eq_ignore_ascii_case(&line.name.text)) {
            let message = format!("two grids are called {}", line.name.text);
            let finding = Diagnostic::error(codes::TWICE, message, line.name.span, "called the same")
                .with_other(first.span, "the first of them")
                .with_help("give each grid a name of its own");
            self.findings.push(finding);
        }
        let usual = match line.technique {
            Technique::Plain | Technique::Overlay | Technique::Inset => "sc",
            Technique::Filet | Technique::Corner => "dc",
        };
        let stitch = match &line.stitch {
            Some(stitch) => self.stitch(&stitch.text, stitch.span),
            None => self.stitches.find(usual, Terms::Us).unwrap_or(StitchId(0)),
        };
        self.grids.push(Grid {
            name: line.name.text.clone(),
            technique: line.technique,
            stitch,
            legend: Vec::new(),
            rows: Vec::new(),
            span: line.name.span,
            faulty: false,
        });
    }

    fn legend(&mut self, entries: &[LegendEntry], span: Span) {
        let Some(grid) = self.grids.len().checked_sub(1) else { return self.no_grid_yet(span) };
        for entry in entries {
            let sign = entry.sign.text.chars().next().unwrap_or_default();
            let what = self.square_kind(grid, entry);
            let Some(grid) = self.grids.get_mut(grid) else { return };
            if grid.legend.iter().any(|square| same_sign(square.sign, sign)) {
                let message = format!("the sign `{sign}` has two meanings");
                let finding = Diagnostic::error(codes::GRID_SIGN, message, entry.sign.span, "explained again");
                self.findings.push(finding.with_help("give each sign one meaning; capitals make no difference"));
            } else {
                grid.legend.push(Square { sign, what });
            }
        }
    }

    fn square_kind(&mut self, grid: usize, entry: &LegendEntry) -> SquareKind {
        let technique = self.grids.get(grid).map_or(Technique::Plain, |grid| grid.technique);
        let word = entry.what.text.to_lowercase();
        let yarn = self.known_yarn(&entry.what.text);
        match (technique, word.as_str()) {
            (Technique::Filet, "open") => SquareKind::Open,
            (Technique::Filet, "filled") => SquareKind::Filled,
            (Technique::Filet, _) => {
                self.wrong_square(entry, "the squares of filet are `open` or `filled`");
                SquareKind::Unknown
            }
            (_, _) if entry.yarn.is_none() && yarn.is_some() => SquareKind::Yarn(yarn.unwrap_or_default()),
            (Technique::Plain, _) => {
                let stitch = self.stitch(&entry.what.text, entry.what.span);
                SquareKind::Stitch(stitch, entry.yarn.as_ref().map(|yarn| self.yarn(yarn)))
            }
            (Technique::Overlay | Technique::Inset | Technique::Corner, _) if entry.yarn.is_some() => {
                self.wrong_square(entry, "here a sign stands for a yarn: which stitch it is follows from the grid");
                SquareKind::Unknown
            }
            (Technique::Overlay | Technique::Inset | Technique::Corner, _) => SquareKind::Yarn(self.yarn(&entry.what)),
        }
    }

    fn wrong_square(&mut self, entry: &LegendEntry, help: &str) {
        let message = format!("the sign `{}` can't mean that in this grid", entry.sign.text);
        self.findings.push(Diagnostic::error(codes::GRID_SIGN, message, entry.what.span, "not here").with_help(help));
    }

    fn no_grid_yet(&mut self, span: Span) {
        if self.lost.has(Sort::Grid) {
            return;
        }
        let finding = Diagnostic::error(codes::GRID_SIGN, "no grid has begun yet", span, "belongs to a grid");
        self.findings.push(finding.with_help("write a line such as `grid Gulls` above, which gives the grid its name"));
    }

    /// A row of a grid, which stands below those that are above it.
    fn squares(&mut self, squares: &Squares) {
        let Some(at) = self.grids.len().checked_sub(1) else { return self.no_grid_yet(squares.span) };
        let mut row = GridRow { squares: Vec::new(), spans: Vec::new(), span: squares.span };
        for sign in &squares.signs {
            let letter = sign.text.chars().next().unwrap_or_default();
            let yarn = self.known_yarn(&sign.text);
            let Some(grid) = self.grids.get_mut(at) else { return };
            let known = grid.legend.iter().position(|square| same_sign(square.sign, letter));
            let square = known.unwrap_or_else(|| {
                let what = match yarn {
                    Some(yarn) if grid.technique != Technique::Filet => SquareKind::Yarn(yarn),
                    Some(_) | None => SquareKind::Unknown,
                };
                grid.legend.push(Square { sign: letter, what });
                grid.legend.len() - 1
            });
            row.squares.push(square);
            row.spans.push(sign.span);
        }
        if let Some(grid) = self.grids.get_mut(at) {
            grid.rows.insert(0, row);
        }
    }

    // ---- What must hold

    fn check_grid(&mut self, at: usize, stated: &Stated<'_>) {
        let before = self.findings.len();
        let Some(grid) = self.grids.get(at).cloned() else { return };
        // A row or the legend may be in a line that can't be read.
        if self.lost.has(Sort::Grid) {
            if let Some(grid) = self.grids.get_mut(at) {
                grid.faulty = true;
            }
            return;
        }
        if grid.rows.is_empty() {
            let message = format!("the grid {} has no rows", grid.name);
            let finding = Diagnostic::error(codes::GRID_WIDTH, message, grid.span, "nothing in it");
            self.findings.push(finding.with_help("write its rows below it, the top one first, as `|AABBAA|`"));
        }
        self.unknown_signs(&grid);
        self.widths(&grid);
        // What the legend says wrongly is a finding already.
        let unknown = grid.legend.iter().any(|square| square.what == SquareKind::Unknown);
        if self.findings.len() == before && !unknown {
            self.mosaic_colours(&grid);
            self.counts_of_squares(&grid, stated);
        }
        let faulty = unknown || self.findings.len() > before;
        if let Some(grid) = self.grids.get_mut(at) {
            grid.faulty = faulty;
        }
    }

    /// Signs that no legend explains, each once.
    fn unknown_signs(&mut self, grid: &Grid) {
        // A legend that says something wrong may go on with what is not explained yet.
        if self.legend_is_wrong(grid) {
            return;
        }
        let unknown = grid.legend.iter().enumerate().filter(|(_, square)| square.what == SquareKind::Unknown);
        for (at, square) in unknown {
            let place = grid.rows.iter().enumerate().rev().find_map(|(row, squares)| {
                let place = squares.squares.iter().position(|square| *square == at)?;
                Some((row, place, *squares.spans.get(place)?))
            });
            let Some((row, place, span)) = place else { continue };
            if self.may_be_lost(Sort::Yarn, span) {
                continue;
            }
            let sign = square.sign;
            let message = format!("nothing says what `{sign}` is in the grid {}", grid.name);
            let label = format!("row {}, square {} from the left", row + 1, place + 1);
            let help = match grid.technique {
                Technique::Filet => format!("explain it below the name of the grid: `legend {sign} = open`"),
                _ => format!(
                    "a sign is the letter of a yarn, or is explained below the name of the grid: `legend {sign} = …`"
                ),
            };
            self.findings.push(Diagnostic::error(codes::GRID_SIGN, message, span, label).with_help(help));
        }
    }

    /// Whether something was said of the legend of a grid already.
    fn legend_is_wrong(&self, grid: &Grid) -> bool {
        let from = grid.span.start;
        let to = grid.rows.last().map_or(from, |row| row.span.start);
        self.findings
            .iter()
            .any(|finding| finding.severity == Severity::Error && (from..to).contains(&finding.primary.span.start))
    }

    /// Every row is as wide as most of them.
    fn widths(&mut self, grid: &Grid) {
        let mut widths: BTreeMap<usize, usize> = BTreeMap::new();
        for row in &grid.rows {
            *widths.entry(row.squares.len()).or_default() += 1;
        }
        let Some((&wanted, _)) = widths.iter().max_by_key(|(width, rows)| (**rows, **width)) else { return };
        for (at, row) in grid.rows.iter().enumerate().rev().filter(|(_, row)| row.squares.len() != wanted) {
            let width = row.squares.len();
            let message = format!(
                "row {} of the grid {} has {}, and the others have {wanted}",
                at + 1,
                grid.name,
                count(width, "square")
            );
            let (span, label) = if width > wanted {
                let over = row.spans.get(wanted..).unwrap_or_default();
                let first = over.first().copied().unwrap_or(row.span);
                (first.to(over.last().copied().unwrap_or(first)), format!("{} too many", width - wanted))
            } else {
                (row.span, format!("{} too few", wanted - width))
            };
            let finding = Diagnostic::error(codes::GRID_WIDTH, message, span, label);
            self.findings.push(finding.with_help("rows are counted from the bottom; write one sign for each square"));
        }
    }

    /// In a mosaic a row has one yarn, that of its first square. A square of another one is covered by a long stitch of the
    /// row above it, and so has that row's yarn, and that row's own square above it.
    fn mosaic_colours(&mut self, grid: &Grid) {
        if !matches!(grid.technique, Technique::Overlay | Technique::Inset) {
            return;
        }
        let mut wrong: Option<(usize, usize)> = None;
        for (at, row) in grid.rows.iter().enumerate().rev() {
            let own = grid.own_yarn(at);
            let above = grid.own_yarn(at + 1);
            let not_there = |place: &usize| {
                let here = grid.yarn_at(at, *place);
                // A square under a wrong one may be right.
                let below_wrong = here == above && wrong == Some((at + 1, *place));
                here != own && !below_wrong && (here != above || grid.yarn_at(at + 1, *place) != above)
            };
            let Some(place) = (0..row.squares.len()).find(not_there) else { continue };
            wrong = Some((at, place));
            let span = row.spans.get(place).copied().unwrap_or(row.span);
            let here = grid.yarn_at(at, place).unwrap_or_default();
            let own = own.unwrap_or_default();
            let number = at + 1;
            let message =
                format!("row {number} of the grid {} is worked in {own}, and {here} can't come there", grid.name);
            let label = format!("square {} from the left", place + 1);
            let help = match above {
                None => {
                    format!("this is the top row: nothing comes above it that could cover it, so it is all in {own}")
                }
                Some(above) if above != here => format!(
                    "a square that is not in the row's own yarn is covered from the row above, and row {} is worked in {above}",
                    number + 1
                ),
                Some(above) => {
                    format!("it is covered from the square above it, so that one has to be in {above} as well")
                }
            };
            let finding = Diagnostic::error(codes::GRID_COLOURS, message, span, label)
                .with_note(format!("a row has the yarn of its first square, here {own}"))
                .with_help(help);
            self.findings.push(finding);
        }
    }

    /// Counts of squares against what is stated of a row and of the whole grid.
    fn counts_of_squares(&mut self, grid: &Grid, stated: &Stated<'_>) {
        let rows = grid.rows.iter().enumerate().zip(stated.rows.iter().rev());
        for ((at, row), stated) in rows {
            if let Some(stated) = stated {
                self.count_squares(grid, &row.squares, stated, &format!("row {} of the grid {}", at + 1, grid.name));
            }
        }
        if let Some(stated) = stated.all {
            let all: Vec<usize> = grid.rows.iter().flat_map(|row| row.squares.iter().copied()).collect();
            self.count_squares(grid, &all, stated, &format!("the grid {}", grid.name));
        }
    }

    fn count_squares(&mut self, grid: &Grid, squares: &[usize], stated: &tree::Stated, what: &str) {
        let mut wrong: Option<Diagnostic> = None;
        let mut edits = Vec::new();
        let mut right = Vec::new();
        for part in &stated.parts {
            let wanted = self.sized(&part.amount);
            let Some(wanted) = wanted.single() else { continue };
            let name = match part.kind.as_ref().map(|kind| &kind.what) {
                Some(KindWhat::Stitch(name)) => Some(name.as_str()),
                Some(_) => continue,
                None => None,
            };
            let is_it = |square: &&usize| match (name, grid.legend.get(**square)) {
                (None, _) => true,
                (Some(name), Some(square)) => self.is_called(square, name),
                (Some(_), None) => false,
            };
            let known = name.is_none_or(|name| grid.legend.iter().any(|square| self.is_called(square, name)));
            let made = squares.iter().filter(is_it).count();
            let of = name.map_or_else(String::new, |name| format!(" of `{name}`"));
            let span = part.kind.as_ref().map_or(part.amount.span, |kind| part.amount.span.to(kind.span));
            if !known {
                let message = format!("{what} has no squares{of}");
                return self.findings.push(Diagnostic::error(codes::GRID_COUNT, message, span, "not in this grid"));
            }
            // One square too many of a sort is one too few of another.
            if u32::try_from(made).ok() != Some(wanted) {
                let message = format!("{what} has {}{of}, not {wanted}", count(made, "square"));
                edits.push(Edit { span: part.amount.span, text: made.to_string() });
                let label = format!("states {wanted}");
                wrong.get_or_insert_with(|| Diagnostic::error(codes::GRID_COUNT, message, span, label));
            }
            right.push(name.map_or_else(|| made.to_string(), |name| format!("{made} {name}")));
        }
        if let Some(finding) = wrong {
            let title = format!("state {}", right.join(" + "));
            self.findings.push(finding.with_fix(Fix { title, edits, safety: Safety::ChangesFabric }));
        }
    }

    /// Whether a square is called so: by its sign, its yarn or its stitch.
    fn is_called(&self, square: &Square, name: &str) -> bool {
        let by_sign = name.chars().count() == 1 && name.chars().all(|sign| same_sign(sign, square.sign));
        by_sign
            || match &square.what {
                SquareKind::Yarn(yarn) => yarn.eq_ignore_ascii_case(name),
                SquareKind::Stitch(stitch, yarn) => {
                    self.stitches.find(name, self.terms) == Some(*stitch)
                        || yarn.as_ref().is_some_and(|yarn| yarn.eq_ignore_ascii_case(name))
                }
                SquareKind::Open => name.eq_ignore_ascii_case("open"),
                SquareKind::Filled => name.eq_ignore_ascii_case("filled"),
                SquareKind::Unknown => false,
            }
    }

    // ---- What is worked

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
        StepKind::Grid(GridStep { grid, row: 0, extent, facing: Vec::new(), away: Vec::new() })
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
        for place in 0..passes.saturating_mul(rows) {
            let row = u32::try_from(place % rows).unwrap_or(u32::MAX);
            let number = line.number.map(|first| first.saturating_add(u32::try_from(place).unwrap_or(u32::MAX)));
            let right_side = line.right_side.filter(|_| place == 0);
            let mut one = Line { number, times: 1, right_side, ..line.clone() };
            let mut yarn = None;
            self.fill_grids(&mut one.steps, row, &mut yarn);
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

    /// Puts what is worked into each grid step of a list; a row of a mosaic names its yarn.
    fn fill_grids(&self, steps: &mut [Step], row: u32, yarn: &mut Option<String>) {
        for step in steps {
            let span = step.span;
            if let StepKind::Grid(step) = &mut step.kind {
                let Some(grid) = self.grids.get(step.grid) else { continue };
                step.row = row;
                let worked = usize::try_from(row).unwrap_or(usize::MAX);
                let builder = Builder { lower: self, grid, span };
                step.facing = repeated(builder.row(worked, Side::Facing), step.extent.as_ref(), span);
                step.away = repeated(builder.row(worked, Side::Away), step.extent.as_ref(), span);
                *yarn = yarn.take().or_else(|| builder.yarn_of_row(worked));
            } else {
                step.kind.each_part_mut(&mut |part| {
                    if let PartMut::Steps(steps) = part {
                        self.fill_grids(steps, row, yarn);
                    }
                });
            }
        }
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
        let edits = vec![Edit { span: line.label_span, text: better.clone() }];
        let fix = Fix { title: format!("number them `{better}`"), edits, safety: Safety::ChangesFabric };
        self.findings.push(finding.with_fix(fix));
    }

    /// Whether the present piece is worked in a way that the technique can't have.
    fn cannot_be_worked(&mut self, line: &Line, grid: usize, at: Span) -> bool {
        let alone = matches!(line.steps.as_slice(), [Step { kind: StepKind::Grid(GridStep { extent: None, .. }), .. }]);
        let (Some(grid), Some(piece)) = (self.grids.get(grid), self.pieces.last()) else { return true };
        let turned = piece.way == tree::Way::Rows || piece.turned;
        let works = |item: &Item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_));
        let worked = piece.items.iter().any(works);
        let (fault, help) = match grid.technique {
            Technique::Overlay if turned => (
                "overlay mosaic is worked from the right side only, and this piece turns",
                "say `in rows from one side` or `in joined rounds` on the `piece` line, or make the grid `mosaic inset`",
            ),
            Technique::Corner if piece.way != tree::Way::Rows => {
                ("corner to corner is worked in rows that turn", "say `in rows` on the `piece` line")
            }
            Technique::Corner if !alone => (
                "a grid from corner to corner makes whole rows by itself",
                "let the line say the grid alone, once: `rows 1-20: grid Sail`",
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

fn same_sign(one: char, other: char) -> bool {
    one == other || one.to_lowercase().eq(other.to_lowercase())
}

/// Steps that are done once, or in a repeat.
fn repeated(steps: Vec<Step>, extent: Option<&(Extent, Span)>, span: Span) -> Vec<Step> {
    let Some((extent, extent_span)) = extent else { return steps };
    let body = RepeatBody::Steps(steps, None);
    let repeat = Repeat { body, extent: extent.clone(), extent_span: *extent_span };
    vec![Step { span, kind: StepKind::Repeat(repeat) }]
}

/// Which side faces the maker.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Facing,
    Away,
}

/// Makes the steps of a row.
struct Builder<'a> {
    lower: &'a Lower,
    grid: &'a Grid,
    /// Where the line names the grid.
    span: Span,
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
    fn yarn_of_row(&self, worked: usize) -> Option<String> {
        let row = match self.grid.technique {
            Technique::Overlay => worked,
            Technique::Inset if worked.is_multiple_of(2) => worked / 2,
            Technique::Inset | Technique::Plain | Technique::Filet | Technique::Corner => return None,
        };
        self.grid.own_yarn(row).map(str::to_owned)
    }

    fn row(&self, worked: usize, side: Side) -> Vec<Step> {
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
        if side == Side::Facing {
            places.reverse();
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
            steps.push(self.work(Work { stitch, places, ..self.sc(run.count) }, run.span));
        }
        if coloured { vec![Step { span: self.span, kind: StepKind::Colours(steps) }] } else { steps }
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

    /// Squares of filet: each ends with a stitch, and the row begins on one.
    fn filet(&self, row: usize, side: Side) -> Vec<Step> {
        let filled = |place: usize| self.grid.at(row, place).is_some_and(|square| square.what == SquareKind::Filled);
        let step = |(run, filled): (Alike, bool)| {
            let body = if filled { self.filled(run.span) } else { self.open(run.span) };
            let extent = Extent::Times(self.number(run.count));
            let repeat = Repeat { body, extent, extent_span: run.span };
            Step { span: run.span, kind: StepKind::Repeat(repeat) }
        };
        self.runs(row, side, filled).into_iter().map(step).collect()
    }

    fn open(&self, span: Span) -> RepeatBody {
        let steps = vec![
            Step { span, kind: StepKind::Chain(self.number(2)) },
            Step { span, kind: StepKind::Skip(self.number(2), None) },
            self.work(self.sc(1), span),
        ];
        RepeatBody::Steps(steps, None)
    }

    /// Over a filled square a stitch in each; over an open one two of them go into its space.
    fn filled(&self, span: Span) -> RepeatBody {
        let each = self.number(2);
        let space = Work { each, places: Where::In(Place::NextOf(Kind::Space(2))), ..self.sc(1) };
        let over_open = vec![self.work(space, span), self.work(self.sc(1), span)];
        let over_filled = vec![self.work(self.sc(3), span)];
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
        let work = Work { each: self.number(BLOCK), places: Where::In(Place::Same), ..self.sc(1) };
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
