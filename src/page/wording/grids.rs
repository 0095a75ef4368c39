//! Colours within a line, and rows that are worked by a grid.

use crate::page::{Hand, Wording};
use crate::pattern::model::{
    ColourWork, Extent, Grid, GridStep, ItemKind, Kind, Line, Piece, Repeat, RepeatBody, Sized, SquareKind, Step,
    StepKind, Technique, Where, Work, each_step,
};

use super::context::Told;
use super::label;
use super::names::{Amount, Term, Voice};
use super::phrase::Phrase;
use super::teller::{Inside, Teller};

impl Teller<'_> {
    /// `sc in next 10 sts (4 A, 2 B, 4 A)`, as books write the colours of a row.
    pub fn colours(&mut self, steps: &[Step]) -> Phrase {
        let runs = runs(steps);
        let works: Vec<&Work> = runs.iter().filter_map(|(_, step)| work_of(step)).collect();
        if works.len() == runs.len()
            && let Some((all, counts)) = one_stitch(&works)
            && self.inside == Inside::Line
        {
            let told = self.work(&all);
            return told.then(self.by_colour(&runs, &counts));
        }
        let told = runs.into_iter().map(|(yarn, step)| {
            let told = self.step(&step.kind, step.span);
            match yarn {
                Some(yarn) if !told.is_empty() => told.say(" with ").then(Phrase::quoted(yarn)),
                _ => told,
            }
        });
        let told = told.filter(|phrase| !phrase.is_empty()).collect();
        Phrase::list(told, ", ")
    }

    /// ` (4 A, 2 B, 4 A)`, or ` with A` for one colour.
    fn by_colour(&mut self, runs: &[(Option<&str>, &Step)], counts: &[&Sized]) -> Phrase {
        if let [(Some(yarn), _)] = runs {
            return Phrase::of(" with ").then(Phrase::quoted(*yarn));
        }
        let aloud = self.voice.words == Wording::Aloud;
        let parts =
            runs.iter().zip(counts).filter(|(_, count)| !self.voice.numbers(count, self.concerned).is_nothing());
        let parts: Vec<Phrase> = parts
            .map(|((yarn, _), count)| {
                let number = Phrase::from(self.voice.numbers(count, self.concerned));
                let number = if aloud { number.say(" in ") } else { number.say(" ") };
                number.then(Phrase::quoted(yarn.unwrap_or_default())).tied()
            })
            .collect();
        if aloud {
            Phrase::of(", of these ").then(Phrase::and(parts))
        } else {
            Phrase::of(" (").then(Phrase::list(parts, ", ")).say(")")
        }
    }

    /// A row of a grid, in the direction in which it is worked.
    pub fn grid(&mut self, step: &GridStep) -> Phrase {
        let sides = self.sides.clone();
        match sides.as_slice() {
            [] => self.grid_from(step, true),
            [(side, _)] => self.grid_from(step, *side),
            several => {
                let told = several.iter().map(|(side, sizes)| {
                    let told = self.clone().grid_from(step, *side);
                    told.then(label::in_sizes(self.voice, sizes))
                });
                Phrase::list(told.collect(), ", ")
            }
        }
    }

    /// A row of a grid that is one run of one stitch, as that step.
    pub(super) fn as_one_run(&self, step: &Step) -> Option<Step> {
        let StepKind::Grid(row) = &step.kind else { return None };
        let [(facing, _)] = self.sides.as_slice() else { return None };
        match self.voice.pattern.grids.get(row.grid)?.technique {
            Technique::Filet | Technique::Corner => None,
            Technique::Plain | Technique::Overlay | Technique::Inset => {
                one_run(if *facing { &row.facing } else { &row.away })
            }
        }
    }

    fn grid_from(&mut self, step: &GridStep, facing: bool) -> Phrase {
        let steps = if facing { &step.facing } else { &step.away };
        let Some(grid) = self.voice.pattern.grids.get(step.grid) else { return Phrase::default() };
        match grid.technique {
            Technique::Filet => self.squares(grid, step, facing != self.mirrored),
            Technique::Corner => self.blocks(grid, step),
            Technique::Plain | Technique::Overlay | Technique::Inset => match one_run(steps) {
                Some(all) => Phrase::list(self.steps(&[all]), ", "),
                None => Phrase::list(self.steps(steps), ", "),
            },
        }
    }

    /// `a new block, then a block in each of next 2 ch-3 sps (2 A, 1 B)`.
    fn blocks(&mut self, grid: &Grid, step: &GridStep) -> Phrase {
        let diagonal = usize::try_from(step.row).unwrap_or(usize::MAX);
        let squares = grid.diagonal(diagonal);
        let (grows, goes_on) = grid.grows(diagonal);
        let space = |amount| self.voice.kind(Kind::Space(3), amount);
        let more = squares.len().saturating_sub(1);
        let first = match (diagonal, grows) {
            // The starting chain has the three chains and the base of the block already.
            (0, _) => Phrase::default()
                .with(self.voice.stitch(grid.stitch))
                .say(" in 4th ")
                .then(self.voice.kind(Kind::Chain, Amount::One))
                .say(" from hook and in each of next 2 ")
                .then(self.voice.kind(Kind::Chain, Amount::Many))
                .say(": the first block"),
            (_, true) => Phrase::of("a new block"),
            (_, false) => Phrase::of("slip to first ").then(space(Amount::One)).say(", a block in it"),
        };
        let then = match more {
            0 => Phrase::default(),
            1 => Phrase::of(", a block in next ").then(space(Amount::One)),
            _ => Phrase::of(format!(", a block in each of next {more} ")).then(space(Amount::Many)),
        };
        let end = Phrase::of(", ").with(self.voice.term(Term::SlipStitch)).say(" in last ").then(space(Amount::One));
        let told = first.then(then).then(by_blocks(grid, &squares, self.voice.words == Wording::Aloud));
        if goes_on { told } else { told.then(end) }
    }

    /// `3 open squares, 2 filled squares`.
    fn squares(&mut self, grid: &Grid, step: &GridStep, facing: bool) -> Phrase {
        let row = usize::try_from(step.row).unwrap_or(usize::MAX);
        let mut places: Vec<usize> = (0..grid.width()).collect();
        if facing {
            places.reverse();
        }
        let filled = |place: &usize| grid.at(row, *place).is_some_and(|square| square.what == SquareKind::Filled);
        let squares = |number: usize, filled: bool| {
            let word = if filled { "filled" } else { "open" };
            Phrase::of(crate::words::count(number, &format!("{word} square"))).tied()
        };
        // The last square of a round is closed by what the round begins with.
        let closed = places.last().copied().filter(|_| step.closes && step.extent.is_none());
        let whole = places.len().saturating_sub(usize::from(closed.is_some()));
        let runs = places.get(..whole).unwrap_or_default().chunk_by(|one, other| filled(one) == filled(other));
        let mut told: Vec<Phrase> = runs.map(|run| squares(run.len(), run.first().is_some_and(filled))).collect();
        let end = || Phrase::default().with(self.voice.stitch(grid.stitch));
        told.extend(closed.map(|last| squares(1, filled(&last)).say(" without its last ").then(end())));
        let told = Phrase::list(told, ", ");
        let end = if step.closes { Phrase::of(", omitting last ").then(end()) } else { Phrase::default() };
        self.went_into(self.noun);
        let Some((extent, _)) = &step.extent else { return told };
        let far = self.extent(extent).then(end);
        match extent {
            _ if self.voice.words == Wording::Aloud => Phrase::of("over and over ").then(far).say(", ").then(told),
            Extent::Times(_) | Extent::Till(_) => Phrase::of("[").then(told).say("] ").then(far),
        }
    }
}

/// ` (2 A, 1 B)`: the yarns of some blocks, one after the other.
fn by_blocks(grid: &Grid, squares: &[(usize, usize)], aloud: bool) -> Phrase {
    let yarn = |square: &(usize, usize)| grid.yarn_at(square.0, square.1).unwrap_or_default();
    let runs = squares.chunk_by(|one, other| yarn(one) == yarn(other));
    let told = runs.map(|run| {
        let of = run.first().map_or("", yarn);
        Phrase::of(run.len().to_string()).say(if aloud { " in " } else { " " }).then(Phrase::quoted(of)).tied()
    });
    let told: Vec<Phrase> = told.collect();
    if aloud {
        Phrase::of(", of these ").then(Phrase::and(told))
    } else {
        Phrase::of(" (").then(Phrase::list(told, ", ")).say(")")
    }
}

/// A repeat of one run alone goes on in one stitch: `sc in each st around with A`.
fn one_run(steps: &[Step]) -> Option<Step> {
    let [Step { span, kind: StepKind::Repeat(Repeat { body: RepeatBody::Steps(body, None), extent, .. }) }] = steps
    else {
        return None;
    };
    let Extent::Till(till) = extent else { return None };
    let [Step { kind, .. }] = body.as_slice() else { return None };
    let places = Where::Till(till.clone());
    let on = |work: &Work| StepKind::Work(Work { places: places.clone(), ..work.clone() });
    let kind = match kind {
        StepKind::Work(work) => on(work),
        StepKind::Colours(runs) => match runs.as_slice() {
            [yarn @ Step { kind: StepKind::ChangeTo(_), .. }, Step { span, kind: StepKind::Work(work) }] => {
                StepKind::Colours(vec![yarn.clone(), Step { span: *span, kind: on(work) }])
            }
            _ => return None,
        },
        _ => return None,
    };
    Some(Step { span: *span, kind })
}

/// Runs of colours: the yarn, where it is named, and the step that is worked in it.
fn runs(steps: &[Step]) -> Vec<(Option<&str>, &Step)> {
    let mut yarn = None;
    let mut runs = Vec::new();
    for step in steps {
        if let StepKind::ChangeTo(name) = &step.kind {
            yarn = Some(name.as_str());
        } else {
            runs.push((yarn, step));
        }
    }
    runs
}

fn work_of(step: &Step) -> Option<&Work> {
    if let StepKind::Work(work) = &step.kind { Some(work) } else { None }
}

/// One stitch for all runs, over as many places as they have together, with the places of each.
fn one_stitch<'w>(works: &[&'w Work]) -> Option<(Work, Vec<&'w Sized>)> {
    let first = *works.first()?;
    let counts: Option<Vec<&Sized>> = works
        .iter()
        .map(|work| match &work.places {
            Where::Count(number) => Some(number),
            Where::CountOf(..) | Where::Till(_) | Where::Each(..) | Where::Skipped(..) | Where::In(_) => None,
        })
        .collect();
    let counts = counts?;
    let alike = works.iter().all(|work| {
        (work.stitch, work.loop_only, work.below) == (first.stitch, first.loop_only, first.below)
            && work.each.single() == Some(1)
    });
    let sizes = counts.first()?.values.len();
    let sum = |size: usize| counts.iter().fold(0_u32, |sum, count| sum.saturating_add(count.get(size)));
    let all = Sized { span: first.each.span, values: (0..sizes).map(sum).collect() };
    alike.then(|| (Work { places: Where::Count(all), ..first.clone() }, counts))
}

/// What is said once in a piece of its colours and its grids, before its lines.
#[must_use]
pub fn grid_notes(told: Told<'_>, hand: Hand) -> Vec<Phrase> {
    let mut notes = Vec::new();
    let grids = grids_of(told.piece);
    let all = &told.voice.pattern.grids;
    let blocks = grids.iter().filter_map(|grid| all.get(*grid)).any(|grid| grid.technique == Technique::Corner);
    if has_colours(told.piece) {
        notes.push(colour_work(told, blocks));
    }
    for grid in grids.iter().filter_map(|grid| all.get(*grid)) {
        notes.push(how_read(told, grid, hand));
    }
    let mut techniques: Vec<&Grid> = grids.iter().filter_map(|grid| all.get(*grid)).collect();
    techniques.dedup_by_key(|grid| (grid.technique, grid.stitch));
    notes.extend(techniques.into_iter().filter_map(|grid| technique(told.voice, grid)));
    notes
}

/// How many blocks of corner to corner a line makes, where that is all it makes.
pub(super) fn blocks_of(voice: &Voice<'_>, line: &Line) -> Option<usize> {
    let [Step { kind: StepKind::Grid(step), .. }, ..] = line.steps.as_slice() else { return None };
    let grid = voice.pattern.grids.get(step.grid).filter(|grid| grid.technique == Technique::Corner)?;
    Some(grid.diagonal(usize::try_from(step.row).ok()?).len())
}

/// The grids that a piece is worked by, in the order of its lines.
pub(crate) fn grids_of(piece: &Piece) -> Vec<usize> {
    let mut found = Vec::new();
    each_line(piece, &mut |line| {
        each_step(&line.steps, &mut |step| {
            if let StepKind::Grid(grid) = &step.kind
                && !found.contains(&grid.grid)
            {
                found.push(grid.grid);
            }
        });
    });
    found
}

/// The grids that a piece is worked by, and for each row whether it was begun with the right side facing.
#[must_use]
pub fn grid_sides(told: Told<'_>) -> Vec<(usize, Vec<bool>)> {
    let mut sides: Vec<(usize, Vec<bool>)> = grids_of(told.piece).into_iter().map(|grid| (grid, Vec::new())).collect();
    for (at, item) in told.piece.items.iter().enumerate() {
        let ItemKind::Work(line) = &item.kind else { continue };
        let Some(side) = told.voice.sizes.iter().find_map(|&size| told.worked_in(at, size).next()) else { continue };
        each_step(&line.steps, &mut |step| {
            let StepKind::Grid(step) = &step.kind else { return };
            let of = sides.iter_mut().find(|(grid, _)| *grid == step.grid);
            let inset = told.voice.pattern.grids.get(step.grid).is_some_and(|grid| grid.technique == Technique::Inset);
            let row = usize::try_from(step.row).unwrap_or(usize::MAX);
            if let Some((_, rows)) = of
                && (!inset || row.is_multiple_of(2))
                && rows.len() == if inset { row / 2 } else { row }
            {
                rows.push(side.right_side);
            }
        });
    }
    sides
}

fn each_line(piece: &Piece, see: &mut dyn FnMut(&Line)) {
    for item in &piece.items {
        if let ItemKind::Work(line) = &item.kind {
            see(line);
        }
    }
}

/// Whether some line of a piece has several colours.
pub(super) fn has_colours(piece: &Piece) -> bool {
    let mut found = false;
    each_line(piece, &mut |line| {
        each_step(&line.steps, &mut |step| found |= matches!(step.kind, StepKind::Colours(_)));
    });
    found
}

/// Whether a line is worked by a grid of filet.
pub(super) fn is_filet(voice: &Voice<'_>, line: &Line) -> bool {
    let mut found = false;
    each_step(&line.steps, &mut |step| {
        if let StepKind::Grid(step) = &step.kind {
            found |= voice.pattern.grids.get(step.grid).is_some_and(|grid| grid.technique == Technique::Filet);
        }
    });
    found
}

/// Whether a line is worked by a grid.
pub(super) fn is_by_grid(line: &Line) -> bool {
    let mut found = false;
    each_step(&line.steps, &mut |step| found |= matches!(step.kind, StepKind::Grid(_)));
    found
}

/// How colours are changed, and what is done with those that are not in use. Common practice, no source.
#[must_use]
pub fn colour_work(told: Told<'_>, blocks: bool) -> Phrase {
    let stitch = |amount| told.voice.kind(Kind::AnyStitch, amount);
    let things = if blocks { Phrase::of("blocks") } else { stitch(Amount::Many) };
    let change = Phrase::of(told.voice.spelt("Colours: the number before a colour says for how many ")).then(things);
    let change = change
        .say(&told.voice.spelt(" it is used. Change colour in the last pull-through of the "))
        .then(stitch(Amount::One));
    let change = change.say(&told.voice.spelt(" before: its last loop is drawn through with the new colour. "));
    change.say(&told.voice.spelt(match told.piece.colours.unwrap_or_default() {
        ColourWork::Carried => {
            "Lay the colours that are not in use along the edge below and work over them; don’t cut them between changes."
        }
        ColourWork::Stranded => {
            "Let the colours that are not in use run loosely along the wrong side; don’t work over them, and don’t cut them \
             between changes."
        }
        ColourWork::Apart => {
            "Take a ball or bobbin of its own for each area of colour and carry nothing along: drop the yarn where its area \
             ends, and cross the two there, so that no hole is left."
        }
    }))
}

/// From where the rows of a grid are read.
fn how_read(told: Told<'_>, grid: &Grid, hand: Hand) -> Phrase {
    let (first, second) = match hand {
        Hand::Right => ("right to left", "left to right"),
        Hand::Left => ("left to right", "right to left"),
    };
    let chart = Phrase::of("Chart ")
        .then(Phrase::quoted(&grid.name))
        .say(" is seen from the right side, and its row 1 is at the bottom. ");
    let rows = label::line_word(told.voice, told.piece.way.rounds(), Amount::Many);
    if grid.technique == Technique::Corner {
        let corner = match hand {
            Hand::Right => "lower right",
            Hand::Left => "lower left",
        };
        let begun =
            chart.say("It is worked on the diagonal from its ").say(corner).say(" corner to the opposite one; ");
        return begun.say("the lines below say which squares.");
    }
    let numbered = chart_rows(told, grid).unwrap_or_default();
    let turns = told.piece.items.iter().position(|item| matches!(&item.kind, ItemKind::Work(line) if is_by_grid(line)));
    let chart = if told.turns(turns.unwrap_or(0)) {
        let right = Phrase::default().with(told.voice.term(Term::RightSide)).say(" ").then(rows.clone());
        let wrong = Phrase::default().with(told.voice.term(Term::WrongSide)).say(" ").then(rows);
        let told = chart.say("Read it from ").say(first).say(" in ").then(right);
        told.say(" and from ").say(second).say(" in ").then(wrong)
    } else {
        chart.say("Read it from ").say(first).say(" in all ").then(rows)
    };
    chart.say("; the lines below say the same in words.").then(numbered)
}

/// ` Row 2 works its row 1, Row 3 its row 2, and so on.`, where the rows of a grid have other numbers than those of the piece.
fn chart_rows(told: Told<'_>, grid: &Grid) -> Option<Phrase> {
    let each = if grid.technique == Technique::Inset { 2 } else { 1 };
    let mut firsts: Vec<[(usize, Vec<u32>); 2]> = Vec::new();
    let mut round = false;
    for &size in &told.voice.sizes {
        let mut worked: Vec<(u32, u32)> = Vec::new();
        for (at, item) in told.piece.items.iter().enumerate() {
            let ItemKind::Work(line) = &item.kind else { continue };
            each_step(&line.steps, &mut |step| {
                if let StepKind::Grid(step) = &step.kind
                    && told.voice.pattern.grids.get(step.grid).is_some_and(|of| of.span == grid.span)
                {
                    round |= line.round;
                    worked.extend(told.worked_in(at, size).map(|row| (row.number, step.row)));
                }
            });
        }
        worked.sort_unstable();
        let (first, _) = *worked.first().filter(|(_, row)| *row == 0)?;
        let in_order = |(number, row): &(u32, u32)| number.checked_sub(first).is_some_and(|before| before == *row);
        if !worked.iter().all(in_order) || worked.len() < 2 || (each == 1 && first == 1) {
            return None;
        }
        let rows = |from: u32| (0..each).map(|more| first.saturating_add(from).saturating_add(more)).collect();
        firsts.push([(size, rows(0)), (size, rows(each))]);
    }
    let numbers = |nth: usize| firsts.iter().filter_map(|of| of.get(nth).cloned()).collect::<Vec<_>>();
    let rows = |nth: usize| label::of_each(told.voice, round, &numbers(nth));
    let work = if each == 1 { " works" } else { " work" };
    let said = Phrase::of(" ").then(rows(0)).say(work).say(" its row 1, ").then(rows(1));
    Some(said.say(" its row 2, and so on."))
}

/// What a technique asks for. Common practice, no source.
fn technique(voice: &Voice<'_>, grid: &Grid) -> Option<Phrase> {
    let one = || voice.kind(Kind::AnyStitch, Amount::One);
    let many = || voice.kind(Kind::AnyStitch, Amount::Many);
    let chain = || Phrase::default().with(voice.term(Term::Chain));
    let space = || voice.kind(Kind::Space(2), Amount::One);
    let stitch = || Phrase::default().with(voice.stitch(grid.stitch));
    match grid.technique {
        Technique::Plain => None,
        Technique::Corner => Some(corner(voice, grid)),
        Technique::Filet => {
            let skip = voice.skip();
            let open = Phrase::of("Open square: ").then(chain()).say(" 2, ").say(skip).say(" next 2 ").then(many());
            let open = open.say(" or next ").then(space()).say(", ").then(stitch()).say(" in next ").then(one());
            let filled = Phrase::of(". Filled square: ").then(stitch()).say(" in each of next 3 ").then(many());
            let filled =
                filled.say("; over an open square 2 ").then(stitch()).say(" in its ").then(space()).say(" and ");
            Some(open.then(filled).then(stitch()).say(" in next ").then(one()).say("."))
        }
        Technique::Overlay => {
            Some(
                Phrase::of(voice.spelt(
                    "Overlay mosaic: each row of the chart has one colour, which the lines below name. The long ",
                ))
                .then(many())
                .say(" lie on top of the row below, and the ")
                .then(one())
                .say(" behind each of them is left unworked."),
            )
        }
        Technique::Inset => Some(
            Phrase::of(voice.spelt(
                "Inset mosaic: each row of the chart is worked to and fro in one colour, which the lines below name. ",
            ))
            .say("The long ")
            .then(many())
            .say(" go in front of the ")
            .then(voice.kind(Kind::Chain, Amount::Many))
            .say(" into the ")
            .then(many())
            .say(" that these were worked over, so that the ")
            .then(voice.kind(Kind::Chain, Amount::Many))
            .say(" lie behind them."),
        ),
    }
}

/// How the blocks of corner to corner are made. Common practice, no source.
fn corner(voice: &Voice<'_>, grid: &Grid) -> Phrase {
    let chain = || Phrase::default().with(voice.term(Term::Chain));
    let stitch = || Phrase::default().with(voice.stitch(grid.stitch));
    let hook = Phrase::of("New block: ").then(chain()).say(" 6, ").then(stitch()).say(" in 4th ");
    let hook = hook.then(chain()).say(" from hook and in each of next 2 ").then(voice.kind(Kind::Chain, Amount::Many));
    let hook = hook.say("; the 3 skipped ").then(voice.kind(Kind::Chain, Amount::Many)).say(" are its ");
    let hook = hook.then(voice.kind(Kind::Space(3), Amount::One)).say("; lay it along the block below. Block in a ");
    let block = hook.then(voice.kind(Kind::Space(3), Amount::One)).say(": ").with(voice.term(Term::SlipStitch));
    let block = block.say(" in the ").with(voice.term(Term::Space)).say(", ").then(chain()).say(" 3, 3 ");
    let block = block.then(stitch()).say(" in same ").with(voice.term(Term::Space)).say(". Slip to first ");
    let slip = block.then(voice.kind(Kind::Space(3), Amount::One)).say(": ").with(voice.term(Term::SlipStitch));
    let slip = slip.say(" along the block below and into its ").then(voice.kind(Kind::Space(3), Amount::One));
    slip.say("; that is the ").with(voice.term(Term::SlipStitch)).say(" of the block that follows in it.")
}
