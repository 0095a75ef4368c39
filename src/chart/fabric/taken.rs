//! Where something is drawn already, so that numbers lie where nothing is.

use std::collections::BTreeMap;

use super::ground::Point;
use super::layout::number;
use super::pen::WIDTH;

/// How far apart the places are by which strokes are known.
const STEP: f64 = WIDTH / 4.0;

/// Places on strokes, by the cells of a grid.
#[derive(Debug, Default)]
pub(super) struct Taken {
    cells: BTreeMap<(i32, i32), Vec<Point>>,
}

impl Taken {
    /// A stroke from one place to another.
    pub(super) fn line(&mut self, from: Point, to: Point) {
        /// Nothing in a picture is longer.
        const MOST: f64 = 4_000.0;
        let steps = (from.distance(to) / STEP).ceil().clamp(1.0, MOST);
        let mut at = 0.0;
        while at <= steps {
            let place = from.towards(to, at / steps);
            self.cells.entry(cell(place)).or_default().push(place);
            at += 1.0;
        }
    }

    /// A circle about the middle of the picture.
    pub(super) fn circle(&mut self, radius: f64) {
        const PARTS: usize = 16;
        for part in 0..PARTS {
            let (y, x) = (number(part) * std::f64::consts::TAU / number(PARTS)).sin_cos();
            let place = Point::new(x * radius, y * radius);
            self.line(place, place);
        }
    }

    /// Everything in a box.
    pub(super) fn box_at(&mut self, at: Point, (wide, above, below): Size) {
        self.line(Point::new(at.x - wide, at.y - above), Point::new(at.x + wide, at.y - above));
        self.line(Point::new(at.x - wide, at.y), Point::new(at.x + wide, at.y));
        self.line(Point::new(at.x - wide, at.y + below), Point::new(at.x + wide, at.y + below));
    }

    /// Whether nothing is drawn in a box, with a little room around.
    pub(super) fn is_free(&self, at: Point, (wide, above, below): Size) -> bool {
        const ROOM: f64 = 4.0;
        let (low, high) =
            (Point::new(at.x - wide - ROOM, at.y - above - ROOM), Point::new(at.x + wide + ROOM, at.y + below + ROOM));
        let inside = |place: &Point| (low.x..=high.x).contains(&place.x) && (low.y..=high.y).contains(&place.y);
        let ((left, top), (right, bottom)) = (cell(low), cell(high));
        let cells = (left..=right).flat_map(|x| (top..=bottom).map(move |y| (x, y)));
        !cells.filter_map(|cell| self.cells.get(&cell)).flatten().any(inside)
    }
}

/// How far a number reaches from its middle: to each side, up and down.
pub(super) type Size = (f64, f64, f64);

/// The room of a number, with the arrow below it.
pub(super) fn label_size(words: &str, has_arrow: bool) -> Size {
    /// Half the width of a figure, and half its height.
    const FIGURE: (f64, f64) = (2.6, 3.5);
    /// Half the width of an arrow, and how far below it lies.
    const ARROW: (f64, f64) = (0.35 * WIDTH, 0.54 * WIDTH);
    let wide = number(words.len()) * FIGURE.0;
    if has_arrow { (wide.max(ARROW.0), FIGURE.1, ARROW.1) } else { (wide, FIGURE.1, FIGURE.1) }
}

#[expect(clippy::cast_possible_truncation, reason = "a picture is not so large")]
fn cell(place: Point) -> (i32, i32) {
    ((place.x / WIDTH).floor() as i32, (place.y / WIDTH).floor() as i32)
}
