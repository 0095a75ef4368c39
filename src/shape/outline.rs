//! The outline of a piece, drawn with its measurements.

use std::f64::consts::{PI, SQRT_2};

use svg::Document;
use svg::node::element::{Circle, Description, Group, Line, Polygon, Text, Title};

use crate::fabric::{Closing, Row};
use crate::gauge::Source;
use crate::measure::finished::Dimension;
use crate::measure::rows::RowMeasure;
use crate::pattern::model::{
    Audience, Finished, ItemKind, Kind, Piece, Start, Step, StepKind, Technique, Terms, each_step,
};
use crate::units::{Fractions, Length};
use crate::words::clean;

use super::{Lie, Round, Shapes, beside_a_ball};

/// The stitch that a piece from corner to corner begins with.
const CORNER_BLOCK: &str = "corner-block";

/// A drawing and what it shows, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawing {
    /// The picture as SVG, in the colour of the text around it.
    pub svg: String,
    /// The same in a sentence.
    pub told: String,
}

/// Longest side of what is drawn, in units of the picture.
const LONGEST: f64 = 104.0;

/// The longest side of a piece is drawn at least so long, however large the others are.
const SHORTEST: f64 = 40.0;

/// From one line of letters to the next.
const LINE: f64 = 14.0;

/// Room around it.
const EDGE: f64 = 6.0;

/// Widths that differ by less than this part are told as one.
const ABOUT_ONE_WIDTH: f64 = 0.02;

/// A row that is wider or narrower than the one below by more than this, in millimetres, is drawn as a step: stitches are set aside
/// or chained there. Narrower changes are the slope of an edge.
const STEP: f64 = 20.0;

/// As many sizes have their measurements written out in a picture; of more it has the range.
const MOST_SIZES: usize = 3;

/// What is worked on another piece and is wider than this many times its length is an edging.
const NARROW: f64 = 6.0;

/// What is stated and what is reckoned are the same when they differ by less than this part.
const ABOUT_AS_STATED: f64 = 0.12;

/// A ring that lies flat begins with an opening that is no more than this part of the way to its edge.
const OPENING: f64 = 0.25;

/// Rows of lace that are wider than the narrowest one by less than this make an even panel.
const EVEN: f64 = 2.0;

/// The most points on one side that a drawing is made of.
const MOST_POINTS: usize = 1000;

/// The smallest piece worth a drawing, in millimetres.
const SMALLEST: f64 = 50.0;

impl Shapes<'_> {
    /// The outline of a piece with the measurements of some sizes, drawn in the proportions of the first, in inches and
    /// centimetres for readers of US terms and the other way round for those of UK terms. Nothing for a
    /// piece without a gauge of its own, a very small one, or one whose shape does not follow from its counts.
    #[must_use]
    pub fn drawing(&self, index: usize, sizes: &[usize], terms: Terms) -> Option<Drawing> {
        let pattern = self.pattern;
        let piece = pattern.pieces.get(index)?;
        let forms: Vec<Form> = sizes.iter().filter_map(|size| self.form_of(piece, index, *size)).collect();
        let first = forms.first()?;
        // Sizes that come out as different shapes have no common drawing.
        let alike = forms.iter().all(|form| std::mem::discriminant(form) == std::mem::discriminant(first));
        let (wide, high) = first.extent();
        if forms.len() != sizes.len() || !alike || wide.max(high) < SMALLEST || first.points() > MOST_POINTS {
            return None;
        }
        let name = if piece.name.is_empty() { &pattern.head.title } else { &piece.name };
        let stated = |form: &Form, size: &usize| {
            let (across, up) = form.measures();
            let other_way = |dimension: Dimension| dimension == Dimension::Length;
            let wide = self.as_stated(index, *size, across, |dimension| !other_way(dimension));
            let is_up = |dimension| other_way(dimension) || dimension == Dimension::Other;
            (wide, up.map(|up| self.as_stated(index, *size, up, is_up)))
        };
        let measures: Vec<(f64, Option<f64>)> =
            forms.iter().zip(sizes).map(|(form, size)| stated(form, size)).collect();
        let labels = Labels::of(&measures, terms);
        let name = match (sizes, pattern.sizes.len()) {
            ([size], 2..) => {
                format!(
                    "Outline of {}, size {}",
                    clean(name),
                    clean(pattern.sizes.get(*size).map_or("", String::as_str))
                )
            }
            _ => format!("Outline of {}", clean(name)),
        };
        let scale = self.scale(sizes).min(LONGEST / wide.max(high)).max(SHORTEST / wide.max(high));
        Some(Drawing { svg: picture(&name, first, &labels, scale), told: labels.told(first) })
    }

    /// The scale of all pieces: units of a picture for a millimetre, by the largest of them in the first of the sizes.
    fn scale(&self, sizes: &[usize]) -> f64 {
        let Some(&size) = sizes.first() else { return 1.0 };
        let pieces = self.pattern.pieces.iter().enumerate();
        let sides = pieces.filter_map(|(index, piece)| Some(self.form_of(piece, index, size)?.extent()));
        LONGEST / sides.map(|(wide, high)| wide.max(high)).fold(SMALLEST, f64::max)
    }

    /// Whether a piece begins with the block at a corner.
    fn is_corner_to_corner(&self, piece: &Piece) -> bool {
        let pattern = self.pattern;
        let mut begins = false;
        let mut see = |step: &Step| {
            begins |= match &step.kind {
                StepKind::Work(work) => {
                    pattern.stitches.get(work.stitch).is_some_and(|stitch| stitch.us.short == CORNER_BLOCK)
                }
                StepKind::Grid(grid) => {
                    pattern.grids.get(grid.grid).is_some_and(|grid| grid.technique == Technique::Corner)
                }
                _ => false,
            };
        };
        for item in &piece.items {
            if let ItemKind::Work(line) = &item.kind {
                each_step(&line.steps, &mut see);
            }
        }
        begins
    }

    /// The shape that follows from the counts, or else from what the designer states of it.
    fn form_of(&self, piece: &Piece, index: usize, size: usize) -> Option<Form> {
        self.form(piece, index, size).or_else(|| self.as_measured(piece, index, size))
    }

    /// A shape by the finished measurements, where lace, short rows or filling leave nothing to reckon: a circle or a polygon of a diameter,
    /// a ball that is so far around, a triangle begun in the middle of its long side, a panel as wide at its end as at its beginning.
    fn as_measured(&self, piece: &Piece, index: usize, size: usize) -> Option<Form> {
        let worked = self.fabric.pieces.get(index)?.sizes.get(size)?;
        let last = worked.rows.last()?;
        let stated = |what: &[&str]| {
            self.stated_of(index, size).find(|(name, _)| what.contains(&name.as_str())).map(|(_, mm)| mm)
        };
        let (width, long) = (stated(&["width"]), stated(&["length", "depth", "height"]));
        let from_middle = matches!(piece.start, Start::Ring | Start::ChainRing(_));
        if let Some(across) = stated(&["diameter"]) {
            let in_wedges = worked.rows.iter().any(|row| row.closing == Closing::TurnedShort);
            return across_it(piece, last, across, in_wedges);
        }
        if let Some(around) = stated(&["around"])
            && from_middle
            && self.rounds(index, size).is_some_and(|rounds| beside_a_ball(&rounds).is_some())
        {
            return Some(Form::Ball { around });
        }
        if piece.way.rounds() || piece.goes_over() {
            return None;
        }
        if from_middle {
            let grows = worked
                .rows
                .windows(2)
                .all(|pair| matches!(pair, [one, next] if super::stitches(one) <= super::stitches(next)));
            let wide = width.filter(|_| grows && worked.rows.len() > 4)?;
            let measured = self.measured.get(index)?.as_ref()?.sizes.get(size)?;
            let end = measured.last()?;
            let about = |reckoned: f64| (reckoned - wide).abs() <= ABOUT_AS_STATED * wide;
            // Rows that run along the long side begin at the point opposite; those that are half as far as the slope begin in its middle.
            if about(end.width.length.mm()) {
                return panel(measured).map(|rows| Form::Panel { rows });
            }
            let from_its_middle = about(2.0 * SQRT_2 * end.length.length.mm());
            return from_its_middle.then(|| Form::Triangle { wide, deep: long.unwrap_or(wide / 2.0) });
        }
        let widths = || worked.rows.iter().map(|row| f64::from(super::stitches(row)));
        let (least, most) = (widths().fold(f64::MAX, f64::min), widths().fold(0.0, f64::max));
        let ends_early =
            worked.rows.iter().any(|row| matches!(row.closing, Closing::TurnedShort | Closing::Left | Closing::Part));
        let long = long
            .or_else(|| self.measured.get(index)?.as_ref()?.sizes.get(size)?.last().map(|row| row.length.length.mm()));
        let (wide, long) = (width?, long?);
        let begins = widths().next()?;
        let as_it_began = (f64::from(super::stitches(last)) - begins).abs() <= begins * ABOUT_ONE_WIDTH;
        (!ends_early && as_it_began && least * EVEN > most).then(|| Form::Panel { rows: vec![(wide, long)] })
    }

    /// The finished measurements of a whole piece: their names in small letters and millimetres.
    fn stated_of(&self, index: usize, size: usize) -> impl Iterator<Item = (String, f64)> + '_ {
        let name = self.pattern.pieces.get(index).map(|piece| piece.name.as_str());
        let alone = self.pattern.pieces.len() == 1;
        let of_piece =
            move |at: Option<&str>| at.map_or(alone, |at| name.is_some_and(|name| name.eq_ignore_ascii_case(at)));
        let stated = self.pattern.head.finished.iter().filter(move |f| f.at_row.is_none() && of_piece(f.at.as_deref()));
        stated.filter_map(move |f| Some((f.what.to_lowercase(), f.lengths.get(size).copied().flatten()?.mm())))
    }

    fn form(&self, piece: &Piece, index: usize, size: usize) -> Option<Form> {
        let worked = self.fabric.pieces.get(index)?.sizes.get(size)?;
        // Rows from corner to corner lie on the diagonal.
        if self.is_corner_to_corner(piece) {
            return None;
        }
        // What goes over from rounds to rows is neither a tube nor a panel.
        let measure = self.measured.get(index)?.as_ref();
        let measure = measure.filter(|measure| matches!(measure.scale.source, Source::Swatch(_)))?;
        if piece.goes_over() {
            let rounds = self.first_rounds(index, size).unwrap_or_default();
            return over(piece, &rounds, &worked.rows, measure.sizes.get(size)?);
        }
        if !worked.rows.iter().all(|row| is_plain(piece, row)) {
            return None;
        }
        if piece.way.rounds() {
            let mut rounds = self.rounds(index, size)?;
            // Stitches down the sides of what is turned within a round lie beside it and make it no wider.
            rounds.truncate(worked.rows.iter().position(|row| has_tabs(piece, row)).unwrap_or(worked.rows.len()));
            let form = in_rounds(piece, &rounds)?;
            if self.pattern.head.audience == Some(Audience::Home)
                && let Some(pot) = standing(&rounds)
            {
                return Some(pot);
            }
            let corners = worked.rows.iter().last().and_then(corners);
            let is_square = !matches!(form, Form::Square { .. }) || corners.is_none_or(|corners| corners == 4);
            return is_square.then_some(form);
        }
        let from_middle =
            matches!(piece.start, Start::Ring | Start::ChainRing(_) | Start::Around(_) | Start::Several(_));
        let rows = measure.sizes.get(size).filter(|rows| rows.len() > 1 && !from_middle)?;
        let form = panel(rows).map(|rows| Form::Panel { rows })?;
        // A narrow edging is as long as the edge that it is worked on, whatever its own stitches come to.
        let (wide, high) = form.extent();
        (!piece.start.is_on_something() || high * NARROW > wide).then_some(form)
    }

    /// What the designer states for a piece where that is about as long, so that the page says one thing only.
    fn as_stated(&self, index: usize, size: usize, millimetres: f64, is: impl Fn(Dimension) -> bool) -> f64 {
        const ABOUT: f64 = 0.12;
        let pattern = self.pattern;
        let name = pattern.pieces.get(index).map(|piece| piece.name.as_str());
        let of_piece = |at: Option<&str>| match at {
            Some(at) => name.is_some_and(|name| name.eq_ignore_ascii_case(at)),
            None => pattern.pieces.len() == 1,
        };
        let of_size = |finished: &Finished| finished.lengths.get(size).copied().flatten();
        let stated = pattern.head.finished.iter().filter(|f| f.at_row.is_none() && of_piece(f.at.as_deref()));
        let stated = stated.filter(|finished| is(Dimension::named(&finished.what)));
        let off = |stated: f64| (stated - millimetres).abs();
        let near = stated.filter_map(of_size).map(Length::mm).filter(|mm| off(*mm) <= ABOUT * millimetres);
        near.min_by(|one, other| off(*one).total_cmp(&off(*other))).unwrap_or(millimetres)
    }
}

/// How many corners a flat round has: its longest spaces, where they are fewer than its other places.
fn corners(row: &Row) -> Option<u32> {
    let spaces = row.ledger.made.iter().filter_map(|tally| match tally.kind {
        Kind::Space(chains) => Some((chains, tally.count)),
        _ => None,
    });
    spaces.max_by_key(|(chains, _)| *chains).map(|(_, count)| count)
}

/// Whether small pieces are turned within a row, whose row ends are places of the edge.
fn has_tabs(piece: &Piece, row: &Row) -> bool {
    let mut found = false;
    if let Some(ItemKind::Work(line)) = piece.items.get(row.source).map(|item| &item.kind) {
        each_step(&line.steps, &mut |step| found |= matches!(step.kind, StepKind::ToAndFro(_, true)));
    }
    found
}

/// What is so far across: a square, a polygon or a circle.
fn across_it(piece: &Piece, last: &Row, across: f64, in_wedges: bool) -> Option<Form> {
    let from_middle = matches!(piece.start, Start::Ring | Start::ChainRing(_));
    match corners(last) {
        _ if !(from_middle && piece.way.rounds() || in_wedges) => None,
        Some(4) if !in_wedges => Some(Form::Square { side: across }),
        Some(corners @ 5..=8) if !in_wedges && piece.layout.is_some() => Some(Form::Polygon { corners, across }),
        _ => Some(Form::Disc { radius: across / 2.0 }),
    }
}

/// Whether a row is one of those that a shape follows from: worked to its end on the last one, and not lace.
fn is_plain(piece: &Piece, row: &Row) -> bool {
    let line = match piece.items.get(row.source).map(|item| &item.kind) {
        Some(ItemKind::Work(line)) => Some(line),
        _ => None,
    };
    let ends_early = matches!(row.closing, Closing::TurnedShort | Closing::Left | Closing::Part);
    let behind = |step: &Step| matches!(step.kind, StepKind::Behind(_));
    let is_lace = u64::from(super::stitches(row)) > u64::from(row.ledger.stitches) * 2;
    !is_lace && !ends_early && !line.is_some_and(|line| line.steps.iter().any(behind))
}

/// A shape in millimetres.
#[derive(Debug, Clone)]
enum Form {
    /// A flat circle, from above.
    Disc { radius: f64 },
    /// A flat square that is worked from its middle, from above.
    Square { side: f64 },
    /// A flat polygon of another number of corners, from above: how far it is from side to side.
    Polygon { corners: u32, across: f64 },
    /// A ball that is filled.
    Ball { around: f64 },
    /// A triangle that is worked from the middle of its long side down.
    Triangle { wide: f64, deep: f64 },
    /// A piece in the round, laid flat: half the width and the height from the bottom up, and how far round it is at most.
    Body { profile: Vec<(f64, f64)>, around: f64, from_top: bool },
    /// A piece in rows: the width and the length of each row from the bottom up.
    Panel { rows: Vec<(f64, f64)> },
}

/// A piece that goes over between rounds and rows, laid flat: what goes all round lies double, and so do rows that are nearly as
/// long as the rounds, as beside a slit; shorter ones, as of a flap, lie open.
fn over(piece: &Piece, rounds: &[Round], rows: &[Row], measured: &[RowMeasure]) -> Option<Form> {
    /// Rows that are longer than this part of the widest round go round with it.
    const ROUND_WITH_IT: f64 = 0.6;
    // Neither lace nor short rows have a shape by their widths.
    let plain = |row: &Row| {
        u64::from(super::stitches(row)) <= u64::from(row.ledger.stitches) * 2 && row.closing != Closing::TurnedShort
    };
    // Rounds along both sides of a chain are a flat base and no wall.
    if piece.way.rounds() && rounds.is_empty() {
        return None;
    }
    if rows.len() < 2 || !rows.iter().all(plain) || rounds.last().is_some_and(|last| last.so_far == Some(Lie::Ruffles))
    {
        return None;
    }
    let around = rows
        .iter()
        .zip(measured)
        .filter(|(row, _)| row.round)
        .map(|(_, row)| row.width.length.mm())
        .fold(0.0, f64::max);
    let begun = rounds.first().map_or(0.0, |round| round.along - round.tall);
    let mut profile: Vec<(f64, f64)> =
        rounds.iter().map(|round| (round.radius * PI / 2.0, round.along - begun)).collect();
    let mut up = profile.last().map_or(0.0, |(_, up)| *up);
    for (row, measured) in rows.iter().zip(measured).skip(rounds.len()) {
        let wide = measured.width.length.mm();
        let half = if row.round || wide > around * ROUND_WITH_IT { wide / 4.0 } else { wide / 2.0 };
        if profile.last().is_none_or(|(before, _)| (half - before).abs() * 2.0 > STEP) {
            profile.push((half, up));
        }
        up += measured.height.length.mm();
        profile.push((half, up));
    }
    let from_top = piece.start == Start::Ring;
    if from_top {
        profile.insert(0, (0.0, 0.0));
        profile = profile.into_iter().rev().map(|(half, at)| (half, up - at)).collect();
    } else if let Some((half, _)) = profile.first().copied() {
        profile.insert(0, (half, 0.0));
    }
    (around > 0.0).then(|| Form::Body { profile: straightened(profile), around, from_top })
}

fn in_rounds(piece: &Piece, rounds: &[Round]) -> Option<Form> {
    let last = rounds.last().filter(|_| rounds.len() > 2)?;
    let widest = rounds.iter().map(|round| round.radius).fold(0.0, f64::max);
    // A chain that is joined may be long: what begins at a wide opening is no flat circle.
    let opening = rounds.first().map_or(0.0, |round| round.along - round.tall);
    let from_middle = matches!(piece.start, Start::Ring | Start::ChainRing(_))
        && last.radius >= widest
        && opening <= OPENING * last.along;
    let lying = |lie: Lie| rounds.iter().filter(|round| round.so_far == Some(lie)).count();
    if from_middle && lying(Lie::FlatWithCorners) * 2 > rounds.len() {
        return Some(Form::Square { side: 2.0 * last.along });
    }
    if from_middle && last.so_far == Some(Lie::Flat) {
        return Some(Form::Disc { radius: last.along });
    }
    // Filling decides how a closed piece comes out.
    let no_shape = [Some(Lie::Ruffles), Some(Lie::FlatWithCorners)].contains(&last.so_far);
    if no_shape || beside_a_ball(rounds).is_some() {
        return None;
    }
    // Laid flat, a round is half as wide as it is long, and the middle of the piece is as high as its rounds together.
    let begun = rounds.first().map_or(0.0, |round| round.along - round.tall);
    let flat = |round: &Round| (round.radius * PI / 2.0, round.along - begun);
    let mut profile: Vec<(f64, f64)> = rounds.iter().map(flat).collect();
    let high = last.along - begun;
    if piece.start == Start::Ring {
        profile.insert(0, (0.0, 0.0));
        // A piece that begins at its top hangs down from there.
        profile = profile.into_iter().rev().map(|(half, up)| (half, high - up)).collect();
    } else if let Some((half, _)) = profile.first().copied() {
        profile.insert(0, (half, 0.0));
    }
    let from_top = piece.start == Start::Ring;
    Some(Form::Body { profile: straightened(profile), around: 2.0 * PI * widest, from_top })
}

/// A thing for the house that stands on a flat base: its side, as high as it rises from there.
fn standing(rounds: &[Round]) -> Option<Form> {
    const LEAST: usize = 3;
    let base =
        rounds.iter().take_while(|round| round.so_far == Some(Lie::Flat) && round.lie != Lie::StraightUp).count();
    let (flat, side) = rounds.split_at_checked(base)?;
    let (edge, last) = (flat.last()?, side.last()?);
    let straight = side.iter().all(|round| (round.radius - edge.radius).abs() <= edge.radius * ABOUT_ONE_WIDTH);
    let high = last.along - edge.along;
    let half = edge.radius * PI / 2.0;
    (base >= LEAST && straight).then(|| Form::Body {
        profile: vec![(half, 0.0), (half, high)],
        around: 2.0 * PI * edge.radius,
        from_top: false,
    })
}

/// Points without those that lie on a straight line between their neighbours.
fn straightened(points: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    let mut kept: Vec<(f64, f64)> = Vec::new();
    for point in points {
        if let [.., one, two] = kept.as_slice()
            && ((two.0 - one.0) * (point.1 - two.1) - (point.0 - two.0) * (two.1 - one.1)).abs() < 1e-6
        {
            kept.pop();
        }
        kept.push(point);
    }
    kept
}

/// The width and the length of every row. Nothing where rows are now wider and now narrower, as in lace.
fn panel(rows: &[RowMeasure]) -> Option<Vec<(f64, f64)>> {
    const MOST_TURNS: usize = 3;
    let sizes: Vec<(f64, f64)> = rows.iter().map(|row| (row.width.length.mm(), row.length.length.mm())).collect();
    let changes = sizes.iter().zip(sizes.iter().skip(1)).map(|(one, next)| next.0 - one.0);
    let wider: Vec<bool> = changes.filter(|change| change.abs() > 1e-9).map(|change| change > 0.0).collect();
    let turns = wider.iter().zip(wider.iter().skip(1)).filter(|(one, next)| one != next).count();
    (turns <= MOST_TURNS).then_some(sizes)
}

/// One side of a piece in rows, from the bottom up: its edge slopes over a row that is a little wider or narrower.
fn side(rows: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut points: Vec<(f64, f64)> = Vec::new();
    let (mut below, mut before) = (0.0, None);
    for (width, length) in rows {
        let steps = before.is_none_or(|before: f64| (width - before).abs() > STEP);
        if steps {
            points.push((width / 2.0, below));
        }
        points.push((width / 2.0, *length));
        (below, before) = (*length, Some(*width));
    }
    straightened(points)
}

impl Form {
    /// How wide and how high it is drawn.
    fn extent(&self) -> (f64, f64) {
        match self {
            Self::Disc { radius } => (2.0 * radius, 2.0 * radius),
            Self::Square { side } => (*side, *side),
            Self::Polygon { corners, across } => {
                let (left, bottom, right, top) = bounds(&polygon(*corners, *across));
                (right - left, top - bottom)
            }
            Self::Ball { around } => (around / PI, around / PI),
            Self::Triangle { wide, deep } => (*wide, *deep),
            Self::Body { profile, .. } => {
                let wide = profile.iter().map(|(half, _)| 2.0 * half).fold(0.0, f64::max);
                (wide, profile.iter().map(|(_, up)| *up).fold(0.0, f64::max))
            }
            Self::Panel { rows } => {
                let wide = rows.iter().map(|(width, _)| *width).fold(0.0, f64::max);
                (wide, rows.last().map_or(0.0, |(_, length)| *length))
            }
        }
    }

    /// How many points its outline has on one side.
    fn points(&self) -> usize {
        match self {
            Self::Disc { .. } | Self::Square { .. } | Self::Ball { .. } => 1,
            Self::Polygon { corners, .. } => usize::try_from(*corners).unwrap_or(usize::MAX),
            Self::Triangle { .. } => 2,
            Self::Body { profile, .. } => profile.len(),
            Self::Panel { rows } => side(rows).len(),
        }
    }

    /// Whether it is as wide at one end as at the other and all the way between.
    fn is_straight(&self) -> bool {
        let widths: Vec<f64> = match self {
            Self::Disc { .. }
            | Self::Square { .. }
            | Self::Polygon { .. }
            | Self::Ball { .. }
            | Self::Triangle { .. } => {
                return false;
            }
            Self::Body { profile, .. } => profile.iter().map(|(half, _)| *half).collect(),
            Self::Panel { rows } => rows.iter().map(|(width, _)| *width).collect(),
        };
        let (least, most) = widths.iter().fold((f64::MAX, 0.0_f64), |(low, high), w| (low.min(*w), high.max(*w)));
        most - least <= most * ABOUT_ONE_WIDTH
    }

    /// The measurement across it and the one up its side, as they are told.
    fn measures(&self) -> (f64, Option<f64>) {
        let (wide, high) = self.extent();
        match self {
            Self::Disc { .. } | Self::Square { .. } => (wide, None),
            Self::Polygon { across, .. } => (*across, None),
            Self::Ball { around } => (*around, None),
            Self::Body { around, .. } => (*around, Some(high)),
            Self::Panel { .. } | Self::Triangle { .. } => (wide, Some(high)),
        }
    }
}

/// The measurements of all sizes in one system of units after the other, as `16¾ (19½, 22¼) in` and `42.5 (49.5, 56.5) cm`.
struct Labels {
    across: [Said; 2],
    up: Option<[Said; 2]>,
}

/// A measurement of all sizes, written out and as short as a picture has it.
struct Said {
    whole: String,
    short: String,
}

impl Labels {
    fn of(measures: &[(f64, Option<f64>)], terms: Terms) -> Self {
        let across: Vec<f64> = measures.iter().map(|(across, _)| *across).collect();
        let up: Option<Vec<f64>> = measures.iter().map(|(_, up)| *up).collect();
        let both = |millimetres: &[f64]| {
            let inches = Said::of(millimetres, |length| length.inch_number(Fractions::Typeset), "in");
            let centimetres = Said::of(millimetres, Length::cm_number, "cm");
            match terms {
                Terms::Us => [inches, centimetres],
                Terms::Uk => [centimetres, inches],
            }
        };
        Self { across: both(&across), up: up.map(|up| both(&up)) }
    }

    fn told(&self, form: &Form) -> String {
        let whole = |said: &[Said; 2]| said.iter().map(|one| one.whole.as_str()).collect::<Vec<_>>().join(" / ");
        let up = self.up.as_ref().map(whole).unwrap_or_default();
        let across = whole(&self.across);
        match form {
            Form::Disc { .. } => format!("Outline: a flat circle, {across} across."),
            Form::Square { .. } => format!("Outline: a flat square, {across} across."),
            Form::Polygon { corners, .. } => {
                let name = match corners {
                    5 => "pentagon",
                    6 => "hexagon",
                    7 => "heptagon",
                    _ => "octagon",
                };
                format!("Outline: a flat {name}, {across} from side to side.")
            }
            Form::Ball { .. } => format!("Outline: a ball, {across} around."),
            Form::Triangle { .. } => format!(
                "Outline: a triangle, {across} along its long side and {up} deep; the work begins in the middle of the long side."
            ),
            // Which end is up when it is worn, and whether a closed end is a crown or a base, isn't known.
            Form::Body { from_top, .. } => {
                let widest = if form.is_straight() { "" } else { " at its widest" };
                let (high, at) =
                    if *from_top { (" from its closed end to its edge", "top") } else { (" high", "bottom") };
                format!(
                    "Outline, laid flat: {across} around{widest} and {up}{high}; the work begins at the {at} of the drawing."
                )
            }
            Form::Panel { .. } => {
                let widest = if form.is_straight() { "" } else { " at its widest" };
                format!("Outline: {across} wide{widest} and {up} long; the work begins at the bottom of the drawing.")
            }
        }
    }

    /// What stands under the drawing.
    fn below(&self, form: &Form) -> Vec<String> {
        let mut told: Vec<String> = self.across.iter().map(|said| said.short.clone()).collect();
        told.extend(matches!(form, Form::Body { .. } | Form::Ball { .. }).then(|| "around".to_owned()));
        told
    }
}

impl Said {
    fn of(millimetres: &[f64], number: fn(Length) -> String, unit: &str) -> Self {
        let numbers: Vec<String> = millimetres.iter().map(|mm| number(Length::millimetres(*mm))).collect();
        let whole = match numbers.split_first() {
            Some((first, rest)) if rest.iter().any(|number| number != first) => {
                format!("{first} ({}) {unit}", rest.join(", "))
            }
            Some((first, _)) => format!("{first} {unit}"),
            None => String::new(),
        };
        let ends = |least: fn(f64, f64) -> f64| millimetres.iter().copied().reduce(least).map(Length::millimetres);
        let short = match (numbers.len() > MOST_SIZES, ends(f64::min), ends(f64::max)) {
            (true, Some(low), Some(high)) if number(low) != number(high) => {
                format!("{}–{} {unit}", number(low), number(high))
            }
            _ => whole.clone(),
        };
        Self { whole, short }
    }
}

fn picture(name: &str, form: &Form, labels: &Labels, scale: f64) -> String {
    let (wide, high) = form.extent();
    let below = labels.below(form);
    let lines = |all: usize| f64::from(u32::try_from(all).unwrap_or(u32::MAX)) * LINE;
    let longest = |all: &mut dyn Iterator<Item = &str>| all.map(written).fold(0.0, f64::max);
    let (drawn_wide, drawn_high) = (wide * scale, high * scale);
    // Measurements may be longer than the sides that they stand beside.
    let under = longest(&mut below.iter().map(String::as_str));
    let beside = longest(&mut labels.up.iter().flatten().map(|said| said.short.as_str()));
    let left = EDGE + (under - drawn_wide).max(0.0) / 2.0;
    let half = drawn_high.max(beside) / 2.0;
    let canvas = Canvas { left, top: EDGE + half - drawn_high / 2.0, wide: drawn_wide, high: drawn_high, scale };
    let right = if labels.up.is_some() { lines(2) + 18.0 } else { 0.0 };
    let under_at = canvas.bottom().max(EDGE + 2.0 * half - 12.0) + 14.0;
    let (width, height) = (drawn_wide + left + left.max(right), under_at + lines(below.len()) + EDGE);
    let group = Group::new().set("fill", "none").set("stroke", "currentColor").set("stroke-width", "1.5");
    let group = group.set("stroke-linejoin", "round").add(canvas.outline(form)).add(canvas.line_below());
    let group = match form {
        Form::Disc { .. } | Form::Square { .. } | Form::Polygon { .. } | Form::Ball { .. } => group,
        Form::Triangle { .. } => group.add(canvas.arrow(true)),
        Form::Body { from_top, .. } => group.add(canvas.arrow(*from_top)),
        Form::Panel { .. } => group.add(canvas.arrow(false)),
    };
    let group = if labels.up.is_some() { group.add(canvas.line_beside()) } else { group };
    let middle = canvas.left + canvas.wide / 2.0;
    let mut picture = Document::new()
        .set("viewBox", format!("0 0 {} {}", shown(width), shown(height)))
        .set("width", shown(width))
        .set("height", shown(height))
        .set("role", "img")
        .set("font-family", "sans-serif")
        .set("font-size", "12")
        .add(Title::new(name))
        .add(Description::new().add(svg::node::Text::new(labels.told(form))))
        .add(group);
    for (at, line) in below.iter().enumerate() {
        picture = picture.add(label(line, middle, under_at + lines(at + 1)));
    }
    for (at, said) in labels.up.iter().flatten().enumerate() {
        let (x, y) = (canvas.left + canvas.wide + 12.0 + lines(at + 1), canvas.top + canvas.high / 2.0);
        let turned = format!("rotate(-90 {} {})", shown(x), shown(y));
        picture = picture.add(label(&said.short, x, y).set("transform", turned));
    }
    picture.to_string()
}

/// Where the drawing stands in the picture.
struct Canvas {
    left: f64,
    top: f64,
    wide: f64,
    high: f64,
    scale: f64,
}

impl Canvas {
    fn bottom(&self) -> f64 {
        self.top + self.high
    }

    fn outline(&self, form: &Form) -> Group {
        match form {
            Form::Ball { around } => self.circle(around / PI / 2.0),
            Form::Disc { radius } => self.circle(*radius),
            Form::Polygon { corners, across } => Group::new().add(self.polygon(*corners, *across)),
            Form::Triangle { wide, deep } => Group::new().add(self.mirrored(&[(0.0, 0.0), (wide / 2.0, *deep)])),
            Form::Square { .. } => {
                let half = self.wide / 2.0 / self.scale;
                Group::new().add(self.mirrored(&[(half, 0.0), (half, self.high / self.scale)]))
            }
            Form::Body { profile, .. } => Group::new().add(self.mirrored(profile)),
            Form::Panel { rows } => Group::new().add(self.mirrored(&side(rows))),
        }
    }

    fn circle(&self, radius: f64) -> Group {
        let (x, y) = (self.left + self.wide / 2.0, self.top + self.high / 2.0);
        let circle = Circle::new().set("cx", shown(x)).set("cy", shown(y));
        Group::new().add(circle.set("r", shown(radius * self.scale)))
    }

    /// As it lies between others of its row.
    fn polygon(&self, corners: u32, across: f64) -> Polygon {
        let points = polygon(corners, across);
        let (left, bottom, ..) = bounds(&points);
        let at = |(x, y): &(f64, f64)| {
            let (x, y) = (self.left + (x - left) * self.scale, self.bottom() - (y - bottom) * self.scale);
            format!("{},{}", shown(x), shown(y))
        };
        Polygon::new().set("points", points.iter().map(at).collect::<Vec<_>>().join(" "))
    }

    /// Both sides of an outline that is as far to the left as to the right: distances from the middle, from the bottom up.
    fn mirrored(&self, side: &[(f64, f64)]) -> Polygon {
        let middle = self.left + self.wide / 2.0;
        let at = |sign: f64| {
            move |(out, up): &(f64, f64)| {
                let (x, y) = (middle + sign * out * self.scale, self.bottom() - up * self.scale);
                format!("{},{}", shown(x), shown(y))
            }
        };
        let points: Vec<String> = side.iter().map(at(1.0)).chain(side.iter().rev().map(at(-1.0))).collect();
        Polygon::new().set("points", points.join(" "))
    }

    /// The direction of work, in the middle.
    fn arrow(&self, down: bool) -> Group {
        let (x, middle) = (self.left + self.wide / 2.0, self.top + self.high / 2.0);
        let half = (self.high / 4.0).min(12.0);
        let ahead = if down { half } else { -half };
        let point = (x, middle + ahead);
        let barb = |side: f64| line(point, (x + side * half / 3.0, middle + ahead * 0.5));
        let shaft = line((x, middle - ahead), point);
        Group::new().set("stroke-width", "0.75").add(shaft).add(barb(1.0)).add(barb(-1.0))
    }

    fn line_below(&self) -> Group {
        let y = self.bottom() + 12.0;
        let (from, to) = (self.left, self.left + self.wide);
        ends((from, y), (to, y), (0.0, 3.0))
    }

    fn line_beside(&self) -> Group {
        let x = self.left + self.wide + 12.0;
        ends((x, self.top), (x, self.bottom()), (3.0, 0.0))
    }
}

/// The corners of a polygon that has a side at its right, so that it is as wide as it is from side to side; measured from its middle.
fn polygon(corners: u32, across: f64) -> Vec<(f64, f64)> {
    let step = 2.0 * PI / f64::from(corners.max(3));
    let radius = across / 2.0 / (step / 2.0).cos();
    let turned = |corner: u32| step / 2.0 + step * f64::from(corner);
    (0..corners).map(|corner| (radius * turned(corner).cos(), radius * turned(corner).sin())).collect()
}

/// The least and the greatest of points: left, bottom, right and top.
fn bounds(points: &[(f64, f64)]) -> (f64, f64, f64, f64) {
    let all = |(left, bottom, right, top): (f64, f64, f64, f64), (x, y): &(f64, f64)| {
        (left.min(*x), bottom.min(*y), right.max(*x), top.max(*y))
    };
    points.iter().fold((f64::MAX, f64::MAX, f64::MIN, f64::MIN), all)
}

/// A thin line with a short stroke at both its ends.
fn ends(from: (f64, f64), to: (f64, f64), stroke: (f64, f64)) -> Group {
    let across = |(x, y): (f64, f64)| line((x - stroke.0, y - stroke.1), (x + stroke.0, y + stroke.1));
    Group::new().set("stroke-width", "0.75").add(line(from, to)).add(across(from)).add(across(to))
}

fn line(from: (f64, f64), to: (f64, f64)) -> Line {
    let line = Line::new().set("x1", shown(from.0)).set("y1", shown(from.1));
    line.set("x2", shown(to.0)).set("y2", shown(to.1))
}

fn label(text: &str, x: f64, y: f64) -> Text {
    let label = Text::new(text).set("x", shown(x)).set("y", shown(y));
    label.set("text-anchor", "middle").set("fill", "currentColor")
}

/// About how wide a line of letters is.
fn written(line: &str) -> f64 {
    let wide = |c: char| match c {
        ' ' | '.' | ',' | '(' | ')' => 4.5,
        '¼' | '½' | '¾' => 11.5,
        _ => 7.5,
    };
    line.chars().map(wide).sum()
}

/// The same number on every machine: one decimal, and none where it is 0.
fn shown(number: f64) -> String {
    let text = format!("{:.1}", number + 0.0);
    let text = text.strip_suffix(".0").unwrap_or(&text);
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
