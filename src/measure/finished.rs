//! Finished measurements: what the head states against what the stitches come to.

use std::collections::BTreeMap;
use std::f64::consts::{PI, SQRT_2};

use super::rows::{PieceMeasure, RowMeasure, pieces};
use crate::fabric::{Fabric, row_by_number};
use crate::gauge::Source;
use crate::pattern::model::{Finished, ItemKind, Pattern, Piece, SeamSide, Start, StepKind};
use crate::units::{Length, Reckoned, Unit};
use crate::words;

/// Every finished measurement of the head, in order, for each size.
#[must_use]
pub fn compared(pattern: &Pattern, fabric: &Fabric) -> Vec<Vec<Compared>> {
    let measured = pieces(pattern, fabric);
    let shapes = Shapes { pattern, fabric, measured: &measured };
    let all = pattern.head.finished.iter();
    let mut compared: Vec<Vec<Compared>> =
        all.map(|finished| shapes.compared(finished, shapes.worked(finished))).collect();
    for (at, sizes) in shapes.turned(&compared) {
        if let Some(first) = compared.get_mut(at) {
            *first = sizes;
        }
    }
    compared
}

/// Whether a length that is stated of a piece is what its rows are wide: they may run along it. Nothing says so unless its width
/// is stated too.
#[must_use]
pub fn is_width_of_rows(pattern: &Pattern, fabric: &Fabric, finished: &Finished, size: usize) -> bool {
    let measured = pieces(pattern, fabric);
    let shapes = Shapes { pattern, fabric, measured: &measured };
    let turned = shapes.compared(finished, shapes.worked(finished).turned());
    turned.get(size).is_some_and(|one| one.made.is_some() && one.off(&finished.unit).is_none())
}

/// A finished measurement in one size.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// What is stated; nothing when there is nothing of it in this size.
    pub stated: Option<Length>,
    /// What the stitches come to; nothing when it can't be reckoned.
    pub made: Option<Made>,
}

/// What the stitches come to.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// How long that is.
    pub length: Reckoned,
    /// How it was reckoned.
    pub how: How,
    /// The piece, by its index; the one the others are worked on, when it is several.
    pub piece: usize,
    /// The number of the row that it was reckoned from; the last one under `Rows`.
    pub row: u32,
    /// Whether a gauge of the head stands behind it, and not only what is usual.
    pub by_swatch: bool,
}

/// How a measurement is reckoned from rows and stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum How {
    /// The stitches of a row, side by side.
    Across,
    /// The stitches of a round, side by side.
    Round,
    /// A round laid flat.
    HalfRound,
    /// A round as a circle, straight across.
    RoundOverPi,
    /// Twice the stitches of a row: wedges that make a circle.
    TwiceAcross,
    /// Rows or rounds, one above the other.
    Rows,
    /// From edge to edge over the middle: twice the rounds.
    TwiceRows,
    /// The starting chain and the rounds at both ends of it.
    ChainAndRows,
    /// A triangle from the middle of its long side: the slope of its rows.
    Slope,
    /// The long side of such a triangle.
    TwiceSlope,
    /// The piece and what is worked on its edges.
    WithEdges,
}

/// What a measurement was reckoned from: "the 72 stitches of round 1", "twice 18 rounds".
#[must_use]
pub fn reckoned_from(pattern: &Pattern, fabric: &Fabric, size: usize, made: &Made) -> String {
    let piece = pattern.pieces.get(made.piece);
    let rows = fabric.pieces.get(made.piece).and_then(|piece| piece.sizes.get(size)).map(|size| size.rows.as_slice());
    let row = rows.unwrap_or_default().iter().find(|row| row.number == made.row);
    let round = row.map_or(piece.is_some_and(|piece| piece.way.rounds()), |row| row.round);
    let word = if round { "round" } else { "row" };
    let (count, spaces) = row.map_or((0, 0), |row| (row.ledger.stitches, row.ledger.chains));
    let and_chains = if spaces > 0 { " and chains" } else { "" };
    let stitches = format!("{}{and_chains} of {word} {}", words::count(count, "stitch"), made.row);
    let lines = words::count(made.row, word);
    match made.how {
        How::Across | How::Round => format!("the {stitches}"),
        How::HalfRound => format!("half the {stitches}"),
        How::RoundOverPi => format!("a circle of the {stitches}"),
        How::TwiceAcross => format!("twice the {stitches}"),
        How::Rows => lines,
        How::TwiceRows => format!("twice {lines}, from edge to edge"),
        How::ChainAndRows => format!("the starting chain and twice {lines}"),
        How::Slope => format!("{lines} on the slope"),
        How::TwiceSlope => format!("twice {lines} on the slope"),
        How::WithEdges => {
            format!("{} with what is worked on its edges", piece.map_or("the piece", |piece| piece.name.as_str()))
        }
    }
}

impl Compared {
    /// How far the stitches are from what is stated, below 0 when they are less; nothing when they agree as far as can
    /// be told. Stated numbers are rounded to half a centimetre or a quarter of an inch, and the gauge has a doubt.
    #[must_use]
    pub fn off(&self, unit: &str) -> Option<Length> {
        let (stated, made) = (self.stated?, self.made.as_ref()?);
        let off = made.length.length - stated;
        (off.abs() > tolerance(made, unit)).then_some(off)
    }
}

/// How far a stated number may be off: the doubt of the gauge and the trade's rounding.
fn tolerance(made: &Made, unit: &str) -> Length {
    let rounding = match Unit::named(unit) {
        Some(Unit::Inch) => Length::millimetres(6.35),
        _ => Length::millimetres(5.0),
    };
    made.length.give + rounding
}

/// What a measurement is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Dimension {
    /// All round.
    Around,
    /// Straight across a circle.
    Diameter,
    /// From side to side.
    Width,
    /// Length, height, depth.
    Length,
    /// Whatever else is said: it may be either way.
    Other,
}

impl Dimension {
    pub(crate) fn named(what: &str) -> Self {
        let what = what.to_ascii_lowercase();
        let has = |words: &[&str]| words.iter().any(|word| what.contains(word));
        let is = |words: &[&str]| what.split_whitespace().any(|word| words.contains(&word));
        match () {
            () if has(&["around", "circumference"]) => Self::Around,
            () if has(&["diameter", "across"]) => Self::Diameter,
            () if has(&["width", "wide", "bust", "chest"]) => Self::Width,
            () if is(&["length", "long", "height", "high", "tall", "depth", "deep"]) => Self::Length,
            () => Self::Other,
        }
    }
}

/// Which way the rows of a piece run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Worked {
    /// From side to side, as nearly always: a row is as wide as the piece.
    Upright,
    /// Along its length, as in a band of ribbing: the rows make the width, or go round.
    Sideways,
}

impl Worked {
    fn turned(self) -> Self {
        match self {
            Self::Upright => Self::Sideways,
            Self::Sideways => Self::Upright,
        }
    }
}

/// The pieces, to take measurements from.
struct Shapes<'a> {
    pattern: &'a Pattern,
    fabric: &'a Fabric,
    measured: &'a [Option<PieceMeasure>],
}

impl Shapes<'_> {
    /// Which way the rows of a piece run by what is done with it: where its first row is joined to its last one, or rounds are
    /// worked on its row ends, its rows go round, and it is as high as a row is wide.
    fn worked(&self, finished: &Finished) -> Worked {
        let index = self.place(finished).unwrap_or_default();
        let rows = self.pattern.pieces.get(index).filter(|piece| !piece.way.rounds());
        let joined = rows.is_some_and(|piece| {
            piece.items.iter().any(|item| matches!(&item.kind, ItemKind::Seam(one, other) if joins_ends(one, other)))
        });
        let mut others = self.pattern.pieces.iter();
        let rounds = rows.is_some() && others.any(|other| other.way.rounds() && other.start == Start::Edge(index));
        if joined || rounds { Worked::Sideways } else { Worked::Upright }
    }

    /// What is compared otherwise because the rows of a piece run the other way than is usual. Two measurements tell it, one for
    /// each way: they don't both agree as usual, and do in every size the other way.
    fn turned(&self, usual: &[Vec<Compared>]) -> Vec<(usize, Vec<Compared>)> {
        let all = &self.pattern.head.finished;
        let agrees = |finished: &Finished, sizes: &[Compared]| {
            let agrees =
                |one: &Compared| one.stated.is_none() || (one.made.is_some() && one.off(&finished.unit).is_none());
            sizes.iter().all(agrees)
        };
        let mut places: Vec<Option<usize>> = Vec::new();
        let mut found = Vec::new();
        for place in all.iter().map(|finished| self.place(finished)) {
            if places.contains(&place) {
                continue;
            }
            places.push(place);
            let here = all.iter().enumerate().zip(usual).filter(|((_, finished), _)| {
                finished.at_row.is_none()
                    && self.place(finished) == place
                    && !matches!(Dimension::named(&finished.what), Dimension::Diameter | Dimension::Other)
            });
            let here: Vec<_> = here.collect();
            let is_length = |finished: &Finished| Dimension::named(&finished.what) == Dimension::Length;
            let both_ways =
                here.iter().any(|((_, one), _)| is_length(one)) && here.iter().any(|((_, one), _)| !is_length(one));
            let in_order = here.iter().all(|((_, finished), sizes)| agrees(finished, sizes));
            if !both_ways || in_order {
                continue;
            }
            let turned: Vec<(usize, Vec<Compared>)> = here
                .iter()
                .map(|((at, finished), _)| (*at, self.compared(finished, self.worked(finished).turned())))
                .collect();
            let all_agree =
                turned.iter().all(|(at, sizes)| all.get(*at).is_some_and(|finished| agrees(finished, sizes)));
            if all_agree {
                found.extend(turned);
            }
        }
        found
    }

    /// The piece that is measured, by its index; nothing for all pieces together.
    fn place(&self, finished: &Finished) -> Option<usize> {
        let all = &self.pattern.pieces;
        match finished.at.as_deref() {
            Some(name) => all.iter().position(|piece| piece.name.eq_ignore_ascii_case(name)),
            None => self.is_single().then_some(0),
        }
    }

    /// Whether there is one piece, apart from its mirror image.
    fn is_single(&self) -> bool {
        self.pattern.pieces.iter().skip(1).all(|piece| piece.mirror_of.is_some())
    }

    fn compared(&self, finished: &Finished, worked: Worked) -> Vec<Compared> {
        let dimension = Dimension::named(&finished.what);
        let sizes = finished.lengths.iter().enumerate();
        sizes
            .map(|(size, stated)| {
                let made = stated.and_then(|stated| {
                    let made = self.made(dimension, finished, worked, size);
                    nearest(made, stated, &finished.unit)
                });
                Compared { stated: *stated, made }
            })
            .collect()
    }

    /// Everything that the measurement may be, the likeliest first.
    fn made(&self, dimension: Dimension, finished: &Finished, worked: Worked, size: usize) -> Vec<Made> {
        // What lies side by side is measured as a whole, which no row of one copy is.
        let side_by_side = self.pattern.pieces.iter().any(|piece| piece.layout.is_some());
        if side_by_side && finished.at.is_none() && finished.at_row.is_none() {
            return Vec::new();
        }
        let outline = match (finished.at.as_deref(), self.place(finished)) {
            (Some(_), place) => place.and_then(|piece| self.outline(piece, size)),
            (None, _) => self.outline(0, size),
        };
        let Some(outline) = outline else { return Vec::new() };
        match finished.at_row {
            Some(row) => {
                let rows = self.fabric.pieces.get(outline.index).and_then(|piece| piece.sizes.get(size));
                let row = rows.and_then(|made| row_by_number(outline.piece, size, &made.rows, row));
                row.map_or_else(Vec::new, |row| outline.at(row.number).made(dimension, worked))
            }
            None if self.is_single() || finished.at.is_some() => outline.made(dimension, worked),
            None => match self.whole(dimension, worked, size) {
                Some(whole) => [whole, outline.made(dimension, worked)].concat(),
                None => Vec::new(),
            },
        }
    }

    /// The first piece with all that is worked on its edges; nothing when a piece is joined in another way.
    fn whole(&self, dimension: Dimension, worked: Worked, size: usize) -> Option<Vec<Made>> {
        let base = self.outline(0, size)?;
        let mut total = Total { across: base.usual()?.width, along: base.last()?.length };
        let mut ways = vec![Direction::Along];
        for (index, piece) in self.pattern.pieces.iter().enumerate().skip(1) {
            let way = match &piece.start {
                Start::Top(on) | Start::OtherSide(on) => *ways.get(*on)?,
                Start::Edge(on) | Start::Side(on, _) => ways.get(*on)?.sideways(),
                Start::Around(_) => Direction::Both,
                Start::Unsaid
                | Start::Ring
                | Start::Chain(_)
                | Start::ChainRing(_)
                | Start::Foundation(..)
                | Start::Several(_)
                | Start::Rest(_)
                | Start::Opening(_)
                | Start::Loops(..)
                | Start::Through(..)
                | Start::ChainBack
                | Start::Thing(..)
                | Start::Part(..) => return None,
            };
            let length = self.outline(index, size)?.last()?.length;
            total.add(way, length.times(f64::from(piece.copies)));
            ways.push(way);
        }
        let row = base.last()?.number;
        let made = |how, length| base.made_by(how, length, row);
        let (across, along) = (made(How::WithEdges, total.across), made(How::WithEdges, total.along));
        let (width, length) = match worked {
            Worked::Upright => (across, along.clone()),
            Worked::Sideways => (along.clone(), across),
        };
        Some(match (base.piece.way.rounds(), dimension) {
            (false, Dimension::Width) => vec![width],
            (false, Dimension::Length) => vec![length],
            (false, Dimension::Around | Dimension::Diameter) if worked == Worked::Sideways => vec![width],
            (false, Dimension::Around | Dimension::Diameter | Dimension::Other) => vec![length, width],
            (true, Dimension::Around) => base.made(dimension, worked),
            (true, Dimension::Length | Dimension::Other) => vec![along],
            (true, Dimension::Width | Dimension::Diameter) => {
                vec![made(How::WithEdges, base.from_middle(total.along)), made(How::HalfRound, total.across.times(0.5))]
            }
        })
    }

    fn outline(&self, index: usize, size: usize) -> Option<Outline<'_>> {
        let piece = self.pattern.pieces.get(index)?;
        let measure = self.measured.get(index)?.as_ref()?;
        let rows = measure.sizes.get(size)?;
        let start = f64::from(self.fabric.pieces.get(index)?.sizes.get(size)?.start);
        Some(Outline { index, piece, measure, rows, start: measure.scale.stitch.times(start), only: None })
    }
}

/// The candidate that agrees with what is stated, or else the nearest one.
fn nearest(mut made: Vec<Made>, stated: Length, unit: &str) -> Option<Made> {
    let off = |made: &Made| (made.length.length - stated).abs();
    let agrees = made.iter().position(|made| off(made) <= tolerance(made, unit));
    let least = || {
        let offs = made.iter().map(|made| off(made).mm()).enumerate();
        offs.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(at, _)| at)
    };
    let chosen = agrees.or_else(least)?;
    Some(made.swap_remove(chosen))
}

/// Whether a seam joins one end of a piece to the other.
fn joins_ends(one: &SeamSide, other: &SeamSide) -> bool {
    let is_end = |side: &SeamSide| match side {
        SeamSide::Row(_) | SeamSide::Start => true,
        SeamSide::First(_) | SeamSide::Last(_) => false,
    };
    is_end(one) || is_end(other)
}

/// Which way a piece grows, seen from the first one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Direction {
    Along,
    Across,
    Both,
}

impl Direction {
    fn sideways(self) -> Self {
        match self {
            Self::Along => Self::Across,
            Self::Across => Self::Along,
            Self::Both => Self::Both,
        }
    }
}

struct Total {
    across: Reckoned,
    along: Reckoned,
}

impl Total {
    fn add(&mut self, way: Direction, length: Reckoned) {
        match way {
            Direction::Along => self.along = self.along + length,
            Direction::Across => self.across = self.across + length,
            Direction::Both => {
                self.along = self.along + length.times(2.0);
                self.across = self.across + length.times(2.0);
            }
        }
    }
}

/// A piece in one size.
struct Outline<'a> {
    index: usize,
    piece: &'a Piece,
    measure: &'a PieceMeasure,
    rows: &'a [RowMeasure],
    /// The starting edge.
    start: Reckoned,
    /// The row that is meant, when one is.
    only: Option<usize>,
}

impl Outline<'_> {
    /// The same piece as far as a row; the whole of it when there is no such row.
    fn at(self, number: u32) -> Self {
        let at = self.rows.iter().position(|row| row.number == number);
        let rows = at.and_then(|at| self.rows.get(..=at)).unwrap_or(self.rows);
        Self { rows, only: at, ..self }
    }

    fn made(&self, dimension: Dimension, worked: Worked) -> Vec<Made> {
        let named = self.only.and_then(|at| self.rows.get(at));
        let round = named.map_or(self.piece.way.rounds(), |row| row.round);
        let found = match (round, &self.piece.start) {
            (true, _) => self.in_rounds(dimension),
            (false, Start::Ring) if !self.piece.goes_over() => self.from_a_ring(dimension),
            (false, _) => self.in_rows(dimension, worked),
        };
        found.unwrap_or_default()
    }

    /// A length is that of the rows one above the other, and a width that of a row, unless the rows run along the length.
    fn in_rows(&self, dimension: Dimension, worked: Worked) -> Option<Vec<Made>> {
        let (usual, widest, last) = (self.usual()?, self.widest()?, self.last()?);
        let across = |row: &RowMeasure| self.made_by(How::Across, row.width, row.number);
        let along = self.made_by(How::Rows, last.length, last.number);
        Some(match (dimension, worked) {
            (Dimension::Width, Worked::Upright) | (Dimension::Length, Worked::Sideways) => {
                vec![across(usual), across(widest)]
            }
            (Dimension::Length, Worked::Upright) | (Dimension::Width | Dimension::Around, Worked::Sideways) => {
                vec![along]
            }
            // Joined at its sides or at its ends.
            (Dimension::Around, Worked::Upright) => vec![along, across(usual)],
            (Dimension::Other, _) => vec![along, across(usual), across(widest)],
            (Dimension::Diameter, _) => {
                let twice = self.made_by(How::TwiceAcross, usual.width.times(2.0), usual.number);
                vec![across(usual), along, twice]
            }
        })
    }

    /// A shawl from the middle of its neck: half a circle, or a triangle whose rows slope down on both sides.
    fn from_a_ring(&self, dimension: Dimension) -> Option<Vec<Made>> {
        let last = self.last()?;
        let made = |how, factor| self.made_by(how, last.length.times(factor), last.number);
        Some(match dimension {
            Dimension::Width | Dimension::Diameter => {
                vec![made(How::TwiceRows, 2.0), made(How::TwiceSlope, 2.0 * SQRT_2)]
            }
            Dimension::Length | Dimension::Other => vec![made(How::Rows, 1.0), made(How::Slope, SQRT_2)],
            Dimension::Around => vec![self.made_by(How::Across, last.width, last.number)],
        })
    }

    fn in_rounds(&self, dimension: Dimension) -> Option<Vec<Made>> {
        let (usual, widest, last) = (self.usual()?, self.widest()?, self.last()?);
        let round = |row: &RowMeasure| self.made_by(How::Round, row.width, row.number);
        let flat = |row: &RowMeasure| self.made_by(How::TwiceRows, self.from_middle(row.length), row.number);
        let oval = |row: &RowMeasure| self.made_by(How::ChainAndRows, self.start + row.length.times(2.0), row.number);
        let over_pi = self.made_by(How::RoundOverPi, widest.width.times(1.0 / PI), widest.number);
        let half = self.made_by(How::HalfRound, usual.width.times(0.5), usual.number);
        let rows = self.made_by(How::Rows, last.length, last.number);
        Some(match dimension {
            Dimension::Around => vec![round(usual), round(widest), round(last)],
            Dimension::Diameter => vec![flat(last), flat(widest), over_pi],
            Dimension::Width => vec![flat(last), half, flat(widest)],
            Dimension::Length | Dimension::Other if self.is_oval() => vec![oval(widest), rows, oval(last)],
            Dimension::Length if !self.lies_flat() => vec![rows],
            Dimension::Length | Dimension::Other => vec![rows, flat(last)],
        })
    }

    /// Whether the widest round is so much longer than the piece is deep that it can't stand up: three times the way across
    /// goes round a circle, and four times round a square. A cap or a cup has less.
    fn lies_flat(&self) -> bool {
        const TIMES_ACROSS: f64 = 2.25;
        let rounds = self.widest().zip(self.last());
        rounds.is_some_and(|(widest, last)| widest.width.length > self.from_middle(last.length).length * TIMES_ACROSS)
    }

    /// Straight across a piece that is as long as this from the middle out; a chain joined into a ring lies within.
    fn from_middle(&self, length: Reckoned) -> Reckoned {
        let ring = match &self.piece.start {
            Start::ChainRing(_) => self.start.times(1.0 / PI),
            _ => Reckoned::default(),
        };
        length.times(2.0) + ring
    }

    /// Worked along both sides of the starting chain.
    fn is_oval(&self) -> bool {
        let first = self.piece.items.iter().find_map(|item| match &item.kind {
            ItemKind::Work(line) => Some(line),
            _ => None,
        });
        first.is_some_and(|line| line.steps.iter().any(|step| matches!(step.kind, StepKind::OtherSide)))
    }

    /// The first of the rows that are as wide as most are; of two such widths the larger.
    fn usual(&self) -> Option<&RowMeasure> {
        if let Some(only) = self.only {
            return self.rows.get(only);
        }
        // How many rows are as wide as this, and the first of them; by width, so that the widest of equals comes last.
        let mut widths: BTreeMap<u64, (usize, &RowMeasure)> = BTreeMap::new();
        for row in self.rows {
            // Widths are never below 0, and their bits then lie in the same order.
            widths.entry(row.width.length.mm().to_bits()).or_insert((0, row)).0 += 1;
        }
        widths.into_values().max_by_key(|(rows, _)| *rows).map(|(_, row)| row)
    }

    /// The first of the widest rows.
    fn widest(&self) -> Option<&RowMeasure> {
        if let Some(only) = self.only {
            return self.rows.get(only);
        }
        self.rows.iter().reduce(|best, row| if row.width.length > best.width.length { row } else { best })
    }

    fn last(&self) -> Option<&RowMeasure> {
        self.rows.last()
    }

    fn made_by(&self, how: How, length: Reckoned, row: u32) -> Made {
        let by_swatch = matches!(self.measure.scale.source, Source::Swatch(_));
        Made { length, how, piece: self.index, row, by_swatch }
    }
}
