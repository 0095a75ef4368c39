//! Symbols as strokes, from the foot of a stitch to its head.
//!
//! After the Craft Yarn Council's Crochet Chart Symbols: open ovals for chains, filled ones for slip stitches, crosses for
//! single crochet, stems with a stroke for each wrap; stems meet at the head where stitches are worked together, and at the foot
//! where several stand in one place. The side from which a hook goes round a post is drawn as the right side shows it (JIS L 0201).

use std::fmt::Write;

use crate::stitch::{Form, Hook, Symbol, Touch};

use super::ground::Point;

/// Units of the picture in the width of a stitch.
pub(super) const WIDTH: f64 = 18.0;

/// Strokes of a symbol.
#[derive(Debug, Clone, Default)]
pub(super) struct Strokes {
    pub path: String,
    pub filled: bool,
}

/// The strokes of a symbol, in units of the picture; y grows downwards.
pub(super) fn strokes(symbol: Symbol, feet: &[Point], head: Point) -> Strokes {
    let mut pen = Pen::default();
    let foot = feet.first().copied().unwrap_or(Point::new(head.x, head.y + WIDTH));
    match symbol.form {
        Form::Oval => pen.oval(head, foot, feet.last().copied().unwrap_or(head), (0.32, 0.19)),
        Form::Dot => pen.oval(head, Point::new(head.x - 1.0, head.y), Point::new(head.x + 1.0, head.y), (0.24, 0.15)),
        Form::Picot(chains) => pen.picot(foot, head, chains),
        Form::Cross | Form::Stem(_) if symbol.legs > 1 => pen.cluster(symbol, foot, head),
        Form::Cross | Form::Stem(_) => pen.stems(symbol, feet, head),
    }
    if let Some(hook) = symbol.hook {
        for foot in feet {
            pen.hook(*foot, head, hook);
        }
    }
    pen.touch(symbol.touch, foot, head);
    Strokes { path: pen.path, filled: symbol.form == Form::Dot }
}

/// An arc at a foot that stands in one loop alone.
pub(super) fn loop_arc(foot: Point, head: Point, side: Hook) -> String {
    let mut pen = Pen::default();
    let (along, across) = directions(foot, head);
    let bend = match side {
        Hook::Front => 0.22,
        Hook::Back => -0.22,
    };
    let end = |side: f64| moved(foot, across, side * 0.3);
    pen.curve(end(-1.0), moved(foot, along, bend), end(1.0));
    pen.path
}

/// Chains one above the other from a foot to a head: the chain that counts as a stitch.
pub(super) fn column(foot: Point, head: Point, chains: u32) -> String {
    let mut pen = Pen::default();
    let step = |at: f64| foot.towards(head, at / f64::from(chains.max(1)));
    for chain in 0..chains {
        let at = f64::from(chain);
        let tall = foot.distance(head) / f64::from(chains.max(1)) / WIDTH;
        pen.oval(step(at + 0.5), step(at), step(at + 1.0), ((tall * 0.46).min(0.32), 0.17));
    }
    pen.path
}

/// A short line across, for a place of what is not crocheted.
pub(super) fn tick(middle: Point) -> String {
    let mut pen = Pen::default();
    pen.line(moved(middle, (1.0, 0.0), -0.25), moved(middle, (1.0, 0.0), 0.25));
    pen.path
}

/// The legs of a stitch that has a letter.
pub(super) fn legs(feet: &[Point], head: Point) -> String {
    let mut pen = Pen::default();
    for foot in feet {
        pen.line(lifted(*foot, head), head);
    }
    pen.path
}

/// The box of a letter, from its upper left corner: x, y and the length of a side.
pub(super) fn letter_box(feet: &[Point], head: Point) -> (String, String, String) {
    let middle = box_middle(feet, head);
    let side = BOX * WIDTH;
    (shown(middle.x - side), shown(middle.y - side), shown(2.0 * side))
}

/// Half the side of a box.
const BOX: f64 = 0.36;

/// Where the box of a letter has its middle.
pub(super) fn box_middle(feet: &[Point], head: Point) -> Point {
    let foot = feet.iter().fold(Point::default(), |sum, foot| Point::new(sum.x + foot.x, sum.y + foot.y));
    let count = super::layout::number(feet.len().max(1));
    let foot = Point::new(foot.x / count, foot.y / count);
    moved(head, directions(foot, head).0, -BOX)
}

#[derive(Default)]
struct Pen {
    path: String,
}

impl Pen {
    fn line(&mut self, from: Point, to: Point) {
        let _ = write!(self.path, "M{}L{}", at(from), at(to));
    }

    fn curve(&mut self, from: Point, bend: Point, to: Point) {
        let _ = write!(self.path, "M{}Q{} {}", at(from), at(bend), at(to));
    }

    /// An oval that lies in the direction from one place to another.
    fn oval(&mut self, middle: Point, from: Point, to: Point, (long, wide): (f64, f64)) {
        let (along, _) = directions(from, to);
        let (one, two) = (moved(middle, along, -long), moved(middle, along, long));
        let angle = shown((along.1.atan2(along.0)).to_degrees());
        let (long, wide) = (shown(long * WIDTH), shown(wide * WIDTH));
        let arc = format!("A{long} {wide} {angle} 1 1 ");
        let _ = write!(self.path, "M{}{arc}{}{arc}{}Z", at(one), at(two), at(one));
    }

    fn picot(&mut self, foot: Point, head: Point, chains: u32) {
        let middle = foot.towards(head, 1.0);
        let (along, across) = directions(foot, head);
        let round = |turn: f64| {
            let (sin, cos) = turn.sin_cos();
            moved(moved(middle, across, 0.34 * sin), along, -0.34 * cos)
        };
        for chain in 0..chains {
            let turn = |off: f64| (f64::from(chain) + off) / f64::from(chains + 1) * std::f64::consts::TAU;
            self.oval(round(turn(1.0)), round(turn(0.6)), round(turn(1.4)), (0.2, 0.11));
        }
    }

    fn stems(&mut self, symbol: Symbol, feet: &[Point], head: Point) {
        let (mut along, mut across) = ((0.0, 0.0), (0.0, 0.0));
        for foot in feet {
            let (a, c) = directions(*foot, head);
            // Crosses that stand on each other keep a little apart.
            let end = if symbol.form == Form::Cross && feet.len() == 1 { lifted(head, *foot) } else { head };
            self.line(lifted(*foot, head), end);
            (along, across) = ((along.0 + a.0, along.1 + a.1), (across.0 + c.0, across.1 + c.1));
        }
        let across = unit(across);
        for foot in feet {
            match symbol.form {
                Form::Stem(strokes) => self.slashes(*foot, head, strokes),
                Form::Cross | Form::Oval | Form::Dot | Form::Picot(_) => {
                    let (_, across) = directions(*foot, head);
                    let middle = foot.towards(head, 0.55);
                    self.line(moved(middle, across, -0.28), moved(middle, across, 0.28));
                }
            }
        }
        if matches!(symbol.form, Form::Stem(_)) {
            self.line(moved(head, across, -0.3), moved(head, across, 0.3));
        }
    }

    fn slashes(&mut self, foot: Point, head: Point, strokes: u32) {
        let (along, across) = directions(foot, head);
        for stroke in 0..strokes {
            let middle =
                moved(foot.towards(head, 0.62), along, -0.22 * f64::from(stroke) + 0.11 * f64::from(strokes - 1));
            let end = |side: f64| moved(moved(middle, across, 0.2 * side), along, 0.08 * side);
            self.line(end(-1.0), end(1.0));
        }
    }

    /// Several stems with one foot and one head.
    fn cluster(&mut self, symbol: Symbol, foot: Point, head: Point) {
        let (along, across) = directions(foot, head);
        let foot = lifted(foot, head);
        let middle = foot.towards(head, 0.5);
        let wide = if symbol.touch == Some(Touch::Round) { 0.34 } else { 0.26 };
        let off =
            |leg: u32| (f64::from(leg) - f64::from(symbol.legs - 1) / 2.0) * 2.0 * wide / f64::from(symbol.legs - 1);
        let strokes = match symbol.form {
            Form::Stem(strokes) => strokes,
            Form::Cross | Form::Oval | Form::Dot | Form::Picot(_) => 0,
        };
        for leg in 0..symbol.legs {
            self.curve(foot, moved(middle, across, 2.0 * off(leg)), head);
            for stroke in 0..strokes {
                let place = moved(moved(middle, across, off(leg)), along, 0.16 * f64::from(stroke));
                let end = |side: f64| moved(moved(place, across, 0.08 * side), along, 0.05 * side);
                self.line(end(-1.0), end(1.0));
            }
        }
        if symbol.touch.is_none() {
            self.line(moved(head, across, -0.26), moved(head, across, 0.26));
        }
    }

    fn hook(&mut self, foot: Point, head: Point, hook: Hook) {
        let (along, across) = directions(foot, head);
        let side = match hook {
            Hook::Front => 0.36,
            Hook::Back => -0.36,
        };
        let foot = lifted(foot, head);
        self.curve(foot, moved(moved(foot, along, -0.3), across, side / 2.0), moved(foot, across, side));
    }

    fn touch(&mut self, touch: Option<Touch>, foot: Point, head: Point) {
        let (along, across) = directions(foot, head);
        let side = |at: Point, by: f64| moved(at, across, by);
        match touch {
            None | Some(Touch::Round) => {}
            Some(Touch::Ring) => self.oval(head, side(head, -1.0), side(head, 1.0), (0.3, 0.13)),
            Some(Touch::Chain) => self.oval(foot, side(foot, -1.0), side(foot, 1.0), (0.32, 0.17)),
            Some(Touch::Knot) => {
                let knot = foot.towards(head, 0.3);
                self.oval(knot, side(knot, -1.0), side(knot, 1.0), (0.13, 0.1));
            }
            Some(Touch::Wave) => {
                let over = moved(head, along, 0.12);
                self.curve(side(over, -0.3), moved(side(over, -0.15), along, 0.2), over);
                self.curve(over, moved(side(over, 0.15), along, -0.2), side(over, 0.3));
            }
            Some(Touch::Loop) => {
                let low = foot.towards(head, 0.3);
                self.oval(side(low, 0.22), foot, head, (0.2, 0.12));
            }
            Some(Touch::Long) => {
                let up = moved(foot, along, 0.25);
                self.line(side(up, -0.2), lifted(foot, head));
                self.line(lifted(foot, head), side(up, 0.2));
            }
        }
    }
}

/// A stem begins a little above what it stands on, so that the one is told from the other.
fn lifted(foot: Point, head: Point) -> Point {
    const LIFT: f64 = 0.07;
    let long = foot.distance(head) / WIDTH;
    if long > 2.0 * LIFT { foot.towards(head, LIFT / long) } else { foot }
}

/// The directions from foot to head, and across it to the right.
fn directions(foot: Point, head: Point) -> ((f64, f64), (f64, f64)) {
    let (x, y) = unit((head.x - foot.x, head.y - foot.y));
    ((x, y), (-y, x))
}

fn unit((x, y): (f64, f64)) -> (f64, f64) {
    let long = x.hypot(y);
    if long > 1e-9 { (x / long, y / long) } else { (0.0, -1.0) }
}

fn moved(from: Point, (x, y): (f64, f64), by: f64) -> Point {
    Point::new(from.x + x * by * WIDTH, from.y + y * by * WIDTH)
}

fn at(point: Point) -> String {
    format!("{} {}", shown(point.x), shown(point.y))
}

/// The same number on every machine, to a tenth.
pub(super) fn shown(number: f64) -> String {
    super::super::signs::shown(number)
}
