//! The outline of a piece, drawn with its measurements.

use std::f64::consts::PI;

use svg::Document;
use svg::node::element::{Circle, Description, Group, Line, Polygon, Text, Title};

use crate::fabric::{Closing, Row};
use crate::gauge::Source;
use crate::measure::rows::RowMeasure;
use crate::pattern::model::{Finished, ItemKind, Piece, Start, Step, StepKind};
use crate::units::Length;
use crate::words::clean;

use super::{Lie, Round, Shapes, beside_a_ball};

/// A drawing and what it shows, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawing {
    /// The picture as SVG, in the colour of the text around it.
    pub svg: String,
    /// The same in a sentence.
    pub told: String,
}

/// Longest side of what is drawn, in units of the picture.
const LONGEST: f64 = 200.0;

/// Room around it for measurements.
const ROOM: f64 = 44.0;

/// The most points on one side that a drawing is made of.
const MOST_POINTS: usize = 1000;

/// The smallest piece worth a drawing, in millimetres.
const SMALLEST: f64 = 50.0;

impl Shapes<'_> {
    /// The outline of a piece with the measurements of some sizes, drawn in the proportions of the first. Nothing for a
    /// piece without a gauge of its own, a very small one, or one whose shape does not follow from its counts.
    #[must_use]
    pub fn drawing(&self, index: usize, sizes: &[usize]) -> Option<Drawing> {
        let pattern = self.pattern;
        let piece = pattern.pieces.get(index)?;
        let forms: Vec<Form> = sizes.iter().filter_map(|size| self.form(piece, index, *size)).collect();
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
            let as_stated = |mm| self.as_stated(index, *size, mm);
            (as_stated(across), up.map(as_stated))
        };
        let measures: Vec<(f64, Option<f64>)> =
            forms.iter().zip(sizes).map(|(form, size)| stated(form, size)).collect();
        let labels = Labels::of(&measures);
        let name = clean(name);
        Some(Drawing { svg: picture(&name, first, &labels), told: labels.told(first) })
    }

    fn form(&self, piece: &Piece, index: usize, size: usize) -> Option<Form> {
        let worked = self.fabric.pieces.get(index)?.sizes.get(size)?;
        if !worked.rows.iter().all(|row| is_plain(piece, row)) {
            return None;
        }
        let measure = self.measured.get(index)?.as_ref();
        let measure = measure.filter(|measure| matches!(measure.scale.source, Source::Swatch(_)))?;
        if piece.way.rounds() {
            return in_rounds(piece, &self.rounds(index, size)?);
        }
        let from_middle =
            matches!(piece.start, Start::Ring | Start::ChainRing(_) | Start::Around(_) | Start::Several(_));
        let rows = measure.sizes.get(size).filter(|rows| rows.len() > 1 && !from_middle)?;
        panel(rows).map(|rows| Form::Panel { rows })
    }

    /// What the designer states for a piece where that is about as long, so that the page says one thing only.
    fn as_stated(&self, index: usize, size: usize, millimetres: f64) -> f64 {
        const ABOUT: f64 = 0.12;
        let pattern = self.pattern;
        let name = pattern.pieces.get(index).map(|piece| piece.name.as_str());
        let of_piece = |at: Option<&str>| match at {
            Some(at) => name.is_some_and(|name| name.eq_ignore_ascii_case(at)),
            None => pattern.pieces.len() == 1,
        };
        let of_size = |finished: &Finished| finished.lengths.get(size).copied().flatten();
        let stated = pattern.head.finished.iter().filter(|f| f.at_row.is_none() && of_piece(f.at.as_deref()));
        let off = |stated: f64| (stated - millimetres).abs();
        let near = stated.filter_map(of_size).map(Length::mm).filter(|mm| off(*mm) <= ABOUT * millimetres);
        near.min_by(|one, other| off(*one).total_cmp(&off(*other))).unwrap_or(millimetres)
    }
}

/// Whether a row is one of those that a shape follows from: worked to its end on the last one, and not lace.
fn is_plain(piece: &Piece, row: &Row) -> bool {
    let line = match piece.items.get(row.source).map(|item| &item.kind) {
        Some(ItemKind::Work(line)) => Some(line),
        _ => None,
    };
    let ends_early = matches!(row.closing, Closing::TurnedShort | Closing::Left);
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
    /// A piece in the round from the side: radius and height from the bottom up, and how far round it is at most.
    Body { profile: Vec<(f64, f64)>, around: f64 },
    /// A piece in rows: the width and the length of each row from the bottom up.
    Panel { rows: Vec<(f64, f64)> },
}

fn in_rounds(piece: &Piece, rounds: &[Round]) -> Option<Form> {
    let last = rounds.last().filter(|_| rounds.len() > 2)?;
    let widest = rounds.iter().map(|round| round.radius).fold(0.0, f64::max);
    let from_middle = matches!(piece.start, Start::Ring | Start::ChainRing(_)) && last.radius >= widest;
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
    let mut profile: Vec<(f64, f64)> = rounds.iter().map(|round| (round.radius, round.up)).collect();
    if piece.start == Start::Ring {
        profile.insert(0, (0.0, 0.0));
        // A piece that begins at its top hangs down from there.
        profile = profile.into_iter().rev().map(|(radius, up)| (radius, last.up - up)).collect();
    } else if let Some((radius, _)) = profile.first().copied() {
        profile.insert(0, (radius, 0.0));
    }
    Some(Form::Body { profile, around: 2.0 * PI * widest })
}

/// Widths with the length up to which they go; rows of one width are one step. Nothing where rows are now wider and now
/// narrower, as in lace.
fn panel(rows: &[RowMeasure]) -> Option<Vec<(f64, f64)>> {
    const MOST_TURNS: usize = 3;
    let mut steps: Vec<(f64, f64)> = Vec::new();
    for row in rows {
        let (width, length) = (row.width.length.mm(), row.length.length.mm());
        match steps.last_mut().filter(|(before, _)| (*before - width).abs() < 1e-9) {
            Some((_, to)) => *to = length,
            None => steps.push((width, length)),
        }
    }
    let wider: Vec<bool> = steps.iter().zip(steps.iter().skip(1)).map(|(one, next)| next.0 > one.0).collect();
    let turns = wider.iter().zip(wider.iter().skip(1)).filter(|(one, next)| one != next).count();
    (turns <= MOST_TURNS).then_some(steps)
}

impl Form {
    /// How wide and how high it is drawn.
    fn extent(&self) -> (f64, f64) {
        match self {
            Self::Disc { radius } => (2.0 * radius, 2.0 * radius),
            Self::Square { side } => (*side, *side),
            Self::Body { profile, .. } => {
                let wide = profile.iter().map(|(radius, _)| 2.0 * radius).fold(0.0, f64::max);
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
            Self::Disc { .. } | Self::Square { .. } => 1,
            Self::Body { profile, .. } => profile.len(),
            Self::Panel { rows } => rows.len(),
        }
    }

    /// The measurement across it and the one up its side, as they are told.
    fn measures(&self) -> (f64, Option<f64>) {
        let (wide, high) = self.extent();
        match self {
            Self::Disc { .. } | Self::Square { .. } => (wide, None),
            // How high it stands is not how long it measures laid flat, so only one of its measurements is told.
            Self::Body { around, .. } => (*around, None),
            Self::Panel { .. } => (wide, Some(high)),
        }
    }
}

/// The measurements of all sizes, as `42.5 (49.5, 56.5) cm`.
struct Labels {
    across: String,
    up: Option<String>,
}

impl Labels {
    fn of(measures: &[(f64, Option<f64>)]) -> Self {
        let across: Vec<f64> = measures.iter().map(|(across, _)| *across).collect();
        let up: Option<Vec<f64>> = measures.iter().map(|(_, up)| *up).collect();
        Self { across: sized(&across), up: up.map(|up| sized(&up)) }
    }

    fn told(&self, form: &Form) -> String {
        let up = self.up.as_deref().unwrap_or_default();
        let across = &self.across;
        match form {
            Form::Disc { .. } => format!("Outline: a flat circle, {across} across."),
            Form::Square { .. } => format!("Outline: a flat square, {across} across."),
            Form::Body { .. } => format!("Outline: {across} around at its widest."),
            Form::Panel { .. } => format!("Outline: {across} wide at its widest and {up} long."),
        }
    }

    /// What stands under the drawing.
    fn below(&self, form: &Form) -> String {
        match form {
            Form::Body { .. } => format!("{} around", self.across),
            Form::Disc { .. } | Form::Square { .. } | Form::Panel { .. } => self.across.clone(),
        }
    }
}

fn sized(millimetres: &[f64]) -> String {
    let numbers: Vec<String> = millimetres.iter().map(|mm| Length::millimetres(*mm).cm_number()).collect();
    match numbers.split_first() {
        Some((first, rest)) if rest.iter().any(|number| number != first) => format!("{first} ({}) cm", rest.join(", ")),
        Some((first, _)) => format!("{first} cm"),
        None => String::new(),
    }
}

fn picture(name: &str, form: &Form, labels: &Labels) -> String {
    let (wide, high) = form.extent();
    let scale = LONGEST / wide.max(high);
    let canvas = Canvas { left: ROOM, top: ROOM / 4.0, wide: wide * scale, high: high * scale, scale };
    let (width, height) = (canvas.wide + 2.0 * ROOM, canvas.high + 1.25 * ROOM);
    let group = Group::new().set("fill", "none").set("stroke", "currentColor").set("stroke-width", "1.5");
    let group = group.set("stroke-linejoin", "round").add(canvas.outline(form)).add(canvas.line_below());
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
        .add(group)
        .add(label(&labels.below(form), middle, canvas.bottom() + 28.0));
    if let Some(up) = &labels.up {
        let (x, y) = (canvas.left + canvas.wide + 24.0, canvas.top + canvas.high / 2.0);
        let turned = format!("rotate(-90 {} {})", shown(x), shown(y));
        picture = picture.add(label(up, x, y).set("transform", turned));
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
            Form::Disc { radius } => {
                let (x, y) = (self.left + self.wide / 2.0, self.top + self.high / 2.0);
                let circle = Circle::new().set("cx", shown(x)).set("cy", shown(y));
                Group::new().add(circle.set("r", shown(radius * self.scale)))
            }
            Form::Square { .. } => {
                let half = self.wide / 2.0 / self.scale;
                Group::new().add(self.mirrored(&[(half, 0.0), (half, self.high / self.scale)]))
            }
            Form::Body { profile, .. } => Group::new().add(self.mirrored(profile)),
            Form::Panel { rows } => {
                let mut side = Vec::new();
                let mut below = 0.0;
                for (width, length) in rows {
                    side.push((width / 2.0, below));
                    side.push((width / 2.0, *length));
                    below = *length;
                }
                Group::new().add(self.mirrored(&side))
            }
        }
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

/// The same number on every machine: one decimal, and none where it is 0.
fn shown(number: f64) -> String {
    let text = format!("{:.1}", number + 0.0);
    let text = text.strip_suffix(".0").unwrap_or(&text);
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
