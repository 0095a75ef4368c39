//! Grids: what their signs mean, what must hold of them, and the rows of a piece that are worked by them.

use std::collections::BTreeMap;

use super::super::model::{Grid, GridRow, Square, SquareKind};
use super::{Lower, codes};
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Severity, Span};
use crate::stitch::{StitchId, Terms};
use crate::syntax::tree::{self, File, GridLine, Header, KindWhat, LegendEntry, LineKind, Sort, Squares, Technique};
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
        let said = self.findings.len();
        for ((at, row), stated) in rows {
            if let Some(stated) = stated {
                self.count_squares(grid, &row.squares, stated, &format!("row {} of the grid {}", at + 1, grid.name));
            }
        }
        // A row that has other squares than it states has changed the whole as well.
        if let Some(stated) = stated.all.filter(|_| self.findings.len() == said) {
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
}

fn same_sign(one: char, other: char) -> bool {
    one == other || one.to_lowercase().eq(other.to_lowercase())
}
